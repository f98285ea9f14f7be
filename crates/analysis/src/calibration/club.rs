//! How wrong what the shaft's direction says is, over and above the pictures' own errors: cameras that
//! don't stand square, perspective, joints of the forearm.
//!
//! From 24 rendered swings with clubs of any kind, used for tuning only (`cargo xtask bench club` prints them).

use super::{Bias, MeasureRow};

/// Where no row says more.
pub const UNLISTED: Bias = Bias { mean: 0.0, sd: 4.0 };

/// Bias in degrees: mean, standard deviation.
pub const MEASURES: &[MeasureRow] = &[];
