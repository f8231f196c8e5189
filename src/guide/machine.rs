//! The machine: events in, effects out.

use std::collections::{BTreeMap, BTreeSet};

use super::entry::{GaugeUnit, lacks_unit};
use super::plan::{Plan, Progress, Step};
use super::signals::{Beep, Effect, Event, Key, Live, NextClip, Phase, RankedResult};
use crate::caveat::{Caveat, Severity};
use crate::hiss::PlannedClip;
use crate::opening::{Air, Opening};
use crate::units::Seconds;

/// By so much less where only the valve is turned, and never less than this.
const TURN_MS: u64 = 2_000;
const LEAST_MS: u64 = 1_000;
/// The last seconds are beeped.
const BEEPED_MS: u64 = 3_000;
const GOOD_MS: u64 = 1_200;
const BAD_MS: u64 = 6_000;
/// A clip ends here, settled or not.
const LONGEST_S: f64 = 20.0;
/// Six shut and six open seconds, and what the last may be late.
const PULSED_S: f64 = 13.0;
/// So many bad clips in a row, and the person is asked.
const MOST_BAD: u32 = 2;
/// The guided test.
#[derive(Debug, Clone)]
pub struct Guide {
    /// What is to be done.
    pub plan: Plan,
    /// What is done.
    pub progress: Progress,
    /// The step.
    pub step: Step,
    /// Where in it.
    pub phase: Phase,
    /// What is being typed.
    pub entry: String,
    /// What is to be said besides.
    pub notice: Option<String>,
    /// The ranking with what is there so far.
    pub so_far: Option<String>,
    /// A cylinder's result.
    pub result: RankedResult,
    /// The microphone's name.
    pub microphone: String,
    /// The person stopped the count-down or the recording.
    pub paused: bool,
    /// Why the last clips were refused, until somebody goes on.
    pub refused: Option<Caveat>,
    /// The unit of the gauges, once it was said.
    pub unit: Option<GaugeUnit>,
    /// What the cylinders lose, percent, as far as they were read.
    pub losses: BTreeMap<u32, f64>,
    /// The cylinders' calls in a few words, as far as they were ranked.
    pub calls: BTreeMap<u32, String>,
    last: Option<(u32, PlannedClip)>,
    bad: u32,
    hands_free: bool,
    /// Cylinders that were ranked before their round was done, to see whether the rest of it is needed.
    looked_early: BTreeSet<u32>,
    /// Such a ranking is under way.
    looks_early: bool,
}

impl Guide {
    /// A guide for a plan, from where it stands.
    #[must_use]
    pub fn new(plan: Plan, progress: Progress) -> Self {
        let step = plan.next(&progress);
        Self {
            plan,
            progress,
            step,
            phase: Phase::Ask,
            entry: String::new(),
            notice: None,
            so_far: None,
            result: RankedResult::default(),
            microphone: String::new(),
            paused: false,
            refused: None,
            unit: None,
            losses: BTreeMap::new(),
            calls: BTreeMap::new(),
            last: None,
            bad: 0,
            hands_free: false,
            looked_early: BTreeSet::new(),
            looks_early: false,
        }
    }

    /// Takes an event and says what is to be done.
    pub fn on(&mut self, event: Event) -> Vec<Effect> {
        match event {
            Event::Key(key) => self.on_key(key),
            // A reading is kept by a key alone: a knock on the microphone is no yes.
            Event::Tap if self.is_typing() || matches!(self.phase, Phase::Confirm(_) | Phase::Unit) => Vec::new(),
            Event::Tap => self.on_key(Key::Go),
            Event::Passed(ms) => self.on_time(ms),
            Event::Heard(live) => self.on_heard(live),
            Event::Read(shown) => {
                self.phase = Phase::Confirm(shown);
                Vec::new()
            }
            Event::Kept(caveats) => self.on_kept(&caveats),
            Event::Saved => self.on_saved(),
            Event::Refused(why) => {
                self.refused = None;
                self.notice = Some(why);
                self.phase = Phase::Ask;
                self.hands_free = false;
                vec![Effect::Beep(Beep::Look)]
            }
            Event::MicrophoneLost(said) => {
                self.microphone.clear();
                // Readings and results need no microphone.
                if !matches!(self.step, Step::Clip(..)) {
                    return Vec::new();
                }
                self.hands_free = false;
                self.phase = Phase::Lost(said);
                vec![Effect::Beep(Beep::Look)]
            }
            Event::Microphone(name) => {
                self.microphone = name;
                if matches!(self.step, Step::Clip(..)) {
                    self.phase = Phase::Ask;
                }
                Vec::new()
            }
            Event::Ranked(verdict) => self.on_ranked(verdict),
            Event::SoFar(line) => {
                self.so_far = Some(line);
                Vec::new()
            }
        }
    }

