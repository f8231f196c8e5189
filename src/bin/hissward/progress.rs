//! Progress on stderr, where somebody watches.

use indicatif::{ProgressBar, ProgressStyle};

use crate::console::Console;

/// A bar that shows how far things are; silent into a pipe and where the user asked for silence.
pub fn bar(console: &Console, template: &str, length: Option<u64>) -> ProgressBar {
    let bar = ProgressBar::with_draw_target(length, console.progress_target());
    // The template is ours; where it had a fault the plain bar serves.
    match ProgressStyle::with_template(template) {
        Ok(style) => bar.with_style(style),
        Err(_) => bar,
    }
}
