//! The report as one HTML file: no network, no script, opens on a phone and prints.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;

use super::document::{Block, Card, Cell, Certainty, Document, Figure, Player, Section, Table};
use super::error::ReportError;
use super::letterhead::Letterhead;
use crate::plot::{BOLD_WEB_FACE, REGULAR_WEB_FACE, escaped};

/// A picture lower than this part of its width may share a printed page with another.
const LOW: f64 = 0.8;

const STYLE: &str = include_str!("page.css");

/// Writes a document as a page that stands alone: fonts, pictures and style are inside.
///
/// # Errors
/// [`ReportError::Picture`] where a picture cannot be drawn.
pub fn html(document: &Document) -> Result<String, ReportError> {
    let mut page = Page { out: String::new() };
    page.head(document);
    let mut closed = false;
    for (place, section) in document.sections.iter().enumerate() {
        if section.opens_part && !closed {
            // Closed at first; printing prints what is open.
            page.element("<details class=\"appendix\">\n<summary>", &document.appendix, "</summary>\n");
            closed = true;
        }
        page.section(place, section)?;
    }
    page.raw(if closed { "</details>\n</main>" } else { "</main>" });
    page.raw("\n<footer><p>");
    page.text(&document.colophon);
    page.raw("</p></footer>\n</body>\n</html>\n");
    Ok(page.out)
}

/// A page being written. Text goes in by [`Page::text`] alone, which escapes it.
struct Page {
    out: String,
}

impl Page {
    fn raw(&mut self, markup: &str) {
        self.out.push_str(markup);
    }

    /// Text, from wherever: markup is shown as text, control characters are left out.
    fn text(&mut self, text: &str) {
        self.out.push_str(&escaped(text));
    }

    fn element(&mut self, open: &str, text: &str, close: &str) {
        self.raw(open);
        self.text(text);
        self.raw(close);
    }

