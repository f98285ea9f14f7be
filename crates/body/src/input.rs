//! What a fit is given: image tracks, a few times, and what is known of player and cameras.

use crate::camera::View;
use crate::points::POINTS;
use glam::DVec2;
use thiserror::Error;

/// A point as it was seen in one frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// Where, px from the picture's outer corner, x right, y down.
    pub pixel: DVec2,
    /// Standard deviation of each coordinate, px. A joint dragged by hand has a tiny one.
    pub sd_px: f64,
    /// Depth from the mid-hip along the optical axis, plus away from the camera. Leave out what a
    /// raw network says: it says "no turn" and pulls the knee and hip lines to zero.
    pub depth: Option<SeenDepth>,
}

/// A depth relative to the mid-hip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeenDepth {
    /// The depth, m.
    pub depth_m: f64,
    /// Its standard deviation, m.
    pub sd_m: f64,
}

/// The points seen in one frame, in the order of [`crate::Point`].
pub type SeenPose = [Option<Seen>; POINTS];

/// One clip.
#[derive(Clone, Debug, PartialEq)]
pub struct ViewTrack {
    /// Where the camera stands.
    pub view: View,
    /// Width and height of the upright picture, px.
    pub size_px: [f64; 2],
    /// Real time of each frame, s, rising; any rate, even or not.
    pub times_s: Vec<f64>,
    /// What each frame shows.
    pub frames: Vec<SeenPose>,
    /// A time of stillness at address, s of this clip.
    pub address_s: f64,
    /// The end of that stillness, s of this clip.
    pub takeaway_s: f64,
    /// Club meets ball, s of this clip; aligns the views.
    pub impact_s: f64,
    /// Distance from the camera to the player, m, if known.
    pub distance_m: Option<f64>,
    /// Focal length, px, if known.
    pub focal_px: Option<f64>,
    /// Where the camera stands off its nominal bearing, radians, plus counter-clockwise seen from
    /// above.
    pub bearing_rad: f64,
    /// Its standard deviation, radians. Absolute yaw is not observable from a body: what the views say of
    /// it, weighted by this, is where the target is taken to be.
    pub bearing_sd_rad: f64,
}

/// What is known beside the tracks.
#[derive(Clone, Debug, PartialEq)]
pub struct Options {
    /// Height of the player without shoes, m: the only source of scale.
    pub stature_m: Option<f64>,
    /// Believe that hips and knees stand along the feet's line at address. Turn it off for a player
    /// who sets up turned.
    pub square_at_address: bool,
    /// Estimate how far the second clip's impact time is off, or believe it.
    pub estimate_time_offset: bool,
}

impl Options {
    /// The usual ones for a player of a stature, m.
    pub fn of_stature(stature_m: f64) -> Options {
        Options {
            stature_m: Some(stature_m),
            square_at_address: true,
            estimate_time_offset: true,
        }
    }
}

/// Why no body could be fitted.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum FitError {
    /// No clip, or more than two.
    #[error("{0} views given: a body is fitted to one or two; choose those")]
    Views(usize),
    /// Both clips from the same place.
    #[error("both views are of one kind: give one face-on and one down the line")]
    SameView,
    /// Times, frames or a number of a view make no sense.
    #[error("view {view}: {what}; check what the clip's reader gave")]
    BadView {
        /// Which, from 1.
        view: usize,
        /// What is wrong.
        what: &'static str,
    },
    /// Too short.
    #[error("view {view} has {frames} frames; at least {least} are needed: give the whole swing")]
    TooFewFrames {
        /// Which, from 1.
        view: usize,
        /// How many it has.
        frames: usize,
        /// How many it takes.
        least: usize,
    },
    /// No scale.
    #[error("the player's stature is not known (0.8 to 2.5 m): state it, it is the only scale")]
    NoStature,
    /// Nobody at address.
    #[error(
        "view {0} shows no nose and ankles around address: choose a clip that shows the whole player"
    )]
    NothingSeen(usize),
    /// The second clip shows another time.
    #[error("with impact aligned the views share only {shared_s:.2} s: check both impact times")]
    NoOverlap {
        /// What they share, s.
        shared_s: f64,
    },
    /// The equations have no solution.
    #[error("the fit broke down: too little of the body is seen to place it; show more of it")]
    BrokeDown,
}
