//! Straight line through weighted points, with its uncertainty.

/// `y = at_zero + slope · x`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Value at x = 0.
    pub at_zero: f64,
    /// Change of y for one unit of x.
    pub slope: f64,
    /// Root-mean-square distance of the points from the line, in y.
    pub residual: f64,
}

impl Line {
    /// Value at `x`.
    pub fn at(&self, x: f64) -> f64 {
        self.at_zero + self.slope * x
    }

    /// Where the line passes zero; `None` if it is level.
    pub fn root(&self) -> Option<f64> {
        (self.slope != 0.0).then(|| -self.at_zero / self.slope)
    }
}

/// Least-squares line through `(x, y, weight)`. `None` with fewer than two distinct x of positive
/// weight.
pub fn fit_line(points: &[(f64, f64, f64)]) -> Option<Line> {
    let weight: f64 = points.iter().map(|p| p.2).sum();
    if weight <= 0.0 {
        return None;
    }
    let mean = |f: &dyn Fn(&(f64, f64, f64)) -> f64| {
        points.iter().map(|p| p.2 * f(p)).sum::<f64>() / weight
    };
    let (mx, my) = (mean(&|p| p.0), mean(&|p| p.1));
    let sxx = mean(&|p| (p.0 - mx).powi(2));
    let sxy = mean(&|p| (p.0 - mx) * (p.1 - my));
    if sxx <= f64::EPSILON * mx.abs().max(1.0).powi(2) {
        return None;
    }
    let slope = sxy / sxx;
    let at_zero = my - slope * mx;
    let residual = mean(&|p| (p.1 - at_zero - slope * p.0).powi(2)).sqrt();
    Some(Line {
        at_zero,
        slope,
        residual,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn anscombes_first_set_gives_its_published_line() {
        // Anscombe FJ (1973), Am Stat 27:17–21: y = 3.00 + 0.500 x.
        let x = [10.0, 8.0, 13.0, 9.0, 11.0, 14.0, 6.0, 4.0, 12.0, 7.0, 5.0];
        let y = [
            8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68,
        ];
        let points: Vec<_> = x.iter().zip(y).map(|(x, y)| (*x, y, 1.0)).collect();
        let line = fit_line(&points).unwrap();
        assert!((line.at_zero - 3.00).abs() < 0.005);
        assert!((line.slope - 0.500).abs() < 0.0005);
    }

    #[test]
    fn no_line_through_one_place() {
        assert!(fit_line(&[]).is_none());
        assert!(fit_line(&[(1.0, 2.0, 1.0), (1.0, 3.0, 1.0)]).is_none());
        assert!(fit_line(&[(1.0, 2.0, 1.0), (2.0, 3.0, 0.0)]).is_none());
    }

    proptest! {
        #[test]
        fn points_on_a_line_give_it_back(
            a in -10.0..10.0f64, b in -10.0..10.0f64,
            xs in prop::collection::vec((-5.0..5.0f64, 0.1..2.0f64), 3..20),
        ) {
            let points: Vec<_> = xs.iter().map(|(x, w)| (*x, a + b * x, *w)).collect();
            prop_assume!(xs.iter().any(|(x, _)| (x - xs[0].0).abs() > 0.1));
            let line = fit_line(&points).unwrap();
            prop_assert!((line.at_zero - a).abs() < 1e-6 && (line.slope - b).abs() < 1e-6);
            prop_assert!(line.residual < 1e-6);
        }
    }
}