    fn head(&mut self, document: &Document) {
        self.raw("<!DOCTYPE html>\n<html lang=\"");
        self.text(&document.language);
        self.raw("\">\n<head>\n<meta charset=\"utf-8\">\n");
        self.raw("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
        // Nothing is fetched, whatever a text in the report may hold.
        self.raw(
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; ",
        );
        self.raw("font-src data:; img-src data:; media-src data:\">\n<title>");
        self.text(&document.title);
        self.element(": ", &document.subject, "</title>\n<style>\n");
        for (weight, face) in [(400, REGULAR_WEB_FACE), (700, BOLD_WEB_FACE)] {
            self.raw(&format!(
                "@font-face{{font-family:Inter;font-weight:{weight};src:url(data:font/woff2;base64,{})}}\n",
                STANDARD.encode(face)
            ));
        }
        self.raw(STYLE);
        self.raw("</style>\n</head>\n<body>\n<main>\n");
        if let Some(letterhead) = &document.letterhead {
            self.letterhead(letterhead);
        }
        self.raw("<header>\n");
        self.element("<p class=\"title\">", &document.title, "</p>\n");
        self.element("<h1 dir=\"auto\">", &document.subject, "</h1>\n</header>\n");
    }

    fn letterhead(&mut self, letterhead: &Letterhead) {
        self.raw("<div class=\"letterhead\" dir=\"auto\">\n<div>\n");
        self.element("<p class=\"shop\">", &letterhead.name, "</p>\n");
        for line in &letterhead.address {
            self.element("<p>", line, "</p>\n");
        }
        self.raw("</div>\n");
        if let Some(logo) = &letterhead.logo {
            self.raw(&format!("<img src=\"data:{};base64,{}\" alt=\"", logo.kind(), STANDARD.encode(logo.file())));
            self.text(&letterhead.name);
            self.raw("\">\n");
        }
        self.raw("</div>\n");
    }

    fn section(&mut self, place: usize, section: &Section) -> Result<(), ReportError> {
        let kind = if section.opens_part { " class=\"part\"" } else { "" };
        match &section.title {
            Some(title) => {
                self.raw(&format!("<section{kind} aria-labelledby=\"s{place}\">\n<h2 id=\"s{place}\">"));
                self.text(title);
                self.raw("</h2>\n");
            }
            None => self.raw(&format!("<section{kind}>\n")),
        }
        for block in &section.blocks {
            self.block(block)?;
        }
        self.raw("</section>\n");
        Ok(())
    }

    fn block(&mut self, block: &Block) -> Result<(), ReportError> {
        match block {
            Block::Facts(facts) => self.facts(facts),
            Block::Cards(cards) => cards.iter().for_each(|card| self.card(card)),
            Block::Answer(text) => self.element("<p class=\"answer\">", text, "</p>\n"),
            Block::Signature(lines) => {
                self.raw("<div class=\"signature\">\n");
                lines.iter().for_each(|line| self.element("<p>", line, "</p>\n"));
                self.raw("</div>\n");
            }
            Block::Paragraph(text) => self.element("<p>", text, "</p>\n"),
            Block::Points(points) => self.points(points),
            Block::Heading(text) => self.element("<h3>", text, "</h3>\n"),
            Block::Steps(steps) => {
                self.raw("<ol>\n");
                steps.iter().for_each(|step| self.element("<li>", step, "</li>\n"));
                self.raw("</ol>\n");
            }
            Block::Figure(figure) => self.figure(figure, None)?,
            Block::Sound { figure, player } => self.figure(figure, Some(player))?,
            Block::Table(table) => self.table(table),
        }
        Ok(())
    }

    fn figure(&mut self, figure: &Figure, player: Option<&Player>) -> Result<(), ReportError> {
        let Figure { wide, narrow, caption } = figure;
        // Two low pictures fit on a printed page.
        let low = if wide.height < LOW * wide.width { "wide low" } else { "wide" };
        let kind = if player.is_some() { " class=\"sound\"" } else { "" };
        self.raw(&format!("<figure{kind}>\n"));
        if let Some(player) = player {
            self.element("<figcaption>", caption, "</figcaption>\n");
            self.raw(&format!("<audio controls preload=\"metadata\" src=\"data:{};base64,", player.kind));
            self.raw(&STANDARD.encode(&player.file));
            self.element("\" aria-label=\"", &player.label, "\"></audio>\n");
        }
        self.raw(&format!("<div class=\"{low}\">"));
        self.raw(&wide.to_svg_element()?);
        self.raw("</div>\n<div class=\"narrow\">");
        self.raw(&narrow.to_svg_element()?);
        self.raw("</div>\n");
        if player.is_none() {
            self.element("<figcaption>", caption, "</figcaption>\n");
        }
        self.raw("</figure>\n");
        Ok(())
    }

    fn facts(&mut self, facts: &[(String, String)]) {
        if facts.is_empty() {
            return;
        }
        self.raw("<dl>\n");
        for (name, value) in facts {
            self.element("<div><dt>", name, "</dt>");
            self.element("<dd dir=\"auto\">", value, "</dd></div>\n");
        }
        self.raw("</dl>\n");
    }

    fn card(&mut self, card: &Card) {
        let kind = match card.certainty {
            Certainty::Firm => "firm",
            Certainty::Several => "several",
            Certainty::Nothing => "nothing",
            Certainty::Open => "open",
        };
        self.raw(&format!("<article class=\"finding {kind}\">\n<h3>"));
        self.text(&card.title);
        self.element(" <span class=\"action\">", &card.action, "</span></h3>\n");
        self.element("<p class=\"loss\">", &card.loss, "</p>\n");
        self.element("<p class=\"place\">", &card.answer, "</p>\n");
        for line in &card.lines {
            self.element("<p>", line, "</p>\n");
        }
        self.raw("</article>\n");
    }

    fn points(&mut self, points: &[(Option<String>, String)]) {
        self.raw("<ul>\n");
        for (lead, text) in points {
            self.raw("<li>");
            if let Some(lead) = lead {
                self.element("<strong>", lead, ":</strong> ");
            }
            self.element("", text, "</li>\n");
        }
        self.raw("</ul>\n");
    }

    /// A table; on a phone each row becomes a small block whose cells carry their column's name. The roles are said
    /// aloud because browsers forget them where the style changes a table's display.
    fn table(&mut self, table: &Table) {
        let kind = if table.figures { "figures" } else { "words" };
        self.raw(&format!("<table class=\"{kind}\" role=\"table\">\n"));
        self.element("<caption>", &table.caption, "</caption>\n");
        self.raw("<thead role=\"rowgroup\"><tr role=\"row\">");
        for name in &table.head {
            self.element("<th scope=\"col\" role=\"columnheader\">", name, "</th>");
        }
        self.raw("</tr></thead>\n<tbody role=\"rowgroup\">\n");
        for row in &table.rows {
            self.raw(if row.strong { "<tr role=\"row\" class=\"strong\">" } else { "<tr role=\"row\">" });
            for (place, cell) in row.cells.iter().enumerate() {
                if place == 0 {
                    self.cell("<th scope=\"row\" role=\"rowheader\">", cell, "</th>");
                } else {
                    let name = escaped(table.head.get(place).map_or("", String::as_str));
                    self.cell(&format!("<td role=\"cell\" data-column=\"{name}\">"), cell, "</td>");
                }
            }
            self.raw("</tr>\n");
        }
        self.raw("</tbody>\n</table>\n");
    }

    fn cell(&mut self, open: &str, cell: &Cell, close: &str) {
        self.element(open, &cell.text, "");
        if let Some(under) = &cell.under {
            self.element("<span class=\"under\">", under, "</span>");
        }
        self.raw(close);
    }
}
