//! A slowly wandering error, known exactly at a few times: what it is likely to be in between, and how
//! much of its variance is left (simple kriging; Rasmussen & Williams, *Gaussian Processes for Machine
//! Learning*, 2006, eq. 2.23–2.24, without noise).
//!
//! The error's correlation over a time `d` is Matérn's with smoothness 3/2 (eq. 4.17 there), so that
//! what is added to a path is smooth at the known times too: `(1 + a) exp(−a)`, `a = √3 d / reach`.

/// Where the error is known.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Kriging {
    times_s: Vec<f64>,
    reach_s: f64,
    /// Lower triangle of the Cholesky factor of the correlations between the known times, by row.
    factor: Vec<Vec<f64>>,
}

/// What is left of an error of mean 1 and variance 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Left {
    /// Of its mean.
    pub mean: f64,
    /// Of its variance, 0 to 1.
    pub variance: f64,
}

impl Left {
    /// Nothing is known.
    pub const ALL: Left = Left {
        mean: 1.0,
        variance: 1.0,
    };
}

impl Kriging {
    /// For an error known at `times_s`, in any order; `None` if two times are the same (to a
    /// microsecond of the reach) or one is not a number.
    pub fn new(times_s: &[f64], reach_s: f64) -> Option<Kriging> {
        let correlations: Vec<Vec<f64>> = times_s
            .iter()
            .map(|a| {
                times_s
                    .iter()
                    .map(|b| correlation(a - b, reach_s))
                    .collect()
            })
            .collect();
        Some(Kriging {
            times_s: times_s.to_vec(),
            reach_s,
            factor: cholesky(&correlations)?,
        })
    }

    /// The share that the error at each known time has in the error at `time_s`; exactly one and
    /// zeros at a known time (to 1e-6).
    pub fn shares(&self, time_s: f64) -> Vec<f64> {
        let mut shares = self.correlations_with(time_s);
        let n = shares.len();
        for i in 0..n {
            let known: f64 = (0..i).map(|k| self.factor[i][k] * shares[k]).sum();
            shares[i] = (shares[i] - known) / self.factor[i][i];
        }
        for i in (0..n).rev() {
            let known: f64 = (i + 1..n).map(|k| self.factor[k][i] * shares[k]).sum();
            shares[i] = (shares[i] - known) / self.factor[i][i];
        }
        shares
    }

    /// What is left of the error at `time_s`.
    pub fn left(&self, time_s: f64) -> Left {
        let shares = self.shares(time_s);
        let known = self.correlations_with(time_s);
        let explained: f64 = shares.iter().zip(&known).map(|(s, c)| s * c).sum();
        Left {
            mean: 1.0 - shares.iter().sum::<f64>(),
            variance: (1.0 - explained).clamp(0.0, 1.0),
        }
    }

    fn correlations_with(&self, time_s: f64) -> Vec<f64> {
        let with = |known: &f64| correlation(time_s - known, self.reach_s);
        self.times_s.iter().map(with).collect()
    }
}

/// `(1 + a) exp(−a)`, `a = √3 |d| / reach`.
fn correlation(apart_s: f64, reach_s: f64) -> f64 {
    let a = 3f64.sqrt() * apart_s.abs() / reach_s;
    (1.0 + a) * (-a).exp()
}

fn cholesky(matrix: &[Vec<f64>]) -> Option<Vec<Vec<f64>>> {
    let mut factor: Vec<Vec<f64>> = Vec::with_capacity(matrix.len());
    for (i, row) in matrix.iter().enumerate() {
        let mut own: Vec<f64> = Vec::with_capacity(i + 1);
        for (j, value) in row.iter().take(i + 1).enumerate() {
            let other = if j == i { &own } else { &factor[j] };
            let known: f64 = own.iter().zip(other).take(j).map(|(a, b)| a * b).sum();
            let rest = value - known;
            if j < i {
                own.push(rest / other[j]);
            } else if rest > 1e-12 {
                own.push(rest.sqrt());
            } else {
                return None;
            }
        }
        factor.push(own);
    }
    Some(factor)
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::{DMatrix, DVector};

    #[test]
    fn shares_are_those_of_a_dense_solver() {
        // Two neighbouring frames of 240 a second among them.
        let times = [0.50, 0.20, 0.50 + 1.0 / 240.0, 1.10];
        let kriging = Kriging::new(&times, 0.3).expect("distinct times");
        let matrix = DMatrix::from_fn(4, 4, |i, j| correlation(times[i] - times[j], 0.3));
        for t in [0.0, 0.2, 0.35, 0.502, 0.9, 3.0] {
            let with = DVector::from_fn(4, |i, _| correlation(t - times[i], 0.3));
            let expected = matrix.clone().lu().solve(&with).expect("not singular");
            for (share, expected) in kriging.shares(t).iter().zip(expected.iter()) {
                assert!((share - expected).abs() < 1e-7, "{t}: {share} {expected}");
            }
            let left = 1.0 - expected.dot(&with);
            assert!((kriging.left(t).variance - left).abs() < 1e-9);
        }
    }

    #[test]
    fn an_error_is_known_where_it_was_found_and_forgotten_far_away() {
        let kriging = Kriging::new(&[1.0, 1.3], 0.2).expect("distinct times");
        let at = kriging.shares(1.3);
        assert!(at[0].abs() < 1e-9 && (at[1] - 1.0).abs() < 1e-9);
        assert!(kriging.left(1.0).variance < 1e-9 && kriging.left(1.0).mean.abs() < 1e-9);
        let far = kriging.left(3.0);
        assert!((far.variance - 1.0).abs() < 1e-6 && (far.mean - 1.0).abs() < 1e-4);
        assert_eq!(Kriging::new(&[], 0.2).expect("none").left(1.0), Left::ALL);
    }

    #[test]
    fn one_time_twice_is_refused() {
        assert_eq!(Kriging::new(&[1.0, 1.0], 0.2), None);
        assert_eq!(Kriging::new(&[f64::NAN], 0.2), None);
    }
}
