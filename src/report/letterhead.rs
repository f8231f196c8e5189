//! The shop's own head: as the shop gave it.

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
        let mut logo = Self { kind, file, width: 0, height: 0 };
        let (width, height) = logo.image()?.size();
        if !(1..=LONGEST_LOGO_SIDE).contains(&width) || !(1..=LONGEST_LOGO_SIDE).contains(&height) {
            let what = format!("it has {width} × {height} pixels; at most {LONGEST_LOGO_SIDE} to a side are taken");
            return Err(ReportError::Logo(what));
        }
        (logo.width, logo.height) = (width, height);
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
}
