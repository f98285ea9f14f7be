//! From a player's parameters to a moving figure: a pose for every instant.
//!
//! Keyed channels steer the pelvis, the base of the neck, the turns, the lead arm and the club; the
//! spine, the arms and the legs follow by inverse kinematics with constant bone lengths. Some keys
//! are solved for, so that the club is soled behind the ball at address and meets it at impact, the
//! lead arm is level exactly on its keys, and knee line and trail elbow lie where the parameters
//! want them, as far as bounded joints allow.
//!
//! Time is in seconds from the first movement. See [`crate::pose`] for the axes.

mod arms;
mod club;
mod keys;
mod solve;
mod wander;

pub(crate) use club::ClubShape;
pub use keys::KeyTimes;

use crate::channel::Channel;
use crate::params::SwingParams;
use crate::pose::{Hold, Pose, frame_up, lean, middle_joint};
use crate::skeleton::Skeleton;
use crate::things::Props;
use glam::{DMat3, DVec3};
use keys::{Channels, channels};

/// Radius of a golf ball, m (Rules of Golf, equipment rules: diameter not less than 42.67 mm).
pub const BALL_RADIUS_M: f64 = 0.021_335;
/// Distance between the middles of the two hands along the grip, m (set by eye).
pub(crate) const HANDS_APART_M: f64 = 0.074;
/// The grip reaches this far above the middle of the lead hand, m (set by eye).
pub(crate) const GRIP_ABOVE_HAND_M: f64 = 0.055;
/// Smallest flexion of a knee, radians.
const STRAIGHTEST_KNEE: f64 = 0.10;

/// A swing as a function of time: made from parameters or taken from a capture.
pub trait Movement: Sync {
    /// The figure at a time, s from the first movement; before 0 it stands at address, after the
    /// finish it rests.
    fn pose(&self, time_s: f64) -> Pose;
    /// When the keyed instants happen.
    fn key_times(&self) -> &KeyTimes;
    /// Bone lengths.
    fn skeleton(&self) -> &Skeleton;
    /// Middle of the ball at rest, m.
    fn ball(&self) -> DVec3;
    /// What is there besides the player at a time: a club and a ball, as long as nothing else is said.
    fn props(&self, _time_s: f64) -> Props {
        Props::default()
    }
}

/// A swing made from parameters.
#[derive(Clone, Debug)]
pub struct Motion {
    skeleton: Skeleton,
    feet: Feet,
    club: ClubShape,
    keys: KeyTimes,
    channels: Channels,
    /// Middle of the ball at rest.
    ball: DVec3,
    /// Farthest reach of an arm over the sum of its bones.
    arm_reach: f64,
    /// Mid-hips above the ground at address.
    pelvis_height: f64,
    /// Direction of the spine at address, where the head wants to stay.
    spine_at_address: DVec3,
}

impl Motion {
    /// Builds the motion and solves its free keys. Never fails for parameters that pass
    /// [`SwingParams::check`]; a wish out of reach is met as nearly as joints allow.
    pub fn new(p: &SwingParams) -> Motion {
        let skeleton = Skeleton::of(&p.body);
        let keys = KeyTimes::of(p);
        let mut motion = Motion {
            feet: feet(p, &skeleton),
            club: ClubShape::of(p),
            channels: channels(p, &keys, &skeleton),
            ball: DVec3::ZERO,
            arm_reach: p.motion.arm_reach,
            pelvis_height: 0.0,
            spine_at_address: DVec3::Y,
            skeleton,
            keys,
        };
        motion.channels.wander(p.motion.wander, p.seed);
        motion.solve(p);
        motion
    }

    /// How far the head is lower at impact than at address, m.
    pub fn head_sinks_m(&self) -> f64 {
        self.pose(0.0).head.y - self.pose(self.keys.impact).head.y
    }

    /// How far the lead arm is bent at most at address and while the ball is struck, radians.
    pub fn lead_arm_folds_rad(&self) -> f64 {
        let bent = |t: f64| {
            let pose = self.pose(t);
            (pose.elbow[0] - pose.shoulder[0]).angle_between(pose.wrist[0] - pose.elbow[0])
        };
        let struck =
            [-0.02, -0.01, 0.0, 0.01, 0.02].map(|after_s| bent(self.keys.impact + after_s));
        struck.into_iter().fold(bent(0.0), f64::max)
    }
}

