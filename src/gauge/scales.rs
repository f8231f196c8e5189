//! What a loss is called, and by whom: scales read as data, the maker's limit first.

use serde::Deserialize;

use super::assessment::Assessment;
use super::doubt::Estimate;
use crate::units::Length;

/// The scales that come with the program.
const EMBEDDED: &str = include_str!("scales.toml");

/// Stands in place of a scale's id where the maker's limit decides.
const MAKER: &str = "maker";

/// What a loss is called.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// As good as such engines get.
    Excellent,
    /// Nothing to do.
    Good,
    /// In use, to be watched.
    Fair,
    /// Cause to look for the leak.
    Suspect,
}

impl Verdict {
    /// The name as written in files and in the catalogue (`verdict-…`).
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Excellent => "excellent",
            Self::Good => "good",
            Self::Fair => "fair",
            Self::Suspect => "suspect",
        }
    }
}

/// One published (or practised) scale.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GaugeScale {
    /// Stable name, also in the catalogue (`band-…`).
    pub id: String,
    /// Where it stands.
    pub source: String,
    /// Whether the source was read.
    pub seen: bool,
    /// Diameters of the restrictors it is meant for, in inches.
    restrictors_in: Vec<f64>,
    steps: Vec<Step>,
    above: Verdict,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Step {
    up_to_percent: Option<f64>,
    below_percent: Option<f64>,
    verdict: Verdict,
}

/// Where a scale begins to call a cylinder suspect.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Edge {
    /// Over this loss, in percent.
    Over(f64),
    /// From this loss on, in percent.
    From(f64),
}

impl Edge {
    /// The figure, in percent.
    #[must_use]
    pub fn percent(self) -> f64 {
        match self {
            Self::Over(percent) | Self::From(percent) => percent,
        }
    }
}

impl Step {
    /// Where what lies above this step begins.
    fn end(&self) -> Option<Edge> {
        match (self.up_to_percent, self.below_percent) {
            (Some(percent), None) => Some(Edge::Over(percent)),
            (None, Some(percent)) => Some(Edge::From(percent)),
            _ => None,
        }
    }

    fn holds(&self, loss_percent: f64) -> bool {
        match self.end() {
            Some(Edge::Over(percent)) => loss_percent <= percent,
            Some(Edge::From(percent)) => loss_percent < percent,
            None => false,
        }
    }
}

impl GaugeScale {
    /// What this scale calls a loss, in percent.
    #[must_use]
    pub fn verdict(&self, loss_percent: f64) -> Verdict {
        self.steps.iter().find(|step| step.holds(loss_percent)).map_or(self.above, |step| step.verdict)
    }

    /// The restrictors it is meant for.
    fn restrictors(&self) -> Vec<Length> {
        self.restrictors_in.iter().map(|inches| Length::from_inches(*inches)).collect()
    }

    /// Where a cylinder begins to be suspect, where the scale says so.
    #[must_use]
    pub fn suspect_edge(&self) -> Option<Edge> {
        self.steps.iter().rev().find(|step| step.verdict < Verdict::Suspect).and_then(Step::end)
    }
}

/// How cylinders are held against each other.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Spread {
    /// Percentage points over the median of the others from which a cylinder stands out.
    pub stands_out_points: f64,
    /// Percentage points between best and worst up to which the cylinders are alike.
    pub alike_points: f64,
    /// Where the figures come from.
    pub source: String,
}

/// All scales.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GaugeScales {
    default: String,
    /// The scales, in the order of the file.
    #[serde(rename = "band")]
    pub scales: Vec<GaugeScale>,
    /// How cylinders are held against each other.
    pub spread: Spread,
}

/// What the maker of the engine allows. It is meant for the reading as read.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MakersLimit {
    /// Over this loss, in percent, the maker calls for work.
    pub loss_percent: Option<f64>,
    /// Over this difference between cylinders, in percentage points, the maker calls for work.
    pub spread_points: Option<f64>,
    /// The restrictor that limit is meant for, where the maker names one.
    pub restrictor: Option<Length>,
    /// Where that stands: manual and page.
    pub source: Option<String>,
}

