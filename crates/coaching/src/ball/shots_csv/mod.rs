//! Shots as a device wrote them, from pasted or loaded text.
//!
//! Cells are parted by commas, semicolons or tabs; decimals by points or commas; units stand in the
//! header, in a row under it, in the cell, or are said by the caller. Left and right are words or
//! letters ("3.2 L"); a bare minus is left, for both hands. Lines before the header and rows of
//! averages are left out and told of, and so are columns that mean nothing here.

mod error;
mod header;

use super::clubs::ClubKind;
use super::quantity::{self, Comma, Kind, Unit};
use super::seen::{Measured, SeenBall};
use csv::StringRecord;
pub use error::ShotsError;
pub use header::Column;

/// Shots read from text.
#[derive(Clone, Debug, PartialEq)]
pub struct ShotTable {
    /// In the order of the text.
    pub shots: Vec<Shot>,
    /// Columns that were read, by their names in the text.
    pub columns: Vec<(String, Column)>,
    /// Names of columns that were not.
    pub unknown: Vec<String>,
    /// Lines left out, with the reason.
    pub left_out: Vec<String>,
}

/// One shot.
#[derive(Clone, Debug, PartialEq)]
pub struct Shot {
    /// Its line in the text, from 1.
    pub line: u64,
    /// The club as written.
    pub club_name: Option<String>,
    /// Its kind, if understood.
    pub club: Option<ClubKind>,
    /// What was measured.
    pub ball: SeenBall,
}

/// Units of columns and cells that state none. Angles without one are degrees, spin is rpm.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct AssumedUnits {
    /// Of speeds.
    pub speed: Option<Unit>,
    /// Of distances.
    pub length: Option<Unit>,
}

/// Shots in one text.
pub const MOST_SHOTS: usize = 5000;
/// A header names at least so many columns that are understood.
const LEAST_COLUMNS: usize = 2;
/// A header stands within the first lines.
const HEADER_WITHIN: usize = 30;

/// Reads shots.
///
/// # Errors
/// See [`ShotsError`]; a cell that can't be read or can't be true stops all of it, with its place.
pub fn read_shots(text: &str, assumed: AssumedUnits) -> Result<ShotTable, ShotsError> {
    let text = text.trim_start_matches('\u{feff}');
    if text.trim().is_empty() {
        return Err(ShotsError::Empty);
    }
    let page = [b';', b'\t', b',']
        .into_iter()
        .map(|delimiter| Page::cut(text, delimiter))
        .collect::<Result<Vec<Page>, ShotsError>>()?
        .into_iter()
        // The last of equals: a comma, when there is but one column anyway.
        .max_by_key(Page::columns_known)
        .filter(|page| page.columns_known() >= LEAST_COLUMNS);
    let Some(page) = page else {
        let first_line = text.lines().find(|line| !line.trim().is_empty());
        return Err(ShotsError::NoHeader {
            first_line: first_line.unwrap_or("").trim().chars().take(60).collect(),
        });
    };
    page.read(assumed)
}

/// Text cut at one delimiter.
struct Page {
    rows: Vec<StringRecord>,
    header: usize,
    comma: Comma,
}

impl Page {
    fn cut(text: &str, delimiter: u8) -> Result<Page, ShotsError> {
        let mut reader = csv::ReaderBuilder::new()
            .delimiter(delimiter)
            .has_headers(false)
            .flexible(true)
            .trim(csv::Trim::All)
            .from_reader(text.as_bytes());
        let mut rows = Vec::new();
        for record in reader.records() {
            let row = record.map_err(|error| ShotsError::Malformed {
                line: error.position().map_or(0, csv::Position::line),
                problem: error.to_string(),
            })?;
            rows.push(row);
            if rows.len() > MOST_SHOTS + HEADER_WITHIN {
                return Err(ShotsError::TooMany);
            }
        }
        let known = |row: &StringRecord| row.iter().filter_map(Column::read).count();
        let header = (0..rows.len().min(HEADER_WITHIN))
            .rev()
            .max_by_key(|index| known(&rows[*index]))
            .unwrap_or(0);
        let comma = Comma::of(
            rows.iter().skip(header + 1).flat_map(StringRecord::iter),
            delimiter == b',',
        );
        Ok(Page {
            rows,
            header,
            comma,
        })
    }

