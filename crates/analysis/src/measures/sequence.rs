//! When pelvis, chest, lead arm and hands move fastest between top and impact, s before impact. See
//! `docs/measures/peak_order.md`.
//!
//! Speeds are differences over 1/30 s, two instants of the fit. Speed that still grows at impact peaks
//! there: 0.

use super::Withheld;
use super::of_body::Swing;
use glam::DVec3;
use lessonwright_body::measures::{chest_turn_rad, pelvis_turn_rad};
use lessonwright_body::{Point, Pose};
use lessonwright_math as math;
use lessonwright_math::angle::difference;
use lessonwright_model::MomentName;

pub(super) fn pelvis(swing: &Swing<'_>) -> Result<f64, Withheld> {
    peak(swing, |a, b| {
        difference(pelvis_turn_rad(b), pelvis_turn_rad(a))
    })
}

pub(super) fn chest(swing: &Swing<'_>) -> Result<f64, Withheld> {
    peak(swing, |a, b| {
        difference(chest_turn_rad(b), chest_turn_rad(a))
    })
}

pub(super) fn lead_arm(swing: &Swing<'_>) -> Result<f64, Withheld> {
    let arm = |p: &Pose| p.at(Point::LeadWrist) - p.at(Point::LeadShoulder);
    peak(swing, |a, b| arm(a).angle_between(arm(b)))
}

pub(super) fn hands(swing: &Swing<'_>) -> Result<f64, Withheld> {
    let hands = |p: &Pose| -> DVec3 { p.middle(Point::LeadWrist, Point::TrailWrist) };
    peak(swing, |a, b| hands(a).distance(hands(b)))
}

pub(super) fn chest_after_pelvis(swing: &Swing<'_>) -> Result<f64, Withheld> {
    Ok(pelvis(swing)? - chest(swing)?)
}

pub(super) fn lead_arm_after_chest(swing: &Swing<'_>) -> Result<f64, Withheld> {
    Ok(chest(swing)? - lead_arm(swing)?)
}

/// When `way` from the pose before to the pose after an instant is longest, s before impact.
fn peak(swing: &Swing<'_>, way: impl Fn(&Pose, &Pose) -> f64) -> Result<f64, Withheld> {
    let (top_s, impact_s) = (
        swing.moment(MomentName::Top)?.time_s,
        swing.moment(MomentName::Impact)?.time_s,
    );
    let pose = |t: f64| swing.body.motion.pose_at(t);
    let speed = |t: f64| match (pose(t - HALF_S), pose(t + HALF_S)) {
        (Some(before), Some(after)) => way(&before, &after).abs(),
        _ => f64::NEG_INFINITY,
    };
    Ok(impact_s - math::zero::peak(speed, top_s, impact_s, STEP_S))
}

/// Half of the stretch over which a speed is taken, s: an instant of the fit either way.
const HALF_S: f64 = 1.0 / 60.0;
/// Finer than the fit's own instants, s.
const STEP_S: f64 = 0.005;