/// A reading as it would be through the restrictor that a limit is meant for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Converted {
    /// The restrictor of the limit.
    pub restrictor: Length,
    /// The loss in percent that the same leak would read through it.
    pub loss_percent: Estimate,
}

/// What a loss is called, by whom, and what others would say.
#[derive(Debug, Clone, PartialEq)]
pub struct Judgement {
    /// The verdict on the reading as read.
    pub verdict: Verdict,
    /// The scale it comes from: a scale's id, or `maker`.
    pub scale: String,
    /// Its source.
    pub source: String,
    /// Where that scale begins to call a cylinder suspect.
    pub suspect_edge: Option<Edge>,
    /// The reading is that edge, within what the gauges resolve.
    pub at_the_limit: bool,
    /// The reading through the restrictor of the limit, where the tester's is another one.
    pub converted: Option<Converted>,
    /// What the loss with the rig taken off would be judged, where the rig was read. For comparing only: no limit is
    /// meant for it.
    pub net_verdict: Option<Verdict>,
    /// What the published scales would say that say otherwise: scale id and verdict.
    pub others: Vec<(String, Verdict)>,
}

/// Why scales cannot be read.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum GaugeScalesError {
    /// The text is not of the format.
    #[error("the scales of loss cannot be read: {0}; see src/gauge/scales.toml for the format")]
    Format(String),
    /// The default scale is not among them.
    #[error("the scales of loss name '{0}' as the default, but there is no such scale")]
    NoDefault(String),
}

impl GaugeScales {
    /// The scales that come with the program.
    ///
    /// # Errors
    /// [`GaugeScalesError`] where they cannot be read, which a test rules out.
    ///
    /// ```
    /// use hissward::gauge::{GaugeScales, Verdict};
    /// let scales = GaugeScales::embedded()?;
    /// assert_eq!(scales.scale("aircraft").map(|scale| scale.verdict(26.0)), Some(Verdict::Suspect));
    /// # Ok::<(), hissward::gauge::GaugeScalesError>(())
    /// ```
    pub fn embedded() -> Result<Self, GaugeScalesError> {
        Self::read(EMBEDDED)
    }

    /// Reads scales from a text of the format of `scales.toml`.
    ///
    /// # Errors
    /// [`GaugeScalesError`] where the text is not of the format or its default is missing.
    pub fn read(text: &str) -> Result<Self, GaugeScalesError> {
        let scales: Self = toml::from_str(text).map_err(|error| GaugeScalesError::Format(error.to_string()))?;
        let without_end = |scale: &&GaugeScale| scale.steps.iter().any(|step| step.end().is_none());
        if let Some(scale) = scales.scales.iter().find(without_end) {
            let what = format!("a step of {} needs either up_to_percent or below_percent", scale.id);
            return Err(GaugeScalesError::Format(what));
        }
        match scales.scale(&scales.default) {
            Some(_) => Ok(scales),
            None => Err(GaugeScalesError::NoDefault(scales.default)),
        }
    }

    /// A scale by its id.
    #[must_use]
    pub fn scale(&self, id: &str) -> Option<&GaugeScale> {
        self.scales.iter().find(|scale| scale.id == id)
    }