    /// Whether letters go into an entry.
    #[must_use]
    pub fn is_typing(&self) -> bool {
        self.phase == Phase::Skipping || (self.phase == Phase::Ask && matches!(self.step, Step::Rig | Step::Gauge(_)))
    }

    fn on_key(&mut self, key: Key) -> Vec<Effect> {
        if self.is_typing() {
            return self.on_typed(key);
        }
        match (key, self.phase.clone()) {
            (Key::Letter('q') | Key::Out, Phase::Recording(_)) => vec![Effect::Drop, Effect::Quit],
            (Key::Back | Key::Out, Phase::Confirm(_) | Phase::Unit) | (Key::Letter('b'), Phase::Confirm(_)) => {
                self.phase = Phase::Ask;
                Vec::new()
            }
            (Key::Letter('q') | Key::Out, _) => vec![Effect::Quit],
            (Key::Go, Phase::Confirm(_)) => self.keep_reading(),
            (Key::Letter(letter), Phase::Unit) => self.unit_said(letter),
            (Key::Letter('b') | Key::Back, Phase::Ask) => self.back(),
            (Key::Go, Phase::Ask) => self.go(),
            (Key::Go, Phase::Lost(_)) => {
                self.phase = Phase::Busy;
                vec![Effect::OpenMicrophone]
            }
            (Key::Go, Phase::Count(_) | Phase::Bad(..) | Phase::Good(_)) => self.pause(),
            (Key::Go, Phase::Recording(_)) => {
                self.pause();
                vec![Effect::Drop]
            }
            (Key::Letter('r'), Phase::Ask | Phase::Count(_) | Phase::Good(_)) => self.repeat(),
            (Key::Letter('s'), Phase::Ask | Phase::Count(_) | Phase::Bad(..)) if self.may_skip() => {
                self.phase = Phase::Skipping;
                self.entry.clear();
                Vec::new()
            }
            (Key::Letter('m'), Phase::Ask) if matches!(self.step, Step::Result(_)) => self.another_round(),
            (Key::Letter('x'), Phase::Ask) => match self.step {
                Step::Result(cylinder) if self.result.mistake.is_some() => {
                    self.phase = Phase::Busy;
                    vec![Effect::PutRight(cylinder)]
                }
                _ => Vec::new(),
            },
            (Key::Letter('n'), Phase::Ask) => match self.step {
                Step::Result(cylinder) if self.result.next != NextClip::Nothing => self.follow(cylinder),
                _ => Vec::new(),
            },
            (Key::Letter('p'), Phase::Ask) if matches!(self.step, Step::Result(_)) => self.with_pulsed_air(),
            (Key::Letter(letter @ ('h' | 'c')), Phase::Ask) if self.step == Step::Temperature => {
                self.phase = Phase::Busy;
                vec![Effect::SaveTemperature(letter == 'h')]
            }
            _ => Vec::new(),
        }
    }

    fn may_skip(&self) -> bool {
        matches!(self.step, Step::Rig | Step::Gauge(_) | Step::Clip(..))
    }

    fn on_typed(&mut self, key: Key) -> Vec<Effect> {
        match key {
            Key::Letter('s') if self.entry.is_empty() && self.phase != Phase::Skipping => self.phase = Phase::Skipping,
            // No reading has a q in it.
            Key::Letter('q' | 'Q') if self.phase != Phase::Skipping => return vec![Effect::Quit],
            Key::Letter(letter) if self.entry.chars().count() < 60 => self.entry.push(letter),
            Key::Back if self.entry.is_empty() && self.phase != Phase::Skipping => return self.back(),
            Key::Back => drop(self.entry.pop()),
            Key::Out if self.phase == Phase::Skipping => {
                self.entry.clear();
                self.phase = Phase::Ask;
            }
            Key::Out => return vec![Effect::Quit],
            Key::Go => return self.typed(),
            Key::Letter(_) => {}
        }
        Vec::new()
    }

    fn typed(&mut self) -> Vec<Effect> {
        let text = self.entry.trim().to_owned();
        if text.is_empty() {
            return Vec::new();
        }
        if self.phase == Phase::Skipping {
            self.phase = Phase::Busy;
            return vec![Effect::Skip(self.step.clone(), text)];
        }
        self.notice = None;
        if lacks_unit(&text) {
            let Some(unit) = self.unit else {
                self.phase = Phase::Unit;
                return Vec::new();
            };
            self.entry = format!("{text} {}", unit.name());
        }
        self.unit = GaugeUnit::of(&self.entry).or(self.unit);
        self.phase = Phase::Busy;
        vec![Effect::Assess(self.step.clone(), self.entry.trim().to_owned())]
    }

