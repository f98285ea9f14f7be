//! Written by `cargo run --release -p lessonwright-analysis --example calibrate`; not by hand.
//!
//! Empty until tuning swings are there: [`super::Calibration`] then takes the spike's raw errors.

use super::{LengthRow, MeasureRow, MomentRow};

pub const MOMENTS: &[MomentRow] = &[];
pub const MEASURES: &[MeasureRow] = &[];
pub const LENGTHS: &[LengthRow] = &[];
