//! Solving a swing's free keys: stance, address, level arms, impact, knee line, trail elbow.

use super::keys::{ADDRESS, ARM_LEVEL_BACK, ARM_LEVEL_DOWN, Channels, IMPACT, SHAFT_LEVEL_DOWN};
use super::{BALL_RADIUS_M, Motion, Movement};
use crate::channel::Channel;
use crate::measures;
use crate::params::SwingParams;
use crate::pose::Pose;
use glam::{DMat3, DVec3};

impl Motion {
    /// Solves every free key.
    pub(super) fn solve(&mut self, p: &SwingParams) {
        self.stand(p);
        self.sole_the_club(p);
        let knees = self.knees_at_rest();
        // Legs move the shoulders a little and shoulders move the arms: two rounds settle both.
        for _ in 0..2 {
            self.place_knees(p.motion.knee_line_down_deg.to_radians(), knees);
            self.level_the_arm(ARM_LEVEL_BACK, self.keys.arm_level_back);
            self.level_the_arm(ARM_LEVEL_DOWN, self.keys.arm_level_down);
            self.keep_the_head_up(p);
        }
        self.place_trail_elbow(0.01 * p.motion.elbow_ahead_down_cm);
    }

    /// Sets the pelvis' height for the wanted bend of the knees.
    fn stand(&mut self, p: &SwingParams) {
        let chord = self.skeleton.leg_chord(p.set_up.knee_flex_deg.to_radians());
        // Start too high on purpose: the first pose only tells where hips and ankles are.
        self.pelvis_height = chord;
        let pose = self.pose(0.0);
        let height = |i: usize| {
            let leg = pose.hip[i] - pose.ankle[i];
            let level = leg.x * leg.x + leg.z * leg.z;
            pose.ankle[i].y + (chord * chord - level).sqrt() - (pose.hip[i].y - pose.pelvis.y)
        };
        self.pelvis_height = 0.5 * (height(0) + height(1));
        self.spine_at_address = (self.pose(0.0).chest_frame * DVec3::Y).normalize();
    }

    /// Address: hands where they are wanted, the club soled, its head behind the ball.
    fn sole_the_club(&mut self, p: &SwingParams) {
        let hands = 0.01 * p.set_up.hands_cm;
        let face_at = 0.01 * p.set_up.ball_position_cm - BALL_RADIUS_M - 0.012;
        for _ in 0..20 {
            // The sole lies flat at address: the lie is the shaft's own slope.
            let shaft = self.pose(0.0).club.shaft;
            self.club.lie = (-shaft.y).atan2(shaft.z);
            let height = self.club.head_height;
            self.solve_step(
                0.0,
                |c| {
                    [
                        (&mut c.arm, ADDRESS),
                        (&mut c.club, ADDRESS),
                        (&mut c.club_plane, ADDRESS),
                    ]
                },
                [8.0, 8.0, 6.0],
                |pose| {
                    let club = pose.club;
                    DVec3::new(
                        pose.grip[0].x - hands,
                        club.sweet_spot.x - face_at,
                        club.head.y - height,
                    )
                },
            );
        }
        let club = self.pose(0.0).club;
        self.ball = DVec3::new(
            0.01 * p.set_up.ball_position_cm,
            self.club.ball_height,
            club.sweet_spot.z,
        );
    }

    /// Impact without the head sinking: where meeting the ball takes too deep a bow, the trunk
    /// hangs back and opens less and the legs straighten more.
    fn keep_the_head_up(&mut self, p: &SwingParams) {
        // Skilled players' heads sink a few centimetres (no published figure was found).
        const DEEPEST_M: f64 = 0.060;
        let start = self.channels.neck_ball.value(IMPACT);
        self.meet_the_ball(p);
        for _ in 0..8 {
            if self.head_sinks_m() < DEEPEST_M {
                break;
            }
            let c = &mut self.channels;
            c.neck_target
                .set(IMPACT, c.neck_target.value(IMPACT) + 0.006);
            c.pelvis_up.set(IMPACT, c.pelvis_up.value(IMPACT) + 0.004);
            c.chest_turn.set(IMPACT, c.chest_turn.value(IMPACT) + 4.0);
            c.neck_ball.set(IMPACT, start);
            self.meet_the_ball(p);
        }
    }

