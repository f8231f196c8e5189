//! Progress on stderr, where somebody watches.

use indicatif::{ProgressBar, ProgressStyle};

use crate::face::Face;

/// A bar that shows how far things are; silent into a pipe and where the user asked for silence.
pub fn bar(face: &Face, template: &str, length: Option<u64>) -> ProgressBar {
    let bar = ProgressBar::with_draw_target(length, face.progress_target());
    // The template is ours; where it had a fault the plain bar serves.
    match ProgressStyle::with_template(template) {
        Ok(style) => bar.with_style(style),
        Err(_) => bar,
    }
}
