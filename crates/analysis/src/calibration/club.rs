//! How wrong what the shaft's direction says is, all in all (the pictures' own errors are counted once more): cameras that
//! don't stand square, perspective, joints of the forearm, rows of a picture exposed one after another.
//!
//! Root mean squares over 24 rendered swings with clubs of any kind, used for tuning only, as
//! `cargo xtask bench club` prints them (November 2026). No mean is taken out. Lean at impact is told with the head at
//! the ball; where that is not seen the rows count (`measures/club.rs`).

use super::{Bias, Cue, MeasureRow, MomentRow, Seen, Way, measure, moment};
use lessonwright_model::MeasureName::{
    BallStart, ShaftLean, ShaftSlope, ShaftSteepening, WristSet,
};
use lessonwright_model::MomentName::{
    Address, Impact, LeadArmLevelBack, LeadArmLevelDown, ShaftLevelBack, ShaftLevelDown,
};
use lessonwright_model::View;

/// Where no row says more.
pub const UNLISTED: Bias = Bias { mean: 0.0, sd: 8.0 };

/// Bias in s: mean, standard deviation.
pub const MOMENTS: &[MomentRow] = &[
    moment(View::FaceOn, ShaftLevelBack, Cue::Motion, 0.0, 0.0046),
    moment(View::FaceOn, ShaftLevelDown, Cue::Motion, 0.0, 0.0016),
];

/// Bias in degrees: mean, standard deviation.
pub const MEASURES: &[MeasureRow] = &[
    row(ShaftLean, Address, Seen::FaceOn, 2.9),
    // With the head at the ball; 13 of the swings.
    row(ShaftLean, Impact, Seen::FaceOn, 3.5),
    row(ShaftSlope, Address, Seen::DownTheLine, 0.9),
    row(ShaftSlope, LeadArmLevelBack, Seen::DownTheLine, 1.0),
    row(ShaftSlope, LeadArmLevelDown, Seen::DownTheLine, 1.6),
    row(ShaftSteepening, LeadArmLevelDown, Seen::DownTheLine, 1.8),
    row(WristSet, LeadArmLevelBack, Seen::FaceOn, 7.8),
    row(WristSet, LeadArmLevelDown, Seen::FaceOn, 8.4),
    // 7 of 21 swings told it then: as uncertain as at impact.
    row(WristSet, ShaftLevelDown, Seen::FaceOn, 5.9),
    row(WristSet, Impact, Seen::FaceOn, 5.9),
    // Spots say by themselves how far they stray.
    row(BallStart, Impact, Seen::DownTheLine, 0.1),
];

const fn row(
    name: lessonwright_model::MeasureName,
    at: lessonwright_model::MomentName,
    seen: Seen,
    sd: f64,
) -> MeasureRow {
    measure(name, at, None, seen, Way::Picture, 0.0, sd)
}
