//! The club's fixed shape, and the club in the hands.

use super::{BALL_RADIUS_M, GRIP_ABOVE_HAND_M};
use crate::params::{ClubKind, SwingParams};
use crate::pose::ClubPose;
use glam::{DMat3, DVec3};

/// The club's fixed shape.
#[derive(Clone, Debug)]
pub(crate) struct ClubShape {
    pub(crate) length: f64,
    /// Angle between shaft and ground when soled, radians: set at address.
    pub(crate) lie: f64,
    /// Hosel to the middle of the head along the toe axis.
    pub(super) head_out: f64,
    /// Middle of the head to the middle of the face along the face's normal.
    pub(super) face_ahead: f64,
    /// Middle of the head above the ground when soled.
    pub(super) head_height: f64,
    /// The same where it brushes the ground in motion.
    pub(super) sole: f64,
    /// Middle of the ball above the ground.
    pub(super) ball_height: f64,
}

impl ClubShape {
    pub(crate) fn of(p: &SwingParams) -> ClubShape {
        // Sizes of the rendered heads; the tee height is common practice, no source.
        let (head_out, face_ahead, head_height, tee) = match p.club.kind {
            ClubKind::Iron => (0.040, 0.008, 0.026, 0.0),
            ClubKind::Driver => (0.052, 0.045, 0.034, 0.030),
        };
        ClubShape {
            length: p.club.length_m,
            lie: 1.0,
            head_out,
            face_ahead,
            head_height,
            sole: head_height - 0.010,
            ball_height: BALL_RADIUS_M + tee,
        }
    }
}

impl ClubShape {
    /// The club, turned up in the wrists where its sole would cut the ground, with a soft limit.
    pub(crate) fn clear_of_ground(&self, lead_grip: DVec3, shaft: DVec3, face: DVec3) -> ClubPose {
        const SOFT_M: f64 = 0.004;
        let club = self.at(lead_grip, shaft, face);
        let deep = self.sole - club.head.y;
        if deep < -8.0 * SOFT_M {
            return club;
        }
        let lift = SOFT_M * (deep / SOFT_M).exp().ln_1p();
        let turn = (lift / self.length) / (1.0 - shaft.y * shaft.y).sqrt().max(0.3);
        let axis = shaft.cross(DVec3::Y).normalize();
        let turned = DMat3::from_axis_angle(axis, turn);
        self.at(lead_grip, turned * shaft, turned * face)
    }

    fn at(&self, lead_grip: DVec3, shaft: DVec3, face: DVec3) -> ClubPose {
        let butt = lead_grip - shaft * GRIP_ABOVE_HAND_M;
        let hosel = butt + shaft * self.length;
        let toe = (shaft.cross(face) * self.lie.sin() + shaft * self.lie.cos()).normalize();
        let head = hosel + toe * self.head_out;
        ClubPose {
            butt,
            hosel,
            shaft,
            face,
            toe,
            head,
            sweet_spot: head + face * self.face_ahead,
        }
    }
}
