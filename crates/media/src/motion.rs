//! How much fast motion a clip shows over time.
//!
//! Counted is what *passes through* a pixel: in the middle one of three pictures 1/30 s apart it is
//! brighter (or darker) than in both others, by at least a noise threshold. (A three-frame
//! difference, as in Collins et al., "A System for Video Surveillance and Monitoring",
//! CMU-RI-TR-00-12, 2000, but keeping the pixels that were covered only once.) Something must be
//! narrower than what it travels in 1/15 s: an arm of 10 cm qualifies from 1.5 m/s on, a club
//! sooner, a walking trunk never. Each neighbour may be shifted by one pixel, so that a hand-held
//! camera's tremor does not count, and each line is levelled first, against flickering lamps.

use crate::error::MediaError;
use crate::frames::{Chosen, Decoder, Layout, Plan, scaled_size};
use crate::probe::Clip;
use crate::tools::Tools;
use lessonwright_model::Cancel;

/// Fast motion over real time, evenly spaced.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct FastMotion {
    /// Mean of what passes, grey levels of 255 a pixel; sample `i` is at `i * SPACING_S`.
    pub amount: Vec<f64>,
}

/// Real time between the pictures compared, s: what every camera has.
pub(crate) const SPACING_S: f64 = 1.0 / 30.0;
/// Longest side of the pictures compared, px. A player 40 % as high as the picture has 77 of them,
/// an arm 4 across.
const LONGEST_SIDE_PX: u32 = 192;
/// The farthest that a part must jump in 1/30 s to count in full, px: at 64 px a metre (a player who
/// fills 60 % of an upright picture) 2.8 m/s. Hands reach 5 to 10 m/s before impact, and the club
/// three times that; in talk and walking they stay below 2 m/s.
const REACH_PX: usize = 6;
/// What differs by less is noise, grey levels. Scaling down has averaged most of it away.
const NOISE_LEVELS: i16 = 8;
/// Where more than this part of the picture changes at once, the camera moved, not the player.
const CAMERA_MOVED_PART: f64 = 0.25;
/// Frames a little early still count as spaced, part of the spacing: clocks are rounded.
const SPACING_SLACK: f64 = 0.9;

/// Looks through the whole clip. `progress` is given parts of 1.
pub(crate) fn fast_motion(
    tools: &Tools,
    clip: &Clip,
    progress: &mut dyn FnMut(f64),
    cancel: &Cancel,
) -> Result<FastMotion, MediaError> {
    let facts = &clip.facts;
    let real = facts.real_seconds_per_file_second();
    let last = facts.frame_times_s.len() - 1;
    let spacing_s = SPACING_S * SPACING_SLACK / real;
    let size = scaled_size(clip, Some(LONGEST_SIDE_PX));
    let (width, height) = match clip.track.orientation.swaps_sides() {
        true => (size.1 as usize, size.0 as usize),
        false => (size.0 as usize, size.1 as usize),
    };
    let plan = Plan {
        size,
        layout: Layout::Grey,
        threads: 2,
    };
    let chosen = Chosen::Spaced(0, last, spacing_s);
    let mut decoder = Decoder::start(tools, clip, &chosen, &plan, cancel)?;
    let mut recent: Vec<Grey> = Vec::new();
    let mut times_s = Vec::new();
    let mut amounts = Vec::new();
    loop {
        let mut luma = vec![0; width * height];
        let Some(place) = decoder.next([&mut luma])? else {
            break;
        };
        times_s.push(place.time_s * real);
        recent.push(Grey::new(luma, width));
        if let [before, now, after] = recent.as_slice() {
            amounts.push(passing(before, now, after));
            recent.remove(0);
        }
        progress(place.time_s / facts.duration_s);
    }
    // The first and the last picture have one neighbour only.
    amounts.insert(0, 0.0);
    amounts.resize(times_s.len(), 0.0);
    Ok(FastMotion {
        amount: evenly_spaced(&times_s, &amounts),
    })
}

/// A small picture with the range of values around each pixel.
struct Grey {
    width: usize,
    luma: Vec<u8>,
    /// Darkest and brightest within 1, 2, … pixels across and down.
    ranges: Vec<(Vec<u8>, Vec<u8>)>,
}

impl Grey {
    fn new(luma: Vec<u8>, width: usize) -> Grey {
        let mut ranges = Vec::with_capacity(REACH_PX);
        let (mut darkest, mut brightest) = (luma.clone(), luma.clone());
        for _ in 0..REACH_PX {
            darkest = over_neighbours(&darkest, width, u8::min);
            brightest = over_neighbours(&brightest, width, u8::max);
            ranges.push((darkest.clone(), brightest.clone()));
        }
        Grey {
            width,
            luma,
            ranges,
        }
    }
}

/// Folds each pixel's 3 × 3 neighbourhood, first across, then down.
fn over_neighbours(luma: &[u8], width: usize, pick: fn(u8, u8) -> u8) -> Vec<u8> {
    let mut across = luma.to_vec();
    for (line, source) in across.chunks_exact_mut(width).zip(luma.chunks_exact(width)) {
        for x in 1..width {
            line[x] = pick(line[x], source[x - 1]);
            line[x - 1] = pick(line[x - 1], source[x]);
        }
    }
    let mut both = across.clone();
    for i in width..luma.len() {
        both[i] = pick(both[i], across[i - width]);
        both[i - width] = pick(both[i - width], across[i]);
    }
    both
}

