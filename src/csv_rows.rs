//! Comma-separated values for spreadsheets: RFC 4180, and no text that a spreadsheet would run.

use std::io::{self, Write};

/// One cell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Cell {
    /// The program's own: a number, a name from a list, or nothing. Written as it is, so numbers stay numbers.
    Plain(String),
    /// What people typed.
    Text(String),
}

/// What makes a spreadsheet take a cell for a formula where it stands first. Source: OWASP, "CSV Injection"
/// (owasp.org/www-community/attacks/CSV_Injection, from memory): `=`, `+`, `-`, `@`, tab, CR, LF and the wide forms.
const RUN: [char; 11] = ['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];

/// Rows of cells, written as they come.
pub struct CsvRows<W: Write> {
    out: csv::Writer<W>,
}

impl<W: Write> CsvRows<W> {
    /// Begins a table with its head.
    ///
    /// # Errors
    /// Those of writing.
    pub fn new(out: W, head: &[&str]) -> io::Result<Self> {
        let mut out = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).flexible(true).from_writer(out);
        out.write_record(head)?;
        Ok(Self { out })
    }

    /// Adds a row of as many cells as the head has.
    ///
    /// # Errors
    /// Those of writing.
    pub fn push(&mut self, cells: impl IntoIterator<Item = Cell>) -> io::Result<()> {
        let texts = cells.into_iter().map(|cell| match cell {
            Cell::Plain(own) => own,
            Cell::Text(text) => harmless(text),
        });
        Ok(self.out.write_record(texts)?)
    }

    /// Ends the table.
    ///
    /// # Errors
    /// Those of writing.
    pub fn finish(mut self) -> io::Result<W> {
        self.out.flush()?;
        self.out.into_inner().map_err(|error| io::Error::other(error.to_string()))
    }
}

/// A whole table in memory.
#[must_use]
pub fn csv_text(head: &[&str], rows: impl IntoIterator<Item = Vec<Cell>>) -> String {
    let written = || -> io::Result<Vec<u8>> {
        let mut table = CsvRows::new(Vec::new(), head)?;
        rows.into_iter().try_for_each(|row| table.push(row))?;
        table.finish()
    };
    // Memory takes whatever is written into it, and cells are text: there is nothing that could fail.
    written().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}

/// A text with an apostrophe before it where a spreadsheet would run it: it shows it as text then.
fn harmless(text: String) -> String {
    if text.starts_with(RUN) { format!("'{text}") } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(cells: &[Cell]) -> String {
        let head: Vec<&str> = cells.iter().map(|_| "h").collect();
        let mut rows = CsvRows::new(Vec::new(), &head).expect("a head");
        rows.push(cells.iter().cloned()).expect("a row");
        let text = String::from_utf8(rows.finish().expect("an end")).expect("UTF-8");
        text.split_once("\r\n").expect("a head").1.to_owned()
    }

    fn text(text: &str) -> Cell {
        Cell::Text(text.to_owned())
    }

    #[test]
    fn what_parts_cells_is_quoted() {
        let cells = [text("Gull, \"the grey one\""), text("Gull"), text("two\r\nlines")];
        assert_eq!(written(&cells), "\"Gull, \"\"the grey one\"\"\",Gull,\"two\r\nlines\"\r\n");
    }

    #[test]
    fn no_text_begins_a_formula_and_numbers_stay_numbers() {
        for begins in RUN {
            let cell = written(&[text(&format!("{begins}cmd|' /C calc'!A0")), Cell::Plain("-1.5".to_owned())]);
            let bare = cell.trim_start_matches('"');
            assert!(bare.starts_with(&format!("'{begins}")), "{cell:?}");
            assert!(cell.ends_with(",-1.5\r\n"), "{cell:?}");
        }
        // A quote in a cell cannot end it and begin another.
        assert_eq!(written(&[text("\",=1+1,\""), text("b")]), "\"\"\",=1+1,\"\"\",b\r\n");
    }
}
