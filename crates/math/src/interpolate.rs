//! Values, slopes and crossings between samples at strictly increasing, possibly uneven times.

use thiserror::Error;

/// Why samples could not be joined.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum KnotError {
    /// Fewer than two samples, or lists of different lengths.
    #[error("a curve needs at least two samples, as many values as times")]
    TooFew,
    /// Times do not increase, or a number is not finite.
    #[error("a curve needs strictly increasing times and finite values; sample {0} breaks this")]
    Unordered(usize),
}

fn check(times: &[f64], values: &[f64]) -> Result<(), KnotError> {
    if times.len() < 2 || times.len() != values.len() {
        return Err(KnotError::TooFew);
    }
    for i in 0..times.len() {
        let ordered = i == 0 || times[i] > times[i - 1];
        if !ordered || !times[i].is_finite() || !values[i].is_finite() {
            return Err(KnotError::Unordered(i));
        }
    }
    Ok(())
}

/// Piecewise cubic in Hermite form: values and slopes at the knots.
#[derive(Clone, Debug, PartialEq)]
struct Hermite {
    times: Vec<f64>,
    values: Vec<f64>,
    slopes: Vec<f64>,
}

impl Hermite {
    /// Index of the piece that holds `t`; the end pieces serve what lies outside.
    fn piece(&self, t: f64) -> usize {
        let after = self.times.partition_point(|&knot| knot <= t);
        after.saturating_sub(1).min(self.times.len() - 2)
    }

    /// Value with `s` in 0..=1 along the piece:
    /// `(2s³−3s²+1) v₀ + (s³−2s²+s) h m₀ + (3s²−2s³) v₁ + (s³−s²) h m₁`.
    fn at(&self, t: f64) -> f64 {
        let t = t.clamp(self.times[0], self.times[self.times.len() - 1]);
        let i = self.piece(t);
        let h = self.times[i + 1] - self.times[i];
        let s = (t - self.times[i]) / h;
        let (s2, s3) = (s * s, s * s * s);
        (2.0 * s3 - 3.0 * s2 + 1.0) * self.values[i]
            + (s3 - 2.0 * s2 + s) * h * self.slopes[i]
            + (3.0 * s2 - 2.0 * s3) * self.values[i + 1]
            + (s3 - s2) * h * self.slopes[i + 1]
    }

    fn slope(&self, t: f64) -> f64 {
        let t = t.clamp(self.times[0], self.times[self.times.len() - 1]);
        let i = self.piece(t);
        let h = self.times[i + 1] - self.times[i];
        let s = (t - self.times[i]) / h;
        let s2 = s * s;
        (6.0 * s2 - 6.0 * s) / h * (self.values[i] - self.values[i + 1])
            + (3.0 * s2 - 4.0 * s + 1.0) * self.slopes[i]
            + (3.0 * s2 - 2.0 * s) * self.slopes[i + 1]
    }
}

/// Cubic that never overshoots its samples (Fritsch & Carlson 1980, *SIAM J Numer Anal*
/// 17:238–246, with the weighted harmonic mean of Fritsch & Butland 1984): for filling gaps.
#[derive(Clone, Debug, PartialEq)]
pub struct MonotoneCubic(Hermite);

impl MonotoneCubic {
    /// # Errors
    /// When there are fewer than two samples, times do not increase, or a number is not finite.
    pub fn new(times: &[f64], values: &[f64]) -> Result<MonotoneCubic, KnotError> {
        check(times, values)?;
        let n = times.len();
        let chord = |i: usize| (values[i + 1] - values[i]) / (times[i + 1] - times[i]);
        let mut slopes = vec![0.0; n];
        for i in 1..n - 1 {
            let (h0, h1) = (times[i] - times[i - 1], times[i + 1] - times[i]);
            let (d0, d1) = (chord(i - 1), chord(i));
            if d0 * d1 > 0.0 {
                let (w0, w1) = (2.0 * h1 + h0, h1 + 2.0 * h0);
                slopes[i] = (w0 + w1) / (w0 / d0 + w1 / d1);
            }
        }
        slopes[0] = chord(0);
        slopes[n - 1] = chord(n - 2);
        Ok(MonotoneCubic(Hermite {
            times: times.to_vec(),
            values: values.to_vec(),
            slopes,
        }))
    }

    /// Value at `t`; the end values outside.
    pub fn at(&self, t: f64) -> f64 {
        self.0.at(t)
    }
}

/// Natural cubic spline: two continuous derivatives, so slopes and turning points are smooth.
/// For signals that have already been filtered.
#[derive(Clone, Debug, PartialEq)]
pub struct CubicSpline(Hermite);

impl CubicSpline {
    /// # Errors
    /// When there are fewer than two samples, times do not increase, or a number is not finite.
    pub fn new(times: &[f64], values: &[f64]) -> Result<CubicSpline, KnotError> {
        check(times, values)?;
        Ok(CubicSpline(Hermite {
            times: times.to_vec(),
            values: values.to_vec(),
            slopes: natural_slopes(times, values),
        }))
    }

    /// Value at `t`; the end values outside.
    pub fn at(&self, t: f64) -> f64 {
        self.0.at(t)
    }

    /// First derivative at `t`; the end slopes outside.
    pub fn slope(&self, t: f64) -> f64 {
        self.0.slope(t)
    }

    /// First and last sample time.
    pub fn span(&self) -> (f64, f64) {
        (self.0.times[0], self.0.times[self.0.times.len() - 1])
    }
}

