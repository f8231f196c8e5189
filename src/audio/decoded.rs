//! Sound of every format but plain WAV, decoded packet by packet.

use std::fs::File;
use std::io;

use symphonia::core::codecs::audio::well_known as codec;
use symphonia::core::codecs::audio::{AudioCodecId, AudioCodecParameters, AudioDecoder, AudioDecoderOptions};
use symphonia::core::errors::Error;
use symphonia::core::formats::{FormatReader, Track, TrackType};
use symphonia::core::packet::Packet;

use super::error::AudioError;
use super::iso_media::{self, Edit};
use super::made_by::MadeBy;
use super::opus::Opus;
use super::probing;
use super::recording::{Shape, Source};
use super::sniff;
use crate::caveat::Caveat;
use crate::clip::check_finite;

/// What an AAC coder puts before the sound where the file does not say: one frame.
const AAC_PRIMING_FRAMES: u64 = 1024;

/// A run of undecodable packets this long means that nothing sensible follows.
const HOPELESS_PACKETS: u32 = 1000;

enum Decoder {
    Symphonia(Box<dyn AudioDecoder>),
    Opus(Opus),
}

/// The decoded samples of a file.
pub(super) struct Decoded {
    name: String,
    container: &'static str,
    format: Box<dyn FormatReader>,
    track_id: u32,
    decoder: Decoder,
    coding: String,
    lossy: bool,
    rate_hz: u32,
    channels: u16,
    /// Frames of the coder's making still to be left out at the beginning.
    skip_frames: u64,
    /// Frames of sound there are, where the file says so.
    promised_frames: Option<u64>,
    given_frames: u64,
    /// The first block, decoded while opening to learn rate and channels.
    first: Option<Vec<f32>>,
    damaged_packets: u32,
    broken_off: bool,
}

impl Decoded {
    /// Opens anything but ISO media.
    pub(super) fn open(file: File, name: &str, container: &'static str) -> Result<Self, AudioError> {
        Self::with_edit(file, name, container, None)
    }

    /// Opens ISO media (m4a, mp4, 3gp, mov); `index` is the same file opened again, for the edit list.
    pub(super) fn open_iso(
        file: File,
        mut index: File,
        name: &str,
        container: &'static str,
    ) -> Result<Self, AudioError> {
        let found = iso_media::read(&mut index).map_err(|error| AudioError::of_system(name, error))?;
        if !found.index {
            return Err(AudioError::damaged(name, "its index is missing: the recorder or the copy was broken off"));
        }
        if found.amr {
            let format = "AMR in a 3GP file";
            return Err(AudioError::Refused { file: name.to_owned(), format, reason: sniff::AMR_REASON });
        }
        Self::with_edit(file, name, container, found.edit)
    }

    fn with_edit(file: File, name: &str, container: &'static str, edit: Option<Edit>) -> Result<Self, AudioError> {
        let format = probing::open(file, container).map_err(|error| while_opening(name, &error))?;
        let (track, params) = sound_track(format.as_ref(), name, container)?;
        let (decoder, coding) = decoder_of(&params, name, container)?;
        let mut decoded = Self {
            name: name.to_owned(),
            container,
            track_id: track.id,
            lossy: !is_lossless(params.codec),
            coding,
            decoder,
            rate_hz: 0,
            channels: 0,
            skip_frames: 0,
            promised_frames: None,
            given_frames: 0,
            first: None,
            damaged_packets: 0,
            broken_off: false,
            format,
        };
        decoded.decode_first(&track, &params, edit)?;
        Ok(decoded)
    }

