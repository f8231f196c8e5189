//! The ranking under test.

use hissward::hiss::{ClipSound, Listener};
use hissward::opening::Air;
use hissward::ranking::{self, Heard, Ranking};
use hissward::simulate::{Case, CaseClip};

/// The program's ranking of a case.
pub fn rank(case: &Case) -> Ranking {
    let sounds: Vec<ClipSound> = case.clips.iter().map(listen).collect();
    let heard: Vec<Heard<'_>> = case
        .truth
        .openings
        .iter()
        .map(|place| {
            let with = |air: Air| {
                let clips = case.clips.iter().zip(&sounds);
                clips
                    .filter(|(clip, _)| clip.truth.opening == place.opening && clip.truth.air == air)
                    .map(|(_, sound)| sound)
                    .collect()
            };
            Heard {
                quiet: with(Air::Off),
                air: with(Air::On),
                pulsed: with(Air::Pulsed),
                ..Heard::at(place.opening.clone())
            }
        })
        .collect();
    ranking::rank(None, &heard)
}

fn listen(clip: &CaseClip) -> ClipSound {
    let mut listener = Listener::new(clip.clip.name(), clip.clip.rate());
    listener.push(clip.clip.samples());
    listener.sound()
}
