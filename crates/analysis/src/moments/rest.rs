//! Rest of the hands: the last instant before the takeaway, and the first one of the finish.
//!
//! Movement that starts (or ends) gently grows with the square of time, so the instant itself
//! lies below any threshold. The root of the distance from the resting place is then a straight
//! line in time; it is fitted where the distance is well above noise and followed to zero.

use super::{SEARCH_STEP_S, search_times};
use crate::hands::Hands;
use lessonwright_math::fit_line;
use lessonwright_model::PixelPoint;

/// Rest is a stretch this long, s ...
const REST_S: f64 = 0.20;
/// ... in which the hands stay within this many body heights (3 cm), or, for players who are
/// never quite still, within the second number (9 cm).
const REST_EXTENT: f64 = 0.02;
const RESTLESS_EXTENT: f64 = 0.06;
/// Distances from the resting place between which the start of the motion is fitted, body
/// heights: from 2 cm, above landmark noise, to 12 cm, before the path bends.
const FIT_FROM: f64 = 0.014;
const FIT_TO: f64 = 0.08;
/// How far the fit may be followed back, s: the root of a noisy fit must not run away.
const FOLLOW_S: f64 = 0.25;

/// The hands at rest and the instant at which it ends (address) or begins (finish).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rest {
    /// When.
    pub time_s: f64,
    /// Where the hands rest.
    pub place: PixelPoint,
    /// A stretch well inside the rest, s.
    pub inside_s: (f64, f64),
    /// True if the hands were never quite still.
    pub restless: bool,
}

/// The last rest before `moving_s`, at which the way back is under way.
pub fn before(hands: &Hands, moving_s: f64) -> Option<Rest> {
    let from = hands.span_s.0;
    let ends: Vec<f64> = search_times(from + REST_S, moving_s).collect();
    let (end, restless) = find_rest(ends.iter().rev().copied(), |end| {
        extent(hands, end - REST_S, end)
    })?;
    // The end of the stretch may already move: the place is that of its first part.
    let inside_s = (end - REST_S, end - 0.25 * REST_S);
    let place = hands.place_over(inside_s.0, inside_s.1)?;
    let away: Vec<f64> = search_times(inside_s.1, moving_s).collect();
    let time_s = onset(hands, place, &away, 1.0).unwrap_or(end);
    Some(Rest {
        time_s,
        place,
        inside_s,
        restless,
    })
}

/// The first rest after `moving_s`, at which the hands are still under way.
pub fn after(hands: &Hands, moving_s: f64) -> Option<Rest> {
    let to = hands.span_s.1;
    let (start, restless) = find_rest(search_times(moving_s, to - REST_S), |start| {
        extent(hands, start, start + REST_S)
    })?;
    let inside_s = (start + 0.25 * REST_S, start + REST_S);
    let place = hands.place_over(inside_s.0, inside_s.1)?;
    let away: Vec<f64> = search_times(moving_s, inside_s.0).rev().collect();
    let time_s = onset(hands, place, &away, -1.0).unwrap_or(start);
    Some(Rest {
        time_s,
        place,
        inside_s,
        restless,
    })
}

/// The first stretch that is at rest; failing that, the first that is nearly so.
fn find_rest(
    stretches: impl Iterator<Item = f64>,
    extent: impl Fn(f64) -> Option<f64>,
) -> Option<(f64, bool)> {
    let mut nearly = None;
    for at in stretches {
        let Some(extent) = extent(at) else { continue };
        if extent < REST_EXTENT {
            return Some((at, false));
        }
        if extent < RESTLESS_EXTENT && nearly.is_none() {
            nearly = Some((at, true));
        }
    }
    nearly
}

/// Greatest side of the box that holds the hands over `[from, to]`, body heights.
fn extent(hands: &Hands, from: f64, to: f64) -> Option<f64> {
    let mut low = (f64::INFINITY, f64::INFINITY);
    let mut high = (f64::NEG_INFINITY, f64::NEG_INFINITY);
    for t in search_times(from, to) {
        let p = hands.at(t)?;
        low = (low.0.min(p.x), low.1.min(p.y));
        high = (high.0.max(p.x), high.1.max(p.y));
    }
    Some((high.0 - low.0).max(high.1 - low.1) / hands.span_px)
}

/// Root of the line through √distance over time. `away` runs from rest into motion; `direction`
/// is +1 when that is forward in time.
fn onset(hands: &Hands, place: PixelPoint, away: &[f64], direction: f64) -> Option<f64> {
    let distances: Vec<(f64, f64)> = away
        .iter()
        .filter_map(|&t| Some((t, hands.distance(t, place)?)))
        .collect();
    // From the last sample that is still at rest to the first that is far.
    let far = distances.iter().position(|d| d.1 > FIT_TO)?;
    let near = distances[..far]
        .iter()
        .rposition(|d| d.1 < FIT_FROM)
        .map_or(0, |i| i + 1);
    let first = distances.get(near)?.0;
    let points: Vec<(f64, f64, f64)> = distances[near..far]
        .iter()
        .map(|&(t, d)| (t - first, d.sqrt(), 1.0))
        .collect();
    let root = fit_line(&points)?.root()?;
    let follow = (root * direction).clamp(-FOLLOW_S, SEARCH_STEP_S);
    Some(first + follow * direction)
}
