//! Swings, moments and measures as tables: CSV after RFC 4180 with a row of names first, UTF-8, a point before decimals,
//! numbers in the unit that their own column names. What is not known is an empty field.

use crate::ExchangeError;
use lessonwright_model::{Measure, SwingAnalysis};
use serde_json::Value;

/// One swing of the tables.
#[derive(Clone, Debug, PartialEq)]
pub struct SwingRow<'a> {
    /// Its number in the studio.
    pub swing: i64,
    /// The player's number in the studio.
    pub player: i64,
    /// When it was filmed, or added where that is not known; RFC 3339.
    pub at: String,
    /// What was made of it.
    pub analysis: &'a SwingAnalysis,
}

/// A row a swing.
///
/// # Errors
/// If a row can't be written.
pub fn swings_csv(rows: &[SwingRow<'_>]) -> Result<Vec<u8>, ExchangeError> {
    let names = [
        "swing",
        "player",
        "at",
        "hand",
        "views",
        "priority",
        "program_version",
    ];
    table(
        &names,
        rows.iter().map(|row| {
            let analysis = row.analysis;
            let views: Vec<String> = analysis
                .views
                .iter()
                .map(|v| key(&v.view))
                .collect::<Result<_, _>>()?;
            Ok(vec![
                row.swing.to_string(),
                row.player.to_string(),
                row.at.clone(),
                analysis
                    .views
                    .first()
                    .map_or(Ok(String::new()), |v| key(&v.hand))?,
                views.join("+"),
                analysis
                    .priority
                    .as_ref()
                    .map_or_else(String::new, |p| p.finding.clone()),
                analysis.program_version.clone(),
            ])
        }),
    )
}

/// A row a moment and view; times in s of the file's own clock.
///
/// # Errors
/// If a row can't be written.
pub fn moments_csv(rows: &[SwingRow<'_>]) -> Result<Vec<u8>, ExchangeError> {
    let names = [
        "swing",
        "view",
        "moment",
        "time_s",
        "plus_minus_s",
        "frame",
        "by_hand",
    ];
    let all = rows
        .iter()
        .flat_map(|row| row.analysis.moments.iter().map(move |m| (row, m)));
    table(
        &names,
        all.map(|(row, moment)| {
            Ok(vec![
                row.swing.to_string(),
                key(&moment.view)?,
                key(&moment.name)?,
                moment.time_s.to_string(),
                moment.plus_minus_s.to_string(),
                moment.frame.to_string(),
                moment.by_hand.to_string(),
            ])
        }),
    )
}

/// A row a measure, also those that could not be measured.
///
/// # Errors
/// If a row can't be written.
pub fn measures_csv(rows: &[SwingRow<'_>]) -> Result<Vec<u8>, ExchangeError> {
    let names = [
        "swing", "measure", "moment", "against", "view", "value", "low_95", "high_95", "unit",
        "state", "reason",
    ];
    let all = rows
        .iter()
        .flat_map(|row| row.analysis.measures.iter().map(move |m| (row, m)));
    table(&names, all.map(|(row, measure)| cells(row.swing, measure)))
}

fn cells(swing: i64, measure: &Measure) -> Result<Vec<String>, ExchangeError> {
    let number = |n: Option<f64>| n.map_or_else(String::new, |n| n.to_string());
    Ok(vec![
        swing.to_string(),
        key(&measure.name)?,
        key(&measure.moment)?,
        measure.against.map_or(Ok(String::new()), |m| key(&m))?,
        measure.view.map_or(Ok(String::new()), |v| key(&v))?,
        number(measure.value),
        number(measure.low),
        number(measure.high),
        key(&measure.unit)?,
        key(&measure.state)?,
        measure.reason.clone(),
    ])
}

/// A word of the model as the JSON has it.
fn key(word: &impl serde::Serialize) -> Result<String, ExchangeError> {
    Ok(match serde_json::to_value(word)? {
        Value::String(text) => text,
        other => other.to_string(),
    })
}

fn table(
    names: &[&str],
    rows: impl Iterator<Item = Result<Vec<String>, ExchangeError>>,
) -> Result<Vec<u8>, ExchangeError> {
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    writer.write_record(names)?;
    for row in rows {
        writer.write_record(row?)?;
    }
    Ok(writer
        .into_inner()
        .map_err(|error| csv::Error::from(error.into_error()))?)
}
