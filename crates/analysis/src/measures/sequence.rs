//! When pelvis, chest, lead arm and hands move fastest between top and impact, s before impact. See
//! `docs/measures/peak_order.md`.
//!
//! Speeds are differences over 1/30 s, two instants of the fit. Speed that still grows at impact peaks
//! there: 0. A speed counts that lasts: a point which the networks lose jumps there and back. A curve that is nearly as fast at two
//! times far from each other has no peak to tell. Of 100 tuning swings' hands 7 were off by more than 80 ms without, none of the 93
//! that are told now.

use super::Withheld;
use super::of_body::Swing;
use glam::DVec3;
use lessonwright_body::measures::{chest_turn_rad, pelvis_turn_rad};
use lessonwright_body::{Point, Pose};
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
    let count = ((impact_s - top_s) / STEP_S).max(0.0) as usize;
    let speeds: Vec<f64> = (0..=count)
        .map(|i| impact_s - i as f64 * STEP_S)
        .map(|t| match (pose(t - HALF_S), pose(t + HALF_S)) {
            (Some(before), Some(after)) => way(&before, &after).abs(),
            _ => f64::NEG_INFINITY,
        })
        .collect();
    let withheld = |why: &str| Withheld::Here(why.into());
    if speeds.iter().all(|speed| speed.is_infinite()) {
        return Err(withheld("the film does not show the body long enough"));
    }
    let steps = steps_before_impact(&speeds)
        .ok_or_else(|| withheld("it is about as fast at times too far from each other"))?;
    Ok(steps as f64 * STEP_S)
}

/// Place of the peak among speeds that go back from impact.
fn steps_before_impact(speeds: &[f64]) -> Option<usize> {
    let last = speeds.len() - 1;
    let around = |i: usize| i.saturating_sub(LASTS)..=(i + LASTS).min(last);
    let lasting: Vec<f64> = (0..=last)
        .map(|i| around(i).map(|k| speeds[k]).fold(f64::INFINITY, f64::min))
        .collect();
    let most = lasting.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let fast = |v: &f64| *v >= NEARLY * most;
    let (first, end) = (
        lasting.iter().position(fast)?,
        lasting.iter().rposition(fast)?,
    );
    if (end - first) as f64 * STEP_S > CLEAR_S {
        return None;
    }
    let best = lasting.iter().position(|v| *v >= most)?;
    around(best).max_by(|a, b| speeds[*a].total_cmp(&speeds[*b]))
}

/// Half of the stretch over which a speed is taken, s: an instant of the fit either way.
const HALF_S: f64 = 1.0 / 60.0;
/// Finer than the fit's own instants, s.
const STEP_S: f64 = 0.005;
/// Steps either way for which a speed lasts: 20 ms.
const LASTS: usize = 4;
/// Share of the most that is as fast, and the longest stretch from the first such instant to the last, s.
const NEARLY: f64 = 0.8;
const CLEAR_S: f64 = 0.09;

#[cfg(test)]
mod tests {
    use super::*;

    fn hump(at: f64, wide: f64, high: f64) -> impl Fn(usize) -> f64 {
        move |i| high * (-((i as f64 - at) / wide).powi(2)).exp()
    }

    #[test]
    fn a_peak_is_found_where_it_is_and_at_impact() {
        for at in [0.0, 1.0, 12.0, 30.0] {
            let speeds: Vec<f64> = (0..60).map(hump(at, 10.0, 1.0)).collect();
            assert_eq!(steps_before_impact(&speeds), Some(at as usize));
        }
    }

    #[test]
    fn a_jump_is_no_peak() {
        let (swing, jump) = (hump(6.0, 14.0, 1.0), hump(50.0, 2.0, 3.0));
        let speeds: Vec<f64> = (0..60).map(|i| swing(i) + jump(i)).collect();
        assert_eq!(steps_before_impact(&speeds), Some(6));
    }

    #[test]
    fn two_peaks_are_none() {
        let (early, late) = (hump(50.0, 10.0, 1.0), hump(6.0, 10.0, 0.9));
        let speeds: Vec<f64> = (0..60).map(|i| early(i) + late(i)).collect();
        assert_eq!(steps_before_impact(&speeds), None);
    }
}
