//! Centre of mass from a segment-mass model. It is where the masses of an average body's segments
//! would balance in this pose, **not** pressure under the feet: a body that accelerates presses
//! elsewhere.
//!
//! Masses and places: de Leva P (1996) Adjustments to Zatsiorsky-Seluyanov's segment inertia
//! parameters, *J Biomech* 29:1223–1230, table 4 (read in a second-hand table that sums to 100 %).
//! Ends differ a little from ours: the trunk's upper end is the mid-shoulder for the suprasternale;
//! the head's mass is put at the nose, which is about 0.1 m ahead of it and moves the whole by
//! 0.7 cm; a hand's lies beyond the wrist along the forearm.

use crate::points::{Point, Pose};
use glam::DVec3;

/// Segment masses as shares of the body's, and their centres as shares of the segment's length
/// from its upper end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SegmentMasses {
    /// Head: mass.
    pub head: f64,
    /// Trunk: mass, centre from the mid-shoulder.
    pub trunk: [f64; 2],
    /// Upper arm: mass, centre.
    pub upper_arm: [f64; 2],
    /// Forearm: mass, centre.
    pub forearm: [f64; 2],
    /// Hand: mass, centre in metres beyond the wrist.
    pub hand: [f64; 2],
    /// Thigh: mass, centre.
    pub thigh: [f64; 2],
    /// Shank: mass, centre.
    pub shank: [f64; 2],
    /// Foot: mass, centre from the heel.
    pub foot: [f64; 2],
}

/// de Leva's men.
pub const MEN: SegmentMasses = SegmentMasses {
    head: 0.0694,
    trunk: [0.4346, 0.4486],
    upper_arm: [0.0271, 0.5772],
    forearm: [0.0162, 0.4574],
    hand: [0.0061, 0.7900 * 0.0862],
    thigh: [0.1416, 0.4095],
    shank: [0.0433, 0.4459],
    foot: [0.0137, 0.4415],
};

/// de Leva's women.
pub const WOMEN: SegmentMasses = SegmentMasses {
    head: 0.0668,
    trunk: [0.4257, 0.4151],
    upper_arm: [0.0255, 0.5754],
    forearm: [0.0138, 0.4559],
    hand: [0.0056, 0.7474 * 0.0780],
    thigh: [0.1478, 0.3612],
    shank: [0.0481, 0.4416],
    foot: [0.0129, 0.4014],
};

/// The mean of both, for a player whose sex is not asked.
pub const ADULTS: SegmentMasses = SegmentMasses {
    head: 0.5 * (MEN.head + WOMEN.head),
    trunk: mean(MEN.trunk, WOMEN.trunk),
    upper_arm: mean(MEN.upper_arm, WOMEN.upper_arm),
    forearm: mean(MEN.forearm, WOMEN.forearm),
    hand: mean(MEN.hand, WOMEN.hand),
    thigh: mean(MEN.thigh, WOMEN.thigh),
    shank: mean(MEN.shank, WOMEN.shank),
    foot: mean(MEN.foot, WOMEN.foot),
};

const fn mean(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])]
}

/// Where the segments' masses balance, m.
pub fn centre_of_mass(pose: &Pose, model: &SegmentMasses) -> DVec3 {
    use Point::{
        LeadAnkle, LeadElbow, LeadHeel, LeadHip, LeadKnee, LeadShoulder, LeadToe, LeadWrist, Nose,
        TrailAnkle, TrailElbow, TrailHeel, TrailHip, TrailKnee, TrailShoulder, TrailToe,
        TrailWrist,
    };
    let mut mass = model.head;
    let mut moment = model.head * pose.at(Nose);
    let mut add = |[share, place]: [f64; 2], from: DVec3, to: DVec3| {
        mass += share;
        moment += share * from.lerp(to, place);
    };
    add(model.trunk, pose.mid_shoulder(), pose.mid_hip());
    let sides = [
        [
            LeadShoulder,
            LeadElbow,
            LeadWrist,
            LeadHip,
            LeadKnee,
            LeadAnkle,
            LeadHeel,
            LeadToe,
        ],
        [
            TrailShoulder,
            TrailElbow,
            TrailWrist,
            TrailHip,
            TrailKnee,
            TrailAnkle,
            TrailHeel,
            TrailToe,
        ],
    ];
    for side in sides {
        let [shoulder, elbow, wrist, hip, knee, ankle, heel, toe] = side.map(|p| pose.at(p));
        add(model.upper_arm, shoulder, elbow);
        add(model.forearm, elbow, wrist);
        // the second end lies a metre on, so that the place is in metres
        add(
            model.hand,
            wrist,
            wrist + (wrist - elbow).normalize_or_zero(),
        );
        add(model.thigh, hip, knee);
        add(model.shank, knee, ankle);
        add(model.foot, heel, toe);
    }
    moment / mass
}

/// How far the centre of mass lies from the trail ankle toward the lead ankle on the ground, as a
/// share of their distance: 0 over the trail ankle, 1 over the lead. A segment-mass model, not
/// pressure.
pub fn mass_over_feet(pose: &Pose, model: &SegmentMasses) -> f64 {
    let level = |v: DVec3| DVec3::new(v.x, 0.0, v.z);
    let trail = level(pose.at(Point::TrailAnkle));
    let line = level(pose.at(Point::LeadAnkle)) - trail;
    (level(centre_of_mass(pose, model)) - trail).dot(line) / line.length_squared()
}
