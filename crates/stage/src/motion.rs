//! From a player's parameters to a moving figure: a pose for every instant.
//!
//! Keyed channels steer the pelvis, the base of the neck, the turns, the lead arm and the club; the
//! spine, the arms and the legs follow by inverse kinematics with constant bone lengths. Some keys
//! are solved for, so that the club is soled behind the ball at address and meets it at impact, the
//! lead arm is level exactly on its keys, and knee line and trail elbow lie where the parameters
//! want them, as far as bounded joints allow.
//!
//! Time is in seconds from the first movement. See [`crate::pose`] for the axes.

use crate::channel::Channel;
use crate::measures;
use crate::params::{ClubKind, SwingParams};
use crate::pose::{ClubPose, Pose, frame_up, lean, middle_joint};
use crate::skeleton::Skeleton;
use glam::{DMat3, DVec3};

/// Radius of a golf ball, m (Rules of Golf, equipment rules: diameter not less than 42.67 mm).
pub const BALL_RADIUS_M: f64 = 0.021_335;
/// Distance between the middles of the two hands along the grip, m (set by eye).
pub(crate) const HANDS_APART_M: f64 = 0.074;
/// The grip reaches this far above the middle of the lead hand, m (set by eye).
pub(crate) const GRIP_ABOVE_HAND_M: f64 = 0.055;
/// Reach of an arm or leg over the sum of its bones: joints never lock.
const ARM_REACH: f64 = 0.997;
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
    /// Mid-hips above the ground at address.
    pelvis_height: f64,
    /// Direction of the spine at address, where the head wants to stay.
    spine_at_address: DVec3,
}

/// When the keyed instants happen, s from the first movement.
#[derive(Clone, Copy, Debug)]
pub struct KeyTimes {
    /// Shaft about level on the way back.
    pub shaft_level_back: f64,
    /// Lead arm level on the way back.
    pub arm_level_back: f64,
    /// Shortly before the top, when the pelvis turns round.
    pub before_top: f64,
    /// The arm swing turns round.
    pub top: f64,
    /// Lead arm level on the way down.
    pub arm_level_down: f64,
    /// Shaft about level on the way down.
    pub shaft_level_down: f64,
    /// Club meets ball.
    pub impact: f64,
    /// Shaft about level after the strike.
    pub shaft_level_through: f64,
    /// Arms about level after the strike.
    pub arm_level_through: f64,
    /// Club over the shoulder.
    pub wrap: f64,
    /// At rest.
    pub finish: f64,
}

impl KeyTimes {
    fn of(p: &SwingParams) -> KeyTimes {
        let (back, down) = (p.motion.backswing_s, p.motion.downswing_s);
        let fraction = p.motion.arm_level_fraction;
        // The follow-through keeps the downswing's pace (durations of a 0.26 s downswing, set by
        // eye).
        let pace = down / 0.26;
        let impact = back + down;
        KeyTimes {
            shaft_level_back: 0.40 * back,
            arm_level_back: 0.63 * back,
            before_top: 0.92 * back,
            top: back,
            arm_level_down: back + fraction * down,
            shaft_level_down: back + (fraction + 0.55 * (1.0 - fraction)) * down,
            impact,
            shaft_level_through: impact + 0.05 * pace,
            arm_level_through: impact + 0.13 * pace,
            wrap: impact + 0.33 * pace,
            finish: impact + 0.55 * pace,
        }
    }
}

/// Feet on the ground at address; angles in radians.
#[derive(Clone, Debug)]
struct Feet {
    ankle: [DVec3; 2],
    yaw: [f64; 2],
}

