//! Two views of one motion put on one clock, or kept apart when they are not one motion.
//!
//! The clips are laid over one another by the strike, where both heard it, else by the height of
//! the hands over time, which both views see alike. Each moment is then the mean of what the two
//! views say, weighted by how well each shows it, and carried into both.

use crate::moments::{SEARCH_STEP_S, Timed, search_times};
use crate::view::SwingView;
use lessonwright_math::fit_line;
use lessonwright_math::zero::peak;
use lessonwright_model::MomentName;

/// Stretch around impact over which the hands' heights are compared, s.
const COMPARE_FROM_S: f64 = -1.1;
const COMPARE_TO_S: f64 = 0.25;
/// How far the lay may be off impact as timed in each view, s.
const LAG_SEARCH_S: f64 = 0.08;
/// Step of that search, s, and the accuracy (sd) with which heights lay clips over one another:
/// the views see the hands at different depths, which bends the curves a little.
const LAG_STEP_S: f64 = 0.004;
const LAG_SD_S: f64 = 0.006;
/// Curves of one motion agree to this, body heights (6 cm): perspective accounts for 4.
const SAME_MOTION: f64 = 0.045;

/// Lengths of the same stretch may differ by this many standard deviations.
const RHYTHM_SD: f64 = 3.5;

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
pub fn combine(views: &mut [SwingView]) -> Together {
    let [first, second] = views else {
        return Together::Single;
    };
    let Some(lay) = lay_over(first, second) else {
        let why = "the two clips can't be laid over one another; each is measured by itself";
        warn(views, why);
        return Together::Apart;
    };
    if lay.misfit > SAME_MOTION || !same_rhythm(first, second) {
        warn(
            views,
            "the two clips show different swings (the hands' heights do not agree over time); each is measured by itself",
        );
        return Together::Apart;
    }
    share_moments(first, second, &lay);
    Together::OneMotion
}

/// True unless the views time the same stretches of the swing too differently.
fn same_rhythm(first: &SwingView, second: &SwingView) -> bool {
    let length = |view: &SwingView, from: MomentName| {
        let (from, to) = (
            view.moments.get(&from)?,
            view.moments.get(&MomentName::Impact)?,
        );
        Some((to.time_s - from.time_s, from.sd_s.hypot(to.sd_s)))
    };
    [MomentName::LeadArmLevelBack, MomentName::Top]
        .into_iter()
        .all(|from| {
            let (Some((a, sd_a)), Some((b, sd_b))) = (length(first, from), length(second, from))
            else {
                return true;
            };
            (a - b).abs() < RHYTHM_SD * sd_a.hypot(sd_b)
        })
}

fn warn(views: &mut [SwingView], text: &str) {
    for view in views {
        view.report.warnings.push(text.into());
    }
}

/// Times of the second clip less those of the first, and how well the heights then agree.
#[derive(Clone, Copy, Debug)]
struct Lay {
    lag_s: f64,
    lag_sd_s: f64,
    misfit: f64,
}

fn lay_over(first: &SwingView, second: &SwingView) -> Option<Lay> {
    let a = first.moments.get(&MomentName::Impact)?;
    let b = second.moments.get(&MomentName::Impact)?;
    let by_impact = b.time_s - a.time_s;
    if first.impact_heard && second.impact_heard {
        return Some(Lay {
            lag_s: by_impact,
            lag_sd_s: a.sd_s.hypot(b.sd_s),
            misfit: misfit(first, second, a.time_s, by_impact)?,
        });
    }
    let agree = |lag: f64| misfit(first, second, a.time_s, lag).map_or(f64::NEG_INFINITY, |m| -m);
    let lag_s = peak(
        agree,
        by_impact - LAG_SEARCH_S,
        by_impact + LAG_SEARCH_S,
        LAG_STEP_S,
    );
    Some(Lay {
        lag_s,
        lag_sd_s: LAG_SD_S,
        misfit: misfit(first, second, a.time_s, lag_s)?,
    })
}

/// Root-mean-square difference of the hands' heights after the best stretch and shift of one onto
/// the other (perspective and camera height do both), body heights.
fn misfit(first: &SwingView, second: &SwingView, impact_s: f64, lag_s: f64) -> Option<f64> {
    let pairs: Vec<(f64, f64, f64)> =
        search_times(impact_s + COMPARE_FROM_S, impact_s + COMPARE_TO_S)
            .filter_map(|t| {
                let (a, b) = (first.hands.height(t)?, second.hands.height(t + lag_s)?);
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
        let Some(best) = weighted_mean(in_first, in_second) else {
            continue;
        };
        // Carried into the other clip, the lay's own error comes on top, less where the other
        // clip's own reading had the greater weight.
        let with_lay = |own: Option<Timed>| {
            let foreign = own.map_or(1.0, |o| 1.0 - (best.sd_s / o.sd_s).powi(2).min(1.0));
            best.sd_s.hypot(foreign * lay.lag_sd_s)
        };
        first.moments.insert(
            name,
            Timed {
                time_s: best.time_s,
                sd_s: with_lay(in_first),
            },
        );
        second.moments.insert(
            name,
            Timed {
                time_s: best.time_s + lay.lag_s,
                sd_s: with_lay(in_second),
            },
        );
    }
    let heard = first.impact_heard || second.impact_heard;
    first.impact_heard = heard;
    second.impact_heard = heard;
}

fn weighted_mean(a: Option<Timed>, b: Option<Timed>) -> Option<Timed> {
    match (a, b) {
        (Some(a), Some(b)) => {
            let (wa, wb) = (a.sd_s.powi(-2), b.sd_s.powi(-2));
            Some(Timed {
                time_s: (wa * a.time_s + wb * b.time_s) / (wa + wb),
                sd_s: (wa + wb).sqrt().recip(),
            })
        }
        (one, other) => one.or(other),
    }
}
