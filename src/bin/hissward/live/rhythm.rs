//! Beeps: the countdown, the rhythm of pulsed air, and what became of a clip.

use hissward::audio::{Speaker, Tone};
use hissward::guide::Beep;
use hissward::units::{Hertz, Seconds};

/// Sounds a beep.
///
/// All are short: in pulsed air they fall into the tenth of a second after the change, which the judgement leaves out.
pub fn beep(speaker: &Speaker, what: Beep) {
    let (pitch, length) = match what {
        Beep::Count => (660.0, 0.06),
        Beep::Open => (1320.0, 0.08),
        Beep::Shut => (440.0, 0.08),
        Beep::Good => (990.0, 0.25),
        Beep::Look => (330.0, 0.7),
    };
    speaker.beep(Tone { pitch: Hertz(pitch), length: Seconds(length) });
}

/// Pulsed air: what the valve is to be at a time after the beginning: shut in even seconds, open in odd ones.
pub fn is_open(at: Seconds) -> bool {
    at.0.max(0.0) as u64 % 2 == 1
}
