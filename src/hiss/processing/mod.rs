//! What recorders do to sound: noise suppression, automatic gain, limiters, lossy coding.
//!
//! A recorder made for speech takes a steady hiss away, or sets quiet and air to one level. [`Processing::of`] looks for it
//! in the clips themselves, all of one recorder together: what one clip only hints at six clips show. The ranking asks what
//! may still be said.

mod gain;
mod limiter;
mod suppression;

use crate::caveat::Caveat;
use crate::units::LevelDiff;

use super::sound::ClipFeatures;
pub use suppression::Suppression;

/// Bands that rise by the same to within this, standard deviation, dB: what was held down rises so, a hiss climbs with
/// frequency.
const EVEN_DB: f64 = 2.5;

/// What was done to a recorder's clips.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Processing {
    /// Noise suppression.
    pub suppression: Option<Suppression>,
    /// Automatic gain: how far clips begin above where they come to rest.
    pub gain: Option<LevelDiff>,
    /// A limiter: share of the clip that sits at its ceiling.
    pub limiter: Option<f64>,
    /// Lossy coding, as the file names it.
    pub coding: Option<String>,
}

impl Processing {
    /// What one recorder did to these clips. Silent clips and those too short to tell are passed over.
    #[must_use]
    pub fn of(clips: &[&ClipFeatures]) -> Self {
        Self {
            suppression: Suppression::of(clips),
            gain: gain::ride(clips),
            limiter: limiter::limited(clips),
            coding: clips.iter().find_map(|clip| clip.coding()).map(str::to_owned),
        }
    }

    /// Whether silence at every opening can be the recorder's own making: then "none heard" may not be said.
    #[must_use]
    pub fn hides_hiss(&self) -> bool {
        self.suppression.is_some()
    }

    /// Whether what is left in the clips is no measure of what was there: then no opening may be named.
    #[must_use]
    pub fn unfit(&self) -> bool {
        matches!(self.suppression, Some(Suppression::ShutOff { .. }))
    }

    /// Whether a rise by so much in each band can be the recorder's doing, not a hiss: a suppressor that let the shop through
    /// in one clip and held it down in the other lifts all bands alike, as a gain behind it does. Automatic gain alone is
    /// known to the ranking as a change of all bands, and takes no name back.
    #[must_use]
    pub fn may_be_let_through(&self, rises_db: &[f64]) -> bool {
        let mean = rises_db.iter().sum::<f64>() / rises_db.len().max(1) as f64;
        let spread = rises_db.iter().map(|rise| (rise - mean).powi(2)).sum::<f64>() / rises_db.len().max(1) as f64;
        self.suppression.is_some() && spread.sqrt() < EVEN_DB
    }

    /// What is to be said of it.
    #[must_use]
    pub fn caveats(&self) -> Vec<Caveat> {
        let mut found = Vec::new();
        match self.suppression {
            Some(Suppression::ShutOff { share }) => {
                found.push(Caveat::new("suppression-shut-off").number("percent", 100.0 * share, 0));
            }
            Some(Suppression::Eaten) => found.push(Caveat::new("suppression-eaten")),
            None => {}
        }
        found.extend(self.gain.map(|fall| Caveat::new("gain-rides").number("db", fall.0, 0)));
        found.extend(self.limiter.map(|share| Caveat::new("limited").number("percent", 100.0 * share, 0)));
        found.extend(self.coding.as_ref().map(|coding| Caveat::new("lossy-coding").text("coding", coding.as_str())));
        found
    }
}
