//! A table as Parquet, read back by the reader of the parquet crate.

use lessonwright_exchange::{Cell, Kind, Table};
use parquet::file::reader::{FileReader, SerializedFileReader};
use parquet::record::Field;

fn table() -> Table {
    let columns = [
        ("swing", Kind::Whole),
        ("measure", Kind::Text),
        ("value", Kind::Real),
        ("by_hand", Kind::Flag),
    ];
    let rows = vec![
        vec![
            Cell::Whole(-7),
            Cell::Text("pelvis_shift".into()),
            Cell::Real(-3.25),
            Cell::Flag(true),
        ],
        vec![
            Cell::Whole(i64::MAX),
            Cell::Text("Søren, \"Ålund\"\n小".into()),
            Cell::Unknown,
            Cell::Flag(false),
        ],
        vec![
            Cell::Unknown,
            Cell::Text(String::new()),
            Cell::Real(0.1),
            Cell::Unknown,
        ],
    ];
    Table::of(&columns, rows)
}

#[test]
fn every_cell_is_read_back_as_it_was() {
    let bytes = table().parquet().unwrap();
    assert_eq!(bytes, table().parquet().unwrap(), "the same bytes again");
    let reader = SerializedFileReader::new(bytes::Bytes::from(bytes)).unwrap();
    let rows: Vec<Vec<Field>> = reader
        .get_row_iter(None)
        .unwrap()
        .map(|row| {
            row.unwrap()
                .into_columns()
                .into_iter()
                .map(|(_, field)| field)
                .collect()
        })
        .collect();
    let text = |text: &str| Field::Str(text.to_owned());
    assert_eq!(
        rows,
        [
            vec![
                Field::Long(-7),
                text("pelvis_shift"),
                Field::Double(-3.25),
                Field::Bool(true)
            ],
            vec![
                Field::Long(i64::MAX),
                text("Søren, \"Ålund\"\n小"),
                Field::Null,
                Field::Bool(false)
            ],
            vec![Field::Null, text(""), Field::Double(0.1), Field::Null],
        ]
    );
}

#[test]
fn a_table_without_rows_is_a_file_too() {
    let empty = Table::of(&[("swing", Kind::Whole)], vec![]);
    let reader = SerializedFileReader::new(bytes::Bytes::from(empty.parquet().unwrap())).unwrap();
    assert_eq!(reader.get_row_iter(None).unwrap().count(), 0);
    assert_eq!(empty.csv().unwrap(), b"swing\r\n");
}
