//! The whole way, from a file's bytes to the words of a call: rate, length, channels, format, air, opening and order are
//! all free. Never a panic; an answer whose probabilities are some, with its sentences in every language; or an error
//! that is told.

use std::path::{Path, PathBuf};

use hissward::audio::ChannelChoice;
use hissward::opening::Air;
use hissward::pipeline::{LooseClip, rank_loose};
use hissward::report::{TextStyle, json, text};
use hissward::simulate::Dice;
use hissward::units::Hertz;
use hissward::words::Words;
use proptest::prelude::*;

use crate::clips::{few, sane};

/// Rates that recorders have, from telephones to the highest.
const RATES_HZ: [u32; 9] = [8_000, 11_025, 16_000, 22_050, 32_000, 44_100, 48_000, 96_000, 192_000];
const OPENINGS: [&str; 4] = ["intake", "exhaust", "oil-filler", "plug-hole-2"];
const AIRS: [Air; 3] = [Air::Off, Air::On, Air::Pulsed];

/// How a clip is kept.
#[derive(Debug, Clone, Copy)]
enum Kind {
    Wav16,
    Wav24,
    WavFloat,
    Flac,
}

/// A clip to be made.
#[derive(Debug, Clone)]
struct Made {
    kind: Kind,
    rate_hz: u32,
    length_s: f64,
    channels: u16,
    /// `None`: of no opening, which serves all where the air is off.
    opening: Option<usize>,
    air: usize,
    noise_db: f64,
    hiss_db: f64,
    seed: u64,
}

fn made() -> impl Strategy<Value = Made> {
    let kind = prop::sample::select(vec![Kind::Wav16, Kind::Wav24, Kind::WavFloat, Kind::Flac]);
    let rate = prop_oneof![prop::sample::select(RATES_HZ.to_vec()), 8_000..=192_000_u32];
    let what = (kind, rate, 0.3..2.5_f64, 1..=3_u16);
    let whose = (prop::option::weighted(0.9, 0..OPENINGS.len()), 0..AIRS.len());
    (what, whose, -80.0..-10.0_f64, -90.0..-10.0_f64, any::<u64>()).prop_map(
        |((kind, rate_hz, length_s, channels), (opening, air), noise_db, hiss_db, seed)| Made {
            kind,
            rate_hz,
            length_s,
            channels,
            // Only a quiet clip serves all openings.
            opening: opening.or((air > 0).then_some(0)),
            air,
            noise_db,
            hiss_db,
            seed,
        },
    )
}

impl Made {
    /// Noise, and a hiss that rises with frequency where the air is on; in a pulsed clip each other second.
    fn samples(&self) -> Vec<f32> {
        let mut dice = Dice::seeded(self.seed);
        let amplitude = |db: f64| 10f64.powf(db / 20.0);
        let (noise, hiss) = (amplitude(self.noise_db), amplitude(self.hiss_db));
        let rate_hz = f64::from(self.rate_hz);
        let mut last = 0.0;
        (0..(self.length_s * rate_hz) as usize)
            .map(|n| {
                let open = match AIRS[self.air] {
                    Air::Off => false,
                    Air::On => true,
                    Air::Pulsed => (n as f64 / rate_hz - 0.3) as i64 % 2 == 1,
                };
                let next = dice.normal();
                let step = next - last;
                last = next;
                (noise * dice.normal() + if open { hiss * step } else { 0.0 }).clamp(-1.0, 1.0) as f32
            })
            .collect()
    }

    fn write(&self, folder: &Path, number: usize) -> PathBuf {
        let samples = self.samples();
        if let Kind::Flac = self.kind {
            let file = folder.join(format!("{number}.flac"));
            let bytes = hissward::audio::flac(&samples, Hertz(f64::from(self.rate_hz)));
            // What FLAC has no place for is written as WAV.
            if let Ok(bytes) = bytes {
                std::fs::write(&file, bytes).expect("a file");
                return file;
            }
        }
        let file = folder.join(format!("{number}.wav"));
        let (bits_per_sample, sample_format) = match self.kind {
            Kind::Wav16 | Kind::Flac => (16, hound::SampleFormat::Int),
            Kind::Wav24 => (24, hound::SampleFormat::Int),
            Kind::WavFloat => (32, hound::SampleFormat::Float),
        };
        let shape =
            hound::WavSpec { channels: self.channels, sample_rate: self.rate_hz, bits_per_sample, sample_format };
        let mut wav = hound::WavWriter::create(&file, shape).expect("a file");
        for (n, &sample) in samples.iter().enumerate() {
            for channel in 0..usize::from(self.channels) {
                // Each channel hears the same a little later.
                let sample = if n >= channel { samples[n - channel] } else { sample };
                match self.kind {
                    Kind::WavFloat => wav.write_sample(sample).expect("written"),
                    Kind::Wav24 => wav.write_sample((sample * 8_388_607.0) as i32).expect("written"),
                    _ => wav.write_sample((sample * 32_767.0) as i16).expect("written"),
                }
            }
        }
        wav.finalize().expect("whole");
        file
    }
}

proptest! {
    #![proptest_config(few(60))]

    #[test]
    fn from_bytes_to_words_there_is_an_answer_or_an_error_that_is_told(
        clips in prop::collection::vec(made(), 1..7),
        alike in any::<bool>(),
    ) {
        let folder = tempfile::tempdir().expect("a folder");
        let rate_hz = clips[0].rate_hz;
        let loose: Vec<LooseClip> = clips
            .into_iter()
            .enumerate()
            .map(|(number, mut clip)| {
                // Half of the jobs have one recorder, as most do.
                clip.rate_hz = if alike { rate_hz } else { clip.rate_hz };
                LooseClip {
                    opening: clip.opening.map(|at| OPENINGS[at].parse().expect("an opening")),
                    air: AIRS[clip.air],
                    file: clip.write(folder.path(), number),
                }
            })
            .collect();
        match rank_loose(&loose, ChannelChoice::default()) {
            Err(error) => assert!(!error.to_string().is_empty()),
            Ok(ranking) => {
                sane(&ranking);
                let rankings = [ranking];
                for language in Words::languages() {
                    let words = Words::of(&language).expect("a language");
                    let said = text(&rankings, &words, TextStyle::Plain);
                    assert!(said.contains(' ') && !said.contains("NaN") && !said.contains("{"), "{said}");
                    let written = json(&rankings, &words).expect("JSON");
                    assert!(!written.contains("NaN") && !written.contains("inf,"), "{written}");
                }
            }
        }
    }
}
