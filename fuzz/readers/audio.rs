//! Recordings of every format, as `add`, `rank` and `check` read them.

use std::fs;
use std::path::Path;

use hissward::audio::{ChannelChoice, WriteError, open, recover};

use super::telling::{told, worded};

/// Frames after which reading stops: a small file may hold hours of sound.
const MOST_FRAMES: usize = 1 << 19;

/// Reads a recording by its first channel, then by a pair, then mends its header as after a crash.
pub fn audio(bytes: &[u8], scratch: &Path) {
    let file = scratch.join("recording");
    fs::write(&file, bytes).expect("a file");
    if let Some(channels) = read(&file, ChannelChoice::First)
        && channels > 1
    {
        read(&file, ChannelChoice::Pair { near: channels, far: 1 });
    }
    match recover(&file) {
        Err(WriteError::Hopeless { .. }) => {}
        Err(error) => told(&error),
        Ok(recovered) => {
            assert!(recovered.regained.0 <= recovered.length.0);
            let again = recover(&file).expect("what was mended is whole");
            assert!(again.regained.0 == 0.0 && again.length == recovered.length, "{recovered:?}, then {again:?}");
        }
    }
}

/// How many channels there are, where the recording could be opened.
fn read(file: &Path, choice: ChannelChoice) -> Option<u16> {
    let mut recording = match open(file, choice) {
        Ok(recording) => recording,
        Err(error) => {
            told(&error);
            return None;
        }
    };
    assert!((8_000.0..=192_000.0).contains(&recording.rate().0), "{}", recording.rate());
    assert!(recording.channels() > 0);
    let mut samples = 0;
    while samples < MOST_FRAMES {
        match recording.next_block() {
            Ok(Some(block)) => {
                assert!(block.iter().all(|sample| sample.is_finite()));
                samples += block.len();
            }
            Ok(None) => break,
            Err(error) => {
                told(&error);
                break;
            }
        }
    }
    worded(&recording.caveats());
    Some(recording.channels())
}
