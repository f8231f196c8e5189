//! The table as CSV.

use std::io::{self, Write};

use super::columns::{COLUMNS, Value, rounded};
use crate::history::Visit;

/// CSV by RFC 4180 with a head: a point as decimal mark, nothing where nothing is known.
pub struct CsvTable<W: Write> {
    out: W,
}

impl<W: Write> CsvTable<W> {
    /// Begins a table with its head.
    ///
    /// # Errors
    /// Those of writing.
    pub fn new(mut out: W) -> io::Result<Self> {
        let names: Vec<&str> = COLUMNS.iter().map(|column| column.name).collect();
        write!(out, "{}\r\n", names.join(","))?;
        Ok(Self { out })
    }

    /// Adds a job: a row for each of its cylinders.
    ///
    /// # Errors
    /// Those of writing.
    pub fn push(&mut self, visit: &Visit) -> io::Result<()> {
        for row in &visit.rows {
            let cells: Vec<String> = COLUMNS.iter().map(|column| cell((column.of)(visit, row))).collect();
            write!(self.out, "{}\r\n", cells.join(","))?;
        }
        Ok(())
    }

    /// Ends the table.
    ///
    /// # Errors
    /// Those of writing.
    pub fn finish(mut self) -> io::Result<W> {
        self.out.flush()?;
        Ok(self.out)
    }
}

fn cell(value: Value) -> String {
    match value {
        Value::Text(text) => quoted(&text.unwrap_or_default()),
        Value::Whole(count) => count.map_or_else(String::new, |count| count.to_string()),
        Value::Number(number, decimals) => {
            rounded(number, decimals).map_or_else(String::new, |number| number.to_string())
        }
        Value::Flag(flag) => flag.to_string(),
        Value::Day(day) => day.map_or_else(String::new, |(_, text)| text),
        Value::Instant(seconds) => seconds.map_or_else(String::new, |seconds| seconds.to_string()),
    }
}

/// In quotes where it holds what parts cells or rows (RFC 4180, 2.6 and 2.7).
fn quoted(text: &str) -> String {
    if text.contains(['"', ',', '\r', '\n']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_parts_cells_is_quoted() {
        assert_eq!(quoted("Gull, \"the grey one\""), "\"Gull, \"\"the grey one\"\"\"");
        assert_eq!(quoted("Gull"), "Gull");
        assert_eq!(cell(Value::Number(Some(-0.001), 2)), "0");
        assert_eq!(cell(Value::Number(Some(f64::NAN), 2)), "");
    }
}
