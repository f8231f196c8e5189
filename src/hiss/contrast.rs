//! Air against quiet at one opening: the floors to be compared, and how well they are known.

use super::floor::{Floor, movement};
use super::grid::{BANDS, END_OF_LEVEL_BANDS, FIRST_LEVEL_BAND, PerBand};
use super::scatter::Scatter;
use super::scatter_matrix::ScatterMatrix;
use super::sound::ClipFeatures;
use super::windows::STRETCH_SHARES;
use crate::units::LevelDiff;

/// The floor a clip with the air on is compared with.
#[derive(Debug, Clone, PartialEq)]
pub struct Quiet {
    /// Mean floor over takes, dB FS per band.
    pub floor_db: PerBand,
    /// Takes averaged.
    pub takes: usize,
}

/// Air against quiet at one opening. All floors are low quantiles, see [`Floor`].
#[derive(Debug, Clone, PartialEq)]
pub struct Contrast {
    /// Floor with the air on, mean over takes, dB FS per band.
    pub air_db: PerBand,
    /// Takes averaged in it.
    pub air_takes: usize,
    /// The opening's own quiet floor.
    pub own: Option<Quiet>,
    /// Mean quiet floor of the other openings; where the shop changes from clip to clip it tells as much as the own one.
    pub others: Option<Quiet>,
    /// How many other openings that is.
    pub other_openings: usize,
    /// Covariance over bands of how one clip's floor is off its long-term value, from its parts, dB².
    pub movement: ScatterMatrix,
    /// How the quiet clips of all openings scatter; `None` where there are not two of them.
    pub quiet_scatter: Option<Scatter>,
    /// Standard deviation of a change of level common to all bands from quiet to air, dB.
    pub drift_db: f64,
    /// How far the floor may change from quiet to air beyond what is seen within clips: 1 for clips apart,
    /// less for seconds side by side.
    pub background_variability: f64,
    /// Offset of steady noise's floor from its mean, dB per band.
    pub quantile_bias_db: PerBand,
    /// Mean band powers with the air on and off, dB FS.
    pub mean_air_db: PerBand,
    /// The same with the air off.
    pub mean_quiet_db: PerBand,
    /// Power of the air clips below the bands of hiss, dB FS ([`ClipFeatures::low_db`]).
    pub low_air_db: f64,
    /// The same with the air off.
    pub low_quiet_db: f64,
}

/// One opening's clips, air off and on, and what is known beside them.
#[derive(Debug, Clone, Default)]
pub struct Recorded<'a> {
    /// Clips with the air off; one that serves all openings is given to each.
    pub quiet: Vec<&'a ClipFeatures>,
    /// Clips with the air on.
    pub air: Vec<&'a ClipFeatures>,
    /// Clips of the same opening at the engine's other cylinders: how restless the shop is shows in them too.
    pub beside: Vec<&'a ClipFeatures>,
    /// How far the floor may have drifted from the quiet clips to those with the air on, where that is known.
    pub drift: Option<LevelDiff>,
}

/// Standard deviation of the floor's common drift between two clips, dB: what people moving, doors and engines do
/// to a shop from one minute to the next. Common practice, no source; the accuracy runs hold it.
const DRIFT_DB: f64 = 1.0;
/// However long between clips, the shop is no more than another one, dB.
const FARTHEST_DRIFT_DB: f64 = 3.0;
/// Off the diagonal, the covariance of a few dozen parts is mostly chance: this share of it is kept.
const KEPT_CORRELATION: f64 = 0.7;

/// One way of looking at an opening's clips with the air off and on.
#[derive(Debug, Clone, PartialEq)]
pub enum View {
    /// All of every clip.
    Whole,
    /// In one of the air clips the air was on in a part only.
    Part,
    /// The hiss comes and goes: half of the time, in place of the stillest moments.
    Median,
    /// One take alone, by its place.
    Take(usize),
    /// All takes but one.
    Without(usize),
}

/// The contrasts of one opening, by view; [`View::Whole`] is the first.
pub type Views = Vec<(View, Contrast)>;

