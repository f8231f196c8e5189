//! Floor, excess, pulsed air, level tracking, fitness: numbers with intervals.

mod contrast;
mod cutoff;
mod drift;
mod fitness;
mod floor;
mod grid;
mod order;
mod pair;
mod processing;
mod pulsed;
mod scatter;
mod scatter_matrix;
mod sound;
mod tracked;
mod twin;
mod windows;

pub use contrast::{Contrast, Quiet, Recorded, View, Views, contrast, views};
pub use cutoff::cut_off;
pub use drift::wander;
pub use fitness::{clip_caveats, falling_caveat, pair_caveats, tone_caveat};
pub use floor::Floor;
pub use grid::{BANDS, END_OF_LEVEL_BANDS, FIRST_LEVEL_BAND, Grid, PerBand, band, level_bands};
pub use order::{PlannedClip, air_first_order, pulsed_order, quiet_and_air_order};
pub use pair::{are_two_microphones, second_is_nearer};
pub use processing::{Processing, Suppression};
pub use pulsed::{Pulsed, pulsed_contrasts};
pub use scatter::Scatter;
pub use scatter_matrix::ScatterMatrix;
pub use sound::{ClipAnalyzer, ClipFeatures};
pub use tracked::{Tracked, tracked_contrast};
pub use twin::same_sound;
