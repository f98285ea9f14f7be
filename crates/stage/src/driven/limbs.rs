//! From angles and courses to joints.

use super::course::{Course, Stroke};
use super::{Body, Swing};
use crate::captured::{ANKLE, ELBOW, HEAD, HIP, JOINTS, KNEE, NECK, Row, SHOULDER, TOE, WRIST};
use crate::pose::{lean, middle_joint};
use glam::{DMat3, DVec3};

/// The trail wrist is this much farther down the grip, m at 1.75 m.
const HANDS_APART_M: f64 = 0.05;
/// An elbow is never straighter.
const STRAIGHTEST_ELBOW: f64 = 0.03;
/// How long the trail arm takes to lead in the lead arm's place, s.
const HANDED_OVER_S: f64 = 0.22;
/// Lead, trail.
const SIDES: [f64; 2] = [1.0, -1.0];

impl Swing {
    /// At a time.
    pub(super) fn joints(&self, t: f64) -> Row {
        let body = &self.body;
        let [pelvis_turn, chest_turn, arm] = self.angles(t);
        let [toward_ball, toward_target] = [0, 1].map(|i| self.lean[i].at(t));
        let spine =
            DMat3::from_rotation_z(-toward_target) * DMat3::from_rotation_x(toward_ball) * DVec3::Y;
        // The pelvis leans less than the trunk.
        let pelvis_frame =
            lean((spine + 0.8 * DVec3::Y).normalize()) * DMat3::from_rotation_y(-pelvis_turn);
        let chest = lean(spine) * DMat3::from_rotation_y(-chest_turn);

        let feet = self.feet(t);
        let hip = self.hips(t, pelvis_frame, &feet);
        let knee = [0, 1].map(|i| {
            let [ankle, toe] = feet[i];
            let ahead = (toe - ankle).with_y(0.0).normalize();
            let pole =
                ahead + 0.5 * (pelvis_frame * DVec3::Z).with_y(0.0) + DVec3::X * self.knee_out[i];
            middle_joint(hip[i], ankle, body.thigh, body.shank, pole)
        });
        let neck = hip[0].midpoint(hip[1]) + spine * body.trunk;
        let shoulder = self.shoulders(neck, chest, arm);
        let wrist = self.wrists(t, &shoulder, arm);
        let poles = [
            DVec3::new(0.5, 0.0, -0.2),
            DVec3::new(-0.3, 0.0, -self.elbow_behind.at(t)),
        ];
        let elbow = [0, 1].map(|i| {
            let pole = chest * poles[i] - DVec3::Y;
            middle_joint(shoulder[i], wrist[i], body.upper_arm, body.forearm, pole)
        });

        let mut row = [DVec3::ZERO; JOINTS.len()];
        let head_up = spine * 0.55 + DVec3::Y * 0.35 + DVec3::Z * 0.15;
        row[HEAD] = neck + head_up.normalize() * 0.115 * body.stature;
        row[NECK] = neck;
        for (first, pair) in [
            (SHOULDER, shoulder),
            (ELBOW, elbow),
            (WRIST, wrist),
            (HIP, hip),
            (KNEE, knee),
            (ANKLE, feet.map(|[ankle, _]| ankle)),
            (TOE, feet.map(|[_, toe]| toe)),
        ] {
            row[first] = pair[0];
            row[first + 1] = pair[1];
        }
        row
    }

    /// Ankle and toe of each foot; the trail one rolls onto its toes.
    fn feet(&self, t: f64) -> [[DVec3; 2]; 2] {
        let body = &self.body;
        let rolled = [0.0, self.heel_up.at(t)];
        [0, 1].map(|i| {
            let to_toe = DVec3::new(0.0, -0.045, 0.085) * body.stature;
            let ankle = DVec3::new(SIDES[i] * body.stance_half, 0.05 * body.stature, 0.0);
            let toe = ankle + DMat3::from_rotation_y(body.flare[i]) * to_toe;
            let foot = DMat3::from_rotation_y(body.flare[i] + 0.6 * rolled[i])
                * DMat3::from_rotation_x(rolled[i]);
            [toe - foot * to_toe, toe]
        })
    }

