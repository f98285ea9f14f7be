//! What the professional said of a swing when it was analysed: enough to analyse it again and to lay
//! out its lesson's page again.

use crate::capture::CapturedBody;
use crate::swing::View;
use serde::{Deserialize, Serialize};

/// What was said of a swing and its lesson.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Brief {
    /// Of each clip, in the order in which they were given.
    pub clips: Vec<ClipBrief>,
    /// Which swing of a long clip, from 1; the last where not said.
    pub swing_number: Option<usize>,
    /// Distance from the camera to the player, m.
    pub camera_distance_m: Option<f64>,
    /// What the lesson's page says beside the analysis.
    pub letter: Letter,
    /// The body that was captured, where the swing was not filmed: its clips are then drawn from it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub capture: Option<CapturedBody>,
}

/// What was said of one clip.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct ClipBrief {
    /// Where the camera stands; recognised where not said.
    pub view: Option<View>,
    /// Frames a second of the real motion; as the file says where not said.
    pub capture_rate_hz: Option<f64>,
}

/// What a lesson's page says beside the analysis.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Letter {
    /// The studio or academy; may be empty.
    pub academy: String,
    /// The professional; may be empty.
    pub coach: String,
    /// The lesson's date as it is to be read ("25 November 2026").
    pub date_text: String,
    /// True if inches come first, false if centimetres.
    pub inches_first: bool,
    /// A few lines from the professional.
    pub coach_note: Option<String>,
}
