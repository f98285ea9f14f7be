//! What stands, lies or is worn beside the player in a drill: bars, boxes and balls, fixed to the ground or to
//! a part of the body.

use crate::field::{Builder, Material};
use crate::pose::{Pose, frame_up};
use glam::{DMat3, DVec3, Vec3};
use serde::{Deserialize, Serialize};

/// What is there besides the player.
#[derive(Clone, Debug, PartialEq)]
pub struct Props {
    /// Whether there is a club.
    pub club: bool,
    /// Whether there is a golf ball.
    pub ball: bool,
    /// All else.
    pub things: Vec<Thing>,
}

impl Default for Props {
    fn default() -> Self {
        Props {
            club: true,
            ball: true,
            things: Vec::new(),
        }
    }
}

/// A thing of a simple shape. Lengths are cm in the axes of what it is fixed to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Thing {
    /// What it is fixed to.
    #[serde(default)]
    pub on: On,
    /// Its shape.
    pub shape: Shape,
    /// Pale like a wall instead of bright.
    #[serde(default)]
    pub pale: bool,
    /// The first and the last step of a drill in which it is there; all without.
    #[serde(default)]
    pub shows: Option<[usize; 2]>,
}

/// What a thing is fixed to, with the axes there: x to the lead side (the target for the ground), y up, z ahead (to
/// the ball for the ground).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum On {
    /// The ground midway between the ankles.
    #[default]
    Ground,
    /// The base of the neck, in the chest's axes.
    Chest,
    /// The middle of the hips, in the pelvis' axes.
    Pelvis,
    /// The middle of the head, in the head's axes.
    Head,
    /// Midway between the knees, in the axes of the ground.
    Knees,
    /// The lead knee, in the axes of the ground.
    LeadKnee,
    /// The ground below the club's head, in the axes of the ground.
    BelowClubHead,
    /// Upper end of the grip: y up the shaft, z to the toe.
    Handle,
    /// The lead hand: y from the fingers up the forearm, z where the back of the hand looks.
    LeadHand,
    /// The trail hand, in the same axes.
    TrailHand,
}

/// The shape of a thing.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Shape {
    /// A round bar.
    Bar {
        /// One end.
        from: [f64; 3],
        /// The other.
        to: [f64; 3],
        /// Its thickness.
        thick: f64,
    },
    /// A box with softened edges.
    Block {
        /// Its middle.
        at: [f64; 3],
        /// Its width, height and depth.
        size: [f64; 3],
    },
    /// A ball.
    Ball {
        /// Its middle.
        at: [f64; 3],
        /// Its diameter.
        thick: f64,
    },
}

impl On {
    /// Origin and axes of what a thing is fixed to, m.
    fn place(self, pose: &Pose) -> (DVec3, DMat3) {
        let hand = |side: usize| {
            let up = (pose.wrist[side] - pose.grip[side]).normalize();
            (pose.grip[side], frame_up(up, pose.hold[side].back))
        };
        match self {
            On::Ground => (DVec3::ZERO, DMat3::IDENTITY),
            On::Chest => (pose.neck, pose.chest_frame),
            On::Pelvis => (pose.pelvis, pose.pelvis_frame),
            On::Head => (pose.head, pose.head_frame),
            On::Knees => (0.5 * (pose.knee[0] + pose.knee[1]), DMat3::IDENTITY),
            On::LeadKnee => (pose.knee[0], DMat3::IDENTITY),
            On::BelowClubHead => (pose.club.head.with_y(0.0), DMat3::IDENTITY),
            On::Handle => (pose.club.butt, frame_up(-pose.club.shaft, pose.club.toe)),
            On::LeadHand => hand(0),
            On::TrailHand => hand(1),
        }
    }
}

impl Thing {
    /// Adds it to a shape.
    pub(crate) fn add_to(&self, b: &mut Builder, pose: &Pose) {
        let (origin, axes) = self.on.place(pose);
        let at = |cm: [f64; 3]| (origin + axes * (0.01 * DVec3::from_array(cm))).as_vec3();
        let half_m = |cm: f64| (0.005 * cm) as f32;
        let material = if self.pale {
            Material::Wall
        } else {
            Material::Thing
        };
        b.with(material, 0.001, 0);
        match self.shape {
            Shape::Bar { from, to, thick } => {
                b.cone(at(from), at(to), half_m(thick), half_m(thick));
            }
            Shape::Block { at: middle, size } => {
                const ROUND_M: f32 = 0.004;
                let half = Vec3::from_array(size.map(half_m)) - ROUND_M;
                b.rounded_box(
                    at(middle),
                    axes.as_mat3(),
                    half.max(Vec3::splat(1e-3)),
                    ROUND_M,
                );
            }
            Shape::Ball { at: middle, thick } => {
                let middle = at(middle);
                b.cone(
                    middle,
                    middle + Vec3::Y * 1e-4,
                    half_m(thick),
                    half_m(thick),
                );
            }
        }
    }
}
