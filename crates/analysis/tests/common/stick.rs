//! A drawn right-handed swing whose every moment and measure is known. Time 0 is the takeaway.
//!
//! The hands run on an inclined circle around a point between the shoulders: back with a soft
//! start and stop, down with even acceleration, through to a soft stop. Pelvis and knees follow
//! soft channels between the moments. It is a figure for tests, not a person.

use super::{Pose, shoulders_arrive};
use lessonwright_math::zero::bisect;
use lessonwright_model::*;

/// Stature of the drawn figure, m.
const STATURE_M: f64 = 1.78;
/// Radius of the hands' circle, m, and its inclination from the ground.
const RADIUS_M: f64 = 0.50;
const INCLINE_RAD: f64 = 60.0 * std::f64::consts::PI / 180.0;
/// Angle of the hands at the top and at the finish, degrees from straight down, plus going back.
const TOP_DEG: f64 = 135.0;
const FINISH_DEG: f64 = -150.0;
/// The way through takes this multiple of the downswing: its cubic is then a plain parabola that
/// comes to rest.
const THROUGH_SHARE: f64 = -FINISH_DEG / TOP_DEG;

/// What is drawn.
#[derive(Clone, Copy, Debug)]
pub struct Stick {
    pub backswing_s: f64,
    pub downswing_s: f64,
    /// Pelvis toward the target at impact, cm.
    pub shift_cm: f64,
    /// Pelvis away from the target at the top, cm.
    pub sway_cm: f64,
    /// Knee line at lead arm level on the way down, degrees open.
    pub knees_open_deg: f64,
    /// Trail elbow from the line trail shoulder to trail hip, cm toward the ball.
    pub elbow_cm: f64,
}

impl Default for Stick {
    fn default() -> Self {
        Stick {
            backswing_s: 0.85,
            downswing_s: 0.28,
            shift_cm: 9.0,
            sway_cm: 2.0,
            knees_open_deg: 12.0,
            elbow_cm: -4.0,
        }
    }
}

/// From 0 to 1 without a jump in speed.
fn ease(s: f64) -> f64 {
    let s = s.clamp(0.0, 1.0);
    s * s * (3.0 - 2.0 * s)
}

/// Values at increasing times, joined by [`ease`].
fn channel(keys: &[(f64, f64)], t: f64) -> f64 {
    let after = keys.partition_point(|k| k.0 <= t);
    if after == 0 {
        return keys[0].1;
    }
    if after == keys.len() {
        return keys[after - 1].1;
    }
    let (a, b) = (keys[after - 1], keys[after]);
    a.1 + (b.1 - a.1) * ease((t - a.0) / (b.0 - a.0))
}

impl Stick {
    pub fn top_s(&self) -> f64 {
        self.backswing_s
    }

    pub fn impact_s(&self) -> f64 {
        self.backswing_s + self.downswing_s
    }

    pub fn finish_s(&self) -> f64 {
        self.impact_s() + self.through_s()
    }

    fn through_s(&self) -> f64 {
        THROUGH_SHARE * self.downswing_s
    }

    /// Angle of the hands, degrees.
    fn hands_deg(&self, t: f64) -> f64 {
        if t < self.top_s() {
            return TOP_DEG * ease(t / self.backswing_s);
        }
        if t < self.impact_s() {
            let s = (t - self.top_s()) / self.downswing_s;
            return TOP_DEG * (1.0 - s * s);
        }
        // Cubic from impact's place and speed to rest at the finish.
        let speed = -2.0 * TOP_DEG / self.downswing_s;
        let s = ((t - self.impact_s()) / self.through_s()).min(1.0);
        (s * s * s - 2.0 * s * s + s) * self.through_s() * speed
            + (3.0 * s * s - 2.0 * s * s * s) * FINISH_DEG
    }

    fn hands(&self, t: f64) -> WorldPoint {
        let (sin, cos) = self.hands_deg(t).to_radians().sin_cos();
        WorldPoint {
            target: -RADIUS_M * sin,
            up: 1.27 - RADIUS_M * cos * INCLINE_RAD.sin(),
            ball: 0.20 + RADIUS_M * cos * INCLINE_RAD.cos(),
        }
    }

    fn shoulders_deg(&self, t: f64) -> f64 {
        let keys = [
            (0.0, 0.0),
            (self.top_s(), 85.0),
            (self.impact_s(), -20.0),
            (self.finish_s(), -100.0),
        ];
        channel(&keys, t)
    }

    fn lead_arm_above(&self, t: f64) -> f64 {
        let pose = self.pose(t);
        let up = |j: Joint| pose.iter().find(|p| p.0 == j).expect("drawn").1.up;
        up(Joint::LeftWrist) - up(Joint::LeftShoulder)
    }

    pub fn level_back_s(&self) -> f64 {
        bisect(|t| self.lead_arm_above(t), 0.0, self.top_s()).expect("passes level")
    }

    pub fn level_down_s(&self) -> f64 {
        bisect(|t| self.lead_arm_above(t), self.top_s(), self.impact_s()).expect("passes level")
    }

    /// Time at which the lead arm would be level, without asking the pose (which needs it): the
    /// hands at 90 degrees.
    fn about_level_down_s(&self) -> f64 {
        self.top_s() + self.downswing_s * (1.0 - 90.0 / TOP_DEG).sqrt()
    }

    pub fn shift_m(&self, t: f64) -> f64 {
        let keys = [
            (0.0, 0.0),
            (self.top_s(), -self.sway_cm),
            (self.impact_s(), self.shift_cm),
            (self.finish_s(), self.shift_cm + 5.0),
        ];
        channel(&keys, t) / 100.0
    }

