//! The catalogue: messages by language and name.

use std::collections::BTreeMap;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};
use include_dir::{Dir, include_dir};

use crate::caveat::{Caveat, Fact};
use crate::opening::Opening;

static LANGUAGES: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/src/words/languages");

/// The language spoken where nothing else is asked for.
pub const FALLBACK: &str = "en";

/// The messages of one language.
pub struct Words {
    language: String,
    bundle: FluentBundle<FluentResource>,
}

/// A language that no catalogue file speaks.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("no words for the language '{got}': there are {there}")]
pub struct UnknownLanguage {
    got: String,
    there: String,
}

impl Words {
    /// The words of a language, by its two-letter code (`en`, `de`).
    ///
    /// # Errors
    /// [`UnknownLanguage`] where there is no such file.
    pub fn of(language: &str) -> Result<Self, UnknownLanguage> {
        let file = LANGUAGES.get_file(format!("{language}.ftl")).and_then(|file| file.contents_utf8());
        let Some(text) = file else {
            return Err(UnknownLanguage {
                got: language.chars().take(40).collect(),
                there: Self::languages().join(", "),
            });
        };
        // What parses is kept and a message with a fault is missing; a test holds every file free of faults.
        let resource = FluentResource::try_new(text.to_owned()).unwrap_or_else(|(kept, _)| kept);
        let locale = language.parse().unwrap_or_default();
        let mut bundle = FluentBundle::new_concurrent(vec![locale]);
        // Marks of direction round every value would show as boxes in terminals and PDF.
        bundle.set_use_isolating(false);
        bundle.add_resource_overriding(resource);
        Ok(Self { language: language.to_owned(), bundle })
    }

    /// The codes of all languages there are, sorted.
    #[must_use]
    pub fn languages() -> Vec<String> {
        let mut codes: Vec<String> = LANGUAGES
            .files()
            .filter_map(|file| file.path().file_stem().and_then(|stem| stem.to_str()).map(str::to_owned))
            .collect();
        codes.sort_unstable();
        codes
    }

    /// The language's code.
    #[must_use]
    pub fn language(&self) -> &str {
        &self.language
    }

    /// A message with its facts filled in. A message that is missing shows its name, so that it is seen.
    #[must_use]
    pub fn say(&self, name: &str, facts: &[(&'static str, Fact)]) -> String {
        let (id, attribute) = name.split_once('.').map_or((name, None), |(id, attribute)| (id, Some(attribute)));
        let message = self.bundle.get_message(id);
        let pattern = message.and_then(|message| match attribute {
            Some(attribute) => message.get_attribute(attribute).map(|found| found.value()),
            None => message.value(),
        });
        let Some(pattern) = pattern else {
            return format!("[{name}]");
        };
        let mut args = FluentArgs::new();
        for (key, fact) in facts {
            args.set(*key, self.value(fact));
        }
        self.bundle.format_pattern(pattern, Some(&args), &mut Vec::new()).into_owned()
    }

    /// The messages whose names begin with one of `beginnings`, by name, for a page that says them itself.
    /// A place for a fact stands as `{$name}`. Attributes are `message.attribute`.
    #[must_use]
    pub fn beginning_with(&self, beginnings: &[&str]) -> BTreeMap<String, String> {
        let file = LANGUAGES.get_file(format!("{}.ftl", self.language)).and_then(|file| file.contents_utf8());
        let mut found = BTreeMap::new();
        let mut message = "";
        for line in file.unwrap_or_default().lines() {
            let Some((name, _)) = line.split_once(" =") else { continue };
            let name = match name.trim_start().strip_prefix('.') {
                Some(attribute) => format!("{message}.{attribute}"),
                None => {
                    message = name;
                    name.to_owned()
                }
            };
            if beginnings.iter().any(|beginning| name.starts_with(beginning)) && !name.contains(' ') {
                found.insert(name.clone(), self.say(&name, &[]));
            }
        }
        found
    }

    /// What was found, and what to do about it.
    #[must_use]
    pub fn caveat(&self, caveat: &Caveat) -> (String, String) {
        let name = format!("caveat-{}", caveat.code);
        let facts = self.for_people(&caveat.facts);
        (self.say(&name, &facts), self.say(&format!("{name}.remedy"), &facts))
    }

    /// What lowers trust in few words, as pictures name it; `None` where it has no short form.
    #[must_use]
    pub fn caveat_in_short(&self, caveat: &Caveat) -> Option<String> {
        let short = self.say(&format!("caveat-{}.short", caveat.code), &self.for_people(&caveat.facts));
        (!short.starts_with('[')).then_some(short)
    }

    /// Facts as people say them: an opening by its name and by where that is, a file without its folders (where a job
    /// lies is nobody's business on a customer's paper, and no two computers agree).
    fn for_people(&self, facts: &[(&'static str, Fact)]) -> Vec<(&'static str, Fact)> {
        let mut said = Vec::with_capacity(facts.len() + 1);
        for (key, fact) in facts {
            match (*key, fact) {
                ("file" | "other", Fact::Text(path)) => {
                    said.push((*key, Fact::Text(path.rsplit(['/', '\\']).next().unwrap_or(path).to_owned())));
                }
                ("opening", Fact::Text(name)) => match name.parse::<Opening>() {
                    Ok(opening) => {
                        said.push((*key, Fact::Text(self.opening(&opening))));
                        said.push(("at", Fact::Text(self.at(&opening))));
                    }
                    Err(_) => said.extend([(*key, fact.clone()), ("at", fact.clone())]),
                },
                _ => said.push((*key, fact.clone())),
            }
        }
        said
    }

    /// A number as this language writes it.
    #[must_use]
    pub fn number(&self, value: f64, decimals: usize) -> String {
        let plain = format!("{value:.decimals$}");
        let mark = self.say("decimal-mark", &[]);
        if mark == "." { plain } else { plain.replace('.', &mark) }
    }

    fn value<'a>(&self, fact: &'a Fact) -> FluentValue<'a> {
        match fact {
            Fact::Number { value, decimals } => FluentValue::from(self.printed(*value, *decimals)),
            Fact::Text(text) => FluentValue::from(text.as_str()),
        }
    }
}
