//! A body whose motion another system captured instead of a film: what is kept of it, enough to go down the road again.

use crate::swing::Hand;
use serde::{Deserialize, Serialize};

/// Names of a captured body's points, in the order in which they are kept; joint centres, lead is the side toward the
/// target.
pub const CAPTURED_POINTS: [&str; 17] = [
    "LeadHip",
    "TrailHip",
    "LeadShoulder",
    "TrailShoulder",
    "LeadElbow",
    "TrailElbow",
    "LeadWrist",
    "TrailWrist",
    "LeadKnee",
    "TrailKnee",
    "LeadAnkle",
    "TrailAnkle",
    "LeadHeel",
    "TrailHeel",
    "LeadToe",
    "TrailToe",
    "Nose",
];

/// A captured body over one swing. Axes: x toward the target, y up, z from the player to the ball, the origin on the ground
/// midway between the ankles before the takeaway; a left-hander is mirrored.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CapturedBody {
    /// The file's name.
    pub file: String,
    /// The player's hand.
    pub hand: Hand,
    /// Instants a second.
    pub rate_hz: f64,
    /// Standard deviation of a point along each axis, m.
    pub point_sd_m: f64,
    /// True if `point_sd_m` was stated, false if the usual one was taken.
    pub point_sd_stated: bool,
    /// Stature that the legs' length speaks for, m.
    pub stature_m: f64,
    /// For each instant each point of [`CAPTURED_POINTS`]: x, y, z, mm to a tenth.
    pub poses_mm: Vec<Vec<[f64; 3]>>,
    /// What was worked out or taken for granted, in plain words.
    pub notes: Vec<String>,
}
