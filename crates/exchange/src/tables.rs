//! Swings, moments and measures as tables, each written in two forms: CSV after RFC 4180 with a row of names first, UTF-8, a
//! point before decimals, an empty field for what is not known; and Parquet (`parquet.rs`), where what is not known is null.
//! Numbers are in the unit that their own column names.

use crate::ExchangeError;
use lessonwright_model::{Measure, SwingAnalysis};
use serde_json::Value;

/// A table: its columns, and its rows with a cell for each.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    pub(crate) columns: Vec<(&'static str, Kind)>,
    pub(crate) rows: Vec<Vec<Cell>>,
}

/// What the cells of a column are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Words.
    Text,
    /// Whole numbers.
    Whole,
    /// Fractions.
    Real,
    /// Yes or no.
    Flag,
}

/// A cell.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Not known.
    Unknown,
    /// Words.
    Text(String),
    /// A whole number.
    Whole(i64),
    /// A fraction.
    Real(f64),
    /// Yes or no.
    Flag(bool),
}

/// One swing of the tables.
#[derive(Clone, Debug, PartialEq)]
pub struct SwingRow<'a> {
    /// Its number in the studio.
    pub swing: i64,
    /// The player's number in the studio, or a pseudonym.
    pub player: String,
    /// When it was filmed, or added where that is not known (RFC 3339); with a pseudonym how long after the player's first
    /// swing (ISO 8601, in days).
    pub at: String,
    /// What was made of it.
    pub analysis: &'a SwingAnalysis,
}

