//! Rest: the last instant before the takeaway, and the arrival at the finish.
//!
//! Several marks are watched, not the hands alone: down the line the hands start along the line of
//! sight, and it is the shoulders and elbows that give the start away.
//!
//! Movement that starts gently grows with the square of time, so the start itself lies below any
//! threshold. The root of the distance from the resting place is then a straight line in time; it
//! is fitted where the distance is well above noise and followed to zero. A swing runs out more
//! slowly than it starts, and has no such instant: its finish is an arrival, a distance from the
//! resting place, which is crossed with some speed.

use super::{SEARCH_STEP_S, search_times};
use crate::path::Path;
use lessonwright_math::fit_line;
use lessonwright_model::PixelPoint;

/// A body height as the network shows it, nose to ankle at address, as a share of the stature
/// (`calibration::table`, mean of both views).
pub(crate) const SEEN_NOSE_TO_ANKLE: f64 = 0.75;
/// Rest is a stretch this long, s ...
const REST_S: f64 = 0.20;
/// ... in which every mark stays within this many body heights (2.6 cm), or, for players who are
/// never quite still, within the second number (8 cm).
const REST_EXTENT: f64 = 0.02;
const RESTLESS_EXTENT: f64 = 0.06;
/// Root-mean-square distances from the resting places between which the start of the motion is fitted, body
/// heights: from 2 cm, above landmark noise, to 10 cm, before the path bends.
const FIT_FROM: f64 = 0.014;
const FIT_TO: f64 = 0.08;
/// How far the fit may be followed back, s: the root of a noisy fit must not run away.
const FOLLOW_S: f64 = 0.25;
/// At the finish the marks are this near to their resting places (root-mean-square), body heights:
/// 2 % of the stature.
const ARRIVED: f64 = 0.02 / SEEN_NOSE_TO_ANKLE;

/// The points that are watched.
#[derive(Clone, Debug)]
pub struct Marks<'a> {
    /// Their paths.
    pub paths: Vec<&'a Path>,
    /// When they are looked for, s.
    pub span_s: (f64, f64),
    /// Height of the body, px.
    pub span_px: f64,
}

impl Marks<'_> {
    /// Greatest side of the boxes that hold each mark over `[from, to]`, body heights; `None`
    /// where none is seen throughout.
    fn extent(&self, from: f64, to: f64) -> Option<f64> {
        let of = |path: &Path| {
            let mut low = (f64::INFINITY, f64::INFINITY);
            let mut high = (f64::NEG_INFINITY, f64::NEG_INFINITY);
            for t in search_times(from, to) {
                let p = path.at(t)?;
                low = (low.0.min(p.x), low.1.min(p.y));
                high = (high.0.max(p.x), high.1.max(p.y));
            }
            Some((high.0 - low.0).max(high.1 - low.1) / self.span_px)
        };
        self.paths.iter().filter_map(|p| of(p)).reduce(f64::max)
    }

    /// Median places over a stretch; a mark that is not seen there has none.
    fn places(&self, from: f64, to: f64) -> Vec<Option<PixelPoint>> {
        // 16 samples: denser than the frames of a still stretch at any usual rate.
        self.paths
            .iter()
            .map(|p| p.median_over(from, to, 16))
            .collect()
    }

    /// Root-mean-square distance of the marks seen from their places, body heights.
    fn distance(&self, t: f64, places: &[Option<PixelPoint>]) -> Option<f64> {
        let squares: Vec<f64> = self
            .paths
            .iter()
            .zip(places)
            .filter_map(|(path, place)| Some(path.at(t)?.distance((*place)?).powi(2)))
            .collect();
        if squares.is_empty() {
            return None;
        }
        Some((squares.iter().sum::<f64>() / squares.len() as f64).sqrt() / self.span_px)
    }
}

/// Rest and the instant at which it ends (address) or is reached (finish).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rest {
    /// When.
    pub time_s: f64,
    /// A stretch well inside the rest, s.
    pub inside_s: (f64, f64),
    /// True if the player was never quite still.
    pub restless: bool,
}

/// The last rest before `moving_s`, at which the way back is under way.
pub fn before(marks: &Marks<'_>, moving_s: f64) -> Option<Rest> {
    let from = marks.span_s.0;
    let ends: Vec<f64> = search_times(from + REST_S, moving_s).collect();
    let (end, restless) = find_rest(ends.iter().rev().copied(), |end| {
        marks.extent(end - REST_S, end)
    })?;
    // The end of the stretch may already move: the place is that of its first part.
    let inside_s = (end - REST_S, end - 0.25 * REST_S);
    let places = marks.places(inside_s.0, inside_s.1);
    let time_s = onset(marks, &places, inside_s.1, moving_s).unwrap_or(end);
    Some(Rest {
        time_s,
        inside_s,
        restless,
    })
}

/// The first rest of `marks` after `moving_s`, at which the body is still under way, and the
/// instant from which on those `arriving` stay near their places in it.
pub fn after(marks: &Marks<'_>, arriving: &Marks<'_>, moving_s: f64) -> Option<Rest> {
    let to = marks.span_s.1;
    let (start, restless) = find_rest(search_times(moving_s, to - REST_S), |start| {
        marks.extent(start, start + REST_S)
    })?;
    // The beginning of the stretch may still move: the place is that of its last part.
    let inside_s = (start + 0.25 * REST_S, start + REST_S);
    let places = arriving.places(inside_s.0, inside_s.1);
    let time_s = arrival(arriving, &places, moving_s, inside_s.1).unwrap_or(start);
    Some(Rest {
        time_s,
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

/// Root of the line through √distance over time, between rest at `from` and motion at `to`.
fn onset(marks: &Marks<'_>, places: &[Option<PixelPoint>], from: f64, to: f64) -> Option<f64> {
    let distances: Vec<(f64, f64)> = search_times(from, to)
        .filter_map(|t| Some((t, marks.distance(t, places)?)))
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
    Some(first + root.clamp(-FOLLOW_S, SEARCH_STEP_S))
}

/// The last crossing of [`ARRIVED`] between motion at `from` and rest at `to`.
fn arrival(marks: &Marks<'_>, places: &[Option<PixelPoint>], from: f64, to: f64) -> Option<f64> {
    let distances: Vec<(f64, f64)> = search_times(from, to)
        .filter_map(|t| Some((t, marks.distance(t, places)?)))
        .collect();
    let Some(last_far) = distances.iter().rposition(|d| d.1 > ARRIVED) else {
        // Near all the way: they arrived before.
        return distances.first().map(|d| d.0);
    };
    let (far, near) = (distances[last_far], distances.get(last_far + 1)?);
    let share = (far.1 - ARRIVED) / (far.1 - near.1);
    Some(far.0 + share * (near.0 - far.0))
}
