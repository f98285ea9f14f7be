//! Both wrists hold one grip: when the network sees them far apart, the one it sees less well is
//! wrong, and the other can stand in for it.

use lessonwright_math::MonotoneCubic;
use lessonwright_model::{Joint, LandmarkTrack, PixelPoint};

/// Farthest apart that wrists on a grip are seen, in body heights (20 cm): grips hold them 8–12 cm
/// apart, and each is marked to about 4 cm.
const FARTHEST_APART: f64 = 0.14;

const LEFT: usize = Joint::LeftWrist as usize;
const RIGHT: usize = Joint::RightWrist as usize;

/// Leaves out the less visible wrist wherever the two are too far apart; returns how many.
pub fn reject_apart(
    track: &LandmarkTrack,
    kept: &mut [Vec<Option<PixelPoint>>],
    span_px: f64,
) -> usize {
    let mut rejected = 0;
    for (i, frame) in track.frames.iter().enumerate() {
        let (Some(left), Some(right)) = (kept[LEFT][i], kept[RIGHT][i]) else {
            continue;
        };
        if left.distance(right) <= FARTHEST_APART * span_px {
            continue;
        }
        let seen = |at: PixelPoint| visibility_at(frame.body.as_ref(), at);
        let wrong = if seen(left) < seen(right) {
            LEFT
        } else {
            RIGHT
        };
        kept[wrong][i] = None;
        rejected += 1;
    }
    rejected
}

/// Visibility of the wrist marked at `at` (left and right may have been exchanged since).
fn visibility_at(body: Option<&lessonwright_model::Landmarks>, at: PixelPoint) -> f64 {
    body.into_iter()
        .flat_map(|b| [b.get(Joint::LeftWrist), b.get(Joint::RightWrist)])
        .find(|w| w.at == at)
        .map_or(0.0, |w| w.visibility)
}

/// Where one wrist is missing, the other with the way between them bridged from frames that show
/// both. Frames without either stay without.
pub fn stand_in(
    times_s: &[f64],
    left: &[Option<PixelPoint>],
    right: &[Option<PixelPoint>],
) -> (Vec<Option<PixelPoint>>, Vec<Option<PixelPoint>>) {
    let Some((dx, dy)) = way_between(times_s, left, right) else {
        return (left.to_vec(), right.to_vec());
    };
    let moved = |at: PixelPoint, t: f64, sign: f64| PixelPoint {
        x: at.x + sign * dx.at(t),
        y: at.y + sign * dy.at(t),
    };
    let filled = times_s
        .iter()
        .zip(left.iter().zip(right))
        .map(|(&t, (l, r))| match (l, r) {
            (Some(l), None) => (Some(*l), Some(moved(*l, t, 1.0))),
            (None, Some(r)) => (Some(moved(*r, t, -1.0)), Some(*r)),
            _ => (*l, *r),
        });
    filled.unzip()
}

/// From the left to the right wrist over time.
fn way_between(
    times_s: &[f64],
    left: &[Option<PixelPoint>],
    right: &[Option<PixelPoint>],
) -> Option<(MonotoneCubic, MonotoneCubic)> {
    let both: Vec<(f64, f64, f64)> = times_s
        .iter()
        .zip(left.iter().zip(right))
        .filter_map(|(&t, (l, r))| {
            let (l, r) = ((*l)?, (*r)?);
            Some((t, r.x - l.x, r.y - l.y))
        })
        .collect();
    let times: Vec<f64> = both.iter().map(|b| b.0).collect();
    let dx: Vec<f64> = both.iter().map(|b| b.1).collect();
    let dy: Vec<f64> = both.iter().map(|b| b.2).collect();
    Some((
        MonotoneCubic::new(&times, &dx).ok()?,
        MonotoneCubic::new(&times, &dy).ok()?,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_other_wrist_stands_in_at_its_usual_distance() {
        let times: Vec<f64> = (0..10).map(|i| f64::from(i) / 60.0).collect();
        let at = |i: usize, side: f64| {
            Some(PixelPoint {
                x: 5.0 * i as f64 + side,
                y: 7.0,
            })
        };
        let truth: Vec<_> = (0..10).map(|i| at(i, 0.0)).collect();
        let right: Vec<_> = (0..10).map(|i| at(i, 12.0)).collect();
        let mut left = truth.clone();
        left[4] = None;
        left[5] = None;
        let (filled, same) = stand_in(&times, &left, &right);
        assert!(same == right, "the wrist that is seen stays where it is");
        for (got, expected) in filled.iter().zip(&truth) {
            let (got, expected) = (got.expect("filled"), expected.expect("drawn"));
            assert!(got.distance(expected) < 1e-9);
        }
    }
}
