//! When the moments of a swing happen, found by bisection on the true motion.
//!
//! Definitions. Address: the last instant of stillness before the takeaway. Lead arm level: the
//! lead wrist centre as high as the lead shoulder joint centre, in the world. Shaft level: the shaft
//! parallel to the ground, first after the takeaway and last before impact. Top: the hands (the
//! mid-point of the wrists) reverse: they are farthest along their way back, whose direction is how they come
//! in less how they leave, a tenth of a second either way. Impact: the middle of the face
//! touches the ball. Finish: the shoulder joint centres arrive within 2 % of the stature
//! (root-mean-square of both) of where they come to rest.

use crate::motion::Movement;
use crate::skeleton::REFERENCE_STATURE_M;
use serde::{Deserialize, Serialize};

/// The instants that decide the strike.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MomentName {
    /// Last instant of stillness before the takeaway.
    Address,
    /// Shaft level on the way back.
    ShaftLevelBack,
    /// Lead arm level on the way back.
    LeadArmLevelBack,
    /// The hands reverse.
    Top,
    /// Lead arm level on the way down.
    LeadArmLevelDown,
    /// Shaft level on the way down.
    ShaftLevelDown,
    /// Club meets ball.
    Impact,
    /// At rest after the strike.
    Finish,
}

impl MomentName {
    /// All, in the order of the swing.
    pub const ALL: [MomentName; 8] = [
        MomentName::Address,
        MomentName::ShaftLevelBack,
        MomentName::LeadArmLevelBack,
        MomentName::Top,
        MomentName::LeadArmLevelDown,
        MomentName::ShaftLevelDown,
        MomentName::Impact,
        MomentName::Finish,
    ];

    /// As written in JSON and on the command line.
    pub fn key(self) -> &'static str {
        match self {
            MomentName::Address => "address",
            MomentName::ShaftLevelBack => "shaft_level_back",
            MomentName::LeadArmLevelBack => "lead_arm_level_back",
            MomentName::Top => "top",
            MomentName::LeadArmLevelDown => "lead_arm_level_down",
            MomentName::ShaftLevelDown => "shaft_level_down",
            MomentName::Impact => "impact",
            MomentName::Finish => "finish",
        }
    }
}

/// Times of all moments, s from the first movement, in the order of [`MomentName::ALL`].
pub fn moments(motion: &dyn Movement) -> [(MomentName, f64); 8] {
    let keys = motion.key_times();
    let arm = |t: f64| {
        let pose = motion.pose(t);
        pose.wrist[0].y - pose.shoulder[0].y
    };
    let level_back = zero_between(arm, 0.5 * keys.shaft_level_back, keys.before_top);
    let level_down = zero_between(arm, keys.top, keys.shaft_level_down);
    [
        (MomentName::Address, 0.0),
        (MomentName::ShaftLevelBack, shaft_level_back(motion)),
        (MomentName::LeadArmLevelBack, level_back),
        (MomentName::Top, hands_reverse(motion)),
        (MomentName::LeadArmLevelDown, level_down),
        (MomentName::ShaftLevelDown, shaft_level_down(motion)),
        (MomentName::Impact, keys.impact),
        (MomentName::Finish, shoulders_arrive(motion)),
    ]
}

/// Step in which a level shaft is looked for, s.
const SHAFT_STEP_S: f64 = 2e-3;

/// The first instant after the takeaway at which the shaft points up.
fn shaft_level_back(motion: &dyn Movement) -> f64 {
    let drop = |t: f64| -motion.pose(t).club.shaft.y;
    let mut t = 0.0;
    while t < motion.key_times().top && drop(t + SHAFT_STEP_S) > 0.0 {
        t += SHAFT_STEP_S;
    }
    zero_between(drop, t, t + SHAFT_STEP_S)
}

/// The last instant before impact at which it still points up.
fn shaft_level_down(motion: &dyn Movement) -> f64 {
    let drop = |t: f64| -motion.pose(t).club.shaft.y;
    let mut t = motion.key_times().impact;
    while t > motion.key_times().top && drop(t - SHAFT_STEP_S) > 0.0 {
        t -= SHAFT_STEP_S;
    }
    zero_between(drop, t - SHAFT_STEP_S, t)
}

/// The last instant at which the shoulders are not yet near their place at the end of the motion.
fn shoulders_arrive(motion: &dyn Movement) -> f64 {
    const NEAR: f64 = 0.02;
    const STEP_S: f64 = 1e-3;
    let keys = motion.key_times();
    let rest = motion.pose(keys.finish).shoulder;
    let too_far = |t: f64| {
        let shoulder = motion.pose(t).shoulder;
        let squares = [0, 1].map(|i| shoulder[i].distance_squared(rest[i]));
        (0.5 * (squares[0] + squares[1])).sqrt()
            - NEAR * REFERENCE_STATURE_M * motion.skeleton().scale
    };
    let mut t = keys.finish;
    while t > keys.impact && too_far(t - STEP_S) < 0.0 {
        t -= STEP_S;
    }
    zero_between(too_far, t - STEP_S, t)
}

/// The instant near the top of the arm swing when the hands are farthest along their way back.
fn hands_reverse(motion: &dyn Movement) -> f64 {
    // Long enough for a clear direction, short against a way down.
    const LOOK_S: f64 = 0.10;
    const PROBE_S: f64 = 1e-4;
    let keys = motion.key_times();
    let hands = |t: f64| motion.pose(t).hands();
    let mut top = keys.top;
    // The way is taken at the first answer again.
    for _ in 0..2 {
        // How they come in, less how they leave.
        let way = 2.0 * hands(top) - hands(top - LOOK_S) - hands(top + LOOK_S);
        let speed = |t: f64| (hands(t + PROBE_S) - hands(t - PROBE_S)).dot(way);
        top = zero_between(speed, top - LOOK_S, 0.5 * (top + keys.arm_level_down));
    }
    top
}

/// Where a function that changes sign between two times is zero, to under a nanosecond.
pub(crate) fn zero_between(f: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> f64 {
    let sign = f(low) > 0.0;
    while high - low > 1e-10 {
        let middle = 0.5 * (low + high);
        if (f(middle) > 0.0) == sign {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}
