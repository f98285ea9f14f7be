//! The measures of a swing from true joint centres, by their definitions.
//!
//! Axes as in [`crate::pose`]: x toward the target, y up, z toward the ball. Angles in radians. Written
//! by itself, from the definitions: what it tests computes them in its own way.

use crate::moments::{MomentName, moments, zero_between};
use crate::motion::Movement;
use crate::pose::Pose;
use crate::truth::{MeasureTruth, nose};
use glam::{DVec2, DVec3};

/// Seen along the ball's axis, the shaft from upright; plus with the hands nearer the target than the head.
fn shaft_lean(p: &Pose) -> f64 {
    (-p.club.shaft.x).atan2(-p.club.shaft.y)
}

/// Seen along the target line, the shaft's line from level on the ball's side.
fn shaft_slope(p: &Pose) -> f64 {
    let down = if p.club.shaft.y < 0.0 {
        p.club.shaft
    } else {
        -p.club.shaft
    };
    (-down.y).atan2(down.z)
}

/// Seen along the ball's axis, the angle between the lead forearm and the shaft.
fn wrist_set(p: &Pose) -> f64 {
    let across = |v: DVec3| DVec2::new(v.x, v.y);
    across(p.wrist[0] - p.elbow[0])
        .angle_to(across(p.club.shaft))
        .abs()
}

/// Every measure of a swing.
pub fn all(motion: &dyn Movement) -> Vec<MeasureTruth> {
    let times = moments(motion);
    let time = |name: MomentName| times[name as usize].1;
    let pose = |name: MomentName| motion.pose(time(name));
    let mut all = Vec::new();
    for (name, unit, value) in AT_A_MOMENT {
        for moment in MomentName::ALL {
            let here = value(&pose(moment)) * unit.factor();
            all.push(truth(name, moment, None, here, unit));
            for against in [
                MomentName::Address,
                MomentName::LeadArmLevelBack,
                MomentName::Top,
            ] {
                if against < moment {
                    let change = unit.wrapped(here - value(&pose(against)) * unit.factor());
                    all.push(truth(name, moment, Some(against), change, unit));
                }
            }
        }
    }
    let over = hands_over_way_back_m(motion, time(MomentName::LeadArmLevelDown));
    let down = MomentName::LeadArmLevelDown;
    all.push(truth(
        "hands_over_way_back",
        down,
        None,
        over * 100.0,
        Unit::Cm,
    ));
    let [back, down] = [MomentName::LeadArmLevelBack, MomentName::LeadArmLevelDown]
        .map(|moment| shaft_slope(&pose(moment)).to_degrees());
    all.push(truth(
        "shaft_steepening",
        MomentName::LeadArmLevelDown,
        None,
        down - back,
        Unit::Deg,
    ));
    all.extend(timings(motion));
    all
}

/// Unit at the edge.
#[derive(Clone, Copy, PartialEq)]
enum Unit {
    Cm,
    Deg,
    Percent,
    Second,
    One,
}

impl Unit {
    fn factor(self) -> f64 {
        match self {
            Unit::Cm | Unit::Percent => 100.0,
            Unit::Deg => 1f64.to_degrees(),
            Unit::Second | Unit::One => 1.0,
        }
    }

    fn wrapped(self, value: f64) -> f64 {
        match self {
            Unit::Deg => (value + 180.0).rem_euclid(360.0) - 180.0,
            _ => value,
        }
    }

    fn key(self) -> &'static str {
        match self {
            Unit::Cm => "cm",
            Unit::Deg => "deg",
            Unit::Percent => "%",
            Unit::Second => "s",
            Unit::One => "1",
        }
    }
}

fn truth(
    name: &str,
    moment: MomentName,
    against: Option<MomentName>,
    value: f64,
    unit: Unit,
) -> MeasureTruth {
    MeasureTruth {
        name: name.to_owned(),
        moment,
        against,
        value,
        unit: unit.key().to_owned(),
    }
}

type OfPose = fn(&Pose) -> f64;

