//! The ranking of one cylinder's openings from their clips.

use crate::caveat::{Caveat, Severity};
use crate::hiss::{
    BANDS, ClipSound, Contrast, FIRST_LEVEL_BAND, Grid, Recorded, band, clip_caveats, contrast, pair_caveats,
    pulsed_contrasts, tracked_contrast,
};
use crate::opening::Opening;
use crate::units::{Hertz, Level, LevelDiff};

use super::assumptions as assume;
use super::call::{Place, Standing};
use super::level::level_at;
use super::recorder::{allowed, processing_of, rises_db};
use super::result::{BandResult, Call, HissReading, Member, OpeningResult, Ranking};
use super::weigh::{LevelWeight, Weighed, log_spill, weigh};

/// Margin of air over quiet from which ISO 3744:2010 corrects a level for background noise; below it the result is an
/// upper bound.
pub const ISO_3744_MARGIN: LevelDiff = LevelDiff(6.0);
/// Margin above which ISO 3744:2010 takes no correction.
pub const ISO_3744_CLEAR: LevelDiff = LevelDiff(15.0);
/// An interval wider than this is no reading any more, dB.
const WIDEST_INTERVAL_DB: f64 = 20.0;

/// One opening with its clips.
#[derive(Debug, Clone)]
pub struct Heard<'a> {
    /// The opening.
    pub opening: Opening,
    /// Clips with the air off; a clip that serves all openings is given to each.
    pub quiet: Vec<&'a ClipSound>,
    /// Clips with the air on.
    pub air: Vec<&'a ClipSound>,
    /// Clips with the air opened and shut in turn.
    pub pulsed: Vec<&'a ClipSound>,
    /// Clips of the same opening at the engine's other cylinders, air off or on: the shop moves in them too.
    pub beside: Vec<&'a ClipSound>,
    /// How far the floor may have drifted from the quiet clips to those with the air on; `None` where that is not known.
    pub drift: Option<LevelDiff>,
    /// What their files gave to say.
    pub caveats: Vec<Caveat>,
}

impl Heard<'_> {
    /// An opening of which nothing is known yet.
    #[must_use]
    pub fn at(opening: Opening) -> Self {
        Self {
            opening,
            quiet: Vec::new(),
            air: Vec::new(),
            pulsed: Vec::new(),
            beside: Vec::new(),
            drift: None,
            caveats: Vec::new(),
        }
    }
}

/// Background correction of ISO 3744:2010, Eq. 16:
/// `K1 = −10 lg(1 − 10^(−0.1 ΔL))`, 0 above 15 dB, held at its 6 dB value below, where the result is an upper bound.
///
/// `margin`: level with the source on over the background, dB. Gives the correction to take off, and whether only a bound
/// is left.
///
/// ```
/// use hissward::ranking::background_correction;
/// use hissward::units::LevelDiff;
/// let (k1, bound) = background_correction(LevelDiff(10.0));
/// assert!((k1.0 - 0.458).abs() < 5e-4 && !bound);
/// let (k1, bound) = background_correction(LevelDiff(3.0));
/// assert!((k1.0 - 1.256).abs() < 5e-4 && bound);
/// ```
#[must_use]
pub fn background_correction(margin: LevelDiff) -> (LevelDiff, bool) {
    let k1 = |db: f64| LevelDiff(-10.0 * (1.0 - 10f64.powf(-0.1 * db)).log10());
    if margin > ISO_3744_CLEAR {
        (LevelDiff(0.0), false)
    } else if margin >= ISO_3744_MARGIN {
        (k1(margin.0), false)
    } else {
        (k1(ISO_3744_MARGIN.0), true)
    }
}