    /// The gauges' unit, asked once.
    fn unit_said(&mut self, letter: char) -> Vec<Effect> {
        let unit = match letter {
            'p' => GaugeUnit::Psi,
            'b' => GaugeUnit::Bar,
            'k' => GaugeUnit::Kpa,
            _ => return Vec::new(),
        };
        self.unit = Some(unit);
        self.typed()
    }

    /// The reading is as it should be.
    fn keep_reading(&mut self) -> Vec<Effect> {
        let text = self.entry.trim().to_owned();
        self.phase = Phase::Busy;
        vec![match self.step {
            Step::Gauge(cylinder) => Effect::SaveGauge(cylinder, text),
            _ => Effect::SaveRig(text),
        }]
    }

    /// One step back.
    fn back(&mut self) -> Vec<Effect> {
        self.notice = None;
        self.hands_free = false;
        match self.step.clone() {
            Step::Cautions => return Vec::new(),
            Step::Temperature => self.progress.cautions = false,
            Step::Rig => self.progress.temperature = false,
            Step::Turn(cylinder) => match self.before(cylinder) {
                Some(before) => drop(self.progress.seen.remove(&before)),
                None => self.progress.rig = false,
            },
            Step::Gauge(_) => self.progress.at = None,
            Step::Clip(cylinder, _) | Step::Result(cylinder) => {
                if self.last.as_ref().is_some_and(|(of, _)| *of == cylinder) {
                    return self.repeat();
                }
                self.progress.at = Some(cylinder);
                self.progress.gauge.remove(&cylinder);
            }
            Step::End => {
                if let Some(place) = self.plan.places.last() {
                    self.progress.seen.remove(&place.cylinder);
                }
            }
        }
        self.advance()
    }

    /// The cylinder before this one in the order of work.
    fn before(&self, cylinder: u32) -> Option<u32> {
        let at = self.plan.places.iter().position(|place| place.cylinder == cylinder)?;
        Some(self.plan.places.get(at.checked_sub(1)?)?.cylinder)
    }

    /// Whether the microphone stands where it stood for the clip before.
    #[must_use]
    pub fn is_same_place(&self) -> bool {
        let Step::Clip(cylinder, visit) = &self.step else { return false };
        self.last.as_ref().is_some_and(|(of, last)| of == cylinder && last.opening == visit.opening)
    }

    /// How much longer the recording lasts; `None` where none is under way.
    #[must_use]
    pub fn time_left(&self) -> Option<Seconds> {
        let (Step::Clip(_, visit), Phase::Recording(Some(live))) = (&self.step, &self.phase) else { return None };
        let most = Seconds((if visit.air == Air::Pulsed { PULSED_S } else { LONGEST_S }) - live.length.0);
        // How long a level takes is not known before there is one.
        let wanted = if visit.air == Air::Pulsed { most } else { live.estimate?.more };
        Some(Seconds(wanted.0.min(most.0).max(0.0)))
    }

    fn go(&mut self) -> Vec<Effect> {
        self.notice = None;
        self.paused = false;
        self.refused = None;
        match self.step.clone() {
            Step::Cautions => {
                self.phase = Phase::Busy;
                vec![Effect::Confirm]
            }
            Step::Temperature => {
                self.progress.temperature = true;
                self.advance()
            }
            Step::Turn(cylinder) => {
                self.progress.at = Some(cylinder);
                self.advance()
            }
            Step::Clip(..) => {
                self.hands_free = true;
                self.bad = 0;
                self.count_down()
            }
            Step::Result(cylinder) => {
                self.progress.seen.insert(cylinder);
                self.advance()
            }
            Step::End => vec![Effect::Quit],
            Step::Rig | Step::Gauge(_) => Vec::new(),
        }
    }

    fn pause(&mut self) -> Vec<Effect> {
        self.hands_free = false;
        self.paused = true;
        self.phase = Phase::Ask;
        Vec::new()
    }

    /// Takes the last clip back and stands before it again.
    fn repeat(&mut self) -> Vec<Effect> {
        let Some((cylinder, visit)) = self.last.take() else { return Vec::new() };
        if let Some(takes) = self.progress.takes.get_mut(&(cylinder, visit.opening.clone(), visit.air)) {
            *takes = takes.saturating_sub(1);
        }
        self.progress.seen.remove(&cylinder);
        self.progress.not_needed.retain(|(of, ..)| *of != cylinder);
        self.looked_early.remove(&cylinder);
        self.hands_free = false;
        self.step = Step::Clip(cylinder, visit.clone());
        self.phase = Phase::Busy;
        vec![Effect::LeaveOut(cylinder, visit)]
    }

