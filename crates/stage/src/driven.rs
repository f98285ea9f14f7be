//! Swings made in a second way: joints pushed by torques on the way down, where the other family is steered by keys.
//!
//! It is kept out of everything that learns or is tuned, so it shows how the measures fare on motion of another making.
//!
//! On the way down pelvis, trunk, arms and club are a chain in one leaning plane, driven one after the other by torques
//! that grow and then weaken with speed, after the planar models of Jorgensen (*The Physics of Golf*, 1994) and Sprigings
//! and Neal (*J. Appl. Biomech.* 16, 2000, 356–366); masses, torques and their times are from memory or by eye and drawn
//! wide. All else (the way back, sway, posture) is a sum of strokes of least jerk (Flash and Hogan, *J. Neurosci.* 5,
//! 1985, 1688–1703), each with its own beginning and length: nothing is tied to the moments that are measured. The lead
//! arm leads to the strike, the trail arm after it; elbows and knees follow by two bones.
//!
//! What comes out are joints as a capture has them, and [`Captured`](crate::captured::Captured) takes it from there. Axes
//! as in [`crate::pose`]; metres, seconds, radians.

use crate::captured::{ANKLE, ELBOW, HEAD, HIP, JOINTS, KNEE, NECK, Row, SHOULDER, TOE, WRIST};
use crate::noise::SplitMix64;
use crate::pose::{lean, middle_joint};
use glam::{DMat3, DVec3};

/// Rows a second.
pub(crate) const RATE_HZ: f64 = 120.0;
const STILL_S: f64 = 0.3;

/// The joints of one swing, a right-hander's. A draw that does not strike, or strikes in no way a person does, is drawn
/// again.
pub(crate) fn rows(r: &mut SplitMix64) -> Vec<Row> {
    loop {
        if let Some(swing) = Swing::drawn(r) {
            let count = ((swing.end_s + STILL_S) * RATE_HZ) as usize;
            let rows: Vec<Row> = (0..count)
                .map(|i| swing.joints(i as f64 / RATE_HZ - STILL_S))
                .collect();
            if rows.iter().all(|row| swing.holds_together(row)) {
                return rows;
            }
        }
    }
}

/// A movement of least jerk.
struct Stroke {
    start_s: f64,
    length_s: f64,
    size: f64,
}

/// Where something rests at first, and how it is moved.
struct Course {
    rest: f64,
    strokes: Vec<Stroke>,
}

impl Course {
    fn at(&self, t: f64) -> f64 {
        let moved = self.strokes.iter().map(|s| {
            let u = ((t - s.start_s) / s.length_s).clamp(0.0, 1.0);
            s.size * u.powi(3) * (10.0 - 15.0 * u + 6.0 * u * u)
        });
        self.rest + moved.sum::<f64>()
    }
}

fn course<const N: usize>(rest: f64, strokes: [(f64, f64, f64); N]) -> Course {
    let strokes = strokes.map(|(start_s, length_s, size)| Stroke {
        start_s,
        length_s,
        size,
    });
    Course {
        rest,
        strokes: strokes.into(),
    }
}

/// Pelvis and chest turned away from the target, lead arm and club away from straight down in the plane.
type Chain = [f64; 4];
const PELVIS: usize = 0;
const CHEST: usize = 1;
const ARM: usize = 2;

