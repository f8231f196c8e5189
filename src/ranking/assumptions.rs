//! What the ranking takes for granted, each number once, with its reason.
//!
//! None of these is fitted by a machine. They were set by hand on the tuning cases of the accuracy run
//! (`benches/accuracy`), which are apart from those it reports.

/// Scales tried for how restless the shop is, as factors on what is seen within clips and on the spreads below:
/// from calmer than seen to a shop that is another one in each clip. Each is twice the one before.
pub const BACKGROUND_VARIABILITY: [f64; 6] = [0.35, 0.7, 1.4, 2.8, 5.6, 11.2];
/// Each scale is this much less likely beforehand than the one before.
pub const VARIABILITY_DECAY: f64 = 0.8;
/// One opening's clips may have been calmer or have caught a change that the others' did not: weight of the scales 1
/// below and 1 above the common one. A change larger still, at one opening and in its air clip alone, is what a leak is.
pub const VARIABILITY_NEIGHBOURS: [(isize, f64); 2] = [(-1, 0.1), (1, 0.005)];
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
pub const PLACE_DB: f64 = 1.0;
/// Octaves over which a place's own colour holds together.
pub const PLACE_OCTAVES: f64 = 1.5;

/// How a hiss spectrum departs from equal power in all third-octave bands, and how likely beforehand: mostly as a jet
/// through an open path does, now and then as one behind a muffler or a crankcase does.
pub const SHAPES: [HissShape; 3] = [
    HissShape { tilt_db: 3.0, hump_db: 3.0, hump_octaves: 1.2, band_db: 0.7, likely: 0.4 },
    HissShape { tilt_db: 4.0, hump_db: 6.0, hump_octaves: 1.5, band_db: 0.5, likely: 0.2 },
    HissShape { tilt_db: 3.0, hump_db: 4.0, hump_octaves: 1.2, band_db: 2.0, likely: 0.4 },
];
/// How wind on the capsule departs from its mean colour.
pub const WIND_SHAPE: HissShape =
    HissShape { tilt_db: 1.0, hump_db: 1.5, hump_octaves: 1.5, band_db: 0.7, likely: 1.0 };
/// How a hiss of one source departs, in other clips, from what it is in those that tell its spectrum best: the way through the
/// shop and the hand that holds the microphone colour it a little.
pub const WAY: HissShape = HissShape { tilt_db: 1.5, hump_db: 2.5, hump_octaves: 1.2, band_db: 0.7, likely: 1.0 };
/// The share of hisses at other openings (a leak's spill, a second leak of the same air) that have that spectrum; the others'
/// way makes another of it. The rig's has it always.
pub const SAME_SPECTRUM: f64 = 0.5;
/// Log evidence from which an opening's own clips tell what spectrum its hiss has.
pub const TELLS_SPECTRUM: f64 = 3.0;
/// Knees above which wind falls more steeply, hertz (about a tenth of the speed of the air over the capsule's width:
/// Corcos 1963, after arXiv 1805.09679), and by how much more than f^(−5/3).
pub const WIND_KNEES_HZ: [f64; 2] = [1000.0, 3000.0];
/// Exponent of the steeper part beyond −5/3: turbulence smaller than the capsule averages out.
pub const WIND_STEEPER: f64 = 7.0 / 3.0;
/// Wind has so much more power from 60 to 300 Hz than in its 1 kHz band, dB, least and most. Its density alone gives 14.5 dB, or
/// 17.5 with the lower knee; microphones that fall off at the low end leave less.
pub const WIND_LOW_DB: (f64, f64) = (10.0, 22.0);
/// How the power from 60 to 300 Hz changes from one clip to the next without wind, dB, standard deviations with their
/// probability: mostly little, now and then a machine starts.
pub const LOW_CHANGE_DB: [(f64, f64); 2] = [(2.5, 0.8), (9.0, 0.2)];

/// Probability beforehand that, in one clip with the air on, something else begins to hiss at the same moment, of any level
/// and colour (another air tool, rain, a tap).
pub const FOREIGN: f64 = 0.0007;
/// … that it goes on through the other takes.
pub const FOREIGN_STAYS: f64 = 0.3;
/// … that air streams over the capsule.
pub const WIND: f64 = 0.001;
/// Probability that something else keeps the rhythm of a pulsed clip.
pub const FOREIGN_PULSED: f64 = 1e-5;
/// … that the air of a pulsed clip never came.
pub const PULSED_WITHOUT_AIR: f64 = 1e-5;
/// Log evidence from which clips with the air off and on show a hiss, for pulsed ones to be held against it, …
pub const SHOWN: f64 = 3.0;
/// … and under which the pulsed ones say that it does not follow the valve.
pub const DOES_NOT_FOLLOW: f64 = 0.5;
/// … and which they must give before such an opening is called: less comes of a shop that happens to swell in that rhythm.
pub const FOLLOWS: f64 = 8.0;
/// How much more log evidence there is for a hiss in a part of the time than throughout, from which "none heard" is not said.
/// Such a hiss names no opening: a shop's own bursts look the same. The valve opened before the recording begins settles it.
pub const PART_SHOWN: f64 = 1.0;
/// … and from which, at an opening that is not the one to be named, nothing is located if it is louder there: a leak's spill lies
/// under it, not over.
pub const PART_ELSEWHERE: f64 = 5.0;
/// Share of its time at full scale from which a clip is no ground for "none heard" (bangs hide what lies between them) or
/// "shared" (their echoes fill one clip's gaps and not the other's).
pub const BANGS_SHARE: f64 = 0.005;
/// Something else hisses, where a second microphone heard the shop rise as much.
pub const FOREIGN_RISEN: f64 = 0.9;

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
/// The lowest level lies this far under the stillest band's quiet floor, where that is lower still, …
pub const UNDER_THE_FLOOR_DB: f64 = 4.0;
/// … and no more than this under the lowest above, dB.
pub const FARTHER_DOWN_DB: f64 = 40.0;

