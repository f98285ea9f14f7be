//! The way down: pelvis, trunk, arms and club as a chain that torques drive.

use glam::{DMat3, DVec3};
use std::f64::consts::FRAC_PI_2;

/// Pelvis and chest turned away from the target, lead arm and club away from straight down in the plane.
pub(super) type Chain = [f64; 4];
pub(super) const PELVIS: usize = 0;
pub(super) const CHEST: usize = 1;
pub(super) const ARM: usize = 2;

/// Between two angles of the way down, s.
pub(super) const STEP_S: f64 = 0.0005;

/// A torque that grows from its onset and weakens with the speed of what it turns.
pub(super) struct Torque {
    pub(super) most_n_m: f64,
    pub(super) onset_s: f64,
    /// Speed at which nothing is left, rad/s.
    pub(super) fastest: f64,
}

impl Torque {
    /// `speed`: of the joint, toward the strike.
    fn at(&self, t: f64, speed: f64) -> f64 {
        const GROWTH_S: f64 = 0.04;
        let grown = 1.0 - (-(t - self.onset_s).max(0.0) / GROWTH_S).exp();
        self.most_n_m * grown * (1.0 - speed / self.fastest).clamp(0.0, 1.2)
    }
}

/// What hangs on what on the way down.
pub(super) struct Links {
    /// Of the pelvis with the legs, and of the trunk with the trail shoulder, about the spine, kg m².
    pub(super) pelvis_inertia: f64,
    pub(super) trunk_inertia: f64,
    /// Spine to lead shoulder, shoulder to hands, hands to club head, m.
    pub(super) lengths: [f64; 3],
    pub(super) arms_kg: f64,
    pub(super) club_kg: f64,
    /// Steepness of the plane, rad.
    pub(super) slope: f64,
    /// Of pelvis, trunk, arms, wrists.
    pub(super) torques: [Torque; 4],
    /// How far the arms may be behind the chest, and the club behind the arms, rad.
    pub(super) behind: [f64; 2],
}

impl Links {
    /// Accelerations, by Lagrange's equations of the chain: `M α = Q − C`.
    fn accelerations(&self, t: f64, angle: &Chain, speed: &Chain) -> Chain {
        const GRAVITY: f64 = 9.81;
        const STOP_N_M: f64 = 600.0;
        const DAMPING: f64 = 8.0;
        let [trunk, arm, club] = self.lengths;
        let (arms_at, club_at) = (0.42 * arm, 0.72 * club);
        // The shoulder lies toward the target of the spine at address.
        let theta = [angle[1] - FRAC_PI_2, angle[2], angle[3]];
        let omega = [speed[1], speed[2], speed[3]];
        let a = [
            [
                self.trunk_inertia + (self.arms_kg + self.club_kg) * trunk * trunk,
                (self.arms_kg * arms_at + self.club_kg * arm) * trunk,
                self.club_kg * club_at * trunk,
            ],
            [
                0.0,
                self.arms_kg * (arms_at * arms_at + 0.08 * arm * arm) + self.club_kg * arm * arm,
                self.club_kg * club_at * arm,
            ],
            [
                0.0,
                0.0,
                self.club_kg * (club_at * club_at + 0.08 * club * club),
            ],
        ];
        let of = |i: usize, j: usize| a[i.min(j)][i.max(j)];
        let down = GRAVITY * self.slope.sin();
        let weight = [
            down * (self.arms_kg + self.club_kg) * trunk,
            down * (self.arms_kg * arms_at + self.club_kg * arm),
            down * self.club_kg * club_at,
        ];
        // Torques at the four joints, plus toward the strike (where angles fall).
        let joint = |i: usize| {
            let before = if i == 0 { 0.0 } else { speed[i - 1] };
            self.torques[i].at(t, before - speed[i])
        };
        let stop = |i: usize, free: f64| {
            let beyond = (angle[i] - angle[i - 1] - free).max(0.0);
            if beyond > 0.0 {
                STOP_N_M * beyond + DAMPING * (speed[i] - speed[i - 1]).max(0.0)
            } else {
                0.0
            }
        };
        let push = [
            joint(0),
            joint(1),
            joint(2) + stop(2, self.behind[0]),
            joint(3) + stop(3, self.behind[1]),
        ];
        let mut rows = DMat3::ZERO;
        let mut right = DVec3::ZERO;
        for i in 0..3 {
            for j in 0..3 {
                let between = theta[i] - theta[j];
                rows.col_mut(j)[i] = of(i, j) * between.cos();
                right[i] -= of(i, j) * between.sin() * omega[j] * omega[j];
            }
            let after = if i == 2 { 0.0 } else { push[i + 2] };
            right[i] += -push[i + 1] + after - weight[i] * theta[i].sin();
        }
        let chain = rows.inverse() * right;
        let pelvis = (-push[0] + push[1]) / self.pelvis_inertia;
        [pelvis, chain.x, chain.y, chain.z]
    }

