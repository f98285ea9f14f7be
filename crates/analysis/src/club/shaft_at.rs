//! The shaft's direction at an instant between pictures.

use super::way::{Shaft, wrapped};
use lessonwright_math::SD_TO_95;

/// Pictures within this time have a say, s.
const REACH_S: f64 = 0.05;
/// The nearest picture is to be nearer than this, s; a club at rest is looked at every 1/15 s.
const NEAREST_S: f64 = 0.04;

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

/// The direction at a time: a straight line, or from four pictures on a parabola, through the
/// directions nearby, weighted by how sure each is. `None` where no picture nearby shows the shaft.
pub(crate) fn shaft_at(way: &[Shaft], time_s: f64) -> Option<ShaftAt> {
    let near: Vec<&Shaft> = way
        .iter()
        .filter(|s| (s.time_s - time_s).abs() <= REACH_S)
        .collect();
    let nearest = near.iter().min_by(|a, b| {
        (a.time_s - time_s)
            .abs()
            .total_cmp(&(b.time_s - time_s).abs())
    })?;
    if (nearest.time_s - time_s).abs() > NEAREST_S {
        return None;
    }
    // Turns from picture to picture, outward from the nearest, so that none is counted the wrong way round.
    let points: Vec<[f64; 3]> = unrolled(&near, nearest)
        .into_iter()
        .map(|(t, turn, sd)| [t - time_s, turn, sd.max(1e-4)])
        .collect();
    let degree = match points.len() {
        1 => 0,
        2 | 3 => 1,
        _ => 2,
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
    Some(ShaftAt {
        angle_rad: wrapped(nearest.angle_rad + fitted.terms[0]),
        rate_rad_s: fitted.terms[1],
        sd_rad: fitted
            .sd
            .hypot(spread / SD_TO_95)
            .max(nearest.sd_rad / (points.len() as f64).sqrt()),
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
        turns[i] = turns[i - 1] + wrapped(near[i].angle_rad - near[i - 1].angle_rad);
    }
    for i in (0..middle).rev() {
        turns[i] = turns[i + 1] + wrapped(near[i].angle_rad - near[i + 1].angle_rad);
    }
    near.iter()
        .zip(turns)
        .map(|(s, turn)| (s.time_s, turn, s.sd_rad))
        .collect()
}

struct Polynomial {
    terms: [f64; 3],
    /// Of the value at 0.
    sd: f64,
}

/// Weighted least squares; points are (x, y, sd of y).
fn polynomial(points: &[[f64; 3]], degree: usize) -> Option<Polynomial> {
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
                    angle_rad: wrapped(angle(time_s)),
                    sd_rad: 0.01,
                    length_px: 100.0,
                    head: None,
                    head_sd_px: 1.0,
                }
            })
            .collect();
        let found = shaft_at(&way, 0.155).expect("pictures nearby");
        assert!(wrapped(found.angle_rad - angle(0.155)).abs() < 1e-9);
        assert!((found.rate_rad_s - (12.0 + 180.0 * 0.155)).abs() < 1e-6);
        assert!(shaft_at(&way, 0.5).is_none(), "no picture nearby");
    }
}