    fn another_round(&mut self) -> Vec<Effect> {
        if let Step::Result(cylinder) = self.step {
            *self.progress.more_rounds.entry(cylinder).or_default() += 1;
            self.progress.not_needed.retain(|(of, ..)| *of != cylinder);
        }
        self.advance()
    }

    /// The likeliest opening once more, the air opened and shut to the beep.
    fn with_pulsed_air(&mut self) -> Vec<Effect> {
        let Step::Result(cylinder) = self.step else { return Vec::new() };
        let Some(opening) = self.result.likeliest.clone().filter(|_| !self.plan.pulsed) else { return Vec::new() };
        self.wish(cylinder, opening, Air::Pulsed)
    }

    /// One more clip besides the rounds.
    fn wish(&mut self, cylinder: u32, opening: Opening, air: Air) -> Vec<Effect> {
        // Pulsed air is another way of working: the person begins it.
        self.hands_free &= air != Air::Pulsed;
        self.progress.not_needed.remove(&(cylinder, opening.clone(), air));
        *self.progress.wished.entry((cylinder, opening, air)).or_default() += 1;
        self.advance()
    }

    /// The clip that the ranking wants next.
    fn follow(&mut self, cylinder: u32) -> Vec<Effect> {
        match self.result.next.clone() {
            NextClip::Clip { opening, air, .. } => self.wish(cylinder, opening, air),
            NextClip::Unknown => self.another_round(),
            NextClip::Nothing => Vec::new(),
        }
    }

    fn count_down(&mut self) -> Vec<Effect> {
        if !matches!(self.step, Step::Clip(..)) {
            return Vec::new();
        }
        if self.microphone.is_empty() {
            self.phase = Phase::Busy;
            return vec![Effect::OpenMicrophone];
        }
        let same_place = self.is_same_place();
        let move_ms = (self.plan.pause.0 * 1000.0) as u64;
        self.phase = Phase::Count(if same_place { move_ms.saturating_sub(TURN_MS) } else { move_ms }.max(LEAST_MS));
        Vec::new()
    }

    fn on_time(&mut self, ms: u64) -> Vec<Effect> {
        match self.phase.clone() {
            Phase::Count(left) if left > ms => {
                let now = left - ms;
                self.phase = Phase::Count(now);
                // A beep as each of the last seconds begins.
                let beeps = left.div_ceil(1000) != now.div_ceil(1000) && now <= BEEPED_MS;
                if beeps || (left > BEEPED_MS && now <= BEEPED_MS) {
                    vec![Effect::Beep(Beep::Count)]
                } else {
                    Vec::new()
                }
            }
            Phase::Count(_) => {
                let Step::Clip(cylinder, visit) = self.step.clone() else { return self.pause() };
                self.paused = false;
                self.phase = Phase::Recording(None);
                self.so_far = None;
                let begins = if visit.air == Air::Pulsed { Beep::Shut } else { Beep::Count };
                vec![Effect::Beep(begins), Effect::Record(cylinder, visit)]
            }
            Phase::Good(left) if left > ms => {
                self.phase = Phase::Good(left - ms);
                Vec::new()
            }
            Phase::Good(_) => self.advance(),
            Phase::Bad(left, why) if left > ms => {
                self.phase = Phase::Bad(left - ms, why);
                Vec::new()
            }
            Phase::Bad(..) if self.bad < MOST_BAD => self.count_down(),
            Phase::Bad(_, why) => {
                let effects = self.pause();
                (self.paused, self.refused) = (false, Some(why));
                effects
            }
            _ => Vec::new(),
        }
    }

    fn on_heard(&mut self, live: Live) -> Vec<Effect> {
        let Phase::Recording(before) = &self.phase else { return Vec::new() };
        let before = before.map_or(0.0, |before| before.length.0);
        self.phase = Phase::Recording(Some(live));
        let Step::Clip(_, visit) = &self.step else { return Vec::new() };
        if visit.air == Air::Pulsed {
            if live.length.0 >= PULSED_S {
                self.phase = Phase::Busy;
                return vec![Effect::Stop];
            }
            let (second, last) = (live.length.0 as u64, before as u64);
            let asks = if second % 2 == 1 { Beep::Open } else { Beep::Shut };
            return if second == last { Vec::new() } else { vec![Effect::Beep(asks)] };
        }
        let settled = live.estimate.is_some_and(|estimate| estimate.is_settled());
        if settled || live.length.0 >= LONGEST_S {
            self.phase = Phase::Busy;
            return vec![Effect::Stop];
        }
        Vec::new()
    }