    /// Decodes the first packet: only then are rate and channels certain.
    fn decode_first(
        &mut self,
        track: &Track,
        params: &AudioCodecParameters,
        edit: Option<Edit>,
    ) -> Result<(), AudioError> {
        let mut block = Vec::new();
        let mut first_pts = None;
        while self.rate_hz == 0 {
            let Some(packet) = self.next_packet()? else {
                let detail = if self.damaged_packets > 0 {
                    "none of its sound can be decoded"
                } else {
                    "there is no sound in it"
                };
                return Err(AudioError::damaged(&self.name, detail));
            };
            first_pts.get_or_insert(packet.pts.get());
            self.decode(&packet, &mut block)?;
        }
        let rate_hz = f64::from(self.rate_hz);
        let tick_s =
            track.time_base.map_or(1.0 / rate_hz, |base| f64::from(base.numer.get()) / f64::from(base.denom.get()));
        let counted = track.num_frames.filter(|frames| *frames > 0);
        // Some containers count ticks of their own; symphonia's count is in those.
        let ticks = |count: u64| (count as f64 * tick_s * rate_hz).round() as u64;
        let opus_skip = match &self.decoder {
            Decoder::Opus(opus) => Some(opus.pre_skip_frames(self.container)),
            Decoder::Symphonia(_) => None,
        };
        (self.skip_frames, self.promised_frames) = match (self.container, edit) {
            (_, Some(edit)) => {
                let skip = (edit.begin_s * rate_hz).round() as u64;
                let whole = counted.map(|count| ticks(count).saturating_sub(skip));
                let cut = edit.length_s.map(|length_s| (length_s * rate_hz).ceil() as u64);
                (skip, whole.map(|whole| cut.map_or(whole, |cut| cut.min(whole))))
            }
            ("WebM", None) => {
                let early = first_pts.filter(|pts| *pts < 0).map_or(0, |pts| ticks(pts.unsigned_abs()));
                (opus_skip.unwrap_or(early), None)
            }
            ("CAF", None) => (u64::from(track.delay.unwrap_or(0)), counted),
            ("Ogg", None) => (opus_skip.unwrap_or(0), None),
            (_, None) if params.codec == codec::CODEC_ID_AAC => {
                (AAC_PRIMING_FRAMES, counted.map(|count| ticks(count).saturating_sub(AAC_PRIMING_FRAMES)))
            }
            (_, None) => (opus_skip.unwrap_or(0), counted),
        };
        self.trim(&mut block);
        self.first = Some(block);
        Ok(())
    }

    /// The next packet of the sound track; `None` at the end, even where the end came too early.
    fn next_packet(&mut self) -> Result<Option<Packet>, AudioError> {
        loop {
            match self.format.next_packet() {
                Ok(Some(packet)) if packet.track_id == self.track_id => return Ok(Some(packet)),
                Ok(Some(_)) => {}
                Ok(None) => return Ok(None),
                Err(Error::IoError(error)) if error.kind() == io::ErrorKind::UnexpectedEof => {
                    self.broken_off = true;
                    return Ok(None);
                }
                Err(Error::IoError(error)) => return Err(AudioError::of_system(&self.name, error)),
                Err(Error::ResetRequired) => {
                    return Err(AudioError::damaged(&self.name, "its sound changes kind half-way"));
                }
                Err(_) => {
                    self.damaged_packets += 1;
                    self.broken_off = true;
                    return Ok(None);
                }
            }
        }
    }

    /// Decodes a packet; a damaged one leaves `block` empty and is counted.
    fn decode(&mut self, packet: &Packet, block: &mut Vec<f32>) -> Result<(), AudioError> {
        block.clear();
        let spec = match &mut self.decoder {
            Decoder::Symphonia(decoder) => match decoder.decode(packet) {
                Ok(sound) => {
                    sound.copy_to_vec_interleaved(block);
                    Some((sound.spec().rate(), sound.spec().channels().count()))
                }
                Err(_) => None,
            },
            Decoder::Opus(opus) => opus.decode(packet, block).then(|| (Opus::RATE_HZ, opus.channels())),
        };
        let Some((rate_hz, channels)) = spec else {
            self.damaged_packets += 1;
            if self.damaged_packets >= HOPELESS_PACKETS && self.given_frames == 0 {
                return Err(AudioError::damaged(&self.name, "none of its sound can be decoded"));
            }
            return Ok(());
        };
        let channels = u16::try_from(channels).unwrap_or(0);
        if block.is_empty() || channels == 0 {
            return Ok(());
        }
        if self.rate_hz == 0 {
            (self.rate_hz, self.channels) = (rate_hz, channels);
        } else if (self.rate_hz, self.channels) != (rate_hz, channels) {
            return Err(AudioError::damaged(&self.name, "its rate or channels change half-way"));
        }
        Ok(())
    }

    /// Leaves out what the coder put before and after the sound.
    fn trim(&mut self, block: &mut Vec<f32>) {
        let channels = usize::from(self.channels);
        let frames = (block.len() / channels) as u64;
        let skipped = self.skip_frames.min(frames);
        self.skip_frames -= skipped;
        block.drain(..skipped as usize * channels);
        let room = self.promised_frames.map_or(u64::MAX, |promised| promised.saturating_sub(self.given_frames));
        let kept = (frames - skipped).min(room);
        block.truncate(kept as usize * channels);
        self.given_frames += kept;
    }
}

