//! What recorders do to sound: a clip through it is never located elsewhere than the clip itself.

use std::path::Path;

use hissward::audio::{ChannelChoice, read_clip};
use hissward::clip::Clip;
use hissward::hiss::ClipFeatures;
use hissward::ranking::{Call, OpeningClips, Ranking, rank};

use crate::clips::{located, sane, sound};

/// The same two clips as each recorder keeps them (`fixtures/recorders/make.py`): their endings.
const KEPT: [&str; 8] = [
    "raw.flac",
    "suppression.flac",
    "gain.flac",
    "suppression-and-gain.flac",
    "rnnoise.flac",
    "mp3-96.mp3",
    "aac-64.m4a",
    "opus-24.opus",
];
/// Of these the steady part is eaten away.
const SUPPRESSED: [&str; 3] = ["suppression.flac", "suppression-and-gain.flac", "rnnoise.flac"];

fn clip(what: &str, kept: &str) -> Clip {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/recorders");
    read_clip(&folder.join(format!("{what}-{kept}")), ChannelChoice::First).expect("a clip").0
}

/// First halves without the hiss are the quiet clips, second halves the air clips; only the exhaust's has the hiss.
fn ranked(kept: &str) -> Ranking {
    let half = |clip: &Clip, second: bool| -> ClipFeatures {
        let (first, other) = clip.samples().split_at(clip.samples().len() / 2);
        sound(if second { other } else { first }, clip.rate())
    };
    let (noise, hiss) = (clip("noise", kept), clip("hiss", kept));
    let (quiet, without, with) = (half(&noise, false), half(&noise, true), half(&hiss, true));
    let opening = |name: &str, air| OpeningClips {
        quiet: vec![&quiet],
        air: vec![air],
        ..OpeningClips::at(name.parse().expect("an opening"))
    };
    let ranking = rank(None, &[opening("intake", &without), opening("exhaust", &with)]);
    sane(&ranking);
    ranking
}

#[test]
fn through_a_recorder_no_other_opening_is_located() {
    let raw = ranked(KEPT[0]);
    assert_eq!(raw.openings[0].opening.name(), "exhaust", "{raw:?}");
    for kept in KEPT {
        let ranking = ranked(kept);
        assert!(located(&ranking).is_none_or(|named| named == "exhaust"), "{kept}: {ranking:?}");
        assert_ne!(ranking.call, Call::Shared, "{kept}: {ranking:?}");
    }
}

#[test]
fn of_a_suppressed_clip_none_heard_is_never_said() {
    for kept in SUPPRESSED {
        let ranking = ranked(kept);
        assert_ne!(ranking.call, Call::NoneHeard, "{kept}: {ranking:?}");
    }
}
