//! Symmetric positive definite systems with a band and a border.
//!
//! ```text
//! | A  Bᵀ| |x|   |a|     A: n×n, at most `half_band` below the diagonal
//! | B  C | |s| = |b|     B: m×n, C: m×m dense (the shared unknowns)
//! ```
//! Band Cholesky `A = L·Lᵀ`, `Y = L⁻¹·Bᵀ`, Schur complement `S = C − Yᵀ·Y` (Golub & Van Loan,
//! *Matrix Computations*, 4th ed., 4.3.5). Work is `n·(half_band + m)²`: linear in `n`.

/// The lower half of a banded matrix, row by row.
#[derive(Clone, Debug)]
struct Band {
    half: usize,
    /// Row `i` holds columns `i − half ..= i`.
    rows: Vec<f64>,
}

impl Band {
    fn zero(order: usize, half: usize) -> Band {
        Band {
            half,
            rows: vec![0.0; order * (half + 1)],
        }
    }

    fn row(&self, i: usize) -> &[f64] {
        &self.rows[i * (self.half + 1)..(i + 1) * (self.half + 1)]
    }

    fn at(&mut self, i: usize, j: usize) -> &mut f64 {
        &mut self.rows[i * (self.half + 1) + self.half + j - i]
    }

    /// In place `A = L·Lᵀ`; `None` where a pivot is not positive.
    fn factor(mut self) -> Option<Band> {
        let width = self.half + 1;
        for i in 0..self.rows.len() / width {
            let (above, rest) = self.rows.split_at_mut(i * width);
            let row = &mut rest[..width];
            let first = i.saturating_sub(self.half);
            for j in first..i {
                let other = &above[j * width..(j + 1) * width];
                // columns `first ..< j` of both rows
                let start = first.max(j.saturating_sub(self.half));
                let (mine, theirs) = (start + self.half - i, start + self.half - j);
                let sum = dot(&row[mine..mine + j - start], &other[theirs..self.half]);
                let k = j + self.half - i;
                row[k] = (row[k] - sum) / other[self.half];
            }
            let start = first + self.half - i;
            let square = row[self.half] - dot(&row[start..self.half], &row[start..self.half]);
            if square.is_nan() || square <= 0.0 {
                return None;
            }
            row[self.half] = square.sqrt();
        }
        Some(self)
    }

    /// `L·y = b` in place.
    fn forward(&self, b: &mut [f64]) {
        for i in 0..b.len() {
            let first = i.saturating_sub(self.half);
            let row = self.row(i);
            let sum = dot(&row[first + self.half - i..self.half], &b[first..i]);
            b[i] = (b[i] - sum) / row[self.half];
        }
    }

    /// `Lᵀ·x = y` in place.
    fn backward(&self, y: &mut [f64]) {
        for i in (0..y.len()).rev() {
            let first = i.saturating_sub(self.half);
            let row = self.row(i);
            y[i] /= row[self.half];
            let x = y[i];
            for (value, l) in y[first..i].iter_mut().zip(&row[first + self.half - i..]) {
                *value -= l * x;
            }
        }
    }
}

/// Normal equations `H·x = g` being summed up.
#[derive(Clone, Debug)]
pub struct Normal {
    order: usize,
    band: Band,
    /// Row `k` is the border of shared unknown `k`.
    border: Vec<Vec<f64>>,
    corner: Band,
    /// Right side, banded unknowns first.
    pub right: Vec<f64>,
}

impl Normal {
    /// All zero.
    pub fn zero(order: usize, half_band: usize, shared: usize) -> Normal {
        Normal {
            order,
            band: Band::zero(order, half_band),
            border: vec![vec![0.0; order]; shared],
            corner: Band::zero(shared, shared.saturating_sub(1)),
            right: vec![0.0; order + shared],
        }
    }

    /// Adds one weighted residual: `H += w·j·jᵀ`, `g −= w·r·j`.
    ///
    /// # Panics
    /// When two banded unknowns of one residual lie farther apart than the band is wide.
    pub fn add(&mut self, weight: f64, residual: f64, jacobian: &[(usize, f64)]) {
        for (a, &(i, x)) in jacobian.iter().enumerate() {
            self.right[i] -= weight * residual * x;
            for &(j, y) in &jacobian[..=a] {
                self.add_product(i.max(j), i.min(j), weight * x * y);
            }
        }
    }

    fn add_product(&mut self, high: usize, low: usize, value: f64) {
        if high < self.order {
            assert!(
                high - low <= self.band.half,
                "a residual wider than the band"
            );
            *self.band.at(high, low) += value;
        } else if low < self.order {
            self.border[high - self.order][low] += value;
        } else {
            *self.corner.at(high - self.order, low - self.order) += value;
        }
    }

    /// Factors `H + damping·diag(H)`; `None` where that is not positive definite.
    pub fn factor(&self, damping: f64) -> Option<Factor> {
        let grown = |band: &Band| {
            let mut band = band.clone();
            for row in band.rows.chunks_exact_mut(band.half + 1) {
                row[band.half] *= 1.0 + damping;
            }
            band
        };
        let band = grown(&self.band).factor()?;
        let mut border = self.border.clone();
        border.iter_mut().for_each(|column| band.forward(column));
        let mut corner = grown(&self.corner);
        for i in 0..border.len() {
            for j in 0..=i {
                *corner.at(i, j) -= dot(&border[i], &border[j]);
            }
        }
        let corner = if border.is_empty() {
            corner
        } else {
            corner.factor()?
        };
        Some(Factor {
            band,
            border,
            corner,
        })
    }
}

/// A factored system.
#[derive(Clone, Debug)]
pub struct Factor {
    band: Band,
    border: Vec<Vec<f64>>,
    corner: Band,
}

impl Factor {
    /// `x` of `H·x = right`.
    pub fn solve(&self, right: &[f64]) -> Vec<f64> {
        let (mut x, mut s) = self.halfway(right);
        self.corner.backward(&mut s);
        for (column, s) in self.border.iter().zip(&s) {
            for (x, y) in x.iter_mut().zip(column) {
                *x -= y * s;
            }
        }
        self.band.backward(&mut x);
        x.extend(s);
        x
    }

    /// `vᵀ·H⁻¹·v`: the variance of a linear functional when `H` is an information matrix.
    pub fn quadratic(&self, v: &[f64]) -> f64 {
        let (x, s) = self.halfway(v);
        dot(&x, &x) + dot(&s, &s)
    }

    /// The factor's lower half applied: its squared length is `vᵀ·H⁻¹·v`.
    fn halfway(&self, right: &[f64]) -> (Vec<f64>, Vec<f64>) {
        let order = right.len() - self.border.len();
        let mut x = right[..order].to_vec();
        let mut s = right[order..].to_vec();
        self.band.forward(&mut x);
        for (s, column) in s.iter_mut().zip(&self.border) {
            *s -= dot(column, &x);
        }
        self.corner.forward(&mut s);
        (x, s)
    }
}

/// Four sums side by side, so that the compiler may use vector registers; always in one order.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let mut sums = [0.0; 4];
    let (fours_a, fours_b) = (a.chunks_exact(4), b.chunks_exact(4));
    let rest: f64 = fours_a
        .remainder()
        .iter()
        .zip(fours_b.remainder())
        .map(|(x, y)| x * y)
        .sum();
    for (x, y) in fours_a.zip(fours_b) {
        for i in 0..4 {
            sums[i] += x[i] * y[i];
        }
    }
    (sums[0] + sums[2]) + (sums[1] + sums[3]) + rest
}
