//! What the ranking takes for granted, each number once, with its reason.
//!
//! None of these is fitted by a machine. They were set by hand on the tuning cases of the accuracy run
//! (`benches/accuracy`), which are apart from those it reports.

/// Scales tried for how restless the shop is, as factors on what is seen within clips and on the spreads below:
/// from calmer than seen to a shop that is another one in each clip. Each is twice the one before.
pub const RESTLESSNESS: [f64; 6] = [0.35, 0.7, 1.4, 2.8, 5.6, 11.2];
/// Each scale is this much less likely beforehand than the one before.
pub const RESTLESS_DECAY: f64 = 0.8;
/// One opening's clips may have been calmer or have caught a change that the others' did not: weight of the scales 1
/// below and 1 above the common one. A change larger still, at one opening and in its air clip alone, is what a leak is.
pub const RESTLESS_NEIGHBOURS: [(isize, f64); 2] = [(-1, 0.1), (1, 0.005)];
/// How much of what each other cylinder's clips say of the shop's restlessness counts: it was another quarter of an hour.
pub const OTHER_CYLINDERS: f64 = 0.5;
/// Standard deviation at scale 1 of a floor change that is the same in all bands, dB.
pub const COMMON_CHANGE_DB: f64 = 0.7;
/// Standard deviation at scale 1 of a floor change that is smooth over bands, dB, and the octaves over which it is.
pub const SMOOTH_CHANGE_DB: f64 = 0.5;
/// Octaves over which a smooth change holds together.
pub const SMOOTH_CHANGE_OCTAVES: f64 = 1.0;
/// Standard deviation at scale 1 of a floor change of one band alone, dB.
pub const BAND_CHANGE_DB: f64 = 0.3;
/// What is expected of floor changes counts as much as this many clips would; what the quiet clips show of them adds to it.
pub const CHANGE_FREEDOM: f64 = 3.0;
/// Standard deviation of what no part of the model explains, dB.
pub const RESIDUE_DB: f64 = 0.3;
/// Quiet floors of two openings differ by where they are, standard deviation of each, dB, smooth over this many octaves.
pub const PLACE_DB: f64 = 1.5;
/// Octaves over which a place's own colour holds together.
pub const PLACE_OCTAVES: f64 = 1.5;

/// How a hiss spectrum departs from equal power in all third-octave bands, and how likely beforehand: mostly as a jet
/// through an open path does, now and then as one behind a muffler or a crankcase does.
pub const SHAPES: [HissShape; 3] = [
    HissShape { tilt_db: 3.0, hump_db: 3.0, hump_octaves: 1.2, band_db: 0.7, likely: 0.4 },
    HissShape { tilt_db: 4.0, hump_db: 6.0, hump_octaves: 1.5, band_db: 0.5, likely: 0.2 },
    HissShape { tilt_db: 3.0, hump_db: 4.0, hump_octaves: 1.2, band_db: 2.0, likely: 0.4 },
];
/// Standard deviations of a hiss spectrum's departure from equal power in all bands.
#[derive(Debug, Clone, Copy)]
pub struct HissShape {
    /// Of a tilt, dB per octave (a jet far below its peak climbs 5.1).
    pub tilt_db: f64,
    /// Of smooth humps and hollows, dB.
    pub hump_db: f64,
    /// How wide these are, octaves.
    pub hump_octaves: f64,
    /// Of what a single band does by itself, dB.
    pub band_db: f64,
    /// Probability beforehand.
    pub likely: f64,
}

/// Hiss levels tried, re the mean noise power of the shop in the level bands, dB: lowest, highest, step.
pub const LEVELS_DB: (f64, f64, f64) = (-34.0, 36.0, 2.0);

/// Probability beforehand that the air gets away at none of the openings and none is heard at them.
pub const NOWHERE: f64 = 0.25;
/// … that two openings truly leak.
pub const TWO: f64 = 0.05;
/// … that a leak elsewhere spills into all of them alike, where the three usual openings are among them, and where one is missing.
pub const SPILL_FROM_ELSEWHERE: (f64, f64) = (0.005, 0.1);
/// Spill lies this far under the leak it comes from, dB: nearest and farthest; the step beyond is soft.
pub const SPILL_DB: (f64, f64) = (10.0, 25.0);
/// Placement of the microphone in two takes: standard deviation of the difference of two levels, √2 · 2 dB.
pub const PLACEMENT_PAIR_DB: f64 = 2.8;
/// Probability that a leak's spill does not reach another opening at all.
pub const NO_SPILL: f64 = 0.2;
/// Two leaks of one cylinder differ in level by about this, standard deviation, dB.
pub const PAIR_DB: f64 = 3.0;

/// Probability that a member must reach to be called.
pub const SURE: f64 = 0.95;
/// Two leaks are called from this probability of there being two, …
pub const SHARED_FROM: f64 = 0.5;
/// … of which the named pair holds this share.
pub const PAIR_SHARE: f64 = 0.8;
/// One is located only while two leaks are less likely than this: as much as keeps calls that name the wrong one, or the
/// quieter of two, under one in a hundred of all calls of the tuning cases.
pub const LOCATED_BELOW: f64 = 0.37;
/// A hiss at an opening that is not the likely leak counts as heard from this probability.
pub const SURE_OF_SPILL: f64 = 0.9999;
/// … and where its floor stands this far over quiet in half the level bands, dB: less is easily the shop's own change.
pub const SPILL_MARGIN_DB: f64 = 10.0;
/// The most that may be said for "no hiss" where the recorder suppresses noise: as likely as not.
pub const UNHEARD_THROUGH_SUPPRESSION: f64 = 0.5;
