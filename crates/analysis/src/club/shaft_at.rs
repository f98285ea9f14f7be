//! The shaft's direction at an instant between pictures.

use super::way::Shaft;
use lessonwright_math::SD_TO_95;
use lessonwright_math::angle::wrap;

/// Pictures within this time have a say, s.
const REACH_S: f64 = 0.05;
/// On each side there is to be one within this time, s: a club at rest is looked at every 1/15 s.
const GAP_S: f64 = 0.10;
/// … unless one is as good as there, s.
const THERE_S: f64 = 0.003;
/// A club that turns farther than this between two pictures may have gone round the other way, rad.
const FARTHEST_RAD: f64 = 2.0;

/// A turn that changes by half of itself from one picture to the next strays from the straight way by a
/// quarter of it, times share and rest of the time.
const BEND: f64 = 0.25;

/// Direction, its rate and its standard deviation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct ShaftAt {
    /// Radians from right, plus clockwise as seen.
    pub angle_rad: f64,
    /// Radians a second.
    pub rate_rad_s: f64,
    /// Radians.
    pub sd_rad: f64,
}

/// The direction at a time, between pictures that show the shaft: a straight line, or from four pictures
/// nearby on a parabola, weighted by how sure each is. `None` where they are too far apart.
pub(crate) fn shaft_at(way: &[Shaft], time_s: f64) -> Option<ShaftAt> {
    let before = way.iter().rfind(|s| s.time_s <= time_s);
    let after = way.iter().find(|s| s.time_s >= time_s);
    let there = |s: &&Shaft| (s.time_s - time_s).abs() <= THERE_S;
    let [before, after] = match (before, after) {
        (Some(a), Some(b)) => [a, b],
        (a, b) => [[a, b].into_iter().flatten().find(there)?; 2],
    };
    let between = wrap(after.angle_rad - before.angle_rad);
    let gap_s = after.time_s - before.time_s;
    let is_there = [before, after].iter().any(there);
    if !is_there && (gap_s > GAP_S || between.abs() > FARTHEST_RAD) {
        return None;
    }
    let near: Vec<&Shaft> = way
        .iter()
        .filter(|s| (s.time_s - time_s).abs() <= REACH_S)
        .collect();
    let sure = near.len() > 3;
    // Far pictures on both sides: the straight way between them, and how far it may bend.
    let points = if sure { near } else { vec![before, after] };
    let nearest = *points.iter().min_by(|a, b| {
        (a.time_s - time_s)
            .abs()
            .total_cmp(&(b.time_s - time_s).abs())
    })?;
    let points: Vec<[f64; 3]> = unrolled(&points, nearest)
        .into_iter()
        .map(|(t, turn, sd)| [t - time_s, turn, sd.max(1e-4)])
        .collect();
    let degree = match (gap_s > 0.0, sure) {
        (_, true) => 2,
        (true, false) => 1,
        (false, false) => 0,
    };
    let fitted = polynomial(&points, degree)?;
    let misfit = points
        .iter()
        .map(|[t, turn, _]| {
            let at = fitted.terms[0] + fitted.terms[1] * t + fitted.terms[2] * t * t;
            (turn - at).powi(2)
        })
        .sum::<f64>();
    let spread = (misfit / points.len() as f64).sqrt();
    let bend = if sure || gap_s <= 0.0 {
        0.0
    } else {
        let share = (time_s - before.time_s) / gap_s;
        BEND * between.abs() * share * (1.0 - share)
    };
    Some(ShaftAt {
        angle_rad: wrap(nearest.angle_rad + fitted.terms[0]),
        rate_rad_s: fitted.terms[1],
        sd_rad: fitted.sd.hypot(spread / SD_TO_95).hypot(bend),
    })
}

