//! Histories as tables for other programs, row by row: CSV for a spreadsheet, Parquet for a fleet.
//!
//! A row is one cylinder in one job; [`COLUMNS`] names what stands in it, once for both formats. Rows are written as
//! the jobs are read, so memory does not grow with their number.
//!
#![doc = include_str!("fleet/fleet.md")]

mod columns;
mod csv;
mod data_set;
mod parquet;

pub use self::csv::CsvTable;
pub use columns::{COLUMNS, Column, Kind, Value};
pub use data_set::{DataSet, DataSetError, Grown};
pub use parquet::{ExportError, ParquetTable};
