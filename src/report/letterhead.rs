//! The shop's own head: as the shop gave it.

use krilla::Document;
use krilla::error::KrillaError;
use krilla::geom::Size;
use krilla::image::Image;

use super::error::ReportError;

/// The most bytes a logo may have: it is in every report.
pub const LARGEST_LOGO: usize = 1_000_000;
/// The most pixels to a side that a logo may have.
pub const LONGEST_LOGO_SIDE: u32 = 4000;

/// Whose paper it is.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Letterhead {
    /// The shop's name.
    pub name: String,
    /// Its address, line by line.
    pub address: Vec<String>,
    /// Its logo.
    pub logo: Option<Logo>,
    /// Free text at the end of the report.
    pub text: Option<String>,
}

/// A picture file that pages and papers can show.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Logo {
    kind: &'static str,
    file: Vec<u8>,
    width: u32,
    height: u32,
}

impl Logo {
    /// Takes a PNG or JPEG file after looking that it can be shown.
    ///
    /// # Errors
    /// [`ReportError::Logo`] where it is another format, damaged, or too large.
    pub fn read(file: Vec<u8>) -> Result<Self, ReportError> {
        if file.len() > LARGEST_LOGO {
            let what = format!("it has {} bytes; at most {LARGEST_LOGO} are taken: make it smaller", file.len());
            return Err(ReportError::Logo(what));
        }
        let kind = match file.get(..4) {
            Some([0x89, b'P', b'N', b'G']) => "image/png",
            Some([0xff, 0xd8, 0xff, _]) => "image/jpeg",
            _ => return Err(ReportError::Logo("it is neither PNG nor JPEG: save it as one of these".to_owned())),
        };
        // Before it is decoded: a few bytes may promise gigabytes.
        if let Some(size) = png_size(&file) {
            check_size(size)?;
        }
        let mut logo = Self { kind, file, width: 0, height: 0 };
        let image = logo.image()?;
        let size = image.size();
        check_size(size)?;
        check_decodes(image)?;
        (logo.width, logo.height) = size;
        Ok(logo)
    }

    /// Its type (`image/png`).
    #[must_use]
    pub fn kind(&self) -> &'static str {
        self.kind
    }

    /// The file.
    #[must_use]
    pub fn file(&self) -> &[u8] {
        &self.file
    }

    /// Width over height.
    #[must_use]
    pub fn aspect(&self) -> f64 {
        f64::from(self.width) / f64::from(self.height)
    }

    pub(super) fn image(&self) -> Result<Image, ReportError> {
        let data = self.file.clone().into();
        let read = if self.kind == "image/png" { Image::from_png } else { Image::from_jpeg };
        read(data, true).map_err(|error| ReportError::Logo(format!("it cannot be read ({error}): save it again")))
    }
}

/// Width and height as the header of a PNG says (PNG specification, 11.2.1: the first chunk, at a known place).
fn png_size(file: &[u8]) -> Option<(u32, u32)> {
    let side = |at: usize| Some(u32::from_be_bytes(file.get(at..at + 4)?.try_into().ok()?));
    (file.get(12..16)? == b"IHDR").then_some((side(16)?, side(20)?))
}

fn check_size((width, height): (u32, u32)) -> Result<(), ReportError> {
    if (1..=LONGEST_LOGO_SIDE).contains(&width) && (1..=LONGEST_LOGO_SIDE).contains(&height) {
        return Ok(());
    }
    let what =
        format!("it has {width} × {height} pixels; 1 to {LONGEST_LOGO_SIDE} to a side are taken: make it smaller");
    Err(ReportError::Logo(what))
}

/// Puts the picture on a page that nobody sees: a file that is damaged behind its header shows now, and not when every
/// report fails.
fn check_decodes(image: Image) -> Result<(), ReportError> {
    let mut paper = Document::new();
    let mut page = paper.start_page();
    let mut surface = page.surface();
    if let Some(size) = Size::from_wh(1.0, 1.0) {
        surface.draw_image(image, size);
    }
    surface.finish();
    page.finish();
    paper.finish().map(drop).map_err(|error| {
        let what = match error {
            KrillaError::Image(_, _, why) => why,
            other => format!("{other:?}"),
        };
        ReportError::Logo(format!("it is damaged ({}): save it again", what.trim_end_matches('.')))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_picture_is_refused() {
        for file in [
            b"".to_vec(),
            b"<svg onload='x'/>".to_vec(),
            b"\x89PNG\r\n\x1a\n broken".to_vec(),
            vec![0xff, 0xd8, 0xff, 0xe0],
        ] {
            assert!(matches!(Logo::read(file), Err(ReportError::Logo(_))));
        }
        assert!(Logo::read(vec![0; LARGEST_LOGO + 1]).is_err());
    }
    #[test]
    fn a_small_file_that_promises_a_huge_picture_is_refused_before_it_is_decoded() {
        // A whole header of 65,535 × 65,535 pixels, checksum and all: 17 GB once decoded.
        let huge = include_bytes!("../../fuzz/corpus/logo/png-huge");
        let told = Logo::read(huge.to_vec()).expect_err("too large").to_string();
        assert!(told.contains("65535 × 65535"), "{told}");
    }
    #[test]
    fn a_picture_that_is_damaged_behind_its_header_is_refused() {
        let whole = include_bytes!("../../fuzz/corpus/logo/png-rgba").to_vec();
        assert!(Logo::read(whole.clone()).is_ok());
        let mut damaged = whole;
        let at = damaged.len() - 30;
        damaged[at] ^= 0xff;
        let told = Logo::read(damaged).expect_err("damaged").to_string();
        assert!(told.contains("damaged") && told.contains("save it again"), "{told}");
    }
}
