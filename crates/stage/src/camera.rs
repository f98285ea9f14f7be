//! A pinhole camera in the player's world.
//!
//! Axes as in [`crate::pose`], metres; pixels from the outer corner of the upright picture, x to
//! the right and y down. A left-hander is filmed as a mirrored right-hander.

use crate::params::{CameraPlace, Hand, View};
use glam::{DMat3, DVec2, DVec3};

/// A camera without lens distortion.
#[derive(Clone, Debug)]
pub struct Camera {
    /// Centre of projection.
    pub position: DVec3,
    /// Unit vector into the picture.
    pub forward: DVec3,
    /// Unit vector to the picture's right, before a left-hander's mirroring.
    pub right: DVec3,
    /// Unit vector up in the picture.
    pub up: DVec3,
    /// Focal length, px.
    pub focal_px: f64,
    /// Width of the picture, px.
    pub width_px: usize,
    /// Height of the picture, px.
    pub height_px: usize,
    /// True if the picture is mirrored: a left-hander.
    pub mirrored: bool,
}

impl Camera {
    /// The camera of a view. `reach_ball_m` is how far the ball lies from the ankles: the
    /// down-the-line phone looks between player and ball.
    pub fn new(
        place: &CameraPlace,
        view: View,
        hand: Hand,
        reach_ball_m: f64,
        [width_px, height_px]: [usize; 2],
    ) -> Camera {
        // Where the phone looks: the middle of the player's figure over the ground.
        let (nominal, middle) = match view {
            View::FaceOn => (DVec3::NEG_Z, DVec3::new(0.0, 0.0, 0.15 * reach_ball_m)),
            View::DownTheLine => (DVec3::X, DVec3::new(0.0, 0.0, 0.38 * reach_ball_m)),
        };
        let level = DMat3::from_rotation_y(place.yaw_deg.to_radians()) * nominal;
        let long_side = width_px.max(height_px) as f64;
        let focal_px = 0.5 * long_side / (0.5 * place.fov_deg.to_radians()).tan();
        // Tilted so that the middle of a standing figure is a little below the picture's middle.
        const AIM_HEIGHT_M: f64 = 1.02;
        let from = middle - level * place.distance_m + DVec3::Y * place.height_m;
        let aim = middle + DVec3::Y * AIM_HEIGHT_M;
        let mut forward = (aim - from).normalize();
        // Off-centre framing turns the phone; the player moves across the picture.
        let swing = (place.off_centre * width_px as f64 / focal_px).atan();
        forward = DMat3::from_rotation_y(swing) * forward;
        let right = forward.cross(DVec3::Y).normalize();
        let up = right.cross(forward);
        let roll = DMat3::from_axis_angle(forward, place.roll_deg.to_radians());
        Camera {
            position: from,
            forward,
            right: roll * right,
            up: roll * up,
            focal_px,
            width_px,
            height_px,
            mirrored: hand == Hand::Left,
        }
    }

    /// A camera that looks at a point. `focal_px` and the size are in px; `roll_rad` is plus clockwise.
    pub fn toward(
        position: DVec3,
        point: DVec3,
        roll_rad: f64,
        focal_px: f64,
        [width_px, height_px]: [usize; 2],
    ) -> Camera {
        let forward = (point - position).normalize();
        let right = forward.cross(DVec3::Y).normalize();
        let roll = DMat3::from_axis_angle(forward, roll_rad);
        Camera {
            position,
            forward,
            right: roll * right,
            up: roll * right.cross(forward),
            focal_px,
            width_px,
            height_px,
            mirrored: false,
        }
    }

    /// Pixel of a world point, and its depth in metres.
    pub fn project(&self, point: DVec3) -> (DVec2, f64) {
        let (pixel, depth) = self.project_unmirrored(point);
        let x = if self.mirrored {
            self.width_px as f64 - pixel.x
        } else {
            pixel.x
        };
        (DVec2::new(x, pixel.y), depth)
    }

    /// Pixel before mirroring: where the renderer draws.
    pub(crate) fn project_unmirrored(&self, point: DVec3) -> (DVec2, f64) {
        let d = point - self.position;
        let depth = d.dot(self.forward);
        let pixel = DVec2::new(
            0.5 * self.width_px as f64 + self.focal_px * d.dot(self.right) / depth,
            0.5 * self.height_px as f64 - self.focal_px * d.dot(self.up) / depth,
        );
        (pixel, depth)
    }
}
