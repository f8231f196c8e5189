//! Every message of histories and comparisons is there in every language.

use hissward::words::Words;

const MESSAGES: &str = include_str!("../../src/words/languages/en.ftl");

#[test]
fn every_language_says_all_of_it() {
    let section = MESSAGES.split("## History and comparison").nth(1).expect("the section");
    let section = section.split("\n## ").next().expect("its text");
    let mut names: Vec<String> = section
        .lines()
        .filter(|line| line.starts_with(|c: char| c.is_ascii_lowercase()))
        .filter_map(|line| line.split(" =").next().map(str::to_owned))
        .collect();
    assert!(names.len() > 40, "{}", names.len());
    let remedies: Vec<String> =
        names.iter().filter(|name| name.starts_with("caveat-")).map(|name| format!("{name}.remedy")).collect();
    names.extend(remedies);
    for language in Words::languages() {
        let words = Words::of(&language).expect("a language");
        for name in &names {
            assert_ne!(words.say(name, &[]), format!("[{name}]"), "'{name}' has no words in {language}");
        }
    }
}
