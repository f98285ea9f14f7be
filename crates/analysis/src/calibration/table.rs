//! Written by `cargo xtask bench calibration`; not by hand.
//!
//! From 37 rendered swings used for tuning only, seen by the heavy body network.

use super::{Bias, Cue, Length, LengthRow, MeasureRow, MomentRow, Response, Seen};
use lessonwright_model::{MeasureName, MomentName, View};

/// Bias in s.
pub const MOMENTS: &[MomentRow] = &[
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Address,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00118,
            sd: 0.01454,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::LeadArmLevelBack,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.02675,
            sd: 0.02130,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Top,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00197,
            sd: 0.01787,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::LeadArmLevelDown,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00706,
            sd: 0.00806,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Impact,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00082,
            sd: 0.00638,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Finish,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.00066,
            sd: 0.09239,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Impact,
        cue: Cue::Sound,
        bias: Bias {
            mean: 0.00029,
            sd: 0.00050,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Address,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.01257,
            sd: 0.07617,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::LeadArmLevelBack,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.02260,
            sd: 0.02373,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Top,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00419,
            sd: 0.03370,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::LeadArmLevelDown,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.00146,
            sd: 0.00978,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Impact,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00974,
            sd: 0.00802,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Finish,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.01168,
            sd: 0.01222,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Impact,
        cue: Cue::Sound,
        bias: Bias {
            mean: 0.00044,
            sd: 0.00050,
        },
    },
];

/// In cm or degrees.
pub const MEASURES: &[MeasureRow] = &[
    MeasureRow {
        name: MeasureName::PelvisShift,
        moment: MomentName::Top,
        against: Some(MomentName::Address),
        seen: Seen::FaceOn,
        response: Response {
            offset: -1.48,
            gain: 0.966,
            gain_sd: 0.054,
            centre: -0.9,
            sd: 0.75,
        },
    },
    MeasureRow {
        name: MeasureName::PelvisShift,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Address),
        seen: Seen::FaceOn,
        response: Response {
            offset: -1.10,
            gain: 0.937,
            gain_sd: 0.027,
            centre: 3.1,
            sd: 0.76,
        },
    },
    MeasureRow {
        name: MeasureName::PelvisShift,
        moment: MomentName::Impact,
        against: Some(MomentName::Address),
        seen: Seen::FaceOn,
        response: Response {
            offset: -0.51,
            gain: 0.896,
            gain_sd: 0.029,
            centre: 5.9,
            sd: 0.80,
        },
    },
    MeasureRow {
        name: MeasureName::PelvisShift,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Top),
        seen: Seen::FaceOn,
        response: Response {
            offset: 0.35,
            gain: 0.908,
            gain_sd: 0.027,
            centre: 3.9,
            sd: 0.88,
        },
    },
    MeasureRow {
        name: MeasureName::KneeLineTurn,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Address),
        seen: Seen::DownTheLine,
        response: Response {
            offset: -4.81,
            gain: 0.516,
            gain_sd: 0.056,
            centre: 3.0,
            sd: 2.85,
        },
    },
    MeasureRow {
        name: MeasureName::TrailElbowAhead,
        moment: MomentName::LeadArmLevelDown,
        against: None,
        seen: Seen::DownTheLine,
        response: Response {
            offset: -1.30,
            gain: 1.078,
            gain_sd: 0.106,
            centre: 2.4,
            sd: 4.54,
        },
    },
    MeasureRow {
        name: MeasureName::KneeLineTurn,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Address),
        seen: Seen::Both,
        response: Response {
            offset: -4.94,
            gain: 0.459,
            gain_sd: 0.054,
            centre: 3.0,
            sd: 2.97,
        },
    },
    MeasureRow {
        name: MeasureName::TrailElbowAhead,
        moment: MomentName::LeadArmLevelDown,
        against: None,
        seen: Seen::Both,
        response: Response {
            offset: -1.16,
            gain: 1.053,
            gain_sd: 0.105,
            centre: 2.4,
            sd: 4.43,
        },
    },
];

/// Share of the stature.
pub const LENGTHS: &[LengthRow] = &[
    LengthRow {
        view: View::FaceOn,
        length: Length::NoseToAnkle,
        share: Bias {
            mean: 0.7490,
            sd: 0.0247,
        },
    },
    LengthRow {
        view: View::FaceOn,
        length: Length::Leg,
        share: Bias {
            mean: 0.4903,
            sd: 0.0102,
        },
    },
    LengthRow {
        view: View::FaceOn,
        length: Length::Arm,
        share: Bias {
            mean: 0.3719,
            sd: 0.0362,
        },
    },
    LengthRow {
        view: View::DownTheLine,
        length: Length::NoseToAnkle,
        share: Bias {
            mean: 0.7356,
            sd: 0.0184,
        },
    },
    LengthRow {
        view: View::DownTheLine,
        length: Length::Leg,
        share: Bias {
            mean: 0.5079,
            sd: 0.0108,
        },
    },
    LengthRow {
        view: View::DownTheLine,
        length: Length::Arm,
        share: Bias {
            mean: 0.3579,
            sd: 0.0546,
        },
    },
];