/// Time, turn from the nearest picture's direction, and sd of each picture.
fn unrolled(near: &[&Shaft], nearest: &Shaft) -> Vec<(f64, f64, f64)> {
    let middle = near
        .iter()
        .position(|s| std::ptr::eq(*s, nearest))
        .unwrap_or(0);
    let mut turns = vec![0.0; near.len()];
    for i in middle + 1..near.len() {
        turns[i] = turns[i - 1] + wrap(near[i].angle_rad - near[i - 1].angle_rad);
    }
    for i in (0..middle).rev() {
        turns[i] = turns[i + 1] + wrap(near[i].angle_rad - near[i + 1].angle_rad);
    }
    near.iter()
        .zip(turns)
        .map(|(s, turn)| (s.time_s, turn, s.sd_rad))
        .collect()
}

pub(super) struct Polynomial {
    pub(super) terms: [f64; 3],
    /// Of the value at 0.
    sd: f64,
}

/// Weighted least squares; points are (x, y, sd of y).
pub(super) fn polynomial(points: &[[f64; 3]], degree: usize) -> Option<Polynomial> {
    let mut normal = glam::DMat3::ZERO;
    let mut right = glam::DVec3::ZERO;
    for [x, y, sd] in points {
        let weight = sd.powi(-2);
        let row: [f64; 3] =
            std::array::from_fn(|k| if k <= degree { x.powi(k as i32) } else { 0.0 });
        let row = glam::DVec3::from_array(row);
        normal += weight * glam::DMat3::from_cols(row * row.x, row * row.y, row * row.z);
        right += weight * *y * row;
    }
    for k in degree + 1..3 {
        normal.col_mut(k)[k] = 1.0;
    }
    let inverse = normal.inverse();
    if !inverse.is_finite() {
        return None;
    }
    Some(Polynomial {
        terms: (inverse * right).to_array(),
        sd: inverse.x_axis.x.max(0.0).sqrt(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_model::PixelPoint;

    #[test]
    fn a_turn_that_speeds_up_is_read_between_pictures() {
        let angle = |t: f64| 2.0 + 12.0 * t + 90.0 * t * t;
        let way: Vec<Shaft> = (0..20)
            .map(|i| {
                let time_s = f64::from(i) / 60.0;
                Shaft {
                    frame: i as usize,
                    time_s,
                    grip: PixelPoint::default(),
                    angle_rad: wrap(angle(time_s)),
                    sd_rad: 0.01,
                    length_px: 100.0,
                    head: None,
                }
            })
            .collect();
        let found = shaft_at(&way, 0.155).expect("pictures nearby");
        assert!(wrap(found.angle_rad - angle(0.155)).abs() < 1e-9);
        assert!((found.rate_rad_s - (12.0 + 180.0 * 0.155)).abs() < 1e-6);
        assert!(shaft_at(&way, 0.5).is_none(), "no picture nearby");
    }

    fn seen(at: &[(f64, f64)]) -> Vec<Shaft> {
        at.iter()
            .map(|&(time_s, angle_rad)| Shaft {
                frame: 0,
                time_s,
                grip: PixelPoint::default(),
                angle_rad,
                sd_rad: 0.01,
                length_px: 100.0,
                head: None,
            })
            .collect()
    }

    #[test]
    fn pictures_on_one_side_only_tell_nothing() {
        assert!(shaft_at(&seen(&[(0.0, 1.0), (0.033, 1.2)]), 0.066).is_none());
        assert!(shaft_at(&seen(&[(0.0, 1.0)]), 0.035).is_none());
        assert!(shaft_at(&seen(&[(0.0, 1.0)]), 0.002).is_some());
    }

    #[test]
    fn a_club_that_may_have_gone_round_either_way_tells_nothing() {
        assert!(shaft_at(&seen(&[(0.0, 1.0), (0.033, -1.8)]), 0.016).is_none());
        // Across the end of the circle is the short way; half-way it may bend.
        let at = shaft_at(&seen(&[(0.0, 3.0), (0.066, -3.0)]), 0.033).expect("a short way");
        assert!(wrap(at.angle_rad - std::f64::consts::PI).abs() < 1e-9);
        assert!(at.sd_rad > 0.015, "{at:?}");
    }
}
