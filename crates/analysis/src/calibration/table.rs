//! Written by `cargo xtask bench calibration`; not by hand.
//!
//! From 46 rendered swings used for tuning only, seen by the heavy body network.

use super::{Bias, Cue, Length, LengthRow, MeasureRow, MomentRow, Seen};
use lessonwright_model::{MeasureName, MomentName, View};

/// Bias in s.
pub const MOMENTS: &[MomentRow] = &[
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Address,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00161,
            sd: 0.01360,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::LeadArmLevelBack,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.02601,
            sd: 0.02200,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Top,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00205,
            sd: 0.02246,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::LeadArmLevelDown,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00651,
            sd: 0.00964,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Impact,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00127,
            sd: 0.00575,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Finish,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.00587,
            sd: 0.08871,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Impact,
        cue: Cue::Sound,
        bias: Bias {
            mean: 0.00025,
            sd: 0.00050,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Address,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00822,
            sd: 0.08015,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::LeadArmLevelBack,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.02245,
            sd: 0.02887,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Top,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00460,
            sd: 0.04005,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::LeadArmLevelDown,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.00107,
            sd: 0.01220,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Impact,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00917,
            sd: 0.00887,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Finish,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00933,
            sd: 0.01466,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Impact,
        cue: Cue::Sound,
        bias: Bias {
            mean: 0.00051,
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
            mean: -1.42,
            sd: 0.71,
        },
    },
    MeasureRow {
        name: MeasureName::PelvisShift,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Address),
        seen: Seen::FaceOn,
        bias: Bias {
            mean: -1.34,
            sd: 0.89,
        },
    },
    MeasureRow {
        name: MeasureName::PelvisShift,
        moment: MomentName::Impact,
        against: Some(MomentName::Address),
        seen: Seen::FaceOn,
        bias: Bias {
            mean: -1.21,
            sd: 1.04,
        },
    },
    MeasureRow {
        name: MeasureName::PelvisShift,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Top),
        seen: Seen::FaceOn,
        bias: Bias {
            mean: 0.01,
            sd: 1.01,
        },
    },
    MeasureRow {
        name: MeasureName::KneeLineTurn,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Address),
        seen: Seen::DownTheLine,
        bias: Bias {
            mean: -5.91,
            sd: 5.73,
        },
    },
    MeasureRow {
        name: MeasureName::TrailElbowAhead,
        moment: MomentName::LeadArmLevelDown,
        against: None,
        seen: Seen::DownTheLine,
        bias: Bias {
            mean: -0.71,
            sd: 2.69,
        },
    },
    MeasureRow {
        name: MeasureName::KneeLineTurn,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Address),
        seen: Seen::Both,
        bias: Bias {
            mean: -5.96,
            sd: 6.10,
        },
    },
];

/// Share of the stature.
pub const LENGTHS: &[LengthRow] = &[
    LengthRow {
        view: View::FaceOn,
        length: Length::NoseToAnkle,
        share: Bias {
            mean: 0.7509,
            sd: 0.0242,
        },
    },
    LengthRow {
        view: View::FaceOn,
        length: Length::Leg,
        share: Bias {
            mean: 0.4904,
            sd: 0.0096,
        },
    },
    LengthRow {
        view: View::FaceOn,
        length: Length::Arm,
        share: Bias {
            mean: 0.3696,
            sd: 0.0325,
        },
    },
    LengthRow {
        view: View::DownTheLine,
        length: Length::NoseToAnkle,
        share: Bias {
            mean: 0.7358,
            sd: 0.0190,
        },
    },
    LengthRow {
        view: View::DownTheLine,
        length: Length::Leg,
        share: Bias {
            mean: 0.5075,
            sd: 0.0108,
        },
    },
    LengthRow {
        view: View::DownTheLine,
        length: Length::Arm,
        share: Bias {
            mean: 0.3529,
            sd: 0.0281,
        },
    },
];
