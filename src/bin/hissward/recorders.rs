//! Recorders that work on the sound: what is known of one is told before it is used again.

use hissward::caveat::{Caveat, Fact};
use hissward::settings::{KnownRecorders, SettingsFolder};
use hissward::words::Words;

use crate::console::Console;

/// Caveats that speak against a recorder, worst first.
const AGAINST: [&str; 3] = ["suppression-shut-off", "suppression-eaten", "gain-rides"];

/// Says what is known against a recorder; nothing where nothing is.
pub fn warn(device: &str, words: &Words, console: &Console) {
    if let Some(text) = warning(device, words) {
        console.talk(&text);
    }
}

/// What is known against a recorder, as a sentence.
pub fn warning(device: &str, words: &Words) -> Option<String> {
    // Who has no home has no settings; a broken file is told of when a recorder is marked in it.
    let known = KnownRecorders::read(&SettingsFolder::of_user().ok()?).ok()?;
    let found = known.found(device)?;
    let code = AGAINST.into_iter().find(|code| *code == found)?;
    let what = words.say(&format!("recorder-{code}"), &[]);
    Some(words.say("recorder-known", &[("device", Fact::Text(device.to_owned())), ("what", Fact::Text(what))]))
}

/// Marks a recorder against which one of these caveats speaks. Where that cannot be kept, the job goes on all the same.
pub fn mark<'a>(device: Option<&str>, caveats: impl IntoIterator<Item = &'a Caveat>, console: &Console) {
    let codes: Vec<&str> = caveats.into_iter().map(|caveat| caveat.code).collect();
    let worst = AGAINST.into_iter().find(|code| codes.contains(code));
    let (Some(device), Some(code)) = (device, worst) else { return };
    let kept = SettingsFolder::of_user().and_then(|place| KnownRecorders::mark(&place, device, code));
    if let Err(error) = kept {
        console.talk(&error.to_string());
    }
}