/// What is read from one pose: metres, radians or shares. Places are against the world's origin.
const AT_A_MOMENT: [(&str, Unit, OfPose); 24] = [
    ("shaft_lean", Unit::Deg, shaft_lean),
    ("shaft_slope", Unit::Deg, shaft_slope),
    ("wrist_set", Unit::Deg, wrist_set),
    ("pelvis_shift", Unit::Cm, |p| middle(&p.hip).x),
    ("pelvis_toward_ball", Unit::Cm, |p| middle(&p.hip).z),
    ("pelvis_turn", Unit::Deg, |p| open(&p.hip)),
    ("pelvis_side_bend", Unit::Deg, |p| lead_up(&p.hip)),
    ("chest_turn", Unit::Deg, |p| open(&p.shoulder)),
    ("chest_side_bend", Unit::Deg, |p| lead_up(&p.shoulder)),
    ("chest_forward_bend", Unit::Deg, forward_bend),
    ("head_shift", Unit::Cm, |p| nose(p).x),
    ("head_rise", Unit::Cm, |p| nose(p).y),
    ("head_toward_ball", Unit::Cm, |p| nose(p).z),
    ("lead_elbow_flexion", Unit::Deg, |p| p.elbow_flexion(0)),
    ("trail_elbow_flexion", Unit::Deg, |p| p.elbow_flexion(1)),
    ("trail_elbow_ahead", Unit::Cm, trail_elbow_ahead_m),
    ("hand_depth", Unit::Cm, |p| p.hands().z),
    ("hand_height", Unit::Cm, |p| p.hands().y),
    ("knee_line_turn", Unit::Deg, |p| open(&p.knee)),
    ("lead_knee_flexion", Unit::Deg, |p| p.knee_flexion(0)),
    ("trail_knee_flexion", Unit::Deg, |p| p.knee_flexion(1)),
    ("trail_knee_toward_ball", Unit::Cm, |p| p.knee[1].z),
    ("stance_width", Unit::Cm, |p| from_above(&p.ankle).length()),
    ("mass_over_feet", Unit::Percent, mass_over_feet),
];

/// Mid-point of the hip joint centres against address, m, plus toward the target.
pub fn pelvis_shift_m(pose: &Pose, address: &Pose) -> f64 {
    middle(&pose.hip).x - middle(&address.hip).x
}

/// Line from the trail knee to the lead knee seen from above against address, radians, plus when
/// more open to the target than at address (the lead knee farther from the ball).
pub fn knee_line_turn_rad(pose: &Pose, address: &Pose) -> f64 {
    open(&pose.knee) - open(&address.knee)
}

/// Level distance along the axis from player to ball from the line through the trail shoulder and
/// the trail hip joint centres, taken at the trail elbow's height, to the trail elbow, m, plus
/// toward the ball: what is seen exactly down the line.
pub fn trail_elbow_ahead_m(pose: &Pose) -> f64 {
    let (shoulder, hip, elbow) = (pose.shoulder[1], pose.hip[1], pose.elbow[1]);
    let share = (elbow.y - hip.y) / (shoulder.y - hip.y);
    elbow.z - (hip.z + share * (shoulder.z - hip.z))
}

fn middle(pair: &[DVec3; 2]) -> DVec3 {
    0.5 * (pair[0] + pair[1])
}

/// From trail to lead as a map shows it: toward the target, away from the ball.
fn from_above(pair: &[DVec3; 2]) -> DVec2 {
    let line = pair[0] - pair[1];
    DVec2::new(line.x, -line.z)
}

/// Heading of a line seen from above, plus open: the lead end farther from the ball.
fn open(pair: &[DVec3; 2]) -> f64 {
    from_above(pair).to_angle()
}

/// Angle of a line to the ground, plus with the lead end higher.
fn lead_up(pair: &[DVec3; 2]) -> f64 {
    ((pair[0].y - pair[1].y) / pair[0].distance(pair[1])).asin()
}

/// Lean of the line from mid-hip to mid-shoulder in the upright plane square to the shoulders' heading.
fn forward_bend(pose: &Pose) -> f64 {
    let heading = from_above(&pose.shoulder).normalize();
    // square to it, on the ball's side: (x, −z) of the map turned a quarter clockwise
    let ahead = DVec3::new(heading.y, 0.0, heading.x);
    let trunk = middle(&pose.shoulder) - middle(&pose.hip);
    (trunk.dot(ahead) / trunk.y).atan()
}

