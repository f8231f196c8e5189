//! The table as Parquet, column by column, without Arrow in between.

use std::io::{self, Write};
use std::sync::Arc;

use parquet::basic::{Compression, LogicalType, Repetition, TimeUnit, Type as PhysicalType};
use parquet::data_type::{BoolType, ByteArray, ByteArrayType, DataType, DoubleType, Int32Type, Int64Type};
use parquet::errors::ParquetError;
use parquet::file::properties::WriterProperties;
use parquet::file::writer::{SerializedColumnWriter, SerializedFileWriter};
use parquet::schema::types::Type;

use super::columns::{COLUMNS, Kind, Value, rounded};
use crate::history::Visit;

/// Rows held before they are written as one group.
const ROWS_IN_A_GROUP: usize = 4_096;

/// Why a table was not written.
#[derive(Debug, thiserror::Error)]
pub enum ExportError {
    /// The disk.
    #[error("the table cannot be written ({0}): make room or choose another place")]
    Disk(#[from] io::Error),
    /// The encoder.
    #[error("the table cannot be written as Parquet ({0}): make room or choose another place")]
    Parquet(#[from] ParquetError),
}

/// A Parquet file being written, a group of rows at a time.
pub struct ParquetTable<W: Write + Send> {
    out: SerializedFileWriter<W>,
    rows: Vec<[Value; COLUMNS.len()]>,
}

impl<W: Write + Send> ParquetTable<W> {
    /// Begins a table. Columns are uncompressed: their encodings (dictionaries) already make them small, and every
    /// reader has them.
    ///
    /// # Errors
    /// [`ExportError`] of writing.
    pub fn new(out: W) -> Result<Self, ExportError> {
        let properties = WriterProperties::builder()
            .set_compression(Compression::UNCOMPRESSED)
            .set_created_by(concat!("hissward ", env!("CARGO_PKG_VERSION")).to_owned());
        let schema = Arc::new(schema()?);
        let out = SerializedFileWriter::new(out, schema, Arc::new(properties.build()))?;
        Ok(Self { out, rows: Vec::new() })
    }

    /// Adds a job: a row for each of its cylinders.
    ///
    /// # Errors
    /// [`ExportError`] of writing.
    pub fn push(&mut self, visit: &Visit) -> Result<(), ExportError> {
        for row in &visit.rows {
            self.rows.push(COLUMNS.map(|column| (column.of)(visit, row)));
        }
        if self.rows.len() >= ROWS_IN_A_GROUP { self.write_group() } else { Ok(()) }
    }

    /// Writes what is left and the file's foot.
    ///
    /// # Errors
    /// [`ExportError`] of writing.
    pub fn finish(mut self) -> Result<W, ExportError> {
        if !self.rows.is_empty() {
            self.write_group()?;
        }
        Ok(self.out.into_inner()?)
    }

    fn write_group(&mut self) -> Result<(), ExportError> {
        let mut group = self.out.next_row_group()?;
        let mut place = 0;
        while let Some(mut column) = group.next_column()? {
            write_column(&mut column, COLUMNS[place].kind, self.rows.iter().map(|row| &row[place]))?;
            column.close()?;
            place += 1;
        }
        group.close()?;
        self.rows.clear();
        Ok(())
    }
}

fn schema() -> Result<Type, ParquetError> {
    let fields = COLUMNS.iter().map(|column| {
        let (physical, logical) = match column.kind {
            Kind::Text => (PhysicalType::BYTE_ARRAY, Some(LogicalType::String)),
            Kind::Whole => (PhysicalType::INT32, None),
            Kind::Number => (PhysicalType::DOUBLE, None),
            Kind::Flag => (PhysicalType::BOOLEAN, None),
            Kind::Day => (PhysicalType::INT32, Some(LogicalType::Date)),
            Kind::Instant => (PhysicalType::INT64, Some(LogicalType::timestamp(true, TimeUnit::MILLIS))),
        };
        let field = Type::primitive_type_builder(column.name, physical)
            .with_repetition(Repetition::OPTIONAL)
            .with_logical_type(logical)
            .build()?;
        Ok(Arc::new(field))
    });
    let fields = fields.collect::<Result<Vec<_>, ParquetError>>()?;
    Type::group_type_builder("history").with_fields(fields).build()
}

fn write_column<'a>(
    column: &mut SerializedColumnWriter<'_>,
    kind: Kind,
    values: impl Iterator<Item = &'a Value>,
) -> Result<(), ParquetError> {
    match kind {
        Kind::Text => write_values::<ByteArrayType>(
            column,
            values.map(|value| match value {
                Value::Text(text) => text.as_deref().map(ByteArray::from),
                _ => None,
            }),
        ),
        Kind::Whole | Kind::Day => write_values::<Int32Type>(
            column,
            values.map(|value| match value {
                Value::Whole(count) => *count,
                Value::Day(day) => day.as_ref().map(|(number, _)| *number),
                _ => None,
            }),
        ),
        Kind::Number => write_values::<DoubleType>(
            column,
            values.map(|value| match value {
                Value::Number(number, decimals) => rounded(*number, *decimals),
                _ => None,
            }),
        ),
        Kind::Flag => write_values::<BoolType>(
            column,
            values.map(|value| match value {
                Value::Flag(flag) => Some(*flag),
                _ => None,
            }),
        ),
        Kind::Instant => write_values::<Int64Type>(
            column,
            values.map(|value| match value {
                Value::Instant(seconds) => seconds.map(|seconds| seconds * 1000),
                _ => None,
            }),
        ),
    }
}

/// Definition levels say where there is a value (1) and where none (0); only those there are follow.
fn write_values<T: DataType>(
    column: &mut SerializedColumnWriter<'_>,
    values: impl Iterator<Item = Option<T::T>>,
) -> Result<(), ParquetError> {
    let values: Vec<Option<T::T>> = values.collect();
    let there: Vec<i16> = values.iter().map(|value| i16::from(value.is_some())).collect();
    let values: Vec<T::T> = values.into_iter().flatten().collect();
    column.typed::<T>().write_batch(&values, Some(&there), None)?;
    Ok(())
}
