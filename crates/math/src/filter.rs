//! Second-order Butterworth low-pass run forward and back: no lag, and the cut-off means what it
//! says.
//!
//! Running a filter twice lowers its gain at the design frequency from 0.7071 to 0.5. The design
//! frequency is therefore raised so that the gain *after both passes* is 0.7071 at the frequency
//! asked for: `tan(π fc/fs)` is divided by `C = (2^(1/passes) − 1)^(1/4)`, 0.802 for two passes
//! (Winter DA, *Biomechanics and Motor Control of Human Movement*, 4th ed., p. 69; Robertson DGE,
//! Dowling JJ 2003, *J Electromyogr Kinesiol* 13:569–573). The correction applies to the warped
//! frequency; dividing `fc` itself by 0.802 is an approximation that fails near the Nyquist
//! frequency.

use std::f64::consts::{PI, SQRT_2};
use thiserror::Error;

/// Why no filter could be designed.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum FilterError {
    /// The cut-off is not inside (0, Nyquist).
    #[error(
        "a low-pass cut-off of {cutoff_hz} Hz is impossible at {rate_hz} samples/s: it must be above 0 and below half the rate"
    )]
    CutoffOutOfRange {
        /// Cut-off asked for, Hz.
        cutoff_hz: f64,
        /// Sampling rate, Hz.
        rate_hz: f64,
    },
}

/// Winter's correction `(2^(1/passes) − 1)^(1/4)` for a second-order filter run `passes` times.
pub fn pass_correction(passes: u32) -> f64 {
    (2.0_f64.powf(1.0 / f64::from(passes)) - 1.0).powf(0.25)
}

/// Second-order low-pass section
/// `y[i] = b0 x[i] + b1 x[i−1] + b2 x[i−2] − a1 y[i−1] − a2 y[i−2]`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// Feed-forward coefficients b0, b1, b2.
    pub b: [f64; 3],
    /// Feedback coefficients a1, a2 (a0 is 1).
    pub a: [f64; 2],
}

impl Section {
    /// Butterworth section from the warped frequency `u = tan(π f/fs)`, by the bilinear transform:
    /// `b0 = u²/(1 + √2 u + u²)`, `b1 = 2 b0`, `b2 = b0`, `a1 = 2(u² − 1)/(…)`,
    /// `a2 = (1 − √2 u + u²)/(…)`.
    pub fn butterworth(warped: f64) -> Section {
        let squared = warped * warped;
        let a0 = 1.0 + SQRT_2 * warped + squared;
        let b0 = squared / a0;
        Section {
            b: [b0, 2.0 * b0, b0],
            a: [
                2.0 * (squared - 1.0) / a0,
                (1.0 - SQRT_2 * warped + squared) / a0,
            ],
        }
    }

    /// Amplitude gain of one pass at `frequency_hz`.
    pub fn gain(&self, frequency_hz: f64, rate_hz: f64) -> f64 {
        let w = 2.0 * PI * frequency_hz / rate_hz;
        let response = |c: [f64; 3]| {
            let re = c[0] + c[1] * w.cos() + c[2] * (2.0 * w).cos();
            let im = c[1] * w.sin() + c[2] * (2.0 * w).sin();
            re.hypot(im)
        };
        response(self.b) / response([1.0, self.a[0], self.a[1]])
    }

    /// One pass from left to right, started as if the first two values lay on a straight line that
    /// had always been there: a line leaves a low-pass late by its delay at rest,
    /// `Σ k bₖ / Σ bₖ − Σ k aₖ / Σ aₖ` samples.
    fn run(&self, signal: &mut [f64]) {
        let &mut [first, second, ..] = signal else {
            return;
        };
        let step = second - first;
        let delay = (self.b[1] + 2.0 * self.b[2]) / (self.b[0] + self.b[1] + self.b[2])
            - (self.a[0] + 2.0 * self.a[1]) / (1.0 + self.a[0] + self.a[1]);
        let line = |samples: f64| first + step * samples;
        let (mut x1, mut x2) = (line(-1.0), line(-2.0));
        let (mut y1, mut y2) = (line(-1.0 - delay), line(-2.0 - delay));
        for value in signal {
            let x0 = *value;
            let y0 =
                self.b[0] * x0 + self.b[1] * x1 + self.b[2] * x2 - self.a[0] * y1 - self.a[1] * y2;
            (x2, x1, y2, y1) = (x1, x0, y1, y0);
            *value = y0;
        }
    }
}

/// The zero-lag filter for one cut-off and one sampling rate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ZeroLagLowPass {
    section: Section,
    cutoff_hz: f64,
    rate_hz: f64,
}

