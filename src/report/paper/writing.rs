//! Pages to a PDF file.

use krilla::Document as File;
use krilla::SerializeSettings;
use krilla::color::rgb;
use krilla::configure::{Accessibility, ConfigurationBuilder};
use krilla::destination::XyzDestination;
use krilla::error::KrillaError;
use krilla::geom::{Path, PathBuilder, Point, Rect, Size, Transform};
use krilla::image::Image;
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, LineCap, LineJoin, Stroke};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, SpanTag};

use super::Sheet;
use super::pages::PagePiece;
use super::piece::Ink;
use super::structure::Structure;
use super::typesetting::{Run, Typesetter};
use crate::plot::{Anchor, Mark, Picture, SOFT, Spot, Tone, Weight};
use crate::report::document::Document;
use crate::report::error::ReportError;

/// Size of the text at the foot of a page.
const FOOT_SIZE: f64 = 8.0;

/// Writes the pages: content with its place in the tree, everything else as an artifact.
pub(super) fn written(
    document: &Document,
    sheet: Sheet,
    typesetter: &Typesetter,
    structure: Structure,
    pages: &[Vec<PagePiece>],
) -> Result<Vec<u8>, ReportError> {
    let accessible = ConfigurationBuilder::new().with_accessibility_validator(Accessibility::UA1).finish();
    let configuration = accessible.map_err(|error| ReportError::Paper(format!("{error:?}")))?;
    let settings = SerializeSettings { configuration, enable_tagging: true, ..SerializeSettings::default() };
    let mut file = File::new_with(settings);
    let mut outline = Outline::new();
    let mut writer = Writer { typesetter, structure, sheet };
    for (number, placed) in pages.iter().enumerate() {
        let size = PageSettings::from_wh(sheet.width as f32, sheet.height as f32);
        let mut page = file.start_page_with(size.ok_or_else(|| ReportError::Paper("no such page".to_owned()))?);
        let mut surface = page.surface();
        for PagePiece { y, piece, again } in placed {
            writer.piece(&mut surface, &piece.inks, sheet.top + y, *again)?;
            if let Some(title) = &piece.outline {
                let point = Point::from_xy(sheet.left as f32, (sheet.top + y) as f32);
                outline.push_child(OutlineNode::new(title.clone(), XyzDestination::new(number, point)));
            }
        }
        writer.foot(&mut surface, document, number + 1, pages.len());
        surface.finish();
        page.finish();
    }
    file.set_outline(outline);
    file.set_metadata(metadata(document));
    file.set_tag_tree(writer.structure.tree(&document.language));
    file.finish().map_err(|error| ReportError::Paper(told(&error)))
}

fn metadata(document: &Document) -> Metadata {
    let subject: String = document.subject.chars().filter(|c| !c.is_control()).take(200).collect();
    let program = format!("hissward {}", env!("CARGO_PKG_VERSION"));
    let data = Metadata::new()
        .title(format!("{}: {subject}", document.title))
        .language(document.language.clone())
        .creator(program);
    match &document.letterhead {
        Some(letterhead) if !letterhead.name.is_empty() => data.authors(vec![letterhead.name.clone()]),
        _ => data,
    }
}

fn told(error: &KrillaError) -> String {
    match error {
        KrillaError::Validation(faults) => {
            let faults: Vec<String> = faults.iter().take(3).map(|(fault, _)| format!("{fault:?}")).collect();
            format!("not accessible: {}", faults.join("; "))
        }
        other => other.to_string(),
    }
}

struct Writer<'a> {
    typesetter: &'a Typesetter,
    structure: Structure,
    sheet: Sheet,
}

