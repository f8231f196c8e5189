//! The hands of the guide: microphone, job, beeps, screen and time.

use std::collections::{BTreeMap, VecDeque};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use hissward::audio::{Ended, SoundCard, Speaker};
use hissward::caveat::Fact;
use hissward::guide::{Effect, Event, Guide, Key, Live, Phase, RankedResult, Screen, ShownReading, Step, screen};
use hissward::hiss::PlannedClip;
use hissward::job::{
    EngineTemperature, FileName, GaugeReading, GaugeValue, JobWriter, RecordingPlan, RigReading, Slot, Subject, When,
};
use hissward::meter::{Colour, MeterReading};
use hissward::opening::{Air, Opening};
use hissward::pipeline::{
    Mistake, clip_verdict, cylinder_reading, keep_recording, likely_mistakes, put_right, rank_job, recover_recordings,
    rig_reading,
};
use hissward::units::{Level, LevelDiff, TypedReading};
use hissward::words::Words;

use super::judge::{Judge, live_record};
use super::progress::{judge_recovery, progress_of, skipped_step};
use super::results::{shown_reading, so_far, verdict};
use crate::commands::demo::write_results;
use crate::commands::status::said as said_of_mistake;
use crate::console::{Console, Failure};
use crate::live::input::{Came, LiveInput, said};
use crate::live::lines::Lines;
use crate::live::rhythm::beep;
use crate::live::terminal::Terminal;

/// Where the guide is seen.
pub enum Display {
    /// A terminal.
    Terminal(Terminal),
    /// Lines of a pipe.
    Lines(Lines),
}

/// How long a look at the microphone waits: short against 100 ms from sound to screen.
const LOOK: Duration = Duration::from_millis(10);
/// How often the screen is drawn.
const DRAW: Duration = Duration::from_millis(40);
/// How often it is asked how sure the ranking is.
const ASK: Duration = Duration::from_millis(1500);

/// Drives a guide.
pub struct Driver<'a> {
    guide: Guide,
    job: JobWriter,
    words: Words,
    speaker: Speaker,
    card: &'a dyn SoundCard,
    display: Display,
    console: Console,
    input: Option<LiveInput>,
    slot: Option<Slot>,
    judge: Judge,
    quiet: BTreeMap<(u32, Opening), (Level, Option<Colour>)>,
    last: Option<MeterReading>,
    drawn: Instant,
    asked: Instant,
    over: bool,
}

impl<'a> Driver<'a> {
    /// A driver; nothing happens before it runs.
    pub fn new(
        guide: Guide,
        job: JobWriter,
        words: Words,
        speaker: Speaker,
        card: &'a dyn SoundCard,
        display: Display,
        console: Console,
    ) -> Self {
        let now = Instant::now();
        let (judge, quiet) = (Judge::default(), BTreeMap::new());
        let (input, slot, last) = (None, None, None);
        Self {
            guide,
            job,
            words,
            speaker,
            card,
            display,
            console,
            input,
            slot,
            judge,
            quiet,
            last,
            drawn: now,
            asked: now,
            over: false,
        }
    }

    /// Runs until the person leaves.
    pub fn run(&mut self, stop: &AtomicBool) -> Result<(), Failure> {
        let effects = self.guide.begin();
        self.show(true)?;
        self.act(effects)?;
        let mut before = Instant::now();
        while !self.over {
            if stop.load(Ordering::Acquire) {
                self.event(Event::Key(Key::Out))?;
                self.over = true;
            }
            self.listen()?;
            while !self.over
                && let Some(key) = self.key()?
            {
                self.event(Event::Key(key))?;
                self.show(false)?;
            }
            // Time as this machine's own steady clock counts it: a clock that is set does not matter.
            let now = Instant::now();
            let passed_ms = now.duration_since(before).as_millis() as u64;
            before += Duration::from_millis(passed_ms);
            self.event(Event::Passed(passed_ms))?;
            if let Some(ranking) = self.judge.answer() {
                let line = so_far(&ranking, &self.words);
                self.event(Event::SoFar(line))?;
            }
            self.show(false)?;
        }
        Ok(())
    }

    /// Lets everything go; what is being recorded is dropped by the guide before.
    pub fn leave(self) {
        let Self { input, display, job, console, .. } = self;
        drop(display);
        console.talk(&job.folder().display().to_string());
        if let Some(input) = input {
            input.close();
        }
    }

