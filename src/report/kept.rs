//! A kept ranking read back: what of it a history needs.

use serde::Deserialize;

use super::error::ReportError;
use super::json::FORMAT;
use crate::history::CylinderCall;
use crate::opening::Opening;
use crate::ranking::Call;

/// One cylinder's call in a kept ranking.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptCall {
    /// The cylinder; `None` for loose clips.
    pub cylinder: Option<u32>,
    /// What was heard.
    pub heard: CylinderCall,
}

/// A ranking as [`super::kept_json`] wrote it.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptRanking {
    /// The hash of the clips that were ranked; `None` where the text does not say.
    pub clips_sha256: Option<String>,
    /// The calls.
    pub calls: Vec<KeptCall>,
}

#[derive(Deserialize)]
struct Whole {
    format: u32,
    results: Vec<Cylinder>,
    clips_sha256: Option<String>,
}

#[derive(Deserialize)]
struct Cylinder {
    cylinder: Option<u32>,
    call: String,
    answer_set: Vec<String>,
    openings: Vec<KeptOpening>,
}

#[derive(Deserialize)]
struct KeptOpening {
    probability: Option<f64>,
}

impl KeptRanking {
    /// Reads a kept ranking.
    ///
    /// # Errors
    /// [`ReportError::Kept`] where the text is none of this format.
    pub fn read(text: &str) -> Result<Self, ReportError> {
        let whole: Whole = serde_json::from_str(text).map_err(|error| unfit(&error))?;
        if whole.format != FORMAT {
            return Err(unfit(&format!("format {} is not known here", whole.format)));
        }
        let calls = whole.results.into_iter().map(call_of).collect::<Result<_, _>>()?;
        Ok(Self { clips_sha256: whole.clips_sha256, calls })
    }
}

/// What is wrong, cut to a line or two: it may repeat what stands in the file.
fn unfit(what: &dyn std::fmt::Display) -> ReportError {
    const LONGEST: usize = 300;
    let mut text: String = what.to_string().chars().take(LONGEST + 1).collect();
    if text.chars().count() > LONGEST {
        text.pop();
        text.push('…');
    }
    ReportError::Kept(text)
}

fn call_of(kept: Cylinder) -> Result<KeptCall, ReportError> {
    let known = [Call::Located, Call::Shared, Call::NoneHeard, Call::CannotTell];
    let call = known.into_iter().find(|call| call.name() == kept.call);
    let call = call.ok_or_else(|| unfit(&format!("'{}' is not a valid call", kept.call.escape_debug())))?;
    let places = kept.answer_set.iter().filter(|name| !matches!(name.as_str(), "elsewhere" | "tight"));
    let openings =
        places.map(|name| name.parse::<Opening>().map_err(|error| unfit(&error))).collect::<Result<Vec<_>, _>>()?;
    let probability = kept.openings.first().and_then(|place| place.probability);
    Ok(KeptCall { cylinder: kept.cylinder, heard: CylinderCall { call, openings, probability } })
}