/// The club's fixed shape.
#[derive(Clone, Debug)]
pub(crate) struct ClubShape {
    pub(crate) length: f64,
    /// Angle between shaft and ground when soled, radians: set at address.
    pub(crate) lie: f64,
    /// Hosel to the middle of the head along the toe axis.
    head_out: f64,
    /// Middle of the head to the middle of the face along the face's normal.
    face_ahead: f64,
    /// Middle of the head above the ground when soled.
    head_height: f64,
    /// The same where it brushes the ground in motion.
    sole: f64,
    /// Middle of the ball above the ground.
    ball_height: f64,
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

/// Keyed quantities; lengths m, angles degrees.
#[derive(Clone, Debug)]
struct Channels {
    /// Mid-hips toward the target, against address.
    pelvis_target: Channel,
    /// Mid-hips upward, against address.
    pelvis_up: Channel,
    /// Mid-hips toward the ball.
    pelvis_ball: Channel,
    /// Pelvis turned away from the target about its long axis.
    pelvis_turn: Channel,
    /// Pelvis leant toward the ball.
    pelvis_lean: Channel,
    /// Lead hip raised.
    pelvis_tilt: Channel,
    /// Base of the neck toward the target.
    neck_target: Channel,
    /// Base of the neck toward the ball.
    neck_ball: Channel,
    /// Chest turned away from the target about the spine.
    chest_turn: Channel,
    /// Lead arm away from the target, from hanging.
    arm: Channel,
    /// Slope of the plane the lead arm moves in.
    arm_plane: Channel,
    /// Lead arm turned about the vertical toward the ball.
    arm_out: Channel,
    /// Lead shoulder to wrist over the arm's length.
    arm_length: Channel,
    /// Club in its plane, from pointing down, away from the target.
    club: Channel,
    /// Slope of the club's plane.
    club_plane: Channel,
    /// Heels lifted.
    heel: [Channel; 2],
    /// Trail foot turned toward the target.
    trail_foot: Channel,
    /// Knees swung toward the target.
    knee_out: [Channel; 2],
    /// How far the collar bones follow their hands, 0 … 1.
    girdle: [Channel; 2],
    /// Trail elbow turned about the line from shoulder to wrist.
    trail_elbow: Channel,
    /// 0 looks at the ball, 1 after it.
    look: Channel,
}

// Numbers of the keys that are solved for, in the channels built below.
const ADDRESS: usize = 0;
const ARM_LEVEL_BACK: usize = 2;
const ARM_LEVEL_DOWN: usize = 4;
const SHAFT_LEVEL_DOWN: usize = 5;
const IMPACT: usize = 6;

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
            pelvis_height: 0.0,
            spine_at_address: DVec3::Y,
            skeleton,
            keys,
        };
        motion.stand(p);
        motion.sole_the_club(p);
        // Legs move the shoulders a little and shoulders move the arms: two rounds settle both.
        for _ in 0..2 {
            motion.place_knees(p.motion.knee_line_down_deg.to_radians());
            motion.level_the_arm(ARM_LEVEL_BACK, motion.keys.arm_level_back);
            motion.level_the_arm(ARM_LEVEL_DOWN, motion.keys.arm_level_down);
            motion.keep_the_head_up(p);
        }
        motion.place_trail_elbow(0.01 * p.motion.elbow_ahead_down_cm);
        motion
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

struct Arms {
    shoulder: [DVec3; 2],
    elbow: [DVec3; 2],
    wrist: [DVec3; 2],
    grip: [DVec3; 2],
    club: ClubPose,
}

