//! Golfers around the hands, cut out from their background, with the exact place of the club: what
//! the club network learns from.
//!
//! A stream: the length of the header as JSON (u32) and the header itself; then for every picture its
//! [`COLUMNS`] (f32 each), and three squares of [`SIDE_PX`], row by row: the picture itself (R', G', B',
//! cover, light left on the ground), then the same golfer a little earlier and a little later (grey,
//! cover, light), from a camera that stands still. Little-endian.

use crate::camera::Camera;
use crate::club_seen::{ClubSeen, club_seen};
use crate::film::Film;
use crate::motion::{KeyTimes, Motion, Movement};
use crate::noise::SplitMix64;
use crate::params::{BadParams, SwingParams};
use crate::pose::{ClubPose, Hold, Pose};
use crate::scene::Behind;
use crate::skeleton::Skeleton;
use crate::stream::write_json;
use glam::{DMat3, DQuat, DVec3};
use serde::Serialize;
use std::io::{self, Write};

/// Side of a picture, px.
pub const SIDE_PX: usize = 324;
/// What the side spans at the hands' distance, m: the longest club, whichever way it points.
pub const SIDE_M: f64 = 2.925;
/// Numbers before each picture: [`ClubSeen`], px of the square, and how it was filmed (degrees from
/// face-on, s from impact).
pub const COLUMNS: [&str; 38] = [
    "grip_x",
    "grip_y",
    "hosel_x",
    "hosel_y",
    "head_x",
    "head_y",
    "open_x",
    "open_y",
    "close_x",
    "close_y",
    "ball_x",
    "ball_y",
    "grip_seen",
    "head_seen",
    "ball_seen",
    "shaft_0",
    "shaft_1",
    "shaft_2",
    "shaft_3",
    "shaft_4",
    "shaft_5",
    "shaft_6",
    "shaft_7",
    "shaft_8",
    "shaft_9",
    "shaft_10",
    "shaft_11",
    "shaft_12",
    "shaft_13",
    "shaft_14",
    "shaft_15",
    "azimuth_deg",
    "height_m",
    "shutter_s",
    "readout_s",
    "gap_s",
    "from_impact_s",
    "club_length_m",
];

/// What comes before all pictures.
#[derive(Debug, Serialize)]
struct Header {
    side_px: usize,
    side_m: f64,
    columns: Vec<&'static str>,
}

/// Writes what comes first.
///
/// # Errors
/// When the stream can't be written.
pub fn write_header(out: &mut impl Write) -> io::Result<()> {
    let header = Header {
        side_px: SIDE_PX,
        side_m: SIDE_M,
        columns: COLUMNS.to_vec(),
    };
    write_json(out, &header)
}

/// Writes pictures of one swing, each at its own moment from its own place.
///
/// # Errors
/// When the stream can't be written.
pub fn write_swing(out: &mut impl Write, seed: u64, count: usize) -> io::Result<()> {
    let mut r = SplitMix64::new(seed.wrapping_mul(0xa24b_aed4_963e_e407) ^ 0x0063_7574);
    let params = SwingParams::varied(seed)
        .with_any_club()
        .with_shape_or_solids(&mut r);
    params
        .check()
        .map_err(|bad: BadParams| io::Error::other(bad.to_string()))?;
    let motion = Motion::new(&params);
    for _ in 0..count {
        write_picture(out, &params, &motion, &mut r)?;
    }
    Ok(())
}

fn write_picture(
    out: &mut impl Write,
    params: &SwingParams,
    motion: &Motion,
    r: &mut SplitMix64,
) -> io::Result<()> {
    let mut params = params.clone();
    params.seed = r.next_u64() >> 20;
    // The slowest phone, with the longest exposure.
    params.phone.rate_hz = 30.0;
    let mut params = params.with_any_club();
    let gap_s = if r.chance(0.3) {
        1.0 / 30.0
    } else {
        r.between(1.0 / 70.0, 1.0 / 45.0)
    };
    params.phone.shutter_s = params.phone.shutter_s.min(0.9 * gap_s);
    params.phone.readout_s = params.phone.readout_s.min(0.9 * gap_s);
    let mut bent = Bent::drawn(motion, r);
    let t = moment(motion.key_times(), r);
    // Through the ground in any of the three pictures: in none of them turned.
    if ![t - gap_s, t, t + gap_s]
        .iter()
        .all(|&t| bent.clears_ground(t))
    {
        bent.turn = DQuat::IDENTITY;
    }
    let (camera, azimuth_deg, height_m) = camera(&bent.pose(t), r);
    // Rows of the square are a part of the phone's.
    params.phone.readout_s *= 0.45;
    let view = Film::before(&params, &bent, camera, 0, &Behind::Nothing);
    let at = |t: f64| t + params.before_s;

    let mut row = numbers(&club_seen(view.player(), &bent, view.camera(), t));
    row.extend([
        azimuth_deg,
        height_m,
        params.phone.shutter_s,
        params.phone.readout_s,
        gap_s,
        t - motion.key_times().impact,
        params.club.length_m,
    ]);
    for value in row {
        out.write_all(&(value as f32).to_le_bytes())?;
    }
    out.write_all(view.cut_out(at(t), 0).as_flattened())?;
    for t in [t - gap_s, t + gap_s] {
        let grey: Vec<[u8; 3]> = view.cut_out(at(t), 0).into_iter().map(greyed).collect();
        out.write_all(grey.as_flattened())?;
    }
    Ok(())
}

