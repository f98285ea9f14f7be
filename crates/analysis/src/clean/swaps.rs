//! Left and right that the network exchanged, put back.
//!
//! Each group of pairs is a chain over time with two states, as labelled or exchanged. Going on
//! in the same state costs how far the points move, changing it costs how far they would move
//! crosswise plus a fee; the cheapest chain wins (Viterbi 1967). Distances, not squares, so that
//! one wild point alone never pays for an exchange. Which of the two labellings is true is the
//! network's majority.

use lessonwright_model::PixelPoint;

/// Fee for a change of state, in body heights: pairs closer than half of it (2 % of the height,
/// 3 cm) are not worth exchanging.
const CHANGE_FEE: f64 = 0.04;

/// Pairs (left, right) by their number in the network's order, in groups that are exchanged
/// together: whole arms and legs first, then parts of them.
const GROUPS: [&[(usize, usize)]; 9] = [
    &[(1, 4), (2, 5), (3, 6), (7, 8), (9, 10)],
    &[(11, 12), (13, 14), (15, 16), (17, 18), (19, 20), (21, 22)],
    &[(23, 24), (25, 26), (27, 28), (29, 30), (31, 32)],
    &[(11, 12)],
    &[(13, 14)],
    &[(15, 16), (17, 18), (19, 20), (21, 22)],
    &[(23, 24)],
    &[(25, 26)],
    &[(27, 28), (29, 30), (31, 32)],
];

/// Puts exchanged points back, in place; returns how many points were moved.
pub fn put_back(raw: &mut [Vec<Option<PixelPoint>>], span_px: f64) -> usize {
    let mut moved = 0;
    for group in GROUPS {
        let exchanged = exchanged_frames(raw, group, span_px);
        for (frame, _) in exchanged.iter().enumerate().filter(|(_, e)| **e) {
            for &(left, right) in group {
                let keep = raw[left][frame];
                raw[left][frame] = raw[right][frame];
                raw[right][frame] = keep;
                moved += 2;
            }
        }
    }
    moved
}

/// For each frame whether the group is exchanged there.
fn exchanged_frames(
    raw: &[Vec<Option<PixelPoint>>],
    group: &[(usize, usize)],
    span_px: f64,
) -> Vec<bool> {
    let frames = raw[group[0].0].len();
    // Least cost of a chain that ends in state 0 (as labelled) or 1, and where it came from.
    let mut cost = [0.0, 0.0];
    let mut from: Vec<[usize; 2]> = vec![[0, 1]];
    for frame in 1..frames {
        let (keep, cross) = moves(raw, group, frame, span_px);
        let mut next = [0.0; 2];
        let mut came = [0; 2];
        for state in 0..2 {
            let stay = cost[state] + keep;
            let change = cost[1 - state] + cross + CHANGE_FEE;
            (next[state], came[state]) = if stay <= change {
                (stay, state)
            } else {
                (change, 1 - state)
            };
        }
        cost = next;
        from.push(came);
    }
    let mut state = usize::from(cost[1] < cost[0]);
    let mut exchanged = vec![false; frames];
    for frame in (0..frames).rev() {
        exchanged[frame] = state == 1;
        state = from[frame][state];
    }
    if 2 * exchanged.iter().filter(|e| **e).count() > frames {
        exchanged.iter_mut().for_each(|e| *e = !*e);
    }
    exchanged
}

/// How far the group moves from the last frame in which each pair was seen to `frame`: as
/// labelled, and crosswise; in body heights.
fn moves(
    raw: &[Vec<Option<PixelPoint>>],
    group: &[(usize, usize)],
    frame: usize,
    span_px: f64,
) -> (f64, f64) {
    let mut keep = 0.0;
    let mut cross = 0.0;
    for &(left, right) in group {
        let (Some(l1), Some(r1)) = (raw[left][frame], raw[right][frame]) else {
            continue;
        };
        let before = (0..frame)
            .rev()
            .find_map(|f| Some((raw[left][f]?, raw[right][f]?)));
        if let Some((l0, r0)) = before {
            keep += l0.distance(l1) + r0.distance(r1);
            cross += l0.distance(r1) + r0.distance(l1);
        }
    }
    (keep / span_px, cross / span_px)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(x: f64, y: f64) -> Option<PixelPoint> {
        Some(PixelPoint { x, y })
    }

    fn still_body(frames: usize) -> Vec<Vec<Option<PixelPoint>>> {
        (0..33)
            .map(|joint| {
                let side = if joint % 2 == 1 { 40.0 } else { -40.0 };
                (0..frames)
                    .map(|f| point(300.0 + side + f as f64, 20.0 * joint as f64))
                    .collect()
            })
            .collect()
    }

    #[test]
    fn exchanged_legs_are_put_back() {
        let truth = still_body(40);
        let mut raw = truth.clone();
        for (l, r) in [(25, 26), (27, 28), (29, 30), (31, 32)] {
            let (left, right) = (raw[l].clone(), raw[r].clone());
            raw[l][12..19].copy_from_slice(&right[12..19]);
            raw[r][12..19].copy_from_slice(&left[12..19]);
        }
        assert!(put_back(&mut raw, 500.0) > 0);
        assert!(raw == truth, "every point is back in its place");
    }

    #[test]
    fn one_wild_point_exchanges_nothing() {
        let mut raw = still_body(40);
        // The left knee jumps as far beyond the right one as it was on this side.
        raw[25][20] = point(300.0 - 120.0 + 20.0, 500.0);
        assert_eq!(put_back(&mut raw, 500.0), 0);
    }

    #[test]
    fn points_that_cross_smoothly_keep_their_names() {
        let mut raw = still_body(40);
        let walk = |side: f64| {
            (0..40)
                .map(|frame| point(300.0 + side * (f64::from(frame) - 20.0) * 4.0, 500.0))
                .collect::<Vec<_>>()
        };
        raw[25] = walk(1.0);
        raw[26] = walk(-1.0);
        let truth = raw.clone();
        put_back(&mut raw, 500.0);
        // Near the crossing itself the two coincide; everywhere else the names must be kept.
        for frame in (0..17).chain(24..40) {
            assert_eq!(raw[25][frame], truth[25][frame], "frame {frame}");
        }
    }
}
