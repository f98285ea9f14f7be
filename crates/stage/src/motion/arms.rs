//! Arms on the grip: shoulder girdle, reach limits, elbows.

use super::{HANDS_APART_M, Motion};
use crate::channel::Channel;
use crate::pose::{ClubPose, middle_joint};
use glam::{DMat3, DVec3};

/// Shoulders, arms and club at one instant.
pub(super) struct Arms {
    pub(super) shoulder: [DVec3; 2],
    pub(super) elbow: [DVec3; 2],
    pub(super) wrist: [DVec3; 2],
    pub(super) grip: [DVec3; 2],
    pub(super) club: ClubPose,
}

impl Motion {
    /// Arms that hold the club where the channels want it, within both arms' reach.
    pub(super) fn arms(&self, t: f64, neck: DVec3, chest: DMat3, look: f64) -> Arms {
        let s = &self.skeleton;
        let c = &self.channels;
        let radians = |channel: &Channel| channel.at(t).to_radians();
        let away = DVec3::NEG_X;

        let (arm, plane) = (radians(&c.arm), radians(&c.arm_plane));
        let hanging = DVec3::new(0.0, -plane.sin(), plane.cos());
        let arm_direction =
            DMat3::from_rotation_y(radians(&c.arm_out)) * (hanging * arm.cos() + away * arm.sin());
        let (angle, plane) = (radians(&c.club), radians(&c.club_plane));
        let downward = DVec3::new(0.0, -plane.sin(), plane.cos());
        let shaft = downward * angle.cos() + away * angle.sin();
        let face = (downward * angle.sin() - away * angle.cos()).normalize();

        let arm_length = s.upper_arm + s.forearm;
        let longest = arm_length * self.arm_reach;
        let wanted = arm_length * c.arm_length.at(t);
        let mirror = DVec3::new(-1.0, 1.0, 1.0);
        let inner = [
            neck + chest * s.collar_inner,
            neck + chest * (s.collar_inner * mirror),
        ];
        let collar = [chest * s.collar, chest * (s.collar * mirror)];
        let collar_length = s.collar.length();
        let wrist_of = |grip: DVec3, shoulder: DVec3, side: f64| {
            let toward = (shoulder - grip).normalize();
            let h = toward - shaft * (0.45 * toward.dot(shaft)) + face * (0.30 * side);
            grip + h.normalize() * s.hand
        };

        let mut shoulder = [inner[0] + collar[0], inner[1] + collar[1]];
        let mut wrist = shoulder;
        let mut lead_grip = shoulder[0] + arm_direction * (wanted + s.hand);
        // Shoulder girdle and hands settle together; then both arms' reach limits apply.
        const ROUNDS: usize = 20;
        for round in 0..ROUNDS {
            let grips = [lead_grip, lead_grip + shaft * HANDS_APART_M];
            for i in 0..2 {
                // A collar bone swings part of the way toward its hand.
                let rest = collar[i] / collar_length;
                let toward = (grips[i] - inner[i]).normalize();
                let wish = c.girdle[i].at(t);
                let share = self.girdle_share(wish, grips[i].distance(inner[i] + collar[i]));
                let direction = rest + (toward - rest * toward.dot(rest)) * share;
                shoulder[i] = inner[i] + direction.normalize() * collar_length;
            }
            if round == 0 {
                lead_grip = shoulder[0] + arm_direction * (wanted + s.hand);
            }
            wrist = [
                wrist_of(lead_grip, shoulder[0], 1.0),
                wrist_of(lead_grip + shaft * HANDS_APART_M, shoulder[1], -1.0),
            ];
            if round + 1 == ROUNDS {
                break;
            }
            if round < 3 {
                let arm = wrist[0] - shoulder[0];
                lead_grip += arm.normalize() * (wanted - arm.length());
            } else {
                for i in 0..2 {
                    let arm = wrist[i] - shoulder[i];
                    let excess = arm.length() - longest;
                    if excess > 0.0 {
                        lead_grip -= arm.normalize() * excess;
                    }
                }
            }
        }

        let elbow = [0, 1].map(|i| {
            let along = (wrist[i] - shoulder[i]).normalize();
            let pole = if i == 0 {
                DVec3::NEG_Y + chest * DVec3::new(0.55, 0.0, -0.25)
            } else {
                let rest =
                    DVec3::NEG_Y + chest * DVec3::new(-0.22 - 0.2 * look, 0.0, -0.35 + 0.5 * look);
                DMat3::from_axis_angle(along, radians(&c.trail_elbow)) * rest
            };
            middle_joint(shoulder[i], wrist[i], s.upper_arm, s.forearm, pole)
        });

        Arms {
            shoulder,
            elbow,
            wrist,
            grip: [lead_grip, lead_grip + shaft * HANDS_APART_M],
            club: self
                .club
                .clear_of_ground(lead_grip, shaft, face, t > self.keys.top),
        }
    }
}

impl Motion {
    /// How far a collar bone swings toward its hand: as wished, but farther when the arm would
    /// overstretch and backward when it would fold up, with soft limits. `distance` is from the
    /// shoulder at rest to the grip.
    fn girdle_share(&self, wish: f64, distance: f64) -> f64 {
        let s = &self.skeleton;
        let longest = s.upper_arm + s.forearm + 0.9 * s.hand;
        // A share of 1 brings the shoulder about this much nearer to the hand, m (by eye).
        let gain = 0.16 * s.scale;
        let soft = |excess: f64| {
            const SOFT_M: f64 = 0.015;
            SOFT_M * (excess / SOFT_M).min(30.0).exp().ln_1p()
        };
        // Straighter than 0.965 and nearer than 0.63 of the arm's length look strained.
        let stretch = soft(distance - gain * wish - 0.965 * longest);
        let squeeze = soft(0.63 * longest - (distance - gain * wish));
        wish + (stretch / gain).min(0.8) - (squeeze / gain).min(0.5)
    }
}