impl Writer<'_> {
    fn piece(&mut self, surface: &mut Surface<'_>, inks: &[Ink], top: f64, again: bool) -> Result<(), ReportError> {
        let left = self.sheet.left;
        for ink in inks {
            match ink {
                Ink::Fill { x, y, width, height, tone } => {
                    surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)));
                    fill(surface, rectangle(left + x, top + y, *width, *height), *tone);
                    surface.end_tagged();
                }
                Ink::Text { x, baseline, run, tone, place } => {
                    // A line without letters, kept for its height, has nothing to say.
                    if run.glyphs.is_empty() {
                        continue;
                    }
                    let tag = match place {
                        Some(_) if !again => ContentTag::Span(SpanTag::empty()),
                        _ => ContentTag::Artifact(Artifact::with_kind(ArtifactType::PaginationOther)),
                    };
                    let content = surface.start_tagged(tag);
                    self.text(surface, run, left + x, top + baseline, *tone);
                    surface.end_tagged();
                    if let Some(place) = place.filter(|_| !again) {
                        self.structure.contains(place, content);
                    }
                }
                Ink::Picture { x, y, scale, picture, place } => {
                    let content = surface.start_tagged(ContentTag::Other);
                    let step = Transform::from_row(
                        *scale as f32,
                        0.0,
                        0.0,
                        *scale as f32,
                        (left + x) as f32,
                        (top + y) as f32,
                    );
                    surface.push_transform(&step);
                    self.picture(surface, picture)?;
                    surface.pop();
                    surface.end_tagged();
                    self.structure.contains(*place, content);
                }
                Ink::Logo { x, y, width, height, logo, place } => {
                    let content = surface.start_tagged(ContentTag::Other);
                    image(surface, logo.image()?, left + x, top + y, *width, *height);
                    surface.end_tagged();
                    self.structure.contains(*place, content);
                }
            }
        }
        Ok(())
    }

    fn text(&self, surface: &mut Surface<'_>, run: &Run, x: f64, baseline: f64, tone: Tone) {
        paint(surface, tone);
        let at = Point::from_xy(x as f32, baseline as f32);
        surface.draw_glyphs(at, &run.glyphs, self.typesetter.font(run.weight), &run.text, run.size as f32, false);
    }

    /// The marks of a picture, in its own units.
    fn picture(&self, surface: &mut Surface<'_>, picture: &Picture) -> Result<(), ReportError> {
        for mark in &picture.marks {
            match mark {
                Mark::Area { corners, tone } => fill(surface, polygon(corners, true), *tone),
                Mark::Line { through, width, tone } => {
                    stroke(surface, polygon(through, false), *width, *tone);
                }
                Mark::Text { at, text, size, weight, anchor, tone } => {
                    let run = self.typesetter.run(&self.typesetter.printable(text), *size, *weight);
                    let shift = match anchor {
                        Anchor::Start => 0.0,
                        Anchor::Middle => run.width / 2.0,
                        Anchor::End => run.width,
                    };
                    self.text(surface, &run, at.x - shift, at.y, *tone);
                }
                Mark::Raster { at, width, height, greys } => {
                    let refused = |error: String| ReportError::Paper(error);
                    let picture = Image::from_png(greys.to_png()?.into(), false).map_err(refused)?;
                    image(surface, picture, at.x, at.y, *width, *height);
                }
            }
        }
        Ok(())
    }

    /// The engine to the left, the page's number to the right.
    fn foot(&self, surface: &mut Surface<'_>, document: &Document, page: usize, pages: usize) {
        let words = &document.paper.page_of;
        let number = words.replace("##", &pages.to_string()).replace('#', &page.to_string());
        let baseline = self.sheet.top + self.sheet.depth + 26.0;
        let right = self.sheet.left + self.sheet.measure;
        let number = self.typesetter.run(&number, FOOT_SIZE, Weight::Regular);
        let room = self.sheet.measure - number.width - 24.0;
        let subject = self.typesetter.printable(&document.subject.replace(['\n', '\r'], " "));
        let mut short: String = subject.chars().take(160).collect();
        while self.typesetter.width(&format!("{short}…"), FOOT_SIZE, Weight::Regular) > room && short.pop().is_some()
        {
        }
        if short != subject {
            short.push('…');
        }
        let subject = self.typesetter.run(&short, FOOT_SIZE, Weight::Regular);
        surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(ArtifactType::Footer)));
        self.text(surface, &subject, self.sheet.left, baseline, SOFT);
        self.text(surface, &number, right - number.width, baseline, SOFT);
        surface.end_tagged();
    }
}

fn rectangle(x: f64, y: f64, width: f64, height: f64) -> Option<Path> {
    let mut path = PathBuilder::new();
    path.push_rect(Rect::from_xywh(x as f32, y as f32, width as f32, height as f32)?);
    path.finish()
}

fn polygon(spots: &[Spot], closed: bool) -> Option<Path> {
    let mut path = PathBuilder::new();
    let (first, rest) = spots.split_first()?;
    path.move_to(first.x as f32, first.y as f32);
    rest.iter().for_each(|spot| path.line_to(spot.x as f32, spot.y as f32));
    if closed {
        path.close();
    }
    path.finish()
}

fn colour(tone: Tone) -> rgb::Color {
    rgb::Color::new(tone.red, tone.green, tone.blue)
}

fn paint(surface: &mut Surface<'_>, tone: Tone) {
    surface.set_stroke(None);
    surface.set_fill(Some(Fill { paint: colour(tone).into(), ..Fill::default() }));
}

/// Fills a path; a path without extent is none.
fn fill(surface: &mut Surface<'_>, path: Option<Path>, tone: Tone) {
    if let Some(path) = path {
        paint(surface, tone);
        surface.draw_path(&path);
    }
}

fn stroke(surface: &mut Surface<'_>, path: Option<Path>, width: f64, tone: Tone) {
    if let Some(path) = path {
        surface.set_fill(None);
        surface.set_stroke(Some(Stroke {
            paint: colour(tone).into(),
            width: width as f32,
            line_cap: LineCap::Butt,
            line_join: LineJoin::Miter,
            ..Stroke::default()
        }));
        surface.draw_path(&path);
    }
}

fn image(surface: &mut Surface<'_>, image: Image, x: f64, y: f64, width: f64, height: f64) {
    if let Some(size) = Size::from_wh(width as f32, height as f32) {
        surface.push_transform(&Transform::from_translate(x as f32, y as f32));
        surface.draw_image(image, size);
        surface.pop();
    }
}