/// Ranks the openings of one cylinder (`None` for loose clips).
///
/// Openings without an air clip, or whose clips are unfit, are told in a caveat and left out. Where nothing is left the
/// call is [`Call::CannotTell`] with no openings.
#[must_use]
pub fn rank(cylinder: Option<u32>, openings: &[Heard<'_>]) -> Ranking {
    rank_tracked(cylinder, openings, true)
}

/// As [`rank`]; without `track` a second microphone is not asked.
pub(super) fn rank_tracked(cylinder: Option<u32>, openings: &[Heard<'_>], track: bool) -> Ranking {
    let mut caveats = Vec::new();
    let mut taken: Vec<Taken<'_>> = Vec::new();
    let fit = Fitness::of(openings);
    let contrasts = contrast(&fit.off_and_on);
    let tracked = fit.off_and_on.iter().map(|clips| tracked_contrast(&clips.quiet, &clips.air).filter(|_| track));
    let pulsed = pulsed_contrasts(&openings.iter().map(|heard| heard.pulsed.clone()).collect::<Vec<_>>());
    let each = openings.iter().zip(fit.caveats).zip(contrasts).zip(tracked).zip(pulsed);
    for ((((heard, own), on), tracked), pulsed) in each {
        let mut own = own;
        if pulsed.iter().any(|clip| clip.own_rhythm) {
            own.push(Caveat::new("own-rhythm").text("opening", heard.opening.name()));
        }
        let risen = tracked.as_ref().is_some_and(|tracked| tracked.risen_everywhere);
        if risen {
            own.push(Caveat::new("risen-everywhere").text("opening", heard.opening.name()));
        }
        let is_tracked = tracked.is_some();
        // The two come from the same clips: one of them counts.
        let on = tracked.map(|tracked| tracked.contrast).or(on);
        let contrasts: Vec<Contrast> = on.into_iter().chain(pulsed.into_iter().map(|k| k.contrast)).collect();
        if contrasts.is_empty() {
            caveats.push(Caveat::new("not-comparable").text("opening", heard.opening.name()));
            caveats.append(&mut own);
        } else {
            taken.push(Taken { heard, contrasts, tracked: is_tracked, caveats: own });
        }
    }
    let bands = bands_in_common(openings);
    if bands < BANDS {
        let limit = band(bands.saturating_sub(1)).upper();
        caveats.push(Caveat::new("band-limit").number("khz", limit.0 / 1000.0, 1));
    }
    if bands <= FIRST_LEVEL_BAND {
        return nothing(cylinder, caveats);
    }
    let usual =
        ["intake", "exhaust", "oil-filler"].iter().all(|name| taken.iter().any(|t| t.heard.opening.name() == *name));
    let all: Vec<Vec<Contrast>> = taken.iter().map(|t| t.contrasts.clone()).collect();
    let Some(weighed) = weigh(&all, bands, usual).filter(|_| !taken.is_empty()) else {
        return nothing(cylinder, caveats);
    };
    let processing = processing_of(openings);
    caveats.extend(processing.caveats());
    let mut standing = Standing::of(&weighed.accounts, taken.len());
    standing.through(&processing);
    let readings = readings(&weighed, &standing, &taken, bands);
    let heard: Vec<bool> = readings.iter().map(|reading| matches!(reading.hiss, HissReading::Heard { .. })).collect();
    let mut call = standing.call(&heard);
    caveats.extend(doubts(&taken, call));
    // A call rests on clips that say what they claim to say.
    let named = |at: usize| standing.openings[at] >= 0.5 || standing.pair.is_some_and(|((j, k), _)| at == j || at == k);
    let unfit = |t: &Taken<'_>| t.caveats.iter().any(|caveat| caveat.severity() == Severity::Unfit);
    if matches!(call, Call::Located | Call::Shared) && taken.iter().enumerate().any(|(at, t)| named(at) && unfit(t)) {
        call = Call::CannotTell;
    }
    let rises = |at: usize| taken[at].contrasts.first().map_or_else(Vec::new, |contrast| rises_db(contrast, bands));
    call = allowed(call, &processing, (0..taken.len()).filter(|at| named(*at)).map(rises));
    let answer_set = standing.answer_set().into_iter().map(|member| match member {
        Place::Opening(at) => Member::Opening(taken[at].heard.opening.clone()),
        Place::Elsewhere => Member::Elsewhere,
        Place::Tight => Member::Tight,
    });
    let answer_set = answer_set.collect();
    let mut results: Vec<OpeningResult> =
        taken.into_iter().enumerate().map(|(at, t)| result_of(t, &readings[at], &standing, at, call, bands)).collect();
    results.sort_by(order);
    Ranking {
        cylinder,
        call,
        answer_set,
        openings: results,
        tight_probability: standing.tight,
        elsewhere_probability: standing.elsewhere,
        caveats,
        ..Ranking::default()
    }
}

struct Taken<'a> {
    heard: &'a Heard<'a>,
    contrasts: Vec<Contrast>,
    /// Whether a far channel told the shop apart.
    tracked: bool,
    caveats: Vec<Caveat>,
}

/// Clips that may be compared, and what is to be said of each opening's.
struct Fitness<'a> {
    off_and_on: Vec<Recorded<'a>>,
    caveats: Vec<Vec<Caveat>>,
}

