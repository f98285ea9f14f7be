//! Single pictures of golfers, and of people in any pose, cut out from their background, with the exact
//! place of their joints: what the joint network learns from.
//!
//! A stream: the length of the header as JSON (u32) and the header itself; then for every picture x, y and
//! depth of each of the stream's points ([`crate::stream::POINTS`]; f32, px of the square, depth from
//! mid-hip in px at the mid-hip's distance), the kind of pose (f32, index into [`KINDS`]), and a square of
//! [`SIDE_PX`], row by row: R', G', B', cover, light left on the ground. Little-endian.

use crate::camera::Camera;
use crate::film::Film;
use crate::motion::{KeyTimes, Motion, Movement};
use crate::noise::SplitMix64;
use crate::params::{SetUp, SwingParams};
use crate::pose::{Hold, Pose, middle_joint};
use crate::random::straight;
use crate::scene::Behind;
use crate::skeleton::Skeleton;
use crate::stream::{point_names, points, write_json};
use crate::things::Props;
use glam::{DMat3, DVec2, DVec3};
use serde::Serialize;
use std::io::{self, Write};

/// Side of a picture, px.
pub const SIDE_PX: usize = 208;
/// Kinds of poses, from a golfer's to anybody's.
pub const KINDS: [&str; 3] = ["swing", "strange_swing", "any_pose"];

/// Side of the square over the larger side of the box around the joints: what the network is shown
/// (`SURROUND` of training/joint_network.py), and what is kept around that.
const SURROUND: f64 = 1.30;
const KEPT_AROUND: f64 = 1.15;
/// Pictures before the stage's own places; all others are for any background.
const BEFORE_ITS_PLACE: f64 = 0.25;