impl Table {
    /// A table of these rows.
    ///
    /// # Panics
    /// If a row has not a cell of the column's kind, or none, for each column.
    pub fn of(columns: &[(&'static str, Kind)], rows: Vec<Vec<Cell>>) -> Table {
        for row in &rows {
            let fits = |(cell, (_, kind)): (&Cell, &(&str, Kind))| {
                cell.kind().is_none_or(|found| found == *kind)
            };
            let all = row.len() == columns.len() && row.iter().zip(columns).all(fits);
            assert!(all, "a row fits its columns: {row:?}");
        }
        Table {
            columns: columns.to_vec(),
            rows,
        }
    }

    /// As CSV.
    ///
    /// # Errors
    /// If a row can't be written.
    pub fn csv(&self) -> Result<Vec<u8>, ExchangeError> {
        let mut writer = csv::WriterBuilder::new()
            .terminator(csv::Terminator::CRLF)
            .from_writer(Vec::new());
        writer.write_record(self.columns.iter().map(|(name, _)| name))?;
        for row in &self.rows {
            writer.write_record(row.iter().map(Cell::text))?;
        }
        Ok(writer
            .into_inner()
            .map_err(|error| csv::Error::from(error.into_error()))?)
    }
}

impl Cell {
    fn kind(&self) -> Option<Kind> {
        match self {
            Cell::Unknown => None,
            Cell::Text(_) => Some(Kind::Text),
            Cell::Whole(_) => Some(Kind::Whole),
            Cell::Real(_) => Some(Kind::Real),
            Cell::Flag(_) => Some(Kind::Flag),
        }
    }

    fn text(&self) -> String {
        match self {
            Cell::Unknown => String::new(),
            Cell::Text(text) => text.clone(),
            Cell::Whole(number) => number.to_string(),
            Cell::Real(number) => number.to_string(),
            Cell::Flag(is) => is.to_string(),
        }
    }

    /// A fraction, where it is known.
    pub fn real(number: Option<f64>) -> Cell {
        number.map_or(Cell::Unknown, Cell::Real)
    }
}

/// A row a swing.
///
/// # Errors
/// If a word can't be written.
pub fn swings(rows: &[SwingRow<'_>]) -> Result<Table, ExchangeError> {
    let columns = [
        ("swing", Kind::Whole),
        ("player", Kind::Text),
        ("at", Kind::Text),
        ("hand", Kind::Text),
        ("views", Kind::Text),
        ("priority", Kind::Text),
        ("program_version", Kind::Text),
    ];
    let cells = |row: &SwingRow<'_>| {
        let analysis = row.analysis;
        let views: Vec<String> = analysis
            .views
            .iter()
            .map(|v| key(&v.view))
            .collect::<Result<_, _>>()?;
        Ok(vec![
            Cell::Whole(row.swing),
            Cell::Text(row.player.clone()),
            Cell::Text(row.at.clone()),
            word(analysis.views.first().map(|v| &v.hand))?,
            Cell::Text(views.join("+")),
            analysis
                .priority
                .as_ref()
                .map_or(Cell::Unknown, |p| Cell::Text(p.finding.clone())),
            Cell::Text(analysis.program_version.clone()),
        ])
    };
    let rows = rows.iter().map(cells).collect::<Result<_, ExchangeError>>();
    Ok(Table::of(&columns, rows?))
}

/// A row a moment and view; times in s of the file's own clock.
///
/// # Errors
/// If a word can't be written.
pub fn moments(rows: &[SwingRow<'_>]) -> Result<Table, ExchangeError> {
    let columns = [
        ("swing", Kind::Whole),
        ("view", Kind::Text),
        ("moment", Kind::Text),
        ("time_s", Kind::Real),
        ("plus_minus_s", Kind::Real),
        ("frame", Kind::Whole),
        ("by_hand", Kind::Flag),
    ];
    let mut cells = Vec::new();
    for row in rows {
        for moment in &row.analysis.moments {
            cells.push(vec![
                Cell::Whole(row.swing),
                word(Some(&moment.view))?,
                word(Some(&moment.name))?,
                Cell::Real(moment.time_s),
                Cell::Real(moment.plus_minus_s),
                Cell::Whole(i64::try_from(moment.frame).unwrap_or(i64::MAX)),
                Cell::Flag(moment.by_hand),
            ]);
        }
    }
    Ok(Table::of(&columns, cells))
}

/// A row a measure, also those that could not be measured.
///
/// # Errors
/// If a word can't be written.
pub fn measures(rows: &[SwingRow<'_>]) -> Result<Table, ExchangeError> {
    let columns = [
        ("swing", Kind::Whole),
        ("measure", Kind::Text),
        ("moment", Kind::Text),
        ("against", Kind::Text),
        ("view", Kind::Text),
        ("value", Kind::Real),
        ("low_95", Kind::Real),
        ("high_95", Kind::Real),
        ("unit", Kind::Text),
        ("state", Kind::Text),
        ("reason", Kind::Text),
    ];
    let mut all = Vec::new();
    for row in rows {
        for measure in &row.analysis.measures {
            all.push(cells(row.swing, measure)?);
        }
    }
    Ok(Table::of(&columns, all))
}

fn cells(swing: i64, measure: &Measure) -> Result<Vec<Cell>, ExchangeError> {
    Ok(vec![
        Cell::Whole(swing),
        word(Some(&measure.name))?,
        word(Some(&measure.moment))?,
        word(measure.against.as_ref())?,
        word(measure.view.as_ref())?,
        Cell::real(measure.value),
        Cell::real(measure.low),
        Cell::real(measure.high),
        word(Some(&measure.unit))?,
        word(Some(&measure.state))?,
        Cell::Text(measure.reason.clone()),
    ])
}

/// A word of the model as the JSON has it, where there is one.
fn word<T: serde::Serialize>(word: Option<&T>) -> Result<Cell, ExchangeError> {
    word.map_or(Ok(Cell::Unknown), |word| key(word).map(Cell::Text))
}

/// A word of the model as the JSON has it.
fn key(word: &impl serde::Serialize) -> Result<String, ExchangeError> {
    Ok(match serde_json::to_value(word)? {
        Value::String(text) => text,
        other => other.to_string(),
    })
}
