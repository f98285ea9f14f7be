//! A pinhole camera near one of the two nominal places, and its derivatives.
//!
//! World axes as in [`crate::points`]. Camera axes: X to the picture's right, Y down, Z into the
//! picture. Pixels from the picture's outer corner, x right, y down; the principal point is the
//! picture's middle (phones are within 1 % of it; common practice, no source); no lens distortion.
//!
//! `c = Rz(−roll)·Rx(−pitch)·N·Ry(−yaw)·(point − position)`, `pixel = middle + focal·(cx, cy)/cz`,
//! where `N` turns world axes into those of the nominal camera.

use glam::{DMat3, DVec2, DVec3};

/// Numbers of a camera in the fit: position (3), yaw, pitch, roll, log of the focal length.
pub const CAMERA_NUMBERS: usize = 7;

/// Where a camera stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum View {
    /// On the ball's side, looking at the player's front: toward −z.
    FaceOn,
    /// Behind the player, looking toward the target: toward +x.
    DownTheLine,
}

impl View {
    /// Rows: right, down and forward of the nominal camera, in the world.
    fn nominal(self) -> [DVec3; 3] {
        match self {
            View::FaceOn => [DVec3::X, DVec3::NEG_Y, DVec3::NEG_Z],
            View::DownTheLine => [DVec3::Z, DVec3::NEG_Y, DVec3::X],
        }
    }

    /// The direction from a point of the ground to a camera whose level bearing is `yaw_rad` off
    /// nominal.
    pub fn toward_camera(self, yaw_rad: f64) -> DVec3 {
        DMat3::from_rotation_y(yaw_rad) * -self.nominal()[2]
    }

    /// Yaw at which a camera at a place looks straight at a point, radians.
    pub fn bearing_rad(self, camera: DVec3, point: DVec3) -> f64 {
        let d = camera - point;
        match self {
            View::FaceOn => d.x.atan2(d.z),
            View::DownTheLine => d.z.atan2(-d.x),
        }
    }
}

/// A camera.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Camera {
    /// The nominal place its angles are counted from.
    pub view: View,
    /// Centre of projection, m; `y` is its height over the ground.
    pub position: DVec3,
    /// Turn of the optical axis about the vertical, radians, plus to the left (counter-clockwise
    /// seen from above).
    pub yaw_rad: f64,
    /// Tilt, radians, plus looking up.
    pub pitch_rad: f64,
    /// Turn about the optical axis, radians, plus clockwise seen from behind the camera.
    pub roll_rad: f64,
    /// Focal length, px.
    pub focal_px: f64,
    /// Middle of the picture, px.
    pub middle_px: DVec2,
}

/// A projected point with derivatives.
#[derive(Clone, Copy, Debug)]
pub struct Projection {
    /// Where, px.
    pub pixel: DVec2,
    /// Distance along the optical axis, m.
    pub depth_m: f64,
    /// By the point's x, y, z: (px/m, px/m, and the depth's m/m).
    pub by_point: [DVec3; 3],
    /// By the camera's numbers: the pixel's px and the depth's m each.
    pub by_camera: [DVec3; CAMERA_NUMBERS],
}

impl Camera {
    /// Level distance from the origin of the world, m.
    pub fn distance_m(&self) -> f64 {
        self.position.x.hypot(self.position.z)
    }

    /// Camera coordinates of a world point, m.
    pub fn to_camera(&self, point: DVec3) -> DVec3 {
        self.rotation() * (point - self.position)
    }

    /// Pixel of a world point; meaningless behind the camera.
    pub fn project(&self, point: DVec3) -> DVec2 {
        let c = self.to_camera(point);
        self.middle_px + self.focal_px * DVec2::new(c.x, c.y) / c.z
    }

    /// World direction of the ray through a pixel; its length along the optical axis is 1.
    pub fn ray(&self, pixel: DVec2) -> DVec3 {
        let flat = (pixel - self.middle_px) / self.focal_px;
        self.rotation().transpose() * flat.extend(1.0)
    }

    /// World to camera.
    pub fn rotation(&self) -> DMat3 {
        self.tilt() * self.nominal_of() * DMat3::from_rotation_y(-self.yaw_rad)
    }

    fn nominal_of(&self) -> DMat3 {
        let [right, down, forward] = self.view.nominal();
        DMat3::from_cols(right, down, forward).transpose()
    }

