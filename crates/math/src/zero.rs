//! When a function passes zero, and where it peaks, finer than its samples.

/// The zero of `f` between `a` and `b`, where `f` must differ in sign; bisected to the last bit
/// that matters (60 halvings). `None` if the signs agree or a value is NaN.
pub fn bisect(f: impl Fn(f64) -> f64, a: f64, b: f64) -> Option<f64> {
    let (mut low, mut high) = (a, b);
    let at_low = f(low);
    if at_low == 0.0 {
        return Some(low);
    }
    let at_high = f(high);
    if at_low.is_nan() || at_high.is_nan() || at_low * at_high > 0.0 {
        return None;
    }
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if (f(middle) > 0.0) == (at_low > 0.0) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(0.5 * (low + high))
}

/// All zeros of `f` in `[from, to]` that a scan with `step` brackets, in order.
pub fn crossings(f: impl Fn(f64) -> f64, from: f64, to: f64, step: f64) -> Vec<f64> {
    let count = ((to - from) / step).ceil().max(1.0) as usize;
    let at = |i: usize| (from + i as f64 * step).min(to);
    let mut found: Vec<f64> = Vec::new();
    for i in 0..count {
        let (a, b) = (at(i), at(i + 1));
        if (f(a) > 0.0) != (f(b) > 0.0) {
            found.extend(bisect(&f, a, b));
        }
    }
    found
}

/// The time in `[from, to]` where `f` is largest: scanned with `step`, then refined by the
/// parabola through the best sample and its neighbours.
pub fn peak(f: impl Fn(f64) -> f64, from: f64, to: f64, step: f64) -> f64 {
    let count = ((to - from) / step).ceil().max(1.0) as usize;
    let at = |i: usize| (from + i as f64 * step).min(to);
    let best = (0..=count)
        .map(|i| (i, f(at(i))))
        .fold((0, f64::NEG_INFINITY), |b, c| if c.1 > b.1 { c } else { b })
        .0;
    if best == 0 || best == count {
        return at(best);
    }
    let offset = parabola_peak(f(at(best - 1)), f(at(best)), f(at(best + 1)));
    (at(best) + offset * step).clamp(from, to)
}

/// Where the parabola through three equally spaced values peaks, in steps from the middle one,
/// within ±1; 0 when they lie on a line: `(l − r) / (2 (l − 2 m + r))`.
pub fn parabola_peak(left: f64, middle: f64, right: f64) -> f64 {
    let curvature = left - 2.0 * middle + right;
    if curvature == 0.0 {
        return 0.0;
    }
    (0.5 * (left - right) / curvature).clamp(-1.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn finds_the_root_of_two_and_refuses_one_sign() {
        let root = bisect(|x| x * x - 2.0, 0.0, 2.0).unwrap();
        assert!((root - std::f64::consts::SQRT_2).abs() < 1e-14);
        assert_eq!(bisect(|x| x * x + 1.0, -1.0, 1.0), None);
        assert_eq!(bisect(|_| f64::NAN, -1.0, 1.0), None);
    }

    #[test]
    fn finds_every_zero_of_the_sine_in_order() {
        let zeros = crossings(f64::sin, 0.5, 10.0, 0.1);
        let pi = std::f64::consts::PI;
        assert_eq!(zeros.len(), 3);
        for (k, zero) in zeros.iter().enumerate() {
            assert!((zero - pi * (k + 1) as f64).abs() < 1e-12);
        }
    }

    proptest! {
        #[test]
        fn a_parabola_peaks_where_it_says(centre in 0.2..0.8f64, bend in 0.1..9.0f64) {
            let got = peak(|t| -bend * (t - centre).powi(2), 0.0, 1.0, 0.05);
            prop_assert!((got - centre).abs() < 1e-9);
        }
    }
}
