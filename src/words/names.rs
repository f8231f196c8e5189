//! Openings, paths and numbers in words, as pictures, texts and reports share them.

use super::catalogue::Words;
use crate::caveat::Fact;
use crate::opening::{EscapePath, Opening};

impl Words {
    /// A cylinder by its number, or loose clips, as the subject of a sentence or a heading.
    #[must_use]
    pub fn cylinder(&self, cylinder: Option<u32>) -> String {
        match cylinder {
            Some(number) => self.say("cylinder", &[("number", Fact::Number { value: f64::from(number), decimals: 0 })]),
            None => self.say("loose-clips", &[]),
        }
    }

    /// An opening's name for people. A name of the user's own is said as it is.
    #[must_use]
    pub fn opening(&self, opening: &Opening) -> String {
        self.opening_as(opening, "")
    }

    /// An opening's name where room is short.
    #[must_use]
    pub fn short_opening(&self, opening: &Opening) -> String {
        self.opening_as(opening, ".short")
    }

    fn opening_as(&self, opening: &Opening, form: &str) -> String {
        if let Some(number) = opening.neighbour() {
            let facts = [("number", Fact::Number { value: f64::from(number), decimals: 0 })];
            return self.say(&format!("opening-plug-hole{form}"), &facts);
        }
        match opening.path() {
            EscapePath::Other => opening.name().to_owned(),
            _ => self.say(&format!("opening-{}{form}", opening.name()), &[]),
        }
    }

    /// The opening in a phrase: "at the intake", "am Auspuff".
    #[must_use]
    pub fn at(&self, opening: &Opening) -> String {
        let (name, fact) = match (opening.name(), opening.neighbour()) {
            (_, Some(number)) => ("at-plug-hole".to_owned(), ("number", Fact::Text(number.to_string()))),
            (
                "intake" | "exhaust" | "oil-filler" | "dipstick" | "breather" | "crankcase" | "coolant-filler" | "rig",
                _,
            ) => (format!("at-{opening}"), ("opening", Fact::Text(opening.name().to_owned()))),
            (other, _) => ("at-other".to_owned(), ("opening", Fact::Text(other.to_owned()))),
        };
        self.say(&name, &[fact])
    }

    /// The escape path that an opening points at; for an opening of the user's own naming, its name.
    #[must_use]
    pub fn path(&self, opening: &Opening) -> String {
        self.path_as(opening, "")
    }

    /// An escape path that was found when the engine was opened.
    #[must_use]
    pub fn found_path(&self, path: EscapePath) -> String {
        match path {
            EscapePath::Other => self.say("found-other", &[]),
            path => self.say(&format!("path-{}", path.name()), &[]),
        }
    }

    /// The escape path where room is short.
    #[must_use]
    pub fn short_path(&self, opening: &Opening) -> String {
        self.path_as(opening, ".short")
    }

    fn path_as(&self, opening: &Opening, form: &str) -> String {
        let facts = [("opening", Fact::Text(self.opening(opening)))];
        self.say(&format!("path-{}{form}", opening.path().name()), &facts)
    }

    /// A call by its name, with the openings it is about, if any: "located: oil filler".
    #[must_use]
    pub fn call_at(&self, call: &str, openings: &[Opening]) -> String {
        let call = self.say(&format!("call-{call}"), &[]);
        let places: Vec<String> = openings.iter().map(|opening| self.opening(opening)).collect();
        if places.is_empty() { call } else { format!("{call}: {}", self.list(&places)) }
    }

    /// A number for print: with a true minus sign.
    #[must_use]
    pub fn printed(&self, value: f64, decimals: usize) -> String {
        let plain = self.number(value, decimals);
        match plain.strip_prefix('-') {
            // What rounds to nothing has no sign.
            Some(rest) if rest.chars().all(|c| !c.is_ascii_digit() || c == '0') => rest.to_owned(),
            Some(rest) => format!("\u{2212}{rest}"),
            None => plain,
        }
    }

    /// A probability as whole percent, never as certainty: 0.98 is "98 %", 0.998 is "over 99 %", 0.001 "under 1 %".
    #[must_use]
    pub fn percent(&self, probability: f64) -> String {
        let percent = probability * 100.0;
        let whole = |value: f64| [("percent", Fact::Number { value, decimals: 0 })];
        if percent >= 99.5 {
            self.say("percent-over", &whole(99.0))
        } else if percent < 0.5 {
            self.say("percent-under", &whole(1.0))
        } else {
            self.say("percent", &whole(percent))
        }
    }

    /// Several things in one phrase: "a", "a and b", "a, b and c".
    #[must_use]
    pub fn list(&self, items: &[String]) -> String {
        match items {
            [] => String::new(),
            [one] => one.clone(),
            [first @ .., last] => {
                let facts = [("first", Fact::Text(first.join(", "))), ("last", Fact::Text(last.clone()))];
                self.say("list-and", &facts)
            }
        }
    }

    /// Several things of which one holds: "a", "a or b", "a, b or c".
    #[must_use]
    pub fn choice(&self, items: &[String]) -> String {
        match items {
            [first @ .., last] if !first.is_empty() => {
                let facts = [("first", Fact::Text(first.join(", "))), ("last", Fact::Text(last.clone()))];
                self.say("list-or", &facts)
            }
            _ => self.list(items),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(language: &str) -> Words {
        Words::of(language).expect("a language there is")
    }

    #[test]
    fn a_probability_is_never_certainty() {
        let english = words("en");
        assert_eq!(english.percent(0.98), "98\u{a0}%");
        assert_eq!(english.percent(1.0), "over\u{a0}99\u{a0}%");
        assert_eq!(english.percent(0.994), "99\u{a0}%");
        assert_eq!(english.percent(0.0), "under\u{a0}1\u{a0}%");
        assert_eq!(words("de").percent(0.9961), "über\u{a0}99\u{a0}%");
    }

    #[test]
    fn numbers_are_printed_with_the_language_marks() {
        assert_eq!(words("de").printed(-47.24, 1), "\u{2212}47,2");
        assert_eq!(words("en").printed(-0.04, 1), "0.0");
        assert_eq!(words("en").printed(6.4, 1), "6.4");
    }

    #[test]
    fn every_kind_of_opening_has_its_names() {
        let names = [
            "intake",
            "exhaust",
            "oil-filler",
            "coolant-filler",
            "plug-hole-3",
            "rig",
            "dipstick",
            "breather",
            "crankcase",
            "own-place",
        ];
        for language in Words::languages() {
            let words = words(&language);
            for name in names {
                let opening: Opening = name.parse().expect("a fit name");
                let forms = [
                    words.opening(&opening),
                    words.short_opening(&opening),
                    words.path(&opening),
                    words.short_path(&opening),
                ];
                for said in forms {
                    assert!(
                        !said.is_empty() && !said.contains('[') && !said.contains('{'),
                        "{language} {name}: {said}"
                    );
                }
            }
        }
        let hole: Opening = "plug-hole-3".parse().expect("a fit name");
        assert_eq!(words("en").opening(&hole), "plug hole of cylinder 3");
    }

    #[test]
    fn lists_read_as_spoken() {
        let [a, b, c] = ["a", "b", "c"].map(str::to_owned);
        assert_eq!(words("en").list(&[a.clone(), b.clone(), c.clone()]), "a, b and c");
        assert_eq!(words("de").choice(&[a.clone(), b]), "a oder b");
        assert_eq!(words("en").choice(&[a]), "a");
        assert_eq!(words("en").list(&[]), "");
    }
}