/// Mean of what passes through the picture `now`, grey levels a pixel; 0 if the camera moved.
fn passing(before: &Grey, now: &Grey, after: &Grey) -> f64 {
    let width = now.width;
    let mut total = 0_i64;
    let mut changed = 0;
    // What a tremor brings in at the edge has no neighbour to be held against: the edge is left out.
    for line in 1..(now.luma.len() / width).saturating_sub(1) {
        let range = line * width..(line + 1) * width;
        let lift_before = line_lift(&now.luma[range.clone()], &before.luma[range.clone()]);
        let lift_after = line_lift(&now.luma[range.clone()], &after.luma[range.clone()]);
        for i in range.start + 1..range.end - 1 {
            let value = i16::from(now.luma[i]);
            for reach in 0..REACH_PX {
                let [from_before, from_after] = [(before, lift_before), (after, lift_after)]
                    .map(|(other, lift)| beyond(value - lift, &other.ranges[reach], i));
                changed += usize::from(reach == 0 && from_before.abs() > NOISE_LEVELS);
                let least = match from_before.signum() == from_after.signum() {
                    true => from_before.abs().min(from_after.abs()),
                    false => 0,
                };
                // What does not reach this far reaches no farther.
                if least <= NOISE_LEVELS {
                    break;
                }
                total += i64::from(least - NOISE_LEVELS);
            }
        }
    }
    let pixels = now.luma.len() as f64;
    if changed as f64 > CAMERA_MOVED_PART * pixels {
        return 0.0;
    }
    total as f64 / (pixels * REACH_PX as f64)
}

/// Median of the differences between two lines: what a flickering lamp adds to the first.
fn line_lift(now: &[u8], other: &[u8]) -> i16 {
    let mut differences: Vec<i16> = now
        .iter()
        .zip(other)
        .map(|(&a, &b)| i16::from(a) - i16::from(b))
        .collect();
    let middle = differences.len() / 2;
    *differences.select_nth_unstable(middle).1
}

/// How far `value` lies outside the range around pixel `i`; 0 inside.
fn beyond(value: i16, (darkest, brightest): &(Vec<u8>, Vec<u8>), i: usize) -> i16 {
    (value - i16::from(brightest[i])).max(0) + (value - i16::from(darkest[i])).min(0)
}

/// Linear interpolation on to steps of [`SPACING_S`] from the first time.
fn evenly_spaced(times_s: &[f64], values: &[f64]) -> Vec<f64> {
    let Some(&end_s) = times_s.last() else {
        return Vec::new();
    };
    let count = (end_s / SPACING_S).floor() as usize + 1;
    let at = |step: usize| {
        let time_s = step as f64 * SPACING_S;
        let next = times_s
            .partition_point(|&t| t <= time_s)
            .min(times_s.len() - 1);
        let before = next.saturating_sub(1);
        let span_s = times_s[next] - times_s[before];
        let part = if span_s > 0.0 {
            (time_s - times_s[before]) / span_s
        } else {
            0.0
        };
        values[before] + part.clamp(0.0, 1.0) * (values[next] - values[before])
    };
    (0..count).map(at).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const WIDTH: usize = 96;
    const HEIGHT: usize = 54;

    /// A dark upright bar on a textured ground that is lit by `lift`, shifted by `shake`.
    fn scene(bar: std::ops::Range<usize>, lift: u8, shake: usize) -> Grey {
        let mut luma = vec![0; WIDTH * HEIGHT];
        for (i, value) in luma.iter_mut().enumerate() {
            let (x, y) = (i % WIDTH + shake, i / WIDTH);
            let ground = 120 + ((x / 6 * 31 + y / 6 * 17) % 50) as u8;
            let covered = bar.contains(&(i % WIDTH));
            *value = if covered { 40 } else { ground } + lift;
        }
        Grey::new(luma, WIDTH)
    }

    fn bar_moving(width: usize, step: usize) -> f64 {
        let at = |n: usize| scene(20 + n * step..20 + n * step + width, 0, 0);
        passing(&at(0), &at(1), &at(2))
    }

    #[test]
    fn only_what_moves_faster_than_its_own_width_passes() {
        let fast_arm = bar_moving(4, 12);
        assert!(fast_arm > 2.0, "{fast_arm}");
        for (name, width, step) in [
            ("trunk walking", 20, 4),
            ("slow arm", 4, 1),
            ("still", 8, 0),
        ] {
            let amount = bar_moving(width, step);
            assert!(amount < 0.02 * fast_arm, "{name}: {amount}");
        }
    }

    #[test]
    fn lamps_that_flicker_and_hands_that_tremble_do_not_count() {
        let flicker = passing(&scene(0..0, 0, 0), &scene(0..0, 30, 0), &scene(0..0, 0, 0));
        let tremor = passing(&scene(0..0, 0, 0), &scene(0..0, 0, 1), &scene(0..0, 0, 0));
        assert_eq!((flicker, tremor), (0.0, 0.0));
    }

    #[test]
    fn a_moved_camera_counts_as_nothing() {
        assert_eq!(
            passing(&scene(0..0, 0, 0), &scene(0..0, 0, 9), &scene(0..0, 0, 0)),
            0.0
        );
    }

    #[test]
    fn uneven_times_are_evened_out() {
        let even = evenly_spaced(&[0.0, 0.05, 0.1], &[0.0, 5.0, 10.0]);
        for (step, value) in even.iter().enumerate() {
            assert!(
                (value - step as f64 * SPACING_S * 100.0).abs() < 1e-9,
                "{even:?}"
            );
        }
        assert_eq!(evenly_spaced(&[0.0], &[3.0]), [3.0]);
        assert!(evenly_spaced(&[], &[]).is_empty());
    }
}
