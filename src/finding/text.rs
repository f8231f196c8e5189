//! A finding in sentences: one text for the technician, one for the customer, from the same codes and facts.

use super::findings::{About, Finding, Findings, Loss, Sound};
use super::rules::Weight;
use crate::caveat::Fact;
use crate::gauge::{Converted, Edge, Estimate, Judgement, Verdict};
use crate::opening::{EscapePath, Opening};
use crate::ranking::{Call, Member};
use crate::units::{Shown, UnitSystem};
use crate::words::Words;

/// For whom a text is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Reader {
    /// Who works on the engine.
    Technician,
    /// Who owns it: a layman.
    Customer,
}

/// A part of a text; its heading is `section-…` in the catalogue.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    /// What was found.
    Found,
    /// How sure that is.
    Sure,
    /// What it means.
    Means,
    /// What follows elsewhere in the engine.
    Follows,
    /// What it does not say.
    Silent,
    /// What to do next, in order.
    Next,
    /// What to mind in doing so.
    Cautions,
}

impl Part {
    /// The heading's name in the catalogue.
    #[must_use]
    pub fn heading(self) -> &'static str {
        match self {
            Self::Found => "section-found",
            Self::Sure => "section-sure",
            Self::Means => "section-means",
            Self::Follows => "section-follows",
            Self::Silent => "section-silent",
            Self::Next => "section-next",
            Self::Cautions => "section-cautions",
        }
    }

    /// Whether its sentences are steps or points of a list rather than a paragraph.
    #[must_use]
    pub fn is_list(self) -> bool {
        matches!(self, Self::Next | Self::Cautions)
    }
}

/// A finding in sentences.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FindingText {
    /// One line that says it.
    pub headline: String,
    /// Parts that hold something, in reading order.
    pub parts: Vec<(Part, Vec<String>)>,
}

/// The text of one finding for one reader.
#[must_use]
pub fn text_of(finding: &Finding, reader: Reader, words: &Words) -> FindingText {
    let writer = Writer { finding, reader, words, facts: facts_of(finding, words) };
    let name = format!("finding-{}", finding.code);
    let parts = match reader {
        Reader::Technician => vec![
            (Part::Found, writer.measured()),
            (Part::Sure, writer.sure()),
            (Part::Means, vec![writer.say(&format!("{name}.technician"))]),
            (Part::Follows, writer.each("follows", &finding.follows)),
            (Part::Silent, writer.each("silent", &finding.silent)),
            (Part::Next, writer.each("step", &finding.next)),
            (Part::Cautions, writer.each("mind", &finding.cautions)),
        ],
        Reader::Customer => vec![
            (Part::Found, [vec![writer.say(&format!("{name}.customer"))], writer.measured()].concat()),
            (Part::Sure, writer.sure()),
            (Part::Follows, writer.each("follows", &finding.follows)),
            (Part::Silent, writer.each("silent", &finding.silent)),
            (Part::Next, vec![writer.say(&format!("{name}.customer-next"))]),
        ],
    };
    let parts = parts.into_iter().filter(|(_, sentences)| !sentences.is_empty()).collect();
    FindingText { headline: writer.say(&name), parts }
}

/// What to do first, as numbered lines: the findings that ask for something, each with why it stands there.
#[must_use]
pub fn order_of_repair(findings: &Findings, words: &Words) -> Vec<String> {
    let line = |finding: &Finding| {
        let headline = words.say(&format!("finding-{}", finding.code), &facts_of(finding, words));
        let why = finding.rank.map(|rank| words.say(&format!("order-{}", rank.name()), &[]));
        [Some(headline), why].into_iter().flatten().collect::<Vec<_>>().join(" ")
    };
    findings.in_order_of_repair().into_iter().map(line).collect()
}

/// The opening in a phrase: "at the intake", "am Auspuff".
#[must_use]
pub fn heard_at(opening: &Opening, words: &Words) -> String {
    words.at(opening)
}