    fn key(&mut self) -> Result<Option<Key>, Failure> {
        Ok(match &mut self.display {
            Display::Terminal(terminal) => {
                let typing = self.guide.is_typing();
                let plain = |key| match key {
                    // Where nothing is typed, capitals are the same keys, and the space bar goes on.
                    Key::Letter(' ') if !typing => Key::Go,
                    Key::Letter(letter) if !typing => Key::Letter(letter.to_ascii_lowercase()),
                    key => key,
                };
                terminal.key()?.map(plain)
            }
            Display::Lines(lines) => {
                let waits = matches!(
                    self.guide.phase,
                    Phase::Ask | Phase::Lost(_) | Phase::Skipping | Phase::Confirm(_) | Phase::Unit
                );
                match lines.key(self.guide.is_typing()) {
                    None if lines.is_over() && waits => Some(Key::Out),
                    key => key,
                }
            }
        })
    }

    fn show(&mut self, always: bool) -> Result<(), Failure> {
        let due = always || matches!(self.display, Display::Lines(_)) || self.drawn.elapsed() >= DRAW;
        if !due {
            return Ok(());
        }
        self.drawn = Instant::now();
        let shown: Screen = screen(&self.guide, &self.words);
        match &mut self.display {
            Display::Terminal(terminal) => terminal.show(&shown)?,
            Display::Lines(lines) => {
                if let Some(text) = lines.change(&shown) {
                    self.console.talk(&text);
                }
            }
        }
        Ok(())
    }

    fn event(&mut self, event: Event) -> Result<(), Failure> {
        let effects = self.guide.on(event);
        self.act(effects)
    }

    fn act(&mut self, effects: Vec<Effect>) -> Result<(), Failure> {
        let mut waiting = VecDeque::from(effects);
        while let Some(effect) = waiting.pop_front() {
            let answers = match self.perform(effect) {
                Ok(answers) => answers,
                // Whatever the job or the disk says no to is told, and the guide stays.
                Err(error) => vec![Event::Refused(error.to_string())],
            };
            for answer in answers {
                waiting.extend(self.guide.on(answer));
            }
        }
        Ok(())
    }

    fn perform(&mut self, effect: Effect) -> Result<Vec<Event>, Failure> {
        let saved = vec![Event::Saved];
        match effect {
            Effect::Beep(what) => beep(&self.speaker, what),
            Effect::Quit => self.over = true,
            Effect::Confirm => {
                self.job.confirm_cautions(When::now())?;
                return Ok(saved);
            }
            Effect::SaveTemperature(hot) => {
                self.job.change(|record| {
                    record.temperature = Some(if hot { EngineTemperature::Hot } else { EngineTemperature::Cold });
                    Ok(())
                })?;
                return Ok(saved);
            }
            Effect::Assess(step, text) => return Ok(vec![Event::Read(self.assessed(&step, &text)?)]),
            Effect::SaveRig(text) => {
                let value = GaugeValue::of(text.parse::<TypedReading>()?);
                self.job.set_rig(RigReading { value, when: Some(When::now()) })?;
                return Ok(saved);
            }
            Effect::SaveGauge(cylinder, text) => {
                let reading = self.gauge_reading(cylinder, &text)?;
                self.guide.losses.insert(cylinder, reading.value.reading().loss().0);
                self.job.add_gauge_reading(reading)?;
                return Ok(saved);
            }
            Effect::Skip(step, reason) => {
                if let Some(step) = skipped_step(&step, reason) {
                    self.job.skip(step)?;
                }
                return Ok(saved);
            }
            Effect::OpenMicrophone => return Ok(vec![self.open_microphone()]),
            Effect::Record(cylinder, visit) => self.record(cylinder, &visit)?,
            Effect::Stop => return self.stop(Ended::Full),
            Effect::Drop => self.drop_recording()?,
            Effect::LeaveOut(cylinder, visit) => {
                self.leave_out(cylinder, &visit)?;
                return Ok(saved_if_repeating(&self.guide));
            }
            Effect::Rank(cylinder) => return Ok(vec![self.rank(cylinder)?]),
            Effect::PutRight(cylinder) => {
                if let Some(mistake) = self.mistake_of(cylinder) {
                    put_right(&mut self.job, &mistake, &self.words, &When::now())?;
                    self.guide.progress.takes = progress_of(self.job.record(), self.guide.plan.pulsed).takes;
                }
                return Ok(vec![self.rank(cylinder)?]);
            }
            Effect::Finish => self.finish()?,
        }
        Ok(Vec::new())
    }

    fn gauge_reading(&self, cylinder: u32, text: &str) -> Result<GaugeReading, Failure> {
        let value = GaugeValue::of(text.parse::<TypedReading>()?);
        let cold = self.job.record().temperature == Some(EngineTemperature::Cold);
        Ok(GaugeReading { cylinder, value, cold, when: Some(When::now()) })
    }

