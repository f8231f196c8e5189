//! The join: signs of every cylinder and of the engine, through the rule table, to findings.

use super::cylinder_spread::CylinderSpread;
use super::engine::{CylinderRow, Engine};
use super::flow::louder_than_its_flow;
use super::rules::{LAYOUT_UNKNOWN, Names, Rank, Rule, Rules, RulesError, Weight};
use super::signs::{self, Sign};
use crate::caveat::Caveat;
use crate::crank::OpenValves;
use crate::gauge::{Estimate, GaugeScales, GaugeScalesError, Judgement};
use crate::opening::Opening;
use crate::ranking::{Call, SoundAlone};
use crate::units::Level;

/// What a finding is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum About {
    /// One cylinder.
    Cylinder(u32),
    /// The engine as a whole, or these of its cylinders.
    Engine(Vec<u32>),
}

/// How much a cylinder loses, and what that is called.
#[derive(Debug, Clone, PartialEq)]
pub struct Loss {
    /// The best that is known of the cylinder's own loss in percent, with its interval: for comparing cylinders.
    pub percent: Estimate,
    /// The loss of rig and cylinder together as read, in percent: what limits are meant for.
    pub shown_percent: Estimate,
    /// Whether the rig was taken off.
    pub net: bool,
    /// What it is called, and by whom.
    pub judgement: Judgement,
}

/// What the sound says, as far as the finding rests on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Sound {
    /// The call.
    pub call: Call,
    /// Openings with a hiss of their own, likeliest first.
    pub openings: Vec<Opening>,
    /// Where hiss was heard that is only the spill of another opening's.
    pub spill: Vec<Opening>,
    /// The probability of the first of `openings`, where the call is `located`.
    pub probability: Option<f64>,
    /// Where nothing was heard: a hiss above this would have been, with 95 %.
    pub at_most: Option<Level>,
    /// The answer without the gauge, where the gauge has a say in the whole one.
    pub alone: Option<SoundAlone>,
    /// The opening of the usual three at which nobody has listened yet.
    pub missing: Option<Opening>,
    /// What lowers trust in the ranking.
    pub caveats: Vec<Caveat>,
}

/// The cylinder that air crosses to or from, and how it was read itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Partner {
    /// The cylinder.
    pub cylinder: u32,
    /// Whether it loses much too; `None` where it was not read.
    pub low: Option<bool>,
    /// Where this cylinder's air comes out there: what an open valve of that one says of the way.
    pub way_round: Option<WayRound>,
}

/// Which valve of the other cylinder stands open while this one is tested, and so by which manifold air can come round.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum WayRound {
    /// Its exhaust valve.
    Exhaust,
    /// Its intake valve.
    Intake,
    /// One or both; or the firing order is not known.
    Either,
    /// None: both are shut.
    Shut,
}

impl WayRound {
    fn of(open: OpenValves) -> Self {
        match (open.exhaust, open.intake) {
            (true, true) => Self::Either,
            (true, false) => Self::Exhaust,
            (false, true) => Self::Intake,
            (false, false) => Self::Shut,
        }
    }

    /// Its sentence in the catalogue.
    #[must_use]
    pub fn message(self) -> &'static str {
        match self {
            Self::Exhaust => "sure-round-exhaust",
            Self::Intake => "sure-round-intake",
            Self::Either => "sure-round-both",
            Self::Shut => "sure-round-shut",
        }
    }
}

/// One finding: codes and facts. Its sentences are made by [`crate::finding::text_of`].
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Name, also in the catalogue (`finding-…`).
    pub code: String,
    /// What it is about.
    pub about: About,
    /// What it asks of people.
    pub weight: Weight,
    /// Its place in the order of repair.
    pub rank: Option<Rank>,
    /// Whether that loss is called good or bad here.
    pub judged: bool,
    /// How much is lost, where a gauge was read.
    pub loss: Option<Loss>,
    /// What the sound says, where clips were ranked.
    pub sound: Option<Sound>,
    /// Where air crosses between two cylinders: the other one.
    pub partner: Option<Partner>,
    /// The least and the greatest loss of all cylinders in percent, where the finding is about the engine.
    pub range_percent: Option<(f64, f64)>,
    /// Read cold.
    pub cold: bool,
    /// Far above the other cylinders.
    pub stands_out: bool,
    /// All cylinders lose alike.
    pub alike: bool,
    /// What to check next, in order.
    pub next: Vec<String>,
    /// What to mind when doing so.
    pub cautions: Vec<String>,
    /// What comes of it elsewhere in the engine.
    pub follows: Vec<String>,
    /// What it does not say.
    pub silent: Vec<String>,
    /// What lowers trust in the gauge reading.
    pub caveats: Vec<Caveat>,
}

