//! One number with its unit, sign, ± and state.

use crate::measure_name::{MeasureName, Part};
use crate::swing::{MomentName, View};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Unit of a measure at the edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum Unit {
    /// Centimetres.
    #[serde(rename = "cm")]
    Centimetre,
    /// Degrees.
    #[serde(rename = "deg")]
    Degree,
    /// Seconds of real motion.
    #[serde(rename = "s")]
    Second,
    /// A ratio.
    #[serde(rename = "1")]
    One,
    /// Hundredths.
    #[serde(rename = "%")]
    Percent,
}

/// Whether there is a number, and if not, why.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum MeasureState {
    /// `value`, `low` and `high` are there.
    Measured,
    /// This view can't show it; another view could.
    NotMeasurableFromThisView,
    /// It could have been measured but was not; `reason` says why.
    NotMeasured,
}

/// A closed interval.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// One measure at one moment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Measure {
    /// What is measured.
    pub name: MeasureName,
    /// When.
    pub moment: MomentName,
    /// The moment it is held against; null for a measure that needs none.
    pub against: Option<MomentName>,
    /// The view it is measured in; null when it takes both.
    pub view: Option<View>,
    /// The number in `unit`; null unless `state` is `measured`.
    pub value: Option<f64>,
    /// Unit of `value`, `low` and `high`.
    pub unit: Unit,
    /// Lower end of the 95 % interval.
    pub low: Option<f64>,
    /// Upper end of the 95 % interval.
    pub high: Option<f64>,
    /// Whether there is a number.
    pub state: MeasureState,
    /// Why there is none, or what limits it, in plain words; empty when nothing needs saying.
    pub reason: String,
}

impl Measure {
    /// The 95 % interval, if measured.
    pub fn interval(&self) -> Option<Interval> {
        Some(Interval {
            low: self.low?,
            high: self.high?,
        })
    }
}

/// The measures of a table part by part of the body, line by line: a measure a line, but what is withheld
/// at every moment for one reason in one line together.
pub fn table(measures: &[Measure]) -> Vec<(Part, Vec<&[Measure]>)> {
    measures
        .chunk_by(|a, b| a.name.part() == b.name.part())
        .map(|part| {
            let kinds = part.chunk_by(|a, b| a.name == b.name);
            (part[0].name.part(), kinds.flat_map(lines).collect())
        })
        .collect()
}

fn lines(kind: &[Measure]) -> Vec<&[Measure]> {
    let withheld = |m: &Measure| m.value.is_none() && m.reason == kind[0].reason;
    if kind.iter().all(withheld) {
        vec![kind]
    } else {
        kind.chunks(1).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn measure(name: MeasureName, value: Option<f64>) -> Measure {
        Measure {
            name,
            moment: MomentName::Top,
            against: None,
            view: None,
            value,
            unit: name.unit(),
            low: None,
            high: None,
            state: MeasureState::NotMeasured,
            reason: String::new(),
        }
    }

    #[test]
    fn what_is_withheld_throughout_takes_one_line() {
        use MeasureName::{ChestTurn, PelvisShift, PelvisTurn};
        let all = [
            measure(PelvisShift, Some(1.0)),
            measure(PelvisShift, None),
            measure(PelvisTurn, None),
            measure(PelvisTurn, None),
            measure(ChestTurn, None),
        ];
        let table = table(&all);
        let lengths: Vec<(Part, Vec<usize>)> = table
            .iter()
            .map(|(part, lines)| (*part, lines.iter().map(|line| line.len()).collect()))
            .collect();
        let expected = [(Part::Pelvis, vec![1, 1, 2]), (Part::Chest, vec![1])];
        assert_eq!(lengths, expected);
    }
}
