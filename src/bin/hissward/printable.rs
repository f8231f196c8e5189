//! Text as a terminal may get it: what comes from a file may not move its cursor, set its title or turn its letters.

use std::borrow::Cow;

/// Bold and its end, the only orders to a terminal that are the program's own.
const OWN_ORDERS: [&str; 2] = ["\u{1b}[1m", "\u{1b}[0m"];

/// The text with every character that is an order to a terminal written as `\uXXXX`.
///
/// That is so in JSON, too: a string says the same with it, so one rule serves text and data. `own_orders` lets bold
/// through, where the program itself set it.
pub fn printable(text: &str, own_orders: bool) -> Cow<'_, str> {
    if !text.chars().any(is_order) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len() + 16);
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let own = OWN_ORDERS.iter().find(|order| own_orders && rest.starts_with(**order));
        let taken = own.map_or(first.len_utf8(), |order| order.len());
        if own.is_none() && is_order(first) {
            // Every one of them has at most four digits.
            shown.push_str(&format!("\\u{:04x}", u32::from(first)));
        } else {
            shown.push_str(&rest[..taken]);
        }
        rest = &rest[taken..];
    }
    Cow::Owned(shown)
}

/// Controls (Unicode category Cc: C0, DEL, C1) but for line ends and tabs; line and paragraph separators; the marks
/// that turn the direction of writing (Unicode Standard Annex 9, table 1).
fn is_order(c: char) -> bool {
    match c {
        '\n' | '\t' => false,
        '\u{061c}' | '\u{200e}' | '\u{200f}' | '\u{2028}' | '\u{2029}' => true,
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => true,
        other => other.is_control(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn orders_are_written_out_and_letters_stay() {
        assert_eq!(printable("Möwe\t1\n", false), "Möwe\t1\n");
        assert_eq!(printable("\u{1b}]0;x\u{7}\r\u{9b}1m\u{202e}", false), "\\u001b]0;x\\u0007\\u000d\\u009b1m\\u202e");
        assert_eq!(printable("\u{1b}[1mcall\u{1b}[0m \u{1b}[2J", true), "\u{1b}[1mcall\u{1b}[0m \\u001b[2J");
        assert_eq!(printable("\u{1b}[1mcall", false), "\\u001b[1mcall");
    }

    #[test]
    fn json_says_the_same() {
        let given = serde_json::json!({ "engine": "a\u{9b}b\u{202e}c\u{7f}" });
        let shown = printable(&given.to_string(), false).into_owned();
        assert!(!shown.contains('\u{9b}'), "{shown}");
        assert_eq!(serde_json::from_str::<serde_json::Value>(&shown).expect("JSON"), given);
    }
}
