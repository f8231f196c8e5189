//! The ranking under test: from samples, or from files as the program's commands read them.

use std::error::Error;
use std::path::{Path, PathBuf};

use hissward::audio::ChannelChoice;
use hissward::clip::Clip;
use hissward::hiss::{ClipAnalyzer, ClipFeatures};
use hissward::opening::Air;
use hissward::pipeline::{LooseClip, rank_loose};
use hissward::ranking::{self, OpeningClips, Ranking};
use hissward::simulate::CaseClip;

use super::cases::RowCase;
use super::chains::Chains;

type Failure = Box<dyn Error + Send + Sync>;

/// The program's ranking of a case.
pub fn rank(case: &RowCase, chains: &Chains) -> Result<Ranking, Failure> {
    if case.by_files {
        by_files(case, chains)
    } else {
        Ok(by_samples(&case.case.clips.iter().collect::<Vec<_>>(), &openings(case)))
    }
}

fn openings(case: &RowCase) -> Vec<hissward::opening::Opening> {
    case.case.truth.openings.iter().map(|place| place.opening.clone()).collect()
}

/// The ranking of clips as they were recorded.
pub fn by_samples(clips: &[&CaseClip], openings: &[hissward::opening::Opening]) -> Ranking {
    let sounds: Vec<ClipFeatures> = clips.iter().map(|clip| listen(clip)).collect();
    let heard: Vec<OpeningClips<'_>> = openings
        .iter()
        .map(|opening| {
            let with = |air: Air| {
                let clips = clips.iter().zip(&sounds);
                clips
                    .filter(|(clip, _)| clip.truth.opening == *opening && clip.truth.air == air)
                    .map(|(_, sound)| sound)
                    .collect()
            };
            OpeningClips {
                quiet: with(Air::Off),
                air: with(Air::On),
                pulsed: with(Air::Pulsed),
                ..OpeningClips::at(opening.clone())
            }
        })
        .collect();
    ranking::rank(None, &heard)
}

fn listen(clip: &CaseClip) -> ClipFeatures {
    let near = heard(&clip.clip);
    match &clip.far {
        Some(far) => near.tracked_by(heard(far)),
        None => near,
    }
}

fn heard(clip: &Clip) -> ClipFeatures {
    let mut listener = ClipAnalyzer::new(clip.name(), clip.rate());
    listener.push(clip.samples());
    listener.sound()
}

/// Written to files, sent through the chain, read by the program's own readers.
fn by_files(case: &RowCase, chains: &Chains) -> Result<Ranking, Failure> {
    let folder = tempfile::tempdir()?;
    let loose = case
        .case
        .clips
        .iter()
        .map(|clip| {
            let wav = folder.path().join(format!("{}.wav", clip.clip.name()));
            write(&wav, clip, case.near_second)?;
            let file: PathBuf = match case.chain {
                Some(chain) => chains.run(chain, &wav)?,
                None => wav,
            };
            Ok(LooseClip { opening: Some(clip.truth.opening.clone()), air: clip.truth.air, file })
        })
        .collect::<Result<Vec<_>, Failure>>()?;
    Ok(rank_loose(&loose, ChannelChoice::First)?)
}

/// Both channels where there are two, the near one second where that is asked.
fn write(file: &Path, clip: &CaseClip, near_second: bool) -> Result<(), Failure> {
    let far = clip.far.as_ref().map(Clip::samples);
    let near = clip.clip.samples();
    let shape = hound::WavSpec {
        channels: if far.is_some() { 2 } else { 1 },
        sample_rate: clip.clip.rate().0 as u32,
        bits_per_sample: 16,
        sample_format: hound::SampleFormat::Int,
    };
    let mut wav = hound::WavWriter::create(file, shape)?;
    // Samples are whole sixteen-bit values over 32768: the product is exact.
    let whole = |x: f32| (x * 32_768.0) as i16;
    for (n, &sample) in near.iter().enumerate() {
        match far {
            None => wav.write_sample(whole(sample))?,
            Some(far) => {
                let (first, second) = if near_second { (far[n], sample) } else { (sample, far[n]) };
                wav.write_sample(whole(first))?;
                wav.write_sample(whole(second))?;
            }
        }
    }
    Ok(wav.finalize()?)
}
