//! A drill's figure over time: from step to step, along a swing or straight.

use super::mix::between;
use super::sheet::{DrillSheet, Step};
use crate::motion::{KeyTimes, Motion, Movement};
use crate::pose::{Pose, frame_up, middle_joint};
use crate::skeleton::Skeleton;
use crate::things::{Props, Thing};
use glam::DVec3;

/// A drill that moves.
#[derive(Clone, Debug)]
pub struct Play {
    swings: Vec<Motion>,
    steps: Vec<Step>,
    /// When each step is reached, s.
    reached_s: Vec<f64>,
    ball: bool,
    things: Vec<Thing>,
    keys: KeyTimes,
}

impl Play {
    /// Sets a sheet in motion.
    pub fn of(sheet: &DrillSheet) -> Play {
        let swings: Vec<Motion> = sheet.swings.iter().map(Motion::new).collect();
        let mut reached_s = Vec::new();
        let mut now = 0.0;
        for (i, step) in sheet.steps.iter().enumerate() {
            now += if i == 0 { 0.0 } else { step.takes_s };
            reached_s.push(now);
            now += step.holds_s;
        }
        let mut play = Play {
            keys: *swings[0].key_times(),
            swings,
            steps: sheet.steps.clone(),
            reached_s,
            ball: sheet.ball,
            things: sheet.things.clone(),
        };
        play.keys.impact = play.struck_s();
        play
    }

    /// How long it lasts, s.
    pub fn length_s(&self) -> f64 {
        self.steps.last().map_or(0.0, |last| {
            self.reached_s[self.steps.len() - 1] + last.holds_s
        })
    }

    /// When a step is reached, s.
    pub fn reached_s(&self, step: usize) -> f64 {
        self.reached_s[step]
    }

    /// The step on the way to which, or at which, the figure is, and the share of that way.
    fn place(&self, time_s: f64) -> (usize, f64) {
        let next = self.reached_s.partition_point(|&reached| reached < time_s);
        if next == self.steps.len() {
            return (next - 1, 1.0);
        }
        if next == 0 {
            return (0, 1.0);
        }
        let left_s = self.reached_s[next - 1] + self.steps[next - 1].holds_s;
        let share = (time_s - left_s) / (self.reached_s[next] - left_s).max(1e-9);
        (next, share.clamp(0.0, 1.0))
    }

    fn instant_s(&self, step: &Step) -> f64 {
        step.at.of(self.swings[step.swing].key_times())
    }

    fn stop(&self, step: &Step, time_s: f64) -> Pose {
        let swing = &self.swings[step.swing];
        let mut pose = swing.pose(time_s);
        pose.move_by(DVec3::X * (0.01 * step.moved_cm));
        if let Some(feet_cm) = step.feet_cm {
            stand(&mut pose, feet_cm, swing.skeleton());
        }
        step.hands.apply(&mut pose, swing.skeleton());
        pose
    }

    /// When the ball is struck: the first time that the figure passes impact; never, if it does not.
    fn struck_s(&self) -> f64 {
        let pairs = self.steps.iter().zip(self.steps.iter().skip(1)).enumerate();
        for (i, (from, to)) in pairs {
            let impact = self.swings[to.swing].key_times().impact;
            let (a, b) = (self.instant_s(from), self.instant_s(to));
            if along(from, to) && a < impact && b > impact {
                let left_s = self.reached_s[i] + from.holds_s;
                // The share of the way at which the eased motion gets there, by bisection.
                let (mut low, mut high) = (0.0, 1.0);
                for _ in 0..40 {
                    let middle = 0.5 * (low + high);
                    if a + (b - a) * eased(middle) < impact {
                        low = middle;
                    } else {
                        high = middle;
                    }
                }
                return left_s + low * to.takes_s;
            }
        }
        f64::INFINITY
    }
}

/// Whether the way from one step to the next is a part of one swing.
fn along(from: &Step, to: &Step) -> bool {
    from.swing == to.swing
        && from.hands == to.hands
        && from.moved_cm == to.moved_cm
        && from.feet_cm == to.feet_cm
        && !to.straight
}

/// Puts both feet flat on the ground; the body comes down as far as the legs need.
fn stand(pose: &mut Pose, feet_cm: [[f64; 2]; 2], s: &Skeleton) {
    let ankles = feet_cm.map(|[x, z]| DVec3::new(0.01 * x, s.ankle_height, 0.01 * z));
    let reach = 0.995 * (s.thigh + s.shank);
    let too_high = |i: usize| {
        let leg = pose.hip[i] - ankles[i];
        let level = leg.with_y(0.0).length_squared();
        leg.y - (reach * reach - level).max(0.0).sqrt()
    };
    pose.move_by(-DVec3::Y * too_high(0).max(too_high(1)).max(0.0));
    for (i, ankle) in ankles.into_iter().enumerate() {
        let ahead = (pose.foot_frame[i] * DVec3::Z).with_y(0.0);
        let pole = ahead + 0.5 * (pose.pelvis_frame * DVec3::Z).with_y(0.0);
        pose.foot_frame[i] = frame_up(DVec3::Y, ahead);
        pose.knee[i] = middle_joint(pose.hip[i], ankle, s.thigh, s.shank, pole);
        pose.ankle[i] = ankle;
    }
}

/// Slow at both ends.
fn eased(share: f64) -> f64 {
    share * share * (3.0 - 2.0 * share)
}

impl Movement for Play {
    fn pose(&self, time_s: f64) -> Pose {
        let (next, share) = self.place(time_s);
        let to = &self.steps[next];
        let there_s = self.instant_s(to);
        if share >= 1.0 || next == 0 {
            return self.stop(to, there_s);
        }
        let from = &self.steps[next - 1];
        let here_s = self.instant_s(from);
        if along(from, to) {
            return self.stop(to, here_s + (there_s - here_s) * eased(share));
        }
        between(
            &self.stop(from, here_s),
            &self.stop(to, there_s),
            eased(share),
        )
    }

    /// Those of the drill's own swing, but for impact: when the drill's ball is struck.
    fn key_times(&self) -> &KeyTimes {
        &self.keys
    }

    fn skeleton(&self) -> &Skeleton {
        self.swings[0].skeleton()
    }

    fn ball(&self) -> DVec3 {
        self.swings[0].ball()
    }

    fn props(&self, time_s: f64) -> Props {
        let (next, share) = self.place(time_s);
        // A club that is taken up or laid down is there only while the hands are on it.
        let came_with_it = next == 0 || share >= 1.0 || self.steps[next - 1].club;
        Props {
            club: came_with_it && self.steps[next].club,
            ball: self.ball,
            things: self
                .things
                .iter()
                .filter(|thing| {
                    thing
                        .shows
                        .is_none_or(|[first, last]| (first..=last).contains(&next))
                })
                .cloned()
                .collect(),
        }
    }
}
