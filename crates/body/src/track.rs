//! One view's image points at any time, so that clips of any rates meet on one grid of instants.

use crate::input::{Seen, SeenDepth, ViewTrack};
use glam::DVec2;

/// A point is not carried over a longer gap, s: half a dozen frames at 60/s, by then a hand has
/// gone round a bend.
const LONGEST_GAP_S: f64 = 0.1;

/// A point between frames.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Interpolated {
    pub(crate) seen: Seen,
    pub(crate) velocity_px_s: DVec2,
}

/// Where a point is at a time of the clip: cubic Hermite between the frames on either side with
/// the slopes of their neighbours, where both show it; `None` otherwise.
pub(crate) fn at(track: &ViewTrack, point: usize, time_s: f64) -> Option<Interpolated> {
    let times = &track.times_s;
    // a hair of tolerance for a time that is a frame's own
    let time_s = if (time_s - times[0]).abs() < 1e-6 {
        times[0]
    } else if (time_s - times[times.len() - 1]).abs() < 1e-6 {
        times[times.len() - 1]
    } else {
        time_s
    };
    let after = times.partition_point(|t| *t <= time_s).min(times.len() - 1);
    let i = after.checked_sub(1)?;
    let span = times[after] - times[i];
    if time_s < times[i] || time_s > times[after] || span > LONGEST_GAP_S {
        return None;
    }
    let get = |k: usize| track.frames.get(k)?[point];
    let (near, far) = ((time_s - times[i]) / span, (times[after] - time_s) / span);
    // On a frame that shows it, its neighbour need not.
    if near < 1e-3 || far < 1e-3 {
        let k = if near < 1e-3 { i } else { after };
        let seen = get(k)?;
        return Some(Interpolated {
            seen,
            velocity_px_s: slope(track, &get, k),
        });
    }
    let (a, b) = (get(i)?, get(after)?);
    let (ma, mb) = (
        slope(track, &get, i) * span,
        slope(track, &get, after) * span,
    );
    let u = near;
    let (u2, u3) = (u * u, u * u * u);
    let pixel = a.pixel * (2.0 * u3 - 3.0 * u2 + 1.0)
        + ma * (u3 - 2.0 * u2 + u)
        + b.pixel * (3.0 * u2 - 2.0 * u3)
        + mb * (u3 - u2);
    let velocity = (a.pixel * (6.0 * u2 - 6.0 * u)
        + ma * (3.0 * u2 - 4.0 * u + 1.0)
        + b.pixel * (6.0 * u - 6.0 * u2)
        + mb * (3.0 * u2 - 2.0 * u))
        / span;
    let mix = |x: f64, y: f64| x * (1.0 - u) + y * u;
    Some(Interpolated {
        seen: Seen {
            pixel,
            sd_px: mix(a.sd_px, b.sd_px),
            depth: a.depth.zip(b.depth).map(|(a, b)| SeenDepth {
                depth_m: mix(a.depth_m, b.depth_m),
                sd_m: mix(a.sd_m, b.sd_m),
            }),
        },
        velocity_px_s: velocity,
    })
}

/// Slope at a frame from the neighbours that show the point, px/s: that of the parabola through
/// three, the secant of two, 0 of one.
fn slope(track: &ViewTrack, get: &impl Fn(usize) -> Option<Seen>, k: usize) -> DVec2 {
    let times = &track.times_s;
    let secant = |i: usize, j: usize| Some((get(j)?.pixel - get(i)?.pixel) / (times[j] - times[i]));
    let before = k.checked_sub(1).and_then(|i| secant(i, k));
    let behind = (k + 1 < times.len()).then(|| secant(k, k + 1)).flatten();
    match (before, behind) {
        (Some(b), Some(a)) => {
            let (hb, ha) = (times[k] - times[k - 1], times[k + 1] - times[k]);
            (b * ha + a * hb) / (ha + hb)
        }
        (one, other) => one.or(other).unwrap_or(DVec2::ZERO),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::camera::View;

    #[test]
    fn a_parabola_comes_back_and_a_gap_stays_one() {
        let path = |t: f64| DVec2::new(100.0 + 300.0 * t, 50.0 - 900.0 * t * t);
        let times: Vec<f64> = (0..12).map(|i| i as f64 / 60.0).collect();
        let frames = times
            .iter()
            .enumerate()
            .map(|(i, t)| {
                let mut pose = [None; crate::points::POINTS];
                pose[0] = (i != 8).then(|| Seen {
                    pixel: path(*t),
                    sd_px: 2.0,
                    depth: None,
                });
                pose
            })
            .collect();
        let track = ViewTrack {
            view: View::FaceOn,
            size_px: [200.0, 200.0],
            times_s: times,
            frames,
            address_s: 0.0,
            takeaway_s: 0.0,
            impact_s: 0.1,
            distance_m: None,
            focal_px: None,
            bearing_rad: 0.0,
            bearing_sd_rad: 0.1,
        };
        let t = 4.3 / 60.0;
        let between = at(&track, 0, t).expect("seen on both sides");
        assert!(between.seen.pixel.distance(path(t)) < 1e-9);
        assert!((between.velocity_px_s.y + 1800.0 * t).abs() < 1e-6);
        assert!(at(&track, 0, 7.5 / 60.0).is_none());
        assert!(at(&track, 0, 9.0 / 60.0).is_some());
        assert!(at(&track, 0, 12.0 / 60.0).is_none());
    }
}