/// Over the ground, how far along the line from the trail ankle to the lead the body's mass balances:
/// segments of de Leva (1996), table 4, each the mean of women and men, at the stage's own landmarks.
fn mass_over_feet(pose: &Pose) -> f64 {
    let mut mass = 0.0681;
    let mut moment = mass * pose.head;
    let mut add = |share: f64, place: DVec3| {
        mass += share;
        moment += share * place;
    };
    add(0.43015, pose.neck.lerp(middle(&pose.hip), 0.43185));
    for i in 0..2 {
        let foot = |z: f64| pose.ankle[i] + pose.foot_frame[i] * DVec3::new(0.0, -0.06, z);
        add(0.0263, pose.shoulder[i].lerp(pose.elbow[i], 0.57630));
        add(0.0150, pose.elbow[i].lerp(pose.wrist[i], 0.45665));
        add(0.00585, pose.wrist[i].lerp(pose.grip[i], 0.8));
        add(0.1447, pose.hip[i].lerp(pose.knee[i], 0.38535));
        add(0.0457, pose.knee[i].lerp(pose.ankle[i], 0.44375));
        add(0.0133, foot(-0.055).lerp(foot(0.19), 0.42145));
    }
    let balance = moment / mass;
    let line = pose.ankle[0] - pose.ankle[1];
    let (line, there) = (
        DVec2::new(line.x, line.z),
        DVec2::new(balance.x - pose.ankle[1].x, balance.z - pose.ankle[1].z),
    );
    there.dot(line) / line.length_squared()
}

/// How far the hands at a time on the way down are from where they were at the same height on the
/// way back, m, plus toward the ball.
fn hands_over_way_back_m(motion: &dyn Movement, down_s: f64) -> f64 {
    let times = moments(motion);
    let now = motion.pose(down_s).hands();
    let top_s = times[MomentName::Top as usize].1;
    let back_s = zero_between(|t| motion.pose(t).hands().y - now.y, 0.0, top_s);
    now.z - motion.pose(back_s).hands().z
}

/// Durations, and when parts move fastest between top and impact, s before impact.
fn timings(motion: &dyn Movement) -> Vec<MeasureTruth> {
    use MomentName::{Address, Impact, Top};
    let times = moments(motion);
    let time = |name: MomentName| times[name as usize].1;
    let (back, down) = (time(Top) - time(Address), time(Impact) - time(Top));
    let pelvis = fastest(motion, &|p| DVec3::X * open(&p.hip));
    let chest = fastest(motion, &|p| DVec3::X * open(&p.shoulder));
    let arm = fastest(motion, &|p| (p.wrist[0] - p.shoulder[0]).normalize());
    let hands = fastest(motion, &Pose::hands);
    let second = |name, moment, against, value| truth(name, moment, against, value, Unit::Second);
    vec![
        second("backswing_time", Top, Some(Address), back),
        second("downswing_time", Impact, Some(Top), down),
        truth("tempo_ratio", Impact, Some(Address), back / down, Unit::One),
        second("pelvis_peak", Impact, None, pelvis),
        second("chest_peak", Impact, None, chest),
        second("lead_arm_peak", Impact, None, arm),
        second("hands_peak", Impact, None, hands),
        second("chest_after_pelvis", Impact, None, pelvis - chest),
        second("lead_arm_after_chest", Impact, None, chest - arm),
    ]
}

/// When something of the pose changes fastest between top and impact, s before impact.
fn fastest(motion: &dyn Movement, of: &dyn Fn(&Pose) -> DVec3) -> f64 {
    const STEP_S: f64 = 1e-3;
    let times = moments(motion);
    let (top_s, impact_s) = (
        times[MomentName::Top as usize].1,
        times[MomentName::Impact as usize].1,
    );
    let place = |t: f64| of(&motion.pose(t));
    let speed = |t: f64| place(t + 0.5 * STEP_S).distance(place(t - 0.5 * STEP_S));
    let steps = ((impact_s - top_s) / STEP_S) as usize;
    let best = (0..=steps)
        .map(|i| i as f64 * STEP_S)
        .max_by(|a, b| speed(impact_s - a).total_cmp(&speed(impact_s - b)));
    best.unwrap_or(0.0)
}
