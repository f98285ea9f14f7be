//! What is made of the measures: findings, the one priority, drills and the prescription.

use crate::measure_name::MeasureName;
use crate::swing::MomentName;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;

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

/// All that could be worked on, in order, and how the order came about. The rule is in
/// `docs/decisions/012-ranking-causes.md`.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Ranking {
    /// Edition of the cause table it was made with; empty where nothing was ranked.
    pub table: String,
    /// Most likely first.
    pub candidates: Vec<Candidate>,
    /// What is left for a cause that nobody has seen, 0 to 1. With the candidates' it makes 1.
    pub unseen: f64,
    /// Facts that were found but are not ranked.
    pub set_aside: Vec<SetAside>,
    /// What the professional should know besides: each finding in trade words, sources, doses.
    pub notes: Vec<String>,
}

/// One thing that could be worked on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Candidate {
    /// Key of the body fact in the cause table.
    pub key: String,
    /// A short title.
    pub title: String,
    /// What shows it.
    pub shown_by: ShownBy,
    /// Its probability under the rule, 0 to 1: an order made visible, not a measured frequency.
    pub probability: f64,
    /// Body fact → club fact → ball flight, upstream first.
    pub chain: Vec<ChainStep>,
    /// The weakest link's grade.
    pub grade: CauseGrade,
    /// Why it stands where it stands, a sentence for each step of the rule.
    pub why: Vec<String>,
}

/// What shows a body fact.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ShownBy {
    /// A measure outside its range.
    Measure,
    /// The professional saw it.
    Professional,
}

/// One step of a chain.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ChainStep {
    /// What it is about.
    pub about: ChainPart,
    /// In a few words, for a picture.
    pub short: String,
    /// In a sentence.
    pub says: String,
    /// Evidence for the link from the step before; null for the first.
    pub grade: Option<CauseGrade>,
    /// Whose evidence; empty for the first.
    pub source: String,
    /// Of a flight with a direction, how it starts and curves; null for all else.
    pub ball: Option<BallPath>,
}

/// How a ball flies, seen from behind it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
pub struct BallPath {
    /// To which side of the target it starts.
    pub starts: Sideways,
    /// To which side it curves.
    pub curves: Sideways,
}

/// A side of the line to the target, the same word for both hands: the lead side is left of it for a
/// right-hander who looks at the target.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Sideways {
    /// To the lead side.
    Lead,
    /// To neither.
    Straight,
    /// To the trail side.
    Trail,
}

/// What a step of a chain is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ChainPart {
    /// The body, or how it is set up.
    Body,
    /// The club.
    Club,
    /// The ball.
    Flight,
}

/// A fact that was found but is not ranked.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SetAside {
    /// Key of the body fact in the cause table.
    pub key: String,
    /// A short title.
    pub title: String,
    /// Why not.
    pub why: String,
}

/// Pictures of a drill.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DrillFigure {
    /// A JPEG; three times as wide as high, it is three stills of a right-hander side by side.
    pub stills: Cow<'static, [u8]>,
    /// Its width and height, px.
    pub size_px: [usize; 2],
    /// The drill moving, a right-hander too (WebP).
    pub moving: Option<Cow<'static, [u8]>>,
}

impl DrillFigure {
    /// Whether the picture is three stills, which are mirrored one by one for a left-hander. Any other is shown as
    /// it is.
    pub fn is_strip(&self) -> bool {
        self.size_px[0] == 3 * self.size_px[1]
    }
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
    /// What to have at hand: sticks, a towel, a mirror.
    #[serde(default)]
    pub station: Vec<String>,
    /// The cue to offer first: something outside the body.
    #[serde(default)]
    pub cue_outward: String,
    /// The cue for those who do better with one inside the body.
    #[serde(default)]
    pub cue_inward: String,
    /// From slow to half, full, a ball and the course, in this order.
    #[serde(default)]
    pub progressions: Vec<String>,
    /// What to see at which moment, with a number.
    #[serde(default)]
    pub checkpoint: String,
    /// Who should leave it out.
    #[serde(default)]
    pub who_should_not: Vec<String>,
    /// The measure it moves; null where no camera shows what it changes (a grip, an aim).
    pub measure: Option<MeasureName>,
    /// When that measure is taken, or when to look.
    pub moment: MomentName,
    /// The moment it is held against; null for a measure that needs none.
    pub against: Option<MomentName>,
    /// By how much in one to two weeks, in the measure's unit, plus or minus as the measure's
    /// sign; null without a measure. A teacher's expectation, not a published figure.
    pub expected_change: Option<f64>,
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
    /// The measure to check; null where no camera shows what is to change.
    pub measure: Option<MeasureName>,
    /// When it is taken, or when to look.
    pub moment: MomentName,
    /// The moment it is held against; null for a measure that needs none.
    pub against: Option<MomentName>,
    /// The number to reach, in the measure's unit; null without a measure.
    pub reach: Option<f64>,
    /// How to film the check.
    pub check: String,
    /// Cautions that come with every prescription.
    pub cautions: Vec<String>,
}