impl ZeroLagLowPass {
    /// A filter whose gain after both passes is 0.7071 at `cutoff_hz`.
    ///
    /// # Errors
    /// When the cut-off is not inside (0, half the rate).
    pub fn new(cutoff_hz: f64, rate_hz: f64) -> Result<ZeroLagLowPass, FilterError> {
        // Written so that NaN fails too.
        if !(cutoff_hz > 0.0 && cutoff_hz < 0.5 * rate_hz) {
            return Err(FilterError::CutoffOutOfRange { cutoff_hz, rate_hz });
        }
        let warped = (PI * cutoff_hz / rate_hz).tan() / pass_correction(2);
        Ok(ZeroLagLowPass {
            section: Section::butterworth(warped),
            cutoff_hz,
            rate_hz,
        })
    }

    /// The section that is run twice.
    pub fn section(&self) -> Section {
        self.section
    }

    /// The raised frequency for which the section is designed, Hz.
    pub fn design_hz(&self) -> f64 {
        let warped = (PI * self.cutoff_hz / self.rate_hz).tan() / pass_correction(2);
        self.rate_hz * warped.atan() / PI
    }

    /// How much white noise is left: the ratio of standard deviations after and before.
    /// By Parseval, the mean of the squared two-pass power gain over all frequencies.
    pub fn noise_gain(&self) -> f64 {
        // 512 frequencies: the gain is smooth, so the midpoint rule is far below 1e-6 here.
        const FREQUENCIES: usize = 512;
        let mean = (0..FREQUENCIES)
            .map(|k| {
                let f = (k as f64 + 0.5) / FREQUENCIES as f64 * 0.5 * self.rate_hz;
                self.section.gain(f, self.rate_hz).powi(4)
            })
            .sum::<f64>()
            / FREQUENCIES as f64;
        mean.sqrt()
    }

    /// The filtered signal, as long as the input. Samples must be evenly spaced; ends are padded
    /// by odd reflection (`2 x₀ − x[i]`), which keeps a straight line straight. Signals of fewer
    /// than three samples come back as they are.
    pub fn apply(&self, signal: &[f64]) -> Vec<f64> {
        if signal.len() < 3 {
            return signal.to_vec();
        }
        let pad = self.padding().min(signal.len() - 1);
        let mut padded = reflect_odd(signal, pad);
        self.section.run(&mut padded);
        padded.reverse();
        self.section.run(&mut padded);
        padded.reverse();
        padded[pad..pad + signal.len()].to_vec()
    }

    /// Three times the slowest time constant, in samples: what a start-up error needs to die out
    /// to 5 %. The poles' radius is `√a2`.
    fn padding(&self) -> usize {
        let radius = self.section.a[1].abs().sqrt().clamp(0.05, 0.999);
        (3.0 / -radius.ln()).ceil() as usize + 3
    }
}

