//! What is exactly true of a rendered clip, to hold a measurement against.
//!
//! World axes are *target* (toward the target), *up* and *ball* (from the player to the ball), in
//! metres, with the origin on the ground midway between the ankles at address; they serve both
//! hands, so that plus *target* is toward the target for a left-hander too. Pixels are those of the
//! upright frame, from its outer corner, x to the right and y down. Times are seconds of real
//! motion from the clip's first frame. A frame's time is the middle of the exposure of its middle
//! row: with a rolling shutter its upper rows are earlier and its lower rows later, by up to half
//! the read-out.

use crate::body::Player;
use crate::camera::Camera;
use crate::club_seen::{ClubSeen, clear, club_seen};
use crate::flight::velocity;
use crate::measures;
use crate::moments::{MomentName, moments};
use crate::motion::Movement;
use crate::params::{Hand, SwingParams, View};
use crate::pose::Pose;
use crate::sound::strike_time_s;
use glam::DVec3;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Version of [`Truth`]; a change that breaks a reader raises it.
pub const TRUTH_VERSION: u32 = 1;

/// Everything true of one clip.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Truth {
    /// [`TRUTH_VERSION`].
    pub version: u32,
    /// Frames a second of real motion.
    pub rate_hz: f64,
    /// Width of the upright frame, px.
    pub width_px: usize,
    /// Height of the upright frame, px.
    pub height_px: usize,
    /// Where the camera stands.
    pub view: View,
    /// Which hand the player plays.
    pub hand: Hand,
    /// The camera.
    pub camera: CameraTruth,
    /// Height of the player without shoes, m.
    pub stature_m: f64,
    /// Constant bone lengths, m: `upper_arm`, `forearm`, `thigh`, `shank`, `hips`.
    pub bones_m: BTreeMap<String, f64>,
    /// The parameters of the swing.
    pub params: SwingParams,
    /// When the moments happen.
    pub moments: Vec<MomentTruth>,
    /// When the strike's sound reaches the microphone, s.
    pub strike_sound_time_s: f64,
    /// Middle of the ball at rest, m.
    pub ball: [f64; 3],
    /// Its velocity after the strike: target, up, ball; m/s.
    pub ball_velocity_m_s: [f64; 3],
    /// The measures, from the true joints at the true moments.
    pub measures: Vec<MeasureTruth>,
    /// One a frame of the clip; empty when only a summary was asked for.
    pub frames: Vec<FrameTruth>,
}

/// A camera without lens distortion: `pixel = (width/2 + focal·(d·right)/(d·forward),
/// height/2 − focal·(d·up)/(d·forward))` with `d` from `position` to the point.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CameraTruth {
    /// Centre of projection, m.
    pub position: [f64; 3],
    /// Unit vector into the picture.
    pub forward: [f64; 3],
    /// Unit vector to the right in the picture.
    pub right: [f64; 3],
    /// Unit vector up in the picture.
    pub up: [f64; 3],
    /// Focal length, px.
    pub focal_px: f64,
    /// First row's to last row's exposure, s.
    pub readout_s: f64,
    /// Exposure of a row, s.
    pub shutter_s: f64,
}

/// When a moment happens.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct MomentTruth {
    /// Which.
    pub name: MomentName,
    /// When, s from the clip's first frame.
    pub time_s: f64,
}

/// One measure.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct MeasureTruth {
    /// As in the data; definitions in [`crate::measures`].
    pub name: String,
    /// When.
    pub moment: MomentName,
    /// What it is held against.
    pub against: Option<MomentName>,
    /// The value in `unit`.
    pub value: f64,
    /// `cm`, `deg`, `s`, `%` or `1`.
    pub unit: String,
}

/// The figure in one frame.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FrameTruth {
    /// Frame number from 0.
    pub frame: usize,
    /// Time of the frame, s.
    pub time_s: f64,
    /// By name: `nose`, `head`, `neck`, `pelvis`, `club_butt`, `club_head`, and with `_lead` or
    /// `_trail`: `eye`, `ear`, `shoulder`, `elbow`, `wrist`, `hip`, `knee`, `ankle`, `heel`, `toe`,
    /// `grip`.
    pub joints: BTreeMap<String, JointTruth>,
    /// Where the picture shows the club; unlike the joints, each place at its own row's instant.
    pub club: ClubSeen,
}

/// A joint centre in one frame.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct JointTruth {
    /// Target, up, ball; m.
    pub world: [f64; 3],
    /// x, y; px.
    pub pixel: [f64; 2],
    /// False where another part of the body, or the picture's edge, hides it.
    pub visible: bool,
}