    /// Judges a reading: by the maker's limit where there is one, else by the scale asked for, else by the default.
    ///
    /// A maker's limit says what is suspect; below it the default scale says how good.
    ///
    /// # Errors
    /// [`GaugeScalesError::NoDefault`] where the default scale is missing.
    pub fn judge(
        &self,
        reading: &Assessment,
        maker: Option<&MakersLimit>,
        scale: Option<&str>,
    ) -> Result<Judgement, GaugeScalesError> {
        let by = scale
            .and_then(|id| self.scale(id))
            .or_else(|| self.scale(&self.default))
            .ok_or_else(|| GaugeScalesError::NoDefault(self.default.clone()))?;
        let limit = maker.and_then(|maker| maker.loss_percent);
        let call = |percent: f64| match limit {
            Some(limit) if percent > limit => Verdict::Suspect,
            Some(_) => by.verdict(percent).min(Verdict::Fair),
            None => by.verdict(percent),
        };
        let meant_for = match limit {
            Some(_) => Vec::from_iter(maker.and_then(|maker| maker.restrictor)),
            None => by.restrictors(),
        };
        let converted = through(reading, &meant_for, reading.loss_percent);
        let loss = converted.map_or(reading.loss_percent, |converted| converted.loss_percent);
        let net =
            reading.net_loss_percent.map(|net| through(reading, &meant_for, net).map_or(net, |net| net.loss_percent));
        let verdict = call(loss.value);
        let suspect_edge = limit.map(Edge::Over).or_else(|| by.suspect_edge());
        let at_the_limit = suspect_edge.is_some_and(|edge| (loss.low..=loss.high).contains(&edge.percent()));
        let makers_source = || maker.and_then(|maker| maker.source.clone()).unwrap_or_else(|| "as given".to_owned());
        Ok(Judgement {
            verdict,
            scale: limit.map_or_else(|| by.id.clone(), |_| MAKER.to_owned()),
            source: limit.map_or_else(|| by.source.clone(), |_| makers_source()),
            suspect_edge,
            at_the_limit,
            converted,
            net_verdict: net.map(|net| call(net.value)),
            others: if at_the_limit { Vec::new() } else { self.others(reading, by, verdict) },
        })
    }

    /// What published scales say that say otherwise; only suspect or not is common to all scales.
    fn others(&self, reading: &Assessment, than: &GaugeScale, verdict: Verdict) -> Vec<(String, Verdict)> {
        let is_suspect = |verdict| verdict == Verdict::Suspect;
        let others = self.scales.iter().filter(|other| other.seen && other.id != than.id);
        let others = others.map(|other| {
            let converted = through(reading, &other.restrictors(), reading.loss_percent);
            let loss = converted.map_or(reading.loss_percent, |converted| converted.loss_percent);
            (other.id.clone(), other.verdict(loss.value))
        });
        others.filter(|(_, said)| is_suspect(*said) != is_suspect(verdict)).collect()
    }
}

/// How far two diameters may lie apart to be the same restrictor: 0.040 in is 1.016 mm, and people say 1 mm.
const SAME_RESTRICTOR: f64 = 0.03;

