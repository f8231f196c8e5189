//! A picture written out: PNG and SVG, through the same marks.

use ab_glyph::{Font, ScaleFont, point};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use plotters::backend::{BitMapBackend, DrawingBackend, SVGBackend};
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{Color, FontFamily, FontStyle, IntoFont, RGBAColor, ShapeStyle, TextStyle};

use super::ink::Tone;
use super::lettering::{BOLD_WEB_FACE, Lettering, REGULAR_WEB_FACE, Weight};
use super::picture::{Anchor, Greys, Mark, Picture, Spot};

/// Each pixel of a PNG is the mean of this many by this many drawn ones: smooth edges. Fewer where a picture is large.
const FINEST: u32 = 3;
/// SVG coordinates are drawn in this part of a unit, since the backend takes whole numbers.
const SVG_STEPS: u32 = 10;
/// The family named in SVG; pages that embed the font call it so.
pub const FONT_FAMILY: &str = "Inter, sans-serif";
/// The most pixels that are drawn: 240 MB.
const MOST_PIXELS: f64 = 80e6;

/// Why a picture could not be written.
#[derive(Debug, thiserror::Error)]
pub enum PictureError {
    /// The backend refused.
    #[error("the picture could not be drawn ({0}): please report this with the command you used")]
    Drawing(String),
    /// The embedded font is damaged.
    #[error("the embedded font cannot be read: the program is damaged, install it again")]
    Font,
    /// Too many pixels.
    #[error(
        "a picture of {width} by {height} pixels is too large (at most {MOST_PIXELS} pixels): draw fewer cylinders in one picture, or at a lower density"
    )]
    TooLarge {
        /// Width in pixels.
        width: f64,
        /// Height in pixels.
        height: f64,
    },
    /// The PNG encoder refused.
    #[error("the picture could not be encoded as PNG")]
    Encoding(#[from] png::EncodingError),
}

impl Picture {
    /// The picture as PNG at one pixel per unit.
    ///
    /// # Errors
    /// [`PictureError`].
    pub fn to_png(&self) -> Result<Vec<u8>, PictureError> {
        self.to_png_at(1)
    }

    /// The picture as PNG at `density` pixels per unit: 2 for fine screens and print.
    ///
    /// # Errors
    /// [`PictureError`].
    pub fn to_png_at(&self, density: u32) -> Result<Vec<u8>, PictureError> {
        let (width, height) = (self.width * f64::from(density), self.height * f64::from(density));
        let fits = |fineness: &u32| width * height * f64::from(fineness * fineness) <= MOST_PIXELS;
        let Some(fineness) = (1..=FINEST).rev().find(fits) else {
            return Err(PictureError::TooLarge { width, height });
        };
        let (width, height) = (width.ceil() as u32, height.ceil() as u32);
        let (fine_width, fine_height) = (width * fineness, height * fineness);
        let lettering = Lettering::embedded().ok_or(PictureError::Font)?;
        let ground = [self.ground.red, self.ground.green, self.ground.blue];
        let mut fine = ground.repeat(fine_width as usize * fine_height as usize);
        {
            let mut backend = BitMapBackend::with_buffer(&mut fine, (fine_width, fine_height));
            let scale = f64::from(density * fineness);
            for mark in &self.marks {
                match mark {
                    Mark::Text { .. } => letters(&mut backend, mark, scale, &lettering)?,
                    Mark::Raster { .. } => dots(&mut backend, mark, scale)?,
                    _ => shape(&mut backend, mark, scale)?,
                }
            }
            backend.present().map_err(refused)?;
        }
        encoded(&averaged(&fine, width as usize, height as usize, fineness as usize), width, height)
    }

    /// The picture as an SVG file that stands alone, its font inside.
    ///
    /// # Errors
    /// [`PictureError`].
    pub fn to_svg(&self) -> Result<String, PictureError> {
        let face = |weight: u32, bytes: &[u8]| {
            format!(
                "@font-face{{font-family:Inter;font-weight:{weight};src:url(data:font/woff2;base64,{})}}",
                STANDARD.encode(bytes)
            )
        };
        self.svg(&format!("<style>{}{}</style>\n", face(400, REGULAR_WEB_FACE), face(700, BOLD_WEB_FACE)))
    }

    /// The picture as an SVG element for a page that has the font ([`FONT_FAMILY`]).
    ///
    /// # Errors
    /// [`PictureError`].
    pub fn to_svg_element(&self) -> Result<String, PictureError> {
        self.svg("")
    }

