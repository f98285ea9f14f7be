//! How well a number repeats: the two-way layout of n subjects and k trials.
//!
//! Sources: Shrout PE, Fleiss JL (1979) Psychol Bull 86:420–428 (mean squares, ICC forms, intervals);
//! Weir JP (2005) J Strength Cond Res 19:231–240 (SEM as √EMS, minimal detectable change); Bland JM,
//! Altman DG (1986) Lancet i:307–310 (bias and limits). Values are in the measure's own unit.

use lessonwright_math::SD_TO_95;
use lessonwright_math::distribution::{f_quantile, t_quantile};
use lessonwright_model::Interval;

/// Mean squares of a complete two-way table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoWay {
    /// Subjects.
    pub n: usize,
    /// Trials a subject.
    pub k: usize,
    /// Between subjects.
    pub bms: f64,
    /// Within subjects.
    pub wms: f64,
    /// Between trials.
    pub jms: f64,
    /// What is left.
    pub ems: f64,
}

/// Which intraclass correlation: Shrout and Fleiss' forms for a single trial.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// (1,1): every subject has trials of its own.
    OneWay,
    /// (2,1): the same trials for all, a sample of many; a shift between trials counts as error.
    Agreement,
    /// (3,1): these trials alone matter; a shift between them does not count.
    Consistency,
}

impl TwoWay {
    /// The mean squares of a table, a row a subject. `None` unless there are two rows and two columns at
    /// least, no row is shorter, and every value is finite.
    pub fn of(rows: &[Vec<f64>]) -> Option<TwoWay> {
        let (n, k) = (rows.len(), rows.first()?.len());
        let complete = rows.iter().all(|row| row.len() == k);
        if n < 2 || k < 2 || !complete || rows.iter().flatten().any(|v| !v.is_finite()) {
            return None;
        }
        let (nf, kf) = (n as f64, k as f64);
        let grand = rows.iter().flatten().sum::<f64>() / (nf * kf);
        let row_mean = |row: &[f64]| row.iter().sum::<f64>() / kf;
        let square = |v: f64| v * v;
        let between: f64 = rows.iter().map(|r| kf * square(row_mean(r) - grand)).sum();
        let trials: f64 = (0..k)
            .map(|j| nf * square(rows.iter().map(|r| r[j]).sum::<f64>() / nf - grand))
            .sum();
        let within: f64 = rows
            .iter()
            .map(|r| r.iter().map(|v| square(v - row_mean(r))).sum::<f64>())
            .sum();
        let left = (within - trials).max(0.0);
        Some(TwoWay {
            n,
            k,
            bms: between / (nf - 1.0),
            wms: within / (nf * (kf - 1.0)),
            jms: trials / (kf - 1.0),
            ems: left / ((nf - 1.0) * (kf - 1.0)),
        })
    }

    /// ICC of a single trial.
    pub fn icc(&self, form: Form) -> f64 {
        let (n, k) = (self.n as f64, self.k as f64);
        let TwoWay {
            bms, wms, jms, ems, ..
        } = *self;
        match form {
            Form::OneWay => (bms - wms) / (bms + (k - 1.0) * wms),
            Form::Agreement => (bms - ems) / (bms + (k - 1.0) * ems + k * (jms - ems) / n),
            Form::Consistency => (bms - ems) / (bms + (k - 1.0) * ems),
        }
    }

    /// ICC of the mean of all k trials.
    pub fn icc_of_mean(&self, form: Form) -> f64 {
        let TwoWay {
            bms, wms, jms, ems, ..
        } = *self;
        match form {
            Form::OneWay => (bms - wms) / bms,
            Form::Agreement => (bms - ems) / (bms + (jms - ems) / self.n as f64),
            Form::Consistency => (bms - ems) / bms,
        }
    }

    /// 95 % interval of [`TwoWay::icc`] (Shrout and Fleiss 1979, pp. 424–425). Not a number where
    /// nothing is left to estimate the error from (EMS or WMS 0).
    pub fn icc_interval(&self, form: Form) -> Interval {
        const P: f64 = 0.975;
        let (n, k) = (self.n as f64, self.k as f64);
        let TwoWay {
            bms, wms, jms, ems, ..
        } = *self;
        let from_f = |f: f64, df: f64| {
            let to = |f: f64| (f - 1.0) / (f + k - 1.0);
            Interval {
                low: to(f / f_quantile(P, n - 1.0, df)),
                high: to(f * f_quantile(P, df, n - 1.0)),
            }
        };
        match form {
            Form::OneWay => from_f(bms / wms, n * (k - 1.0)),
            Form::Consistency => from_f(bms / ems, (n - 1.0) * (k - 1.0)),
            Form::Agreement => {
                let icc = self.icc(form);
                let a = k * icc / (n * (1.0 - icc));
                let b = 1.0 + k * icc * (n - 1.0) / (n * (1.0 - icc));
                let both = a * jms + b * ems;
                let df = both * both
                    / ((a * jms).powi(2) / (k - 1.0) + (b * ems).powi(2) / ((n - 1.0) * (k - 1.0)));
                let (f, g) = (f_quantile(P, n - 1.0, df), f_quantile(P, df, n - 1.0));
                let rest = k * jms + (k * n - k - n) * ems;
                Interval {
                    low: n * (bms - f * ems) / (f * rest + n * bms),
                    high: n * (g * bms - ems) / (rest + n * g * bms),
                }
            }
        }
    }

    /// Standard error of measurement, √EMS: the SD of one trial about the subject's own level, a shift
    /// between trials left out. With two trials it is the typical error, SD(differences)/√2.
    pub fn sem(&self) -> f64 {
        self.ems.sqrt()
    }
}

/// The smallest change between two single numbers that is beyond error with 95 % confidence:
/// MDC95 = 1.96 · √2 · SEM.
pub fn mdc95(sem: f64) -> f64 {
    SD_TO_95 * std::f64::consts::SQRT_2 * sem
}

/// How two sets of numbers of the same subjects differ.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shift {
    /// Mean of first minus second.
    pub mean: f64,
    /// SD of the differences.
    pub sd: f64,
    /// 95 % interval of the mean, by the t distribution.
    pub interval: Interval,
}

impl Shift {
    /// The differences of pairs. `None` for fewer than two.
    pub fn of(pairs: &[(f64, f64)]) -> Option<Shift> {
        if pairs.len() < 2 {
            return None;
        }
        let n = pairs.len() as f64;
        let mean = pairs.iter().map(|(a, b)| a - b).sum::<f64>() / n;
        let squares: f64 = pairs.iter().map(|(a, b)| (a - b - mean).powi(2)).sum();
        let sd = (squares / (n - 1.0)).sqrt();
        let half = t_quantile(0.975, n - 1.0) * sd / n.sqrt();
        Some(Shift {
            mean,
            sd,
            interval: Interval {
                low: mean - half,
                high: mean + half,
            },
        })
    }
}
