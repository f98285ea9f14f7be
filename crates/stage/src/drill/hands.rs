//! Hands that leave the club: hanging, crossed on the chest, on a knee.

use crate::pose::{Hold, Pose, middle_joint};
use crate::skeleton::Skeleton;
use glam::DVec3;
use serde::Deserialize;

/// Where both hands are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct HandPlaces {
    /// The lead hand.
    pub lead: Place,
    /// The trail hand.
    pub trail: Place,
}

/// Where a hand is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Place {
    /// Where the swing has it, on the handle or as if there were one.
    #[default]
    Swing,
    /// Hanging from the shoulder.
    Hanging,
    /// On the front of the other shoulder.
    Crossed,
    /// Flat on the breastbone.
    Chest,
    /// Behind the neck.
    Neck,
    /// Behind the waist.
    Waist,
    /// On the front of its thigh.
    Thigh,
    /// On its knee.
    Knee,
    /// Between the handle's end and the body.
    Gap,
    /// Held out before the body at hip height.
    Before,
    /// Stretched out away from the target, the thumb up.
    Back,
    /// Stretched out toward the target, the thumb up.
    Through,
}

impl HandPlaces {
    /// The pose with its hands there.
    pub(super) fn apply(self, pose: &mut Pose, skeleton: &Skeleton) {
        for (side, place) in [self.lead, self.trail].into_iter().enumerate() {
            if place != Place::Swing {
                place_hand(pose, side, place, skeleton);
            }
        }
    }
}

fn place_hand(pose: &mut Pose, side: usize, place: Place, s: &Skeleton) {
    // Plus on the lead side, as the axes of the body's parts.
    let out = if side == 0 { 1.0 } else { -1.0 };
    let k = s.scale;
    let v = |x: f64, y: f64, z: f64| DVec3::new(x, y, z) * k;
    let (shoulder, chest) = (pose.shoulder[side], pose.chest_frame);
    let arm = s.upper_arm + s.forearm;
    let on_chest = |x: f64, y: f64, z: f64| pose.neck + chest * v(x, y, z);
    let thigh = |share: f64| pose.hip[side].lerp(pose.knee[side], share) + v(0.0, 0.075, 0.055);
    let wrist = match place {
        Place::Swing => return,
        Place::Hanging => shoulder + v(0.0, -0.985 * arm / k, 0.03),
        Place::Crossed => on_chest(-0.07 * out, -0.13, 0.17),
        Place::Chest => on_chest(0.05 * out, -0.20, 0.17),
        Place::Neck => on_chest(0.05 * out, 0.05, -0.12),
        Place::Waist => pose.waist + pose.waist_frame * v(0.05 * out, -0.02, -0.16),
        Place::Thigh => thigh(0.45),
        Place::Knee => thigh(0.86),
        Place::Gap => pose.club.butt + v(-0.10 * out, 0.03, -0.07),
        Place::Before => pose.pelvis + chest * v(0.05 * out, 0.12, 0.38),
        Place::Back => shoulder + (DVec3::new(-0.80, -0.52, 0.30)).normalize() * 0.97 * arm,
        Place::Through => shoulder + (DVec3::new(0.80, -0.52, 0.30)).normalize() * 0.97 * arm,
    };
    let reach = (wrist - shoulder).clamp_length_max(0.99 * arm);
    let wrist = shoulder + reach;
    // Elbows out to the side and down, forward for a hand behind the back.
    let behind = matches!(place, Place::Neck | Place::Waist);
    let pole = chest * DVec3::new(out, -0.8, if behind { -0.6 } else { 0.1 });
    let elbow = middle_joint(shoulder, wrist, s.upper_arm, s.forearm, pole);
    let forearm = (wrist - elbow).normalize();
    // Where the fingers go on from the wrist, and how the closed hand lies.
    let (fingers, along) = match place {
        Place::Gap => (DVec3::new(out, 0.0, 0.0), DVec3::Y),
        Place::Crossed | Place::Chest => (chest * DVec3::new(-out, 0.2, 0.0), chest * DVec3::Y),
        Place::Neck | Place::Waist => (chest * DVec3::new(-out, 0.0, 0.2), chest * DVec3::Y),
        Place::Back | Place::Through | Place::Before => (forearm, DVec3::Y),
        _ => (forearm, DVec3::Z),
    };
    let fingers = (0.5 * forearm + 0.5 * fingers.normalize()).normalize();
    let along = (along - fingers * along.dot(fingers)).normalize();
    let back = along.cross(fingers) * -out;
    pose.wrist[side] = wrist;
    pose.elbow[side] = elbow;
    pose.grip[side] = wrist + fingers * s.hand;
    pose.hold[side] = Hold { along, back };
}
