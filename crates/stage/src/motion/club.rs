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
    /// The bottom of the downswing's arc, if it is to have one.
    arc: Option<Arc>,
}

/// A parabola in the vertical plane along the target line, below which the head does not come on its
/// way down and through; it meets the ball on it. m.
#[derive(Clone, Copy, Debug)]
struct Arc {
    lowest_x: f64,
    lowest_y: f64,
    radius: f64,
}

impl Arc {
    /// The lead arm and the club as one radius, in a plane sloped as an iron's shaft.
    fn of(p: &SwingParams, face_ahead: f64, ball_height: f64) -> Option<Arc> {
        // Lead shoulder to grip over stature (arm and part of the hand, Drillis and Contini 1966),
        // and the sine of the slope (about 60°).
        const ARM: f64 = 0.36;
        const SLOPE: f64 = 0.87;
        let ahead = 0.01 * p.motion.low_point_cm?;
        let radius = (ARM * p.body.stature_m + p.club.length_m) / SLOPE;
        let head_at_impact = 0.01 * p.set_up.ball_position_cm - BALL_RADIUS_M - face_ahead;
        Some(Arc {
            lowest_x: 0.01 * p.set_up.ball_position_cm + ahead,
            // The soft limit keeps the head above by about a third of itself.
            lowest_y: ball_height
                - (0.01 * p.set_up.ball_position_cm + ahead - head_at_impact).powi(2)
                    / (2.0 * radius)
                - 0.3 * SOFT_M,
            radius,
        })
    }

    fn height(&self, x: f64) -> f64 {
        self.lowest_y + (x - self.lowest_x).powi(2) / (2.0 * self.radius)
    }
}

/// How softly the ground and the arc turn the club up.
const SOFT_M: f64 = 0.004;

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
            arc: Arc::of(p, face_ahead, BALL_RADIUS_M + tee),
        }
    }
}

impl ClubShape {
    /// The club, turned up in the wrists where its sole would cut the ground, or the head fall below
    /// the arc on its way down and through; with a soft limit.
    pub(crate) fn clear_of_ground(
        &self,
        lead_grip: DVec3,
        shaft: DVec3,
        face: DVec3,
        downswing: bool,
    ) -> ClubPose {
        let club = self.at(lead_grip, shaft, face);
        let lowest = match self.arc {
            Some(arc) if downswing => arc.height(club.head.x),
            _ => self.sole,
        };
        let deep = lowest - club.head.y;
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
