//! What is seen of club and ball in single pictures of a clip.

use crate::geometry::PixelPoint;
use serde::{Deserialize, Serialize};

/// The club through a stretch of a clip: the frames that were looked at, in order of time.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct ClubTrack {
    /// Width of the upright frame, px.
    pub width_px: u32,
    /// Height of the upright frame, px.
    pub height_px: u32,
    /// What was seen.
    pub glances: Vec<ClubGlance>,
    /// What moves in the pictures right after the strike, in order of time; empty where no ball was seen to be struck.
    #[serde(default)]
    pub flight: Vec<FlightGlance>,
}

/// One picture after the strike.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FlightGlance {
    /// Presentation time from the clip's first frame, s of the file's own clock.
    pub time_s: f64,
    /// Small bright things that move: the ball, and parts of club and body.
    pub spots: Vec<Spot>,
}

/// A small bright thing that moves.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Spot {
    /// Its middle, px.
    pub at: PixelPoint,
    /// Spread square to the line from where the ball lay (standard deviation), px.
    pub across_px: f64,
}

/// One picture.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ClubGlance {
    /// Frame number in the clip, from 0.
    pub frame: usize,
    /// Presentation time from the clip's first frame, s of the file's own clock.
    pub time_s: f64,
    /// Middle of the grip between the hands, px.
    pub grip: PixelPoint,
    /// Pixels of the frame in one of the network's own: errors come in these.
    pub px: f64,
    /// Directions in which a shaft may lie, the likeliest first; a few at most.
    pub rays: Vec<ClubRay>,
    /// Probability that the head is in the picture and not hidden.
    pub head_seen: f64,
    /// … that some of the shaft is.
    pub shaft_seen: f64,
    /// … that the ball is.
    pub ball_seen: f64,
    /// Likeliest place of the ball, px.
    pub ball: PixelPoint,
}

/// One direction in which the shaft may lie.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct ClubRay {
    /// Direction from grip to head in the picture, radians from right, plus clockwise as seen.
    pub angle_rad: f64,
    /// How widely the network says that it may be wrong, radians (scale of a Laplace distribution).
    pub spread_rad: f64,
    /// Shaft gathered along the ray, in lengths of the network's pixels: some tens where a whole shaft is seen.
    pub score: f64,
    /// How far the shaft is seen, px.
    pub length_px: f64,
    /// Where about the shaft's end the head is likeliest, px.
    pub head: PixelPoint,
    /// How likely, 0..=1.
    pub head_peak: f64,
}
