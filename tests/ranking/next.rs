//! Doing what the ranking asks for next: from files to JSON, the clip that it names recorded, and again, until it asks no
//! more.

use std::path::{Path, PathBuf};

use hissward::audio::ChannelChoice;
use hissward::opening::{Air, Opening};
use hissward::pipeline::{LooseClip, rank_loose};
use hissward::report::json;
use hissward::simulate::{Case, CaseClip, CaseOptions, Dice, Leak, NoiseKind, Practice};
use hissward::units::LevelDiff;
use hissward::words::Words;
use serde_json::Value;

const SEEDS: u64 = 6;
const PLACES: [&str; 3] = ["intake", "exhaust", "oil-filler"];
/// Nobody records on and on.
const MOST_STEPS: usize = 12;

/// A soft leak in a steady shop, with every clip lying ready that may be asked for.
fn case(seed: u64) -> Case {
    let leak =
        Leak { opening: PLACES[seed as usize % 3].parse().expect("an opening"), hiss_to_noise: LevelDiff(-13.0) };
    let options = CaseOptions {
        seed,
        leaks: vec![leak],
        practice: Practice::OffAndOnThenPulsed,
        takes: 3,
        ..CaseOptions::default()
    };
    options.render(NoiseKind::Fan.draw(&mut Dice::seeded(seed)).as_ref()).expect("a case")
}

fn write(folder: &Path, clip: &CaseClip) -> PathBuf {
    let file = folder.join(format!("{}.wav", clip.clip.name()));
    let shape = hound::WavSpec {
        channels: 1,
        sample_rate: clip.clip.rate().0 as u32,
        bits_per_sample: 16,
        sample_format: hound::SampleFormat::Int,
    };
    let mut wav = hound::WavWriter::create(&file, shape).expect("a file");
    for sample in clip.clip.samples() {
        wav.write_sample((sample * 32_768.0) as i16).expect("a sample");
    }
    wav.finalize().expect("a whole file");
    file
}

fn ranked(used: &[LooseClip]) -> Value {
    let ranking = rank_loose(used, ChannelChoice::First).expect("a ranking");
    let text = json(&[ranking], &Words::of("en").expect("English")).expect("JSON");
    serde_json::from_str::<Value>(&text).expect("JSON")["results"][0].clone()
}

fn probability_at(result: &Value, opening: &Opening) -> f64 {
    let openings = result["openings"].as_array().expect("openings");
    let found = openings.iter().find(|one| one["opening"] == opening.name());
    found.map_or(0.0, |one| one["probability"].as_f64().expect("a number"))
}

/// What came of a case: the steps asked for, and the results of the plain round and at the end.
struct Went {
    steps: Vec<(String, String)>,
    plain: Value,
    last: Value,
}

fn follow(case: &Case) -> Went {
    let folder = tempfile::tempdir().expect("a folder");
    let loose = |clip: &CaseClip| LooseClip {
        opening: Some(clip.truth.opening.clone()),
        air: clip.truth.air,
        file: write(folder.path(), clip),
    };
    let of_first_round = |clip: &&CaseClip| clip.truth.take == 1 && clip.truth.air != Air::Pulsed;
    let plain = ranked(&case.clips.iter().filter(of_first_round).map(loose).collect::<Vec<_>>());
    let begins = |clip: &&CaseClip| of_first_round(clip) && clip.truth.opening.name() == PLACES[0];
    let (first, mut left): (Vec<&CaseClip>, Vec<&CaseClip>) = case.clips.iter().partition(begins);
    let mut used: Vec<LooseClip> = first.into_iter().map(loose).collect();
    let mut steps = Vec::new();
    let mut last = ranked(&used);
    while steps.len() < MOST_STEPS {
        let next = &last["next"];
        let (Some(opening), Some(air)) = (next["opening"].as_str(), next["air"].as_str()) else { break };
        let settles = next["settles"].as_f64().expect("a chance");
        assert!((0.0..=1.0).contains(&settles) && next["seconds"].as_f64().expect("a time") > 0.0, "{next}");
        let is_it = |clip: &&CaseClip| clip.truth.opening.name() == opening && clip.truth.air.name() == air;
        let Some(at) = left.iter().position(is_it) else { break };
        steps.push((opening.to_owned(), air.to_owned()));
        used.push(loose(left.remove(at)));
        last = ranked(&used);
    }
    Went { steps, plain, last }
}

#[test]
fn doing_what_it_asks_for_makes_the_answer_better_and_comes_to_an_end() {
    let (mut before, mut after, mut located, mut more) = (0.0, 0.0, 0, 0);
    for seed in 1..=SEEDS {
        let case = case(seed);
        let leak = case.truth.leaks[0].opening.clone();
        let Went { steps, plain, last } = follow(&case);
        let missing: Vec<&str> = steps.iter().take(2).map(|(opening, _)| opening.as_str()).collect();
        assert_eq!(missing, ["exhaust", "oil-filler"], "seed {seed}: those not yet listened at come first");
        assert!(steps.len() < MOST_STEPS, "seed {seed}: it comes to an end: {steps:?}");
        if last["call"] == "located" {
            located += 1;
            assert_eq!(last["openings"][0]["opening"], leak.name(), "seed {seed}: {steps:?}");
            assert!(last["next"].is_null(), "seed {seed}: a call that is safe asks nothing");
        }
        more += usize::from(plain["call"] == "located");
        before += probability_at(&plain, &leak) / SEEDS as f64;
        after += probability_at(&last, &leak) / SEEDS as f64;
    }
    assert!(located > more, "located {located} of {SEEDS}, after the plain round {more}");
    assert!(after > before + 0.1, "probability of the leak {after:.2}, after the plain round {before:.2}");
}

#[test]
fn an_opening_that_was_not_listened_at_is_named_in_words() {
    let case = case(3);
    let folder = tempfile::tempdir().expect("a folder");
    let some = case.clips.iter().filter(|clip| {
        clip.truth.take == 1 && clip.truth.air != Air::Pulsed && clip.truth.opening.name() != "oil-filler"
    });
    let used: Vec<LooseClip> = some
        .map(|clip| LooseClip {
            opening: Some(clip.truth.opening.clone()),
            air: clip.truth.air,
            file: write(folder.path(), clip),
        })
        .collect();
    let result = ranked(&used);
    let text = result["next"]["text"].as_str().expect("a text");
    assert!(text.contains("the oil filler has not been listened at"), "{text}");
}
