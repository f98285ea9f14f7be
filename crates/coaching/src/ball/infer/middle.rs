//! Many balls: the middle of each club's.

use super::super::clubs::ClubKind;
use super::{BallReading, short};
use lessonwright_language::Text;
use std::collections::BTreeMap;

/// The middle of what a club's balls say: medians, as in a table; a dash where none says anything.
#[derive(Clone, Debug, PartialEq)]
pub struct MiddleShot {
    /// The kind of club; None for balls without one.
    pub club: Option<ClubKind>,
    /// How many balls.
    pub shots: usize,
    /// Face, path, and face against path.
    pub angles: [Text; 3],
}

/// The middle of each club's balls: those without a club first, then from the driver on.
pub fn middle_shots<'a>(readings: impl Iterator<Item = &'a BallReading>) -> Vec<MiddleShot> {
    let mut by_club: BTreeMap<Option<ClubKind>, Vec<&BallReading>> = BTreeMap::new();
    for reading in readings {
        by_club.entry(reading.club).or_default().push(reading);
    }
    let middle = |(club, readings): (Option<ClubKind>, Vec<&BallReading>)| MiddleShot {
        club,
        shots: readings.len(),
        angles: [0, 1, 2].map(|index| {
            let values = readings.iter().filter_map(|r| r.angles()[index].value_deg);
            median(values.collect()).map_or_else(|| Text::plain("–"), short)
        }),
    };
    by_club.into_iter().map(middle).collect()
}

fn median(mut values: Vec<f64>) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let last = values.len().checked_sub(1)?;
    Some(0.5 * (values[last / 2] + values[last.div_ceil(2)]))
}