    fn tilt(&self) -> DMat3 {
        DMat3::from_rotation_z(-self.roll_rad) * DMat3::from_rotation_x(-self.pitch_rad)
    }

    /// Projects a point and says how the result moves with the point and the camera.
    pub fn project_with_derivatives(&self, point: DVec3) -> Projection {
        let rotation = self.rotation();
        let level = DMat3::from_rotation_y(-self.yaw_rad) * (point - self.position);
        let nominal = self.nominal_of() * level;
        let c = self.tilt() * nominal;
        let (f, inverse) = (self.focal_px, 1.0 / c.z);
        // how (pixel, depth) moves with the camera coordinates
        let outward = |d: DVec3| {
            DVec3::new(
                f * inverse * (d.x - c.x * inverse * d.z),
                f * inverse * (d.y - c.y * inverse * d.z),
                d.z,
            )
        };
        let by_point = [0, 1, 2].map(|i| outward(rotation.col(i)));
        // Ry(−yaw) by yaw: (x, z) → (−z, x) after the rotation
        let by_yaw = self.tilt() * self.nominal_of() * DVec3::new(-level.z, 0.0, level.x);
        // Rx(−pitch) by pitch: (y, z) → (z, −y) after the rotation
        let pitched = DMat3::from_rotation_x(-self.pitch_rad) * nominal;
        let by_pitch =
            DMat3::from_rotation_z(-self.roll_rad) * DVec3::new(0.0, pitched.z, -pitched.y);
        // Rz(−roll) by roll: (x, y) → (y, −x) after the rotation
        let by_roll = DVec3::new(c.y, -c.x, 0.0);
        let flat = DVec2::new(c.x, c.y) * (f * inverse);
        Projection {
            pixel: self.middle_px + flat,
            depth_m: c.z,
            by_point,
            by_camera: [
                -by_point[0],
                -by_point[1],
                -by_point[2],
                outward(by_yaw),
                outward(by_pitch),
                outward(by_roll),
                flat.extend(0.0),
            ],
        }
    }

    /// The camera after small changes of its numbers.
    pub(crate) fn moved(&self, step: &[f64]) -> Camera {
        Camera {
            position: self.position + DVec3::new(step[0], step[1], step[2]),
            yaw_rad: self.yaw_rad + step[3],
            pitch_rad: self.pitch_rad + step[4],
            roll_rad: self.roll_rad + step[5],
            focal_px: self.focal_px * step[6].exp(),
            ..*self
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tilted(view: View) -> Camera {
        Camera {
            view,
            position: DVec3::new(0.4, 1.2, 4.3)
                - DVec3::X * if view == View::FaceOn { 0.0 } else { 5.0 },
            yaw_rad: 0.08,
            pitch_rad: -0.05,
            roll_rad: 0.03,
            focal_px: 1500.0,
            middle_px: DVec2::new(540.0, 960.0),
        }
    }

    #[test]
    fn derivatives_are_those_of_differences() {
        const STEP: f64 = 1e-6;
        for view in [View::FaceOn, View::DownTheLine] {
            let camera = tilted(view);
            let point = DVec3::new(0.3, 0.9, 0.2);
            let exact = camera.project_with_derivatives(point);
            let value = |c: &Camera, p: DVec3| c.project(p).extend(c.to_camera(p).z);
            for i in 0..3 {
                let mut d = DVec3::ZERO;
                d[i] = STEP;
                let difference =
                    (value(&camera, point + d) - value(&camera, point - d)) / (2.0 * STEP);
                assert!(
                    (difference - exact.by_point[i]).length() < 1e-3,
                    "{view:?} point {i}"
                );
            }
            for i in 0..CAMERA_NUMBERS {
                let mut step = [0.0; CAMERA_NUMBERS];
                step[i] = STEP;
                let up = value(&camera.moved(&step), point);
                step[i] = -STEP;
                let difference = (up - value(&camera.moved(&step), point)) / (2.0 * STEP);
                assert!(
                    (difference - exact.by_camera[i]).length() < 1e-3,
                    "{view:?} camera {i}"
                );
            }
        }
    }

    #[test]
    fn a_ray_goes_through_its_pixel() {
        for view in [View::FaceOn, View::DownTheLine] {
            let camera = tilted(view);
            let pixel = DVec2::new(300.0, 1200.0);
            let back = camera.project(camera.position + 3.0 * camera.ray(pixel));
            assert!(back.distance(pixel) < 1e-9);
        }
    }
}