    pub fn knees_deg(&self, t: f64) -> f64 {
        let keys = [
            (0.0, 0.0),
            (self.top_s(), -12.0),
            (self.about_level_down_s(), self.knees_open_deg),
            (self.impact_s(), self.knees_open_deg + 10.0),
            (self.finish_s(), self.knees_open_deg + 30.0),
        ];
        channel(&keys, t)
    }

    pub fn pose(&self, t: f64) -> Pose {
        let point = |target: f64, up: f64, ball: f64| WorldPoint { target, up, ball };
        let pair = |middle: WorldPoint, half: f64, open_deg: f64| {
            let (sin, cos) = open_deg.to_radians().sin_cos();
            (
                point(
                    middle.target + half * cos,
                    middle.up,
                    middle.ball - half * sin,
                ),
                point(
                    middle.target - half * cos,
                    middle.up,
                    middle.ball + half * sin,
                ),
            )
        };
        let shift = self.shift_m(t);
        let hips = pair(point(shift, 0.87, -0.10), 0.09, 1.5 * self.knees_deg(t));
        let knees = pair(point(0.5 * shift, 0.48, 0.10), 0.18, self.knees_deg(t));
        let shoulders = pair(point(0.0, 1.27, 0.15), 0.18, -self.shoulders_deg(t));
        let hands = self.hands(t);
        let between = |a: WorldPoint, b: WorldPoint, s: f64| {
            point(
                a.target + s * (b.target - a.target),
                a.up + s * (b.up - a.up),
                a.ball + s * (b.ball - a.ball),
            )
        };
        use Joint::*;
        let lead_wrist = point(hands.target + 0.03, hands.up + 0.02, hands.ball);
        let trail_wrist = point(hands.target - 0.03, hands.up - 0.02, hands.ball);
        // Around lead arm level on the way down the elbow is where it is asked to be; else half-way
        // along the arm.
        let level = self.about_level_down_s();
        let there = channel(
            &[
                (level - 0.25, 0.0),
                (level - 0.05, 1.0),
                (level + 0.05, 1.0),
                (level + 0.25, 0.0),
            ],
            t,
        );
        let mut by_the_trunk = between(shoulders.1, hips.1, 0.38);
        by_the_trunk.target -= 0.28;
        by_the_trunk.ball += self.elbow_cm / 100.0;
        let along_the_arm = between(shoulders.1, trail_wrist, 0.55);
        let trail_elbow = between(along_the_arm, by_the_trunk, there);
        vec![
            (Nose, point(0.0, 0.07 + 0.80 * STATURE_M, 0.25)),
            (LeftShoulder, shoulders.0),
            (RightShoulder, shoulders.1),
            (LeftElbow, between(shoulders.0, lead_wrist, 0.55)),
            (RightElbow, trail_elbow),
            (LeftWrist, lead_wrist),
            (RightWrist, trail_wrist),
            (LeftHip, hips.0),
            (RightHip, hips.1),
            (LeftKnee, knees.0),
            (RightKnee, knees.1),
            (LeftAnkle, point(0.20, 0.07, 0.0)),
            (RightAnkle, point(-0.20, 0.07, 0.0)),
            (LeftHeel, point(0.19, 0.03, -0.05)),
            (RightHeel, point(-0.20, 0.03, -0.05)),
            (LeftFootIndex, point(0.26, 0.02, 0.17)),
            (RightFootIndex, point(-0.21, 0.02, 0.18)),
        ]
    }

    pub fn moments(&self) -> [(MomentName, f64); 6] {
        [
            (MomentName::Address, 0.0),
            (MomentName::LeadArmLevelBack, self.level_back_s()),
            (MomentName::Top, self.top_s()),
            (MomentName::LeadArmLevelDown, self.level_down_s()),
            (MomentName::Impact, self.impact_s()),
            (
                MomentName::Finish,
                shoulders_arrive(&|t| self.pose(t), STATURE_M, self.finish_s()),
            ),
        ]
    }

    /// Every measure of this version with its drawn value.
    pub fn measures(&self) -> Vec<(MeasureName, MomentName, Option<MomentName>, f64)> {
        use MomentName::{Address, Impact, LeadArmLevelDown, Top};
        let level = self.level_down_s();
        let shift = |t: f64| 100.0 * self.shift_m(t);
        vec![
            (
                MeasureName::PelvisShift,
                Top,
                Some(Address),
                shift(self.top_s()),
            ),
            (
                MeasureName::PelvisShift,
                LeadArmLevelDown,
                Some(Address),
                shift(level),
            ),
            (
                MeasureName::PelvisShift,
                Impact,
                Some(Address),
                shift(self.impact_s()),
            ),
            (
                MeasureName::PelvisShift,
                LeadArmLevelDown,
                Some(Top),
                shift(level) - shift(self.top_s()),
            ),
            (
                MeasureName::KneeLineTurn,
                LeadArmLevelDown,
                Some(Address),
                self.knees_deg(level),
            ),
            (
                MeasureName::TrailElbowAhead,
                LeadArmLevelDown,
                None,
                self.elbow_cm,
            ),
            (
                MeasureName::BackswingTime,
                Top,
                Some(Address),
                self.backswing_s,
            ),
            (
                MeasureName::DownswingTime,
                Impact,
                Some(Top),
                self.downswing_s,
            ),
            (
                MeasureName::TempoRatio,
                Impact,
                Some(Address),
                self.backswing_s / self.downswing_s,
            ),
        ]
    }
}
