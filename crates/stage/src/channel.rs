//! A quantity that passes through keyed values over time without overshooting them.
//!
//! Monotone cubic Hermite interpolation: F. N. Fritsch and R. E. Carlson, "Monotone piecewise cubic
//! interpolation", SIAM J. Numer. Anal. 17 (1980) 238–246, with the weighted harmonic mean of
//! F. N. Fritsch and J. Butland (1984) for the slopes. The slope is zero at both ends and at every
//! turning point, so a quantity rests before the first key and after the last.

/// A keyed quantity; units are those of the values, times are seconds.
#[derive(Clone, Debug)]
pub struct Channel {
    times_s: Vec<f64>,
    values: Vec<f64>,
    slopes: Vec<f64>,
}

impl Channel {
    /// Through `(time_s, value)` keys.
    ///
    /// # Panics
    /// If there are fewer than two keys or their times do not increase.
    pub fn new(keys: &[(f64, f64)]) -> Channel {
        assert!(keys.len() >= 2, "a channel needs at least two keys");
        assert!(
            keys.windows(2).all(|pair| pair[0].0 < pair[1].0),
            "the times of a channel's keys increase"
        );
        let (times_s, values) = keys.iter().copied().unzip();
        let mut channel = Channel {
            times_s,
            values,
            slopes: Vec::new(),
        };
        channel.slopes = channel.monotone_slopes();
        channel
    }

    /// The value at a time; constant outside the keys.
    pub fn at(&self, time_s: f64) -> f64 {
        let last = self.times_s.len() - 1;
        if time_s <= self.times_s[0] {
            return self.values[0];
        }
        if time_s >= self.times_s[last] {
            return self.values[last];
        }
        let i = self.times_s.partition_point(|&t| t <= time_s) - 1;
        let span = self.times_s[i + 1] - self.times_s[i];
        let s = (time_s - self.times_s[i]) / span;
        let (s2, s3) = (s * s, s * s * s);
        (2.0 * s3 - 3.0 * s2 + 1.0) * self.values[i]
            + (s3 - 2.0 * s2 + s) * span * self.slopes[i]
            + (3.0 * s2 - 2.0 * s3) * self.values[i + 1]
            + (s3 - s2) * span * self.slopes[i + 1]
    }

    /// The keyed value number `key`.
    pub fn value(&self, key: usize) -> f64 {
        self.values[key]
    }

    /// Changes the keyed value number `key`.
    pub fn set(&mut self, key: usize, value: f64) {
        self.values[key] = value;
        self.slopes = self.monotone_slopes();
    }

    /// Adds to every keyed value what `more` says for its time, s.
    pub fn add(&mut self, more: impl Fn(f64) -> f64) {
        for (value, &time_s) in self.values.iter_mut().zip(&self.times_s) {
            *value += more(time_s);
        }
        self.slopes = self.monotone_slopes();
    }

    fn monotone_slopes(&self) -> Vec<f64> {
        let n = self.times_s.len();
        let mut slopes = vec![0.0; n];
        for (i, slope) in slopes.iter_mut().enumerate().take(n - 1).skip(1) {
            let before = self.times_s[i] - self.times_s[i - 1];
            let after = self.times_s[i + 1] - self.times_s[i];
            let rise_before = (self.values[i] - self.values[i - 1]) / before;
            let rise_after = (self.values[i + 1] - self.values[i]) / after;
            if rise_before * rise_after > 0.0 {
                let (w1, w2) = (2.0 * after + before, after + 2.0 * before);
                *slope = (w1 + w2) / (w1 / rise_before + w2 / rise_after);
            }
        }
        slopes
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn passes_through_its_keys_and_rests_outside() {
        let channel = Channel::new(&[(0.0, 1.0), (0.5, 3.0), (1.0, 2.0)]);
        for (time_s, value) in [(-1.0, 1.0), (0.0, 1.0), (0.5, 3.0), (1.0, 2.0), (9.0, 2.0)] {
            assert!((channel.at(time_s) - value).abs() < 1e-12, "at {time_s} s");
        }
    }

    proptest! {
        #[test]
        fn never_overshoots_two_neighbouring_keys(
            values in prop::collection::vec(-50.0f64..50.0, 3..9),
            s in 0.0f64..1.0,
        ) {
            let keys: Vec<(f64, f64)> =
                values.iter().enumerate().map(|(i, &v)| (0.1 * (i * i + i) as f64, v)).collect();
            let channel = Channel::new(&keys);
            for pair in keys.windows(2) {
                let value = channel.at(pair[0].0 + s * (pair[1].0 - pair[0].0));
                let (low, high) = (pair[0].1.min(pair[1].1), pair[0].1.max(pair[1].1));
                prop_assert!(value >= low - 1e-9 && value <= high + 1e-9);
            }
        }
    }
}
