//! Hands against their way back: how far the hands, coming down, are from where they passed the same
//! height going back, m, plus toward the ball (over). See `docs/measures/hands_coming_down.md`.

use super::Withheld;
use super::of_body::Swing;
use lessonwright_body::measures::{hand_depth_m, hand_height_m};
use lessonwright_math::zero::crossings;
use lessonwright_model::MomentName;

/// At lead arm level on the way down.
pub(super) fn over_way_back_m(swing: &Swing<'_>) -> Result<f64, Withheld> {
    let down_s = swing.moment(MomentName::LeadArmLevelDown)?.time_s;
    let (from_s, top_s) = (
        swing.moment(MomentName::Address)?.time_s,
        swing.moment(MomentName::Top)?.time_s,
    );
    let now = swing.pose(down_s)?;
    let above = |t: f64| {
        swing
            .pose(t)
            .map_or(f64::NAN, |p| hand_height_m(&p) - hand_height_m(&now))
    };
    let back_s = crossings(above, from_s, top_s, STEP_S)
        .first()
        .copied()
        .ok_or_else(|| Withheld::Here("the hands did not pass this height going back".into()))?;
    Ok(hand_depth_m(&now) - hand_depth_m(&swing.pose(back_s)?))
}

/// Finer than the fit's own instants, s.
const STEP_S: f64 = 0.005;