impl Motion {
    fn arms(&self, t: f64, neck: DVec3, chest: DMat3, look: f64) -> Arms {
        let s = &self.skeleton;
        let c = &self.channels;
        let radians = |channel: &Channel| channel.at(t).to_radians();
        let away = DVec3::NEG_X;

        let (arm, plane) = (radians(&c.arm), radians(&c.arm_plane));
        let hanging = DVec3::new(0.0, -plane.sin(), plane.cos());
        let arm_direction =
            DMat3::from_rotation_y(radians(&c.arm_out)) * (hanging * arm.cos() + away * arm.sin());
        let (angle, plane) = (radians(&c.club), radians(&c.club_plane));
        let downward = DVec3::new(0.0, -plane.sin(), plane.cos());
        let shaft = downward * angle.cos() + away * angle.sin();
        let face = (downward * angle.sin() - away * angle.cos()).normalize();

        let arm_length = s.upper_arm + s.forearm;
        let longest = arm_length * ARM_REACH;
        let wanted = arm_length * c.arm_length.at(t);
        let mirror = DVec3::new(-1.0, 1.0, 1.0);
        let inner = [
            neck + chest * s.collar_inner,
            neck + chest * (s.collar_inner * mirror),
        ];
        let collar = [chest * s.collar, chest * (s.collar * mirror)];
        let collar_length = s.collar.length();
        let wrist_of = |grip: DVec3, shoulder: DVec3, side: f64| {
            let toward = (shoulder - grip).normalize();
            let h = toward - shaft * (0.45 * toward.dot(shaft)) + face * (0.30 * side);
            grip + h.normalize() * s.hand
        };

        let mut shoulder = [inner[0] + collar[0], inner[1] + collar[1]];
        let mut wrist = shoulder;
        let mut lead_grip = shoulder[0] + arm_direction * (wanted + s.hand);
        // Shoulder girdle and hands settle together; then both arms' reach limits apply.
        const ROUNDS: usize = 12;
        for round in 0..ROUNDS {
            let grips = [lead_grip, lead_grip + shaft * HANDS_APART_M];
            for i in 0..2 {
                // A collar bone swings part of the way toward its hand.
                let rest = collar[i] / collar_length;
                let toward = (grips[i] - inner[i]).normalize();
                let wish = c.girdle[i].at(t);
                let share = self.girdle_share(wish, grips[i].distance(inner[i] + collar[i]));
                let direction = rest + (toward - rest * toward.dot(rest)) * share;
                shoulder[i] = inner[i] + direction.normalize() * collar_length;
            }
            if round == 0 {
                lead_grip = shoulder[0] + arm_direction * (wanted + s.hand);
            }
            wrist = [
                wrist_of(lead_grip, shoulder[0], 1.0),
                wrist_of(lead_grip + shaft * HANDS_APART_M, shoulder[1], -1.0),
            ];
            if round + 1 == ROUNDS {
                break;
            }
            if round < 3 {
                let arm = wrist[0] - shoulder[0];
                lead_grip += arm.normalize() * (wanted - arm.length());
            } else {
                for i in 0..2 {
                    let arm = wrist[i] - shoulder[i];
                    let excess = arm.length() - longest;
                    if excess > 0.0 {
                        lead_grip -= arm.normalize() * excess;
                    }
                }
            }
        }

        let elbow = [0, 1].map(|i| {
            let along = (wrist[i] - shoulder[i]).normalize();
            let pole = if i == 0 {
                DVec3::NEG_Y + chest * DVec3::new(0.55, 0.0, -0.25)
            } else {
                let rest =
                    DVec3::NEG_Y + chest * DVec3::new(-0.22 - 0.2 * look, 0.0, -0.35 + 0.5 * look);
                DMat3::from_axis_angle(along, radians(&c.trail_elbow)) * rest
            };
            middle_joint(shoulder[i], wrist[i], s.upper_arm, s.forearm, pole)
        });

        Arms {
            shoulder,
            elbow,
            wrist,
            grip: [lead_grip, lead_grip + shaft * HANDS_APART_M],
            club: self.club.clear_of_ground(lead_grip, shaft, face),
        }
    }
}

