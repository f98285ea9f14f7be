//! The points of the body, and a pose made of them.
//!
//! World axes: x toward the target, y up, z from the player to the ball; metres; origin on the
//! ground midway between the ankles at address. Lead is the side toward the target. A left-hander
//! is mirrored by the caller, so the same axes serve both hands.

use glam::DVec3;

/// How many points a pose has.
pub const POINTS: usize = 17;

/// A point of the body; as a number it is its place in a [`Pose`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[repr(usize)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Point {
    LeadHip,
    TrailHip,
    LeadShoulder,
    TrailShoulder,
    LeadElbow,
    TrailElbow,
    LeadWrist,
    TrailWrist,
    LeadKnee,
    TrailKnee,
    LeadAnkle,
    TrailAnkle,
    LeadHeel,
    TrailHeel,
    LeadToe,
    TrailToe,
    Nose,
}

impl Point {
    /// All, in order.
    pub const ALL: [Point; POINTS] = [
        Point::LeadHip,
        Point::TrailHip,
        Point::LeadShoulder,
        Point::TrailShoulder,
        Point::LeadElbow,
        Point::TrailElbow,
        Point::LeadWrist,
        Point::TrailWrist,
        Point::LeadKnee,
        Point::TrailKnee,
        Point::LeadAnkle,
        Point::TrailAnkle,
        Point::LeadHeel,
        Point::TrailHeel,
        Point::LeadToe,
        Point::TrailToe,
        Point::Nose,
    ];

    /// Its name in JSON.
    pub fn key(self) -> &'static str {
        match self {
            Point::LeadHip => "lead_hip",
            Point::TrailHip => "trail_hip",
            Point::LeadShoulder => "lead_shoulder",
            Point::TrailShoulder => "trail_shoulder",
            Point::LeadElbow => "lead_elbow",
            Point::TrailElbow => "trail_elbow",
            Point::LeadWrist => "lead_wrist",
            Point::TrailWrist => "trail_wrist",
            Point::LeadKnee => "lead_knee",
            Point::TrailKnee => "trail_knee",
            Point::LeadAnkle => "lead_ankle",
            Point::TrailAnkle => "trail_ankle",
            Point::LeadHeel => "lead_heel",
            Point::TrailHeel => "trail_heel",
            Point::LeadToe => "lead_toe",
            Point::TrailToe => "trail_toe",
            Point::Nose => "nose",
        }
    }
}

/// The points of one instant in the world, m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose(pub [DVec3; POINTS]);

impl Pose {
    /// One point, m.
    pub fn at(&self, point: Point) -> DVec3 {
        self.0[point as usize]
    }

    /// The middle of two points, m.
    pub fn middle(&self, a: Point, b: Point) -> DVec3 {
        0.5 * (self.at(a) + self.at(b))
    }

    /// Middle of the hip joint centres, m.
    pub fn mid_hip(&self) -> DVec3 {
        self.middle(Point::LeadHip, Point::TrailHip)
    }

    /// Middle of the shoulder joint centres, m: stands for the base of the neck.
    pub fn mid_shoulder(&self) -> DVec3 {
        self.middle(Point::LeadShoulder, Point::TrailShoulder)
    }
}