/// A torque that grows from its onset and weakens with the speed of what it turns.
struct Torque {
    most_n_m: f64,
    onset_s: f64,
    /// Speed at which nothing is left.
    fastest: f64,
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
struct Links {
    /// Of the pelvis with the legs, and of the trunk with the trail shoulder, about the spine, kg m².
    pelvis_inertia: f64,
    trunk_inertia: f64,
    /// Spine to lead shoulder, shoulder to hands, hands to club head, m.
    lengths: [f64; 3],
    arms_kg: f64,
    club_kg: f64,
    /// Steepness of the plane.
    slope: f64,
    /// Of pelvis, trunk, arms, wrists.
    torques: [Torque; 4],
    /// How far the arms may be behind the chest, and the club behind the arms.
    behind: [f64; 2],
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
        let theta = [angle[1] - std::f64::consts::FRAC_PI_2, angle[2], angle[3]];
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
    fn come_down(&self, top: Chain, strike: f64) -> Option<Vec<(Chain, Chain)>> {
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

const STEP_S: f64 = 0.0005;

/// How an angle runs out after the strike: with the speed it has, to rest at `end`.
struct RunOut {
    from: f64,
    way: f64,
    length_s: f64,
}

impl RunOut {
    /// Speed at the start over the mean speed; from this on up the angle would turn round on its way.
    const BRISK: f64 = 2.5;

    fn new(from: f64, speed: f64, end: f64) -> Option<RunOut> {
        let way = end - from;
        let length_s = Self::BRISK * way / speed;
        (0.2..1.3).contains(&length_s).then_some(RunOut {
            from,
            way,
            length_s,
        })
    }

    fn at(&self, after_s: f64) -> f64 {
        let (u, v) = ((after_s / self.length_s).min(1.0), Self::BRISK);
        let share = v * u
            + (10.0 - 6.0 * v) * u.powi(3)
            + (8.0 * v - 15.0) * u.powi(4)
            + (6.0 - 3.0 * v) * u.powi(5);
        self.from + self.way * share
    }
}

/// One swing.
struct Swing {
    body: Body,
    /// The ways back.
    back: [Course; 3],
    top_s: f64,
    down: Vec<(Chain, Chain)>,
    strike_s: f64,
    through: [RunOut; 3],
    end_s: f64,
    /// Mid-hips: toward the target, up, toward the ball.
    pelvis: [Course; 3],
    /// The trunk leans toward the ball, and toward the target.
    bend: [Course; 2],
    /// Steepness of the arms' plane; how far hands are drawn across the chest, as a share of the shoulders' distance.
    slope: Course,
    across: Course,
    /// The lead elbow's bend to the strike, the trail elbow's after it.
    elbow_bend: [Course; 2],
    /// Shoulders forward and up as their arms cross and rise, m.
    girdle: [f64; 2],
    trail_elbow_out: Course,
    knee_out: [f64; 2],
    heel_up: Course,
}

struct Body {
    stature: f64,
    thigh: f64,
    shank: f64,
    upper_arm: f64,
    forearm: f64,
    hip_half: f64,
    trunk: f64,
    /// From the base of the neck to the lead shoulder: across, up, forward.
    shoulder: DVec3,
    stance_half: f64,
    flare: [f64; 2],
}

impl Body {
    fn drawn(r: &mut SplitMix64) -> Body {
        let stature = r.between(1.54, 1.94);
        let mut share =
            |mean: f64, spread: f64| stature * mean * (1.0 + spread * r.between(-1.0, 1.0));
        Body {
            // Drillis and Contini in Winter, as for the other family.
            thigh: share(0.245, 0.04),
            shank: share(0.246, 0.04),
            upper_arm: share(0.186, 0.09),
            forearm: share(0.146, 0.07),
            hip_half: share(0.05, 0.1),
            trunk: share(0.288, 0.04),
            shoulder: DVec3::new(share(0.102, 0.1), share(-0.012, 1.0), share(-0.002, 4.0)),
            stance_half: share(0.125, 0.2),
            flare: [share(0.2, 0.9), share(-0.1, 1.5)],
            stature,
        }
    }
}

impl Swing {
    fn drawn(r: &mut SplitMix64) -> Option<Swing> {
        let body = Body::drawn(r);
        let back_s = r.between(0.65, 1.15);
        let slope = r.between(0.98, 1.18);
        let address_arm = r.between(0.24, 0.38);
        let top = [
            r.between(0.6, 1.0),
            r.between(1.35, 1.8),
            r.between(1.9, 2.35),
        ];
        let cock = r.between(1.2, 1.8);
        let links = Links {
            pelvis_inertia: r.between(0.7, 1.1),
            trunk_inertia: r.between(0.45, 0.75),
            lengths: [
                body.shoulder.x,
                0.95 * (body.upper_arm + body.forearm),
                1.05,
            ],
            arms_kg: r.between(5.0, 8.0),
            club_kg: 0.4,
            slope,
            torques: [
                Torque {
                    most_n_m: r.between(90.0, 230.0),
                    onset_s: 0.0,
                    fastest: r.between(9.0, 14.0),
                },
                Torque {
                    most_n_m: r.between(80.0, 200.0),
                    onset_s: r.between(0.0, 0.08),
                    fastest: r.between(12.0, 18.0),
                },
                Torque {
                    most_n_m: r.between(50.0, 130.0),
                    onset_s: r.between(0.02, 0.12),
                    fastest: r.between(16.0, 26.0),
                },
                Torque {
                    most_n_m: r.between(0.0, 20.0),
                    onset_s: r.between(0.08, 0.2),
                    fastest: 50.0,
                },
            ],
            behind: [top[2] - top[1] + 0.05, cock],
        };
        let down = links.come_down(
            [top[0], top[1], top[2], top[2] + cock],
            r.between(-0.08, 0.12),
        )?;
        let down_s = (down.len() - 1) as f64 * STEP_S;
        let (angle, speed) = *down.last()?;
        let open = [-angle[PELVIS], -angle[CHEST]];
        if !(0.2..0.4).contains(&down_s)
            || !(0.2..1.0).contains(&open[0])
            || !(-0.1..0.75).contains(&open[1])
        {
            return None;
        }
        let ends = [
            -r.between(1.35, 1.75),
            -r.between(1.6, 2.1),
            -r.between(2.1, 2.6),
        ];
        let through = [
            RunOut::new(angle[0], speed[0], ends[0])?,
            RunOut::new(angle[1], speed[1], ends[1])?,
            RunOut::new(angle[2], speed[2], ends[2])?,
        ];
        let ran_out_s = through.iter().map(|o| o.length_s).fold(0.0, f64::max);
        let (top_s, strike_s) = (back_s, back_s + down_s);
        let mut stroke = |start: [f64; 2], length: [f64; 2], size: [f64; 2]| {
            (
                r.between(start[0], start[1]),
                r.between(length[0], length[1]),
                r.between(size[0], size[1]),
            )
        };
        // Later than the start of the way down, s.
        let later = |from: f64, to: f64| [top_s + from, top_s + to];
        let after = |from: f64, to: f64| [strike_s + from, strike_s + to];
        let pelvis = [
            course(
                0.0,
                [
                    stroke([0.0, 0.2], [0.35, 0.7], [-0.05, 0.01]),
                    stroke(later(-0.25, 0.0), [0.3, 0.5], [0.06, 0.16]),
                    stroke(after(-0.05, 0.1), [0.4, 0.7], [0.0, 0.07]),
                ],
            ),
            course(
                0.0,
                [
                    stroke(later(-0.2, 0.0), [0.2, 0.35], [-0.05, 0.0]),
                    stroke(later(0.1, 0.2), [0.25, 0.4], [0.0, 0.06]),
                    stroke(after(0.0, 0.2), [0.3, 0.5], [0.0, 0.04]),
                ],
            ),
            course(
                stroke([0.0; 2], [1.0; 2], [-0.05, 0.03]).2,
                [
                    stroke([0.0, 0.3], [0.4, 0.7], [-0.02, 0.02]),
                    stroke(later(-0.1, 0.1), [0.25, 0.45], [-0.03, 0.05]),
                    stroke(after(0.0, 0.2), [0.3, 0.6], [-0.02, 0.04]),
                ],
            ),
        ];
        let posture = [
            stroke([0.0; 2], [1.0; 2], [0.48, 0.74]).2,
            stroke([0.0; 2], [1.0; 2], [-0.22, -0.10]).2,
        ];
        let bend = [
            course(
                posture[0],
                [
                    stroke([0.0, 0.3], [0.4, 0.7], [-0.08, 0.06]),
                    stroke(later(-0.05, 0.1), [0.2, 0.4], [-0.10, 0.08]),
                    stroke(after(0.0, 0.1), [0.5, 0.8], [-0.45, -0.25]),
                ],
            ),
            course(
                posture[1],
                [
                    stroke([0.0, 0.3], [0.4, 0.7], [-0.06, 0.10]),
                    stroke(later(-0.1, 0.05), [0.25, 0.4], [-0.18, 0.0]),
                    stroke(after(-0.05, 0.1), [0.4, 0.7], [0.05, 0.2]),
                ],
            ),
        ];
        let heel_up = course(
            0.0,
            [
                stroke(later(0.1, 0.2), [0.15, 0.3], [0.0, 0.3]),
                stroke(after(-0.05, 0.05), [0.3, 0.6], [0.5, 0.9]),
            ],
        );
        let flat = stroke(later(-0.5, -0.4), [0.35, 0.45], [-0.35, -0.05]);
        let across = stroke(later(-0.5, -0.4), [0.35, 0.45], [0.15, 0.4]);
        let straight = [
            stroke([0.0; 2], [1.0; 2], [0.12, 0.5]).2,
            stroke([0.0; 2], [1.0; 2], [0.05, 0.4]).2,
        ];
        let out = stroke([0.0; 2], [1.0; 2], [-0.2, 0.8]).2;
        let swing = Swing {
            back: [PELVIS, CHEST, ARM].map(|i| {
                let rest = if i == ARM { address_arm } else { 0.0 };
                let start = stroke([0.0, 0.12], [1.0; 2], [0.0; 2]).0;
                course(rest, [(start, top_s - start, top[i] - rest)])
            }),
            slope: course(
                slope,
                [
                    flat,
                    stroke(
                        later(0.0, 0.05),
                        [0.2, 0.3],
                        [-0.8 * flat.2 - 0.1, -0.8 * flat.2 + 0.1],
                    ),
                    stroke(after(0.05, 0.1), [0.3, 0.4], [-0.3, 0.0]),
                ],
            ),
            across: course(
                0.0,
                [
                    across,
                    stroke(later(0.02, 0.08), [0.18, 0.28], [-across.2; 2]),
                    stroke(after(0.1, 0.2), [0.3, 0.4], [0.15, 0.4]),
                ],
            ),
            elbow_bend: [
                course(
                    straight[0],
                    [
                        stroke(later(-0.4, -0.3), [0.3, 0.4], [0.0, 0.5]),
                        stroke(later(0.0, 0.1), [0.15, 0.25], [-0.4, -0.1]),
                    ],
                ),
                course(
                    straight[1],
                    [stroke(after(0.15, 0.25), [0.3, 0.4], [0.0, 0.5])],
                ),
            ],
            trail_elbow_out: course(
                out,
                [
                    stroke([0.2, 0.5], [0.3, 0.5], [-0.5, 0.3]),
                    stroke(later(-0.05, 0.05), [0.15, 0.3], [-0.2, 0.6]),
                ],
            ),
            girdle: [
                stroke([0.0; 2], [1.0; 2], [0.0, 0.05]).2,
                stroke([0.0; 2], [1.0; 2], [0.0, 0.04]).2,
            ],
            knee_out: [
                stroke([0.0; 2], [1.0; 2], [-0.1, 0.35]).2,
                stroke([0.0; 2], [1.0; 2], [-0.35, 0.1]).2,
            ],
            pelvis,
            bend,
            heel_up,
            body,
            top_s,
            strike_s,
            down,
            through,
            end_s: strike_s + ran_out_s + 0.3,
        };
        Some(swing)
    }

    /// Pelvis, chest, arm.
    fn angles(&self, t: f64) -> [f64; 3] {
        if t < self.top_s {
            return [0, 1, 2].map(|i| self.back[i].at(t));
        }
        if t < self.strike_s {
            let place = (t - self.top_s) / STEP_S;
            let i = (place as usize).min(self.down.len() - 2);
            let (a, b) = (&self.down[i].0, &self.down[i + 1].0);
            return [0, 1, 2].map(|k| a[k] + (place - i as f64) * (b[k] - a[k]));
        }
        [0, 1, 2].map(|i| self.through[i].at(t - self.strike_s))
    }

    fn joints(&self, t: f64) -> Row {
        let body = &self.body;
        let [turn, chest_turn, arm] = self.angles(t);
        let bent = |course: &Course| course.at(t).max(0.03);

        // Feet: the trail one rolls onto its toes.
        let heel_up = self.heel_up.at(t);
        let foot = [0, 1].map(|i| {
            let side = if i == 0 { 1.0 } else { -1.0 };
            let yaw = DMat3::from_rotation_y(body.flare[i]);
            let ankle = DVec3::X * side * body.stance_half + DVec3::Y * 0.05 * body.stature;
            let to_toe = DVec3::new(0.0, -0.045, 0.085) * body.stature;
            let toe = ankle + yaw * to_toe;
            if i == 0 {
                return [ankle, toe];
            }
            let rolled = DMat3::from_rotation_y(body.flare[i] + 0.6 * heel_up)
                * DMat3::from_rotation_x(heel_up);
            [toe - rolled * to_toe, toe]
        });

        let trunk_lean = DMat3::from_rotation_z(-self.bend[1].at(t))
            * DMat3::from_rotation_x(self.bend[0].at(t));
        let spine = trunk_lean * DVec3::Y;
        let pelvis_frame =
            lean((spine + 0.8 * DVec3::Y).normalize()) * DMat3::from_rotation_y(-turn);
        let chest = lean(spine) * DMat3::from_rotation_y(-chest_turn);
        let mut pelvis = DVec3::new(
            self.pelvis[0].at(t),
            foot[0][0].y + 0.97 * (body.thigh + body.shank) + self.pelvis[1].at(t),
            self.pelvis[2].at(t),
        );
        let to_hip = [1.0, -1.0].map(|side| pelvis_frame * DVec3::X * side * body.hip_half);
        // As high as the legs reach.
        let reach = 0.99 * (body.thigh + body.shank);
        for i in 0..2 {
            let leg = pelvis + to_hip[i] - foot[i][0];
            let highest = (reach * reach - leg.x * leg.x - leg.z * leg.z)
                .max(0.01)
                .sqrt();
            pelvis.y -= (leg.y - highest).max(0.0);
        }
        let hip = to_hip.map(|offset| pelvis + offset);
        let knee = [0, 1].map(|i| {
            let ahead = (foot[i][1] - foot[i][0]).with_y(0.0).normalize();
            let pole =
                ahead + 0.5 * (pelvis_frame * DVec3::Z).with_y(0.0) + DVec3::X * self.knee_out[i];
            middle_joint(hip[i], foot[i][0], body.thigh, body.shank, pole)
        });

        let neck = pelvis + spine * body.trunk;
        // An arm that crosses the chest or rises takes its shoulder along.
        let raised = 0.5 - 0.5 * arm.cos();
        let shoulder = [1.0, -1.0].map(|side| {
            let crossing = raised * (0.5 + 0.5 * side * arm.sin());
            let rest = DVec3::new(side * body.shoulder.x, body.shoulder.y, body.shoulder.z);
            neck + chest
                * (rest
                    + DVec3::new(-0.3 * side * crossing, raised, crossing)
                        * DVec3::new(self.girdle[0], self.girdle[1], self.girdle[0]))
        });
        let slope = self.slope.at(t);
        let down = DVec3::new(0.0, -slope.sin(), slope.cos());
        let along = down * arm.cos() - DVec3::X * arm.sin();
        let between = (shoulder[1] - shoulder[0]).normalize();
        let hands_from = |i: usize| {
            let side = if i == 0 { 1.0 } else { -1.0 };
            let way = (along + between * side * 2.0 * self.across.at(t)).normalize();
            let (a, b) = (body.upper_arm, body.forearm);
            let reach = (a * a + b * b + 2.0 * a * b * bent(&self.elbow_bend[i]).cos()).sqrt();
            shoulder[i] + way * reach
        };
        // The trail hand is lower on the grip.
        let apart = (along * 0.8 - DVec3::Y * 0.2).normalize() * 0.05 * body.stature / 1.75;
        let passed = course(0.0, [(self.strike_s, 0.22, 1.0)]).at(t);
        let hands = hands_from(0).lerp(hands_from(1) - apart, passed);
        let mut wrist = [hands, hands + apart];
        let most = 0.999 * (body.upper_arm + body.forearm);
        for i in 0..2 {
            wrist[i] = shoulder[i] + (wrist[i] - shoulder[i]).clamp_length_max(most);
        }
        let poles = [
            -DVec3::Y + chest * DVec3::new(0.5, 0.0, -0.2),
            -DVec3::Y + chest * DVec3::new(-0.3, 0.0, -self.trail_elbow_out.at(t)),
        ];
        let elbow = [0, 1].map(|i| {
            middle_joint(
                shoulder[i],
                wrist[i],
                body.upper_arm,
                body.forearm,
                poles[i],
            )
        });

        let mut row = [DVec3::ZERO; JOINTS.len()];
        row[HEAD] = neck
            + (spine * 0.55 + DVec3::Y * 0.35 + DVec3::Z * 0.15).normalize() * 0.115 * body.stature;
        row[NECK] = neck;
        for (first, pair) in [
            (SHOULDER, shoulder),
            (ELBOW, elbow),
            (WRIST, wrist),
            (HIP, hip),
            (KNEE, knee),
            (ANKLE, foot.map(|f| f[0])),
            (TOE, foot.map(|f| f[1])),
        ] {
            row[first] = pair[0];
            row[first + 1] = pair[1];
        }
        row
    }

    /// Whether both hands are on the grip and no elbow folds farther than it can.
    fn holds_together(&self, row: &Row) -> bool {
        let apart = row[WRIST].distance(row[WRIST + 1]) * 1.75 / self.body.stature;
        let folded = [0, 1].map(|i| {
            (row[ELBOW + i] - row[SHOULDER + i]).angle_between(row[WRIST + i] - row[ELBOW + i])
        });
        (0.03..0.09).contains(&apart) && folded.iter().all(|f| *f < 2.5)
    }
}
