//! The unknowns of a fit and where each stands in the vector.
//!
//! First the world positions frame by frame (51 numbers a frame), then what all frames share: log
//! lengths, the cameras' numbers, the time offset of the second view.

use crate::camera::{CAMERA_NUMBERS, Camera};
use crate::lengths::LENGTHS;
use crate::points::{POINTS, Pose};
use glam::DVec3;

/// Unknowns of one frame.
pub(crate) const PER_FRAME: usize = 3 * POINTS;
/// Accelerations join an unknown to itself two frames later, everything else stays nearer.
pub(crate) const HALF_BAND: usize = 2 * PER_FRAME;

/// Values of all unknowns.
#[derive(Clone, Debug)]
pub(crate) struct State {
    pub(crate) poses: Vec<Pose>,
    pub(crate) log_lengths: [f64; LENGTHS],
    pub(crate) cameras: Vec<Camera>,
    /// To be added to the second clip's time, s.
    pub(crate) offset_s: f64,
}

impl State {
    pub(crate) fn banded(&self) -> usize {
        self.poses.len() * PER_FRAME
    }

    pub(crate) fn shared(&self) -> usize {
        LENGTHS + self.cameras.len() * CAMERA_NUMBERS + 1
    }

    pub(crate) fn position(&self, frame: usize, point: usize) -> usize {
        frame * PER_FRAME + 3 * point
    }

    pub(crate) fn length(&self, length: usize) -> usize {
        self.banded() + length
    }

    pub(crate) fn camera(&self, view: usize) -> usize {
        self.banded() + LENGTHS + view * CAMERA_NUMBERS
    }

    pub(crate) fn offset(&self) -> usize {
        self.banded() + self.shared() - 1
    }

    /// The state a step away.
    pub(crate) fn moved(&self, step: &[f64]) -> State {
        let mut next = self.clone();
        for (frame, pose) in next.poses.iter_mut().enumerate() {
            for (point, at) in pose.0.iter_mut().enumerate() {
                *at += DVec3::from_slice(&step[self.position(frame, point)..][..3]);
            }
        }
        for (i, log) in next.log_lengths.iter_mut().enumerate() {
            *log += step[self.length(i)];
        }
        for (view, camera) in next.cameras.iter_mut().enumerate() {
            *camera = camera.moved(&step[self.camera(view)..][..CAMERA_NUMBERS]);
        }
        next.offset_s += step[self.offset()];
        next
    }
}
