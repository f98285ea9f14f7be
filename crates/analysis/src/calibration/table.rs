//! Written by `cargo run --release -p lessonwright-analysis --example calibrate`; not by hand.
//!
//! From 22 rendered swings used for tuning only, seen by the heavy body network.

use super::{Bias, Cue, Length, LengthRow, MeasureRow, MomentRow, Response, Seen};
use lessonwright_model::{MeasureName, MomentName, View};

/// Bias in s.
pub const MOMENTS: &[MomentRow] = &[
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Address,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00280,
            sd: 0.01639,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::LeadArmLevelBack,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.02344,
            sd: 0.02853,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Top,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00252,
            sd: 0.01413,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::LeadArmLevelDown,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00541,
            sd: 0.00705,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Impact,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00100,
            sd: 0.00624,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Finish,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.08305,
            sd: 0.12306,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Impact,
        cue: Cue::Sound,
        bias: Bias {
            mean: 0.00003,
            sd: 0.00050,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Address,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00378,
            sd: 0.08583,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::LeadArmLevelBack,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.02520,
            sd: 0.02829,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Top,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00341,
            sd: 0.01581,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::LeadArmLevelDown,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.00195,
            sd: 0.00905,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Impact,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00852,
            sd: 0.00841,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Finish,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00307,
            sd: 0.12340,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Impact,
        cue: Cue::Sound,
        bias: Bias {
            mean: 0.00098,
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
        response: Response {
            offset: -1.28,
            gain: 1.0,
            gain_sd: 0.0,
            centre: 0.0,
            sd: 0.86,
        },
    },
    MeasureRow {
        name: MeasureName::PelvisShift,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Address),
        seen: Seen::FaceOn,
        response: Response {
            offset: -1.39,
            gain: 1.0,
            gain_sd: 0.0,
            centre: 0.0,
            sd: 0.57,
        },
    },
    MeasureRow {
        name: MeasureName::PelvisShift,
        moment: MomentName::Impact,
        against: Some(MomentName::Address),
        seen: Seen::FaceOn,
        response: Response {
            offset: -1.16,
            gain: 1.0,
            gain_sd: 0.0,
            centre: 0.0,
            sd: 0.74,
        },
    },
    MeasureRow {
        name: MeasureName::PelvisShift,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Top),
        seen: Seen::FaceOn,
        response: Response {
            offset: -0.18,
            gain: 1.0,
            gain_sd: 0.0,
            centre: 0.0,
            sd: 0.82,
        },
    },
    MeasureRow {
        name: MeasureName::KneeLineTurn,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Address),
        seen: Seen::DownTheLine,
        response: Response {
            offset: -4.56,
            gain: 1.0,
            gain_sd: 0.0,
            centre: 0.0,
            sd: 5.58,
        },
    },
    MeasureRow {
        name: MeasureName::TrailElbowAhead,
        moment: MomentName::LeadArmLevelDown,
        against: None,
        seen: Seen::DownTheLine,
        response: Response {
            offset: -1.46,
            gain: 1.0,
            gain_sd: 0.0,
            centre: 0.0,
            sd: 6.62,
        },
    },
    MeasureRow {
        name: MeasureName::KneeLineTurn,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Address),
        seen: Seen::Both,
        response: Response {
            offset: -5.07,
            gain: 1.0,
            gain_sd: 0.0,
            centre: 0.0,
            sd: 5.73,
        },
    },
    MeasureRow {
        name: MeasureName::TrailElbowAhead,
        moment: MomentName::LeadArmLevelDown,
        against: None,
        seen: Seen::Both,
        response: Response {
            offset: -0.70,
            gain: 1.0,
            gain_sd: 0.0,
            centre: 0.0,
            sd: 5.94,
        },
    },
];

/// Share of the stature.
pub const LENGTHS: &[LengthRow] = &[
    LengthRow {
        view: View::FaceOn,
        length: Length::NoseToAnkle,
        share: Bias {
            mean: 0.7491,
            sd: 0.0250,
        },
    },
    LengthRow {
        view: View::FaceOn,
        length: Length::Leg,
        share: Bias {
            mean: 0.4885,
            sd: 0.0118,
        },
    },
    LengthRow {
        view: View::FaceOn,
        length: Length::Arm,
        share: Bias {
            mean: 0.3690,
            sd: 0.0692,
        },
    },
    LengthRow {
        view: View::DownTheLine,
        length: Length::NoseToAnkle,
        share: Bias {
            mean: 0.7359,
            sd: 0.0199,
        },
    },
    LengthRow {
        view: View::DownTheLine,
        length: Length::Leg,
        share: Bias {
            mean: 0.5043,
            sd: 0.0105,
        },
    },
    LengthRow {
        view: View::DownTheLine,
        length: Length::Arm,
        share: Bias {
            mean: 0.3704,
            sd: 0.0649,
        },
    },
];
