//! Two views of one motion put on one clock, or kept apart when they are not one motion.
//!
//! The clips are laid over one another by the strike, where both heard it, else by the height of
//! the hands over time, which both views see alike. Each moment is then the mean of what the two
//! views say, weighted by how well each shows it, and carried into both.

use crate::moments::{SEARCH_STEP_S, Timed, search_times};
use crate::view::SwingView;
use lessonwright_math::fit_line;
use lessonwright_math::zero::peak;
use lessonwright_model::{CorrectionError, MomentName};

/// Stretch around impact over which the hands' heights are compared, s. It ends early: after impact
/// the hands are often hidden in one of the views.
const COMPARE_FROM_S: f64 = -1.1;
const COMPARE_TO_S: f64 = 0.05;
/// How far the lay may be off impact as timed in each view, s.
const LAG_SEARCH_S: f64 = 0.15;
/// Step of that search, s, and the accuracy (sd) with which heights lay clips over one another:
/// the views see the hands at different depths, which bends the curves a little.
const LAG_STEP_S: f64 = 0.004;
const LAG_SD_S: f64 = 0.006;
/// How far and how finely the pace is varied.
const PACE_SEARCH: f64 = 0.2;
const PACE_STEP: f64 = 0.01;
/// Curves of one motion agree to this, body heights (6 cm): perspective accounts for 4.
const SAME_MOTION: f64 = 0.045;

/// One motion runs at one pace: played at any other, the curves agree less. Perspective alone moves the
/// best pace by up to 5 % (exact points of 40 rendered swings); swings of one player that differ
/// by less are not told apart.
const SAME_PACE: f64 = 0.06;

/// How the clips relate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Together {
    /// One clip.
    Single,
    /// Two views of one motion, on one clock.
    OneMotion,
    /// Two clips of different motions.
    Apart,
}

/// Compares two views and shares their moments.
///
/// # Errors
/// If a moment set by hand in one view does not fit between the other's.
pub fn combine(views: &mut [SwingView]) -> Result<Together, CorrectionError> {
    let [first, second] = views else {
        return Ok(Together::Single);
    };
    let Some(lay) = lay_over(first, second) else {
        let why = "the two clips can't be laid over one another; each is measured by itself";
        warn(views, why);
        return Ok(Together::Apart);
    };
    if lay.misfit > SAME_MOTION || (lay.pace - 1.0).abs() > SAME_PACE {
        warn(
            views,
            "the two clips show different swings (the hands' heights do not agree over time); each is measured by itself",
        );
        return Ok(Together::Apart);
    }
    share_moments(first, second, &lay);
    first.check_order()?;
    second.check_order()?;
    Ok(Together::OneMotion)
}

fn warn(views: &mut [SwingView], text: &str) {
    for view in views {
        view.report.warnings.push(text.into());
    }
}

/// How the second clip lies on the first.
#[derive(Clone, Copy, Debug)]
struct Lay {
    /// Times of the second clip less those of the first.
    lag_s: f64,
    lag_sd_s: f64,
    /// How far the heights are then apart.
    misfit: f64,
    /// Played at this pace from impact on, the second agrees best.
    pace: f64,
}

fn lay_over(first: &SwingView, second: &SwingView) -> Option<Lay> {
    let a = first.moments.get(&MomentName::Impact)?;
    let b = second.moments.get(&MomentName::Impact)?;
    let by_impact = b.time_s - a.time_s;
    let misfit = |lag_s: f64, pace: f64| misfit(first, second, a.time_s, lag_s, pace);
    let agree = |lag_s: f64, pace: f64| misfit(lag_s, pace).map_or(f64::NEG_INFINITY, |m| -m);
    let (lag_s, lag_sd_s) = if first.impact_certain && second.impact_certain {
        (by_impact, a.sd_s.hypot(b.sd_s))
    } else {
        let (from, to) = (by_impact - LAG_SEARCH_S, by_impact + LAG_SEARCH_S);
        (peak(|lag| agree(lag, 1.0), from, to, LAG_STEP_S), LAG_SD_S)
    };
    Some(Lay {
        lag_s,
        lag_sd_s,
        misfit: misfit(lag_s, 1.0)?,
        pace: peak(
            |pace| agree(lag_s, pace),
            1.0 - PACE_SEARCH,
            1.0 + PACE_SEARCH,
            PACE_STEP,
        ),
    })
}

