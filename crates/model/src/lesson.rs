//! What is made of the measures: findings, the one priority, drills and the prescription.

use crate::measure_name::MeasureName;
use crate::swing::MomentName;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How good the evidence of a link is.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
pub enum CauseGrade {
    /// Physics, confirmed by measurement.
    A,
    /// Group studies agree.
    B,
    /// Single or conflicting studies.
    C,
    /// Agreement among teachers; no controlled evidence.
    D,
}

/// A measure whose interval lies outside its reference.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Finding {
    /// Key of the finding in the cause table ("pelvis_stays_back").
    pub key: String,
    /// One plain sentence for player and professional, worded for the player's hand.
    pub says: String,
    /// The measure behind it.
    pub measure: MeasureName,
    /// When.
    pub moment: MomentName,
    /// The moment it is held against; null for a measure that needs none.
    pub against: Option<MomentName>,
    /// Measured value, in the measure's unit.
    pub value: f64,
    /// Reference band, in the measure's unit.
    pub reference_low: f64,
    /// Reference band, in the measure's unit.
    pub reference_high: f64,
    /// Where the reference comes from, with its doubt.
    pub reference_source: String,
    /// How far the nearer end of the 95 % interval lies outside the band, in band half-widths.
    pub strength: f64,
}

/// The one thing to work on, and why.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Priority {
    /// The finding it rests on.
    pub finding: String,
    /// A short title ("Move the lower body toward the target first").
    pub title: String,
    /// Body fact → club fact → ball flight, as sentences, upstream first. A proposal.
    pub chain: Vec<String>,
    /// The weakest link's grade.
    pub grade: CauseGrade,
    /// What would change the professional's mind.
    pub would_change_it: String,
}

/// An exercise, worded for the player's hand.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Drill {
    /// Key in the drill book.
    pub key: String,
    /// Title.
    pub title: String,
    /// What it changes.
    pub changes: String,
    /// What to lay out before the first swing.
    pub set_up: Vec<String>,
    /// What to do, in order.
    pub steps: Vec<String>,
    /// What to attend to: an outside cue first.
    pub feel: String,
    /// How to see that it goes wrong.
    pub watch_for: Vec<String>,
    /// When not to, and when to stop.
    pub cautions: Vec<String>,
    /// How much, how often.
    pub dose: String,
    /// The measure it moves.
    pub measure: MeasureName,
    /// When that measure is taken.
    pub moment: MomentName,
    /// The moment it is held against; null for a measure that needs none.
    pub against: Option<MomentName>,
    /// By how much in one to two weeks, in the measure's unit, plus or minus as the measure's
    /// sign. A teacher's expectation, not a published figure.
    pub expected_change: f64,
}

/// A drill with the number to reach.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Prescription {
    /// Key of the drill.
    pub drill: String,
    /// The cue to keep in mind.
    pub cue: String,
    /// How much, how often.
    pub dose: String,
    /// The measure to check.
    pub measure: MeasureName,
    /// When it is taken.
    pub moment: MomentName,
    /// The moment it is held against; null for a measure that needs none.
    pub against: Option<MomentName>,
    /// The number to reach, in the measure's unit.
    pub reach: f64,
    /// How to film the check.
    pub check: String,
    /// Cautions that come with every prescription.
    pub cautions: Vec<String>,
}
