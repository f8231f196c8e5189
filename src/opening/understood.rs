//! What people call an opening.

use super::{Opening, OpeningError};

/// Words of the trade for the openings there are. Crankcase openings keep their own names: all of them point at the rings.
/// Common practice, no source.
const WORDS: [(&str, &[&str]); 8] = [
    (
        "intake",
        &[
            "inlet",
            "intake",
            "air-intake",
            "intake-manifold",
            "inlet-manifold",
            "intake-valve",
            "inlet-valve",
            "carb",
            "carburetor",
            "carburettor",
            "carburator",
            "throttle",
            "throttle-body",
            "air-filter",
            "airbox",
            "einlass",
            "ansaugung",
            "ansaugrohr",
            "vergaser",
            "luftfilter",
        ],
    ),
    (
        "exhaust",
        &[
            "exhaust",
            "exhaust-pipe",
            "exhaust-manifold",
            "exhaust-valve",
            "outlet",
            "tailpipe",
            "tail-pipe",
            "muffler",
            "silencer",
            "auslass",
            "auspuff",
        ],
    ),
    (
        "oil-filler",
        &[
            "oil-filler",
            "oilfiller",
            "oil",
            "oil-cap",
            "oil-fill",
            "oil-filler-cap",
            "filler",
            "oel",
            "oeleinfuellung",
            "öleinfüllung",
            "öldeckel",
            "öleinfüllstutzen",
        ],
    ),
    ("dipstick", &["dipstick", "dip-stick", "dipstick-tube", "oil-dipstick", "ölmessstab", "peilstab"]),
    ("breather", &["breather", "crankcase-breather", "pcv", "pcv-valve", "entlüftung", "kurbelgehäuseentlüftung"]),
    ("crankcase", &["crankcase", "crank-case", "sump", "oil-pan", "kurbelgehäuse", "kurbelraum"]),
    (
        "coolant-filler",
        &[
            "coolant-filler",
            "coolant",
            "coolantfiller",
            "radiator",
            "radiator-cap",
            "radiator-filler",
            "water",
            "expansion-tank",
            "header-tank",
            "kühler",
            "kühlwasser",
            "kühlmittel",
            "ausgleichsbehälter",
        ],
    ),
    (
        "rig",
        &["rig", "test-rig", "hose", "adapter", "adaptor", "fitting", "coupler", "coupling", "plug-seat", "schlauch"],
    ),
];

/// Words that come before a neighbour cylinder's number.
const PLUG_HOLES: [&str; 8] =
    ["plug-hole", "plughole", "spark-plug-hole", "spark-plug", "plug", "neighbour", "neighbor", "kerzenloch"];

/// Two words are taken for one with a slip where so few letters differ.
const MOST_SLIPS: usize = 2;

/// What a word for an opening means.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Understood {
    /// An opening that is known.
    Known(Opening),
    /// A name that nobody knows yet.
    Unknown {
        /// The name as it would be kept.
        opening: Opening,
        /// A known opening that is written much alike.
        like: Option<Opening>,
    },
}

/// An opening that nobody knows, where only a known one is taken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "'{name}' is not a known opening{like}: known are intake, exhaust, oil-filler, dipstick, breather, crankcase, \
    coolant-filler, plug-hole-N and rig; add --new-opening if it is a place of its own"
)]
pub struct UnknownOpening {
    name: Opening,
    like: String,
}