/// Slopes at the knots of the natural spline: the tridiagonal system of continuous second
/// derivatives, `m[i−1]/h₀ + 2(1/h₀ + 1/h₁) m[i] + m[i+1]/h₁ = 3(d₀/h₀ + d₁/h₁)`, with
/// `2 m₀ + m₁ = 3 d₀` at the ends, solved by elimination (Thomas).
fn natural_slopes(times: &[f64], values: &[f64]) -> Vec<f64> {
    let n = times.len();
    let h = |i: usize| times[i + 1] - times[i];
    let chord = |i: usize| (values[i + 1] - values[i]) / h(i);
    // Row i after elimination: m[i] + upper[i] m[i+1] = right[i].
    let mut upper = vec![0.0; n];
    let mut right = vec![0.0; n];
    upper[0] = 0.5;
    right[0] = 1.5 * chord(0);
    for i in 1..n {
        let (below, diagonal, above, value) = if i + 1 < n {
            let (h0, h1) = (h(i - 1), h(i));
            let diagonal = 2.0 * (1.0 / h0 + 1.0 / h1);
            let value = 3.0 * (chord(i - 1) / h0 + chord(i) / h1);
            (1.0 / h0, diagonal, 1.0 / h1, value)
        } else {
            (1.0, 2.0, 0.0, 3.0 * chord(n - 2))
        };
        let pivot = diagonal - below * upper[i - 1];
        upper[i] = above / pivot;
        right[i] = (value - below * right[i - 1]) / pivot;
    }
    let mut slopes = right;
    for i in (0..n - 1).rev() {
        slopes[i] -= upper[i] * slopes[i + 1];
    }
    slopes
}

/// `count` evenly spaced times from `start_s`, `1 / rate_hz` apart.
pub fn even_times(start_s: f64, rate_hz: f64, count: usize) -> Vec<f64> {
    (0..count).map(|i| start_s + i as f64 / rate_hz).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn natural_spline_agrees_with_scipy() {
        // A cubic whose second derivative vanishes at both ends is its own natural spline:
        // f = t³ − 3t² + 2t has f″ = 6t − 6, so take f on [1, 1+k] mirrored … use sin on [0, π]:
        // f″(0) = f″(π) = 0, and the spline's error is O(h⁴): (π/20)⁴ / 384 · 5 ≈ 8e-6.
        let times: Vec<f64> = (0..=20)
            .map(|i| std::f64::consts::PI * f64::from(i) / 20.0)
            .collect();
        let values: Vec<f64> = times.iter().map(|t| t.sin()).collect();
        let spline = CubicSpline::new(&times, &values).unwrap();
        for k in 0..400 {
            let t = std::f64::consts::PI * f64::from(k) / 400.0;
            assert!((spline.at(t) - t.sin()).abs() < 8e-6, "value at {t}");
            // Slope error is O(h³)/24 ≈ 1.6e-4.
            assert!((spline.slope(t) - t.cos()).abs() < 1.7e-4, "slope at {t}");
        }
    }

    #[test]
    fn broken_samples_are_refused() {
        assert_eq!(CubicSpline::new(&[0.0], &[1.0]), Err(KnotError::TooFew));
        assert_eq!(
            CubicSpline::new(&[0.0, 0.0], &[1.0, 2.0]),
            Err(KnotError::Unordered(1))
        );
        assert_eq!(
            MonotoneCubic::new(&[0.0, 1.0], &[1.0, f64::NAN]),
            Err(KnotError::Unordered(1))
        );
    }

    fn knots() -> impl Strategy<Value = (Vec<f64>, Vec<f64>)> {
        prop::collection::vec((0.01..0.2f64, -10.0..10.0f64), 2..40).prop_map(|steps| {
            let mut t = 0.0;
            steps
                .into_iter()
                .map(|(dt, v)| {
                    t += dt;
                    (t, v)
                })
                .unzip()
        })
    }

    proptest! {
        #[test]
        fn both_curves_pass_through_their_samples((times, values) in knots()) {
            let monotone = MonotoneCubic::new(&times, &values).unwrap();
            let spline = CubicSpline::new(&times, &values).unwrap();
            for (t, v) in times.iter().zip(&values) {
                prop_assert!((monotone.at(*t) - v).abs() < 1e-9);
                prop_assert!((spline.at(*t) - v).abs() < 1e-9);
            }
        }

        #[test]
        fn the_monotone_curve_never_overshoots((times, values) in knots(), part in 0.0..1.0f64) {
            let curve = MonotoneCubic::new(&times, &values).unwrap();
            for i in 1..times.len() {
                let t = times[i - 1] + part * (times[i] - times[i - 1]);
                let (low, high) = (values[i - 1].min(values[i]), values[i - 1].max(values[i]));
                // The end pieces start at chord slope, which may not overshoot either.
                prop_assert!(curve.at(t) >= low - 1e-9 && curve.at(t) <= high + 1e-9);
            }
        }

        #[test]
        fn a_straight_line_stays_straight(
            (times, _) in knots(), start in -5.0..5.0f64, slope in -5.0..5.0f64, part in 0.0..1.0f64,
        ) {
            let values: Vec<f64> = times.iter().map(|t| start + slope * t).collect();
            let spline = CubicSpline::new(&times, &values).unwrap();
            let monotone = MonotoneCubic::new(&times, &values).unwrap();
            let t = times[0] + part * (times[times.len() - 1] - times[0]);
            prop_assert!((spline.at(t) - (start + slope * t)).abs() < 1e-9);
            prop_assert!((monotone.at(t) - (start + slope * t)).abs() < 1e-9);
            prop_assert!((spline.slope(t) - slope).abs() < 1e-8);
        }
    }
}