impl Movement for Motion {
    fn key_times(&self) -> &KeyTimes {
        &self.keys
    }

    fn skeleton(&self) -> &Skeleton {
        &self.skeleton
    }

    fn ball(&self) -> DVec3 {
        self.ball
    }

    fn pose(&self, time_s: f64) -> Pose {
        let t = time_s;
        let s = &self.skeleton;
        let c = &self.channels;
        let radians = |channel: &Channel| channel.at(t).to_radians();

        let (ankle, foot_frame) = self.feet_at(t);

        let pelvis_up_axis = DMat3::from_rotation_z(radians(&c.pelvis_tilt))
            * DMat3::from_rotation_x(radians(&c.pelvis_lean))
            * DVec3::Y;
        let pelvis_frame = lean(pelvis_up_axis) * DMat3::from_rotation_y(-radians(&c.pelvis_turn));
        let hip_offset = [
            pelvis_frame * DVec3::new(s.hip_half, 0.0, 0.0),
            pelvis_frame * DVec3::new(-s.hip_half, 0.0, 0.0),
        ];
        let mut pelvis = DVec3::new(
            c.pelvis_target.at(t),
            self.pelvis_height + c.pelvis_up.at(t),
            c.pelvis_ball.at(t),
        );
        self.lower_into_reach(&mut pelvis, &hip_offset, &ankle);
        let hip = [pelvis + hip_offset[0], pelvis + hip_offset[1]];
        let knee = [0, 1].map(|i| {
            let flat = |v: DVec3| DVec3::new(v.x, 0.0, v.z).normalize_or_zero();
            // Knees point between foot and pelvis, a little inward.
            let inward = if i == 0 { -0.12 } else { 0.12 };
            let pole = flat(foot_frame[i] * DVec3::Z)
                + 0.5 * flat(pelvis_frame * DVec3::Z)
                + DVec3::new(inward, 0.0, 0.0);
            let pole = DMat3::from_rotation_y(radians(&c.knee_out[i])) * pole;
            middle_joint(hip[i], ankle[i], s.thigh, s.shank, pole)
        });

        let lumbar = pelvis + pelvis_frame * DVec3::new(0.0, s.pelvis, -0.012 * s.scale);
        let neck_over = DVec3::new(c.neck_target.at(t), 0.0, c.neck_ball.at(t));
        let spine = self.spine_to(lumbar, pelvis_up_axis, neck_over);
        let waist_up = (pelvis_up_axis + spine).normalize();
        let waist = lumbar + waist_up * s.waist;
        let neck = waist + spine * s.thorax;
        let chest_frame = lean(spine) * DMat3::from_rotation_y(-radians(&c.chest_turn));
        let waist_frame = frame_up(
            waist_up,
            pelvis_frame * DVec3::Z + chest_frame * DVec3::Z + waist_up * 1e-3,
        );

        let look = c.look.at(t);
        let (head, head_frame) = self.head(neck, spine, chest_frame, look);
        let arms = self.arms(t, neck, chest_frame, look);
        Pose {
            pelvis,
            pelvis_frame,
            lumbar,
            waist,
            waist_frame,
            neck,
            chest_frame,
            head,
            head_frame,
            shoulder: arms.shoulder,
            elbow: arms.elbow,
            wrist: arms.wrist,
            grip: arms.grip,
            hip,
            knee,
            ankle,
            foot_frame,
            hold: Hold::of_club(&arms.club),
            club: arms.club,
        }
    }
}

impl Motion {
    fn feet_at(&self, t: f64) -> ([DVec3; 2], [DMat3; 2]) {
        let s = &self.skeleton;
        // A foot pivots on its ball, 2.2 cm thick with the shoe's sole.
        let thickness = 0.022 * s.scale;
        let c = &self.channels;
        let mut ankle = self.feet.ankle;
        let mut frames = [DMat3::IDENTITY; 2];
        for i in 0..2 {
            let yaw = self.feet.yaw[i];
            let arm = DVec3::new(0.0, s.ankle_height - thickness, -s.ankle_to_ball);
            let pivot = ankle[i] - DMat3::from_rotation_y(yaw) * arm;
            let turned = if i == 1 {
                c.trail_foot.at(t).to_radians()
            } else {
                0.0
            };
            frames[i] = DMat3::from_rotation_y(yaw + turned)
                * DMat3::from_rotation_x(c.heel[i].at(t).to_radians());
            ankle[i] = pivot + frames[i] * arm;
        }
        (ankle, frames)
    }

