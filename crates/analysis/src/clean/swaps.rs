//! Left and right that the network exchanged, put back.
//!
//! Each group of pairs is a chain over time with two states, as labelled or exchanged. Every frame
//! costs how far the points lie from where their last two places lead to, time spent exchanged and
//! every change of state a fee; the cheapest chain wins (Viterbi 1967). Where points lead to, not
//! where they were: limbs cross in the picture while the body turns, faster than a change of place
//! could tell from an exchange. Distances, not squares, so that one wild point alone never pays for
//! an exchange. Without the fee for time, one wrong guess where two shoulders pass one another
//! would last to the end of the swing. Figures: `docs/decisions/005`.

use lessonwright_model::PixelPoint;

/// Fee for a change of state, in body heights.
const CHANGE_FEE: f64 = 0.06;
/// Fee for a second exchanged, in body heights. Going into an exchange of still points and out of
/// it bends their way by eight times their distance: pairs are put back that lie farther apart
/// than 2 % of the height (3 cm) for a frame of 60/s, 4.5 % (6 cm) for a tenth of a second.
const EXCHANGED_FEE_PER_S: f64 = 2.4;

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
pub fn put_back(times_s: &[f64], raw: &mut [Vec<Option<PixelPoint>>], span_px: f64) -> usize {
    let mut moved = 0;
    for group in GROUPS {
        let exchanged = exchanged_frames(times_s, raw, group, span_px);
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

/// For each frame whether the group is exchanged there. A frame in which none of its pairs is seen
/// keeps the state of the frame before.
fn exchanged_frames(
    times_s: &[f64],
    raw: &[Vec<Option<PixelPoint>>],
    group: &[(usize, usize)],
    span_px: f64,
) -> Vec<bool> {
    let any_seen = |f: &usize| {
        group
            .iter()
            .any(|&(l, r)| raw[l][*f].is_some() && raw[r][*f].is_some())
    };
    let seen: Vec<usize> = (0..times_s.len()).filter(any_seen).collect();
    let states = cheapest_chain(times_s, raw, group, &seen, span_px);
    let mut exchanged = vec![false; times_s.len()];
    for (at, state) in states.iter().enumerate() {
        let until = seen.get(at + 1).copied().unwrap_or(times_s.len());
        exchanged[seen[at]..until].fill(*state);
    }
    exchanged
}

/// The state of each frame of `seen`, exchanged or not. A link of the chain is a state together
/// with whether it was just changed: the cost of a frame rests on the two before it.
fn cheapest_chain(
    times_s: &[f64],
    raw: &[Vec<Option<PixelPoint>>],
    group: &[(usize, usize)],
    seen: &[usize],
    span_px: f64,
) -> Vec<bool> {
    const LINKS: [(bool, bool); 4] = [(false, false), (false, true), (true, false), (true, true)];
    let number = |state: bool, changed: bool| 2 * usize::from(state) + usize::from(changed);
    let if_so = |so: bool, fee: f64| if so { fee } else { 0.0 };
    // As labelled or exchanged from the start.
    let mut cost = [0.0, f64::INFINITY, 0.0, f64::INFINITY];
    let mut from: Vec<[usize; 4]> = Vec::with_capacity(seen.len());
    for at in 1..seen.len() {
        let spacing_s = times_s[seen[at]] - times_s[seen[at - 1]];
        let mut next = [f64::INFINITY; 4];
        let mut came = [0; 4];
        for (state, changed) in LINKS {
            let before = state != changed;
            let link = number(state, changed);
            let fee = if_so(changed, CHANGE_FEE) + if_so(state, EXCHANGED_FEE_PER_S * spacing_s);
            for changed_before in [false, true] {
                let step = at.checked_sub(2).map_or(0.0, |two_back| {
                    let frames = [seen[two_back], seen[at - 1], seen[at]];
                    bend(raw, group, frames, changed_before, changed) / span_px
                });
                let coming_from = number(before, changed_before);
                let total = cost[coming_from] + step + fee;
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
/// px, with left and right exchanged between the first two, or the last two; the mean of the pairs
/// seen in all three.
fn bend(
    raw: &[Vec<Option<PixelPoint>>],
    group: &[(usize, usize)],
    [first, middle, last]: [usize; 3],
    changed_first: bool,
    changed_last: bool,
) -> f64 {
    // Across a gap nothing is known of the way; the last step is then not stretched over it.
    let stretch = ((last - middle) as f64 / (middle - first) as f64).min(1.0);
    let side = |here: usize, other: usize| {
        let a = raw[if changed_first { other } else { here }][first]?;
        let b = raw[here][middle]?;
        let c = raw[if changed_last { other } else { here }][last]?;
        let (x, y) = (b.x + stretch * (b.x - a.x), b.y + stretch * (b.y - a.y));
        Some((c.x - x).hypot(c.y - y))
    };
    let pairs: Vec<f64> = group
        .iter()
        .filter_map(|&(left, right)| Some(side(left, right)? + side(right, left)?))
        .collect();
    pairs.iter().sum::<f64>() / pairs.len().max(1) as f64
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

    /// Frame times at a rate.
    fn at_rate(frames: usize, rate_hz: f64) -> Vec<f64> {
        (0..frames).map(|f| f as f64 / rate_hz).collect()
    }

    fn exchange_legs(raw: &mut [Vec<Option<PixelPoint>>], frames: std::ops::Range<usize>) {
        for (l, r) in [(25, 26), (27, 28), (29, 30), (31, 32)] {
            let (left, right) = (raw[l].clone(), raw[r].clone());
            raw[l][frames.clone()].copy_from_slice(&right[frames.clone()]);
            raw[r][frames.clone()].copy_from_slice(&left[frames.clone()]);
        }
    }

    #[test]
    fn exchanged_legs_are_put_back_at_any_rate() {
        // The same tenth of a second.
        for (rate_hz, frames) in [(60.0, 12..18), (240.0, 48..72)] {
            let truth = still_body(160);
            let mut raw = truth.clone();
            exchange_legs(&mut raw, frames);
            assert!(put_back(&at_rate(160, rate_hz), &mut raw, 500.0) > 0);
            assert!(
                raw == truth,
                "every point is back in its place at {rate_hz}/s"
            );
        }
    }

    #[test]
    fn one_hidden_toe_does_not_hinder() {
        let mut truth = still_body(40);
        truth[31][15] = None;
        let mut raw = truth.clone();
        exchange_legs(&mut raw, 12..18);
        put_back(&at_rate(40, 60.0), &mut raw, 500.0);
        assert!(raw == truth);
    }

    #[test]
    fn one_wild_point_exchanges_nothing() {
        let mut raw = still_body(40);
        // The left knee jumps as far beyond the right one as it was on this side.
        raw[25][20] = point(300.0 - 120.0 + 20.0, 500.0);
        assert_eq!(put_back(&at_rate(40, 60.0), &mut raw, 500.0), 0);
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
        put_back(&at_rate(40, 60.0), &mut raw, 500.0);
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
        assert_eq!(put_back(&at_rate(40, 60.0), &mut raw, 500.0), 0);
    }
}
