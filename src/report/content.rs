//! What the report of a job says: values in, a [`Document`] out. Page one is the whole answer; all else is the appendix.

use super::document::{Block, Document, PaperWords, Section};
use super::error::ReportError;
use super::front;
use super::input::ReportInput;
use super::technician;
use crate::caveat::Fact;

/// The report as a document.
///
/// # Errors
/// [`ReportError::Picture`] where a picture cannot be laid out.
pub fn document(input: &ReportInput<'_>) -> Result<Document, ReportError> {
    let words = input.words;
    let say = |name: &str| words.say(name, &[]);
    let version = [("version", Fact::Text(env!("CARGO_PKG_VERSION").to_owned()))];
    let mut sections = front::sections(input)?;
    let mut rest = technician::sections(input)?;
    rest.retain(|section| !section.blocks.is_empty());
    if let Some(first) = rest.first_mut() {
        first.opens_part = true;
    }
    sections.extend(rest);
    if let Some(text) = input.letterhead.and_then(|head| head.text.clone()).filter(|text| !text.trim().is_empty()) {
        sections.push(section(None, vec![Block::Paragraph(text)]));
    }
    sections.retain(|section| !section.blocks.is_empty());
    Ok(Document {
        language: words.language().to_owned(),
        letterhead: input.letterhead.cloned(),
        title: say("report-title"),
        subject: input.head.engine.clone(),
        sections,
        appendix: say("report-appendix"),
        colophon: words.say("report-colophon", &version),
        paper: PaperWords { page_of: say("report-page-of"), signs_missing: say("report-signs-missing") },
    })
}

/// A section that opens no part.
pub(super) fn section(title: Option<String>, blocks: Vec<Block>) -> Section {
    Section { title, opens_part: false, blocks }
}

/// Names and values of which the value is known and not blank.
pub(super) fn known(given: impl IntoIterator<Item = (String, Option<String>)>) -> Vec<(String, String)> {
    given
        .into_iter()
        .filter_map(|(name, value)| Some((name, value?)))
        .filter(|(_, value)| !value.trim().is_empty())
        .collect()
}
