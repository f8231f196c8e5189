//! What a recorder's own work on the sound leaves to be said.

use crate::hiss::{ClipFeatures, Contrast, Processing};

use super::assumptions as assume;
use super::call::Posterior;
use super::prior::Prior;
use super::rank::OpeningClips;
use super::result::Call;

/// What was done to all clips of a ranking: one recorder made them.
pub fn processing_of(openings: &[OpeningClips<'_>]) -> Processing {
    let mut clips: Vec<&ClipFeatures> = Vec::new();
    for clip in openings.iter().flat_map(|heard| heard.quiet.iter().chain(&heard.air).chain(&heard.pulsed)) {
        // A quiet clip that serves all openings counts once.
        if !clips.iter().any(|known| std::ptr::eq(*known, *clip)) {
            clips.push(*clip);
        }
    }
    Processing::of(&clips)
}

impl Posterior {
    /// The probabilities as far as the recorder let the sound through: where it shut the sound off, what is assumed
    /// beforehand; where it ate at the floor, a hiss that is not heard may be there all the same.
    pub fn through(&mut self, processing: &Processing, before: Prior) {
        let count = self.openings.len() as f64;
        let nothing = self.tight + self.elsewhere;
        let most = assume::UNHEARD_THROUGH_SUPPRESSION;
        if processing.unfit() {
            (self.tight, self.elsewhere) = (before.tight, before.elsewhere());
            (self.two, self.pair) = (0.0, None);
            self.openings.fill((1.0 - self.tight - self.elsewhere) / count);
        } else if processing.hides_hiss() && nothing > most {
            self.tight *= most / nothing;
            self.elsewhere *= most / nothing;
            self.openings.iter_mut().for_each(|probability| *probability += (nothing - most) / count);
        }
    }
}

/// The call that may be made: nothing through a recorder that shuts the sound off, no "none heard" through noise suppression,
/// and there no opening all of whose bands rise alike. `named`: the rises, band by band, of each opening that is named.
pub fn allowed(call: Call, processing: &Processing, mut named: impl Iterator<Item = Vec<f64>>) -> Call {
    let refused = match call {
        _ if processing.unfit() => true,
        Call::NoneHeard => processing.hides_hiss(),
        Call::Located | Call::Shared => named.any(|rises| processing.may_be_let_through(&rises)),
        Call::CannotTell => false,
    };
    if refused { Call::CannotTell } else { call }
}

/// How far each band's floor lies over the quiet one with the air on, dB.
pub fn rises_db(contrast: &Contrast, bands: usize) -> Vec<f64> {
    let quiet = contrast.own.as_ref().or(contrast.others.as_ref());
    quiet.map_or_else(Vec::new, |quiet| (0..bands).map(|b| contrast.air_db[b] - quiet.floor_db[b]).collect())
}