    /// Impact: the middle of the face touches the ball with the wanted lean of the shaft. The trunk
    /// leans as much as it takes for the shaft to stand a little steeper than at address, as it
    /// does when the arms pull straight.
    fn meet_the_ball(&mut self, p: &SwingParams) {
        // Range of the steepening and of the extra lean, by eye.
        const STEEPER_RAD: [f64; 2] = [0.03, 0.17];
        const LEAN_RANGE_M: f64 = 0.09;
        self.channels
            .club
            .set(IMPACT, p.motion.shaft_lean_impact_deg);
        let t = self.keys.impact;
        let start = [
            self.channels.neck_ball.value(IMPACT),
            self.channels.arm.value(IMPACT),
            self.channels.arm_plane.value(IMPACT),
            self.channels.club_plane.value(IMPACT),
        ];
        let slope = |m: &Motion, t: f64| (-m.pose(t).club.shaft.y).asin();
        let soled = slope(self, 0.0);
        // The steepening with some extra lean; a ball out of reach counts as far too steep.
        let steeper = |m: &mut Motion, lean: f64| {
            m.channels.neck_ball.set(IMPACT, start[0] + lean);
            m.channels.arm.set(IMPACT, start[1]);
            m.channels.arm_plane.set(IMPACT, start[2]);
            m.channels.club_plane.set(IMPACT, start[3]);
            if m.touch_the_ball(t) > 1e-6 {
                f64::INFINITY
            } else {
                slope(m, t) - soled
            }
        };
        let upright = steeper(self, 0.0);
        if (STEEPER_RAD[0]..=STEEPER_RAD[1]).contains(&upright) {
            return;
        }
        // Leaning over brings the shoulders down and out: hands lower, shaft flatter.
        let wanted = if upright > STEEPER_RAD[1] {
            STEEPER_RAD[1]
        } else {
            STEEPER_RAD[0]
        };
        let (mut low, mut high) = (-LEAN_RANGE_M, LEAN_RANGE_M);
        for _ in 0..24 {
            let middle = 0.5 * (low + high);
            if steeper(self, middle) > wanted {
                low = middle;
            } else {
                high = middle;
            }
        }
        steeper(self, high);
    }

    /// Arm and club angles at impact for the trunk as it is; returns how far the face misses, m.
    fn touch_the_ball(&mut self, t: f64) -> f64 {
        let touch = self.ball - DVec3::X * BALL_RADIUS_M;
        for _ in 0..25 {
            let error = self.solve_step(
                t,
                |c| {
                    [
                        (&mut c.arm, IMPACT),
                        (&mut c.arm_plane, IMPACT),
                        (&mut c.club_plane, IMPACT),
                    ]
                },
                [8.0, 8.0, 6.0],
                |pose| pose.club.sweet_spot - touch,
            );
            if error < 1e-7 {
                break;
            }
        }
        (self.pose(t).club.sweet_spot - touch).length()
    }

    /// The lead wrist as high as the lead shoulder at a key.
    fn level_the_arm(&mut self, key: usize, t: f64) {
        for _ in 0..12 {
            let height = |m: &Motion| {
                let pose = m.pose(t);
                pose.wrist[0].y - pose.shoulder[0].y
            };
            let arm = self.channels.arm.value(key);
            let error = height(self);
            self.channels.arm.set(key, arm + 0.1);
            let slope = (height(self) - error) / 0.1;
            self.channels
                .arm
                .set(key, arm - (error / slope).clamp(-8.0, 8.0));
        }
    }