    /// Lowers the pelvis until neither knee is straighter than [`STRAIGHTEST_KNEE`], with a soft
    /// limit so that reaching it makes no kink in the motion.
    fn lower_into_reach(&self, pelvis: &mut DVec3, hip_offset: &[DVec3; 2], ankle: &[DVec3; 2]) {
        const SOFT_M: f64 = 0.012;
        let reach = self.skeleton.leg_chord(STRAIGHTEST_KNEE);
        for _ in 0..3 {
            for i in 0..2 {
                let leg = *pelvis + hip_offset[i] - ankle[i];
                let level = (leg.x * leg.x + leg.z * leg.z).min(0.9 * reach * reach);
                let excess = leg.y - (reach * reach - level).sqrt();
                pelvis.y -= if excess > SOFT_M {
                    excess
                } else if excess > -SOFT_M {
                    (excess + SOFT_M).powi(2) / (4.0 * SOFT_M)
                } else {
                    0.0
                };
            }
        }
    }

    /// The direction of the chest's long axis that puts the base of the neck over a point of the
    /// ground; the waist bends half as much.
    fn spine_to(&self, lumbar: DVec3, pelvis_up: DVec3, neck_over: DVec3) -> DVec3 {
        let s = &self.skeleton;
        // Farthest lean from the vertical, as a sine (72°): beyond it no upright posture exists.
        const FARTHEST: f64 = 0.95;
        let upright = |level: DVec3| {
            let level = level.clamp_length_max(FARTHEST);
            level + DVec3::Y * (1.0 - level.length_squared()).sqrt()
        };
        let mut level = DVec3::new(pelvis_up.x, 0.0, pelvis_up.z);
        for _ in 0..12 {
            let spine = upright(level);
            let neck = lumbar + (pelvis_up + spine).normalize() * s.waist + spine * s.thorax;
            let error = neck_over - neck;
            level += DVec3::new(error.x, 0.0, error.z) / (s.thorax + 0.5 * s.waist);
            level = level.clamp_length_max(FARTHEST);
        }
        upright(level)
    }

    fn head(&self, neck: DVec3, spine: DVec3, chest: DMat3, look: f64) -> (DVec3, DMat3) {
        let s = &self.skeleton;
        // While the eyes stay on the ball the head keeps most of its attitude of address.
        let steady = (0.35 * spine + 0.65 * self.spine_at_address).normalize();
        let up_wish = (steady * 0.80 + DVec3::Y * 0.20).lerp(spine * 0.2 + DVec3::Y * 0.8, look);
        let head = neck
            + (steady.lerp(spine * 0.5 + DVec3::Y * 0.5, look) * 0.75 + up_wish * 0.25).normalize()
                * s.neck
            + lean(spine) * DVec3::Z * 0.012 * s.scale;
        let at_ball = (self.ball - head).normalize();
        let chest_ahead = lean(spine) * DVec3::Z;
        let down = at_ball * 0.55
            + chest_ahead * 0.25
            + (chest * DVec3::Z) * 0.14
            + DVec3::new(0.0, 0.12, 0.05);
        // After the ball: toward the target, turning past the ball's side on the way.
        let forward = down.normalize() * (1.0 - look)
            + DVec3::new(1.0, 0.02, 0.12) * look
            + DVec3::new(0.0, 0.0, 0.35) * look * (1.0 - look);
        let forward = forward.normalize();
        let up = (up_wish - forward * up_wish.dot(forward)).normalize();
        (head, frame_up(up, forward))
    }
}

/// Feet on the ground at address; angles in radians.
#[derive(Clone, Debug)]
struct Feet {
    ankle: [DVec3; 2],
    yaw: [f64; 2],
}

fn feet(p: &SwingParams, s: &Skeleton) -> Feet {
    let half = 0.5 * p.set_up.stance_ratio * p.body.stature_m;
    let back = 0.005 * p.set_up.open_stance_cm;
    Feet {
        ankle: [
            DVec3::new(half, s.ankle_height, -back),
            DVec3::new(-half, s.ankle_height, back),
        ],
        yaw: [
            p.set_up.lead_flare_deg.to_radians(),
            -p.set_up.trail_flare_deg.to_radians(),
        ],
    }
}
