//! Written by `cargo xtask bench calibration`; not by hand.
//!
//! From 50 rendered swings used for tuning only, seen by the heavy body network.

use super::{Cue, Length, LengthRow, MeasureRow, MomentRow, Seen, Way};
use super::{length, measure, moment};
use Cue::*;
use Seen::*;
use Way::*;
use lessonwright_model::MeasureName::*;
use lessonwright_model::MomentName::*;
use lessonwright_model::View;

/// Bias in s: mean, standard deviation.
pub const MOMENTS: &[MomentRow] = &[
    moment(View::FaceOn, Address, Motion, -0.00572, 0.01161),
    moment(View::FaceOn, LeadArmLevelBack, Motion, -0.00300, 0.01144),
    moment(View::FaceOn, Top, Motion, -0.00224, 0.02520),
    moment(View::FaceOn, LeadArmLevelDown, Motion, 0.00056, 0.00546),
    moment(View::FaceOn, Impact, Motion, -0.00340, 0.00537),
    moment(View::FaceOn, Finish, Motion, -0.00730, 0.02642),
    moment(View::FaceOn, Impact, Sound, 0.00064, 0.00050),
    moment(View::DownTheLine, Address, Motion, -0.00626, 0.05469),
    moment(
        View::DownTheLine,
        LeadArmLevelBack,
        Motion,
        0.00367,
        0.02140,
    ),
    moment(View::DownTheLine, Top, Motion, -0.00849, 0.03341),
    moment(
        View::DownTheLine,
        LeadArmLevelDown,
        Motion,
        0.00182,
        0.00720,
    ),
    moment(View::DownTheLine, Impact, Motion, -0.00727, 0.01088),
    moment(View::DownTheLine, Finish, Motion, -0.00724, 0.03472),
    moment(View::DownTheLine, Impact, Sound, 0.00043, 0.00050),
];

/// Bias in cm, degrees, s or hundredths: mean, standard deviation.
pub const MEASURES: &[MeasureRow] = &[
    measure(
        PelvisShift,
        Top,
        Some(Address),
        FaceOn,
        Picture,
        -0.21,
        0.69,
    ),
    measure(
        PelvisShift,
        LeadArmLevelDown,
        Some(Address),
        FaceOn,
        Picture,
        -0.72,
        0.89,
    ),
    measure(
        PelvisShift,
        Impact,
        Some(Address),
        FaceOn,
        Picture,
        -1.05,
        0.77,
    ),
    measure(
        PelvisShift,
        LeadArmLevelDown,
        Some(Top),
        FaceOn,
        Picture,
        -0.21,
        0.91,
    ),
    measure(
        KneeLineTurn,
        LeadArmLevelDown,
        Some(Address),
        DownTheLine,
        Picture,
        1.01,
        5.31,
    ),
    measure(
        TrailElbowAhead,
        LeadArmLevelDown,
        None,
        DownTheLine,
        Picture,
        -0.82,
        2.47,
    ),
    measure(
        KneeLineTurn,
        LeadArmLevelDown,
        Some(Address),
        Both,
        Picture,
        0.54,
        4.87,
    ),
];

/// Share of the stature: mean, standard deviation.
pub const LENGTHS: &[LengthRow] = &[
    length(View::FaceOn, Length::NoseToAnkle, 0.7618, 0.0280),
    length(View::FaceOn, Length::Leg, 0.5138, 0.0102),
    length(View::FaceOn, Length::Arm, 0.3556, 0.0090),
    length(View::DownTheLine, Length::NoseToAnkle, 0.7376, 0.0201),
    length(View::DownTheLine, Length::Leg, 0.5149, 0.0099),
    length(View::DownTheLine, Length::Arm, 0.3465, 0.0083),
];