impl<'a> Fitness<'a> {
    fn of(openings: &[Heard<'a>]) -> Self {
        let empty = |clip: &&ClipSound| clip_caveats(clip).iter().any(|caveat| caveat.severity() == Severity::Empty);
        let mut fit = Self { off_and_on: Vec::new(), caveats: Vec::new() };
        for heard in openings {
            let mut caveats = heard.caveats.clone();
            caveats.extend(pair_caveats(&heard.quiet, &heard.air));
            for clip in heard.quiet.iter().chain(&heard.air).chain(&heard.pulsed) {
                caveats.extend(clip_caveats(clip));
            }
            let kept = |clips: &[&'a ClipSound]| clips.iter().copied().filter(|clip| !empty(clip)).collect::<Vec<_>>();
            fit.off_and_on.push(Recorded {
                quiet: kept(&heard.quiet),
                air: kept(&heard.air),
                beside: kept(&heard.beside),
                drift: heard.drift,
            });
            fit.caveats.push(caveats);
        }
        fit
    }
}

fn nothing(cylinder: Option<u32>, mut caveats: Vec<Caveat>) -> Ranking {
    caveats.push(Caveat::new("nothing-to-rank"));
    Ranking {
        cylinder,
        call: Call::CannotTell,
        answer_set: vec![Member::Elsewhere, Member::Tight],
        tight_probability: assume::NOWHERE,
        elsewhere_probability: 1.0 - assume::NOWHERE,
        caveats,
        ..Ranking::default()
    }
}

/// How many bands of the grid every clip reaches.
fn bands_in_common(openings: &[Heard<'_>]) -> usize {
    let clips = openings.iter().flat_map(|heard| heard.quiet.iter().chain(&heard.air).chain(&heard.pulsed));
    let lowest = clips.map(|clip| clip.bandwidth().0).fold(f64::INFINITY, f64::min);
    Grid::bands_below(Hertz(lowest))
}

/// What is to be said of the ranking as a whole.
fn doubts(taken: &[Taken<'_>], call: Call) -> Vec<Caveat> {
    let mut found = Vec::new();
    let pulsed = taken.iter().any(|t| !t.heard.pulsed.is_empty());
    let tracked = taken.iter().all(|t| t.tracked);
    if matches!(call, Call::Located | Call::Shared) && !pulsed && !tracked {
        found.push(Caveat::new("foreign-hiss-alike"));
    }
    if taken.len() == 1 {
        found.push(Caveat::new("one-opening"));
    }
    if taken.iter().any(|t| t.heard.quiet.is_empty() && t.heard.pulsed.is_empty()) {
        found.push(Caveat::new("borrowed-quiet"));
    }
    found
}

/// The hiss of every opening; where one is surely the leak, the others' can be no more than its spill.
fn readings(weighed: &Weighed, standing: &Standing, taken: &[Taken<'_>], bands: usize) -> Vec<Reading> {
    let sure = |at: &usize| standing.openings[*at] >= assume::SURE && standing.two < assume::LOCATED_BELOW;
    let leak = (0..taken.len()).find(sure);
    let leak_db = leak.and_then(|at| level_at(&weighed.levels[at], 0.5, BANDS));
    let unsteady: Vec<f64> =
        taken.iter().map(|t| t.contrasts.first().map_or(0.0, |contrast| unsteadiness_db(contrast, bands))).collect();
    (0..taken.len())
        .map(|at| {
            let mut weights = weighed.levels[at].clone();
            let mut present = weighed.present[at];
            if let (true, Some(leak_db)) = (leak != Some(at), leak_db) {
                let before: f64 = weights.iter().map(|level| level.weight).sum();
                weights.iter_mut().for_each(|level| level.weight *= log_spill(leak_db - level.level_db).exp());
                let after: f64 = weights.iter().map(|level| level.weight).sum();
                // Levels that no spill reaches speak against there being any.
                let odds = present / (1.0 - present).max(f64::MIN_POSITIVE) * after / before.max(f64::MIN_POSITIVE);
                present = odds / (1.0 + odds);
                if after < 1e-6 {
                    weights = weighed.levels[at].clone();
                }
            }
            // Beside a leak, a restless floor is easily taken for its spill.
            let heard = if standing.openings[at] >= 0.5 {
                present >= assume::SURE
            } else {
                present >= assume::SURE_OF_SPILL && margin_db(&taken[at].contrasts, bands) >= assume::SPILL_MARGIN_DB
            };
            Reading::of(&weights, heard, unsteady[at].min(leak.map_or(f64::INFINITY, |leak| unsteady[leak])), bands)
        })
        .collect()
}

/// Median over the level bands of how far the floor with the air on lies over the quiet one, dB.
fn margin_db(contrasts: &[Contrast], bands: usize) -> f64 {
    let quiet = |contrast: &Contrast, b: usize| {
        contrast.own.as_ref().or(contrast.others.as_ref()).map_or(f64::INFINITY, |quiet| quiet.floor_db[b])
    };
    let over =
        |contrast: &Contrast| (FIRST_LEVEL_BAND..bands).map(|b| contrast.air_db[b] - quiet(contrast, b)).collect();
    let each = contrasts.iter().map(|contrast| {
        let mut margins: Vec<f64> = over(contrast);
        margins.sort_by(f64::total_cmp);
        margins.get(margins.len() / 2).copied().unwrap_or(f64::NEG_INFINITY)
    });
    each.fold(f64::NEG_INFINITY, f64::max)
}

/// What is read of an opening's hiss.
struct Reading {
    hiss: HissReading,
    at_most: Level,
}

impl Reading {
    /// `unsteady`: how far the hiss's mean lies over what its floor tells, dB; a spill is as unsteady as its leak.
    fn of(weights: &[LevelWeight], present: bool, unsteady: f64, bands: usize) -> Self {
        let at = |probability: f64| level_at(weights, probability, bands).map(|level| level + unsteady);
        let ends = at(0.025).zip(at(0.5)).zip(at(0.975));
        match ends {
            Some(((low, middle), high)) => {
                let heard = present && high - low <= WIDEST_INTERVAL_DB;
                let hiss = if heard {
                    HissReading::Heard { level: Level(middle), low: Level(low), high: Level(high) }
                } else {
                    HissReading::Bound
                };
                Self { hiss, at_most: Level(high) }
            }
            // No weights: nothing narrows the level but full scale.
            None => Self { hiss: HissReading::Bound, at_most: Level(0.0) },
        }
    }
}

/// How far the mean of an unsteady hiss lies over what its floor tells, dB. Seen only where the mean power with the air on
/// is far enough above quiet to be the hiss's own (ISO 3744's margin, softened).
fn unsteadiness_db(contrast: &Contrast, bands: usize) -> f64 {
    let level_bands = FIRST_LEVEL_BAND..bands;
    let sum = |of: &dyn Fn(usize) -> f64| level_bands.clone().map(of).sum::<f64>();
    let power = |db: f64| 10f64.powf(db / 10.0);
    let mean_air = sum(&|b| power(contrast.mean_air_db[b]));
    let mean_quiet = sum(&|b| power(contrast.mean_quiet_db[b]));
    let margin = 10.0 * (mean_air / mean_quiet.max(f64::MIN_POSITIVE)).log10();
    let trust = ((margin - 3.0) / (ISO_3744_MARGIN.0 + 1.0)).clamp(0.0, 1.0);
    let of_mean = mean_air - mean_quiet;
    let quiet_floor =
        |b: usize| contrast.own.as_ref().map_or(0.0, |own| power(own.floor_db[b] - contrast.steady_db[b]));
    let of_floor = sum(&|b| (power(contrast.air_db[b] - contrast.steady_db[b]) - quiet_floor(b)).max(0.0));
    if of_floor <= 0.0 || of_mean <= 0.0 {
        return 0.0;
    }
    trust * (10.0 * (of_mean / of_floor).log10()).max(0.0)
}

fn result_of(
    taken: Taken<'_>,
    reading: &Reading,
    standing: &Standing,
    at: usize,
    call: Call,
    bands: usize,
) -> OpeningResult {
    let Taken { heard, contrasts, tracked: _, mut caveats } = taken;
    let of_pair = standing.pair.is_some_and(|((j, k), _)| at == j || at == k);
    let leak = standing.openings[at] >= 0.5 || (call == Call::Shared && of_pair);
    let spill =
        matches!(reading.hiss, HissReading::Heard { .. }) && !leak && matches!(call, Call::Located | Call::Shared);
    let band_results = contrasts.first().map(|contrast| bands_of(contrast, bands)).unwrap_or_default();
    let above_quiet = contrasts.first().filter(|contrast| contrast.own.is_some()).map(|contrast| {
        let sum = |of: &dyn Fn(usize) -> f64| (FIRST_LEVEL_BAND..bands).map(|b| 10f64.powf(of(b) / 10.0)).sum::<f64>();
        let quiet = sum(&|b| contrast.own.as_ref().map_or(f64::NEG_INFINITY, |own| own.floor_db[b]));
        LevelDiff(10.0 * (sum(&|b| contrast.air_db[b]) / quiet).log10())
    });
    caveats.dedup();
    OpeningResult {
        opening: heard.opening.clone(),
        probability: standing.openings[at],
        hiss: reading.hiss,
        above_quiet: above_quiet.filter(|_| !heard.quiet.is_empty()),
        at_most: reading.at_most,
        spill,
        takes: heard.air.len().max(heard.pulsed.len()) as u32,
        bands: band_results,
        caveats,
    }
}

/// The bands of the picture and the table: floors brought to the mean of steady noise, K1 taken off.
fn bands_of(contrast: &Contrast, bands: usize) -> Vec<BandResult> {
    (0..bands)
        .map(|b| {
            let air = Level(contrast.air_db[b] - contrast.steady_db[b]);
            let reference = contrast.own.as_ref().or(contrast.others.as_ref());
            let quiet = reference.map(|quiet| Level(quiet.floor_db[b] - contrast.steady_db[b]));
            let (hiss, upper_bound) = match quiet {
                None => (None, true),
                Some(quiet) => {
                    let (k1, bound) = background_correction(air - quiet);
                    (Some(air - k1), bound)
                }
            };
            BandResult { midband: band(b).midband(), quiet, air, hiss, upper_bound, used: b >= FIRST_LEVEL_BAND }
        })
        .collect()
}

/// By probability, then hiss level, then name.
fn order(a: &OpeningResult, b: &OpeningResult) -> std::cmp::Ordering {
    let level = |result: &OpeningResult| match result.hiss {
        HissReading::Heard { level, .. } => level.0,
        HissReading::Bound => f64::NEG_INFINITY,
    };
    // Probabilities are told to four decimals; what is equal there is equal.
    let told = |result: &OpeningResult| (result.probability * 1e4).round();
    told(b).total_cmp(&told(a)).then(level(b).total_cmp(&level(a))).then(a.opening.name().cmp(b.opening.name()))
}