/// Probability beforehand that nothing leaks, where no gauge was read.
pub const TIGHT: f64 = 0.25;
/// … by what the cylinder itself loses, percent.
pub const TIGHT_BY_LOSS: [(f64, f64); 4] = [(0.0, 0.6), (1.0, 0.4), (5.0, 0.05), (10.0, 0.005)];
/// Of what leaks: at a place nobody listened at and unheard, where the three usual openings are among them, and where one is
/// missing.
pub const UNHEARD: (f64, f64) = (0.04, 0.08);
/// … a leak elsewhere spills into all of them, each 10 to 25 dB under it.
pub const SPILL_FROM_ELSEWHERE: (f64, f64) = (0.01, 0.15);
/// … at the rig or a coupler, heard everywhere about alike.
pub const RIG: f64 = 0.06;
/// How far alike: standard deviation from opening to opening, dB.
pub const RIG_SCATTER_DB: f64 = 2.5;
/// … two openings truly leak.
pub const TWO: f64 = 0.07;
/// Placement of the microphone from clip to clip, standard deviation, dB.
pub const PLACEMENT_DB: f64 = 2.0;
/// Spill lies this far under the leak it comes from, dB: nearest and farthest; the step beyond is soft.
pub const SPILL_DB: (f64, f64) = (10.0, 25.0);
/// Placement of the microphone in two takes: standard deviation of the difference of two levels, √2 · 2 dB.
pub const PLACEMENT_PAIR_DB: f64 = 2.8;
/// Probability that a leak's spill does not reach another opening at all.
pub const NO_SPILL: f64 = 0.2;
/// Rings let a little air by on every engine: the share of leaks past a valve beside which the crankcase is heard to hiss of
/// its own, …
pub const USUAL_BLOW_BY: f64 = 0.15;
/// … and how far under the leak that hiss lies, dB: mean and standard deviation. Judgement: sealed rings pass a few percent,
/// valves that call for work tens of percent, and level follows flow (IEC 60534-8-3).
pub const BLOW_BY_UNDER_DB: (f64, f64) = (12.0, 6.0);
/// Two leaks of one cylinder differ in level by about this, standard deviation, dB.
pub const PAIR_DB: f64 = 3.0;

/// Probability that a member must reach to be called.
pub const SURE: f64 = 0.95;
/// Two leaks are called from this probability of there being two, …
pub const SHARED_FROM: f64 = 0.7;
/// … of which the named pair holds this share.
pub const PAIR_SHARE: f64 = 0.8;
/// A pair of leaks this likely must rest on fit clips too, whichever is called.
pub const PAIR_MATTERS: f64 = 0.05;
/// One is located only while two leaks are less likely than this: as much as keeps calls that name the wrong one, or the
/// quieter of two, under one in a hundred of all calls of the tuning cases.
pub const LOCATED_BELOW: f64 = 0.37;
/// A hiss at an opening that is not the likely leak counts as heard from this probability.
pub const SURE_OF_SPILL: f64 = 0.9999;
/// … and where its floor stands this far over quiet in half the level bands, dB: less is easily the shop's own change.
pub const SPILL_MARGIN_DB: f64 = 10.0;
/// A leak this far under the shop's noise and louder would be heard, dB: while one is likelier than the second number, "none
/// heard" is not said.
pub const LOUD_DB: f64 = -3.0;
/// Probability of such a leak up to which nothing is called heard.
pub const LOUD_BELOW: f64 = 0.02;
/// What the eye sees in the picture: so many neighbouring bands …
pub const SEEN_BANDS: usize = 3;
/// … risen by so much with the air on, dB, at one opening alone.
pub const SEEN_DB: f64 = 10.0;
/// … where the others rose by less than this, dB.
pub const SEEN_ALONE_DB: f64 = 5.0;
/// The most that may be said for "no hiss" where the recorder suppresses noise: as likely as not.
pub const UNHEARD_THROUGH_SUPPRESSION: f64 = 0.5;

/// What another clip would tell (for the choice of the next one alone): standard deviation at scale 1 of the mean rise of
/// the floor from one quiet clip to one with the air on, dB.
pub const ON_SPREAD_DB: f64 = 0.4;
/// … from shut to open seconds of one pulsed clip.
pub const PULSED_SPREAD_DB: f64 = 0.1;
/// … the power of the shop's background variability that the latter goes with.
pub const PULSED_VARIABILITY: f64 = 0.5;
/// … by how much these may be off: factors, and how likely each is.
pub const SPREADS: [(f64, f64); 3] = [(0.4, 0.2), (1.0, 0.35), (4.0, 0.45)];
/// A step that is expected to tell less than this is not worth the person's time, nats.
pub const TELLS_ENOUGH: f64 = 0.04;
/// The chance to hear a leak at the place where it is, and to hear one where there is none.
pub const HEARD_WHERE_IT_LEAKS: f64 = 0.9;
/// The second of them.
pub const HEARD_WHERE_NOTHING_LEAKS: f64 = 0.03;
/// Of leaks where nobody listened and heard nowhere else: the share that the coolant filler would tell (gasket or crack).
pub const COOLANT_OF_ELSEWHERE: f64 = 0.4;
/// The chance that the gauge says "holds well" of a tight cylinder, and of one that leaks.
pub const HOLDS_BY_GAUGE: (f64, f64) = (0.9, 0.12);
/// The chance that the rig, read alone, loses air where it is the leak, and where it is not.
pub const RIG_LEAKS_BY_GAUGE: (f64, f64) = (0.95, 0.1);
