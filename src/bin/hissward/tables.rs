//! Tables and pictures into files, by the ending of their names.

use std::fs::File;
use std::io::BufWriter;
use std::path::{Path, PathBuf};

use hissward::caveat::Fact;
use hissward::export::{CsvTable, DataSet, Grown, ParquetTable};
use hissward::history::Visit;
use hissward::plot::Picture;
use hissward::words::Words;

use crate::console::Failure;
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
    /// A folder of such tables that grows.
    Set(PathBuf),
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
            "" => Ok(Self::Set(file)),
            _ => Err(words.say("history-kind", &[("file", Fact::Text(file.display().to_string()))]).into()),
        }
    }

    /// Its place.
    pub fn file(&self) -> &Path {
        match self {
            Self::Csv(file) | Self::Json(file) | Self::Parquet(file) | Self::Png(file) | Self::Svg(file) => file,
            Self::Set(folder) => folder,
        }
    }

    /// Whether it is written row by row.
    pub fn is_streamed(&self) -> bool {
        matches!(self, Self::Csv(_) | Self::Parquet(_) | Self::Set(_))
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
    Csv(FreshFile, Box<CsvTable<BufWriter<File>>>),
    Parquet(FreshFile, Box<ParquetTable<BufWriter<File>>>),
    Set(PathBuf, Box<DataSet>),
}

/// A table being written.
pub struct Table(Rows);

impl Table {
    fn begin(out: &OutFile) -> Result<Self, Failure> {
        if let OutFile::Set(folder) = out {
            return Ok(Self(Rows::Set(folder.clone(), Box::new(DataSet::open(folder)?))));
        }
        let file = FreshFile::begin(out.file())?;
        Ok(Self(match out {
            OutFile::Parquet(_) => {
                let table = ParquetTable::new(file.writer()?)?;
                Rows::Parquet(file, Box::new(table))
            }
            _ => {
                let table = CsvTable::new(file.writer()?).map_err(|error| files::refused(out.file(), &error))?;
                Rows::Csv(file, Box::new(table))
            }
        }))
    }

    /// Adds a job.
    pub fn push(&mut self, visit: &Visit) -> Result<(), Failure> {
        match &mut self.0 {
            Rows::Csv(file, table) => table.push(visit).map_err(|error| files::refused(file.place(), &error)),
            Rows::Parquet(_, table) => Ok(table.push(visit)?),
            Rows::Set(_, set) => Ok(set.push(visit)?),
        }
    }

    /// Puts the table in its place, and says where; of a data set how it grew, too.
    pub fn finish(self) -> Result<(PathBuf, Option<Grown>), Failure> {
        match self.0 {
            Rows::Csv(file, table) => {
                drop(table.finish().map_err(|error| files::refused(file.place(), &error))?);
                Ok((file.finish()?, None))
            }
            Rows::Parquet(file, table) => {
                // The encoder leaves the flushing to its owner.
                std::io::Write::flush(&mut table.finish()?).map_err(|error| files::refused(file.place(), &error))?;
                Ok((file.finish()?, None))
            }
            Rows::Set(folder, set) => Ok((folder, Some(set.finish()?))),
        }
    }
}
