//! Facts of a pose, in metres and radians.
//!
//! Axes as in [the crate](crate); [`Side`] picks lead or trail. "Against address" is the
//! caller's difference of two poses' values, except where a function takes both. Turns are of lines
//! seen from above, plus open to the target, 0 where the line runs along the target; near a line
//! that points along the line of play ±π meet.
//!
//! Pelvis forward bend is not here: two hip points are a line, which has no bend about itself. It
//! needs a third point of the pelvis.

use crate::points::{Point, Pose};
use glam::DVec3;

/// A side of the body.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Toward the target.
    Lead,
    /// Away from it.
    Trail,
}

/// Mid-hip against address along the target line, m, plus toward the target.
pub fn pelvis_shift_m(pose: &Pose, address: &Pose) -> f64 {
    (pose.mid_hip() - address.mid_hip()).x
}

/// Mid-hip against address along the axis from player to ball, m, plus toward the ball (loss of
/// posture).
pub fn pelvis_toward_ball_m(pose: &Pose, address: &Pose) -> f64 {
    (pose.mid_hip() - address.mid_hip()).z
}

/// Turn of the line of the hips, radians, plus open.
pub fn pelvis_turn_rad(pose: &Pose) -> f64 {
    turn(pose.at(Point::LeadHip) - pose.at(Point::TrailHip))
}

/// Turn of the line of the shoulders, radians, plus open.
pub fn chest_turn_rad(pose: &Pose) -> f64 {
    turn(pose.at(Point::LeadShoulder) - pose.at(Point::TrailShoulder))
}

/// Turn of the line of the knees, radians, plus open.
pub fn knee_line_turn_rad(pose: &Pose) -> f64 {
    turn(pose.at(Point::LeadKnee) - pose.at(Point::TrailKnee))
}

/// Angle of the line of the hips to the ground, radians, plus when the lead hip is higher.
pub fn pelvis_side_bend_rad(pose: &Pose) -> f64 {
    rise(pose.at(Point::LeadHip) - pose.at(Point::TrailHip))
}

/// Angle of the line of the shoulders to the ground, radians, plus when the lead shoulder is higher.
pub fn chest_side_bend_rad(pose: &Pose) -> f64 {
    rise(pose.at(Point::LeadShoulder) - pose.at(Point::TrailShoulder))
}

/// Angle from upright of the line from mid-hip to mid-shoulder in the upright plane the chest
/// faces, radians, plus forward.
pub fn chest_forward_bend_rad(pose: &Pose) -> f64 {
    let across = pose.at(Point::LeadShoulder) - pose.at(Point::TrailShoulder);
    // level and square to the shoulders: toward the ball when they lie along the target
    let faces = across.cross(DVec3::Y).normalize_or_zero();
    let trunk = pose.mid_shoulder() - pose.mid_hip();
    trunk.dot(faces).atan2(trunk.y)
}

/// Bend of a knee from straight, radians.
pub fn knee_flexion_rad(pose: &Pose, side: Side) -> f64 {
    use Point::{LeadAnkle, LeadHip, LeadKnee, TrailAnkle, TrailHip, TrailKnee};
    match side {
        Side::Lead => flexion(pose, [LeadHip, LeadKnee, LeadAnkle]),
        Side::Trail => flexion(pose, [TrailHip, TrailKnee, TrailAnkle]),
    }
}

/// Bend of an elbow from straight, radians.
pub fn elbow_flexion_rad(pose: &Pose, side: Side) -> f64 {
    use Point::{LeadElbow, LeadShoulder, LeadWrist, TrailElbow, TrailShoulder, TrailWrist};
    match side {
        Side::Lead => flexion(pose, [LeadShoulder, LeadElbow, LeadWrist]),
        Side::Trail => flexion(pose, [TrailShoulder, TrailElbow, TrailWrist]),
    }
}

/// Trail knee against address along the axis from player to ball, m, plus toward the ball.
pub fn trail_knee_toward_ball_m(pose: &Pose, address: &Pose) -> f64 {
    (pose.at(Point::TrailKnee) - address.at(Point::TrailKnee)).z
}

/// Nose against address, m: x toward the target, y up, z toward the ball.
pub fn head_move_m(pose: &Pose, address: &Pose) -> DVec3 {
    pose.at(Point::Nose) - address.at(Point::Nose)
}

/// Level distance along the axis from player to ball from the line through trail shoulder and trail
/// hip, at the trail elbow's height, to the trail elbow, m, plus toward the ball (ahead): what is
/// seen down the line. `None` for a trunk so level that the line has no one place at a height.
pub fn trail_elbow_ahead_m(pose: &Pose) -> Option<f64> {
    let [shoulder, hip, elbow] =
        [Point::TrailShoulder, Point::TrailHip, Point::TrailElbow].map(|p| pose.at(p));
    // 0.12 of the body's height, as the measure in the picture has it
    const LEAST_TRUNK_M: f64 = 0.2;
    let height = shoulder.y - hip.y;
    (height > LEAST_TRUNK_M).then(|| {
        let share = (elbow.y - hip.y) / height;
        elbow.z - (hip.z + share * (shoulder.z - hip.z))
    })
}

/// Middle of the wrists over the ground, m.
pub fn hand_height_m(pose: &Pose) -> f64 {
    hands(pose).y
}

/// Middle of the wrists along the axis from player to ball, m from the ankles' line at address,
/// plus toward the ball.
pub fn hand_depth_m(pose: &Pose) -> f64 {
    hands(pose).z
}

/// Level distance between the ankles, m.
pub fn stance_width_m(pose: &Pose) -> f64 {
    let line = pose.at(Point::LeadAnkle) - pose.at(Point::TrailAnkle);
    line.x.hypot(line.z)
}

fn hands(pose: &Pose) -> DVec3 {
    pose.middle(Point::LeadWrist, Point::TrailWrist)
}

/// Heading of a line from trail to lead: atan2(−z, x).
fn turn(line: DVec3) -> f64 {
    (-line.z).atan2(line.x)
}

fn rise(line: DVec3) -> f64 {
    line.y.atan2(line.x.hypot(line.z))
}

fn flexion(pose: &Pose, [upper, middle, lower]: [Point; 3]) -> f64 {
    (pose.at(middle) - pose.at(upper)).angle_between(pose.at(lower) - pose.at(middle))
}