struct Writer<'a> {
    finding: &'a Finding,
    reader: Reader,
    words: &'a Words,
    facts: Vec<(&'static str, Fact)>,
}

impl Writer<'_> {
    fn say(&self, name: &str) -> String {
        self.words.say(name, &self.facts)
    }

    fn each(&self, kind: &str, codes: &[String]) -> Vec<String> {
        codes.iter().map(|code| self.say(&format!("{kind}-{code}"))).collect()
    }

    /// The loss with its interval and by whom it is called what; where hiss was heard.
    fn measured(&self) -> Vec<String> {
        let mut said = Vec::new();
        match &self.finding.loss {
            Some(loss) if self.finding.judged => said.extend(self.judged(loss)),
            Some(_) => said.push(self.say("loss-unjudged")),
            None => {}
        }
        if let (Reader::Technician, Some(sound)) = (self.reader, &self.finding.sound) {
            match sound.call {
                Call::Located | Call::Shared => said.push(self.say("heard-where")),
                Call::NoneHeard => said.push(self.say("heard-nothing")),
                Call::CannotTell => said.push(self.say("heard-undecided")),
            }
            if !sound.spill.is_empty() {
                let crankcase = sound.spill.iter().any(|opening| opening.path() == EscapePath::RingsOrBore);
                said.push(self.say(if crankcase { "heard-spill-crankcase" } else { "heard-spill" }));
            }
        }
        said
    }

    /// The loss as read, what that is called and by whom, the cylinder's own loss beside it, and how it lies among the
    /// cylinders.
    fn judged(&self, loss: &Loss) -> Vec<String> {
        let mut said = vec![self.say("loss-shown"), judged_by(&loss.judgement, self.words)];
        if loss.net {
            said.push(self.say("loss-net"));
            said.extend(net_line(&loss.judgement, self.words));
        }
        if self.finding.stands_out {
            said.push(self.say("loss-stands-out"));
        }
        said.extend(others_line(loss, self.words).filter(|_| self.reader == Reader::Technician));
        said
    }

    /// Whether the sound without the gauge is worth a sentence: a technician always gets it, a customer where it is
    /// another answer.
    fn says_otherwise(&self, sound: &Sound) -> bool {
        let Some(alone) = &sound.alone else { return false };
        let same_place = match alone.answer_set.first() {
            Some(Member::Opening(opening)) => sound.openings.contains(opening),
            Some(Member::Tight | Member::Elsewhere) | None => sound.openings.is_empty(),
        };
        self.reader == Reader::Technician || alone.call != sound.call || !same_place
    }

    /// How sure: of the place, of the loss, and what lowers trust.
    fn sure(&self) -> Vec<String> {
        let mut said = Vec::new();
        if let Some(sound) = &self.finding.sound {
            said.push(self.say(match sound.call {
                Call::Located if self.finding.weight == Weight::Fine => "sure-located-normal",
                Call::Located if sound.alone.is_some() => "sure-located-joint",
                Call::Located => "sure-located",
                Call::Shared => "sure-shared",
                Call::NoneHeard | Call::CannotTell if self.finding.partner.is_some() => "sure-from-neighbour",
                Call::NoneHeard if self.reader == Reader::Customer => "sure-none-heard.customer",
                Call::NoneHeard => "sure-none-heard",
                Call::CannotTell => "sure-cannot-tell",
            }));
        }
        // Nobody is to read the answer of gauge and sound for that of the sound.
        said.extend(
            self.finding.sound.iter().filter(|sound| self.says_otherwise(sound)).map(|_| self.say("sure-sound-alone")),
        );
        said.extend(
            self.finding
                .partner
                .and_then(|partner| partner.low)
                .map(|low| self.say(if low { "sure-partner-agrees" } else { "sure-partner-disagrees" })),
        );
        if self.reader == Reader::Technician {
            said.extend(self.finding.partner.and_then(|partner| partner.way_round).map(|way| self.say(way.message())));
        }
        if self.finding.judged && self.finding.loss.as_ref().is_some_and(|loss| loss.judgement.at_the_limit) {
            said.push(self.say("sure-on-the-edge"));
        }
        if self.finding.cold {
            said.push(self.say("sure-cold"));
        }
        if self.finding.cold && self.finding.alike {
            said.push(self.say("sure-cold-alike"));
        }
        let of_sound = self.finding.sound.iter().flat_map(|sound| &sound.caveats);
        for caveat in self.finding.caveats.iter().chain(of_sound).filter(|_| self.reader == Reader::Technician) {
            let (found, remedy) = self.words.caveat(caveat);
            said.push(format!("{found} {remedy}"));
        }
        said
    }
}