#[derive(Debug, Serialize)]
struct Header {
    side_px: usize,
    points: Vec<String>,
    kinds: [&'static str; 3],
}

/// Writes what comes first.
///
/// # Errors
/// When the stream can't be written.
pub fn write_header(out: &mut impl Write) -> io::Result<()> {
    let header = Header {
        side_px: SIDE_PX,
        points: point_names(),
        kinds: KINDS,
    };
    write_json(out, &header)
}

/// Writes pictures of one person, each at its own moment from its own place.
///
/// # Errors
/// When the stream can't be written.
pub fn write_person(out: &mut impl Write, seed: u64, count: usize) -> io::Result<()> {
    let mut r = SplitMix64::new(seed.wrapping_mul(0xe703_7ed1_a0b4_28db) ^ 0x6669_6775_7265);
    let kind = match r.unit() {
        u if u < 0.50 => 0,
        u if u < 0.75 => 1,
        _ => 2,
    };
    let mut params = SwingParams::varied(seed).with_any_club();
    params = params.with_shape_or_solids(&mut r);
    if kind > 0 {
        params.motion.wander = r.between(1.0, 3.5);
    }
    if kind == 2 {
        params.set_up = SetUp {
            stance_ratio: r.between(0.08, 0.45),
            spine_lean_deg: r.between(2.0, 50.0),
            knee_flex_deg: r.between(8.0, 55.0),
            ..params.set_up
        };
    }
    let swing = Motion::new(&params);
    for _ in 0..count {
        write_picture(out, &params, &swing, kind, &mut r)?;
    }
    Ok(())
}

fn write_picture(
    out: &mut impl Write,
    params: &SwingParams,
    swing: &Motion,
    kind: usize,
    r: &mut SplitMix64,
) -> io::Result<()> {
    let mut params = params.clone();
    params.seed = r.next_u64() >> 20;
    params.phone.rate_hz = 30.0;
    let mut params = params.with_any_club();
    // Rows of the square are a part of the phone's.
    params.phone.readout_s *= 0.5;
    let keys = swing.key_times();
    let t = r.between(-0.2, keys.finish + 0.1);
    let person = Person {
        swing,
        arms: (kind == 2).then(|| FreeArms::drawn(swing, t, r)),
        head_turn: if kind == 0 {
            DMat3::IDENTITY
        } else {
            let turn = |r: &mut SplitMix64, sd: f64| (sd * r.bell()).to_radians();
            DMat3::from_rotation_y(turn(r, 25.0)) * DMat3::from_rotation_x(turn(r, 12.0))
        },
        ball: kind < 2 || r.chance(0.3),
    };
    let pose = person.pose(t);
    let camera = camera(&pose, kind, r);
    let in_place = r.chance(BEFORE_ITS_PLACE);
    let behind = if in_place {
        Behind::Scene
    } else {
        Behind::Nothing
    };
    let view = Film::before(&params, &person, camera, 0, &behind);
    let hips = 0.5 * (pose.hip[0] + pose.hip[1]);
    let (_, hips_m) = view.camera().project(hips);
    let mut row = Vec::new();
    for point in points(&pose) {
        let (at, depth_m) = view.camera().project(point);
        row.extend([
            at.x,
            at.y,
            (depth_m - hips_m) * view.camera().focal_px / hips_m,
        ]);
    }
    row.push(kind as f64);
    for value in row {
        out.write_all(&(value as f32).to_le_bytes())?;
    }
    let at = t + params.before_s;
    let pixels = if in_place {
        let frame = view.frame(at, 0);
        frame
            .chunks(3)
            .map(|c| [c[0], c[1], c[2], 255, 255])
            .collect()
    } else {
        view.cut_out(at, 0)
    };
    out.write_all(pixels.as_flattened())
}

/// A phone whose picture is the square around the joints: mostly face-on or down the line.
fn camera(pose: &Pose, kind: usize, r: &mut SplitMix64) -> Camera {
    let azimuth_deg = match r.unit() {
        u if kind == 2 || u > 0.90 => r.between(-180.0, 180.0),
        u if u < 0.45 => -90.0 + (7.0 * r.bell()).clamp(-22.0, 22.0),
        _ => (7.0 * r.bell()).clamp(-22.0, 22.0),
    };
    let (distance_m, height_m) = (r.between(2.6, 8.0), r.between(0.4, 1.9));
    let azimuth = azimuth_deg.to_radians();
    let from = DVec3::new(
        azimuth.sin() * distance_m,
        height_m,
        azimuth.cos() * distance_m + 0.15,
    );
    let roll = (1.5 * r.bell()).clamp(-5.0, 5.0).to_radians();
    // A trial with one pixel of focal length for another tells where the middle lies, and how large all is.
    const TRIAL_PX: f64 = 1000.0;
    let mut middle = 0.5 * (pose.hip[0] + pose.hip[1]);
    let mut extent_px = 0.0;
    for _ in 0..2 {
        let trial = Camera::toward(from, middle, roll, TRIAL_PX, [SIDE_PX; 2]);
        let seen: Vec<_> = points(pose).map(|p| trial.project(p).0).collect();
        let low = seen.iter().copied().fold(DVec2::MAX, DVec2::min);
        let high = seen.iter().copied().fold(DVec2::MIN, DVec2::max);
        extent_px = (high - low).max_element();
        let off = (0.5 * (low + high) - 0.5 * SIDE_PX as f64) / TRIAL_PX * from.distance(middle);
        middle += trial.right * off.x - trial.up * off.y;
    }
    let share = SURROUND * KEPT_AROUND * (1.0 + 0.03 * r.bell());
    let focal_px = TRIAL_PX * SIDE_PX as f64 / (share * extent_px);
    Camera::toward(from, middle, roll, focal_px, [SIDE_PX; 2])
}

/// A swing whose player may look elsewhere, and hold no club.
struct Person<'a> {
    swing: &'a Motion,
    arms: Option<FreeArms>,
    head_turn: DMat3,
    ball: bool,
}

impl Movement for Person<'_> {
    fn pose(&self, time_s: f64) -> Pose {
        let mut pose = self.swing.pose(time_s);
        pose.head_frame *= self.head_turn;
        if let Some(arms) = &self.arms {
            arms.apply(&mut pose, self.swing.skeleton());
        }
        pose
    }

    fn key_times(&self) -> &KeyTimes {
        self.swing.key_times()
    }

    fn skeleton(&self) -> &Skeleton {
        self.swing.skeleton()
    }

    fn ball(&self) -> DVec3 {
        self.swing.ball()
    }

    fn props(&self, _time_s: f64) -> Props {
        Props {
            club: self.arms.is_none(),
            ball: self.ball,
            things: Vec::new(),
        }
    }
}

/// Arms anywhere that a shoulder reaches and the trunk does not fill: from each shoulder to its wrist, and
/// where the elbow points, in the chest's axes.
struct FreeArms {
    to_wrist: [DVec3; 2],
    pole: [DVec3; 2],
}