    fn svg(&self, style: &str) -> Result<String, PictureError> {
        let steps = f64::from(SVG_STEPS);
        let size = ((self.width * steps).ceil() as u32, (self.height * steps).ceil() as u32);
        let mut drawn = String::new();
        // The backend has no images: they stand before its marks, so under them.
        let mut images = String::new();
        {
            let mut backend = SVGBackend::with_string(&mut drawn, size);
            for mark in &self.marks {
                match mark {
                    Mark::Text { .. } => words(&mut backend, mark)?,
                    Mark::Raster { .. } => images.push_str(&image(mark, steps)?),
                    _ => shape(&mut backend, mark, steps)?,
                }
            }
            backend.present().map_err(refused)?;
        }
        // The backend's own head has the size in steps; ours has it in units, and says what the picture shows.
        let body = terse(drawn.split_once('\n').map_or("", |(_, body)| body));
        let alt = escaped(&self.alt);
        Ok(format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{}\" height=\"{}\" viewBox=\"0 0 {} {}\" \
             font-family=\"{FONT_FAMILY}\" role=\"img\" aria-label=\"{alt}\">\n<title>{alt}</title>\n{style}\
             <rect width=\"100%\" height=\"100%\" fill=\"#{:02X}{:02X}{:02X}\"/>\n{images}{body}",
            self.width, self.height, size.0, size.1, self.ground.red, self.ground.green, self.ground.blue
        ))
    }
}

/// The backend's marks without what goes without saying or the head says: a page of three cylinders has eight such pictures.
/// Text has no bare quotation mark (it is escaped), so no word is touched.
fn terse(body: &str) -> String {
    body.replace(" opacity=\"1\"", "")
        .replace(&format!(" font-family=\"{FONT_FAMILY}\""), "")
        .replace(" text-anchor=\"start\"", "")
        .replace(" \"/>", "\"/>")
}

fn refused(error: impl std::fmt::Display) -> PictureError {
    PictureError::Drawing(error.to_string())
}

fn colour(tone: Tone, cover: f64) -> RGBAColor {
    RGBAColor(tone.red, tone.green, tone.blue, cover)
}

/// A line or an area.
fn shape<B: DrawingBackend>(backend: &mut B, mark: &Mark, scale: f64) -> Result<(), PictureError> {
    let placed = |spots: &[Spot]| -> Vec<(i32, i32)> {
        spots.iter().map(|at| ((at.x * scale).round() as i32, (at.y * scale).round() as i32)).collect()
    };
    match mark {
        Mark::Line { through, width, tone } => {
            let stroke = ((width * scale).round() as u32).max(1);
            let style = ShapeStyle { color: colour(*tone, 1.0), filled: false, stroke_width: stroke };
            backend.draw_path(placed(through), &style).map_err(refused)
        }
        Mark::Area { corners, tone } => {
            let style = ShapeStyle { color: colour(*tone, 1.0), filled: true, stroke_width: 0 };
            backend.fill_polygon(placed(corners), &style).map_err(refused)
        }
        Mark::Text { .. } | Mark::Raster { .. } => Ok(()),
    }
}

/// A raster as an element of SVG.
fn image(mark: &Mark, steps: f64) -> Result<String, PictureError> {
    let Mark::Raster { at, width, height, greys } = mark else { return Ok(String::new()) };
    let [x, y, width, height] = [at.x, at.y, *width, *height].map(|size| (size * steps).round());
    let data = STANDARD.encode(greys.to_png()?);
    Ok(format!(
        "<image x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" preserveAspectRatio=\"none\" \
         href=\"data:image/png;base64,{data}\"/>\n"
    ))
}

/// A raster as pixels: each takes the grey it lies in.
fn dots(backend: &mut BitMapBackend<'_>, mark: &Mark, scale: f64) -> Result<(), PictureError> {
    let Mark::Raster { at, width, height, greys } = mark else { return Ok(()) };
    let (rows, columns) = (greys.rows(), greys.columns);
    if rows == 0 || columns == 0 {
        return Ok(());
    }
    let edges = |from: f64, size: f64| ((from * scale).round() as i32, ((from + size) * scale).round() as i32);
    let ((left, right), (top, bottom)) = (edges(at.x, *width), edges(at.y, *height));
    for y in top..bottom {
        let row = (y - top) as usize * rows / (bottom - top) as usize;
        for x in left..right {
            let column = (x - left) as usize * columns / (right - left) as usize;
            let grey = greys.values[row * columns + column];
            let dot = RGBAColor(grey, grey, grey, 1.0).to_backend_color();
            backend.draw_pixel((x, y), dot).map_err(refused)?;
        }
    }
    Ok(())
}

