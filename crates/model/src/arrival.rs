//! What a clip that was brought in says of itself, before anybody is looked for in it.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

/// Read from the file when it is opened.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ClipNotes {
    /// Length, s of the file's own clock.
    pub duration_s: f64,
    /// Pictures in it.
    pub frames: usize,
    /// Width of the upright picture, px.
    pub width_px: u32,
    /// Height, px.
    pub height_px: u32,
    /// When the camera says it began to film.
    pub filmed_at: Option<Timestamp>,
    /// Strikes heard, s of real time from the first picture, rising.
    pub strikes_s: Vec<f64>,
    /// What to know of the file, in plain words.
    pub warnings: Vec<String>,
}