    fn on_kept(&mut self, caveats: &[Caveat]) -> Vec<Effect> {
        let Step::Clip(cylinder, visit) = self.step.clone() else { return Vec::new() };
        if let Some(why) = caveats.iter().find(|caveat| caveat.severity() > Severity::Doubt) {
            self.bad += 1;
            self.phase = Phase::Bad(BAD_MS, why.clone());
            return vec![Effect::LeaveOut(cylinder, visit), Effect::Beep(Beep::Look)];
        }
        self.bad = 0;
        *self.progress.takes.entry((cylinder, visit.opening.clone(), visit.air)).or_default() += 1;
        self.last = Some((cylinder, visit));
        self.phase = Phase::Good(GOOD_MS);
        vec![Effect::Beep(Beep::Good)]
    }

    /// The job did what it was asked.
    fn on_saved(&mut self) -> Vec<Effect> {
        if self.phase != Phase::Busy {
            return Vec::new();
        }
        match self.step.clone() {
            Step::Cautions => self.progress.cautions = true,
            Step::Temperature => self.progress.temperature = true,
            Step::Rig => self.progress.rig = true,
            Step::Gauge(cylinder) => drop(self.progress.gauge.insert(cylinder)),
            Step::Clip(cylinder, visit) if !self.entry.is_empty() => {
                self.progress.skipped.insert((cylinder, visit.opening, visit.air));
            }
            _ => {}
        }
        self.entry.clear();
        self.notice = None;
        self.advance()
    }

    fn on_ranked(&mut self, verdict: RankedResult) -> Vec<Effect> {
        let Step::Result(cylinder) = self.step else { return Vec::new() };
        if std::mem::take(&mut self.looks_early) {
            if !(verdict.decides && verdict.next == NextClip::Nothing && verdict.mistake.is_none()) {
                return self.advance();
            }
            let rest = self.plan.open_visits(&self.progress, cylinder);
            self.progress.not_needed.extend(rest.into_iter().map(|visit| (cylinder, visit.opening, visit.air)));
        }
        self.calls.insert(cylinder, verdict.short.clone());
        self.result = verdict;
        // A mistake is looked at before more is recorded.
        let goes_on = !self.result.decides && self.result.next != NextClip::Nothing && self.result.mistake.is_none();
        if goes_on && self.hands_free && self.plan.may_go_on(&self.progress, cylinder) {
            return self.follow(cylinder);
        }
        self.hands_free = false;
        self.phase = Phase::Ask;
        vec![Effect::Beep(Beep::Good)]
    }

    /// To the next step.
    fn advance(&mut self) -> Vec<Effect> {
        let before = std::mem::replace(&mut self.step, self.plan.next(&self.progress));
        self.phase = Phase::Ask;
        // Every opening has its air clip: where the answer is safe by now, nobody records more quiet ones.
        if let (Step::Clip(of, last), Step::Clip(cylinder, _)) = (&before, &self.step)
            && of == cylinder
            && last.air == Air::On
            && self.plan.air_is_done(&self.progress, *cylinder)
            && self.looked_early.insert(*cylinder)
        {
            let cylinder = *cylinder;
            (self.step, self.phase, self.looks_early) = (Step::Result(cylinder), Phase::Busy, true);
            return vec![Effect::Rank(cylinder)];
        }
        match &self.step {
            Step::Clip(..) if self.hands_free => self.count_down(),
            Step::Result(cylinder) if before != self.step => {
                self.phase = Phase::Busy;
                vec![Effect::Rank(*cylinder)]
            }
            Step::End => vec![Effect::Finish],
            _ => Vec::new(),
        }
    }

