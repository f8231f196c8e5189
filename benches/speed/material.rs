//! Clips and jobs that are measured with: simulated, so that every run has the same.

use std::fs;
use std::path::{Path, PathBuf};

use hissward::audio::{ChannelChoice, read_clip};
use hissward::hiss::{ClipAnalyzer, ClipFeatures};
use hissward::opening::{Air, Opening};
use hissward::ranking::{OpeningClips, Ranking, rank};

use super::Failure;
use super::child::{program, run};

/// Openings of the six clips.
pub const OPENINGS: [&str; 3] = ["intake", "exhaust", "oil-filler"];

/// Six clips of six seconds at 48 kHz: an opening's quiet and air clip after the other's.
pub struct Six {
    pub files: Vec<(Air, &'static str, PathBuf)>,
    pub samples: Vec<Vec<f32>>,
}

impl Six {
    /// Made in a folder; the leak at the oil filler is 5 dB under the noise.
    pub fn simulated(folder: &Path) -> Result<Self, Failure> {
        let job = folder.join("six");
        let leak = "1:oil-filler:-5dB";
        let job_name = job.display().to_string();
        run(&mut program(["simulate", "--out", &job_name, "--cylinders", "1", "--seconds", "6", "--leak", leak]))?;
        let mut six = Self { files: Vec::new(), samples: Vec::new() };
        for opening in OPENINGS {
            for air in [Air::Off, Air::On] {
                let file = job.join(format!("clips/c1-{opening}-{}-t1.wav", air.name()));
                let (clip, _) = read_clip(&file, ChannelChoice::First)?;
                assert_eq!((clip.rate().0, clip.samples().len()), (48_000.0, 288_000), "{}", file.display());
                six.samples.push(clip.samples().to_vec());
                six.files.push((air, opening, file));
            }
        }
        Ok(six)
    }

    /// `hissward rank` of the six as loose clips.
    pub fn rank_arguments(&self) -> Vec<String> {
        let mut arguments = vec!["rank".to_owned(), "--json".to_owned()];
        for wanted in [Air::Off, Air::On] {
            arguments.push(format!("--{}", wanted.name()));
            let of_air = self.files.iter().filter(|(air, ..)| *air == wanted);
            arguments.extend(of_air.map(|(_, opening, file)| format!("{opening}={}", file.display())));
        }
        arguments
    }

    /// The same arithmetic without files, on this thread: what is kept of the clips, and the ranking.
    pub fn ranked(&self) -> Result<(Vec<ClipFeatures>, Ranking), Failure> {
        let sounds: Vec<ClipFeatures> = self
            .samples
            .iter()
            .map(|samples| {
                let mut listener = ClipAnalyzer::new("clip", hissward::units::Hertz(48_000.0));
                listener.push(samples);
                listener.into_sound()
            })
            .collect();
        let heard = sounds.chunks_exact(2).zip(OPENINGS).map(|(pair, opening)| {
            Ok(OpeningClips {
                quiet: vec![&pair[0]],
                air: vec![&pair[1]],
                ..OpeningClips::at(opening.parse::<Opening>()?)
            })
        });
        let ranking = rank(None, &heard.collect::<Result<Vec<_>, Failure>>()?);
        Ok((sounds, ranking))
    }
}

/// A job of 60 clips: 4 openings of 5 cylinders, off and on, and every air clip retaken.
pub fn sixty(folder: &Path) -> Result<PathBuf, Failure> {
    let job = folder.join("sixty");
    let retakes = folder.join("retakes");
    let openings = ["intake", "exhaust", "oil-filler", "coolant-filler"];
    for (seed, out) in [("1", &job), ("2", &retakes)] {
        let out = out.display().to_string();
        let mut arguments = vec!["simulate", "--out", &out, "--seed", seed, "--cylinders", "5", "--seconds", "6"];
        arguments.extend(["--leak", "3:exhaust:0dB"]);
        openings.iter().for_each(|opening| arguments.extend(["--at", opening]));
        run(&mut program(arguments))?;
    }
    for cylinder in 1..=5 {
        for opening in openings {
            let file = retakes.join(format!("clips/c{cylinder}-{opening}-on-t1.wav"));
            let (job, file, cylinder) = (job.display().to_string(), file.display().to_string(), cylinder.to_string());
            run(&mut program(["add", &job, "--at", opening, "--air", "on", "--cylinder", &cylinder, &file]))?;
        }
    }
    let clips = fs::read_dir(job.join("clips"))?.count();
    if clips != 60 {
        return Err(format!("{}: {clips} clips instead of 60", job.display()).into());
    }
    Ok(job)
}

/// A yard's 2,000 jobs: copies of one with gauge readings and a ranking, under other names and days.
pub fn yard(folder: &Path, demo: &Path) -> Result<PathBuf, Failure> {
    let yard = folder.join("yard");
    let record = fs::read_to_string(demo.join("job.toml"))?;
    let ranking = fs::read(demo.join("results/ranking.json"))?;
    let day = record.split("when = \"").nth(1).and_then(|rest| rest.get(..10)).ok_or("the demo's job has no day")?;
    for number in 0..2000 {
        let job = yard.join(format!("job-{number:04}"));
        fs::create_dir_all(job.join("results"))?;
        fs::write(job.join("job.toml"), record.replace(day, &format!("{}-11-25", 2000 + number % 25)))?;
        fs::write(job.join("results/ranking.json"), &ranking)?;
    }
    Ok(yard)
}
