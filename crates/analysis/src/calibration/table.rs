//! Written by `cargo xtask bench calibration`; not by hand.
//!
//! From 50 rendered swings used for tuning only, seen by the heavy body network.

use super::{Bias, Cue, Length, LengthRow, MeasureRow, MomentRow, Seen};
use lessonwright_model::{MeasureName, MomentName, View};

/// Bias in s.
pub const MOMENTS: &[MomentRow] = &[
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Address,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00415,
            sd: 0.01117,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::LeadArmLevelBack,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.02773,
            sd: 0.03143,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Top,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00123,
            sd: 0.02596,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::LeadArmLevelDown,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00708,
            sd: 0.01224,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Impact,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00375,
            sd: 0.00544,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Finish,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.00791,
            sd: 0.07433,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Impact,
        cue: Cue::Sound,
        bias: Bias {
            mean: 0.00064,
            sd: 0.00050,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Address,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00761,
            sd: 0.09261,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::LeadArmLevelBack,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.03483,
            sd: 0.03058,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Top,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00498,
            sd: 0.03105,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::LeadArmLevelDown,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00449,
            sd: 0.01542,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Impact,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00995,
            sd: 0.00795,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Finish,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.01015,
            sd: 0.01331,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Impact,
        cue: Cue::Sound,
        bias: Bias {
            mean: 0.00043,
            sd: 0.00050,
        },
    },
];

/// Bias in cm or degrees.
pub const MEASURES: &[MeasureRow] = &[
    MeasureRow {
        name: MeasureName::PelvisShift,
        moment: MomentName::Top,
        against: Some(MomentName::Address),
        seen: Seen::FaceOn,
        bias: Bias {
            mean: -1.53,
            sd: 0.81,
        },
    },
    MeasureRow {
        name: MeasureName::PelvisShift,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Address),
        seen: Seen::FaceOn,
        bias: Bias {
            mean: -1.13,
            sd: 1.09,
        },
    },
    MeasureRow {
        name: MeasureName::PelvisShift,
        moment: MomentName::Impact,
        against: Some(MomentName::Address),
        seen: Seen::FaceOn,
        bias: Bias {
            mean: -1.16,
            sd: 1.18,
        },
    },
    MeasureRow {
        name: MeasureName::PelvisShift,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Top),
        seen: Seen::FaceOn,
        bias: Bias {
            mean: 0.45,
            sd: 1.28,
        },
    },
    MeasureRow {
        name: MeasureName::KneeLineTurn,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Address),
        seen: Seen::DownTheLine,
        bias: Bias {
            mean: -5.93,
            sd: 7.72,
        },
    },
    MeasureRow {
        name: MeasureName::TrailElbowAhead,
        moment: MomentName::LeadArmLevelDown,
        against: None,
        seen: Seen::DownTheLine,
        bias: Bias {
            mean: 0.09,
            sd: 3.17,
        },
    },
    MeasureRow {
        name: MeasureName::KneeLineTurn,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Address),
        seen: Seen::Both,
        bias: Bias {
            mean: -7.66,
            sd: 6.59,
        },
    },
];

/// Share of the stature.
pub const LENGTHS: &[LengthRow] = &[
    LengthRow {
        view: View::FaceOn,
        length: Length::NoseToAnkle,
        share: Bias {
            mean: 0.7527,
            sd: 0.0271,
        },
    },
    LengthRow {
        view: View::FaceOn,
        length: Length::Leg,
        share: Bias {
            mean: 0.4935,
            sd: 0.0102,
        },
    },
    LengthRow {
        view: View::FaceOn,
        length: Length::Arm,
        share: Bias {
            mean: 0.3681,
            sd: 0.0161,
        },
    },
    LengthRow {
        view: View::DownTheLine,
        length: Length::NoseToAnkle,
        share: Bias {
            mean: 0.7389,
            sd: 0.0212,
        },
    },
    LengthRow {
        view: View::DownTheLine,
        length: Length::Leg,
        share: Bias {
            mean: 0.5083,
            sd: 0.0108,
        },
    },
    LengthRow {
        view: View::DownTheLine,
        length: Length::Arm,
        share: Bias {
            mean: 0.3556,
            sd: 0.0193,
        },
    },
];