/// All findings of one engine.
#[derive(Debug, Clone, PartialEq)]
pub struct Findings {
    /// Of the engine as a whole.
    pub engine: Vec<Finding>,
    /// One per cylinder tested, ascending.
    pub cylinders: Vec<Finding>,
    /// How the cylinders lie against each other.
    pub spread: CylinderSpread,
    /// All cautions of the procedure, in the order in which they are read out.
    pub cautions: Vec<String>,
}

/// Why there are no findings.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FindingError {
    /// The rule table.
    #[error(transparent)]
    Rules(#[from] RulesError),
    /// The scales.
    #[error(transparent)]
    GaugeScales(#[from] GaugeScalesError),
    /// A row for a cylinder that the engine has not, or two rows for one.
    #[error("cylinder {cylinder} cannot be: this engine has {cylinders}, each with one row")]
    NoCylinder {
        /// The cylinder of the row.
        cylinder: u32,
        /// Cylinders of the engine.
        cylinders: u32,
    },
}

impl Findings {
    /// Draws the findings of an engine with the tables that come with the program.
    ///
    /// # Errors
    /// [`FindingError`] where a row is of no cylinder of this engine.
    ///
    /// ```
    /// use hissward::finding::{CylinderRow, Engine, Findings};
    /// use hissward::gauge::{Conditions, Reading, assess};
    /// use hissward::units::Percent;
    /// let reading = Reading::Share { loss: Percent(4.0), supply: None };
    /// let gauge = Some(assess(&reading, None, &Conditions::default())?);
    /// let rows = vec![CylinderRow { cylinder: 1, gauge, ..CylinderRow::default() }];
    /// let findings = Findings::of(&Engine { cylinders: 1, rows, ..Engine::default() })?;
    /// assert_eq!(findings.cylinders[0].code, "healthy");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of(engine: &Engine) -> Result<Self, FindingError> {
        Self::by(engine, &Rules::embedded()?, &GaugeScales::embedded()?)
    }

    /// Cylinders at which a hiss was located though nothing is to be done: what every healthy engine has.
    #[must_use]
    pub fn with_normal_hiss(&self) -> Vec<u32> {
        let hisses = |finding: &&Finding| {
            finding.weight == Weight::Fine
                && finding.sound.as_ref().is_some_and(|sound| matches!(sound.call, Call::Located | Call::Shared))
        };
        let number = |finding: &Finding| match finding.about {
            About::Cylinder(cylinder) => Some(cylinder),
            About::Engine(_) => None,
        };
        self.cylinders.iter().filter(hisses).filter_map(number).collect()
    }

    /// Draws the findings of an engine with tables of one's own.
    ///
    /// # Errors
    /// [`FindingError`] where a row is of no cylinder of this engine.
    pub fn by(engine: &Engine, rules: &Rules, scales: &GaugeScales) -> Result<Self, FindingError> {
        check_rows(engine)?;
        let spread = CylinderSpread::of(engine, &scales.spread);
        let judged: Vec<(&CylinderRow, Option<Loss>, Sign)> = engine
            .rows
            .iter()
            .map(|row| {
                let loss = loss_of(row, engine, scales)?;
                let out = spread.stand_out.contains(&row.cylinder);
                let sign = signs::loss_sign(row.gauge.as_ref(), loss.as_ref().map(|loss| &loss.judgement), out);
                Ok((row, loss, sign))
            })
            .collect::<Result<_, GaugeScalesError>>()?;
        let losses: Vec<(u32, Sign)> = judged.iter().map(|(row, _, sign)| (row.cylinder, *sign)).collect();
        let unexplained = |cylinder: u32| {
            let lost = [Sign::LostMuch, Sign::LostNearlyAll].iter().any(|sign| losses.contains(&(cylinder, *sign)));
            lost && !signs::explained(cylinder, engine)
        };
        let low_beside =
            |cylinder: u32| losses.iter().any(|(other, _)| engine.beside(cylinder, *other) && unexplained(*other));

        let mut cylinders = Vec::new();
        for (row, loss, sign) in judged {
            let judgement = loss.as_ref().map(|loss| &loss.judgement);
            let mut signs = signs::of_cylinder(row, engine, &spread, sign, judgement);
            if low_beside(row.cylinder) {
                signs.insert(Sign::NeighbourLow);
            }
            if let Some(rule) = rules.cylinder.iter().find(|rule| rule.fits(&signs)) {
                let stands_out = spread.stand_out.contains(&row.cylinder);
                let partner = partner_of(row, engine, &losses);
                let bare = bare(rule, rules, About::Cylinder(row.cylinder), engine);
                let alike = spread.alike;
                cylinders.push(Finding { stands_out, alike, partner, ..cylinder_finding(bare, row, loss) });
            }
        }
        let signs = signs::of_engine(engine, &spread, &losses);
        let fitting = rules.engine.iter().filter(|rule| rule.fits(&signs));
        let low: Vec<u32> =
            losses.iter().map(|(cylinder, _)| *cylinder).filter(|one| unexplained(*one) && low_beside(*one)).collect();
        let whole = fitting.map(|rule| engine_finding(rule, rules, engine, &spread, &low)).collect();
        Ok(Self { engine: whole, cylinders, spread, cautions: rules.all_cautions().to_vec() })
    }

    /// The finding about one cylinder.
    #[must_use]
    pub fn finding_of(&self, cylinder: u32) -> Option<&Finding> {
        self.cylinders.iter().find(|finding| finding.about == About::Cylinder(cylinder))
    }

    /// What to do first: findings that ask for something. The rig, since no reading counts before it holds; coolant,
    /// since such an engine is not run; then the larger loss before the smaller, and of equal ones what is cheaper to
    /// settle. A leaking rig is named once.
    #[must_use]
    pub fn in_order_of_repair(&self) -> Vec<&Finding> {
        let all = self.engine.iter().chain(&self.cylinders).filter(|finding| finding.weight != Weight::Fine);
        let mut due: Vec<(Rank, &Finding)> = all.filter_map(|finding| Some((finding.rank?, finding))).collect();
        let first = |rank: Rank| match rank {
            Rank::Rig => 0,
            Rank::Coolant => 1,
            _ => 2,
        };
        let shown_loss = |finding: &Finding| match &finding.about {
            About::Engine(_) => f64::INFINITY,
            About::Cylinder(_) => finding.loss.as_ref().map_or(0.0, |loss| loss.shown_percent.value),
        };
        // A stable sort: what ties stays in the order of cylinders.
        due.sort_by(|(a, one), (b, other)| {
            let by_loss = shown_loss(other).total_cmp(&shown_loss(one));
            first(*a).cmp(&first(*b)).then(by_loss).then(a.cmp(b))
        });
        due.dedup_by(|later, kept| later.0 == Rank::Rig && kept.0 == Rank::Rig);
        due.into_iter().map(|(_, finding)| finding).collect()
    }
}

