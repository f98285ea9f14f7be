//! One moving body fitted to the image tracks of one or two uncalibrated views of a swing.
//!
//! [`fit()`] takes image points with their deviations and gives the points in the world for every
//! instant, the lengths of the body, the cameras and the second clip's time offset; [`measures`]
//! and [`mass`] read facts from a pose. Values in, values out; the same input gives the same bits.
//! It knows nothing of networks, pixels' colours, files or storage.
//!
//! World axes: x toward the target, y up, z from the player to the ball; metres; origin midway
//! between the ankles at address, on the ground. Angles in radians, times in seconds. Left-handers
//! are mirrored by the caller.
//!
//! The unknowns are the points' positions with soft lengths, not joint angles: no gimbal or branch
//! trouble, every residual touches one to four points, and the start comes straight from the image.
//! Absolute yaw is not observable from a body alone: what is told of the cameras' bearings
//! ([`ViewTrack::bearing_rad`]) settles it.

mod camera;
mod fit;
mod input;
mod lengths;
pub mod mass;
pub mod measures;
mod motion;
mod points;
mod residuals;
pub mod solve;
mod start;
mod state;
mod track;

pub use camera::{CAMERA_NUMBERS, Camera, Projection, View};
pub use fit::{Fit, Term, fit};
pub use input::{FitError, Options, Seen, SeenDepth, SeenPose, ViewTrack};
pub use lengths::{LENGTHS, Length};
pub use motion::Motion;
pub use points::{POINTS, Point, Pose};
