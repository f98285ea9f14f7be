//! Filters, interpolation, event times and robust statistics for sampled signals; knows nothing
//! of golf.
//!
//! Everything takes slices and returns values. Times are seconds, rates and cut-offs hertz, angles
//! radians; a signal's own unit is the caller's. Missing samples are the caller's to leave out:
//! no function here guesses at NaN.

pub mod angle;
pub mod distribution;
pub mod filter;
pub mod interpolate;
pub mod kriging;
pub mod line;
pub mod robust;
pub mod smooth;
pub mod zero;

pub use filter::{FilterError, ZeroLagLowPass};
pub use interpolate::{CubicSpline, MonotoneCubic};
pub use kriging::{Kriging, Left};
pub use line::{Line, fit_line};
pub use robust::{mad_sigma, median, quantile};
pub use smooth::{RobustSmoother, Smoothed};

/// Standard deviations from the mean to either end of a normal distribution's middle 95 %.
pub const SD_TO_95: f64 = 1.96;
