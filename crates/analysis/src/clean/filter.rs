//! Short gaps bridged, each stretch filtered without lag.

use super::{Origin, TrackPoint, noise_sigma};
use crate::path::Path;
use lessonwright_math::interpolate::even_times;
use lessonwright_math::{MonotoneCubic, ZeroLagLowPass};
use lessonwright_model::{Joint, PixelPoint};

/// Longest gap that is bridged, s: legs and trunk move smoothly for that long, arms turn round
/// within 0.1 s at the top and pass impact in less.
const BRIDGE_SLOW_S: f64 = 0.15;
const BRIDGE_FAST_S: f64 = 0.08;
/// Cut-offs, Hz. The pelvis goes through its downswing in about 0.3 s at up to 0.35 m/s (Beak et
/// al. 2013), so 99 % of its motion lies below 6 Hz; shoulders, elbows and wrists move faster in
/// this order. Within the 6–15 Hz used for body segments in golf (from memory; no golf paper's
/// figure was read).
const CUTOFF_BODY_HZ: f64 = 6.0;
const CUTOFF_SHOULDER_HZ: f64 = 8.0;
const CUTOFF_ELBOW_HZ: f64 = 10.0;
const CUTOFF_WRIST_HZ: f64 = 12.0;
/// Highest cut-off as a share of the sampling rate: above 0.4 the filter does nothing useful.
const CUTOFF_SHARE: f64 = 0.4;
/// Spacings may differ by this share of the median before the track is put on an even grid.
const EVEN_SHARE: f64 = 0.02;
/// No network says where a joint is to better than this, px.
const LEAST_SIGMA_PX: f64 = 0.3;
/// How fast a bridged point becomes doubtful, body heights a second of distance from a seen one:
/// a pelvis at 0.35 m/s moves 0.25 heights a second, and half of that may be missed by a bridge.
const BRIDGE_DOUBT: f64 = 0.12;

/// Cleaned points of one joint at the frames, and its path. `kept` are the points that were seen,
/// `used` those and what stands in for others.
pub fn filter_joint(
    joint: usize,
    times_s: &[f64],
    rate_hz: f64,
    kept: &[Option<PixelPoint>],
    used: &[Option<PixelPoint>],
    span_px: f64,
) -> (Vec<Option<TrackPoint>>, Path) {
    let filled = bridge(times_s, used, longest_bridge_s(joint));
    let mut smooth = vec![None; filled.len()];
    let mut start = 0;
    while start < filled.len() {
        let length = filled[start..].iter().take_while(|p| p.is_some()).count();
        let stretch: Vec<PixelPoint> = filled[start..start + length]
            .iter()
            .flatten()
            .copied()
            .collect();
        let filtered = low_pass(
            &times_s[start..start + length],
            &stretch,
            cutoff_hz(joint),
            rate_hz,
        );
        for (offset, point) in filtered.into_iter().enumerate() {
            smooth[start + offset] = Some(point);
        }
        start += length.max(1);
    }
    let (before, after): (Vec<PixelPoint>, Vec<PixelPoint>) = kept
        .iter()
        .zip(&smooth)
        .filter_map(|(k, s)| Some((((*k)?), ((*s)?))))
        .unzip();
    let left = ZeroLagLowPass::new(cutoff_hz(joint).min(CUTOFF_SHARE * rate_hz), rate_hz)
        .map_or(1.0, |f| f.noise_gain());
    // What the filter took away had (1 − g²) of the noise's power, what is left g².
    let taken = noise_sigma(&before, &after);
    let sigma_px = (taken * left / (1.0 - left * left).max(0.1).sqrt()).max(LEAST_SIGMA_PX);
    let points = (0..kept.len())
        .map(|i| {
            smooth[i].map(|at| TrackPoint {
                at,
                sigma_px: sigma_px
                    .hypot(BRIDGE_DOUBT * span_px * distance_to_seen(times_s, kept, i)),
                spread_px: None,
                origin: if kept[i].is_some() {
                    Origin::Seen
                } else {
                    Origin::Bridged
                },
            })
        })
        .collect();
    (points, Path::through(times_s, &smooth, sigma_px))
}