impl Source for Decoded {
    fn shape(&self) -> Shape {
        Shape {
            rate_hz: f64::from(self.rate_hz),
            channels: self.channels,
            total_frames: self.promised_frames,
            coding: self.coding.clone(),
            lossy: self.lossy,
        }
    }

    fn next(&mut self, samples: &mut Vec<f32>) -> Result<bool, AudioError> {
        let before = self.given_frames;
        match self.first.take() {
            Some(first) if !first.is_empty() => *samples = first,
            _ => loop {
                let Some(packet) = self.next_packet()? else {
                    return Ok(false);
                };
                self.decode(&packet, samples)?;
                self.trim(samples);
                if !samples.is_empty() {
                    break;
                }
            },
        }
        check_finite(samples, before as usize * usize::from(self.channels), &self.name)?;
        Ok(true)
    }

    fn made_by(&mut self) -> MadeBy {
        let mut tags = self.format.metadata();
        tags.skip_to_latest().map(|found| MadeBy::of_tags(&found.media.tags)).unwrap_or_default()
    }

    fn caveats(&self) -> Vec<Caveat> {
        let seconds = |frames: u64| frames as f64 / f64::from(self.rate_hz);
        let mut caveats = Vec::new();
        // Containers round their length up to whole packets; some writers of CAF to more than one.
        let rounded = if self.broken_off { 0 } else { u64::from(self.rate_hz) / 50 };
        let believed = self.promised_frames.filter(|_| self.broken_off || self.container != "CAF");
        let promised = believed.filter(|promised| *promised > self.given_frames + rounded);
        match (promised, self.broken_off) {
            (Some(promised), _) => caveats.push(
                Caveat::new("cut-off-file")
                    .text("file", &self.name)
                    .number("kept_s", seconds(self.given_frames), 1)
                    .number("promised_s", seconds(promised), 1),
            ),
            (None, true) => caveats.push(Caveat::new("unfinished-file").text("file", &self.name).number(
                "kept_s",
                seconds(self.given_frames),
                1,
            )),
            (None, false) => {}
        }
        if self.damaged_packets > 0 && !self.broken_off {
            caveats.push(Caveat::new("damaged-packets").text("file", &self.name).number(
                "packets",
                f64::from(self.damaged_packets),
                0,
            ));
        }
        caveats
    }
}

fn while_opening(name: &str, error: &Error) -> AudioError {
    match error {
        Error::Unsupported(detail) => AudioError::Coding { file: name.to_owned(), detail: (*detail).to_owned() },
        Error::IoError(error) if error.kind() == io::ErrorKind::UnexpectedEof => {
            AudioError::damaged(name, "it ends inside its header")
        }
        other => AudioError::damaged(name, other.to_string()),
    }
}

fn sound_track(
    format: &dyn FormatReader,
    name: &str,
    container: &'static str,
) -> Result<(Track, AudioCodecParameters), AudioError> {
    let track = format.first_track_known_codec(TrackType::Audio).or_else(|| format.first_track(TrackType::Audio));
    let params = track.and_then(|track| track.codec_params.as_ref()).and_then(|params| params.audio());
    match (track, params) {
        (Some(track), Some(params)) => Ok((track.clone(), params.clone())),
        _ => Err(AudioError::NoSoundTrack { file: name.to_owned(), container }),
    }
}

fn decoder_of(
    params: &AudioCodecParameters,
    name: &str,
    container: &'static str,
) -> Result<(Decoder, String), AudioError> {
    let coding = |detail: String| AudioError::Coding { file: name.to_owned(), detail };
    if params.codec == codec::CODEC_ID_OPUS {
        let opus = Opus::new(params.extra_data.as_deref().unwrap_or(&[]), container).map_err(coding)?;
        return Ok((Decoder::Opus(opus), "opus".to_owned()));
    }
    let decoder = symphonia::default::get_codecs()
        .make_audio_decoder(params, &AudioDecoderOptions::default())
        .map_err(|error| coding(error.to_string()))?;
    let short_name = decoder.codec_info().short_name.to_owned();
    Ok((Decoder::Symphonia(decoder), short_name))
}

/// Codings that give back every sample: FLAC, ALAC and plain samples (which symphonia numbers below A-law).
fn is_lossless(id: AudioCodecId) -> bool {
    let plain = codec::CODEC_ID_PCM_S32LE..=codec::CODEC_ID_PCM_F64BE_PLANAR;
    id == codec::CODEC_ID_FLAC || id == codec::CODEC_ID_ALAC || plain.contains(&id)
}
