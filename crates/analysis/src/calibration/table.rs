//! Written by `cargo xtask bench calibration`; not by hand.
//!
//! From 43 rendered swings used for tuning only, seen by the heavy body network.

use super::{Bias, Cue, Length, LengthRow, MeasureRow, MomentRow, Seen};
use lessonwright_model::{MeasureName, MomentName, View};

/// Bias in s.
pub const MOMENTS: &[MomentRow] = &[
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Address,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00204,
            sd: 0.01356,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::LeadArmLevelBack,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.02564,
            sd: 0.01983,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Top,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00092,
            sd: 0.02385,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::LeadArmLevelDown,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00645,
            sd: 0.00702,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Impact,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00046,
            sd: 0.00624,
        },
    },
    MomentRow {
        view: View::FaceOn,
        name: MomentName::Finish,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.00384,
            sd: 0.09021,
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
            mean: -0.01747,
            sd: 0.07489,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::LeadArmLevelBack,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.02195,
            sd: 0.02574,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Top,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00421,
            sd: 0.03598,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::LeadArmLevelDown,
        cue: Cue::Motion,
        bias: Bias {
            mean: 0.00169,
            sd: 0.01052,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Impact,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.00861,
            sd: 0.00797,
        },
    },
    MomentRow {
        view: View::DownTheLine,
        name: MomentName::Finish,
        cue: Cue::Motion,
        bias: Bias {
            mean: -0.01011,
            sd: 0.01266,
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

/// Bias in cm or degrees.
pub const MEASURES: &[MeasureRow] = &[
    MeasureRow {
        name: MeasureName::PelvisShift,
        moment: MomentName::Top,
        against: Some(MomentName::Address),
        seen: Seen::FaceOn,
        bias: Bias {
            mean: -1.44,
            sd: 0.73,
        },
    },
    MeasureRow {
        name: MeasureName::PelvisShift,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Address),
        seen: Seen::FaceOn,
        bias: Bias {
            mean: -1.35,
            sd: 0.91,
        },
    },
    MeasureRow {
        name: MeasureName::PelvisShift,
        moment: MomentName::Impact,
        against: Some(MomentName::Address),
        seen: Seen::FaceOn,
        bias: Bias {
            mean: -1.18,
            sd: 1.05,
        },
    },
    MeasureRow {
        name: MeasureName::PelvisShift,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Top),
        seen: Seen::FaceOn,
        bias: Bias {
            mean: 0.05,
            sd: 0.93,
        },
    },
    MeasureRow {
        name: MeasureName::KneeLineTurn,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Address),
        seen: Seen::DownTheLine,
        bias: Bias {
            mean: -5.90,
            sd: 5.99,
        },
    },
    MeasureRow {
        name: MeasureName::TrailElbowAhead,
        moment: MomentName::LeadArmLevelDown,
        against: None,
        seen: Seen::DownTheLine,
        bias: Bias {
            mean: -0.43,
            sd: 2.56,
        },
    },
    MeasureRow {
        name: MeasureName::KneeLineTurn,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Address),
        seen: Seen::Both,
        bias: Bias {
            mean: -5.75,
            sd: 6.49,
        },
    },
    MeasureRow {
        name: MeasureName::TrailElbowAhead,
        moment: MomentName::LeadArmLevelDown,
        against: None,
        seen: Seen::Both,
        bias: Bias {
            mean: -0.47,
            sd: 3.06,
        },
    },
];

/// Share of the stature.
pub const LENGTHS: &[LengthRow] = &[
    LengthRow {
        view: View::FaceOn,
        length: Length::NoseToAnkle,
        share: Bias {
            mean: 0.7505,
            sd: 0.0247,
        },
    },
    LengthRow {
        view: View::FaceOn,
        length: Length::Leg,
        share: Bias {
            mean: 0.4903,
            sd: 0.0097,
        },
    },
    LengthRow {
        view: View::FaceOn,
        length: Length::Arm,
        share: Bias {
            mean: 0.3692,
            sd: 0.0332,
        },
    },
    LengthRow {
        view: View::DownTheLine,
        length: Length::NoseToAnkle,
        share: Bias {
            mean: 0.7357,
            sd: 0.0182,
        },
    },
    LengthRow {
        view: View::DownTheLine,
        length: Length::Leg,
        share: Bias {
            mean: 0.5079,
            sd: 0.0104,
        },
    },
    LengthRow {
        view: View::DownTheLine,
        length: Length::Arm,
        share: Bias {
            mean: 0.3533,
            sd: 0.0287,
        },
    },
];
