//! Robust smoothing of a planar track: what the bulk of the samples say, and which samples
//! disagree.
//!
//! Minimises `Σ wᵢ |yᵢ − zᵢ|² + λ Σ |Δ²z|²` (Whittaker 1923; Eilers PHC 2003, *Anal Chem*
//! 75:3631–3636) with second differences for uneven times, reweighted by Tukey's bisquare so that
//! outliers lose their say (Beaton & Tukey 1974), after a start by least absolute deviations. Missing samples have weight 0 and come back
//! bridged.

use crate::robust::median;
use std::f64::consts::PI;

/// Tukey's constant: 95 % efficiency on normal noise.
const BISQUARE: f64 = 4.685;
/// Median of the Rayleigh distribution, `√(2 ln 2)`: distance of planar normal noise to its sigma.
const RAYLEIGH_MEDIAN: f64 = 1.177_410_022_515_474_7;
/// Reweightings by `1/|miss|` (least absolute deviations: no bad start can win) and then by the
/// bisquare (rejects for good); either settles in four or five.
const ROUNDS_ABSOLUTE: usize = 6;
const ROUNDS_BISQUARE: usize = 6;

/// How stiff, and from which distance on a sample may count as wild.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RobustSmoother {
    /// Frequency at which half of a motion's amplitude is followed, Hz.
    pub half_gain_hz: f64,
    /// Least noise sigma to assume, in the track's unit: keeps a noiseless track from calling
    /// its own curvature an outlier.
    pub least_sigma: f64,
}

/// A smoothed planar track.
#[derive(Clone, Debug, PartialEq)]
pub struct Smoothed {
    /// First coordinate.
    pub x: Vec<f64>,
    /// Second coordinate.
    pub y: Vec<f64>,
    /// Robust weight in 0..=1 of each sample; 0 for a rejected or a missing one.
    pub weights: Vec<f64>,
    /// Noise sigma of one coordinate.
    pub sigma: f64,
}

impl RobustSmoother {
    /// Smooths samples at increasing `times_s`; `None` marks a missing one. Returns `None` when
    /// fewer than three samples are there.
    pub fn smooth(&self, times_s: &[f64], samples: &[Option<(f64, f64)>]) -> Option<Smoothed> {
        let present: Vec<bool> = samples.iter().map(Option::is_some).collect();
        if present.iter().filter(|p| **p).count() < 3 {
            return None;
        }
        let xs: Vec<f64> = samples.iter().map(|s| s.map_or(0.0, |p| p.0)).collect();
        let ys: Vec<f64> = samples.iter().map(|s| s.map_or(0.0, |p| p.1)).collect();
        let stiffness = self.stiffness(times_s);
        let mut weights: Vec<f64> = present.iter().map(|p| f64::from(u8::from(*p))).collect();
        let mut sigma = self.least_sigma;
        let (mut x, mut y) = (xs.clone(), ys.clone());
        for round in 0..ROUNDS_ABSOLUTE + ROUNDS_BISQUARE {
            let system = Pentadiagonal::whittaker(times_s, &weights, stiffness);
            x = system.solve(&weights, &xs);
            y = system.solve(&weights, &ys);
            let misses: Vec<f64> = (0..xs.len())
                .filter(|&i| present[i])
                .map(|i| (xs[i] - x[i]).hypot(ys[i] - y[i]))
                .collect();
            sigma = (median(&misses)? / RAYLEIGH_MEDIAN).max(self.least_sigma);
            for i in (0..xs.len()).filter(|&i| present[i]) {
                let miss = (xs[i] - x[i]).hypot(ys[i] - y[i]) / sigma;
                weights[i] = if round < ROUNDS_ABSOLUTE {
                    1.0 / miss.max(1.0)
                } else {
                    (1.0 - (miss / BISQUARE).powi(2)).max(0.0).powi(2)
                };
            }
        }
        Some(Smoothed {
            x,
            y,
            weights,
            sigma,
        })
    }

    /// λ for which the gain `1 / (1 + λ (2 sin πf/fs)⁴)` is one half at `half_gain_hz`.
    fn stiffness(&self, times_s: &[f64]) -> f64 {
        let spacings: Vec<f64> = times_s.windows(2).map(|w| w[1] - w[0]).collect();
        let rate = 1.0 / median(&spacings).unwrap_or(1.0);
        (2.0 * (PI * (self.half_gain_hz / rate).min(0.5)).sin()).powi(-4)
    }
}

/// A symmetric matrix of half-bandwidth 2, factored as L D Lᵀ.
struct Pentadiagonal {
    diagonal: Vec<f64>,
    first: Vec<f64>,
    second: Vec<f64>,
}

