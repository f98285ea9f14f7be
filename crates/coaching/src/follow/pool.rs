//! Effects of several players together.
//!
//! Random effects by DerSimonian R, Laird N (1986) Control Clin Trials 7:177–188; interval by Hartung J,
//! Knapp G (2001) Stat Med 20:3875–3889, with their factor taken as no less than 1 (Röver C, Knapp G,
//! Friede T 2015, BMC Med Res Methodol 15:99), so that players who happen to agree give no false comfort.

use lessonwright_math::distribution::t_quantile;
use lessonwright_model::Interval;

/// The mean effect of players that differ.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pooled {
    /// The mean effect.
    pub mean: f64,
    /// Its 95 % interval.
    pub interval: Interval,
    /// Variance of the true effects between players.
    pub tau_squared: f64,
    /// Hartung and Knapp's standard error, before the factor is kept at 1 or more.
    pub standard_error: f64,
}

/// Effects with their variances. `None` for fewer than two, or a variance not above 0.
pub fn pool(effects: &[(f64, f64)]) -> Option<Pooled> {
    if effects.len() < 2 || !effects.iter().all(|(_, variance)| *variance > 0.0) {
        return None;
    }
    let df = effects.len() as f64 - 1.0;
    let mean = |tau: f64| {
        let total: f64 = effects.iter().map(|(_, v)| (v + tau).recip()).sum();
        let sum: f64 = effects.iter().map(|(e, v)| e / (v + tau)).sum();
        (sum / total, total)
    };
    let (fixed, total) = mean(0.0);
    let q: f64 = effects.iter().map(|(e, v)| (e - fixed).powi(2) / v).sum();
    let squares: f64 = effects.iter().map(|(_, v)| v.powi(-2)).sum();
    let tau_squared = ((q - df) / (total - squares / total)).max(0.0);
    let (middle, total) = mean(tau_squared);
    let factor: f64 = effects
        .iter()
        .map(|(e, v)| (e - middle).powi(2) / (v + tau_squared) / df)
        .sum();
    let half = t_quantile(0.975, df) * (factor.max(1.0) / total).sqrt();
    Some(Pooled {
        mean: middle,
        interval: Interval {
            low: middle - half,
            high: middle + half,
        },
        tau_squared,
        standard_error: (factor / total).sqrt(),
    })
}
