//! Tables and pictures into files, by the ending of their names.

use std::fs::File;
use std::io::BufWriter;
use std::path::{Path, PathBuf};

use hissward::caveat::Fact;
use hissward::export::{CsvTable, ParquetTable};
use hissward::history::Visit;
use hissward::plot::Picture;
use hissward::words::Words;

use crate::face::Failure;
use crate::files::{self, FreshFile};

/// A file asked for with `--out`.
#[derive(Debug)]
pub enum OutFile {
    /// A table for a spreadsheet.
    Csv(PathBuf),
    /// One JSON object.
    Json(PathBuf),
    /// A table for a fleet.
    Parquet(PathBuf),
    /// A picture of pixels.
    Png(PathBuf),
    /// A picture of lines.
    Svg(PathBuf),
}

impl OutFile {
    /// What a name asks for.
    pub fn of(file: &Path, words: &Words) -> Result<Self, Failure> {
        let ending = file.extension().and_then(|ending| ending.to_str()).unwrap_or("").to_ascii_lowercase();
        let file = file.to_owned();
        match ending.as_str() {
            "csv" => Ok(Self::Csv(file)),
            "json" => Ok(Self::Json(file)),
            "parquet" => Ok(Self::Parquet(file)),
            "png" => Ok(Self::Png(file)),
            "svg" => Ok(Self::Svg(file)),
            _ => Err(words.say("history-kind", &[("file", Fact::Text(file.display().to_string()))]).into()),
        }
    }

    /// Its place.
    pub fn file(&self) -> &Path {
        match self {
            Self::Csv(file) | Self::Json(file) | Self::Parquet(file) | Self::Png(file) | Self::Svg(file) => file,
        }
    }

    /// Whether it is written row by row.
    pub fn is_streamed(&self) -> bool {
        matches!(self, Self::Csv(_) | Self::Parquet(_))
    }

    /// The table, begun, where it is one that is written row by row.
    pub fn table(&self) -> Option<Result<Table, Failure>> {
        self.is_streamed().then(|| Table::begin(self))
    }

    /// A picture as this file is to hold it.
    pub fn drawn(&self, picture: &Picture) -> Result<Vec<u8>, Failure> {
        Ok(if matches!(self, Self::Svg(_)) { picture.to_svg()?.into_bytes() } else { picture.to_png()? })
    }
}

enum Rows {
    Csv(CsvTable<BufWriter<File>>),
    Parquet(Box<ParquetTable<BufWriter<File>>>),
}

/// A table being written.
pub struct Table {
    file: FreshFile,
    rows: Rows,
}

impl Table {
    fn begin(out: &OutFile) -> Result<Self, Failure> {
        let file = FreshFile::begin(out.file())?;
        let rows = match out {
            OutFile::Parquet(_) => Rows::Parquet(Box::new(ParquetTable::new(file.writer()?)?)),
            _ => Rows::Csv(CsvTable::new(file.writer()?).map_err(|error| files::refused(out.file(), &error))?),
        };
        Ok(Self { file, rows })
    }

    /// Adds a job.
    pub fn push(&mut self, visit: &Visit) -> Result<(), Failure> {
        match &mut self.rows {
            Rows::Csv(table) => table.push(visit).map_err(|error| files::refused(self.file.place(), &error)),
            Rows::Parquet(table) => Ok(table.push(visit)?),
        }
    }

    /// Puts the table in its place, and says where.
    pub fn finish(self) -> Result<PathBuf, Failure> {
        match self.rows {
            Rows::Csv(table) => drop(table.finish().map_err(|error| files::refused(self.file.place(), &error))?),
            // The encoder leaves the flushing to its owner.
            Rows::Parquet(table) => std::io::Write::flush(&mut table.finish()?)
                .map_err(|error| files::refused(self.file.place(), &error))?,
        }
        self.file.finish()
    }
}