impl Motion {
    /// How far a collar bone swings toward its hand: as wished, but farther when the arm would
    /// overstretch and backward when it would fold up, with soft limits. `distance` is from the
    /// shoulder at rest to the grip.
    fn girdle_share(&self, wish: f64, distance: f64) -> f64 {
        let s = &self.skeleton;
        let longest = s.upper_arm + s.forearm + 0.9 * s.hand;
        // A share of 1 brings the shoulder about this much nearer to the hand, m (by eye).
        let gain = 0.16 * s.scale;
        let soft = |excess: f64| {
            const SOFT_M: f64 = 0.015;
            SOFT_M * (excess / SOFT_M).min(30.0).exp().ln_1p()
        };
        // Straighter than 0.965 and nearer than 0.63 of the arm's length look strained.
        let stretch = soft(distance - gain * wish - 0.965 * longest);
        let squeeze = soft(0.63 * longest - (distance - gain * wish));
        wish + (stretch / gain).min(0.8) - (squeeze / gain).min(0.5)
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

// ---- solving the free keys

impl Motion {
    /// Sets the pelvis' height for the wanted bend of the knees.
    fn stand(&mut self, p: &SwingParams) {
        let chord = self.skeleton.leg_chord(p.set_up.knee_flex_deg.to_radians());
        // Start too high on purpose: the first pose only tells where hips and ankles are.
        self.pelvis_height = chord;
        let pose = self.pose(0.0);
        let height = |i: usize| {
            let leg = pose.hip[i] - pose.ankle[i];
            let level = leg.x * leg.x + leg.z * leg.z;
            pose.ankle[i].y + (chord * chord - level).sqrt() - (pose.hip[i].y - pose.pelvis.y)
        };
        self.pelvis_height = 0.5 * (height(0) + height(1));
        self.spine_at_address = (self.pose(0.0).chest_frame * DVec3::Y).normalize();
    }

    /// Address: hands where they are wanted, the club soled, its head behind the ball.
    fn sole_the_club(&mut self, p: &SwingParams) {
        let hands = 0.01 * p.set_up.hands_cm;
        let face_at = 0.01 * p.set_up.ball_position_cm - BALL_RADIUS_M - 0.012;
        for _ in 0..20 {
            // The sole lies flat at address: the lie is the shaft's own slope.
            let shaft = self.pose(0.0).club.shaft;
            self.club.lie = (-shaft.y).atan2(shaft.z);
            let height = self.club.head_height;
            self.solve_step(
                0.0,
                |c| {
                    [
                        (&mut c.arm, ADDRESS),
                        (&mut c.club, ADDRESS),
                        (&mut c.club_plane, ADDRESS),
                    ]
                },
                [8.0, 8.0, 6.0],
                |pose| {
                    let club = pose.club;
                    DVec3::new(
                        pose.grip[0].x - hands,
                        club.sweet_spot.x - face_at,
                        club.head.y - height,
                    )
                },
            );
        }
        let club = self.pose(0.0).club;
        self.ball = DVec3::new(
            0.01 * p.set_up.ball_position_cm,
            self.club.ball_height,
            club.sweet_spot.z,
        );
    }

    /// Impact without the head sinking: where meeting the ball takes too deep a bow, the trunk
    /// hangs back and opens less and the legs straighten more.
    fn keep_the_head_up(&mut self, p: &SwingParams) {
        // Skilled players' heads sink a few centimetres (no published figure was found).
        const DEEPEST_M: f64 = 0.060;
        let address = self.pose(0.0).head.y;
        let start = self.channels.neck_ball.value(IMPACT);
        self.meet_the_ball(p);
        for _ in 0..8 {
            let sunk = address - self.pose(self.keys.impact).head.y;
            if sunk < DEEPEST_M {
                break;
            }
            let c = &mut self.channels;
            c.neck_target
                .set(IMPACT, c.neck_target.value(IMPACT) + 0.006);
            c.pelvis_up.set(IMPACT, c.pelvis_up.value(IMPACT) + 0.004);
            c.chest_turn.set(IMPACT, c.chest_turn.value(IMPACT) + 4.0);
            c.neck_ball.set(IMPACT, start);
            self.meet_the_ball(p);
        }
    }

    /// Impact: the middle of the face touches the ball with the wanted lean of the shaft. The trunk
    /// leans as much as it takes for the shaft to stand a little steeper than at address, as it
    /// does when the arms pull straight.
    fn meet_the_ball(&mut self, p: &SwingParams) {
        // Range of the steepening and of the extra lean, by eye.
        const STEEPER_RAD: [f64; 2] = [0.03, 0.17];
        const LEAN_RANGE_M: f64 = 0.09;
        self.channels
            .club
            .set(IMPACT, p.motion.shaft_lean_impact_deg);
        let t = self.keys.impact;
        let start = [
            self.channels.neck_ball.value(IMPACT),
            self.channels.arm.value(IMPACT),
            self.channels.arm_plane.value(IMPACT),
            self.channels.club_plane.value(IMPACT),
        ];
        let slope = |m: &Motion, t: f64| (-m.pose(t).club.shaft.y).asin();
        let soled = slope(self, 0.0);
        // The steepening with some extra lean; a ball out of reach counts as far too steep.
        let steeper = |m: &mut Motion, lean: f64| {
            m.channels.neck_ball.set(IMPACT, start[0] + lean);
            m.channels.arm.set(IMPACT, start[1]);
            m.channels.arm_plane.set(IMPACT, start[2]);
            m.channels.club_plane.set(IMPACT, start[3]);
            if m.touch_the_ball(t) > 1e-6 {
                f64::INFINITY
            } else {
                slope(m, t) - soled
            }
        };
        let upright = steeper(self, 0.0);
        if (STEEPER_RAD[0]..=STEEPER_RAD[1]).contains(&upright) {
            return;
        }
        // Leaning over brings the shoulders down and out: hands lower, shaft flatter.
        let wanted = if upright > STEEPER_RAD[1] {
            STEEPER_RAD[1]
        } else {
            STEEPER_RAD[0]
        };
        let (mut low, mut high) = (-LEAN_RANGE_M, LEAN_RANGE_M);
        for _ in 0..24 {
            let middle = 0.5 * (low + high);
            if steeper(self, middle) > wanted {
                low = middle;
            } else {
                high = middle;
            }
        }
        steeper(self, high);
    }

    /// Arm and club angles at impact for the trunk as it is; returns how far the face misses, m.
    fn touch_the_ball(&mut self, t: f64) -> f64 {
        let touch = self.ball - DVec3::X * BALL_RADIUS_M;
        for _ in 0..25 {
            let error = self.solve_step(
                t,
                |c| {
                    [
                        (&mut c.arm, IMPACT),
                        (&mut c.arm_plane, IMPACT),
                        (&mut c.club_plane, IMPACT),
                    ]
                },
                [8.0, 8.0, 6.0],
                |pose| pose.club.sweet_spot - touch,
            );
            if error < 1e-7 {
                break;
            }
        }
        (self.pose(t).club.sweet_spot - touch).length()
    }

    /// The lead wrist as high as the lead shoulder at a key.
    fn level_the_arm(&mut self, key: usize, t: f64) {
        for _ in 0..12 {
            let height = |m: &Motion| {
                let pose = m.pose(t);
                pose.wrist[0].y - pose.shoulder[0].y
            };
            let arm = self.channels.arm.value(key);
            let error = height(self);
            self.channels.arm.set(key, arm + 0.1);
            let slope = (height(self) - error) / 0.1;
            self.channels
                .arm
                .set(key, arm - (error / slope).clamp(-8.0, 8.0));
        }
    }

    /// One damped Newton step on three keyed values at one time, each bounded per step; returns
    /// the size of the error before the step.
    fn solve_step(
        &mut self,
        t: f64,
        unknowns: impl for<'a> Fn(&'a mut Channels) -> [(&'a mut Channel, usize); 3],
        largest_step: [f64; 3],
        error: impl Fn(&Pose) -> DVec3,
    ) -> f64 {
        const PROBE_DEG: f64 = 0.05;
        let change = |m: &mut Motion, which: usize, by: f64| {
            let (channel, key) = &mut unknowns(&mut m.channels)[which];
            let value = channel.value(*key);
            channel.set(*key, value + by);
        };
        let here = error(&self.pose(t));
        let mut columns = [DVec3::ZERO; 3];
        for (i, column) in columns.iter_mut().enumerate() {
            change(self, i, PROBE_DEG);
            *column = (error(&self.pose(t)) - here) / PROBE_DEG;
            change(self, i, -PROBE_DEG);
        }
        let jacobian = DMat3::from_cols_array_2d(&columns.map(|c| c.to_array()));
        if jacobian.determinant().abs() < 1e-14 {
            return here.length();
        }
        let step = jacobian.inverse() * here;
        for i in 0..3 {
            change(self, i, -step[i].clamp(-largest_step[i], largest_step[i]));
        }
        here.length()
    }

    /// Turns the knee line to its wish at the moment the arm is level on the way down, by one
    /// amount that moves what a player moves: the knees outward, the pelvis' tilt, the trail heel.
    fn place_knees(&mut self, wanted_rad: f64) {
        let t = self.keys.arm_level_down;
        let base = [
            self.channels.pelvis_tilt.value(ARM_LEVEL_DOWN),
            self.channels.knee_out[0].value(ARM_LEVEL_DOWN),
            self.channels.knee_out[1].value(ARM_LEVEL_DOWN),
            self.channels.heel[1].value(ARM_LEVEL_DOWN),
        ];
        let address = self.pose(0.0);
        let apply = |m: &mut Motion, amount: f64| {
            let c = &mut m.channels;
            c.pelvis_tilt.set(ARM_LEVEL_DOWN, base[0] + 5.0 * amount);
            c.knee_out[0].set(ARM_LEVEL_DOWN, base[1] + 26.0 * amount);
            c.knee_out[1].set(ARM_LEVEL_DOWN, base[2] + 26.0 * amount);
            c.heel[1].set(ARM_LEVEL_DOWN, base[3] + 14.0 * amount.max(0.0));
        };
        // More than this looks dislocated (by eye).
        const LARGEST: f64 = 1.3;
        let (mut low, mut high) = (-LARGEST, LARGEST);
        for _ in 0..40 {
            let middle = 0.5 * (low + high);
            apply(self, middle);
            if measures::knee_line_turn_rad(&self.pose(t), &address) < wanted_rad {
                low = middle;
            } else {
                high = middle;
            }
        }
    }

    /// Turns the trail elbow about the line from shoulder to wrist to its wish at the moment the
    /// arm is level on the way down: of all angles within the shoulder's range the smallest that
    /// comes nearest.
    fn place_trail_elbow(&mut self, wanted_m: f64) {
        // Range by eye: beyond it the upper arm enters the trunk or the shoulder dislocates.
        const RANGE_DEG: i32 = 60;
        let t = self.keys.arm_level_down;
        let base = self.channels.trail_elbow.value(ARM_LEVEL_DOWN);
        let miss = |m: &mut Motion, turn_deg: f64| {
            m.channels.trail_elbow.set(ARM_LEVEL_DOWN, base + turn_deg);
            measures::trail_elbow_ahead_m(&m.pose(t)) - wanted_m
        };
        let mut best = (f64::INFINITY, 0.0);
        for degree in -RANGE_DEG..=RANGE_DEG {
            let turn = f64::from(degree);
            // A tie within a millimetre goes to the smaller turn.
            let cost = miss(self, turn).abs() + 1e-5 * turn.abs();
            if cost < best.0 {
                best = (cost, turn);
            }
        }
        let (mut low, mut high) = (best.1 - 1.0, best.1 + 1.0);
        let rising = miss(self, high) > miss(self, low);
        for _ in 0..30 {
            let middle = 0.5 * (low + high);
            if (miss(self, middle) < 0.0) == rising {
                low = middle;
            } else {
                high = middle;
            }
        }
        let turn = 0.5 * (low + high);
        self.channels.trail_elbow.set(ARM_LEVEL_DOWN, base + turn);
        // The elbow stays on its side until the strike.
        for (key, share) in [(SHAFT_LEVEL_DOWN, 0.75), (IMPACT, 0.4)] {
            let value = self.channels.trail_elbow.value(key);
            self.channels.trail_elbow.set(key, value + share * turn);
        }
    }
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

/// The channels before the free keys are solved for. Every key that is not a parameter was set by
/// eye on rendered frames, within the published ranges where those exist.
fn channels(p: &SwingParams, k: &KeyTimes, s: &Skeleton) -> Channels {
    let m = &p.motion;
    let u = &p.set_up;
    let cm = 0.01;
    let over = m.over_the_top;
    let short = 1.0 - m.finish;
    let shift = [
        m.shift_back_cm,
        m.shift_top_cm,
        m.shift_down_cm,
        m.shift_impact_cm,
    ]
    .map(|v| v * cm);
    let trunk = s.pelvis + s.waist + s.thorax;
    let lean_z = trunk * u.spine_lean_deg.to_radians().sin();
    let lean_x = -trunk * u.spine_tilt_deg.to_radians().sin();
    // Mid-hips behind the ankles at address so that the weight is over the middle of the foot.
    let hips_z = -0.145 * s.scale;
    let (neck_x, neck_z) = (lean_x, hips_z + lean_z);
    let ee = m.thrust_cm * cm;
    let sway_top = m.head_sway_top_cm * cm;
    let sway_impact = m.head_sway_impact_cm * cm;
    let top = m.pelvis_turn_top_deg;
    let chest_top = m.chest_turn_top_deg;
    let open = -u.shoulders_open_deg;
    // Eleven keys for every channel that is solved for, so that a key has one number everywhere.
    let times = [
        0.0,
        k.shaft_level_back,
        k.arm_level_back,
        k.top,
        k.arm_level_down,
        k.shaft_level_down,
        k.impact,
        k.shaft_level_through,
        k.arm_level_through,
        k.wrap,
        k.finish,
    ];
    let channel = |values: [f64; 11]| {
        let keys: Vec<(f64, f64)> = times.iter().copied().zip(values).collect();
        Channel::new(&keys)
    };
    let impact_open = m.pelvis_open_impact_deg;
    let down_open = m.pelvis_open_down_deg;
    let chest_down = m.chest_closed_down_deg - 12.0 * over;
    let chest_impact = -m.chest_open_impact_deg - 5.0 * over;
    let fly = -45.0 * m.flying_elbow;
    let arm_down_out = -2.0 + 16.0 * over;
    let end = s.scale;
    Channels {
        pelvis_target: channel([
            0.0,
            0.75 * shift[0],
            shift[0],
            shift[1],
            shift[2],
            0.6 * shift[2] + 0.4 * shift[3],
            shift[3],
            shift[3] + 0.01,
            shift[3] + 0.03,
            shift[3] + 0.05,
            (shift[3] + 0.07).max(0.11 * end),
        ]),
        pelvis_up: channel([
            0.0,
            -0.001,
            -0.003,
            -0.006,
            -m.squat_cm * cm,
            -0.6 * m.squat_cm * cm,
            0.012,
            0.015,
            0.020,
            0.035,
            0.045,
        ]),
        pelvis_ball: channel([
            hips_z,
            hips_z,
            hips_z - 0.002,
            hips_z - 0.004 + 0.1 * ee,
            hips_z - 0.012 + 0.6 * ee,
            hips_z - 0.012 + 0.85 * ee,
            hips_z - 0.006 + ee,
            hips_z + 0.004 + ee,
            hips_z + 0.03 + 0.7 * ee,
            hips_z + 0.08 + 0.3 * ee,
            hips_z + 0.12,
        ]),
        // The pelvis turns round before the arms do.
        pelvis_turn: Channel::new(&[
            (0.0, 0.0),
            (k.shaft_level_back, 0.32 * top),
            (k.arm_level_back, 0.74 * top),
            (k.before_top, top),
            (k.top, 0.95 * top),
            (k.arm_level_down, -down_open),
            (k.shaft_level_down, -(0.45 * down_open + 0.55 * impact_open)),
            (k.impact, -impact_open),
            (k.shaft_level_through, -impact_open - 14.0),
            (k.arm_level_through, -impact_open - 32.0),
            (k.wrap, -92.0 + 20.0 * short),
            (k.finish, -98.0 + 25.0 * short),
        ]),
        pelvis_lean: channel([
            20.0,
            18.0,
            15.0,
            13.0,
            16.0,
            14.0 - 40.0 * ee,
            12.0 - 70.0 * ee,
            9.0 - 60.0 * ee,
            4.0,
            -3.0,
            -5.0,
        ]),
        pelvis_tilt: channel([0.0, 1.0, 2.5, 3.5, 1.5, 2.5, 4.0, 6.0, 7.0, 3.0, 1.0]),
        neck_target: channel([
            neck_x,
            neck_x + 0.4 * sway_top,
            neck_x + 0.8 * sway_top,
            neck_x + sway_top,
            neck_x + 0.4 * sway_top + 0.4 * sway_impact + 0.2 * shift[2],
            neck_x + 0.15 * sway_top + 0.8 * sway_impact + 0.12 * shift[2],
            neck_x + sway_impact,
            neck_x + sway_impact - 0.004,
            neck_x + 0.02,
            neck_x + 0.10,
            0.13 * end,
        ]),
        neck_ball: channel([
            neck_z,
            neck_z,
            neck_z - 0.002,
            neck_z - 0.006,
            neck_z - 0.004 + 0.010 * over,
            neck_z - 0.002 + 0.010 * over,
            neck_z - 0.002 - 0.3 * ee,
            neck_z - 0.03,
            neck_z - 0.08,
            hips_z + 0.20,
            hips_z + 0.13,
        ]),
        chest_turn: channel([
            open,
            0.32 * chest_top,
            0.70 * chest_top,
            chest_top,
            chest_down,
            0.42 * chest_down + 0.58 * chest_impact + 6.0,
            chest_impact,
            chest_impact - 20.0,
            chest_impact - 46.0,
            -108.0 + 25.0 * short,
            -122.0 + 30.0 * short,
        ]),
        arm: channel([
            8.0,
            44.0,
            90.0,
            m.arm_top_deg,
            90.0,
            46.0,
            0.0,
            -38.0,
            -92.0,
            -128.0 + 25.0 * short,
            -138.0 + 30.0 * short,
        ]),
        arm_plane: channel([
            90.0 - u.arm_hang_deg,
            75.0,
            64.0,
            m.arm_plane_top_deg,
            58.0,
            66.0 - 6.0 * over,
            70.0,
            66.0,
            60.0,
            57.0,
            56.0,
        ]),
        arm_out: channel([
            0.0,
            0.0,
            -3.0,
            6.0 * over,
            arm_down_out,
            0.6 * arm_down_out,
            0.0,
            0.0,
            0.0,
            0.0,
            0.0,
        ]),
        arm_length: channel([
            0.978,
            0.985,
            0.985,
            m.lead_arm_straight,
            0.5 * m.lead_arm_straight + 0.492,
            0.985,
            0.988,
            0.988,
            0.94,
            0.66,
            0.56,
        ]),
        club: channel([
            3.0,
            88.0,
            172.0,
            180.0 + m.club_top_deg,
            200.0 - m.cast_deg,
            104.0 - 0.5 * m.cast_deg,
            m.shaft_lean_impact_deg,
            -72.0,
            -158.0,
            -285.0 + 50.0 * short,
            -315.0 + 70.0 * short,
        ]),
        club_plane: channel([
            57.0,
            56.0,
            60.0,
            58.0,
            57.0 + 7.0 * over,
            56.0 + 3.0 * over,
            58.0,
            56.0,
            56.0,
            42.0,
            26.0,
        ]),
        heel: [
            channel([
                0.0,
                0.0,
                0.3 * m.lead_heel_lift_deg,
                m.lead_heel_lift_deg,
                0.0,
                0.0,
                0.0,
                0.0,
                0.0,
                0.0,
                0.0,
            ]),
            channel([0.0, 0.0, 0.0, 0.0, 1.0, 5.0, 12.0, 22.0, 42.0, 66.0, 74.0]),
        ],
        trail_foot: channel([0.0, 0.0, 0.0, 0.0, 0.0, 1.0, 5.0, 12.0, 30.0, 55.0, 64.0]),
        knee_out: [
            channel([0.0, -2.0, -4.0, -6.0, 0.0, 3.0, 4.0, 4.0, 4.0, 4.0, 4.0]),
            channel([0.0, 0.0, 0.0, 0.0, 0.0, 4.0, 10.0, 14.0, 10.0, 0.0, 0.0]),
        ],
        girdle: [
            channel([0.30, 0.30, 0.30, 0.30, 0.32, 0.42, 0.58, 0.5, 0.3, 0.2, 0.2]),
            channel([0.62, 0.5, 0.2, 0.0, 0.08, 0.15, 0.22, 0.4, 0.5, 0.4, 0.4]),
        ],
        trail_elbow: channel([0.0, 0.0, 0.4 * fly, fly, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0]),
        look: channel([0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.06, 0.35, 0.95, 1.0]),
    }
}
