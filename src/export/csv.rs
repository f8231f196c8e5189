//! The table as CSV.

use std::io::{self, Write};

use super::columns::{COLUMNS, Value, rounded};
use crate::csv_rows::{Cell, CsvRows};
use crate::history::Visit;

/// CSV by RFC 4180 with a head: a point as decimal mark, nothing where nothing is known. Text that a spreadsheet would
/// take for a formula has an apostrophe before it.
pub struct CsvTable<W: Write> {
    rows: CsvRows<W>,
}

impl<W: Write> CsvTable<W> {
    /// Begins a table with its head.
    ///
    /// # Errors
    /// Those of writing.
    pub fn new(out: W) -> io::Result<Self> {
        Ok(Self { rows: CsvRows::new(out, &COLUMNS.map(|column| column.name))? })
    }

    /// Adds a job: a row for each of its cylinders.
    ///
    /// # Errors
    /// Those of writing.
    pub fn push(&mut self, visit: &Visit) -> io::Result<()> {
        visit.rows.iter().try_for_each(|row| self.rows.push(COLUMNS.iter().map(|column| cell((column.of)(visit, row)))))
    }

    /// Ends the table.
    ///
    /// # Errors
    /// Those of writing.
    pub fn finish(self) -> io::Result<W> {
        self.rows.finish()
    }
}

fn cell(value: Value) -> Cell {
    Cell::Plain(match value {
        Value::Text(text) => return Cell::Text(text.unwrap_or_default()),
        Value::Whole(count) => count.map_or_else(String::new, |count| count.to_string()),
        Value::Number(number, decimals) => {
            rounded(number, decimals).map_or_else(String::new, |number| number.to_string())
        }
        Value::Flag(flag) => flag.to_string(),
        Value::Day(day) => day.map_or_else(String::new, |(_, text)| text),
        Value::Instant(seconds) => seconds.map_or_else(String::new, |seconds| seconds.to_string()),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_number_is_not_there() {
        assert_eq!(cell(Value::Number(Some(-0.001), 2)), Cell::Plain("0".to_owned()));
        assert_eq!(cell(Value::Number(Some(f64::NAN), 2)), Cell::Plain(String::new()));
    }
}