/// The truth of a clip of `frame_count` frames.
pub fn truth(
    params: &SwingParams,
    motion: &dyn Movement,
    camera: &Camera,
    view: View,
    frame_count: usize,
) -> Truth {
    let s = motion.skeleton();
    let player = Player::of(params);
    let sign = if camera.mirrored { -1.0 } else { 1.0 };
    let bones = [
        ("upper_arm", s.upper_arm),
        ("forearm", s.forearm),
        ("thigh", s.thigh),
        ("shank", s.shank),
        ("hips", 2.0 * s.hip_half),
    ];
    Truth {
        version: TRUTH_VERSION,
        rate_hz: params.phone.rate_hz,
        width_px: camera.width_px,
        height_px: camera.height_px,
        view,
        hand: params.hand,
        camera: CameraTruth {
            position: camera.position.to_array(),
            forward: camera.forward.to_array(),
            right: (camera.right * sign).to_array(),
            up: camera.up.to_array(),
            focal_px: camera.focal_px,
            readout_s: params.phone.readout_s,
            shutter_s: params.phone.shutter_s,
        },
        stature_m: params.body.stature_m,
        bones_m: bones.map(|(name, length)| (name.to_owned(), length)).into(),
        params: params.clone(),
        moments: moments(motion)
            .map(|(name, t)| MomentTruth {
                name,
                time_s: t + params.before_s,
            })
            .to_vec(),
        strike_sound_time_s: strike_time_s(params, motion, camera),
        ball: motion.ball().to_array(),
        ball_velocity_m_s: velocity(params).to_array(),
        measures: measures::all(motion),
        frames: (0..frame_count)
            .map(|frame| frame_truth(&player, motion, camera, frame))
            .collect(),
    }
}

/// How many frames the whole swing takes, with the stillness before and the rest after.
pub fn frame_count(params: &SwingParams, motion: &dyn Movement) -> usize {
    let length_s = params.before_s + motion.key_times().finish + params.after_s;
    (length_s * params.phone.rate_hz).ceil() as usize
}

fn frame_truth(
    player: &Player<'_>,
    motion: &dyn Movement,
    camera: &Camera,
    frame: usize,
) -> FrameTruth {
    let params = player.params;
    let time_s = frame as f64 / params.phone.rate_hz;
    let pose = motion.pose(time_s - params.before_s);
    let body = player.body(&pose, &[]);
    let joints = joints(&pose)
        .into_iter()
        .map(|(name, at, flesh_m)| {
            let (pixel, _) = camera.project(at);
            let joint = JointTruth {
                world: at.to_array().map(|v| round(v, 1e5)),
                pixel: pixel.to_array().map(|v| round(v, 1e3)),
                visible: clear(
                    camera,
                    &|from, ray, pixel| body.hit(from, ray, pixel),
                    at,
                    flesh_m,
                ),
            };
            (name, joint)
        })
        .collect();
    FrameTruth {
        frame,
        time_s,
        joints,
        club: club_seen(player, motion, camera, time_s - params.before_s),
    }
}

/// Tip of the nose, m.
pub(crate) fn nose(pose: &Pose) -> DVec3 {
    pose.head + pose.head_frame * DVec3::new(0.0, -0.018, 0.112)
}

/// Names and places of all points, with how deep each lies in flesh and clothes, m (by eye).
pub(crate) fn joints(pose: &Pose) -> Vec<(String, DVec3, f64)> {
    let head = |x: f64, y: f64, z: f64| pose.head + pose.head_frame * DVec3::new(x, y, z);
    let mut all = vec![
        ("nose".to_owned(), nose(pose), 0.02),
        ("head".to_owned(), pose.head, 0.13),
        ("neck".to_owned(), pose.neck, 0.12),
        ("pelvis".to_owned(), pose.pelvis, 0.20),
        ("club_butt".to_owned(), pose.club.butt, 0.03),
        ("club_head".to_owned(), pose.club.head, 0.03),
    ];
    for (i, (side, s)) in [("lead", 1.0), ("trail", -1.0)].into_iter().enumerate() {
        let foot = |y: f64, z: f64| pose.ankle[i] + pose.foot_frame[i] * DVec3::new(0.0, y, z);
        let points = [
            ("eye", head(0.032 * s, 0.012, 0.088), 0.03),
            ("ear", head(0.076 * s, -0.008, -0.005), 0.03),
            ("shoulder", pose.shoulder[i], 0.10),
            ("elbow", pose.elbow[i], 0.07),
            ("wrist", pose.wrist[i], 0.06),
            ("hip", pose.hip[i], 0.16),
            ("knee", pose.knee[i], 0.09),
            ("ankle", pose.ankle[i], 0.07),
            ("heel", foot(-0.06, -0.055), 0.06),
            ("toe", foot(-0.06, 0.19), 0.05),
            ("grip", pose.grip[i], 0.05),
        ];
        all.extend(points.map(|(name, at, flesh)| (format!("{name}_{side}"), at, flesh)));
    }
    all
}

fn round(value: f64, steps: f64) -> f64 {
    (value * steps).round() / steps
}
