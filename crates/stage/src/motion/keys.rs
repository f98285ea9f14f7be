//! What steers a swing: keyed instants, and the keyed quantities between them.

use crate::channel::Channel;
use crate::params::SwingParams;
use crate::skeleton::Skeleton;

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
    pub(super) fn of(p: &SwingParams) -> KeyTimes {
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

/// Keyed quantities; lengths m, angles degrees.
#[derive(Clone, Debug)]
pub(super) struct Channels {
    /// Mid-hips toward the target, against address.
    pub(super) pelvis_target: Channel,
    /// Mid-hips upward, against address.
    pub(super) pelvis_up: Channel,
    /// Mid-hips toward the ball.
    pub(super) pelvis_ball: Channel,
    /// Pelvis turned away from the target about its long axis.
    pub(super) pelvis_turn: Channel,
    /// Pelvis leant toward the ball.
    pub(super) pelvis_lean: Channel,
    /// Lead hip raised.
    pub(super) pelvis_tilt: Channel,
    /// Base of the neck toward the target.
    pub(super) neck_target: Channel,
    /// Base of the neck toward the ball.
    pub(super) neck_ball: Channel,
    /// Chest turned away from the target about the spine.
    pub(super) chest_turn: Channel,
    /// Lead arm away from the target, from hanging.
    pub(super) arm: Channel,
    /// Slope of the plane the lead arm moves in.
    pub(super) arm_plane: Channel,
    /// Lead arm turned about the vertical toward the ball.
    pub(super) arm_out: Channel,
    /// Lead shoulder to wrist over the arm's length.
    pub(super) arm_length: Channel,
    /// Club in its plane, from pointing down, away from the target.
    pub(super) club: Channel,
    /// Slope of the club's plane.
    pub(super) club_plane: Channel,
    /// Heels lifted.
    pub(super) heel: [Channel; 2],
    /// Trail foot turned toward the target.
    pub(super) trail_foot: Channel,
    /// Knees swung toward the target.
    pub(super) knee_out: [Channel; 2],
    /// How far the collar bones follow their hands, 0 … 1.
    pub(super) girdle: [Channel; 2],
    /// Trail elbow turned about the line from shoulder to wrist.
    pub(super) trail_elbow: Channel,
    /// 0 looks at the ball, 1 after it.
    pub(super) look: Channel,
}

// Numbers of the keys that are solved for, in the channels built below.
pub(super) const ADDRESS: usize = 0;
pub(super) const ARM_LEVEL_BACK: usize = 2;
pub(super) const ARM_LEVEL_DOWN: usize = 4;
pub(super) const SHAFT_LEVEL_DOWN: usize = 5;
pub(super) const IMPACT: usize = 6;

/// The channels before the free keys are solved for. Every key that is not a parameter was set by
/// eye on rendered frames, within the published ranges where those exist. One row is one quantity
/// over time.
#[rustfmt::skip]
pub(super) fn channels(p: &SwingParams, k: &KeyTimes, s: &Skeleton) -> Channels {
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
    let (arm_back, arm_impact) = (m.lead_arm_straight_back, m.lead_arm_straight_impact);
    let end = s.scale;
    Channels {
        pelvis_target: channel([
            0.0, 0.75 * shift[0], shift[0], shift[1], shift[2], 0.6 * shift[2] + 0.4 * shift[3],
            shift[3], shift[3] + 0.01, shift[3] + 0.03, shift[3] + 0.05,
            (shift[3] + 0.07).max(0.11 * end),
        ]),
        pelvis_up: channel([
            0.0, -0.001, -0.003, -0.006, -m.squat_cm * cm, -0.6 * m.squat_cm * cm, 0.012, 0.015,
            0.020, 0.035, 0.045,
        ]),
        pelvis_ball: channel([
            hips_z, hips_z, hips_z - 0.002, hips_z - 0.004 + 0.1 * ee, hips_z - 0.012 + 0.6 * ee,
            hips_z - 0.012 + 0.85 * ee, hips_z - 0.006 + ee, hips_z + 0.004 + ee,
            hips_z + 0.03 + 0.7 * ee, hips_z + 0.08 + 0.3 * ee, hips_z + 0.12,
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
            20.0, 18.0, 15.0, 13.0, 16.0, 14.0 - 40.0 * ee, 12.0 - 70.0 * ee, 9.0 - 60.0 * ee, 4.0,
            -3.0, -5.0,
        ]),
        pelvis_tilt: channel([
            0.0, 1.0, 2.5, 3.5, 1.5, 2.5, 4.0, 6.0, 7.0, 3.0, 1.0,
        ]),
        neck_target: channel([
            neck_x, neck_x + 0.4 * sway_top, neck_x + 0.8 * sway_top, neck_x + sway_top,
            neck_x + 0.4 * sway_top + 0.4 * sway_impact + 0.2 * shift[2],
            neck_x + 0.15 * sway_top + 0.8 * sway_impact + 0.12 * shift[2], neck_x + sway_impact,
            neck_x + sway_impact - 0.004, neck_x + 0.02, neck_x + 0.10, 0.13 * end,
        ]),
        neck_ball: channel([
            neck_z, neck_z, neck_z - 0.002, neck_z - 0.006, neck_z - 0.004 + 0.010 * over,
            neck_z - 0.002 + 0.010 * over, neck_z - 0.002 - 0.3 * ee, neck_z - 0.03, neck_z - 0.08,
            hips_z + 0.20, hips_z + 0.13,
        ]),
        chest_turn: channel([
            open, 0.32 * chest_top, 0.70 * chest_top, chest_top, chest_down,
            0.42 * chest_down + 0.58 * chest_impact + 6.0, chest_impact, chest_impact - 20.0,
            chest_impact - 46.0, -108.0 + 25.0 * short, -122.0 + 30.0 * short,
        ]),
        arm: channel([
            8.0, 44.0, 90.0, m.arm_top_deg, 90.0, 46.0, 0.0, -38.0, -92.0, -128.0 + 25.0 * short,
            -138.0 + 30.0 * short,
        ]),
        arm_plane: channel([
            90.0 - u.arm_hang_deg, 75.0, 64.0, m.arm_plane_top_deg, 58.0, 66.0 - 6.0 * over, 70.0,
            66.0, 60.0, 57.0, 56.0,
        ]),
        arm_out: channel([
            0.0, 0.0, -3.0, 6.0 * over, arm_down_out, 0.6 * arm_down_out, 0.0, 0.0, 0.0, 0.0, 0.0,
        ]),
        arm_length: channel([
            m.lead_arm_straight_address, arm_back, arm_back, m.lead_arm_straight,
            0.5 * m.lead_arm_straight + 0.5 * (arm_impact - 0.004), arm_impact - 0.003,
            arm_impact, arm_impact, 0.94, 0.66, 0.56,
        ]),
        club: channel([
            3.0, 88.0, 172.0, 180.0 + m.club_top_deg, 200.0 - m.cast_deg, 104.0 - 0.5 * m.cast_deg,
            m.shaft_lean_impact_deg, -72.0, -158.0, -285.0 + 50.0 * short, -315.0 + 70.0 * short,
        ]),
        club_plane: channel([
            57.0, 56.0, 60.0, 58.0, 57.0 + 7.0 * over, 56.0 + 3.0 * over, 58.0, 56.0, 56.0, 42.0,
            26.0,
        ]),
        heel: [
            channel([
                0.0, 0.0, 0.3 * m.lead_heel_lift_deg, m.lead_heel_lift_deg, 0.0, 0.0, 0.0, 0.0,
                0.0, 0.0, 0.0,
            ]),
            channel([
                0.0, 0.0, 0.0, 0.0, 1.0, 5.0, 12.0, 22.0, 42.0, 66.0, 74.0,
            ]),
        ],
        trail_foot: channel([
            0.0, 0.0, 0.0, 0.0, 0.0, 1.0, 5.0, 12.0, 30.0, 55.0, 64.0,
        ]),
        knee_out: [
            channel([
                0.0, -2.0, -4.0, -6.0, 0.0, 3.0, 4.0, 4.0, 4.0, 4.0, 4.0,
            ]),
            channel([
                0.0, 0.0, 0.0, 0.0, 0.0, 4.0, 10.0, 14.0, 10.0, 0.0, 0.0,
            ]),
        ],
        girdle: [
            channel([
                0.30, 0.30, 0.30, 0.30, 0.32, 0.42, 0.58, 0.5, 0.3, 0.2, 0.2,
            ]),
            channel([
                0.62, 0.5, 0.2, 0.0, 0.08, 0.15, 0.22, 0.4, 0.5, 0.4, 0.4,
            ]),
        ],
        trail_elbow: channel([
            0.0, 0.0, 0.4 * fly, fly, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0,
        ]),
        look: channel([
            0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.06, 0.35, 0.95, 1.0,
        ]),
    }
}
