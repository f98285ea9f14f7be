//! Corrections as the bench sends them: a moment to a time, a joint to a place.

use crate::by_hand::Filled;
use lessonwright_model::{Change, Joint, MomentName, PlacedJoint, View};
use serde::Deserialize;

/// A moment dragged to a frame's time.
#[derive(Deserialize)]
pub struct MomentForm {
    view: View,
    moment: MomentName,
    /// s of the file's own clock.
    time_s: f64,
}

/// A joint dragged to its place in one frame.
#[derive(Deserialize)]
pub struct JointForm {
    view: View,
    joint: Joint,
    frame: usize,
    x_px: f64,
    y_px: f64,
    picture_width_px: u32,
}

impl Filled for MomentForm {
    fn change(&self) -> Result<Change, String> {
        Ok(Change::Moment(self.view, self.moment, self.time_s))
    }
}

impl Filled for JointForm {
    fn change(&self) -> Result<Change, String> {
        let placed = PlacedJoint {
            joint: self.joint,
            frame: self.frame,
            x_px: self.x_px,
            y_px: self.y_px,
            picture_width_px: self.picture_width_px,
        };
        Ok(Change::Joint(self.view, placed))
    }
}