/// A loss of a reading through the first of these restrictors; `None` where the tester has one of them, or its
/// restrictor is not known, or none is named.
fn through(reading: &Assessment, meant_for: &[Length], loss: Estimate) -> Option<Converted> {
    let own = reading.conditions.restrictor?;
    let same = |other: &Length| (own.0 / other.0 - 1.0).abs() <= SAME_RESTRICTOR;
    let restrictor = *meant_for.first().filter(|_| !meant_for.iter().any(same))?;
    Some(Converted { restrictor, loss_percent: reading.through(restrictor, loss)? })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gauge::{Conditions, Reading, assess};
    use crate::units::{GaugePressure, Percent};

    /// Read through a restrictor of so many inches.
    fn read(loss: f64, restrictor_in: Option<f64>) -> Assessment {
        let conditions = Conditions {
            restrictor: restrictor_in.map(Length::from_inches),
            percent_resolution: Percent(0.01),
            ..Conditions::default()
        };
        assess(&Reading::Share { loss: Percent(loss), supply: None }, None, &conditions).expect("a reading")
    }

    #[test]
    fn published_limits_are_in_the_embedded_bands() {
        let scales = GaugeScales::embedded().expect("the embedded scales are readable");
        let suspect =
            |id: &str, percent: f64| scales.scale(id).expect("the scale").verdict(percent) == Verdict::Suspect;
        // FAA AC 43.13-1B ch. 8 (i), seen: "more than 25 %" is cause to suspect the cylinder.
        assert!(!suspect("aircraft", 25.0) && suspect("aircraft", 25.1));
        // Common practice, no source: 5 excellent, under 10 good, 20 needs work.
        assert_eq!(scales.scale("common-practice").expect("the scale").verdict(9.9), Verdict::Good);
        assert_eq!(scales.scale("common-practice").expect("the scale").verdict(10.0), Verdict::Fair);
        assert!(!suspect("common-practice", 19.9) && suspect("common-practice", 20.0));
        // What has no source says so, and what was not read is not called published.
        assert!(scales.scales.iter().all(|scale| scale.seen != scale.source.contains("no source")));
    }

    #[test]
    fn the_makers_limit_comes_first() {
        let scales = GaugeScales::embedded().expect("the embedded scales are readable");
        let limit = MakersLimit { loss_percent: Some(30.0), ..MakersLimit::default() };
        let limit = Some(&limit);
        let judged = scales.judge(&read(27.0, None), limit, None).expect("judged");
        assert_eq!((judged.verdict, judged.scale.as_str()), (Verdict::Fair, "maker"));
        assert_eq!(judged.others, [("aircraft".to_owned(), Verdict::Suspect)]);
        let judged = scales.judge(&read(31.0, None), limit, None).expect("judged");
        assert_eq!(judged.verdict, Verdict::Suspect);
    }

    #[test]
    fn a_reading_equal_to_the_limit_is_at_it() {
        let scales = GaugeScales::embedded().expect("the embedded scales are readable");
        let psi = GaugePressure::from_psi;
        let reading = |held| Reading::Pressures { supply: psi(80.0), held: psi(held) };
        let found = |held| assess(&reading(held), None, &Conditions::default()).expect("a reading");
        let at = |held| scales.judge(&found(held), None, Some("aircraft")).expect("judged").at_the_limit;
        // FAA AC 43.13-1B ch. 8 (i): 60/80 is 25 %; a gauge read to 1 psi does not tell it from 60.5/80.
        assert!(at(60.0) && at(60.5) && at(59.5));
        assert!(!at(62.0) && !at(58.0));
    }

    #[test]
    fn a_limit_is_held_against_the_reading_through_its_restrictor() {
        let scales = GaugeScales::embedded().expect("the embedded scales are readable");
        let aircraft =
            |loss, restrictor| scales.judge(&read(loss, restrictor), None, Some("aircraft")).expect("judged");
        // FAA safety tip, Nov. 2011: both restrictors are the source's own, so nothing is converted.
        assert_eq!(aircraft(26.0, Some(0.060)).converted, None);
        assert_eq!(aircraft(26.0, Some(1.0 / 25.4)).converted, None, "1 mm is called 0.040 in");
        assert_eq!(aircraft(26.0, None).converted, None);
        // calc, isentropic nozzles: 25 % through 0.040 in is 5.9 % through 0.060 in.
        let common = scales.judge(&read(5.9, Some(0.060)), None, None).expect("judged");
        let converted = common.converted.expect("converted");
        assert!((converted.loss_percent.value - 25.0).abs() < 0.2, "{converted:?}");
        assert_eq!(common.verdict, Verdict::Suspect);
    }

    #[test]
    fn the_reading_is_judged_as_read_and_the_net_loss_beside_it() {
        let scales = GaugeScales::embedded().expect("the embedded scales are readable");
        let psi = GaugePressure::from_psi;
        let reading = |held| Reading::Pressures { supply: psi(80.0), held: psi(held) };
        let found = assess(&reading(55.0), Some(&reading(77.0)), &Conditions::default()).expect("a reading");
        let limit = MakersLimit { loss_percent: Some(25.0), ..MakersLimit::default() };
        let judged = scales.judge(&found, Some(&limit), None).expect("judged");
        // 100·(80 − 55)/80 = 31.25 % (AC 43.13-1B ch. 8 (i)).
        assert_eq!((judged.verdict, judged.net_verdict), (Verdict::Suspect, Some(Verdict::Fair)));
    }

    #[test]
    fn faults_in_the_data_are_told() {
        assert!(matches!(GaugeScales::read("nonsense"), Err(GaugeScalesError::Format(_))));
        let missing = "default = 'x'\nband = []\n[spread]\nstands_out_points=1.0\nalike_points=1.0\nsource=''";
        assert_eq!(GaugeScales::read(missing), Err(GaugeScalesError::NoDefault("x".to_owned())));
    }
}