/// Why a word is not taken for an opening.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NamingError {
    /// It is no name.
    #[error(transparent)]
    NoName(#[from] OpeningError),
    /// Nobody knows it.
    #[error(transparent)]
    Unknown(#[from] UnknownOpening),
}

impl Understood {
    /// What a word means: capitals, blanks and underscores do not matter, and the trade's other words are known.
    ///
    /// ```
    /// use hissward::opening::Understood;
    /// let means = |text: &str| Understood::of(text).map(|understood| format!("{understood:?}"));
    /// assert!(means("Oil filler")?.contains("Known(Opening(\"oil-filler\"))"));
    /// assert!(means("inlet")?.contains("intake"));
    /// assert!(means("oilfillr")?.contains("Unknown"));
    /// # Ok::<(), hissward::opening::OpeningError>(())
    /// ```
    ///
    /// # Errors
    /// [`OpeningError`] where it cannot be a name.
    pub fn of(text: &str) -> Result<Self, OpeningError> {
        let plain = plain(text);
        if let Some(number) = neighbour_of(&plain) {
            return Ok(Self::Known(format!("plug-hole-{number}").parse()?));
        }
        if let Some((name, _)) = WORDS.iter().find(|(_, words)| words.contains(&plain.as_str())) {
            return Ok(Self::Known(name.parse()?));
        }
        // What cannot be a name is told as it was written.
        let opening: Opening = plain.parse().map_err(|_| OpeningError { got: text.chars().take(80).collect() })?;
        let slips = |word: &str| strsim::osa_distance(word, &plain);
        let nearest = WORDS.iter().flat_map(|(name, words)| words.iter().map(move |word| (slips(word), *name))).min();
        let like = nearest.filter(|(slips, _)| *slips <= MOST_SLIPS && plain.len() > 2 * MOST_SLIPS);
        Ok(Self::Unknown { opening, like: like.and_then(|(_, name)| name.parse().ok()) })
    }

    /// The opening, where it is known: to everybody, to this job (`known`), or insisted on (`new`).
    ///
    /// # Errors
    /// [`NamingError`] where it is none, or nobody knows it.
    pub fn opening(text: &str, known: &[Opening], new: bool) -> Result<Opening, NamingError> {
        match Self::of(text)? {
            Self::Known(opening) => Ok(opening),
            Self::Unknown { opening, .. } if new || known.contains(&opening) => Ok(opening),
            Self::Unknown { opening, like } => {
                let like = like.map_or_else(String::new, |like| format!(" (did you mean {like}?)"));
                Err(UnknownOpening { name: opening, like }.into())
            }
        }
    }
}

/// Small letters, and single hyphens for what stands between words.
fn plain(text: &str) -> String {
    let parts = text.trim().to_lowercase();
    let parts = parts.split([' ', '_', '-']).filter(|part| !part.is_empty());
    parts.collect::<Vec<_>>().join("-")
}

/// The number behind a word for a plug hole; one with too many digits is the highest there is, and no engine has it.
fn neighbour_of(plain: &str) -> Option<u32> {
    let digits = plain.len() - plain.trim_end_matches(|c: char| c.is_ascii_digit()).len();
    let (word, number) = plain.split_at(plain.len() - digits);
    (digits > 0 && PLUG_HOLES.contains(&word.trim_end_matches('-'))).then(|| number.parse().unwrap_or(u32::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::opening::EscapePath;

    fn known(text: &str) -> Option<Opening> {
        match Understood::of(text) {
            Ok(Understood::Known(opening)) => Some(opening),
            _ => None,
        }
    }

    #[test]
    fn words_of_the_trade_are_understood() {
        for (said, meant) in [
            ("inlet", "intake"),
            ("Carburetor", "intake"),
            ("oilfiller", "oil-filler"),
            ("oil filler", "oil-filler"),
            ("OIL_FILLER", "oil-filler"),
            ("tailpipe", "exhaust"),
            ("radiator", "coolant-filler"),
            ("hose", "rig"),
            ("plug hole 2", "plug-hole-2"),
            ("spark-plug-03", "plug-hole-3"),
        ] {
            assert_eq!(known(said).as_ref().map(Opening::name), Some(meant), "{said}");
        }
        for said in ["crankcase", "Breather", "dip stick"] {
            assert_eq!(known(said).map(|opening| opening.path()), Some(EscapePath::RingsOrBore), "{said}");
        }
    }

    #[test]
    fn what_nobody_knows_is_asked_about_and_taken_where_it_is_insisted_on() {
        let told = Understood::opening("exhuast", &[], false).expect_err("a slip").to_string();
        assert!(told.contains("did you mean exhaust?") && told.contains("--new-opening"), "{told}");
        let told = Understood::opening("water pump seal", &[], false).expect_err("its own").to_string();
        assert!(!told.contains("did you mean"), "{told}");
        let taken = Understood::opening("water pump seal", &[], true).expect("insisted on");
        assert_eq!(taken.name(), "water-pump-seal");
        assert_eq!(
            Understood::opening("water-pump-seal", std::slice::from_ref(&taken), false),
            Ok(taken),
            "the job knows it"
        );
        assert!(Understood::of("../etc").is_err());
    }

    #[test]
    fn a_plug_hole_beyond_all_engines_is_none_by_chance() {
        let far = known("plug-hole-99999999999").expect("a number");
        assert_eq!(far.neighbour(), Some(u32::MAX));
    }
}
