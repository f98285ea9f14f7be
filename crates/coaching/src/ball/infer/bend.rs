//! From curve to the tilt of the spin axis, without flying a ball for every guess.
//!
//! A tilted ball lands beside its start line by K·sin ψ of its carry, ψ the tilt seen along the
//! flight. ln K is taken as linear in speed, launch angle and spin around their middle; a test says
//! how near that is. What the flight model itself is worth: of 262 measured shots eight in ten curved
//! 0.67 to 1.05 times as far as its balls (`tests/coaching/measured_shots.rs`), so K is scaled by a little
//! more than that.

use super::super::clubs::Between;
use super::super::impact::Launch;
use super::super::trajectory::fly;

/// Measured curve over the model's.
pub(super) const MEASURED_OVER_MODEL: Between = Between(0.6, 1.15);

/// The tilt at which K is read, rad: about a slice of 8 % of the carry.
const TRIED_RAD: f64 = 0.17;

/// What K depends on: ball speed (m/s), launch angle (rad), spin (rad/s).
pub(super) type Air = [f64; 3];

/// K around a middle.
#[derive(Clone, Debug)]
pub(super) struct BendModel {
    middle: Air,
    ln_k: f64,
    slope: Air,
    carry_m: f64,
}

impl BendModel {
    /// Flies seven balls: the middle, and each number lower and higher by its spread.
    /// None where one of them does not fly.
    pub(super) fn around(middle: Air, spread: Air) -> Option<BendModel> {
        let mut slope = [0.0; 3];
        for (index, slope) in slope.iter_mut().enumerate() {
            let step = spread[index].max(1e-6 * middle[index].abs());
            let at = |change: f64| {
                let mut air = middle;
                air[index] += change;
                ln_k(air)
            };
            *slope = (at(step)? - at(-step)?) / (2.0 * step);
        }
        Some(BendModel {
            middle,
            ln_k: ln_k(middle)?,
            slope,
            carry_m: fly(&tried(middle))?.carry_m,
        })
    }

    /// Carry in the middle, m.
    pub(super) fn carry_m(&self) -> f64 {
        self.carry_m
    }

    /// Curve over carry, for a ball with a spin axis tilted by 90°, were the law to hold so far.
    fn k(&self, air: Air) -> f64 {
        let change: f64 = (0..3)
            .map(|i| self.slope[i] * (air[i] - self.middle[i]))
            .sum();
        (self.ln_k + change).exp()
    }

    /// Tilt seen along the flight for a curve, as part of the carry. `scale` is measured over
    /// modelled curve. None for more curve than any tilt gives.
    pub(super) fn tilt_rad(&self, curve_of_carry: f64, air: Air, scale: f64) -> Option<f64> {
        let sine = curve_of_carry / (self.k(air) * scale);
        (sine.abs() < MOST_SINE).then(|| sine.asin())
    }

    /// Curve as part of the carry in the middle, + as the tilt.
    pub(super) fn middle_curve(&self, tilt_rad: f64) -> f64 {
        self.ln_k.exp() * tilt_rad.sin()
    }
}

/// A ball whose axis stands more than 65° steep flies no longer as the law has it.
const MOST_SINE: f64 = 0.9;

fn tried([speed_m_s, launch_rad, spin_rad_s]: Air) -> Launch {
    Launch::seen_along_flight(speed_m_s, 0.0, launch_rad, spin_rad_s.max(1.0), TRIED_RAD)
}

fn ln_k(air: Air) -> Option<f64> {
    let flown = fly(&tried(air))?;
    Some((flown.curve_m / flown.carry_m / TRIED_RAD.sin()).ln())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_short_law_is_near_the_flown_ball() {
        const RPM: f64 = std::f64::consts::TAU / 60.0;
        let model = BendModel::around(
            [57.0, 12_f64.to_radians(), 2300.0 * RPM],
            [6.0, 3_f64.to_radians(), 600.0 * RPM],
        )
        .unwrap();
        let mut off = Vec::new();
        for speed in [50.0, 57.0, 64.0] {
            for launch in [9_f64, 12.0, 15.0] {
                for spin in [1700.0, 2300.0, 3000.0] {
                    for tilt in [0.05_f64, 0.2, 0.4] {
                        let air = [speed, launch.to_radians(), spin * RPM];
                        let ball = Launch::seen_along_flight(air[0], 0.0, air[1], air[2], tilt);
                        let flown = fly(&ball).unwrap();
                        let law = model.k(air) * tilt.sin();
                        off.push((law / (flown.curve_m / flown.carry_m) - 1.0).abs());
                        let back = model.tilt_rad(law, air, 1.0).unwrap();
                        assert!((back - tilt).abs() < 1e-12);
                    }
                }
            }
        }
        // Against ±30 % of measured over modelled curve.
        off.sort_by(f64::total_cmp);
        assert!(
            off[off.len() / 2] < 0.05 && off[off.len() - 1] < 0.17,
            "{off:?}"
        );
    }

    #[test]
    fn too_much_curve_has_no_tilt() {
        let model = BendModel::around([57.0, 0.2, 240.0], [5.0, 0.05, 60.0]).unwrap();
        assert_eq!(model.tilt_rad(1.5, [57.0, 0.2, 240.0], 1.0), None);
    }
}