    /// What is to be done at the very beginning.
    pub fn begin(&mut self) -> Vec<Effect> {
        let mut effects = vec![Effect::OpenMicrophone];
        effects.extend(match self.step {
            Step::Result(cylinder) => {
                self.phase = Phase::Busy;
                Some(Effect::Rank(cylinder))
            }
            Step::End => Some(Effect::Finish),
            _ => None,
        });
        effects
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guide::{CylinderTurn, ShownReading};
    use crate::meter;
    use crate::units::{Level, LevelDiff};

    fn at_first_clip(pulsed: bool) -> Guide {
        let plan = Plan {
            places: vec![CylinderTurn { cylinder: 1, turn_deg: None }],
            order_known: true,
            openings: vec!["intake".parse().expect("an opening")],
            pulsed,
            least_rounds: 1,
            most_rounds: 2,
            pause: Seconds(4.0),
        };
        let progress = Progress {
            cautions: true,
            temperature: true,
            rig: true,
            gauge: [1].into(),
            at: Some(1),
            ..Progress::default()
        };
        let mut guide = Guide::new(plan, progress);
        guide.on(Event::Microphone("made-up".to_owned()));
        guide
    }

    fn live(length_s: f64, settled: bool) -> Event {
        let more = Seconds(if settled { 0.0 } else { 4.0 });
        let estimate = meter::LevelEstimate { level: Level(-50.0), error: LevelDiff(0.1), more };
        let length = Seconds(length_s);
        Event::Heard(Live {
            length,
            level: None,
            above_quiet: None,
            clipped: 0,
            in_the_stream: false,
            estimate: Some(estimate),
        })
    }

    /// Lets time pass in steps of 10 ms until it records; the beeps on the way.
    fn to_recording(guide: &mut Guide) -> Vec<Beep> {
        let mut beeps = Vec::new();
        for _ in 0..3000 {
            for effect in guide.on(Event::Passed(10)) {
                match effect {
                    Effect::Beep(beep) => beeps.push(beep),
                    Effect::Record(..) => return beeps,
                    _ => {}
                }
            }
        }
        panic!("it never recorded: {:?}", guide.phase)
    }

    #[test]
    fn one_key_and_the_rest_goes_by_itself() {
        let mut guide = at_first_clip(false);
        guide.on(Event::Tap);
        assert_eq!(to_recording(&mut guide), [Beep::Count; 4], "three seconds, and the beginning");
        assert!(guide.on(live(6.0, false)).is_empty());
        assert_eq!(guide.on(live(6.1, true)), [Effect::Stop]);
        assert_eq!(guide.on(Event::Kept(Vec::new())), [Effect::Beep(Beep::Good)]);
        to_recording(&mut guide);
        assert!(matches!(&guide.step, Step::Clip(1, visit) if visit.air == Air::On));
        assert_eq!(guide.on(live(20.0, false)), [Effect::Stop], "there is a limit");
        guide.on(Event::Kept(Vec::new()));
        assert_eq!(guide.on(Event::Passed(5_000)), [Effect::Rank(1)]);
        guide.on(Event::Ranked(RankedResult::default()));
        to_recording(&mut guide);
        assert!(matches!(&guide.step, Step::Clip(1, visit) if visit.take == 2), "undecided: another round");
    }

    #[test]
    fn a_bad_clip_is_left_out_and_recorded_again_twice_at_most() {
        let mut guide = at_first_clip(false);
        guide.on(Event::Key(Key::Go));
        for _ in 0..2 {
            to_recording(&mut guide);
            guide.on(live(6.0, true));
            let effects = guide.on(Event::Kept(vec![Caveat::new("clipped")]));
            assert!(matches!(&effects[..], [Effect::LeaveOut(1, _), Effect::Beep(Beep::Look)]), "{effects:?}");
        }
        guide.on(Event::Passed(7_000));
        assert_eq!(guide.phase, Phase::Ask, "the person is asked");
        assert!(guide.progress.takes.is_empty());
        assert!(matches!(&guide.step, Step::Clip(1, visit) if visit.air == Air::Off));
    }

    #[test]
    fn pulsed_air_is_beeped_every_second_beginning_shut() {
        let mut guide = at_first_clip(true);
        guide.on(Event::Key(Key::Go));
        assert_eq!(to_recording(&mut guide).last(), Some(&Beep::Shut));
        let mut beeps = Vec::new();
        for tenth in 1..=130 {
            beeps.extend(guide.on(live(f64::from(tenth) / 10.0, true)));
        }
        let asked: Vec<Effect> =
            [Beep::Open, Beep::Shut].into_iter().cycle().take(12).map(Effect::Beep).chain([Effect::Stop]).collect();
        assert_eq!(beeps, asked, "settled or not, the rhythm is kept to its end");
    }

    #[test]
    fn a_result_is_looked_into_with_pulsed_air_at_the_likeliest_opening() {
        let mut guide = at_first_clip(false);
        guide.plan.most_rounds = 1;
        guide.on(Event::Key(Key::Go));
        for _ in 0..2 {
            to_recording(&mut guide);
            guide.on(live(6.0, true));
            guide.on(Event::Kept(Vec::new()));
        }
        guide.on(Event::Passed(2_000));
        let likeliest = Some("intake".parse().expect("an opening"));
        guide.on(Event::Ranked(RankedResult { likeliest, proposes_pulsed: true, ..RankedResult::default() }));
        assert!(guide.on(Event::Key(Key::Letter('p'))).is_empty());
        assert!(matches!(&guide.step, Step::Clip(1, visit) if visit.air == Air::Pulsed && visit.take == 1));
        assert_eq!(guide.phase, Phase::Ask, "another way of working: the person begins it");
        guide.on(Event::Key(Key::Go));
        assert_eq!(to_recording(&mut guide).last(), Some(&Beep::Shut));
        assert_eq!(guide.on(live(13.0, true)), [Effect::Stop]);
        guide.on(Event::Kept(Vec::new()));
        assert_eq!(guide.on(Event::Passed(2_000)), [Effect::Rank(1)]);
    }

    fn typed(guide: &mut Guide, text: &str) -> Vec<Effect> {
        text.chars().for_each(|letter| drop(guide.on(Event::Key(Key::Letter(letter)))));
        guide.on(Event::Key(Key::Go))
    }

    fn at_gauge() -> Guide {
        let mut guide = at_first_clip(false);
        guide.progress.gauge.clear();
        (guide.step, guide.phase) = (Step::Gauge(1), Phase::Ask);
        guide
    }

    #[test]
    fn a_reading_is_shown_before_it_is_kept_and_its_unit_is_asked_once() {
        let mut guide = at_gauge();
        assert!(typed(&mut guide, "80 62").is_empty());
        assert_eq!(guide.phase, Phase::Unit);
        let effects = guide.on(Event::Key(Key::Letter('b')));
        assert_eq!(effects, [Effect::Assess(Step::Gauge(1), "80 62 bar".to_owned())], "b is bar, not back");
        guide.on(Event::Read(ShownReading::default()));
        assert!(guide.on(Event::Key(Key::Back)).is_empty() && guide.phase == Phase::Ask, "typed anew");
        guide.entry.clear();
        assert_eq!(typed(&mut guide, "5.5 4"), [Effect::Assess(Step::Gauge(1), "5.5 4 bar".to_owned())], "once");
        guide.on(Event::Read(ShownReading::default()));
        assert_eq!(guide.on(Event::Key(Key::Go)), [Effect::SaveGauge(1, "5.5 4 bar".to_owned())]);
        guide.on(Event::Saved);
        assert!(matches!(guide.step, Step::Clip(..)) && guide.entry.is_empty());
    }

    #[test]
    fn q_leaves_while_a_reading_is_typed_and_backspace_goes_back() {
        let mut guide = at_gauge();
        guide.on(Event::Key(Key::Letter('8')));
        assert_eq!(guide.on(Event::Key(Key::Letter('q'))), [Effect::Quit]);
        guide.on(Event::Key(Key::Back));
        assert!(guide.entry.is_empty() && matches!(guide.step, Step::Gauge(1)));
        guide.on(Event::Key(Key::Back));
        assert_eq!(guide.step, Step::Turn(1), "one step back");
        guide.on(Event::Key(Key::Letter('b')));
        assert_eq!(guide.step, Step::Rig);
    }

    #[test]
    fn a_pause_and_the_reason_of_a_refusal_stay_until_somebody_goes_on() {
        let mut guide = at_first_clip(false);
        guide.on(Event::Key(Key::Go));
        guide.on(Event::Key(Key::Go));
        assert!(guide.paused && guide.phase == Phase::Ask);
        guide.on(Event::Key(Key::Go));
        for _ in 0..2 {
            to_recording(&mut guide);
            guide.on(live(6.0, true));
            guide.on(Event::Kept(vec![Caveat::new("dc"), Caveat::new("silent")]));
        }
        guide.on(Event::Passed(7_000));
        assert_eq!(guide.refused.as_ref().map(|why| why.code), Some("silent"));
        guide.on(Event::Key(Key::Go));
        assert!(guide.refused.is_none() && !guide.paused);
    }

    #[test]
    fn time_left_is_what_the_level_still_needs_and_never_more_than_there_is() {
        let mut guide = at_first_clip(false);
        guide.on(Event::Key(Key::Go));
        to_recording(&mut guide);
        guide.on(live(6.0, false));
        assert_eq!(guide.time_left(), Some(Seconds(4.0)));
        guide.on(live(18.0, false));
        assert_eq!(guide.time_left(), Some(Seconds(2.0)), "a clip ends after 20 s");
    }

    #[test]
    fn the_ranking_says_what_is_recorded_next_and_when_nothing_more_would_tell() {
        let mut guide = at_first_clip(false);
        guide.on(Event::Key(Key::Go));
        for _ in 0..2 {
            to_recording(&mut guide);
            guide.on(live(6.0, true));
            guide.on(Event::Kept(Vec::new()));
        }
        guide.on(Event::Passed(2_000));
        let opening: Opening = "intake".parse().expect("an opening");
        let next = NextClip::Clip { opening: opening.clone(), air: Air::On, line: String::new() };
        guide.on(Event::Ranked(RankedResult { next, ..RankedResult::default() }));
        to_recording(&mut guide);
        assert!(
            matches!(&guide.step, Step::Clip(1, visit) if visit.air == Air::On && visit.take == 2),
            "only that one"
        );
        guide.on(live(6.0, true));
        guide.on(Event::Kept(Vec::new()));
        assert_eq!(guide.on(Event::Passed(2_000)), [Effect::Rank(1)]);
        guide.on(Event::Ranked(RankedResult { next: NextClip::Nothing, ..RankedResult::default() }));
        assert!(matches!(guide.step, Step::Result(1)) && guide.phase == Phase::Ask, "undecided, and yet it ends");
    }

    /// Three openings, up to where every one has its air clip: it asks how things stand.
    fn listened_at_all() -> Guide {
        let mut guide = at_first_clip(false);
        guide.plan.openings =
            ["intake", "exhaust", "oil-filler"].map(|name| name.parse().expect("an opening")).to_vec();
        guide.on(Event::Key(Key::Go));
        for clip in 1..=4 {
            to_recording(&mut guide);
            guide.on(live(6.0, true));
            guide.on(Event::Kept(Vec::new()));
            if clip == 4 {
                assert_eq!(guide.on(Event::Passed(2_000)), [Effect::Rank(1)]);
            }
        }
        guide
    }

    #[test]
    fn where_the_leak_roars_nobody_records_more_quiet_clips() {
        let mut guide = listened_at_all();
        guide.on(Event::Ranked(RankedResult { decides: true, next: NextClip::Nothing, ..RankedResult::default() }));
        assert!(matches!(guide.step, Step::Result(1)) && guide.phase == Phase::Ask, "{:?}", guide.step);
        assert!(guide.plan.open_visits(&guide.progress, 1).is_empty());
        // Who wants the rest may have it.
        guide.on(Event::Key(Key::Letter('m')));
        assert!(matches!(&guide.step, Step::Clip(1, visit) if visit.air == Air::Off && visit.take == 1));
    }

    #[test]
    fn where_it_is_not_settled_the_round_goes_on_by_itself() {
        let mut guide = listened_at_all();
        guide.on(Event::Ranked(RankedResult::default()));
        to_recording(&mut guide);
        assert!(
            matches!(&guide.step, Step::Clip(1, visit) if visit.air == Air::Off && visit.opening.name() == "oil-filler")
        );
    }

    #[test]
    fn hot_or_cold_is_asked_once_and_may_stay_unknown() {
        let mut guide = at_first_clip(false);
        guide.progress.temperature = false;
        guide.step = Step::Temperature;
        assert_eq!(guide.on(Event::Key(Key::Letter('c'))), [Effect::SaveTemperature(false)]);
        guide.on(Event::Saved);
        assert!(matches!(guide.step, Step::Clip(..)));
        guide.progress.temperature = false;
        guide.step = Step::Temperature;
        guide.phase = Phase::Ask;
        guide.on(Event::Key(Key::Go));
        assert!(guide.progress.temperature && matches!(guide.step, Step::Clip(..)));
    }

    #[test]
    fn a_microphone_that_lacks_blocks_recordings_only() {
        let mut guide = at_first_clip(false);
        guide.on(Event::MicrophoneLost("unplugged".to_owned()));
        assert!(matches!(guide.phase, Phase::Lost(_)));
        assert_eq!(guide.on(Event::Key(Key::Go)), [Effect::OpenMicrophone]);
        guide.on(Event::Microphone("made-up".to_owned()));
        assert_eq!(guide.phase, Phase::Ask);
        let mut early = Guide::new(guide.plan.clone(), Progress::default());
        early.on(Event::MicrophoneLost("none".to_owned()));
        assert_eq!(early.on(Event::Key(Key::Go)), [Effect::Confirm]);
    }

    #[test]
    fn a_tap_never_ends_what_is_being_typed() {
        let mut guide = at_first_clip(false);
        guide.on(Event::Key(Key::Letter('s')));
        guide.on(Event::Key(Key::Letter('x')));
        assert!(guide.on(Event::Tap).is_empty() && guide.phase == Phase::Skipping);
        let effects = guide.on(Event::Key(Key::Go));
        assert!(matches!(&effects[..], [Effect::Skip(Step::Clip(1, _), why)] if why == "x"), "{effects:?}");
        guide.on(Event::Saved);
        assert!(matches!(&guide.step, Step::Clip(1, visit) if visit.air == Air::On), "{:?}", guide.step);
    }
}
