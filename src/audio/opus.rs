//! Opus packets to samples (RFC 6716, RFC 7845).

use rusty_opus::OpusDecoder;
use rusty_opus::multistream::OpusMSDecoder;
use symphonia::core::packet::Packet;

/// The longest packet: 120 ms at 48 kHz (RFC 6716 section 3.2.5).
const LONGEST_PACKET_FRAMES: usize = 5760;

enum Streams {
    One(Box<OpusDecoder>),
    Several(Box<OpusMSDecoder>),
}

/// A decoder with what the identification header said.
pub(super) struct Opus {
    streams: Streams,
    channels: usize,
    pre_skip: [u8; 2],
}

impl Opus {
    /// Opus always decodes at this rate.
    pub(super) const RATE_HZ: u32 = 48_000;

    /// A decoder after the identification header (RFC 7845 section 5.1).
    pub(super) fn new(head: &[u8], container: &str) -> Result<Self, String> {
        let [b'O', b'p', b'u', b's', b'H', b'e', b'a', b'd', _version, channels, skip_a, skip_b, rest @ ..] = head
        else {
            return Err(format!("no Opus header in this {container} file"));
        };
        let family = rest.get(6).copied().unwrap_or(0);
        let rate_hz = Self::RATE_HZ as i32;
        let streams = match (family, channels) {
            (0, 1 | 2) => OpusDecoder::new(rate_hz, usize::from(*channels)).map(|one| Streams::One(Box::new(one))),
            _ => OpusMSDecoder::new(rate_hz, usize::from(*channels), i32::from(family))
                .map(|several| Streams::Several(Box::new(several))),
        };
        let streams = streams.map_err(|error| format!("Opus with {channels} channels of family {family}: {error}"))?;
        Ok(Self { streams, channels: usize::from(*channels), pre_skip: [*skip_a, *skip_b] })
    }

    /// How many channels come out.
    pub(super) fn channels(&self) -> usize {
        self.channels
    }

    /// Frames to leave out at the beginning. ISO media write this number in the other byte order
    /// than Ogg and Matroska do.
    pub(super) fn pre_skip_frames(&self, container: &str) -> u64 {
        let little_endian = matches!(container, "Ogg" | "WebM");
        u64::from(if little_endian { u16::from_le_bytes(self.pre_skip) } else { u16::from_be_bytes(self.pre_skip) })
    }

    /// Decodes a packet into interleaved samples, without what the container says to leave out at its
    /// end; `false` where it cannot be decoded.
    pub(super) fn decode(&mut self, packet: &Packet, block: &mut Vec<f32>) -> bool {
        block.resize(LONGEST_PACKET_FRAMES * self.channels, 0.0);
        let decoded = match &mut self.streams {
            _ if packet.data.is_empty() => return false,
            Streams::One(one) => one.decode(&packet.data, LONGEST_PACKET_FRAMES, block),
            Streams::Several(several) => several.decode(&packet.data, LONGEST_PACKET_FRAMES, block),
        };
        let frames = decoded.unwrap_or(0).min(LONGEST_PACKET_FRAMES);
        let padding = usize::try_from(packet.trim_end.get()).unwrap_or(usize::MAX);
        block.truncate(frames.saturating_sub(padding) * self.channels);
        decoded.is_ok()
    }
}