/// What a reading is called and by whom, in a sentence or two; never a verdict without its scale.
#[must_use]
pub fn judged_by(judgement: &Judgement, words: &Words) -> String {
    let name = match (judgement.verdict, judgement.suspect_edge) {
        (_, Some(_)) if judgement.at_the_limit => "judged-at",
        (Verdict::Suspect, Some(_)) => "judged-over",
        (_, Some(_)) => "judged-under",
        (_, None) => "judged",
    };
    let source = ("source", Fact::Text(judgement.source.clone()));
    let band = words.say(&format!("band-{}", judgement.scale), &[source]);
    let edge = judgement.suspect_edge.map(|edge| ("edge", Fact::Text(edge_phrase(edge, words))));
    let named = [("band", Fact::Text(band)), ("verdict", Fact::Text(called(judgement.verdict, words)))];
    let said = words.say(name, &named.into_iter().chain(edge).collect::<Vec<_>>());
    match judgement.converted {
        Some(Converted { restrictor, loss_percent }) => {
            let shown = |system: UnitSystem| {
                let Shown { value, decimals, unit, .. } = system.length(restrictor);
                format!("{}\u{a0}{unit}", words.number(value, decimals))
            };
            let restrictor = format!("{} ({})", shown(UnitSystem::Metric), shown(UnitSystem::Psi));
            let percent = Fact::Number { value: loss_percent.value, decimals: loss_percent.decimals() };
            let through = words.say("judged-through", &[("restrictor", Fact::Text(restrictor)), ("percent", percent)]);
            format!("{through} {said}")
        }
        None => said,
    }
}

/// That the reading as read is over its limit, in a sentence, where the loss with the rig taken off would not show it: limits
/// hold for the reading as read.
#[must_use]
pub fn over_as_read(loss: &Loss, words: &Words) -> Option<String> {
    let judgement = &loss.judgement;
    let edge = judgement.suspect_edge.filter(|_| judgement.verdict == Verdict::Suspect && !judgement.at_the_limit)?;
    judgement.net_verdict.filter(|net| *net != Verdict::Suspect)?;
    let Estimate { value, .. } = loss.shown_percent;
    let facts = [
        ("shown", Fact::Text(words.printed(value, loss.shown_percent.decimals()))),
        ("edge", Fact::Text(edge_phrase(edge, words))),
        ("verdict", Fact::Text(called(judgement.verdict, words))),
        ("band", Fact::Text(words.say(&format!("band-{}.short", judgement.scale), &[]))),
    ];
    Some(words.say("report-card-over", &facts))
}

/// What the loss with the rig taken off would be called, where that is something else.
#[must_use]
pub fn net_line(judgement: &Judgement, words: &Words) -> Option<String> {
    let net = judgement.net_verdict.filter(|net| *net != judgement.verdict)?;
    Some(words.say("loss-net-otherwise", &[("verdict", Fact::Text(called(net, words)))]))
}

fn called(verdict: Verdict, words: &Words) -> String {
    words.say(&format!("verdict-{}", verdict.name()), &[])
}

