//! What a loss is called, and by whom: bands read as data, the maker's limit first.

use serde::Deserialize;

use super::doubt::Estimate;

/// The bands that come with the program.
const EMBEDDED: &str = include_str!("bands.toml");

/// Stands in place of a band's id where the maker's limit decides.
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
pub struct Band {
    /// Stable name, also in the catalogue (`band-…`).
    pub id: String,
    /// Where it stands.
    pub source: String,
    /// Whether the source was read.
    pub seen: bool,
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

impl Band {
    /// What this scale calls a loss, in percent.
    #[must_use]
    pub fn verdict(&self, loss_percent: f64) -> Verdict {
        self.steps.iter().find(|step| step.holds(loss_percent)).map_or(self.above, |step| step.verdict)
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
pub struct Bands {
    default: String,
    /// The scales, in the order of the file.
    #[serde(rename = "band")]
    pub bands: Vec<Band>,
    /// How cylinders are held against each other.
    pub spread: Spread,
}

/// What the maker of the engine allows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MakersLimit {
    /// Over this loss, in percent, the maker calls for work.
    pub loss_percent: Option<f64>,
    /// Over this difference between cylinders, in percentage points, the maker calls for work.
    pub spread_points: Option<f64>,
    /// Where that stands: manual and page.
    pub source: Option<String>,
}

/// What a loss is called, by whom, and what others would say.
#[derive(Debug, Clone, PartialEq)]
pub struct Judgement {
    /// The verdict.
    pub verdict: Verdict,
    /// The scale it comes from: a band's id, or `maker`.
    pub band: String,
    /// Its source.
    pub source: String,
    /// Where that scale begins to call a cylinder suspect.
    pub suspect_edge: Option<Edge>,
    /// The reading's doubt reaches over that edge.
    pub on_the_edge: bool,
    /// What the published scales would say that say otherwise: band id and verdict.
    pub others: Vec<(String, Verdict)>,
}

/// Why bands cannot be read.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum BandsError {
    /// The text is not of the format.
    #[error("the bands of loss cannot be read: {0}; see src/gauge/bands.toml for the format")]
    Format(String),
    /// The default band is not among them.
    #[error("the bands of loss name '{0}' as the default, but there is no such band")]
    NoDefault(String),
}

impl Bands {
    /// The bands that come with the program.
    ///
    /// # Errors
    /// [`BandsError`] where they cannot be read, which a test rules out.
    ///
    /// ```
    /// use hissward::gauge::{Bands, Verdict};
    /// let bands = Bands::embedded()?;
    /// assert_eq!(bands.band("aircraft").map(|band| band.verdict(26.0)), Some(Verdict::Suspect));
    /// # Ok::<(), hissward::gauge::BandsError>(())
    /// ```
    pub fn embedded() -> Result<Self, BandsError> {
        Self::read(EMBEDDED)
    }

    /// Reads bands from a text of the format of `bands.toml`.
    ///
    /// # Errors
    /// [`BandsError`] where the text is not of the format or its default is missing.
    pub fn read(text: &str) -> Result<Self, BandsError> {
        let bands: Self = toml::from_str(text).map_err(|error| BandsError::Format(error.to_string()))?;
        let without_end = |band: &&Band| band.steps.iter().any(|step| step.end().is_none());
        if let Some(band) = bands.bands.iter().find(without_end) {
            let what = format!("a step of {} needs either up_to_percent or below_percent", band.id);
            return Err(BandsError::Format(what));
        }
        match bands.band(&bands.default) {
            Some(_) => Ok(bands),
            None => Err(BandsError::NoDefault(bands.default)),
        }
    }

    /// A scale by its id.
    #[must_use]
    pub fn band(&self, id: &str) -> Option<&Band> {
        self.bands.iter().find(|band| band.id == id)
    }