impl Pentadiagonal {
    /// `W + λ D₂ᵀ D₂` with second differences scaled to the median spacing, factored.
    fn whittaker(times: &[f64], weights: &[f64], stiffness: f64) -> Pentadiagonal {
        let n = times.len();
        // Far below any weight that matters; keeps the factor regular where all weights vanish.
        const RIDGE: f64 = 1e-12;
        let mut d: Vec<f64> = weights.iter().map(|w| w + RIDGE).collect();
        let mut e = vec![0.0; n];
        let mut f = vec![0.0; n];
        let spacings: Vec<f64> = times.windows(2).map(|w| w[1] - w[0]).collect();
        let unit = median(&spacings).unwrap_or(1.0);
        for i in 1..n - 1 {
            let (h0, h1) = (spacings[i - 1] / unit, spacings[i] / unit);
            let row = [
                2.0 / (h0 * (h0 + h1)),
                -2.0 / (h0 * h1),
                2.0 / (h1 * (h0 + h1)),
            ];
            d[i - 1] += stiffness * row[0] * row[0];
            d[i] += stiffness * row[1] * row[1];
            d[i + 1] += stiffness * row[2] * row[2];
            e[i - 1] += stiffness * row[0] * row[1];
            e[i] += stiffness * row[1] * row[2];
            f[i - 1] += stiffness * row[0] * row[2];
        }
        for i in 0..n {
            if i >= 1 {
                let l1 = e[i - 1];
                d[i] -= l1 * l1 * d[i - 1];
                if i >= 2 {
                    d[i] -= f[i - 2] * f[i - 2] * d[i - 2];
                }
            }
            if i + 1 < n {
                if i >= 1 {
                    e[i] -= f[i - 1] * e[i - 1] * d[i - 1];
                }
                e[i] /= d[i];
            }
            if i + 2 < n {
                f[i] /= d[i];
            }
        }
        Pentadiagonal {
            diagonal: d,
            first: e,
            second: f,
        }
    }

    /// Solves for the right-hand side `W y`.
    fn solve(&self, weights: &[f64], values: &[f64]) -> Vec<f64> {
        let n = values.len();
        let mut z: Vec<f64> = weights.iter().zip(values).map(|(w, v)| w * v).collect();
        for i in 1..n {
            z[i] -= self.first[i - 1] * z[i - 1];
            if i >= 2 {
                z[i] -= self.second[i - 2] * z[i - 2];
            }
        }
        for i in (0..n).rev() {
            z[i] /= self.diagonal[i];
            if i + 1 < n {
                z[i] -= self.first[i] * z[i + 1];
            }
            if i + 2 < n {
                z[i] -= self.second[i] * z[i + 2];
            }
        }
        z
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::{DMatrix, DVector};
    use proptest::prelude::*;

    fn uneven(n: usize) -> Vec<f64> {
        (0..n)
            .map(|i| i as f64 / 60.0 + 0.003 * (i as f64 * 1.7).sin())
            .collect()
    }

    #[test]
    fn banded_solution_equals_the_dense_one() {
        let times = uneven(12);
        let weights: Vec<f64> = (0..12)
            .map(|i| if i == 4 { 0.0 } else { 0.3 + 0.05 * i as f64 })
            .collect();
        let values: Vec<f64> = times.iter().map(|t| (t * 20.0).cos()).collect();
        let unit = {
            let h: Vec<f64> = times.windows(2).map(|w| w[1] - w[0]).collect();
            median(&h).unwrap()
        };
        let mut second = DMatrix::<f64>::zeros(10, 12);
        for i in 1..11 {
            let (h0, h1) = (
                (times[i] - times[i - 1]) / unit,
                (times[i + 1] - times[i]) / unit,
            );
            second[(i - 1, i - 1)] = 2.0 / (h0 * (h0 + h1));
            second[(i - 1, i)] = -2.0 / (h0 * h1);
            second[(i - 1, i + 1)] = 2.0 / (h1 * (h0 + h1));
        }
        let w = DMatrix::from_diagonal(&DVector::from_vec(weights.clone()));
        let matrix = &w + 7.0 * second.transpose() * &second;
        let dense = matrix
            .lu()
            .solve(&(w * DVector::from_vec(values.clone())))
            .unwrap();
        let banded = Pentadiagonal::whittaker(&times, &weights, 7.0).solve(&weights, &values);
        for i in 0..12 {
            assert!((banded[i] - dense[i]).abs() < 1e-9, "row {i}");
        }
    }

    #[test]
    fn too_little_is_none() {
        let smoother = RobustSmoother {
            half_gain_hz: 6.0,
            least_sigma: 0.1,
        };
        assert!(smoother.smooth(&[], &[]).is_none());
        assert!(
            smoother
                .smooth(&[0.0, 1.0], &[Some((0.0, 0.0)), None])
                .is_none()
        );
    }

    proptest! {
        #[test]
        fn a_burst_of_wild_samples_is_rejected_and_bridged(
            start in 10usize..50, length in 1usize..4, jump in 5.0..50.0f64,
        ) {
            let times = uneven(80);
            let truth = |t: f64| (3.0 * t, (2.0 * PI * t).sin());
            let samples: Vec<Option<(f64, f64)>> = times.iter().enumerate().map(|(i, &t)| {
                let (x, y) = truth(t);
                let noise = 0.02 * (i as f64 * 12.9898).sin();
                let wild = if (start..start + length).contains(&i) { jump } else { 0.0 };
                Some((x + noise + wild, y - noise))
            }).collect();
            let smoother = RobustSmoother { half_gain_hz: 6.0, least_sigma: 0.02 };
            let result = smoother.smooth(&times, &samples).unwrap();
            for (i, &t) in times.iter().enumerate() {
                let inside = (start..start + length).contains(&i);
                prop_assert_eq!(result.weights[i] == 0.0, inside, "sample {}", i);
                prop_assert!((result.x[i] - truth(t).0).abs() < 0.08);
                prop_assert!((result.y[i] - truth(t).1).abs() < 0.08);
            }
        }
    }
}
