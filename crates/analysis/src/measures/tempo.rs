//! Tempo: backswing time, downswing time and their ratio, in real time. See
//! `docs/measures/tempo.md`.

use super::{Asked, Clips, Reading, Withheld, no_moment, report};
use crate::calibration::Bias;
use crate::moments::Timed;
use crate::view::SwingView;
use lessonwright_model::{Measure, MeasureName, MomentName};

/// Wider than these (half of the 95 % interval) a time or ratio says nothing: players differ by
/// 0.2 s and by 1 (GolfDB: 2.6–5.8).
const WIDEST_S: f64 = 0.4;
const WIDEST_RATIO: f64 = 2.0;

/// Backswing, downswing, ratio.
pub(super) fn measures(clips: &Clips<'_>) -> Vec<Measure> {
    // Both views carry the same moments when they show one motion; face-on shows them better.
    let Some(view) = clips.face_on.or(clips.down_the_line) else {
        return Vec::new();
    };
    let shown = (!clips.one_motion).then_some(view.view);
    let none = Bias { mean: 0.0, sd: 0.0 };
    let ask = |name, moment, against| Asked {
        name,
        moment,
        against: Some(against),
    };
    use MomentName::{Address, Impact, Top};
    vec![
        report(
            ask(MeasureName::BackswingTime, Top, Address),
            shown,
            WIDEST_S,
            duration(view, Address, Top),
            none,
        ),
        report(
            ask(MeasureName::DownswingTime, Impact, Top),
            shown,
            WIDEST_S,
            duration(view, Top, Impact),
            none,
        ),
        report(
            ask(MeasureName::TempoRatio, Impact, Address),
            shown,
            WIDEST_RATIO,
            ratio(view),
            none,
        ),
    ]
}

fn moment(view: &SwingView, name: MomentName) -> Result<Timed, Withheld> {
    view.moments
        .get(&name)
        .copied()
        .ok_or_else(|| no_moment(name))
}

fn duration(view: &SwingView, from: MomentName, to: MomentName) -> Result<Reading, Withheld> {
    let (from, to) = (moment(view, from)?, moment(view, to)?);
    Ok(Reading {
        value: to.time_s - from.time_s,
        sd: from.sd_s.hypot(to.sd_s),
        note: String::new(),
    })
}

/// `b/d` with b = top − address and d = impact − top. The top's error enters both, with
/// `∂(b/d)/∂top = 1/d + b/d²`.
fn ratio(view: &SwingView) -> Result<Reading, Withheld> {
    let address = moment(view, MomentName::Address)?;
    let top = moment(view, MomentName::Top)?;
    let impact = moment(view, MomentName::Impact)?;
    let back = top.time_s - address.time_s;
    let down = impact.time_s - top.time_s;
    let value = back / down;
    let sd = (address.sd_s / down)
        .hypot(top.sd_s * (1.0 + value) / down)
        .hypot(impact.sd_s * value / down);
    Ok(Reading {
        value,
        sd,
        note: String::new(),
    })
}