    /// Judges a loss: by the maker's limit where there is one, else by the scale asked for, else by the default.
    ///
    /// A maker's limit says what is suspect; below it the default scale says how good.
    ///
    /// # Errors
    /// [`BandsError::NoDefault`] where the default scale is missing.
    pub fn judge(
        &self,
        loss: Estimate,
        maker: Option<&MakersLimit>,
        scale: Option<&str>,
    ) -> Result<Judgement, BandsError> {
        let band = scale
            .and_then(|id| self.band(id))
            .or_else(|| self.band(&self.default))
            .ok_or_else(|| BandsError::NoDefault(self.default.clone()))?;
        let limit = maker.and_then(|maker| maker.loss_percent);
        let call = |percent: f64| match limit {
            Some(limit) if percent > limit => Verdict::Suspect,
            Some(_) => band.verdict(percent).min(Verdict::Fair),
            None => band.verdict(percent),
        };
        let verdict = call(loss.value);
        let is_suspect = |verdict| verdict == Verdict::Suspect;
        // Only suspect or not is common to all scales.
        let others = self.bands.iter().filter(|other| other.seen && other.id != band.id);
        let others = others.map(|other| (other.id.clone(), other.verdict(loss.value)));
        let others = others.filter(|(_, said)| is_suspect(*said) != is_suspect(verdict));
        let makers_source = || maker.and_then(|maker| maker.source.clone()).unwrap_or_else(|| "as given".to_owned());
        Ok(Judgement {
            verdict,
            band: limit.map_or_else(|| band.id.clone(), |_| MAKER.to_owned()),
            source: limit.map_or_else(|| band.source.clone(), |_| makers_source()),
            suspect_edge: limit.map(Edge::Over).or_else(|| band.suspect_edge()),
            on_the_edge: [loss.low, loss.high].into_iter().any(|end| is_suspect(call(end)) != is_suspect(verdict)),
            others: others.collect(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn exactly(value: f64) -> Estimate {
        Estimate { value, low: value, high: value }
    }

    #[test]
    fn published_limits_are_in_the_embedded_bands() {
        let bands = Bands::embedded().expect("the embedded bands are readable");
        let suspect = |id: &str, percent: f64| bands.band(id).expect("the band").verdict(percent) == Verdict::Suspect;
        // FAA AC 43.13-1B ch. 8 (i), seen: "more than 25 %" is cause to suspect the cylinder.
        assert!(!suspect("aircraft", 25.0) && suspect("aircraft", 25.1));
        // A light-truck service manual, seen: over 20 % excessive.
        assert!(!suspect("light-truck", 20.0) && suspect("light-truck", 20.1));
        // A motorcycle service manual, seen: 0–5 % desirable, 6–14 % acceptable.
        assert_eq!(bands.band("motorcycle-new").expect("the band").verdict(5.0), Verdict::Excellent);
        assert!(!suspect("motorcycle-new", 14.0) && suspect("motorcycle-new", 15.0));
        // Common practice, no source: 5 excellent, under 10 good, 20 needs work.
        assert_eq!(bands.band("common-practice").expect("the band").verdict(9.9), Verdict::Good);
        assert_eq!(bands.band("common-practice").expect("the band").verdict(10.0), Verdict::Fair);
        assert!(!suspect("common-practice", 19.9) && suspect("common-practice", 20.0));
    }

    #[test]
    fn the_makers_limit_comes_first() {
        let bands = Bands::embedded().expect("the embedded bands are readable");
        let limit = MakersLimit { loss_percent: Some(30.0), ..MakersLimit::default() };
        let limit = Some(&limit);
        let judged = bands.judge(exactly(27.0), limit, None).expect("judged");
        assert_eq!((judged.verdict, judged.band.as_str()), (Verdict::Fair, "maker"));
        assert_eq!(judged.others.len(), 3, "aircraft, motorcycle and light truck would call 27 % suspect");
        let judged = bands.judge(exactly(31.0), limit, None).expect("judged");
        assert_eq!(judged.verdict, Verdict::Suspect);
    }

    #[test]
    fn a_reading_on_the_edge_says_so() {
        let bands = Bands::embedded().expect("the embedded bands are readable");
        let edge = Estimate { value: 19.0, low: 17.0, high: 21.0 };
        assert!(bands.judge(edge, None, None).expect("judged").on_the_edge);
        assert!(!bands.judge(exactly(15.0), None, None).expect("judged").on_the_edge);
    }

    #[test]
    fn faults_in_the_data_are_told() {
        assert!(matches!(Bands::read("nonsense"), Err(BandsError::Format(_))));
        let missing = "default = 'x'\nband = []\n[spread]\nstands_out_points=1.0\nalike_points=1.0\nsource=''";
        assert_eq!(Bands::read(missing), Err(BandsError::NoDefault("x".to_owned())));
    }
}
