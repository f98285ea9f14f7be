//! Location and spread that a few wild values cannot move.

/// Median absolute deviation to standard deviation of a normal distribution: `1 / Φ⁻¹(3/4)`.
pub const MAD_TO_SIGMA: f64 = 1.482_602_218_505_602;

/// The middle value; the mean of the two middle ones for an even count. `None` when empty.
///
/// NaN sorts last (total order), so one NaN among many does no harm.
pub fn median(values: &[f64]) -> Option<f64> {
    quantile(values, 0.5)
}

/// The value below which the fraction `q` of the sample lies, linear between order statistics
/// (Hyndman & Fan 1996, type 7). `q` is clamped to 0..=1. `None` when empty.
pub fn quantile(values: &[f64], q: f64) -> Option<f64> {
    if values.is_empty() {
        return None;
    }
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let at = q.clamp(0.0, 1.0) * (sorted.len() - 1) as f64;
    let below = at.floor() as usize;
    let above = at.ceil() as usize;
    let part = at - at.floor();
    if part == 0.0 {
        return Some(sorted[below]);
    }
    Some(sorted[below] * (1.0 - part) + sorted[above] * part)
}

/// Standard deviation estimated as 1.4826 × the median distance from the median. `None` when
/// empty, 0 when more than half of the values agree.
pub fn mad_sigma(values: &[f64]) -> Option<f64> {
    let centre = median(values)?;
    let distances: Vec<f64> = values.iter().map(|v| (v - centre).abs()).collect();
    median(&distances).map(|d| d * MAD_TO_SIGMA)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn quantiles_agree_with_numpy() {
        // numpy.quantile([7, 1, 3, 10], [0, .25, .5, .9]) (its default is type 7), by hand:
        // sorted 1 3 7 10, positions 0, 0.75, 1.5, 2.7.
        let v = [7.0, 1.0, 3.0, 10.0];
        for (q, expected) in [(0.0, 1.0), (0.25, 2.5), (0.5, 5.0), (0.9, 9.1)] {
            assert!((quantile(&v, q).unwrap() - expected).abs() < 1e-12, "q {q}");
        }
        assert_eq!(median(&[]), None);
        assert_eq!(median(&[4.0]), Some(4.0));
    }

    #[test]
    fn spread_of_the_normal_quartiles_is_one() {
        // Φ⁻¹(3/4) = 0.674490: half of a standard normal lies within it.
        let v = [-0.674_489_75, 0.0, 0.674_489_75];
        assert!((mad_sigma(&v).unwrap() - 1.0).abs() < 1e-7);
    }

    proptest! {
        #[test]
        fn a_minority_of_wild_values_moves_nothing_far(
            mut good in prop::collection::vec(-1.0..1.0f64, 11..40),
            wild in prop::collection::vec(1e3..1e9f64, 0..5),
        ) {
            good.extend(wild);
            prop_assert!(median(&good).unwrap().abs() <= 1.0);
            prop_assert!(mad_sigma(&good).unwrap() <= 2.0 * MAD_TO_SIGMA);
        }

        #[test]
        fn shift_and_scale_pass_through(
            v in prop::collection::vec(-100.0..100.0f64, 1..30),
            shift in -50.0..50.0f64,
            scale in 0.1..10.0f64,
        ) {
            let moved: Vec<f64> = v.iter().map(|x| x * scale + shift).collect();
            let expected = median(&v).unwrap() * scale + shift;
            prop_assert!((median(&moved).unwrap() - expected).abs() < 1e-9);
            let spread = mad_sigma(&v).unwrap() * scale;
            prop_assert!((mad_sigma(&moved).unwrap() - spread).abs() < 1e-9);
        }
    }
}
