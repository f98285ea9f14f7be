//! Lengths of the body that do not change through a swing: soft, shared by both sides, and in the
//! mean pinned to the stature.

use crate::points::Point;

/// How many lengths there are.
pub const LENGTHS: usize = 12;

/// A length of the body; as a number it is its place in [`crate::Fit::lengths_m`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(usize)]
pub enum Length {
    /// Hip to knee.
    Thigh,
    /// Knee to ankle.
    Shank,
    /// Shoulder to elbow.
    UpperArm,
    /// Elbow to wrist.
    Forearm,
    /// Between the hip joint centres.
    Hips,
    /// Between the shoulder joint centres; the girdle lets it change.
    Shoulders,
    /// Mid-shoulder to mid-hip.
    Trunk,
    /// Mid-shoulder to nose.
    NeckToNose,
    /// Between the wrists on the grip.
    Wrists,
    /// Ankle to heel.
    AnkleToHeel,
    /// Ankle to toe.
    AnkleToToe,
    /// Heel to toe.
    HeelToToe,
}

/// What is believed of a length beforehand.
pub(crate) struct Belief {
    /// Share of the stature.
    pub(crate) share: f64,
    /// Standard deviation of its logarithm from person to person.
    pub(crate) log_sd: f64,
    /// How much it may differ from itself in one frame, m (feasibility note, residual 2).
    pub(crate) frame_sd_m: f64,
    /// Its weight in the mean that is pinned to the stature (feasibility note, residual 7).
    pub(crate) in_scale: f64,
}

/// In the order of [`Length`]. Shares of limbs: Drillis & Contini (1966) after Winter,
/// *Biomechanics and Motor Control of Human Movement*, fig. 4.1. Hips and shoulders are joint
/// centres, narrower than that figure's bony breadths: 0.10 and 0.21 (reference values D1, from
/// memory). The trunk there is 0.288 standing; with the arms hanging forward the shoulder joints
/// sink, 0.24–0.28 on eight stage swings: 0.27 ± 10 %, and out of the mean that makes the scale
/// (with the note's 0.288 ± 3 % the body came out 2 % too large). Nose, wrists and feet by eye.
/// Other spreads: the feasibility note.
pub(crate) const BELIEFS: [Belief; LENGTHS] = [
    belief(0.245, 0.03, 0.012, 0.35),
    belief(0.246, 0.03, 0.012, 0.35),
    belief(0.186, 0.03, 0.012, 0.15),
    belief(0.146, 0.03, 0.012, 0.15),
    belief(0.100, 0.12, 0.009, 0.0),
    belief(0.210, 0.06, 0.036, 0.0),
    belief(0.270, 0.10, 0.030, 0.0),
    belief(0.130, 0.10, 0.030, 0.0),
    belief(0.050, 0.30, 0.075, 0.0),
    belief(0.046, 0.10, 0.015, 0.0),
    belief(0.112, 0.10, 0.015, 0.0),
    belief(0.138, 0.10, 0.015, 0.0),
];

const fn belief(share: f64, log_sd: f64, frame_sd_m: f64, in_scale: f64) -> Belief {
    Belief {
        share,
        log_sd,
        frame_sd_m,
        in_scale,
    }
}

/// Two ends, each the mean of its points, and the length between them.
pub(crate) const SEGMENTS: [(Length, &[Point], &[Point]); 19] = {
    use Length::*;
    use Point::*;
    [
        (Thigh, &[LeadHip], &[LeadKnee]),
        (Thigh, &[TrailHip], &[TrailKnee]),
        (Shank, &[LeadKnee], &[LeadAnkle]),
        (Shank, &[TrailKnee], &[TrailAnkle]),
        (UpperArm, &[LeadShoulder], &[LeadElbow]),
        (UpperArm, &[TrailShoulder], &[TrailElbow]),
        (Forearm, &[LeadElbow], &[LeadWrist]),
        (Forearm, &[TrailElbow], &[TrailWrist]),
        (Hips, &[LeadHip], &[TrailHip]),
        (Shoulders, &[LeadShoulder], &[TrailShoulder]),
        (Trunk, &[LeadShoulder, TrailShoulder], &[LeadHip, TrailHip]),
        (NeckToNose, &[LeadShoulder, TrailShoulder], &[Nose]),
        (Wrists, &[LeadWrist], &[TrailWrist]),
        (AnkleToHeel, &[LeadAnkle], &[LeadHeel]),
        (AnkleToHeel, &[TrailAnkle], &[TrailHeel]),
        (AnkleToToe, &[LeadAnkle], &[LeadToe]),
        (AnkleToToe, &[TrailAnkle], &[TrailToe]),
        (HeelToToe, &[LeadHeel], &[LeadToe]),
        (HeelToToe, &[TrailHeel], &[TrailToe]),
    ]
};