    /// Hips, as high as the legs reach.
    fn hips(&self, t: f64, frame: DMat3, feet: &[[DVec3; 2]; 2]) -> [DVec3; 2] {
        let leg = self.body.thigh + self.body.shank;
        let to_hip = SIDES.map(|side| frame * DVec3::X * side * self.body.hip_half);
        let [target, up, ball] = [0, 1, 2].map(|i| self.pelvis[i].at(t));
        let mut pelvis = DVec3::new(target, feet[0][0].y + 0.97 * leg + up, ball);
        let reach = 0.99 * leg;
        for (to_hip, [ankle, _]) in to_hip.iter().zip(feet) {
            let from_ankle = pelvis + to_hip - ankle;
            let level = from_ankle.with_y(0.0).length_squared();
            let highest = (reach * reach - level).max(0.01).sqrt();
            pelvis.y -= (from_ankle.y - highest).max(0.0);
        }
        to_hip.map(|offset| pelvis + offset)
    }

    /// An arm that crosses the chest or rises takes its shoulder along.
    fn shoulders(&self, neck: DVec3, chest: DMat3, arm: f64) -> [DVec3; 2] {
        let [forward, up] = self.girdle;
        let raised = 0.5 - 0.5 * arm.cos();
        SIDES.map(|side| {
            let crossing = raised * (0.5 + 0.5 * side * arm.sin()) * forward;
            let taken = DVec3::new(-0.3 * side * crossing, raised * up, crossing);
            neck + chest * (self.body.shoulder * DVec3::new(side, 1.0, 1.0) + taken)
        })
    }

    /// The lead arm's length from the lead shoulder until the strike, then the trail arm's from the trail shoulder.
    fn wrists(&self, t: f64, shoulder: &[DVec3; 2], arm: f64) -> [DVec3; 2] {
        let (a, b) = (self.body.upper_arm, self.body.forearm);
        let slope = self.slope.at(t);
        let down = DVec3::new(0.0, -slope.sin(), slope.cos());
        let along = down * arm.cos() - DVec3::X * arm.sin();
        let to_trail = (shoulder[1] - shoulder[0]).normalize();
        let led_by = |i: usize| {
            let across = to_trail * SIDES[i] * 2.0 * self.across.at(t);
            let bend = self.elbow_bend[i].at(t).max(STRAIGHTEST_ELBOW);
            let reach = (a * a + b * b + 2.0 * a * b * bend.cos()).sqrt();
            shoulder[i] + (along + across).normalize() * reach
        };
        let apart = (along * 0.8 - DVec3::Y * 0.2).normalize() * HANDS_APART_M;
        let apart = apart * self.body.stature / 1.75;
        let hand_over = Stroke {
            start_s: self.strike_s,
            length_s: HANDED_OVER_S,
            size: 1.0,
        };
        let by_trail = Course::new(0.0, [hand_over]).at(t);
        let lead = led_by(0).lerp(led_by(1) - apart, by_trail);
        let wrist = [lead, lead + apart];
        [0, 1].map(|i| shoulder[i] + (wrist[i] - shoulder[i]).clamp_length_max(0.999 * (a + b)))
    }
}

impl Body {
    /// Whether both hands are on the grip and no elbow folds farther than elbows do.
    pub(super) fn can_hold(&self, row: &Row) -> bool {
        const MOST_FOLDED: f64 = 2.5;
        let apart = row[WRIST].distance(row[WRIST + 1]) * 1.75 / self.stature;
        let folded = |i: usize| {
            let forearm = row[WRIST + i] - row[ELBOW + i];
            (row[ELBOW + i] - row[SHOULDER + i]).angle_between(forearm)
        };
        (0.6 * HANDS_APART_M..1.8 * HANDS_APART_M).contains(&apart)
            && folded(0).max(folded(1)) < MOST_FOLDED
    }
}
