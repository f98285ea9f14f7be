//! Where a camera stands against where it should, as far as the picture tells.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The camera's place, read from the player's feet and hands at address. What a view can't show, or not
/// to a useful degree, is absent (`docs/placement.md`).
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct Placement {
    /// Down the line: how far the camera stands off the line of the hands, seen from the player, degrees,
    /// plus toward the ball.
    pub off_line_deg: Option<Reading>,
    /// Down the line: how steeply the camera looks down on the feet, degrees.
    pub looks_down_deg: Option<Reading>,
    /// Face-on: how far the picture leans, degrees, plus where the target's side is the lower one.
    pub leans_deg: Option<Reading>,
}

/// A number with its doubt.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Reading {
    /// The number.
    pub value: f64,
    /// Half-width of its 95 % interval.
    pub plus_minus: f64,
}

impl Reading {
    /// True if the whole interval lies on one side of `low` to `high`.
    pub fn is_outside(&self, low: f64, high: f64) -> bool {
        self.value + self.plus_minus < low || self.value - self.plus_minus > high
    }
}