    fn columns_known(&self) -> usize {
        self.rows
            .get(self.header)
            .map_or(0, |row| row.iter().filter_map(Column::read).count())
    }

    fn read(&self, assumed: AssumedUnits) -> Result<ShotTable, ShotsError> {
        let mut table = ShotTable {
            shots: Vec::new(),
            columns: Vec::new(),
            unknown: Vec::new(),
            left_out: Vec::new(),
        };
        for row in &self.rows[..self.header] {
            table
                .left_out
                .push(format!("line {}: before the header", line_of(row)));
        }
        let mut fields = self.fields(&mut table);
        for row in &self.rows[self.header + 1..] {
            if row.iter().all(is_nothing) {
                continue;
            }
            if is_row_of_units(row) {
                for field in &mut fields {
                    let unit = row.get(field.index).and_then(|cell| Unit::read(bare(cell)));
                    field.unit = unit
                        .filter(|unit| Some(unit.kind()) == field.column.kind())
                        .or(field.unit);
                }
            } else if let Some(word) = row.iter().find(|cell| is_statistic(cell)) {
                table
                    .left_out
                    .push(format!("line {}: \"{word}\" is no shot", line_of(row)));
            } else {
                table.shots.push(self.shot(row, &fields, assumed)?);
            }
        }
        if table.shots.is_empty() {
            return Err(ShotsError::NoShots {
                line: line_of(&self.rows[self.header]),
            });
        }
        Ok(table)
    }

    /// The columns of the header; of two that mean the same the first is read.
    fn fields(&self, table: &mut ShotTable) -> Vec<Field> {
        let mut fields: Vec<Field> = Vec::new();
        for (index, name) in self.rows[self.header].iter().enumerate() {
            match Column::read(name) {
                Some((column, unit)) if fields.iter().all(|field| field.column != column) => {
                    table.columns.push((name.to_owned(), column));
                    fields.push(Field {
                        index,
                        name: name.to_owned(),
                        column,
                        unit,
                    });
                }
                _ if name.is_empty() => {}
                _ => table.unknown.push(name.to_owned()),
            }
        }
        fields
    }

    fn shot(
        &self,
        row: &StringRecord,
        fields: &[Field],
        assumed: AssumedUnits,
    ) -> Result<Shot, ShotsError> {
        let mut numbers = Numbers::default();
        let mut club_name = None;
        for field in fields {
            let cell = row.get(field.index).unwrap_or("");
            if is_nothing(cell) {
                continue;
            }
            if field.column == Column::Club {
                club_name = Some(cell.to_owned());
                continue;
            }
            let value =
                field
                    .number(cell, assumed, self.comma)
                    .map_err(|problem| ShotsError::Cell {
                        line: line_of(row),
                        column: field.name.clone(),
                        problem,
                    })?;
            numbers.0.push((field.column, value));
        }
        Ok(Shot {
            line: line_of(row),
            club: club_name.as_deref().and_then(ClubKind::read),
            club_name,
            ball: SeenBall {
                measured: numbers.measured(),
                ..SeenBall::default()
            },
        })
    }
}

/// A column that is read.
struct Field {
    index: usize,
    name: String,
    column: Column,
    unit: Option<Unit>,
}

