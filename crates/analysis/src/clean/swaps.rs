//! Left and right that the network exchanged, put back.
//!
//! Each group of pairs is a chain over time with two states, as labelled or exchanged. Every frame
//! costs how far the points lie from where their last two places lead to, every frame exchanged and
//! every change of state a fee; the cheapest chain wins (Viterbi 1967). Where points lead to, not where they were: limbs
//! cross in the picture while the body turns, faster than a change of place could tell from an
//! exchange. Distances, not squares, so that one wild point alone never pays for an exchange.
//! Which of the two labellings is true is the network's majority.

use lessonwright_model::PixelPoint;

/// Fee for a change of state, in body heights: exchanging a pair pays where it lies at least this
/// far apart (4 % of the height, 5 cm). On 30 rendered swings the network exchanged shoulders in
/// 2 % of the frames, elbows in 0.5 %, the rest in fewer.
const CHANGE_FEE: f64 = 0.06;
/// Fee for every frame exchanged, in body heights.
const EXCHANGED_FEE: f64 = 0.04;

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
    let seen: Vec<usize> = (0..frames)
        .filter(|&f| {
            group
                .iter()
                .all(|&(l, r)| raw[l][f].is_some() && raw[r][f].is_some())
        })
        .collect();
    let states = cheapest_chain(raw, group, &seen, span_px);
    let mut exchanged = vec![false; frames];
    for (&frame, state) in seen.iter().zip(&states) {
        exchanged[frame] = *state;
    }
    exchanged
}

/// The state of each frame of `seen`, exchanged or not. A link of the chain is a state together
/// with whether it was just changed: the cost of a frame rests on the two before it.
fn cheapest_chain(
    raw: &[Vec<Option<PixelPoint>>],
    group: &[(usize, usize)],
    seen: &[usize],
    span_px: f64,
) -> Vec<bool> {
    const LINKS: [(bool, bool); 4] = [(false, false), (false, true), (true, false), (true, true)];
    let number = |state: bool, changed: bool| 2 * usize::from(state) + usize::from(changed);
    let fee = |state: bool, changed: bool| {
        EXCHANGED_FEE * f64::from(u8::from(state)) + CHANGE_FEE * f64::from(u8::from(changed))
    };
    // As labelled or exchanged from the start.
    let mut cost = [0.0, f64::INFINITY, 0.0, f64::INFINITY];
    let mut from: Vec<[usize; 4]> = Vec::with_capacity(seen.len());
    for at in 1..seen.len() {
        let mut next = [f64::INFINITY; 4];
        let mut came = [0; 4];
        for (state, changed) in LINKS {
            let before = state != changed;
            let link = number(state, changed);
            for changed_before in [false, true] {
                let step = at.checked_sub(2).map_or(0.0, |two_back| {
                    let frames = [seen[two_back], seen[at - 1], seen[at]];
                    bend(raw, group, frames, changed_before, changed) / span_px
                });
                let coming_from = number(before, changed_before);
                let total = cost[coming_from] + step + fee(state, changed);
                if total < next[link] {
                    (next[link], came[link]) = (total, coming_from);
                }
            }
        }
        cost = next;
        from.push(came);
    }
    let mut link = (0..4).fold(0, |best, l| if cost[l] < cost[best] { l } else { best });
    let mut states = vec![false; seen.len()];
    for at in (0..seen.len()).rev() {
        states[at] = LINKS[link].0;
        if at > 0 {
            link = from[at - 1][link];
        }
    }
    states
}

/// How far the group's points in the last of three frames lie from where the first two lead to,
/// px, with left and right exchanged between the first two, or the last two.
fn bend(
    raw: &[Vec<Option<PixelPoint>>],
    group: &[(usize, usize)],
    [first, middle, last]: [usize; 3],
    changed_first: bool,
    changed_last: bool,
) -> f64 {
    let at = |joint: usize, frame: usize| raw[joint][frame].unwrap_or_default();
    // Across a gap nothing is known of the way; the last step is then not stretched over it.
    let stretch = ((last - middle) as f64 / (middle - first) as f64).min(1.0);
    let side = |here: usize, other: usize| {
        let (a, b, c) = (
            at(if changed_first { other } else { here }, first),
            at(here, middle),
            at(if changed_last { other } else { here }, last),
        );
        let (x, y) = (b.x + stretch * (b.x - a.x), b.y + stretch * (b.y - a.y));
        (c.x - x).hypot(c.y - y)
    };
    group
        .iter()
        .map(|&(left, right)| side(left, right) + side(right, left))
        .sum()
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

    #[test]
    fn points_that_pass_fast_and_close_keep_their_names() {
        let mut raw = still_body(40);
        // 6 % of the height a frame, past one another at 2 %: nearer to the other's last place than
        // to their own.
        let pass = |side: f64| {
            (0..40)
                .map(|frame| {
                    let along = side * (f64::from(frame) - 19.5) * 30.0;
                    point(300.0 + along, 500.0 + 5.0 * side)
                })
                .collect::<Vec<_>>()
        };
        raw[11] = pass(1.0);
        raw[12] = pass(-1.0);
        assert_eq!(put_back(&mut raw, 500.0), 0);
    }
}