/// Where a scale begins to call for work: "more than 25 %", "20 % or more".
fn edge_phrase(edge: Edge, words: &Words) -> String {
    let (name, percent) = match edge {
        Edge::Over(percent) => ("edge-over", percent),
        Edge::From(percent) => ("edge-from", percent),
    };
    let limit = Fact::Number { value: percent, decimals: usize::from(percent.fract() != 0.0) };
    words.say(name, &[("limit", limit)])
}

/// What published scales say that say otherwise.
fn others_line(loss: &Loss, words: &Words) -> Option<String> {
    let says = |(id, verdict): &(String, Verdict)| {
        let band = words.say(&format!("band-{id}"), &[]);
        words.say("judged-other", &[("band", Fact::Text(band)), ("verdict", Fact::Text(called(*verdict, words)))])
    };
    let others: Vec<String> = loss.judgement.others.iter().map(says).collect();
    let list = Fact::Text(words.list(&others));
    (!others.is_empty()).then(|| words.say("judged-otherwise", &[("others", list)]))
}

/// The facts that a finding's sentences mention.
fn facts_of(finding: &Finding, words: &Words) -> Vec<(&'static str, Fact)> {
    let mut facts = Vec::new();
    match &finding.about {
        About::Cylinder(cylinder) => facts.push(("cylinder", Fact::Text(cylinder.to_string()))),
        About::Engine(cylinders) => facts.push(("cylinders", Fact::Text(named_cylinders(cylinders, words)))),
    }
    if let Some(loss) = &finding.loss {
        let named =
            [(loss.percent, ["loss", "low", "high"]), (loss.shown_percent, ["shown", "shown-low", "shown-high"])];
        for (Estimate { value, low, high }, names) in named {
            let decimals = Estimate { value, low, high }.decimals();
            facts.extend(names.into_iter().zip([value, low, high].map(|value| Fact::Number { value, decimals })));
        }
    }
    facts.extend(finding.partner.map(|partner| ("neighbour", Fact::Text(partner.cylinder.to_string()))));
    if let Some((least, most)) = finding.range_percent {
        let number = |value| Fact::Number { value, decimals: 0 };
        facts.extend([("least", number(least)), ("most", number(most))]);
    }
    if let Some(sound) = &finding.sound {
        facts.extend(sound_facts(sound, words));
    }
    facts
}

fn sound_facts(sound: &Sound, words: &Words) -> Vec<(&'static str, Fact)> {
    let places = |openings: &[Opening]| {
        Fact::Text(words.list(&openings.iter().map(|opening| heard_at(opening, words)).collect::<Vec<_>>()))
    };
    let mut facts = vec![("where", places(&sound.openings)), ("spill", places(&sound.spill))];
    facts.extend(sound.probability.map(|probability| ("probability", Fact::Text(words.percent(probability)))));
    if let Some(alone) = &sound.alone {
        let likeliest = match alone.answer_set.first() {
            Some(Member::Opening(opening)) => heard_at(opening, words),
            Some(Member::Tight) => words.say("tight", &[]),
            Some(Member::Elsewhere) | None => words.say("elsewhere", &[]),
        };
        let call = words.say(&format!("call-{}", alone.call.name()), &[]);
        facts.extend([("alone", Fact::Text(likeliest)), ("alone-call", Fact::Text(call))]);
        facts.push(("alone-probability", Fact::Text(words.percent(alone.probability))));
    }
    facts.extend(sound.missing.as_ref().map(|opening| ("missing", Fact::Text(words.opening(opening)))));
    facts.extend(sound.at_most.map(|level| ("level", Fact::Number { value: level.0, decimals: 0 })));
    facts
}

fn named_cylinders(cylinders: &[u32], words: &Words) -> String {
    let numbers: Vec<String> = cylinders.iter().map(u32::to_string).collect();
    let name = if numbers.len() == 1 { "cylinder-one" } else { "cylinders-many" };
    words.say(name, &[("list", Fact::Text(words.list(&numbers)))])
}
