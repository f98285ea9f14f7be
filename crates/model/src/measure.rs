//! One number with its unit, sign, ± and state.

use crate::measure_name::MeasureName;
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