    /// From rest at `top` until the arms hang at `strike`: angles and speeds, one a step.
    pub(super) fn come_down(&self, top: Chain, strike: f64) -> Option<Vec<(Chain, Chain)>> {
        let (mut angle, mut speed) = (top, [0.0; 4]);
        let mut course = vec![(angle, speed)];
        for step in 0..(0.5 / STEP_S) as usize {
            let t = step as f64 * STEP_S;
            // The midpoint rule.
            let moved = |from: &Chain, by: &Chain, s: f64| -> Chain {
                std::array::from_fn(|i| from[i] + s * by[i])
            };
            let first = self.accelerations(t, &angle, &speed);
            let (half, half_speed) = (
                moved(&angle, &speed, 0.5 * STEP_S),
                moved(&speed, &first, 0.5 * STEP_S),
            );
            let second = self.accelerations(t + 0.5 * STEP_S, &half, &half_speed);
            angle = moved(&angle, &half_speed, STEP_S);
            speed = moved(&speed, &second, STEP_S);
            course.push((angle, speed));
            if angle[ARM] <= strike {
                return Some(course);
            }
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Nothing but weight: energy stays. Positions are worked out here, not by Lagrange's equations.
    #[test]
    fn without_torques_energy_stays() {
        let torque = || Torque {
            most_n_m: 0.0,
            onset_s: 0.0,
            fastest: 10.0,
        };
        let links = Links {
            pelvis_inertia: 0.9,
            trunk_inertia: 0.6,
            lengths: [0.18, 0.6, 1.05],
            arms_kg: 6.0,
            club_kg: 0.4,
            slope: 1.0,
            torques: [torque(), torque(), torque(), torque()],
            behind: [9.0, 9.0],
        };
        let energy = |angle: &Chain, speed: &Chain| {
            let theta = [angle[1] - FRAC_PI_2, angle[2], angle[3]];
            // A rod along `theta[i]` whose middle lies at a share of it, on the ends of those before.
            let rod = |i: usize, kg: f64, at: f64| {
                let (mut height, mut across, mut down) = (0.0, 0.0, 0.0);
                for j in 0..=i {
                    let length = links.lengths[j] * if j == i { at } else { 1.0 };
                    height -= length * theta[j].cos();
                    across += length * theta[j].cos() * speed[j + 1];
                    down += length * theta[j].sin() * speed[j + 1];
                }
                let turning = 0.08 * (links.lengths[i] * speed[i + 1]).powi(2);
                0.5 * kg * (across * across + down * down + turning)
                    + kg * 9.81 * links.slope.sin() * height
            };
            rod(1, links.arms_kg, 0.42)
                + rod(2, links.club_kg, 0.72)
                + 0.5 * links.trunk_inertia * speed[1].powi(2)
        };
        let course = links.come_down([0.8, 1.5, 2.0, 3.4], 0.3).unwrap();
        let (first, last) = (&course[0], &course[course.len() - 1]);
        let moved = 0.5 * links.trunk_inertia * last.1[1].powi(2);
        let change = energy(&last.0, &last.1) - energy(&first.0, &first.1);
        assert!(
            moved > 0.01 && change.abs() < 1e-3,
            "{change} J, {moved} J in the trunk"
        );
    }
}
