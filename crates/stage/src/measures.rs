//! The measures of a swing from true joint centres, by their definitions.
//!
//! Axes as in [`crate::pose`]: x toward the target, y up, z toward the ball.

use crate::pose::Pose;

/// Mid-point of the hip joint centres against address, m, plus toward the target.
pub fn pelvis_shift_m(pose: &Pose, address: &Pose) -> f64 {
    let middle = |p: &Pose| 0.5 * (p.hip[0].x + p.hip[1].x);
    middle(pose) - middle(address)
}

/// Line from the trail knee to the lead knee seen from above against address, radians, plus when
/// more open to the target than at address (the lead knee farther from the ball).
pub fn knee_line_turn_rad(pose: &Pose, address: &Pose) -> f64 {
    let heading = |p: &Pose| {
        let line = p.knee[0] - p.knee[1];
        (-line.z).atan2(line.x)
    };
    heading(pose) - heading(address)
}

/// Level distance along the axis from player to ball from the line through the trail shoulder and
/// the trail hip joint centres, taken at the trail elbow's height, to the trail elbow, m, plus
/// toward the ball: what is seen exactly down the line.
pub fn trail_elbow_ahead_m(pose: &Pose) -> f64 {
    let (shoulder, hip, elbow) = (pose.shoulder[1], pose.hip[1], pose.elbow[1]);
    let share = (elbow.y - hip.y) / (shoulder.y - hip.y);
    elbow.z - (hip.z + share * (shoulder.z - hip.z))
}