/// Root-mean-square difference of the hands' heights after the best stretch and shift of one onto
/// the other (perspective and camera height do both), body heights; the second clip is read `lag_s`
/// later and at `pace` around impact.
fn misfit(
    first: &SwingView,
    second: &SwingView,
    impact_s: f64,
    lag_s: f64,
    pace: f64,
) -> Option<f64> {
    let pairs: Vec<(f64, f64, f64)> =
        search_times(impact_s + COMPARE_FROM_S, impact_s + COMPARE_TO_S)
            .filter_map(|t| {
                let (a, b) = (
                    first.hands.height(t)?,
                    second
                        .hands
                        .height(impact_s + pace * (t - impact_s) + lag_s)?,
                );
                Some((a, b, 1.0))
            })
            .collect();
    // At least half of the stretch must be seen in both.
    if (pairs.len() as f64) * SEARCH_STEP_S < 0.5 * (COMPARE_TO_S - COMPARE_FROM_S) {
        return None;
    }
    fit_line(&pairs).map(|line| line.residual)
}

fn share_moments(first: &mut SwingView, second: &mut SwingView, lay: &Lay) {
    for name in MomentName::ALL {
        let in_first = first.moments.get(&name).copied();
        let in_second = second.moments.get(&name).map(|m| Timed {
            time_s: m.time_s - lay.lag_s,
            sd_s: m.sd_s,
        });
        let mean = match [&*first, &*second].map(|view| view.by_hand.contains(&name)) {
            // Each stays where it was set.
            [true, true] => continue,
            [true, false] => in_first.map(|set| (set, 1.0)),
            [false, true] => in_second.map(|set| (set, 0.0)),
            [false, false] => weighted_mean(in_first, in_second, lay.lag_sd_s),
        };
        let Some((best, weight)) = mean else {
            continue;
        };
        if first.by_hand.contains(&name) || second.by_hand.contains(&name) {
            first.by_hand.insert(name);
            second.by_hand.insert(name);
        }
        // Carried into the other clip, the lay's own error comes on top, less where the other
        // clip's own reading had the greater weight.
        let with_lay = |own_weight: f64| best.sd_s.hypot((1.0 - own_weight) * lay.lag_sd_s);
        first.moments.insert(
            name,
            Timed {
                time_s: best.time_s,
                sd_s: with_lay(weight),
            },
        );
        second.moments.insert(
            name,
            Timed {
                time_s: best.time_s + lay.lag_s,
                sd_s: with_lay(1.0 - weight),
            },
        );
    }
    let certain = first.impact_certain || second.impact_certain;
    first.impact_certain = certain;
    second.impact_certain = certain;
}

/// The mean, and the share that the first has in it. Of two that disagree by more than their errors
/// and the lay's allow, one is wrong and nobody knows which: the error is then widened by as much
/// (Birge's ratio, as in the averages of the *Review of Particle Physics*, introduction).
fn weighted_mean(a: Option<Timed>, b: Option<Timed>, lag_sd_s: f64) -> Option<(Timed, f64)> {
    match (a, b) {
        (Some(a), Some(b)) => {
            let (wa, wb) = (a.sd_s.powi(-2), b.sd_s.powi(-2));
            let apart = (a.time_s - b.time_s).abs() / a.sd_s.hypot(b.sd_s).hypot(lag_sd_s);
            let mean = Timed {
                time_s: (wa * a.time_s + wb * b.time_s) / (wa + wb),
                sd_s: (wa + wb).sqrt().recip() * apart.max(1.0),
            };
            Some((mean, wa / (wa + wb)))
        }
        (a, b) => Some((a.or(b)?, if a.is_some() { 1.0 } else { 0.0 })),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_times_that_disagree_are_believed_less() {
        let at = |time_s: f64| {
            Some(Timed {
                time_s,
                sd_s: 0.010,
            })
        };
        let mean = |a, b, lag_sd_s| weighted_mean(a, b, lag_sd_s).expect("a time");
        let (agreed, weight) = mean(at(1.000), at(1.002), 0.0);
        assert!((agreed.time_s - 1.001).abs() < 1e-12 && (weight - 0.5).abs() < 1e-12);
        assert!((agreed.sd_s - 0.010 / 2f64.sqrt()).abs() < 1e-12);
        // Three times as far apart as their errors allow: three times the error.
        let far = at(1.000 + 0.03 * 2f64.sqrt());
        let (split, weight) = mean(at(1.000), far, 0.0);
        assert!((split.sd_s - 3.0 * agreed.sd_s).abs() < 1e-12 && (weight - 0.5).abs() < 1e-12);
        // A doubtful lay explains a part of the difference.
        assert!(mean(at(1.000), far, 0.010).0.sd_s < split.sd_s);
        assert_eq!(
            weighted_mean(None, at(1.0), 0.0),
            Some((at(1.0).expect("a time"), 0.0))
        );
        assert_eq!(weighted_mean(None, None, 0.0), None);
    }
}
