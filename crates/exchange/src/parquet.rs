//! A table as Parquet (Apache Parquet format 2, one row group, nothing packed): words as UTF-8 strings, whole numbers as INT64,
//! fractions as DOUBLE, yes or no as BOOLEAN; every column may have nulls. The same table gives the same bytes.

use crate::ExchangeError;
use crate::tables::{Cell, Kind, Table};
use parquet::basic::{ConvertedType, LogicalType, Repetition, Type as Physical};
use parquet::data_type::{BoolType, ByteArray, ByteArrayType, DataType, DoubleType, Int64Type};
use parquet::errors::ParquetError;
use parquet::file::properties::WriterProperties;
use parquet::file::writer::{SerializedFileWriter, SerializedRowGroupWriter};
use parquet::schema::types::{Type, TypePtr};
use std::sync::Arc;

impl Table {
    /// As Parquet.
    ///
    /// # Errors
    /// If it can't be written.
    pub fn parquet(&self) -> Result<Vec<u8>, ExchangeError> {
        let mut bytes = Vec::new();
        // A name without a version: the same table gives the same bytes with the next version.
        let properties = WriterProperties::builder()
            .set_created_by("lessonwright".to_owned())
            .build();
        let schema = Arc::new(schema(self)?);
        let mut writer = SerializedFileWriter::new(&mut bytes, schema, Arc::new(properties))?;
        let mut group = writer.next_row_group()?;
        for (place, (_, kind)) in self.columns.iter().enumerate() {
            let cells = self.rows.iter().map(|row| &row[place]);
            match kind {
                Kind::Text => column::<ByteArrayType>(&mut group, cells.map(text))?,
                Kind::Whole => column::<Int64Type>(&mut group, cells.map(whole))?,
                Kind::Real => column::<DoubleType>(&mut group, cells.map(real))?,
                Kind::Flag => column::<BoolType>(&mut group, cells.map(flag))?,
            }
        }
        group.close()?;
        writer.close()?;
        Ok(bytes)
    }
}

fn schema(table: &Table) -> Result<Type, ParquetError> {
    let field = |(name, kind): &(&str, Kind)| -> Result<TypePtr, ParquetError> {
        let physical = match kind {
            Kind::Text => Physical::BYTE_ARRAY,
            Kind::Whole => Physical::INT64,
            Kind::Real => Physical::DOUBLE,
            Kind::Flag => Physical::BOOLEAN,
        };
        let mut field =
            Type::primitive_type_builder(name, physical).with_repetition(Repetition::OPTIONAL);
        if *kind == Kind::Text {
            field = field
                .with_logical_type(Some(LogicalType::String))
                .with_converted_type(ConvertedType::UTF8);
        }
        Ok(Arc::new(field.build()?))
    };
    let fields = table.columns.iter().map(field).collect::<Result<_, _>>()?;
    Type::group_type_builder("schema")
        .with_fields(fields)
        .build()
}

/// The next column: a level for each cell, 0 for null, and the values of the others.
fn column<D: DataType>(
    group: &mut SerializedRowGroupWriter<'_, &mut Vec<u8>>,
    cells: impl Iterator<Item = Option<D::T>>,
) -> Result<(), ParquetError> {
    let cells: Vec<Option<D::T>> = cells.collect();
    let levels: Vec<i16> = cells.iter().map(|cell| i16::from(cell.is_some())).collect();
    let values: Vec<D::T> = cells.into_iter().flatten().collect();
    let mut column = group
        .next_column()?
        .expect("the schema has a column for each of the table");
    column
        .typed::<D>()
        .write_batch(&values, Some(&levels), None)?;
    column.close()
}

fn text(cell: &Cell) -> Option<ByteArray> {
    match cell {
        Cell::Text(text) => Some(ByteArray::from(text.as_str())),
        _ => None,
    }
}

fn whole(cell: &Cell) -> Option<i64> {
    match cell {
        Cell::Whole(number) => Some(*number),
        _ => None,
    }
}

fn real(cell: &Cell) -> Option<f64> {
    match cell {
        Cell::Real(number) => Some(*number),
        _ => None,
    }
}

fn flag(cell: &Cell) -> Option<bool> {
    match cell {
        Cell::Flag(is) => Some(*is),
        _ => None,
    }
}
