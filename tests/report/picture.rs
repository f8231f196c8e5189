//! The comparison picture: its marks, its files, and that what colour says is also said without.

use hissward::plot::{self, Mark, Picture, PictureSize};
use hissward::ranking::Ranking;
use hissward::words::Words;

use crate::cases;

fn words(language: &str) -> Words {
    Words::of(language).expect("a language there is")
}

/// Kept where a person can look at it.
fn keep(name: &str, bytes: &[u8]) {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("pictures");
    std::fs::create_dir_all(&folder).expect("a folder for pictures");
    std::fs::write(folder.join(name), bytes).expect("a picture written");
}

fn drawn(name: &str, rankings: &[Ranking], language: &str, size: PictureSize) -> Picture {
    let picture = plot::comparison(rankings, &words(language), size).expect("a picture");
    keep(&format!("{name}.png"), &picture.to_png().expect("a PNG"));
    keep(&format!("{name}.svg"), picture.to_svg().expect("an SVG").as_bytes());
    picture
}

#[test]
fn look() {
    drawn("located", &[cases::located()], "en", PictureSize::Page);
    drawn("boat", &cases::boat(), "en", PictureSize::Page);
    drawn("boat-de-phone", &cases::boat(), "de", PictureSize::Phone);
    drawn("eight-de", &[cases::eight()], "de", PictureSize::Page);
    drawn("one", &[cases::one()], "en", PictureSize::Page);
    drawn("keyed", &[cases::keyed()], "en", PictureSize::Page);
    drawn("shared", &[cases::shared()], "en", PictureSize::Page);
}