fn check_rows(engine: &Engine) -> Result<(), FindingError> {
    let mut last = 0;
    for row in &engine.rows {
        if row.cylinder <= last || row.cylinder > engine.cylinders {
            return Err(FindingError::NoCylinder { cylinder: row.cylinder, cylinders: engine.cylinders });
        }
        last = row.cylinder;
    }
    Ok(())
}

fn loss_of(row: &CylinderRow, engine: &Engine, scales: &GaugeScales) -> Result<Option<Loss>, GaugeScalesError> {
    let Some(gauge) = &row.gauge else {
        return Ok(None);
    };
    let percent = gauge.own_loss_percent();
    let judgement = scales.judge(gauge, engine.maker.as_ref(), engine.scale.as_deref())?;
    let net = gauge.net_loss_percent.is_some();
    Ok(Some(Loss { percent, shown_percent: gauge.loss_percent, net, judgement }))
}

fn sound_of(row: &CylinderRow) -> Option<Sound> {
    let ranking = row.ranking.as_ref()?;
    let hissing = signs::hissing(ranking);
    let spill = ranking.openings.iter().filter(|opening| opening.spill).map(|opening| opening.opening.clone());
    let bounds = ranking.openings.iter().map(|opening| opening.at_most).max_by(|a, b| a.0.total_cmp(&b.0));
    Some(Sound {
        call: ranking.call,
        openings: hissing.iter().map(|opening| opening.opening.clone()).collect(),
        spill: spill.collect(),
        probability: hissing.first().filter(|_| ranking.call == Call::Located).map(|opening| opening.probability),
        at_most: bounds.filter(|_| ranking.call == Call::NoneHeard),
        alone: ranking.sound_alone.clone(),
        missing: signs::missing_place(ranking).cloned(),
        caveats: ranking.caveats.clone(),
    })
}