/// A text as text, for SVG.
fn words(backend: &mut SVGBackend<'_>, mark: &Mark) -> Result<(), PictureError> {
    let Mark::Text { at, text, size, weight, anchor, tone } = mark else { return Ok(()) };
    let steps = f64::from(SVG_STEPS);
    let style = match weight {
        Weight::Regular => FontStyle::Normal,
        Weight::Bold => FontStyle::Bold,
    };
    let place = match anchor {
        Anchor::Start => HPos::Left,
        Anchor::Middle => HPos::Center,
        Anchor::End => HPos::Right,
    };
    // plotters-svg 0.3.7 writes a size of 1/1.24 of the one given, and for VPos::Top a shift of 0.76 em down.
    let font = (FontFamily::Name(FONT_FAMILY), size * steps * 1.24, style).into_font();
    let tone = colour(*tone, 1.0);
    let style = TextStyle::from(font).color(&tone).pos(Pos::new(place, VPos::Top));
    let spot = ((at.x * steps).round() as i32, ((at.y - 0.76 * size) * steps).round() as i32);
    backend.draw_text(text, &style, spot).map_err(refused)
}

/// A text as pixels. Drawn here and not by the backend, which drops each letter's left bearing.
fn letters(
    backend: &mut BitMapBackend<'_>,
    mark: &Mark,
    scale: f64,
    lettering: &Lettering,
) -> Result<(), PictureError> {
    let Mark::Text { at, text, size, weight, anchor, tone } = mark else { return Ok(()) };
    let face = lettering.face(*weight).as_scaled(lettering.height_of_em(size * scale, *weight));
    let width = lettering.width(text, size * scale, *weight);
    let shift = match anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => width / 2.0,
        Anchor::End => width,
    };
    let mut pen = (at.x * scale - shift) as f32;
    let mut failure = None;
    let (limit_x, limit_y) = backend.get_size();
    for letter in text.chars() {
        let mut glyph = face.scaled_glyph(letter);
        glyph.position = point(pen, (at.y * scale) as f32);
        pen += face.h_advance(glyph.id);
        let Some(outline) = face.outline_glyph(glyph) else { continue };
        let bounds = outline.px_bounds();
        outline.draw(|x, y, cover| {
            let (x, y) = (bounds.min.x as i32 + x as i32, bounds.min.y as i32 + y as i32);
            if x < 0 || y < 0 || x >= limit_x as i32 || y >= limit_y as i32 || cover <= 0.0 {
                return;
            }
            let dot = colour(*tone, f64::from(cover.min(1.0))).to_backend_color();
            if let Err(error) = backend.draw_pixel((x, y), dot) {
                failure = Some(error);
            }
        });
    }
    failure.map_or(Ok(()), |error| Err(refused(error)))
}

/// The mean of each block of drawn pixels.
fn averaged(fine: &[u8], width: usize, height: usize, fineness: usize) -> Vec<u8> {
    let dots = (fineness * fineness) as u32;
    let row = width * fineness * 3;
    let mut plain = Vec::with_capacity(width * height * 3);
    for y in 0..height {
        for x in 0..width {
            for channel in 0..3 {
                let first = y * fineness * row + x * fineness * 3 + channel;
                let sum: u32 = (0..fineness)
                    .flat_map(|down| (0..fineness).map(move |right| first + down * row + right * 3))
                    .map(|at| u32::from(fine[at]))
                    .sum();
                plain.push(((sum + dots / 2) / dots) as u8);
            }
        }
    }
    plain
}

fn encoded(plain: &[u8], width: u32, height: u32) -> Result<Vec<u8>, PictureError> {
    encoded_as(png::ColorType::Rgb, plain, width, height)
}

impl Greys {
    /// The pixels as a PNG file.
    ///
    /// # Errors
    /// [`PictureError::Encoding`] where there are none.
    pub fn to_png(&self) -> Result<Vec<u8>, PictureError> {
        encoded_as(png::ColorType::Grayscale, &self.values, self.columns as u32, self.rows() as u32)
    }
}

fn encoded_as(colour: png::ColorType, plain: &[u8], width: u32, height: u32) -> Result<Vec<u8>, PictureError> {
    let mut file = Vec::new();
    let mut encoder = png::Encoder::new(&mut file, width, height);
    encoder.set_color(colour);
    encoder.set_depth(png::BitDepth::Eight);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(plain)?;
    writer.finish()?;
    Ok(file)
}

/// Text as it may stand in an element or attribute of HTML or SVG: markup's signs escaped, control characters left out.
///
/// ```
/// use hissward::plot::escaped;
/// assert_eq!(escaped("<b>\u{1b} & \"c\""), "&lt;b&gt; &amp; &quot;c&quot;");
/// ```
#[must_use]
pub fn escaped(text: &str) -> String {
    text.chars().fold(String::with_capacity(text.len()), |mut out, letter| {
        match letter {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\n' | '\t' => out.push(letter),
            control if control.is_control() => {}
            other => out.push(other),
        }
        out
    })
}
