//! The ranking of one cylinder's openings from their clips.

use crate::caveat::{Caveat, Severity};
use crate::hiss::{
    BANDS, ClipFeatures, Contrast, END_OF_LEVEL_BANDS, FIRST_LEVEL_BAND, Grid, Processing, Recorded, View, band,
    clip_caveats, level_bands, pair_caveats, pulsed_contrasts, same_sound, tracked_contrast, views,
};
use crate::opening::{EscapePath, Opening};
use crate::units::{Hertz, Level, LevelDiff, NetLoss};

use super::assumptions as assume;
use super::call::{Place, Posterior};
use super::contrasts::OpeningContrasts;
use super::expected::Takes;
use super::level::level_at;
use super::next::{Asked, Choice, Doubted, Listened, missing};
use super::prior::Prior;
use super::reach::{log_blow_by, log_spill};
use super::recorder::{allowed, processing_of, rises_db};
use super::result::{BandResult, Call, HissReading, Member, Next, OpeningResult, Ranking, SoundAlone};
use super::weigh::{LevelWeight, Weighed, weigh};

/// Margin of air over quiet from which ISO 3744:2010 corrects a level for background noise; below it the result is an
/// upper bound.
pub const ISO_3744_MARGIN: LevelDiff = LevelDiff(6.0);
/// Margin above which ISO 3744:2010 takes no correction.
pub const ISO_3744_CLEAR: LevelDiff = LevelDiff(15.0);
/// An interval wider than this is no reading any more, dB.
const WIDEST_INTERVAL_DB: f64 = 20.0;

/// One opening with its clips.
#[derive(Debug, Clone)]
pub struct OpeningClips<'a> {
    /// The opening.
    pub opening: Opening,
    /// Clips with the air off; a clip that serves all openings is given to each.
    pub quiet: Vec<&'a ClipFeatures>,
    /// Clips with the air on.
    pub air: Vec<&'a ClipFeatures>,
    /// Clips with the air opened and shut in turn.
    pub pulsed: Vec<&'a ClipFeatures>,
    /// Clips of the same opening at the engine's other cylinders, air off or on: the shop moves in them too.
    pub beside: Vec<&'a ClipFeatures>,
    /// How far the floor may have drifted from the quiet clips to those with the air on; `None` where that is not known.
    pub drift: Option<LevelDiff>,
    /// What their files gave to say.
    pub caveats: Vec<Caveat>,
}

impl OpeningClips<'_> {
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

/// What is known of a cylinder beside its clips.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Beforehand {
    /// How likely it is tight by the gauge ([`tight_prior`]); `None` where it was not read.
    pub tight: Option<f64>,
    /// What may be asked for next.
    pub asked: Asked,
}

/// How likely a cylinder is tight by its own loss (the rig's taken off), before anything is listened at: 0.6 at nothing lost,
/// 0.4 at 1 %, 0.05 at 5 %, 0.005 from 10 % on, between them straight lines of log odds over the loss. Over the interval of
/// the loss the mean of its ends and twice its middle. A judgement, written down as such: no published frequencies are
/// known to us.
///
/// ```
/// use hissward::ranking::tight_prior;
/// use hissward::units::NetLoss;
/// let read = |percent: f64| NetLoss { percent, low: percent, high: percent, flow: 0.1 };
/// assert!((tight_prior(&read(1.0)) - 0.4).abs() < 1e-12 && (tight_prior(&read(5.0)) - 0.05).abs() < 1e-12);
/// assert!(tight_prior(&read(40.0)) < 0.0051);
/// ```
#[must_use]
pub fn tight_prior(loss: &NetLoss) -> f64 {
    0.25 * tight_at(loss.low) + 0.5 * tight_at(loss.percent) + 0.25 * tight_at(loss.high)
}

fn tight_at(loss_percent: f64) -> f64 {
    let odds = |probability: f64| (probability / (1.0 - probability)).ln();
    let points = assume::TIGHT_BY_LOSS.map(|(percent, probability)| (percent, odds(probability)));
    let [first, .., last] = points;
    let loss = loss_percent.clamp(first.0, last.0);
    let between = points.windows(2).find(|pair| loss <= pair[1].0);
    let found = between.map_or(last.1, |pair| {
        let share = (loss - pair[0].0) / (pair[1].0 - pair[0].0);
        pair[0].1 + share * (pair[1].1 - pair[0].1)
    });
    1.0 / (1.0 + (-found).exp())
}

