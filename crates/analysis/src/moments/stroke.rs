//! The fast stroke: where the hands sweep through their lowest place, and the top before it.
//!
//! The top is where the hands reverse: the mid-point of the wrists is farthest along its way
//! back. The way back is the direction of the reversal itself, the difference between how the
//! hands come in and how they leave; along it they pass a maximum with zero speed. (The instant
//! of the *highest* hands is another one: 3 frames of 120/s later in the open capture used in the
//! tests; mixing the two moves a tempo ratio from 1.4 to 2.2 in one player.)

use super::{SEARCH_STEP_S, search_times};
use crate::hands::Hands;
use lessonwright_math::zero::peak;
use lessonwright_model::PixelPoint;

/// How long before the lowest point the top may lie, s; the slow swing of the open capture takes
/// 0.6, tour players 0.25–0.31 (Beak et al. 2013).
const LONGEST_DOWN_S: f64 = 1.1;
/// How far above their lowest place the hands must have been before, in body heights: 0.25 is
/// 35 cm, below which there is no full swing.
const LEAST_RISE: f64 = 0.25;
/// Slowest hands at the bottom of a swing, body heights a second: the slow swing of the open
/// capture passes at 2.7, a putt at less than 1.
const LEAST_SPEED: f64 = 1.2;
/// A strike may be heard this far from the hands' lowest point, s: sound from 6 m takes 0.018, the
/// hands are lowest within 0.05 of impact, and recorders shift sound by as much again.
const STRIKE_NEAR_S: f64 = 0.15;
/// What a heard strike is worth in speed, and the height (body heights, 7 cm) that costs as much as
/// a factor of e in speed.
const HEARD_COUNTS: f64 = 3.0;
const HEIGHT_COUNTS: f64 = 0.05;
/// The hands are on their way at this share of their greatest speed.
const ON_THE_WAY: f64 = 0.3;
/// The hands are fastest this long before they are lowest at most, s: rendered arms are fastest 0.01 to 0.03 before impact, the
/// slow captured swing's 0.10 (`docs/measures/peak_order.md`). What is faster before is a hidden wrist that jumps.
const FASTEST_BEFORE_LOW_S: f64 = 0.2;
/// How far back from there the reversal is sought, s; a pause at the top may last 0.1–0.2.
const REVERSAL_SEARCH_S: f64 = 0.35;
/// Half-width of the chord that gives the direction of the reversal, s: long against noise, short
/// against the 0.25 s of a downswing.
const CHORD_S: f64 = 0.10;

/// The fast stroke.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// The hands reverse.
    pub top_s: f64,
    /// The hands are at their lowest in the strike.
    pub low_s: f64,
    /// Greatest speed of the hands near there, body heights a second.
    pub speed: f64,
}

/// Finds the stroke; `strikes_s` are real times at which a strike was heard.
///
/// # Errors
/// In words, what was not found.
pub fn find(hands: &Hands, strikes_s: &[f64]) -> Result<Stroke, String> {
    let (low_s, speed) = lowest_fast_place(hands, strikes_s)
        .ok_or("the hands never sweep fast through a low place between two high ones")?;
    let rough = reversal(hands, low_s)
        .ok_or("the hands do not come from above, with a reversal, before they are lowest")?;
    Ok(Stroke {
        top_s: farthest_back(hands, rough),
        low_s,
        speed,
    })
}

/// Of all places lower than what is before and after, the one passed fastest, with a preference for
/// the lowest: a hidden wrist that jumps is fast, but not that low.
fn lowest_fast_place(hands: &Hands, strikes_s: &[f64]) -> Option<(f64, f64)> {
    let (from, to) = hands.span_s;
    let highest = |a: f64, b: f64| {
        search_times(a.max(from), b.min(to))
            .filter_map(|t| hands.height(t))
            .fold(f64::NEG_INFINITY, f64::max)
    };
    let mut sweeps: Vec<Sweep> = Vec::new();
    for t in search_times(from, to) {
        let Some(height) = hands.height(t) else {
            continue;
        };
        // Lowest within 50 ms either way: one candidate for each sweep.
        let lowest = search_times((t - 0.05).max(from), (t + 0.05).min(to))
            .filter_map(|s| hands.height(s))
            .all(|h| h >= height);
        if !lowest || highest(t - LONGEST_DOWN_S, t) - height < LEAST_RISE {
            continue;
        }
        // After the strike the hands rise again; a clip may end soon after, hence only a third.
        if highest(t, t + LONGEST_DOWN_S) - height < LEAST_RISE / 3.0 {
            continue;
        }
        let speed = search_times((t - 0.06).max(from), (t + 0.06).min(to))
            .filter_map(|s| hands.speed(s))
            .fold(0.0, f64::max);
        if speed >= LEAST_SPEED {
            sweeps.push(Sweep {
                time_s: t,
                height,
                speed,
                heard: strikes_s.iter().any(|s| (s - t).abs() < STRIKE_NEAR_S),
            });
        }
    }
    let lowest = sweeps.iter().map(|s| s.height).reduce(f64::min)?;
    let score = |s: &Sweep| {
        // A heard strike decides between sweeps of like speed (a practice swing has none).
        let sound = if s.heard { HEARD_COUNTS } else { 1.0 };
        sound * s.speed * (-(s.height - lowest) / HEIGHT_COUNTS).exp()
    };
    sweeps
        .iter()
        .max_by(|a, b| score(a).total_cmp(&score(b)))
        .map(|s| (s.time_s, s.speed))
}