impl Field {
    /// A cell's number in SI, or what is wrong with it.
    fn number(&self, cell: &str, assumed: AssumedUnits, comma: Comma) -> Result<f64, String> {
        let kind = self.column.kind().ok_or("no number is expected here")?;
        let (unit, say) = match kind {
            Kind::Angle => (self.unit.or(Some(Unit::Degree)), ""),
            Kind::Spin => (self.unit.or(Some(Unit::Rpm)), ""),
            Kind::Speed => (self.unit.or(assumed.speed), "m/s, km/h or mph"),
            Kind::Length => (self.unit.or(assumed.length), "m, yd or ft"),
        };
        let value = quantity::read(cell, kind, unit, comma).map_err(|problem| {
            if problem == "no unit" {
                format!(
                    "its unit is not stated: write it in the header, as in \"{} ({})\", or say \
                     which is meant",
                    self.name,
                    say.split(',').next().unwrap_or(say)
                )
            } else {
                problem
            }
        })?;
        let (low, high) = self.column.believable();
        if (low..=high).contains(&value) {
            Ok(value)
        } else {
            Err(format!(
                "\"{cell}\" can't be: check the unit and that the column is what its name says"
            ))
        }
    }
}

/// The numbers of one row, SI.
#[derive(Default)]
struct Numbers(Vec<(Column, f64)>);

impl Numbers {
    fn of(&self, column: Column) -> Option<f64> {
        let found = self.0.iter().find(|(known, _)| *known == column);
        found.map(|(_, value)| *value)
    }

    /// Back and side spin become spin and axis; face against path fills in for either of the two.
    fn measured(&self) -> Measured {
        let (back, side) = (self.of(Column::BackSpin), self.of(Column::SideSpin));
        let spin = self
            .of(Column::Spin)
            .or(back.map(|back| back.hypot(side.unwrap_or(0.0))));
        let axis = self.of(Column::SpinAxis).or(match (back, side) {
            (Some(back), Some(side)) if back > 0.0 => Some(side.atan2(back)),
            _ => None,
        });
        let (face, path, between) = (
            self.of(Column::Face),
            self.of(Column::Path),
            self.of(Column::FaceToPath),
        );
        Measured {
            ball_speed_m_s: self.of(Column::BallSpeed),
            launch_rad: self.of(Column::LaunchAngle),
            start_rad: self.of(Column::StartDirection),
            spin_rad_s: spin,
            axis_rad: axis,
            carry_m: self.of(Column::Carry),
            side_m: self.of(Column::Side),
            apex_m: self.of(Column::Apex),
            club_speed_m_s: self.of(Column::ClubSpeed),
            path_rad: path.or(face.zip(between).map(|(face, between)| face - between)),
            face_rad: face.or(path.zip(between).map(|(path, between)| path + between)),
            attack_rad: self.of(Column::Attack),
            loft_rad: self.of(Column::DynamicLoft),
            toward_toe_m: self.of(Column::TowardToe),
        }
    }
}

fn line_of(row: &StringRecord) -> u64 {
    row.position().map_or(0, csv::Position::line)
}

/// Blank, or what stands for it.
fn is_nothing(cell: &str) -> bool {
    matches!(
        cell.to_lowercase().as_str(),
        "" | "-" | "--" | "–" | "—" | "n/a" | "na" | "nan" | "null" | "none"
    )
}

/// Units under a header: nothing but units and blanks, and at least one unit.
fn is_row_of_units(row: &StringRecord) -> bool {
    let mut units = 0;
    for cell in row.iter().map(bare).filter(|cell| !is_nothing(cell)) {
        if Unit::read(cell).is_none() {
            return false;
        }
        units += 1;
    }
    units > 0
}

/// Without the brackets around it.
fn bare(cell: &str) -> &str {
    cell.trim_matches(['(', ')', '[', ']'])
}

/// The first words of rows under a table that are no shots.
fn is_statistic(cell: &str) -> bool {
    let lower = cell.to_lowercase();
    [
        "average",
        "avg",
        "mean",
        "median",
        "std",
        "stdev",
        "deviation",
        "consistency",
        "min",
        "max",
        "sum",
        "total",
    ]
    .iter()
    .any(|word| {
        lower == *word
            || lower
                .strip_prefix(word)
                .is_some_and(|rest| rest.starts_with([' ', '.']))
    })
}

#[cfg(test)]
mod tests;
