//! Ways of moving that no parameter names: slow, smooth departures of trunk, knees, shoulders and
//! trail elbow from the keyed way, drawn from a seed. Keys that are solved for are solved for afterwards,
//! so that the club still meets the ball.

use super::keys::Channels;
use crate::noise::SplitMix64;
use std::f64::consts::TAU;

/// Periods of the departures, s: the slowest is nearly constant over a swing.
const PERIODS_S: [f64; 3] = [3.0, 1.2, 0.5];
/// Their shares of the standard deviation; squares add up to 1.
const SHARES: [f64; 3] = [0.8, 0.5, 0.33];

impl Channels {
    /// Departs by `amount` times the standard deviations below (by eye).
    pub(super) fn wander(&mut self, amount: f64, seed: u64) {
        if amount == 0.0 {
            return;
        }
        let mut r = SplitMix64::new(seed ^ 0x7761_6e64_6572);
        let [lead_knee, trail_knee] = &mut self.knee_out;
        let [lead_girdle, trail_girdle] = &mut self.girdle;
        // Standard deviations in the channels' units: degrees, m, shares.
        for (channel, sd) in [
            (&mut self.pelvis_turn, 6.0),
            (&mut self.pelvis_lean, 4.0),
            (&mut self.pelvis_tilt, 2.5),
            (&mut self.pelvis_target, 0.015),
            (&mut self.pelvis_up, 0.006),
            (&mut self.pelvis_ball, 0.015),
            (&mut self.neck_target, 0.02),
            (&mut self.neck_ball, 0.02),
            (&mut self.chest_turn, 6.0),
            (&mut self.arm_plane, 3.0),
            (&mut self.club_plane, 2.0),
            (&mut self.trail_elbow, 10.0),
            (lead_knee, 6.0),
            (trail_knee, 6.0),
            (lead_girdle, 0.16),
            (trail_girdle, 0.16),
        ] {
            let waves = SHARES.map(|share| (share * sd * amount * r.bell(), TAU * r.unit()));
            channel.add(|time_s| {
                waves
                    .iter()
                    .zip(PERIODS_S)
                    .map(|((size, phase), period_s)| {
                        // A sine's standard deviation is its height over √2.
                        2.0_f64.sqrt() * size * (TAU * time_s / period_s + phase).sin()
                    })
                    .sum()
            });
        }
    }
}
