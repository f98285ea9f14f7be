//! Errors in numbers: spreads, slopes, and the bias that makes intervals hold.

use lessonwright_analysis::calibration::Bias;
use lessonwright_math::{median, quantile};

pub fn mean_sd(values: &[f64]) -> (f64, f64) {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let variance = values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (n - 1.0).max(1.0);
    (mean, variance.sqrt())
}

/// Slope of the regression of what is read on what is true (1: a swing's own departure from the average
/// is kept whole), and the correlation.
pub fn slope(pairs: &[(f64, f64)]) -> (f64, f64) {
    let (truths, values): (Vec<f64>, Vec<f64>) = pairs.iter().copied().unzip();
    let ((mean_t, sd_t), (mean_v, sd_v)) = (mean_sd(&truths), mean_sd(&values));
    let product: f64 = pairs.iter().map(|(t, v)| (t - mean_t) * (v - mean_v)).sum();
    let covariance = product / (pairs.len() as f64 - 1.0).max(1.0);
    (covariance / (sd_t * sd_t), covariance / (sd_t * sd_v))
}

/// Spearman's rank correlation: one swing read wildly wrong does not decide it. Equal values share no
/// rank; there are none among measured numbers.
pub fn rank_correlation(pairs: &[(f64, f64)]) -> f64 {
    let ranks = |of: fn(&(f64, f64)) -> f64| -> Vec<f64> {
        let mut order: Vec<usize> = (0..pairs.len()).collect();
        order.sort_by(|a, b| of(&pairs[*a]).total_cmp(&of(&pairs[*b])));
        let mut ranks = vec![0.0; pairs.len()];
        for (rank, at) in order.into_iter().enumerate() {
            ranks[at] = rank as f64;
        }
        ranks
    };
    let together: Vec<(f64, f64)> = ranks(|p| p.0).into_iter().zip(ranks(|p| p.1)).collect();
    slope(&together).1
}

/// Mean error, and the spread that together with the `known` standard deviations (noise, scale,
/// timing; none: zero) makes 95 % intervals hold 95 %: by the mean square of the normalised errors,
/// or by their 95 % quantile where tails are longer than normal, whichever is more. Widened for the
/// number of swings (Student's t, and the mean's own error). `None` from fewer than six swings.
pub fn bias_of(errors: &[f64], known: &[f64]) -> Option<Bias> {
    const LEAST: usize = 6;
    if errors.len() < LEAST {
        return None;
    }
    let n = errors.len() as f64;
    let mean = median(errors)?;
    let known = |i: usize| known.get(i).copied().unwrap_or(0.0);
    let too_narrow = |sd: f64| {
        let sizes: Vec<f64> = errors
            .iter()
            .enumerate()
            .map(|(i, e)| (e - mean).abs() / sd.hypot(known(i)))
            .collect();
        let rms = (sizes.iter().map(|s| s * s).sum::<f64>() / (n - 1.0)).sqrt();
        rms.max(quantile(&sizes, 0.95).unwrap_or(0.0) / 1.96) > 1.0
    };
    // A bias is never taken as known to better than half of the errors' own spread: the known parts
    // are estimates too.
    let spread = mean_sd(errors).1;
    let (mut low, mut high) = (0.5 * spread, 10.0 * spread);
    if too_narrow(low) {
        for _ in 0..40 {
            let middle = 0.5 * (low + high);
            if too_narrow(middle) {
                low = middle
            } else {
                high = middle
            }
        }
    } else {
        high = low;
    }
    // t(0.975, n − 1) / 1.96 ≈ 1 + 1.25/(n − 1) for n > 5 (within 2 %).
    let few = (1.0 + 1.25 / (n - 1.0)) * (1.0 + 1.0 / n).sqrt();
    Some(Bias {
        mean,
        sd: high * few,
    })
}