fn cutoff_hz(joint: usize) -> f64 {
    match joint {
        j if j == Joint::LeftShoulder as usize || j == Joint::RightShoulder as usize => {
            CUTOFF_SHOULDER_HZ
        }
        j if j == Joint::LeftElbow as usize || j == Joint::RightElbow as usize => CUTOFF_ELBOW_HZ,
        j if is_hand(j) => CUTOFF_WRIST_HZ,
        _ => CUTOFF_BODY_HZ,
    }
}

fn is_hand(joint: usize) -> bool {
    (Joint::LeftWrist as usize..=Joint::RightThumb as usize).contains(&joint)
}

fn longest_bridge_s(joint: usize) -> f64 {
    if (Joint::LeftElbow as usize..=Joint::RightThumb as usize).contains(&joint) {
        BRIDGE_FAST_S
    } else {
        BRIDGE_SLOW_S
    }
}

/// Fills gaps no longer than `longest_s` between two seen points.
fn bridge(times_s: &[f64], kept: &[Option<PixelPoint>], longest_s: f64) -> Vec<Option<PixelPoint>> {
    let seen: Vec<usize> = (0..kept.len()).filter(|&i| kept[i].is_some()).collect();
    let mut filled = kept.to_vec();
    let times: Vec<f64> = seen.iter().map(|&i| times_s[i]).collect();
    let points: Vec<PixelPoint> = seen.iter().filter_map(|&i| kept[i]).collect();
    let xs: Vec<f64> = points.iter().map(|p| p.x).collect();
    let ys: Vec<f64> = points.iter().map(|p| p.y).collect();
    let (Ok(x), Ok(y)) = (
        MonotoneCubic::new(&times, &xs),
        MonotoneCubic::new(&times, &ys),
    ) else {
        return filled;
    };
    for ends in seen.windows(2) {
        if times_s[ends[1]] - times_s[ends[0]] > longest_s {
            continue;
        }
        for i in ends[0] + 1..ends[1] {
            filled[i] = Some(PixelPoint {
                x: x.at(times_s[i]),
                y: y.at(times_s[i]),
            });
        }
    }
    filled
}

/// Zero-lag low-pass of one stretch; on an even grid if its times are uneven.
fn low_pass(
    times_s: &[f64],
    points: &[PixelPoint],
    cutoff_hz: f64,
    rate_hz: f64,
) -> Vec<PixelPoint> {
    let Ok(filter) = ZeroLagLowPass::new(cutoff_hz.min(CUTOFF_SHARE * rate_hz), rate_hz) else {
        return points.to_vec();
    };
    let coordinate = |pick: fn(&PixelPoint) -> f64| {
        let values: Vec<f64> = points.iter().map(pick).collect();
        let even = times_s
            .windows(2)
            .all(|w| ((w[1] - w[0]) * rate_hz - 1.0).abs() <= EVEN_SHARE);
        if even {
            return filter.apply(&values);
        }
        filter_uneven(&filter, times_s, &values, rate_hz)
    };
    let (xs, ys) = (coordinate(|p| p.x), coordinate(|p| p.y));
    xs.into_iter()
        .zip(ys)
        .map(|(x, y)| PixelPoint { x, y })
        .collect()
}

/// Puts values on an even grid, filters, and reads them off at their own times again.
fn filter_uneven(
    filter: &ZeroLagLowPass,
    times_s: &[f64],
    values: &[f64],
    rate_hz: f64,
) -> Vec<f64> {
    let Ok(curve) = MonotoneCubic::new(times_s, values) else {
        return values.to_vec();
    };
    let span_s = times_s[times_s.len() - 1] - times_s[0];
    let grid = even_times(times_s[0], rate_hz, (span_s * rate_hz).ceil() as usize + 1);
    let on_grid: Vec<f64> = grid.iter().map(|&t| curve.at(t)).collect();
    let filtered = filter.apply(&on_grid);
    match lessonwright_math::CubicSpline::new(&grid, &filtered) {
        Ok(spline) => times_s.iter().map(|&t| spline.at(t)).collect(),
        Err(_) => values.to_vec(),
    }
}

/// Time from frame `i` to the nearest frame in which the point was kept, s.
fn distance_to_seen(times_s: &[f64], kept: &[Option<PixelPoint>], i: usize) -> f64 {
    if kept[i].is_some() {
        return 0.0;
    }
    (0..kept.len())
        .filter(|&k| kept[k].is_some())
        .map(|k| (times_s[k] - times_s[i]).abs())
        .fold(f64::INFINITY, f64::min)
}