/// The other cylinder: where this one's air comes out, whose air comes out here, or beside which it is too loud.
fn partner_of(row: &CylinderRow, engine: &Engine, losses: &[(u32, Sign)]) -> Option<Partner> {
    let hissing = row.ranking.as_ref().map(signs::hissing).unwrap_or_default();
    let to = hissing.iter().find_map(|opening| opening.opening.neighbour());
    if let Some(beside) = louder_than_its_flow(row, engine) {
        return Some(Partner { cylinder: beside, low: None, way_round: None });
    }
    let cylinder = to.or_else(|| signs::heard_from(row.cylinder, engine))?;
    let sign = losses.iter().find(|(other, _)| *other == cylinder).map(|(_, sign)| *sign);
    let low = sign.filter(|sign| *sign != Sign::LossUnknown);
    let low = low.map(|sign| matches!(sign, Sign::LostMuch | Sign::LostNearlyAll));
    let way_round = to.map(|other| WayRound::of(engine.open_valves(row.cylinder, other)));
    Some(Partner { cylinder, low, way_round })
}

fn cylinder_finding(bare: Finding, row: &CylinderRow, loss: Option<Loss>) -> Finding {
    let caveats = row.gauge.as_ref().map_or_else(Vec::new, |gauge| gauge.caveats.clone());
    Finding { loss, sound: sound_of(row), cold: row.cold, caveats, ..bare }
}

fn engine_finding(rule: &Rule, rules: &Rules, engine: &Engine, spread: &CylinderSpread, low: &[u32]) -> Finding {
    let cylinders = match rule.names {
        Some(Names::StandingOut) => spread.stand_out.clone(),
        Some(Names::LowNeighbours) => low.to_vec(),
        Some(Names::Untested) => engine.untested(),
        Some(Names::Cold) => engine.rows.iter().filter(|row| row.cold).map(|row| row.cylinder).collect(),
        None => Vec::new(),
    };
    let caveats = match &engine.rig {
        Some(rig) if rule.code == "rig-leaks" => rig.caveats.clone(),
        _ => Vec::new(),
    };
    let range_percent = spread.range_percent;
    Finding { caveats, range_percent, ..bare(rule, rules, About::Engine(cylinders), engine) }
}

fn bare(rule: &Rule, rules: &Rules, about: About, engine: &Engine) -> Finding {
    let mut silent = rule.silent.clone();
    if rule.rests_on_layout() && !engine.layout_known() {
        silent.push(LAYOUT_UNKNOWN.to_owned());
    }
    Finding {
        code: rule.code.clone(),
        about,
        weight: rule.weight,
        rank: rule.rank,
        judged: rule.judged,
        loss: None,
        sound: None,
        partner: None,
        range_percent: None,
        cold: false,
        stands_out: false,
        alike: false,
        next: rule.next.clone(),
        cautions: rules.cautions(&rule.next),
        follows: rule.follows.clone(),
        silent,
        caveats: Vec::new(),
    }
}
