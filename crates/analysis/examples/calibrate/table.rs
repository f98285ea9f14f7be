//! A calibration as Rust source.

use lessonwright_analysis::Calibration;
use lessonwright_analysis::calibration::Bias;
use std::fmt::Write as _;

/// The table's file; rustfmt is run on it afterwards.
pub fn source(calibration: &Calibration, swings: usize) -> String {
    let mut out = format!(
        "//! Written by `cargo xtask bench calibration`; not by hand.\n//!\n//! From {swings} rendered swings used for tuning only, seen by the heavy body network.\n\n"
    );
    out.push_str(HEAD);
    let bias = |b: Bias, digits: usize| format!("{:.digits$}, {:.digits$}", b.mean, b.sd);
    out.push_str(
        "/// Bias in s: mean, standard deviation.\npub const MOMENTS: &[MomentRow] = &[\n",
    );
    for r in &calibration.moments {
        let numbers = bias(r.bias, 5);
        let _ = writeln!(
            out,
            "moment(View::{:?}, {:?}, {:?}, {numbers}),",
            r.view, r.name, r.cue
        );
    }
    out.push_str("];\n\n/// Bias in cm, degrees, s or hundredths: mean, standard deviation.\npub const MEASURES: &[MeasureRow] = &[\n");
    for r in &calibration.measures {
        let (numbers, against) = (bias(r.bias, 3), r.against);
        let _ = writeln!(
            out,
            "measure({:?}, {:?}, {against:?}, {:?}, {:?}, {numbers}),",
            r.name, r.moment, r.seen, r.way
        );
    }
    out.push_str("];\n\n/// Share of the stature: mean, standard deviation.\npub const LENGTHS: &[LengthRow] = &[\n");
    for r in &calibration.lengths {
        let numbers = bias(r.share, 4);
        let _ = writeln!(
            out,
            "length(View::{:?}, Length::{:?}, {numbers}),",
            r.view, r.length
        );
    }
    out.push_str("];\n");
    out
}

const HEAD: &str = "use super::{Cue, Length, LengthRow, MeasureRow, MomentRow, Seen, Way};
use super::{length, measure, moment};
use Cue::*;
use Seen::*;
use Way::*;
use lessonwright_model::MeasureName::*;
use lessonwright_model::MomentName::*;
use lessonwright_model::View;

";