/// `signal` with `pad` samples before and after, mirrored through its end points.
/// `pad` must be below the signal's length.
fn reflect_odd(signal: &[f64], pad: usize) -> Vec<f64> {
    let (first, last) = (signal[0], signal[signal.len() - 1]);
    let before = (1..=pad).rev().map(|i| 2.0 * first - signal[i]);
    let after = (1..=pad).map(|i| 2.0 * last - signal[signal.len() - 1 - i]);
    before.chain(signal.iter().copied()).chain(after).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use std::f64::consts::FRAC_1_SQRT_2;

    // Check values: computed with numpy 2.4.6 and scipy 1.17.1 (reference values, T6), printed to
    // six decimals, so they hold to 5e-7.
    const PRINTED: f64 = 5.1e-7;

    #[test]
    fn correction_is_winters() {
        for (passes, expected) in [(1, 1.0), (2, 0.802243), (3, 0.714020), (4, 0.659530)] {
            assert!(
                (pass_correction(passes) - expected).abs() < PRINTED,
                "{passes} passes"
            );
        }
    }

    #[test]
    fn single_pass_section_is_scipys_and_winters() {
        // scipy.signal.butter(2, 6, fs=60); Winter's text prints 0.06745, 0.1349, 1.14298, -0.41280.
        let s = Section::butterworth((PI * 6.0 / 60.0).tan());
        for (got, expected) in [
            (s.b[0], 0.067455),
            (s.b[1], 0.134911),
            (s.b[2], 0.067455),
            (s.a[0], -1.142981),
            (s.a[1], 0.412802),
        ] {
            assert!((got - expected).abs() < PRINTED, "{got} is not {expected}");
        }
    }

    #[test]
    fn two_pass_section_is_corrected_on_the_warped_frequency() {
        let s = ZeroLagLowPass::new(6.0, 60.0).unwrap().section();
        for (got, expected) in [
            (s.b[0], 0.094447),
            (s.b[1], 0.188893),
            (s.b[2], 0.094447),
            (s.a[0], -0.962641),
            (s.a[1], 0.340428),
        ] {
            assert!((got - expected).abs() < PRINTED, "{got} is not {expected}");
        }
        for (cutoff, rate, design) in [
            (6.0, 60.0, 7.349544),
            (6.0, 120.0, 7.445405),
            (10.0, 240.0, 12.425977),
            (12.0, 240.0, 14.890810),
            // The naive correction 6 / 0.802 would give 7.479 here.
            (6.0, 30.0, 7.027534),
        ] {
            let got = ZeroLagLowPass::new(cutoff, rate).unwrap().design_hz();
            assert!((got - design).abs() < PRINTED, "{cutoff} at {rate}: {got}");
        }
    }

    #[test]
    fn gain_after_both_passes_is_0_7071_at_the_cutoff_and_1_at_rest() {
        for (cutoff, rate) in [(6.0, 30.0), (6.0, 60.0), (10.0, 240.0), (12.0, 30.0)] {
            let s = ZeroLagLowPass::new(cutoff, rate).unwrap().section();
            let both = s.gain(cutoff, rate).powi(2);
            assert!(
                (both - FRAC_1_SQRT_2).abs() < 1e-7,
                "{cutoff} at {rate}: {both}"
            );
            assert!((s.gain(0.0, rate) - 1.0).abs() < 1e-12);
        }
        let naive = Section::butterworth((PI * 6.0 / 60.0).tan());
        assert!((naive.gain(6.0, 60.0).powi(2) - 0.5).abs() < 1e-7);
    }

    #[test]
    fn a_sine_at_the_cutoff_comes_out_at_0_7071_and_in_step() {
        let rate = 240.0;
        let filter = ZeroLagLowPass::new(6.0, rate).unwrap();
        let sine = |i: usize| (2.0 * PI * 6.0 * i as f64 / rate).sin();
        let input: Vec<f64> = (0..960).map(sine).collect();
        let output = filter.apply(&input);
        // The middle second, where the ends no longer matter.
        for (i, value) in output.iter().enumerate().take(600).skip(360) {
            // 1e-6: start-up error has died out by then.
            assert!((value - FRAC_1_SQRT_2 * sine(i)).abs() < 1e-6, "sample {i}");
        }
    }

    #[test]
    fn noise_gain_is_what_white_noise_shows() {
        let filter = ZeroLagLowPass::new(6.0, 60.0).unwrap();
        // The response to a unit impulse holds the gain: white noise scales with its root energy.
        let mut impulse = vec![0.0; 401];
        impulse[200] = 1.0;
        let energy: f64 = filter.apply(&impulse).iter().map(|v| v * v).sum();
        assert!((filter.noise_gain() - energy.sqrt()).abs() < 1e-6);
    }

    #[test]
    fn impossible_cutoffs_are_refused() {
        for (cutoff, rate) in [(0.0, 60.0), (30.0, 60.0), (-1.0, 60.0), (f64::NAN, 60.0)] {
            assert!(ZeroLagLowPass::new(cutoff, rate).is_err());
        }
    }

    proptest! {
        #[test]
        fn straight_lines_pass_unchanged(
            start in -100.0..100.0f64, slope in -5.0..5.0f64, n in 0usize..200,
            cutoff in 1.0..14.0f64,
        ) {
            let line: Vec<f64> = (0..n).map(|i| start + slope * i as f64).collect();
            let out = ZeroLagLowPass::new(cutoff, 30.0).unwrap().apply(&line);
            prop_assert_eq!(out.len(), n);
            // Rounding only: values reach 1100, the recursion adds a few hundred terms.
            let tolerance = 1e-8;
            for (a, b) in out.iter().zip(&line) {
                prop_assert!((a - b).abs() <= tolerance);
            }
        }

        #[test]
        fn filtering_is_linear_and_reverses_with_time(
            x in prop::collection::vec(-10.0..10.0f64, 30..120), k in -3.0..3.0f64,
        ) {
            let filter = ZeroLagLowPass::new(6.0, 60.0).unwrap();
            let y = filter.apply(&x);
            let scaled: Vec<f64> = x.iter().map(|v| v * k).collect();
            for (a, b) in filter.apply(&scaled).iter().zip(&y) {
                prop_assert!((a - k * b).abs() < 1e-9);
            }
            // Forward-then-back equals back-then-forward away from the padding.
            let mut reversed = x.clone();
            reversed.reverse();
            let mut back = filter.apply(&reversed);
            back.reverse();
            for i in 14..x.len() - 14 {
                prop_assert!((back[i] - y[i]).abs() < 0.05);
            }
        }
    }
}
