//! A swing, its views and moments, and the whole analysis as scripts receive it.

use crate::choices::Teaching;
use crate::corrections::Corrections;
use crate::geometry::PixelPoint;
use crate::lesson::{Drill, Finding, Prescription, Priority, Ranking};
use crate::measure::Measure;
use crate::placement::Placement;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::fmt;

/// Where the camera stands.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum View {
    /// Square to the target line, facing the player's chest.
    FaceOn,
    /// On the target line behind the ball, looking toward the target.
    DownTheLine,
}

/// Which hand the player plays.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Hand {
    /// Left side toward the target.
    Right,
    /// Right side toward the target.
    Left,
}

/// Side of the body or the club's travel, the same for both hands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// Nearer the target.
    Lead,
    /// Farther from the target.
    Trail,
}

/// The instants that decide the strike.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum MomentName {
    /// Last instant of stillness before the club starts back.
    Address,
    /// The shaft first parallel to the ground, on the way back.
    ShaftLevelBack,
    /// Lead wrist as high as the lead shoulder, on the way back.
    LeadArmLevelBack,
    /// The hands reverse: they are farthest along their way back.
    Top,
    /// Lead wrist as high as the lead shoulder, on the way down.
    LeadArmLevelDown,
    /// The shaft last parallel to the ground, on the way down.
    ShaftLevelDown,
    /// Club meets ball.
    Impact,
    /// The shoulders arrive where they come to rest after the strike: within 2 % of the stature.
    Finish,
}

impl MomentName {
    /// All, in the order of the swing.
    pub const ALL: [MomentName; 8] = [
        MomentName::Address,
        MomentName::ShaftLevelBack,
        MomentName::LeadArmLevelBack,
        MomentName::Top,
        MomentName::LeadArmLevelDown,
        MomentName::ShaftLevelDown,
        MomentName::Impact,
        MomentName::Finish,
    ];

    /// Plain English, as shown to people.
    pub fn plain(self) -> &'static str {
        match self {
            MomentName::Address => "address",
            MomentName::ShaftLevelBack => "shaft level, going back",
            MomentName::LeadArmLevelBack => "lead arm level, going back",
            MomentName::Top => "top",
            MomentName::LeadArmLevelDown => "lead arm level, coming down",
            MomentName::ShaftLevelDown => "shaft level, coming down",
            MomentName::Impact => "impact",
            MomentName::Finish => "finish",
        }
    }
}

impl fmt::Display for View {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            View::FaceOn => "face-on",
            View::DownTheLine => "down the line",
        })
    }
}

impl fmt::Display for Hand {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Hand::Right => "right-handed",
            Hand::Left => "left-handed",
        })
    }
}

/// One moment found in one view.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Moment {
    /// Which instant.
    pub name: MomentName,
    /// In which view it was timed.
    pub view: View,
    /// From the clip's first frame, s of the file's own clock; between frames as a rule.
    pub time_s: f64,
    /// Half-width of the 95 % interval, s of the file's own clock.
    pub plus_minus_s: f64,
    /// The nearest frame, from 0.
    pub frame: usize,
    /// True if it was set by hand, in this clip or in the other view of the same motion.
    #[serde(default)]
    pub by_hand: bool,
}

/// What was made of one clip.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ViewReport {
    /// The file's name.
    pub clip: String,
    /// The camera's place.
    pub view: View,
    /// True if the user said so, false if recognised from the picture.
    pub view_stated: bool,
    /// The player's hand.
    pub hand: Hand,
    /// True if the user said so, false if recognised from the picture.
    pub hand_stated: bool,
    /// Frames a second of the file's own clock.
    pub rate_hz: f64,
    /// Frames a second of the real motion.
    pub capture_rate_hz: f64,
    /// Width of the upright frame in which landmarks are given, px.
    pub width_px: u32,
    /// Its height, px.
    pub height_px: u32,
    /// Where the camera stands against where it should.
    #[serde(default)]
    pub placement: Placement,
    /// Where the ball lies, px of the upright picture, if it is seen before it is struck.
    #[serde(default)]
    pub ball: Option<PixelPoint>,
    /// Things the professional should know about this clip, in plain words.
    pub warnings: Vec<String>,
}

/// Everything known of one swing: the contract for scripts (see `docs/schema`).
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SwingAnalysis {
    /// Version of this contract; a change that breaks a reader raises it.
    pub schema_version: u32,
    /// Version of the program that computed the numbers.
    pub program_version: String,
    /// What was corrected by hand before the numbers were computed; absent when nothing was.
    #[serde(default, skip_serializing_if = "Corrections::is_empty")]
    pub corrections: Corrections,
    /// What the professional chose to teach in place of what is proposed; absent when nothing was.
    #[serde(default, skip_serializing_if = "Teaching::is_as_proposed")]
    pub teaching: Teaching,
    /// One per clip, in the order given.
    pub views: Vec<ViewReport>,
    /// In the order of the swing, for each view.
    pub moments: Vec<Moment>,
    /// Every measure asked for, also those that could not be measured.
    pub measures: Vec<Measure>,
    /// Measures outside their reference, most telling first.
    pub findings: Vec<Finding>,
    /// The one thing to work on; null when nothing stands out.
    pub priority: Option<Priority>,
    /// All that could be worked on, in order; what was analysed before there was an order has none.
    #[serde(default)]
    pub ranking: Ranking,
    /// Drills for the priority, best first.
    pub drills: Vec<Drill>,
    /// The first drill with its dose and the number to reach; null without a priority.
    pub prescription: Option<Prescription>,
    /// For the player, when there is no prescription: why. Null when there is one.
    pub notice: Option<String>,
}

/// The current [`SwingAnalysis::schema_version`].
pub const SCHEMA_VERSION: u32 = 2;
