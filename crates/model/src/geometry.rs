//! Points, one type per frame of reference, so that mixing two does not compile.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A point in an upright frame (after the clip's rotation flag): x to the right and y down, in
/// pixels of the decoded frame; pixel centres lie at half-integers, (0, 0) is the outer corner.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PixelPoint {
    /// To the right, px.
    pub x: f64,
    /// Down, px.
    pub y: f64,
}

/// A point in the player's world, metres: `target` toward the target, `up`, and `ball` from the
/// player to the ball. The same axes serve both hands (a left-hander's world is the mirror image).
/// Origin: on the ground, midway between the ankles at address.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct WorldPoint {
    /// Toward the target, m.
    pub target: f64,
    /// Up, m.
    pub up: f64,
    /// From the player toward the ball, m.
    pub ball: f64,
}

impl PixelPoint {
    /// Midway between two points.
    pub fn midpoint(self, other: PixelPoint) -> PixelPoint {
        PixelPoint {
            x: 0.5 * (self.x + other.x),
            y: 0.5 * (self.y + other.y),
        }
    }

    /// Distance in pixels.
    pub fn distance(self, other: PixelPoint) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }
}