    /// One damped Newton step on three keyed values at one time, each bounded per step; returns
    /// the size of the error before the step.
    fn solve_step(
        &mut self,
        t: f64,
        unknowns: impl for<'a> Fn(&'a mut Channels) -> [(&'a mut Channel, usize); 3],
        largest_step: [f64; 3],
        error: impl Fn(&Pose) -> DVec3,
    ) -> f64 {
        const PROBE_DEG: f64 = 0.05;
        let change = |m: &mut Motion, which: usize, by: f64| {
            let (channel, key) = &mut unknowns(&mut m.channels)[which];
            let value = channel.value(*key);
            channel.set(*key, value + by);
        };
        let here = error(&self.pose(t));
        let mut columns = [DVec3::ZERO; 3];
        for (i, column) in columns.iter_mut().enumerate() {
            change(self, i, PROBE_DEG);
            *column = (error(&self.pose(t)) - here) / PROBE_DEG;
            change(self, i, -PROBE_DEG);
        }
        let jacobian = DMat3::from_cols_array_2d(&columns.map(|c| c.to_array()));
        if jacobian.determinant().abs() < 1e-14 {
            return here.length();
        }
        let step = jacobian.inverse() * here;
        for i in 0..3 {
            change(self, i, -step[i].clamp(-largest_step[i], largest_step[i]));
        }
        here.length()
    }

    /// What [`Motion::place_knees`] starts from.
    fn knees_at_rest(&self) -> [f64; 4] {
        let c = &self.channels;
        [&c.pelvis_tilt, &c.knee_out[0], &c.knee_out[1], &c.heel[1]]
            .map(|channel| channel.value(ARM_LEVEL_DOWN))
    }

    /// Turns the knee line to its wish at the moment the arm is level on the way down, by one
    /// amount that moves what a player moves: the knees outward, the pelvis' tilt, the trail heel.
    fn place_knees(&mut self, wanted_rad: f64, base: [f64; 4]) {
        let t = self.keys.arm_level_down;
        let address = self.pose(0.0);
        let apply = |m: &mut Motion, amount: f64| {
            let c = &mut m.channels;
            c.pelvis_tilt.set(ARM_LEVEL_DOWN, base[0] + 5.0 * amount);
            c.knee_out[0].set(ARM_LEVEL_DOWN, base[1] + 26.0 * amount);
            c.knee_out[1].set(ARM_LEVEL_DOWN, base[2] + 26.0 * amount);
            c.heel[1].set(ARM_LEVEL_DOWN, base[3] + 14.0 * amount.max(0.0));
        };
        // More than this looks dislocated (by eye).
        const LARGEST: f64 = 2.2;
        let (mut low, mut high) = (-LARGEST, LARGEST);
        for _ in 0..40 {
            let middle = 0.5 * (low + high);
            apply(self, middle);
            if measures::knee_line_turn_rad(&self.pose(t), &address) < wanted_rad {
                low = middle;
            } else {
                high = middle;
            }
        }
    }

    /// Turns the trail elbow about the line from shoulder to wrist to its wish at the moment the
    /// arm is level on the way down: of all angles within the shoulder's range the smallest that
    /// comes nearest.
    fn place_trail_elbow(&mut self, wanted_m: f64) {
        // Range by eye: beyond it the upper arm enters the trunk or the shoulder dislocates.
        const RANGE_DEG: i32 = 60;
        let t = self.keys.arm_level_down;
        let base = self.channels.trail_elbow.value(ARM_LEVEL_DOWN);
        let miss = |m: &mut Motion, turn_deg: f64| {
            m.channels.trail_elbow.set(ARM_LEVEL_DOWN, base + turn_deg);
            measures::trail_elbow_ahead_m(&m.pose(t)) - wanted_m
        };
        let mut best = (f64::INFINITY, 0.0);
        for degree in -RANGE_DEG..=RANGE_DEG {
            let turn = f64::from(degree);
            // A tie within a millimetre goes to the smaller turn.
            let cost = miss(self, turn).abs() + 1e-5 * turn.abs();
            if cost < best.0 {
                best = (cost, turn);
            }
        }
        let (mut low, mut high) = (best.1 - 1.0, best.1 + 1.0);
        let rising = miss(self, high) > miss(self, low);
        for _ in 0..30 {
            let middle = 0.5 * (low + high);
            if (miss(self, middle) < 0.0) == rising {
                low = middle;
            } else {
                high = middle;
            }
        }
        let turn = 0.5 * (low + high);
        self.channels.trail_elbow.set(ARM_LEVEL_DOWN, base + turn);
        // The elbow stays on its side until the strike.
        for (key, share) in [(SHAFT_LEVEL_DOWN, 0.75), (IMPACT, 0.4)] {
            let value = self.channels.trail_elbow.value(key);
            self.channels.trail_elbow.set(key, value + share * turn);
        }
    }
}