impl FreeArms {
    fn drawn(swing: &Motion, time_s: f64, r: &mut SplitMix64) -> FreeArms {
        let (pose, skeleton) = (swing.pose(time_s), swing.skeleton());
        let length = skeleton.upper_arm + skeleton.forearm;
        let mut arms = FreeArms {
            to_wrist: [1.0, -1.0].map(|side| 0.97 * length * DVec3::new(0.2 * side, -0.97, 0.1)),
            pole: [1.0, -1.0].map(|side| DVec3::new(0.3 * side, -0.2, -0.9)),
        };
        for (i, side) in [1.0, -1.0].into_iter().enumerate() {
            let hanging = (arms.to_wrist[i], arms.pole[i]);
            const TRIES: usize = 40;
            let found = (0..TRIES).any(|_| {
                let way =
                    DVec3::new(r.bell(), r.bell() - 0.4, r.bell() + 0.3).normalize_or(DVec3::Z);
                arms.to_wrist[i] = length * straight(r, 4.0, 126.0) * way;
                let stray = DVec3::new(r.bell(), r.bell(), r.bell());
                arms.pole[i] = DVec3::new(0.5 * side, -1.0, -0.3) + 0.6 * stray;
                let mut tried = pose.clone();
                arms.apply_side(&mut tried, skeleton, i);
                way.x * side > -0.45 && way.z > -0.55 && clear_of_trunk(&tried, skeleton, i)
            });
            if !found {
                (arms.to_wrist[i], arms.pole[i]) = hanging;
            }
        }
        arms
    }

    fn apply(&self, pose: &mut Pose, skeleton: &Skeleton) {
        (0..2).for_each(|side| self.apply_side(pose, skeleton, side));
    }

    fn apply_side(&self, pose: &mut Pose, s: &Skeleton, i: usize) {
        let shoulder = pose.shoulder[i];
        let wrist = shoulder + pose.chest_frame * self.to_wrist[i];
        let pole = pose.chest_frame * self.pole[i];
        let elbow = middle_joint(shoulder, wrist, s.upper_arm, s.forearm, pole);
        let forearm = (wrist - elbow).normalize();
        let back =
            (pole - forearm * pole.dot(forearm)).normalize_or(forearm.any_orthonormal_vector());
        pose.elbow[i] = elbow;
        pose.wrist[i] = wrist;
        pose.grip[i] = wrist + forearm * s.hand;
        pose.hold[i] = Hold {
            along: forearm.cross(back),
            back,
        };
    }
}

/// Whether elbow and wrist of a side keep off the trunk and the head (distances by eye).
fn clear_of_trunk(pose: &Pose, s: &Skeleton, side: usize) -> bool {
    let from_axis = |p: DVec3, a: DVec3, b: DVec3| {
        let share = ((p - a).dot(b - a) / (b - a).length_squared()).clamp(0.0, 1.0);
        p.distance(a.lerp(b, share))
    };
    let of = |p: DVec3| from_axis(p, pose.pelvis, pose.neck);
    let hand = pose.grip[side];
    of(hand) > 0.24 * s.scale
        && of(pose.elbow[side]) > 0.19 * s.scale
        && hand.distance(pose.head) > 0.20 * s.scale
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pictures_show_whole_people_and_their_joints_lie_on_them() {
        let columns = 3 * point_names().len() + 1;
        let (mut covered, mut all, mut kinds) = (0, 0, [0; 3]);
        for seed in 1..=12 {
            let mut out = Vec::new();
            write_person(&mut out, seed, 2).expect("a vector takes all");
            let size = 4 * columns + 5 * SIDE_PX * SIDE_PX;
            assert_eq!(out.len(), 2 * size);
            for picture in out.chunks(size) {
                let (row, pixels) = picture.split_at(4 * columns);
                let row: Vec<f32> = row
                    .chunks(4)
                    .map(|b| f32::from_le_bytes(b.try_into().expect("four bytes")))
                    .collect();
                kinds[row[columns - 1] as usize] += 1;
                let in_its_place = pixels.chunks(5).all(|pixel| pixel[3] == 255);
                for (number, point) in row[..columns - 1].chunks(3).enumerate() {
                    let [x, y] = [point[0], point[1]].map(|v| v.floor() as usize);
                    assert!(x < SIDE_PX && y < SIDE_PX, "a joint at {point:?}");
                    // Nose, heels and toes lie on edges; all others in the flesh.
                    if !in_its_place && (1..13).contains(&number) {
                        covered += usize::from(pixels[5 * (y * SIDE_PX + x) + 3] > 127);
                        all += 1;
                    }
                }
            }
        }
        assert!(kinds.iter().all(|&n| n > 0), "{kinds:?}");
        assert!(covered as f64 > 0.985 * all as f64, "{covered} of {all}");
    }
}