/// Ranks the openings of one cylinder (`None` for loose clips) from sound alone.
///
/// Openings without an air clip, or whose clips are unfit, are told in a caveat and left out. Where nothing is left the
/// call is [`Call::CannotTell`] with no openings.
#[must_use]
pub fn rank(cylinder: Option<u32>, openings: &[OpeningClips<'_>]) -> Ranking {
    rank_with(cylinder, openings, Beforehand::default())
}

/// The same with what else is known; the answer from sound alone stands beside it.
#[must_use]
pub fn rank_with(cylinder: Option<u32>, openings: &[OpeningClips<'_>], beforehand: Beforehand) -> Ranking {
    rank_tracked(cylinder, openings, &beforehand, true)
}

/// As [`rank_with`]; without `track` a second microphone is not asked.
pub(super) fn rank_tracked(
    cylinder: Option<u32>,
    openings: &[OpeningClips<'_>],
    beforehand: &Beforehand,
    track: bool,
) -> Ranking {
    let mut caveats = Vec::new();
    let taken = taken(openings, track, &mut caveats);
    let bands = bands_in_common(openings);
    if bands < END_OF_LEVEL_BANDS {
        let limit = band(bands.saturating_sub(1)).upper();
        caveats.push(Caveat::new("band-limit").number("khz", limit.0 / 1000.0, 1));
    }
    if bands <= FIRST_LEVEL_BAND {
        return nothing(cylinder, caveats);
    }
    let has = |name: &str| taken.iter().any(|t| t.heard.opening.name() == name);
    let usual = ["intake", "exhaust", "oil-filler"].into_iter().all(has);
    let rig = if has("rig") { 0.25 * assume::RIG } else { assume::RIG };
    let evidence: Vec<OpeningContrasts> = taken.iter().map(|t| t.evidence.clone()).collect();
    let Some(weights) = weigh(&evidence, bands).filter(|_| !taken.is_empty()) else {
        let next = missing(&listened(openings, &taken), 1.0 - assume::TIGHT, &beforehand.asked);
        return Ranking { next, ..nothing(cylinder, caveats) };
    };
    let processing = processing_of(openings);
    caveats.extend(processing.caveats());
    let answer = |tight: f64| {
        let before = Prior { tight, usual, rig };
        Answer::of(weights.weighed(before), before, &taken, &processing, bands)
    };
    let alone = answer(assume::TIGHT);
    let whole = beforehand.tight.map(answer);
    let sound_alone = whole.is_some().then(|| alone.summary(&taken));
    let whole = whole.unwrap_or(alone);
    let next = whole.next(&listened(openings, &taken), &taken, &beforehand.asked, bands);
    if next.is_none() && whole.call == Call::CannotTell && !whole.refused {
        caveats.push(Caveat::new("more-clips-tell-little"));
    }
    let Answer { weighed, posterior, readings, call, .. } = whole;
    caveats.extend(doubts(&taken, call, &weighed, &posterior, bands));
    let answer_set = posterior.answer_set().into_iter().map(|member| member_of(member, &taken)).collect();
    let mut results: Vec<OpeningResult> =
        taken.into_iter().enumerate().map(|(at, t)| result_of(t, &readings[at], &posterior, at, call, bands)).collect();
    results.sort_by(order);
    Ranking {
        cylinder,
        call,
        answer_set,
        openings: results,
        tight_probability: posterior.tight,
        elsewhere_probability: posterior.elsewhere,
        sound_alone,
        next,
        caveats,
        ..Ranking::default()
    }
}

/// The openings as the choice of the next clip sees them.
fn listened<'a>(openings: &'a [OpeningClips<'a>], taken: &[Compared<'a>]) -> Vec<Listened<'a>> {
    let noise = |contrast: &Contrast| {
        let quiet = contrast.own.as_ref().or(contrast.others.as_ref())?;
        Some(std::array::from_fn(|b| quiet.floor_db[b] - contrast.quantile_bias_db[b]))
    };
    let takes =
        |heard: &OpeningClips<'_>| Takes { off: heard.quiet.len(), on: heard.air.len(), pulsed: heard.pulsed.len() };
    let one = |heard: &'a OpeningClips<'a>| {
        let of = taken.iter().find(|t| t.heard.opening == heard.opening);
        let noise_db = of.and_then(|t| t.contrasts.first()).and_then(noise);
        Listened { opening: &heard.opening, takes: takes(heard), noise_db }
    };
    openings.iter().map(one).collect()
}

fn member_of(member: Place, taken: &[Compared<'_>]) -> Member {
    match member {
        Place::Opening(at) => Member::Opening(taken[at].heard.opening.clone()),
        Place::Elsewhere => Member::Elsewhere,
        Place::Tight => Member::Tight,
    }
}

/// Openings that have something to compare, and what is to be said of those that have not.
fn taken<'a>(openings: &'a [OpeningClips<'a>], track: bool, caveats: &mut Vec<Caveat>) -> Vec<Compared<'a>> {
    let fit = Fitness::of(openings);
    let views = views(&fit.off_and_on);
    let tracked = fit.off_and_on.iter().map(|clips| tracked_contrast(&clips.quiet, &clips.air).filter(|_| track));
    let pulsed = pulsed_contrasts(&openings.iter().map(|heard| heard.pulsed.clone()).collect::<Vec<_>>());
    let each = openings.iter().zip(fit.caveats).zip(views).zip(tracked).zip(pulsed);
    let mut taken = Vec::new();
    for ((((heard, own), views), tracked), pulsed) in each {
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
        let views = tracked.map_or(views, |tracked| vec![(View::Whole, tracked.contrast)]);
        let pulsed = pulsed.into_iter().map(|clip| clip.contrast).collect();
        let crankcase = heard.opening.path() == EscapePath::RingsOrBore;
        let evidence = OpeningContrasts { views, risen, tracked: is_tracked, pulsed, crankcase };
        let whole = evidence.views.first().map(|(_, contrast)| contrast.clone());
        let contrasts: Vec<Contrast> = whole.into_iter().chain(evidence.pulsed.iter().cloned()).collect();
        if contrasts.is_empty() {
            caveats.push(Caveat::new("not-comparable").text("opening", heard.opening.name()));
            caveats.append(&mut own);
        } else {
            taken.push(Compared { heard, contrasts, evidence, tracked: is_tracked, caveats: own });
        }
    }
    taken
}

/// What comes of the weights with one set of probabilities beforehand.
struct Answer {
    weighed: Weighed,
    posterior: Posterior,
    readings: Vec<LevelReading>,
    call: Call,
    /// An opening that the call was taken back for.
    doubted: Option<Doubted>,
    /// The recorder is the reason: more of its clips would not help.
    refused: bool,
}

impl Answer {
    fn of(weighed: Weighed, before: Prior, taken: &[Compared<'_>], processing: &Processing, bands: usize) -> Self {
        let mut posterior = Posterior::of(&weighed.hypotheses, taken.len());
        posterior.through(processing, before);
        let readings = readings(&weighed, &posterior, taken, bands);
        let heard: Vec<bool> =
            readings.iter().map(|reading| matches!(reading.hiss, HissReading::Heard { .. })).collect();
        let mut call = posterior.call(&heard, weighed.loud);
        // A call rests on clips that say what they claim to say.
        let of_pair = |at: usize| posterior.pair.is_some_and(|((j, k), _)| at == j || at == k);
        let likely_pair = posterior.pair.is_some_and(|(_, probability)| probability >= assume::PAIR_MATTERS);
        let named = |at: usize| posterior.openings[at] >= 0.5 || (likely_pair && of_pair(at));
        let unfit = |t: &Compared<'_>| t.caveats.iter().any(|caveat| caveat.severity() == Severity::Unfit);
        let windy = |at: usize| weighed.disturbances[at].wind >= 0.5;
        let stays = |at: usize| follows_unclearly(&weighed, at);
        let is_called = |at: usize| if call == Call::Shared { of_pair(at) } else { posterior.openings[at] >= 0.5 };
        let spoilt = |(at, t): (usize, &Compared<'_>)| named(at) && (unfit(t) || windy(at));
        let doubtful = |(at, t): (usize, &Compared<'_>)| spoilt((at, t)) || is_called(at) && stays(at);
        let mut doubted = None;
        if matches!(call, Call::Located | Call::Shared) && taken.iter().enumerate().any(doubtful) {
            let spoilt = taken.iter().enumerate().position(spoilt).map(|at| Doubted { at, unfit: true });
            let unclear = || (0..taken.len()).find(|at| is_called(*at) && stays(*at));
            doubted = spoilt.or_else(|| unclear().map(|at| Doubted { at, unfit: false }));
            call = Call::CannotTell;
        }
        // A hiss in a part of the time may be the leak, heard late, of which the one to be named hears the spill; nor do two
        // that are louder in a part tell by their floors which is which.
        let loudest_db = loudest_named_db(&weighed, (0..taken.len()).filter(|at| named(*at)));
        let louder_in_part = |at: usize| {
            let other = weighed.disturbances[at];
            other.part > assume::PART_ELSEWHERE && other.part_db > loudest_db
        };
        let asked_of = |at: &usize| call == Call::Shared || !named(*at);
        if matches!(call, Call::Located | Call::Shared) && (0..taken.len()).filter(asked_of).any(louder_in_part) {
            call = Call::CannotTell;
        }
        // Two that hiss about alike may both hear a leak at the usual opening that was not listened at.
        if call == Call::Shared && !before.usual {
            call = Call::CannotTell;
        }
        // What the eye sees in the picture is never "none heard", nor what is there for a part of the time.
        let in_part = |at: &usize| weighed.disturbances[*at].part > assume::PART_SHOWN;
        let shown = || (0..taken.len()).find(in_part).or_else(|| seen(taken, bands).map(|(at, _)| at));
        if call == Call::NoneHeard
            && let Some(at) = shown()
        {
            call = Call::CannotTell;
            doubted = Some(Doubted { at, unfit: false });
        }
        if matches!(call, Call::NoneHeard | Call::Shared) && taken.iter().any(is_overdriven) {
            call = Call::CannotTell;
        }
        let rises = |at: usize| taken[at].contrasts.first().map_or_else(Vec::new, |contrast| rises_db(contrast, bands));
        let wanted = call;
        call = allowed(call, processing, (0..taken.len()).filter(|at| named(*at)).map(rises));
        let refused = call != wanted || processing.unfit();
        Self { weighed, posterior, readings, call, doubted, refused }
    }

    /// What to record next: what is missing, else what is expected to tell most.
    fn next(&self, all: &[Listened<'_>], taken: &[Compared<'_>], asked: &Asked, bands: usize) -> Option<Next> {
        if let Some(next) = missing(all, self.posterior.elsewhere, asked) {
            return Some(next);
        }
        let is_taken = |one: &&Listened<'_>| taken.iter().any(|t| t.heard.opening == *one.opening);
        let openings: Vec<Listened<'_>> = all.iter().filter(is_taken).copied().collect();
        let Self { weighed, call, doubted, .. } = self;
        let choice = Choice { openings: &openings, weighed, call: *call, doubted: *doubted, bands, asked };
        if self.refused { None } else { choice.made() }
    }

    fn summary(&self, taken: &[Compared<'_>]) -> SoundAlone {
        let Posterior { tight, elsewhere, openings, .. } = &self.posterior;
        let most = openings.iter().copied().fold(f64::max(*tight, *elsewhere), f64::max);
        SoundAlone {
            call: self.call,
            answer_set: self.posterior.answer_set().into_iter().map(|member| member_of(member, taken)).collect(),
            probability: most,
            tight_probability: *tight,
            elsewhere_probability: *elsewhere,
        }
    }
}

/// The loudest hiss of some openings, dB FS.
fn loudest_named_db(weighed: &Weighed, named: impl Iterator<Item = usize>) -> f64 {
    named.filter_map(|at| level_at(&weighed.levels[at], 0.5, BANDS)).fold(f64::NEG_INFINITY, f64::max)
}

/// Whether bangs drove the input to full scale for so long that a hiss between them may go unheard.
fn is_overdriven(t: &Compared<'_>) -> bool {
    t.heard.quiet.iter().chain(&t.heard.air).any(|clip| clip.clipped_share() > assume::BANGS_SHARE)
}

/// Whether pulsed clips say that the hiss which the other clips show is not there.
fn does_not_follow(weighed: &Weighed, at: usize) -> bool {
    weighed.disturbances[at].follows.is_some_and(|log| log < assume::DOES_NOT_FOLLOW)
}

/// Whether pulsed clips do not show clearly enough for a call that it is there.
fn follows_unclearly(weighed: &Weighed, at: usize) -> bool {
    weighed.disturbances[at].follows.is_some_and(|log| log < assume::FOLLOWS)
}

/// The opening at which alone some neighbouring bands rose clearly with the air on, and the first of these bands.
fn seen(taken: &[Compared<'_>], bands: usize) -> Option<(usize, usize)> {
    let rise = |t: &Compared<'_>, b: usize| {
        let (_, contrast) = t.evidence.views.first()?;
        let quiet = contrast.own.as_ref().or(contrast.others.as_ref())?;
        Some(contrast.air_db[b] - quiet.floor_db[b])
    };
    let rises = |t: &Compared<'_>, first: usize, least: f64| {
        (first..first + assume::SEEN_BANDS).all(|b| rise(t, b).is_some_and(|rise| rise >= least))
    };
    let firsts = 0..(bands + 1).saturating_sub(assume::SEEN_BANDS);
    firsts.flat_map(|first| (0..taken.len()).map(move |at| (at, first))).find(|(at, first)| {
        let alone = taken.iter().enumerate().filter(|(other, _)| other != at);
        rises(&taken[*at], *first, assume::SEEN_DB)
            && alone.into_iter().all(|(_, other)| !rises(other, *first, assume::SEEN_ALONE_DB))
    })
}

struct Compared<'a> {
    heard: &'a OpeningClips<'a>,
    /// One for the clips with the air off and on, where there are any, and one for each pulsed clip.
    contrasts: Vec<Contrast>,
    evidence: OpeningContrasts,
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
    fn of(openings: &[OpeningClips<'a>]) -> Self {
        let empty = |clip: &&ClipFeatures| clip_caveats(clip).iter().any(|caveat| caveat.severity() == Severity::Empty);
        let mut fit = Self { off_and_on: Vec::new(), caveats: Vec::new() };
        for heard in openings {
            let mut caveats = heard.caveats.clone();
            caveats.extend(pair_caveats(&heard.quiet, &heard.air));
            for clip in heard.quiet.iter().chain(&heard.air).chain(&heard.pulsed) {
                caveats.extend(clip_caveats(clip));
            }
            let kept =
                |clips: &[&'a ClipFeatures]| clips.iter().copied().filter(|clip| !empty(clip)).collect::<Vec<_>>();
            let (quiet, air) = (once(kept(&heard.quiet), &mut caveats), once(kept(&heard.air), &mut caveats));
            fit.off_and_on.push(Recorded { quiet, air, beside: kept(&heard.beside), drift: heard.drift });
            fit.caveats.push(caveats);
        }
        fit
    }
}

/// Takes without those that hold the same seconds as an earlier one: they say nothing new.
fn once<'a>(takes: Vec<&'a ClipFeatures>, caveats: &mut Vec<Caveat>) -> Vec<&'a ClipFeatures> {
    let mut kept: Vec<&ClipFeatures> = Vec::new();
    for take in takes {
        match kept.iter().find(|earlier| same_sound(earlier, take)) {
            Some(twin) => {
                caveats.push(Caveat::new("counted-once").text("file", take.name()).text("other", twin.name()));
            }
            None => kept.push(take),
        }
    }
    kept
}

fn nothing(cylinder: Option<u32>, mut caveats: Vec<Caveat>) -> Ranking {
    caveats.push(Caveat::new("nothing-to-rank"));
    Ranking {
        cylinder,
        call: Call::CannotTell,
        answer_set: vec![Member::Elsewhere, Member::Tight],
        tight_probability: assume::TIGHT,
        elsewhere_probability: 1.0 - assume::TIGHT,
        caveats,
        ..Ranking::default()
    }
}

/// How many bands of the grid every clip reaches.
fn bands_in_common(openings: &[OpeningClips<'_>]) -> usize {
    let clips = openings.iter().flat_map(|heard| heard.quiet.iter().chain(&heard.air).chain(&heard.pulsed));
    let lowest = clips.map(|clip| clip.bandwidth().0).fold(f64::INFINITY, f64::min);
    Grid::bands_below(Hertz(lowest))
}

/// What is to be said of the ranking as a whole.
fn doubts(taken: &[Compared<'_>], call: Call, weighed: &Weighed, posterior: &Posterior, bands: usize) -> Vec<Caveat> {
    let mut found = Vec::new();
    let of_opening = |code: &'static str, at: usize| Caveat::new(code).text("opening", taken[at].heard.opening.name());
    let missing = ["intake", "exhaust", "oil-filler"]
        .into_iter()
        .filter(|name| taken.len() > 1 && !taken.iter().any(|t| t.heard.opening.name() == *name));
    found.extend(missing.map(|name| Caveat::new("not-listened-at").text("opening", name)));
    let of_pair = |at: usize| posterior.pair.is_some_and(|((j, k), p)| p >= 0.5 && (at == j || at == k));
    let likely = |at: usize| posterior.openings[at] >= 0.5 || of_pair(at);
    for (at, t) in taken.iter().enumerate() {
        let disturbances = weighed.disturbances[at];
        if disturbances.wind >= 0.5 {
            found.push(of_opening("air-on-microphone", at));
        } else if does_not_follow(weighed, at)
            || (disturbances.foreign >= 0.5 && !t.heard.pulsed.is_empty() && posterior.openings[at] < 0.5)
        {
            found.push(of_opening("does-not-follow-valve", at));
        } else if call == Call::CannotTell && likely(at) && follows_unclearly(weighed, at) {
            found.push(of_opening("rhythm-unclear", at));
        }
    }
    if call == Call::CannotTell {
        let in_part = (0..taken.len()).filter(|at| weighed.disturbances[*at].part > assume::PART_SHOWN);
        found.extend(in_part.map(|at| of_opening("hiss-in-part", at)));
    }
    if call == Call::CannotTell && taken.iter().any(is_overdriven) {
        found.push(Caveat::new("bangs-overdrive"));
    }
    if posterior.everywhere >= 0.5 {
        found.push(Caveat::new("heard-everywhere"));
    }
    if call == Call::CannotTell
        && let Some((at, first)) = seen(taken, bands)
        && posterior.openings[at] < 0.5
    {
        let hz = |b: usize| band(b).midband().0 / 1000.0;
        let caveat = of_opening("fits-no-explanation", at).number("from_khz", hz(first), 1);
        found.push(caveat.number("to_khz", hz(first + assume::SEEN_BANDS - 1), 1));
    }
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
fn readings(weighed: &Weighed, posterior: &Posterior, taken: &[Compared<'_>], bands: usize) -> Vec<LevelReading> {
    let leak = posterior.located();
    let leak_db = leak.and_then(|at| level_at(&weighed.levels[at], 0.5, BANDS));
    let unsteady: Vec<f64> =
        taken.iter().map(|t| t.contrasts.first().map_or(0.0, |contrast| unsteadiness_db(contrast, bands))).collect();
    (0..taken.len())
        .map(|at| {
            let mut weights = weighed.levels[at].clone();
            let mut present = weighed.present[at];
            if let (true, Some(leak_db)) = (leak != Some(at), leak_db) {
                let before: f64 = weights.iter().map(|level| level.weight).sum();
                let beside = |under_db: f64| {
                    let blow_by = if taken[at].evidence.crankcase { log_blow_by(under_db) } else { f64::NEG_INFINITY };
                    log_spill(under_db).max(blow_by).exp()
                };
                weights.iter_mut().for_each(|level| level.weight *= beside(leak_db - level.level_db));
                let after: f64 = weights.iter().map(|level| level.weight).sum();
                // Levels that no spill reaches speak against there being any.
                let odds = present / (1.0 - present).max(f64::MIN_POSITIVE) * after / before.max(f64::MIN_POSITIVE);
                present = odds / (1.0 + odds);
                if after < 1e-6 {
                    weights = weighed.levels[at].clone();
                }
            }
            // Beside a leak, a restless floor is easily taken for its spill.
            let heard = if posterior.openings[at] >= 0.5 {
                present >= assume::SURE
            } else {
                present >= assume::SURE_OF_SPILL && margin_db(&taken[at].contrasts, bands) >= assume::SPILL_MARGIN_DB
            };
            LevelReading::of(
                &weights,
                heard,
                unsteady[at].min(leak.map_or(f64::INFINITY, |leak| unsteady[leak])),
                bands,
            )
        })
        .collect()
}

/// Median over the level bands of how far the floor with the air on lies over the quiet one, dB.
fn margin_db(contrasts: &[Contrast], bands: usize) -> f64 {
    let quiet = |contrast: &Contrast, b: usize| {
        contrast.own.as_ref().or(contrast.others.as_ref()).map_or(f64::INFINITY, |quiet| quiet.floor_db[b])
    };
    let over = |contrast: &Contrast| level_bands(bands).map(|b| contrast.air_db[b] - quiet(contrast, b)).collect();
    let each = contrasts.iter().map(|contrast| {
        let mut margins: Vec<f64> = over(contrast);
        margins.sort_by(f64::total_cmp);
        margins.get(margins.len() / 2).copied().unwrap_or(f64::NEG_INFINITY)
    });
    each.fold(f64::NEG_INFINITY, f64::max)
}

/// What is read of an opening's hiss.
struct LevelReading {
    hiss: HissReading,
    at_most: Level,
}

impl LevelReading {
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
    let sum = |of: &dyn Fn(usize) -> f64| level_bands(bands).map(of).sum::<f64>();
    let power = |db: f64| 10f64.powf(db / 10.0);
    let mean_air = sum(&|b| power(contrast.mean_air_db[b]));
    let mean_quiet = sum(&|b| power(contrast.mean_quiet_db[b]));
    let margin = 10.0 * (mean_air / mean_quiet.max(f64::MIN_POSITIVE)).log10();
    let trust = ((margin - 3.0) / (ISO_3744_MARGIN.0 + 1.0)).clamp(0.0, 1.0);
    let of_mean = mean_air - mean_quiet;
    let quiet_floor =
        |b: usize| contrast.own.as_ref().map_or(0.0, |own| power(own.floor_db[b] - contrast.quantile_bias_db[b]));
    let of_floor = sum(&|b| (power(contrast.air_db[b] - contrast.quantile_bias_db[b]) - quiet_floor(b)).max(0.0));
    if of_floor <= 0.0 || of_mean <= 0.0 {
        return 0.0;
    }
    trust * (10.0 * (of_mean / of_floor).log10()).max(0.0)
}

fn result_of(
    taken: Compared<'_>,
    reading: &LevelReading,
    posterior: &Posterior,
    at: usize,
    call: Call,
    bands: usize,
) -> OpeningResult {
    let Compared { heard, contrasts, evidence, tracked: _, mut caveats } = taken;
    let of_pair = posterior.pair.is_some_and(|((j, k), _)| at == j || at == k);
    let leak = posterior.openings[at] >= 0.5 || (call == Call::Shared && of_pair);
    let spill =
        matches!(reading.hiss, HissReading::Heard { .. }) && !leak && matches!(call, Call::Located | Call::Shared);
    let band_results = contrasts.first().map(|contrast| bands_of(contrast, bands)).unwrap_or_default();
    let above_quiet = evidence.views.first().and_then(|(_, contrast)| {
        let sum = |of: &dyn Fn(usize) -> f64| level_bands(bands).map(|b| 10f64.powf(of(b) / 10.0)).sum::<f64>();
        let quiet = contrast.own.as_ref().or(contrast.others.as_ref())?;
        Some(LevelDiff(10.0 * (sum(&|b| contrast.air_db[b]) / sum(&|b| quiet.floor_db[b])).log10()))
    });
    caveats.dedup();
    OpeningResult {
        opening: heard.opening.clone(),
        probability: posterior.openings[at],
        hiss: reading.hiss,
        above_quiet,
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
            let air = Level(contrast.air_db[b] - contrast.quantile_bias_db[b]);
            let reference = contrast.own.as_ref().or(contrast.others.as_ref());
            let quiet = reference.map(|quiet| Level(quiet.floor_db[b] - contrast.quantile_bias_db[b]));
            let (hiss, upper_bound) = match quiet {
                None => (None, true),
                Some(quiet) => {
                    let (k1, bound) = background_correction(air - quiet);
                    (Some(air - k1), bound)
                }
            };
            BandResult {
                midband: band(b).midband(),
                quiet,
                air,
                hiss,
                upper_bound,
                used: level_bands(bands).contains(&b),
            }
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