    /// What a reading comes to, checked as if it were kept.
    fn assessed(&self, step: &Step, text: &str) -> Result<ShownReading, Failure> {
        let record = self.job.record();
        let typed = text.parse::<TypedReading>()?;
        let loss = match step {
            Step::Gauge(cylinder) => {
                let reading = self.gauge_reading(*cylinder, text)?;
                cylinder_reading(record, &reading)?;
                reading.value.reading().loss()
            }
            _ => {
                let reading = RigReading { value: GaugeValue::of(typed), when: None };
                rig_reading(record, &reading)?;
                reading.value.reading().loss()
            }
        };
        Ok(shown_reading(&self.guide, step, text, &typed, loss.0, &self.words))
    }

    fn open_microphone(&mut self) -> Event {
        if let Some(input) = self.input.take() {
            input.close();
        }
        let chosen = self.job.record().microphone.clone();
        let channel = chosen.as_ref().and_then(|chosen| chosen.channel);
        match LiveInput::open(self.card, chosen.as_ref().map(|chosen| chosen.device.as_str()), channel) {
            Ok(input) => {
                let name = input.name().to_owned();
                self.input = Some(input);
                Event::Microphone(name)
            }
            Err(error) => Event::MicrophoneLost(error.to_string()),
        }
    }

    /// Looks for sound, and passes on what it means.
    fn listen(&mut self) -> Result<(), Failure> {
        let Some(input) = &mut self.input else {
            std::thread::sleep(LOOK);
            return Ok(());
        };
        let came = input.look(LOOK);
        self.last = came.readings.last().copied().or(self.last);
        if came.tapped {
            self.event(Event::Tap)?;
        }
        if let Some(live) = self.live(&came) {
            self.event(Event::Heard(live))?;
        }
        self.ask_judge();
        match came.ended {
            None => Ok(()),
            Some(Ended::Device(loss)) => {
                let told = said(&loss);
                for event in self.ended(Ended::Device(loss)) {
                    self.event(event)?;
                }
                if let Some(input) = self.input.take() {
                    input.close();
                }
                self.event(Event::MicrophoneLost(told))
            }
            Some(ended) => {
                for event in self.ended(ended) {
                    self.event(event)?;
                }
                Ok(())
            }
        }
    }

    /// A recording that ended by itself. Where it cannot be kept now (a full disk), that is told; what was recorded
    /// stays on the disk and is kept before the next recording.
    fn ended(&mut self, ended: Ended) -> Vec<Event> {
        match self.stop(ended) {
            Ok(events) => events,
            Err(error) => {
                let facts = [("error", Fact::Text(error.to_string()))];
                vec![Event::Refused(self.words.say("guide-not-kept-yet", &facts))]
            }
        }
    }

    /// How the recording stands, where something new came.
    fn live(&self, came: &Came) -> Option<Live> {
        let input = self.input.as_ref()?;
        let length = input.recorded()?;
        came.readings.last()?;
        let level = self.last.and_then(|reading| reading.hiss);
        let quiet = match &self.guide.step {
            Step::Clip(cylinder, visit) if visit.air != Air::Off => {
                self.quiet.get(&(*cylinder, visit.opening.clone())).copied()
            }
            _ => None,
        };
        let above_quiet = match &self.guide.step {
            Step::Clip(_, visit) if visit.air == Air::On => {
                let typical = input.estimate().map(|estimate| estimate.level).or(level);
                quiet.zip(typical).map(|((quiet, _), now)| LevelDiff(now.0 - quiet.0))
            }
            _ => None,
        };
        let in_the_stream = input.is_in_the_stream(quiet.and_then(|(_, colour)| colour).as_ref());
        Some(Live { length, level, above_quiet, clipped: input.clipped(), in_the_stream, estimate: input.estimate() })
    }

    fn ask_judge(&mut self) {
        let Step::Clip(_, visit) = &self.guide.step else { return };
        let Some(sound) = self.input.as_ref().filter(|_| self.asked.elapsed() >= ASK).and_then(LiveInput::sound) else {
            return;
        };
        if sound.duration().0 >= 2.0 && visit.air != Air::Off {
            self.asked = Instant::now();
            let live = self.slot.as_ref().and_then(|slot| live_record(self.job.record(), &slot.file, &sound));
            if let Some(live) = live {
                self.judge.ask(self.job.folder().to_owned(), self.job.record(), &live, sound);
            }
        }
    }

    fn record(&mut self, cylinder: u32, visit: &PlannedClip) -> Result<(), Failure> {
        for found in recover_recordings(&mut self.job, &|_| false)? {
            judge_recovery(&mut self.job, &found)?;
        }
        let chosen = self.job.record().microphone.clone();
        let plan = RecordingPlan {
            subject: Subject { cylinder: Some(cylinder), opening: visit.opening.clone(), air: visit.air },
            visit: Some(self.job.record().next_visit()),
            since: When::now(),
            device: Some(self.guide.microphone.clone()),
            processing: None,
            channel: chosen.as_ref().and_then(|chosen| chosen.channel).unwrap_or(1),
            far_channel: chosen.and_then(|chosen| chosen.far_channel),
        };
        let slot = self.job.start_recording(plan)?;
        let begun = match &mut self.input {
            Some(input) => input.record(slot.path(), slot.file.as_str(), None).map_err(Failure::from),
            None => Err("there is no microphone".into()),
        };
        if let Err(error) = begun {
            self.job.discard_recording(&slot.file)?;
            return Err(error);
        }
        self.slot = Some(slot);
        Ok(())
    }

