//! The same samples by other ways out of a file.

use std::path::Path;

use hissward::audio::{ChannelChoice, SampleKind, StreamShape, WavRecorder};
use hissward::pipeline::listen_to;

use crate::clips::CASES;

fn write(path: &Path, channels: [&[f32]; 2]) {
    let shape = StreamShape { rate_hz: 48_000, channels: 2, kind: SampleKind::I16 };
    let mut recorder = WavRecorder::create(path, shape).expect("a file");
    let frames: Vec<f32> = channels[0].iter().zip(channels[1]).flat_map(|(a, b)| [*a, *b]).collect();
    recorder.write(&frames).expect("written");
    recorder.finish().expect("whole");
}

/// Left and right changed places, and the other one asked for: not a bit differs.
#[test]
fn swapped_channels_asked_for_by_number_are_the_same_sound() {
    let folder = tempfile::tempdir().expect("a folder");
    let case = &CASES[0];
    let (near, far) = (case.clips[0].clip.samples(), case.clips[1].clip.samples());
    let mut found = Vec::new();
    for (take, (channels, number)) in [([near, far], 1), ([far, near], 2), ([far, near], 1)].into_iter().enumerate() {
        let path = folder.path().join(take.to_string()).join("clip.wav");
        std::fs::create_dir(path.with_file_name("")).expect("a folder");
        write(&path, channels);
        let heard = listen_to(&path, ChannelChoice::Number(number)).expect("a clip").sound;
        found.push(format!("{heard:?}").replace(&path.display().to_string(), "clip"));
    }
    assert_eq!(found[0], found[1]);
    assert_ne!(found[0], found[2], "the other channel is another sound");
}
