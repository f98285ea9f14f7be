//! Where everything is in every frame of a swing, as the swing bench draws it: joints, club and fitted
//! body after all corrections by hand. Made again from what is kept whenever it is asked for.
//!
//! Pixels are those of [`crate::ViewReport`]'s upright picture, rounded to a tenth; world axes are x
//! toward the target, y up, z from the player to the ball, m, rounded to a millimetre. Frames are
//! counted in the clip from 0; times are seconds of the file's own clock from the clip's first frame.

use crate::body::Joint;
use crate::geometry::PixelPoint;
use crate::swing::{Hand, Moment, View};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// One swing, drawn.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SwingTracks {
    /// Raised when a reader of the JSON would break.
    pub version: u32,
    /// One for each clip, face-on first.
    pub views: Vec<ViewTracks>,
    /// The fitted body: one from both views of one motion, else one from each clip; none where none
    /// could be fitted.
    pub bodies: Vec<BodyTracks>,
}

/// The current [`SwingTracks::version`].
pub const TRACKS_VERSION: u32 = 1;

/// One clip's swing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ViewTracks {
    /// Where the camera stands.
    pub view: View,
    /// The player's hand.
    pub hand: Hand,
    /// Width of the picture in which pixels are counted.
    pub width_px: u32,
    /// Its height, px.
    pub height_px: u32,
    /// Seconds of real motion in one second of the file.
    pub real_per_file: f64,
    /// Height of the body at address in the picture, nose to ankles, px.
    pub span_px: f64,
    /// Pixels in a metre at the player's hips, and its relative standard deviation; null where there
    /// is no scale.
    pub px_per_m: Option<[f64; 2]>,
    /// The frames looked at.
    pub frames: Vec<usize>,
    /// Their times, s.
    pub times_s: Vec<f64>,
    /// Joint centres, frame by frame: x and y, px; null where a joint is not known.
    pub joints: BTreeMap<Joint, Vec<Option<[f64; 2]>>>,
    /// How each came about, a letter a frame: `s` seen, `b` bridged from the frames around, `h` placed
    /// by hand, `-` not known.
    pub origins: BTreeMap<Joint, String>,
    /// Grip and head (or the end of the shaft as far as it is seen), frame by frame.
    pub club: Vec<Option<ClubPlace>>,
    /// Where the ball lies before it is struck.
    pub ball: Option<PixelPoint>,
    /// The moments found in this clip, in the order of the swing.
    pub moments: Vec<Moment>,
}

/// The club in one frame.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct ClubPlace {
    /// Middle of the grip, px.
    pub grip: [f64; 2],
    /// Its end, px.
    pub end: [f64; 2],
    /// True if the end is the club's head, seen in this very frame.
    pub head: bool,
}

/// A moving body, on the frames of one clip.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BodyTracks {
    /// The clip on whose frames the poses are: its place in [`SwingTracks::views`].
    pub clip: usize,
    /// True if both views were fitted together.
    pub from_both_views: bool,
    /// Relative standard deviation of its size.
    pub size_rel_sd: f64,
    /// Names of the points of a pose ("lead_hip").
    pub points: Vec<String>,
    /// A pose for each frame: x, y and z of each point, m; null outside of what was fitted.
    pub poses: Vec<Option<Vec<[f64; 3]>>>,
}

impl ViewTracks {
    /// A joint in the frame with this number in the clip.
    pub fn joint_in(&self, joint: Joint, frame: usize) -> Option<PixelPoint> {
        let index = self.frames.binary_search(&frame).ok()?;
        let [x, y] = (*self.joints.get(&joint)?.get(index)?)?;
        Some(PixelPoint { x, y })
    }

    /// The club in that frame.
    pub fn club_in(&self, frame: usize) -> Option<ClubPlace> {
        let index = self.frames.binary_search(&frame).ok()?;
        *self.club.get(index)?
    }
}
