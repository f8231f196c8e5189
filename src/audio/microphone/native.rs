//! Which of the shapes that a device offers is its own.

use cpal::{SampleFormat, SupportedStreamConfig, SupportedStreamConfigRange};

use crate::audio::writer::{SampleKind, StreamShape};

/// Rates to ask for, best first: what nearly all converters run at, enough for 20 kHz.
const RATES_HZ: [u32; 4] = [48_000, 44_100, 96_000, 88_200];

/// The best of what hardware offers: at most two channels where it has as many (a pair of microphones),
/// 48 kHz where it can, the widest samples.
pub(super) fn of_hardware(offers: impl Iterator<Item = SupportedStreamConfigRange>) -> Option<SupportedStreamConfig> {
    offers
        .filter(|offer| width(offer.sample_format()).is_some())
        .max_by_key(|offer| {
            let channels = match offer.channels() {
                2 => u16::MAX,
                1 => u16::MAX - 1,
                more => u16::MAX - more,
            };
            let rate = rate_of(offer);
            let place = RATES_HZ.iter().rev().position(|wanted| *wanted == rate).map_or(-1, |at| at as i32);
            (channels, place, rate, width(offer.sample_format()))
        })
        .map(|offer| {
            let rate = rate_of(&offer);
            offer.with_sample_rate(rate)
        })
}

/// What to ask of a device made of software, which takes anything and converts without a word:
/// one channel of 16 bit at 48 kHz.
pub(super) fn of_software(offers: impl Iterator<Item = SupportedStreamConfigRange>) -> Option<SupportedStreamConfig> {
    offers
        .filter(|offer| width(offer.sample_format()).is_some())
        .max_by_key(|offer| {
            let rate = rate_of(offer);
            (rate == RATES_HZ[0], offer.sample_format() == SampleFormat::I16, std::cmp::Reverse(offer.channels()), rate)
        })
        .map(|offer| {
            let rate = rate_of(&offer);
            offer.with_sample_rate(rate)
        })
}

fn rate_of(offer: &SupportedStreamConfigRange) -> u32 {
    let range = offer.min_sample_rate()..=offer.max_sample_rate();
    RATES_HZ.into_iter().find(|rate| range.contains(rate)).unwrap_or(*range.end())
}

/// Bits of a sample that carry sound; `None` for formats that are no samples (DSD) or that nobody records in.
fn width(format: SampleFormat) -> Option<u8> {
    match format {
        SampleFormat::U8 => Some(8),
        SampleFormat::I16 => Some(16),
        SampleFormat::I24 => Some(24),
        SampleFormat::I32 | SampleFormat::F32 => Some(25),
        _ => None,
    }
}

/// The shape in which a stream of this configuration is written.
pub(super) fn shape_of(config: &SupportedStreamConfig) -> StreamShape {
    let kind = match config.sample_format() {
        SampleFormat::U8 | SampleFormat::I16 => SampleKind::I16,
        _ => SampleKind::F32,
    };
    StreamShape { rate_hz: config.sample_rate(), channels: config.channels(), kind }
}

#[cfg(test)]
mod tests {
    use super::*;
    use cpal::SupportedBufferSize;

    fn offer(channels: u16, rates: (u32, u32), format: SampleFormat) -> SupportedStreamConfigRange {
        SupportedStreamConfigRange::new(channels, rates.0, rates.1, SupportedBufferSize::Unknown, format)
    }

    fn seen(config: Option<SupportedStreamConfig>) -> Option<(u16, u32, SampleFormat)> {
        config.map(|config| (config.channels(), config.sample_rate(), config.sample_format()))
    }

    #[test]
    fn hardware_keeps_its_pair_its_width_and_48_khz() {
        use SampleFormat::{F32, I16, I24, I32};
        let usb = [offer(1, (44_100, 48_000), I16), offer(2, (44_100, 48_000), I16), offer(2, (44_100, 48_000), I24)];
        assert_eq!(seen(of_hardware(usb.into_iter())), Some((2, 48_000, I24)));
        let interface = [offer(8, (44_100, 192_000), I32)];
        assert_eq!(seen(of_hardware(interface.into_iter())), Some((8, 48_000, I32)));
        let old = [offer(1, (44_100, 44_100), I16), offer(1, (96_000, 96_000), I16)];
        assert_eq!(seen(of_hardware(old.into_iter())), Some((1, 44_100, I16)));
        let headset = [offer(1, (16_000, 16_000), I16)];
        assert_eq!(seen(of_hardware(headset.into_iter())), Some((1, 16_000, I16)));
        assert_eq!(seen(of_hardware([offer(2, (2_822_400, 2_822_400), SampleFormat::DsdU32)].into_iter())), None);
        let plug = [offer(2, (4_000, 192_000), F32), offer(1, (4_000, 192_000), I16), offer(1, (4_000, 192_000), F32)];
        assert_eq!(seen(of_software(plug.into_iter())), Some((1, 48_000, I16)));
    }
}