/// The hands passing a low place.
struct Sweep {
    time_s: f64,
    height: f64,
    speed: f64,
    heard: bool,
}

/// The slowest instant between the way back and the way down, roughly.
fn reversal(hands: &Hands, low_s: f64) -> Option<f64> {
    let from = hands.span_s.0.max(low_s - LONGEST_DOWN_S);
    let low = hands.height(low_s)?;
    let down: Vec<(f64, f64)> = search_times(from, low_s)
        .filter_map(|t| Some((t, hands.speed(t)?)))
        .collect();
    let fastest = down
        .iter()
        .copied()
        .filter(|s| s.0 >= low_s - FASTEST_BEFORE_LOW_S)
        .fold((low_s, 0.0), |b, c| if c.1 > b.1 { c } else { b });
    let is_high = |t: f64| {
        let height = hands.height(t);
        height.is_some_and(|h| h - low >= 0.5 * LEAST_RISE)
    };
    let slow = down
        .iter()
        .rev()
        .find(|s| s.0 < fastest.0 && s.1 < ON_THE_WAY * fastest.1 && is_high(s.0))?
        .0;
    down.iter()
        .filter(|s| s.0 <= slow && s.0 >= slow - REVERSAL_SEARCH_S && is_high(s.0))
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|s| s.0)
}

/// Farthest along the direction of the reversal, starting from a rough time.
fn farthest_back(hands: &Hands, rough_s: f64) -> f64 {
    let mut top = rough_s;
    // Twice: the direction is taken at the first answer again.
    for _ in 0..2 {
        let Some((x, y)) = reversal_direction(hands, top) else {
            return top;
        };
        let along = |t: f64| {
            hands
                .at(t)
                .map_or(f64::NEG_INFINITY, |p: PixelPoint| p.x * x + p.y * y)
        };
        top = peak(
            along,
            top - 1.2 * CHORD_S,
            top + 1.2 * CHORD_S,
            SEARCH_STEP_S,
        );
    }
    top
}

/// `2 p(t) − p(t−τ) − p(t+τ)`: where the hands come in and whence they leave, px.
fn reversal_direction(hands: &Hands, t: f64) -> Option<(f64, f64)> {
    let (before, at, after) = (hands.at(t - CHORD_S)?, hands.at(t)?, hands.at(t + CHORD_S)?);
    Some((
        2.0 * at.x - before.x - after.x,
        2.0 * at.y - before.y - after.y,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::path::Path;

    const RATE_HZ: f64 = 60.0;
    const TOP_S: f64 = 1.2;
    const LOW_S: f64 = 1.5;

    /// Hands on a circle of 300 px, a body of 500 px: back until 1.2 s, through their lowest place at 1.5 s.
    fn swing(jump_s: Option<f64>) -> Hands {
        let eased = |from: f64, to: f64, t: f64| {
            let u = ((t - from) / (to - from)).clamp(0.0, 1.0);
            u * u * (3.0 - 2.0 * u)
        };
        let times_s: Vec<f64> = (0..150).map(|i| f64::from(i) / RATE_HZ).collect();
        let wrist: Vec<Option<PixelPoint>> = times_s
            .iter()
            .map(|&t| {
                // From straight down, away from the target.
                let turned =
                    2.4 * (eased(0.3, TOP_S, t) - 2.0 * eased(TOP_S, 2.0 * LOW_S - TOP_S, t));
                let hidden = jump_s.is_some_and(|s| (t - s).abs() < 0.6 / RATE_HZ);
                let away = if hidden { 260.0 } else { 0.0 };
                Some(PixelPoint {
                    x: 400.0 - 300.0 * turned.sin() + away,
                    y: 400.0 + 300.0 * turned.cos(),
                })
            })
            .collect();
        let wrist = Path::through(&times_s, &wrist, 1.0);
        Hands::of(&times_s, (&wrist, &wrist), 500.0).expect("hands that are known")
    }

    #[test]
    fn a_wrist_that_jumps_before_the_top_does_not_hide_it() {
        let plain = find(&swing(None), &[]).unwrap();
        assert!(
            (plain.top_s - TOP_S).abs() < 0.02 && (plain.low_s - LOW_S).abs() < 0.02,
            "{plain:?}"
        );
        let jumping = find(&swing(Some(0.85)), &[]).unwrap();
        assert!((jumping.top_s - TOP_S).abs() < 0.02, "{jumping:?}");
    }
}