/// More takes than this are only looked at together.
const MOST_TAKES: usize = 4;
/// The median moves with everything that comes and goes: so much more than the floor, from clip to clip.
const MEDIAN_VARIABILITY: f64 = 2.0;
/// Standard deviation of the median's common drift, dB.
const MEDIAN_DRIFT_DB: f64 = 2.0;
/// A stretch rises by this much more than the whole clip, dB, where it is looked at by itself.
const PART_RISES_DB: f64 = 0.5;

/// Contrasts of all openings recorded with the air off and on; `None` where an opening has no air clip, or
/// there is no quiet clip at all.
#[must_use]
pub fn contrast(recorded: &[Recorded<'_>]) -> Vec<Option<Contrast>> {
    views(recorded).into_iter().map(|views| views.into_iter().next().map(|(_, contrast)| contrast)).collect()
}

/// The same by every view; none where an opening has no air clip, or there is no quiet clip at all.
#[must_use]
pub fn views(recorded: &[Recorded<'_>]) -> Vec<Views> {
    let floors = Comparison::of(recorded, |clip| clip.floor());
    let medians = Comparison::of(recorded, |clip| clip.median());
    let stretches: Vec<Comparison<'_, '_>> = (0..STRETCH_SHARES.len())
        .map(|which| Comparison::of(recorded, |clip| clip.loudest_stretches().map(|stretches| &stretches[which])))
        .collect();
    let each = |at: usize| {
        let Some(whole) = floors.contrast(at, &floors.air[at]) else { return Vec::new() };
        let air = &floors.air[at];
        let mut views = vec![(View::Whole, whole)];
        for stretch in &stretches {
            let louder = stretch.contrast(at, &stretch.air[at]).filter(|part| rises_more(part, &views[0].1));
            views.extend(louder.map(|contrast| (View::Part, contrast)));
        }
        if let Some(mut median) = medians.contrast(at, &medians.air[at]) {
            median.background_variability = MEDIAN_VARIABILITY;
            median.drift_db = median.drift_db.max(MEDIAN_DRIFT_DB);
            if let Some(clip) = recorded[at].air.first() {
                median.quantile_bias_db = clip.median_bias_db();
            }
            views.push((View::Median, median));
        }
        if (2..=MOST_TAKES).contains(&air.len()) {
            for take in 0..air.len() {
                views.extend(floors.contrast(at, &air[take..=take]).map(|contrast| (View::Take(take), contrast)));
                let mut without = air.clone();
                without.remove(take);
                views.extend(floors.contrast(at, &without).map(|contrast| (View::Without(take), contrast)));
            }
        }
        views
    };
    (0..recorded.len()).map(each).collect()
}

/// Whether the air rises over quiet by clearly more, on the mean over the level bands, in its loudest stretch than in the whole
/// clip: else the stretch tells nothing new.
fn rises_more(part: &Contrast, whole: &Contrast) -> bool {
    let rise = |contrast: &Contrast| {
        let quiet = contrast.own.as_ref().or(contrast.others.as_ref());
        let bands = FIRST_LEVEL_BAND..END_OF_LEVEL_BANDS;
        quiet.map_or(0.0, |quiet| bands.map(|b| contrast.air_db[b] - quiet.floor_db[b]).sum::<f64>())
    };
    rise(part) - rise(whole) >= PART_RISES_DB * (END_OF_LEVEL_BANDS - FIRST_LEVEL_BAND) as f64
}

/// What the openings' clips are held against each other by: their floors, those of their loudest stretches, or their
/// medians.
struct Comparison<'a, 'c> {
    recorded: &'a [Recorded<'c>],
    quiet: Vec<Vec<&'c Floor>>,
    air: Vec<Vec<&'c Floor>>,
    spread: ScatterMatrix,
    quiet_scatter: Option<Scatter>,
    shared: bool,
}

impl<'a, 'c> Comparison<'a, 'c> {
    fn of(recorded: &'a [Recorded<'c>], floor: impl Fn(&'c ClipFeatures) -> Option<&'c Floor>) -> Self {
        let floors = |clips: &[&'c ClipFeatures]| clips.iter().filter_map(|clip| floor(clip)).collect::<Vec<_>>();
        let quiet: Vec<Vec<&Floor>> = recorded.iter().map(|opening| floors(&opening.quiet)).collect();
        let air: Vec<Vec<&Floor>> = recorded.iter().map(|opening| floors(&opening.air)).collect();
        let beside: Vec<Vec<&Floor>> = recorded.iter().map(|opening| floors(&opening.beside)).collect();
        let all: Vec<&Floor> = quiet.iter().chain(&air).chain(&beside).flatten().copied().collect();
        let spread = spread_of_clips(&all);
        let shared = shares_quiet(recorded);
        // A quiet clip that serves all openings is one clip.
        let apart = if shared { &quiet[..1] } else { &quiet[..] };
        let quiet_scatter = Scatter::of(&apart.iter().flatten().copied().collect::<Vec<_>>());
        Self { recorded, quiet, air, spread, quiet_scatter, shared }
    }

    fn contrast(&self, at: usize, air: &[&Floor]) -> Option<Contrast> {
        let Self { recorded, quiet, .. } = self;
        let own = mean_floor(&quiet[at]);
        let elsewhere: Vec<usize> = (0..recorded.len()).filter(|o| *o != at && !self.shared).collect();
        let others = mean_floor(elsewhere.iter().flat_map(|o| &quiet[*o]));
        let first = recorded[at].air.first()?;
        let heard = mean_floor(air)?;
        if own.is_none() && others.is_none() {
            return None;
        }
        let quiet_clips: Vec<&ClipFeatures> = if recorded[at].quiet.is_empty() {
            elsewhere.iter().flat_map(|o| recorded[*o].quiet.iter().copied()).collect()
        } else {
            recorded[at].quiet.clone()
        };
        let low_db = |clips: &[&ClipFeatures]| {
            let power: f64 = clips.iter().map(|clip| 10f64.powf(clip.low_db() / 10.0)).sum();
            10.0 * (power / clips.len().max(1) as f64).max(f64::MIN_POSITIVE).log10()
        };
        Some(Contrast {
            air_db: heard.floor_db,
            air_takes: heard.takes,
            own,
            others,
            other_openings: elsewhere.iter().filter(|o| !quiet[**o].is_empty()).count(),
            movement: self.spread.clone(),
            quiet_scatter: self.quiet_scatter.clone(),
            drift_db: recorded[at].drift.map_or(DRIFT_DB, |drift| drift.0.clamp(DRIFT_DB, FARTHEST_DRIFT_DB)),
            background_variability: 1.0,
            quantile_bias_db: *first.quantile_bias_db(),
            mean_air_db: mean_power_db(&recorded[at].air),
            mean_quiet_db: mean_power_db(&quiet_clips),
            low_air_db: low_db(&recorded[at].air),
            low_quiet_db: low_db(&quiet_clips),
        })
    }
}

/// Whether the openings were given one and the same quiet recording.
fn shares_quiet(recorded: &[Recorded]) -> bool {
    let digests = |at: &Recorded| at.quiet.iter().map(|clip| clip.digest()).collect::<Vec<_>>();
    recorded.len() > 1 && recorded.windows(2).all(|pair| digests(&pair[0]) == digests(&pair[1]))
}

/// Mean of floors, dB, with their number.
fn mean_floor<'a>(floors: impl IntoIterator<Item = &'a &'a Floor>) -> Option<Quiet> {
    let (mut sum, mut takes) = ([0.0; BANDS], 0);
    for floor in floors {
        sum.iter_mut().zip(floor.level_db).for_each(|(total, level)| *total += level);
        takes += 1;
    }
    (takes > 0).then(|| Quiet { floor_db: sum.map(|total| total / takes as f64), takes })
}

/// Mean band powers over clips, dB FS.
pub(super) fn mean_power_db(clips: &[&ClipFeatures]) -> PerBand {
    let each: Vec<PerBand> = clips.iter().map(|clip| clip.mean_db()).collect();
    std::array::from_fn(|b| {
        let mean = each.iter().map(|levels| 10f64.powf(levels[b] / 10.0)).sum::<f64>() / each.len().max(1) as f64;
        10.0 * mean.max(f64::MIN_POSITIVE).log10()
    })
}

/// Covariance of a clip's floor about its long-term value, from how the floors of its parts scatter.
fn spread_of_clips(floors: &[&Floor]) -> ScatterMatrix {
    let parts = floors.iter().map(|floor| floor.parts_db.len()).sum::<usize>() as f64 / floors.len().max(1) as f64;
    movement(floors).times(1.0 / parts.max(1.0)).less_correlated(KEPT_CORRELATION)
}
