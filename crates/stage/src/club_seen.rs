//! Where a picture shows the club, and how much of it.
//!
//! A moving club is drawn by rows that are exposed one after another: each place here is the point's at
//! the instant that the row it falls on is exposed.

use crate::body::Player;
use crate::camera::Camera;
use crate::field::Hit;
use crate::figure::club_field;
use crate::motion::Movement;
use crate::pose::Pose;
use glam::{DVec2, DVec3, Vec3};
use serde::{Deserialize, Serialize};

/// Points of the shaft whose visibility is told, from below the hands to the hosel.
pub const SHAFT_POINTS: usize = 16;

/// The club and the ball in one picture: places in px, and what is seen, shares from 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct ClubSeen {
    /// Middle of the grip between the hands.
    pub grip: [f64; 2],
    /// Lower end of the shaft.
    pub hosel: [f64; 2],
    /// Middle of the head.
    pub head: [f64; 2],
    /// Middle of the head when the shutter opens.
    pub opens: [f64; 2],
    /// … and when it closes.
    pub closes: [f64; 2],
    /// The ball at rest.
    pub ball: [f64; 2],
    /// Of the hands' grip.
    pub grip_seen: f64,
    /// Of the head.
    pub head_seen: f64,
    /// Of the ball; 0 once it is struck.
    pub ball_seen: f64,
    /// Of the shaft, from below the hands to the hosel.
    pub shaft_seen: [f64; SHAFT_POINTS],
}

/// The hands themselves cover the shaft down to this share of the way to the hosel.
const BELOW_HANDS: f64 = 0.08;

/// The club in the picture whose middle row is exposed at `t` s from the first movement.
pub fn club_seen(player: &Player<'_>, motion: &dyn Movement, camera: &Camera, t: f64) -> ClubSeen {
    let params = player.params;
    let phone = &params.phone;
    let rows = camera.height_px as f64;
    // `late` s from the middle of its own row's exposure.
    let place = |point: &dyn Fn(&Pose) -> DVec3, late_s: f64| -> [f64; 2] {
        let mut pixel: DVec2 = camera.project(point(&motion.pose(t + late_s))).0;
        for _ in 0..3 {
            let row_s = (pixel.y / rows - 0.5).clamp(-0.5, 0.5) * phone.readout_s;
            pixel = camera.project(point(&motion.pose(t + row_s + late_s))).0;
        }
        pixel.to_array()
    };
    let half_s = 0.5 * phone.shutter_s;

    let pose = motion.pose(t);
    let body = player.body(&pose, &[]);
    let club = club_field(params, Some(&pose.club), None, None);
    let before_body: Caster<'_> = &|from, ray, pixel| body.hit(from, ray, pixel);
    let before_club: Caster<'_> = &|from, ray, pixel| club.hit(from, ray, pixel);
    let share = |points: &[DVec3], depth_m: f64, before: &[Caster<'_>]| {
        let seen = |p: &&DVec3| before.iter().all(|it| clear(camera, it, **p, depth_m));
        points.iter().filter(seen).count() as f64 / points.len() as f64
    };
    let (toe, up) = (pose.club.toe, -pose.club.shaft);
    let head = [
        DVec3::ZERO,
        0.028 * toe,
        -0.028 * toe,
        0.015 * up,
        -0.012 * up,
    ]
    .map(|off| pose.club.head + off);
    let (grip, hosel) = (grip_of(&pose), pose.club.hosel);
    let shaft_seen = std::array::from_fn(|i| {
        let along = (i as f64 + 0.5) / SHAFT_POINTS as f64;
        let at = grip.lerp(hosel, BELOW_HANDS + (1.0 - BELOW_HANDS) * along);
        share(&[at], 0.004, &[before_body])
    });
    let rests = t < motion.key_times().impact;
    ClubSeen {
        grip: place(&grip_of, 0.0),
        hosel: place(&|p| p.club.hosel, 0.0),
        head: place(&|p| p.club.head, 0.0),
        opens: place(&|p| p.club.head, -half_s),
        closes: place(&|p| p.club.head, half_s),
        ball: camera.project(motion.ball()).0.to_array(),
        grip_seen: share(&pose.grip, 0.06, &[before_body]),
        head_seen: share(&head, 0.005, &[before_body]),
        ball_seen: if rests {
            share(&[motion.ball()], 0.03, &[before_body, before_club])
        } else {
            0.0
        },
        shaft_seen,
    }
}

fn grip_of(pose: &Pose) -> DVec3 {
    0.5 * (pose.grip[0] + pose.grip[1])
}

/// The first point of a ray on something: where from, which way, the width of a pixel at 1 m.
pub(crate) type Caster<'a> = &'a dyn Fn(Vec3, Vec3, f32) -> Option<Hit>;

/// Whether the camera sees a point in its picture that lies `depth_m` at most under the surface.
pub(crate) fn clear(camera: &Camera, before: Caster<'_>, at: DVec3, depth_m: f64) -> bool {
    let (pixel, depth) = camera.project_unmirrored(at);
    let inside = depth > 0.0
        && (0.0..camera.width_px as f64).contains(&pixel.x)
        && (0.0..camera.height_px as f64).contains(&pixel.y);
    if !inside {
        return false;
    }
    let ray = at - camera.position;
    let length = ray.length();
    let hit = before(
        camera.position.as_vec3(),
        (ray / length).as_vec3(),
        (1.0 / camera.focal_px) as f32,
    );
    hit.is_none_or(|hit| f64::from(hit.depth) > length - depth_m)
}
