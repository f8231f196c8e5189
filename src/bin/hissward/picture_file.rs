//! The comparison picture into a file, PNG or SVG by its name.

use std::path::Path;

use hissward::plot::{PictureSize, PictureTitle, comparison_titled};
use hissward::ranking::Ranking;
use hissward::words::Words;

use crate::console::Failure;

/// Draws the picture and writes it, whole or not at all.
pub fn write(rankings: &[Ranking], title: &PictureTitle, words: &Words, file: &Path) -> Result<(), Failure> {
    let ending = file.extension().and_then(|ending| ending.to_str()).unwrap_or("").to_ascii_lowercase();
    let picture = comparison_titled(rankings, title, words, PictureSize::Page)?;
    let bytes = match ending.as_str() {
        "png" => picture.to_png()?,
        "svg" => picture.to_svg()?.into_bytes(),
        _ => return Err(format!("{}: a picture's name ends in .png or .svg", file.display()).into()),
    };
    crate::files::replace(file, &bytes)
}