/// Luma of R'G'B' (ITU-R BT.601), cover and light.
fn greyed([r, g, b, cover, light]: [u8; 5]) -> [u8; 3] {
    let luma = 0.299 * f32::from(r) + 0.587 * f32::from(g) + 0.114 * f32::from(b);
    [luma.round() as u8, cover, light]
}

/// Mostly where the club is hard to see: before and after impact and about the top.
fn moment(keys: &KeyTimes, r: &mut SplitMix64) -> f64 {
    match r.unit() {
        u if u < 0.12 => r.between(-0.3, 0.1),
        u if u < 0.30 => r.between(0.0, keys.top),
        u if u < 0.45 => keys.top + r.between(-0.15, 0.12),
        u if u < 0.68 => r.between(keys.top, keys.impact),
        u if u < 0.80 => keys.impact + r.between(-0.02, 0.015),
        u if u < 0.91 => keys.impact + r.between(-0.03, 0.12),
        _ => r.between(keys.impact, keys.finish + 0.1),
    }
}

/// A phone somewhere before or behind the golfer, turned to the hands; with its compass from face-on
/// (−90 is down the line) and its height.
fn camera(pose: &Pose, r: &mut SplitMix64) -> (Camera, f64, f64) {
    let azimuth_deg = match r.unit() {
        u if u < 0.46 => -90.0 + (9.0 * r.bell()).clamp(-25.0, 25.0),
        u if u < 0.90 => (9.0 * r.bell()).clamp(-25.0, 25.0),
        _ => r.between(-100.0, 30.0),
    };
    let (distance_m, height_m) = (r.between(2.6, 8.0), r.between(0.4, 1.8));
    let azimuth = azimuth_deg.to_radians();
    let from = DVec3::new(
        azimuth.sin() * distance_m,
        height_m,
        azimuth.cos() * distance_m,
    );
    // From the golfer, who stands behind the ball, not from the ankles.
    let position = from + DVec3::Z * 0.15;
    let hands = 0.5 * (pose.grip[0] + pose.grip[1]);
    let focal_px = SIDE_PX as f64 / SIDE_M * position.distance(hands);
    let roll = (1.5 * r.bell()).clamp(-4.0, 4.0).to_radians();
    let camera = Camera::toward(position, hands, roll, focal_px, [SIDE_PX; 2]);
    (camera, azimuth_deg, height_m)
}

/// A swing whose club is turned in the hands by a constant angle, so that what is learnt doesn't rest
/// on how clubs usually follow arms.
struct Bent<'a> {
    swing: &'a Motion,
    turn: DQuat,
}

impl Bent<'_> {
    fn drawn<'a>(swing: &'a Motion, r: &mut SplitMix64) -> Bent<'a> {
        let axis = DVec3::new(r.bell(), r.bell(), r.bell()).normalize_or(DVec3::X);
        let angle = (7.0 * r.bell()).clamp(-16.0, 16.0).to_radians();
        Bent {
            swing,
            turn: DQuat::from_axis_angle(axis, angle),
        }
    }
}

impl Bent<'_> {
    fn clears_ground(&self, time_s: f64) -> bool {
        const SOLE_M: f64 = 0.02;
        let untouched = self.swing.pose(time_s).club.head.y;
        self.pose(time_s).club.head.y > untouched.min(SOLE_M)
    }
}

impl Movement for Bent<'_> {
    fn pose(&self, time_s: f64) -> Pose {
        let mut pose = self.swing.pose(time_s);
        let hands = 0.5 * (pose.grip[0] + pose.grip[1]);
        let turn = DMat3::from_quat(self.turn);
        let about = |p: DVec3| hands + turn * (p - hands);
        let club = pose.club;
        let turned = ClubPose {
            butt: about(club.butt),
            hosel: about(club.hosel),
            shaft: turn * club.shaft,
            face: turn * club.face,
            toe: turn * club.toe,
            head: about(club.head),
            sweet_spot: about(club.sweet_spot),
        };
        pose.hold = Hold::of_club(&turned);
        pose.club = turned;
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
}

fn numbers(seen: &ClubSeen) -> Vec<f64> {
    let places = [
        seen.grip,
        seen.hosel,
        seen.head,
        seen.opens,
        seen.closes,
        seen.ball,
    ];
    let shares = [seen.grip_seen, seen.head_seen, seen.ball_seen];
    [places.as_flattened(), &shares, &seen.shaft_seen].concat()
}
