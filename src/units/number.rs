//! A number and its unit, taken apart as people type them.

use super::quantity::QuantityError;

/// The longest text read as a quantity; nobody types more, and errors repeat what was typed.
const LONGEST_TEXT: usize = 40;

/// What was typed, for an error's text: cut to a length that fits a line.
pub(super) fn shown(text: &str) -> String {
    let mut short: String = text.trim().chars().take(LONGEST_TEXT).collect();
    if text.trim().chars().count() > LONGEST_TEXT {
        short.push('…');
    }
    short
}

/// Splits `6,9 bar` into 6.9 and `bar` (lower case, blanks taken out). The unit may be empty.
///
/// A decimal point or a decimal comma is understood. A comma before exactly three digits could also part
/// thousands (`1,000`); that is refused rather than guessed, except after a leading zero (`0,040`).
pub(super) fn split(text: &str, example: &'static str) -> Result<(f64, String), QuantityError> {
    let trimmed = text.trim();
    let no_number = || QuantityError::NoNumber { got: shown(text), example };
    let (negative, body) = match trimmed.strip_prefix(['-', '−', '–']) {
        Some(rest) => (true, rest),
        None => (false, trimmed.strip_prefix('+').unwrap_or(trimmed)),
    };
    let body = body.trim_start();
    let end = body.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')).unwrap_or(body.len());
    let (digits, unit) = body.split_at(end);
    let marks = digits.matches(['.', ',']).count();
    if marks > 1 || digits.ends_with(['.', ',']) {
        return Err(QuantityError::OddNumber { got: shown(text), example });
    }
    if let Some((whole, decimals)) = digits.split_once(',')
        && decimals.len() == 3
        && !whole.is_empty()
        && whole.len() <= 3
        && !whole.starts_with('0')
    {
        return Err(QuantityError::Thousands {
            got: shown(text),
            as_thousands: format!("{whole}{decimals}"),
            as_decimals: format!("{whole}.{decimals}"),
        });
    }
    let value: f64 = digits.replace(',', ".").parse().map_err(|_| no_number())?;
    if !value.is_finite() {
        return Err(no_number());
    }
    let unit: String = unit.chars().filter(|c| !c.is_whitespace()).flat_map(char::to_lowercase).collect();
    Ok((if negative { -value } else { value }, unit))
}