    /// Ends the recording and keeps it, whatever ended it.
    fn stop(&mut self, ended: Ended) -> Result<Vec<Event>, Failure> {
        let Some(slot) = self.slot.take() else { return Ok(Vec::new()) };
        let estimate = self.input.as_ref().and_then(LiveInput::estimate);
        let colour = self.input.as_ref().and_then(LiveInput::colour);
        let Some((recorded, sound)) = self.input.as_mut().and_then(|input| input.end_recording(ended)) else {
            return Ok(Vec::new());
        };
        let recorded = match recorded {
            Ok(recorded) => recorded,
            Err(error) => {
                self.job.discard_recording(&slot.file)?;
                return Ok(vec![Event::Refused(error.to_string())]);
            }
        };
        let clip = keep_recording(&mut self.job, &slot.file, &recorded)?;
        let verdict = clip_verdict(&sound, Some(clip.subject.air), &recorded.caveats());
        if let (Air::Off, Some(estimate), Some(cylinder)) = (clip.subject.air, estimate, clip.subject.cylinder) {
            self.quiet.insert((cylinder, clip.subject.opening.clone()), (estimate.level, colour));
        }
        self.judge.add(&clip.file, sound);
        Ok(vec![Event::Kept(verdict.caveats)])
    }

    fn drop_recording(&mut self) -> Result<(), Failure> {
        if let Some(slot) = self.slot.take() {
            // Whether there was sound in it does not matter: it goes.
            drop(self.input.as_mut().and_then(|input| input.end_recording(Ended::Stopped)));
            self.job.discard_recording(&slot.file)?;
        }
        Ok(())
    }

    fn leave_out(&mut self, cylinder: u32, visit: &PlannedClip) -> Result<(), Failure> {
        let subject = Subject { cylinder: Some(cylinder), opening: visit.opening.clone(), air: visit.air };
        let latest =
            self.job.record().clips.iter().rev().find(|clip| clip.subject == subject && clip.left_out.is_none());
        let file: Option<FileName> = latest.map(|clip| clip.file.clone());
        if let Some(file) = file {
            self.job.leave_out(&file, Some("recorded again".to_owned()))?;
        }
        Ok(())
    }

    fn rank(&self, cylinder: u32) -> Result<Event, Failure> {
        if !self.job.record().cylinders_heard().contains(&cylinder) {
            let lines = vec![self.words.say("guide-big-unsure", &[])];
            return Ok(Event::Ranked(RankedResult { decides: true, lines, ..RankedResult::default() }));
        }
        let rankings = rank_job(&self.job, Some(cylinder))?;
        let Some(ranking) = rankings.first() else { return Err("nothing was ranked".into()) };
        let mut verdict = verdict(self.job.record(), ranking, &self.words);
        verdict.mistake = self.mistake_of(cylinder).map(|mistake| said_of_mistake(&mistake, &self.words));
        Ok(Event::Ranked(verdict))
    }

    /// The first thing that was probably done wrong on a cylinder.
    fn mistake_of(&self, cylinder: u32) -> Option<Mistake> {
        let of = |file: &FileName| {
            let clip = self.job.record().clips.iter().find(|clip| clip.file == *file);
            clip.is_some_and(|clip| clip.subject.cylinder.is_none_or(|of| of == cylinder))
        };
        likely_mistakes(&self.job).into_iter().find(|mistake| mistake.clips().into_iter().any(of))
    }

    fn finish(&mut self) -> Result<(), Failure> {
        let heard = !self.job.record().cylinders_heard().is_empty();
        let rankings = if heard { rank_job(&self.job, None)? } else { Vec::new() };
        let written = write_results(&self.job, &rankings, &self.words)?;
        // The first is the page for the customer.
        if let Some((_, file)) = written.first() {
            let facts = [("file", Fact::Text(file.display().to_string()))];
            self.guide.notice = Some(self.words.say("guide-written", &facts));
        }
        Ok(())
    }
}

/// A clip left out because it was bad is recorded again at once; one that the person wants again waits for them.
fn saved_if_repeating(guide: &Guide) -> Vec<Event> {
    if guide.phase == Phase::Busy { vec![Event::Saved] } else { Vec::new() }
}
