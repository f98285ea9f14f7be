//! One guess: everything that was not told drawn at random, the club solved for.
//!
//! The road back: curve → tilt of the spin axis ([`super::bend`]) → with start direction, launch
//! and attack angle the delivery ([`Collision::delivery`]), which for a given strike is exact. A
//! guess counts by how well it agrees with what was measured of the club.

use super::super::clubs::{Between, ClubKind, Usual};
use super::super::impact::{Collision, FaceSpot, Launch, ROLLING};
use super::super::seen::SeenBall;
use super::bend::{Air, BendModel, MEASURED_OVER_MODEL};
use super::random::Draws;
use super::told;

/// A club that may have hit this ball. Angles in rad, in the player's world.
#[derive(Clone, Copy, Debug)]
pub(super) struct Guess {
    pub(super) face_rad: f64,
    pub(super) path_rad: f64,
    /// How well it agrees, from 0 to 1.
    pub(super) weight: f64,
}

/// What guesses with one kind of club have in common.
pub(super) struct Guesser<'a> {
    ball: &'a SeenBall,
    kind: ClubKind,
    usual: Usual,
    /// None where the middle of what is told does not fly.
    bend: Option<BendModel>,
    usual_carry_m: f64,
}

const RPM: f64 = std::f64::consts::TAU / 60.0;
/// What a head weighs, kg, and how it rebounds: ranges of heads in use, from memory.
const WOOD_KG: Between = Between(0.190, 0.220);
const IRON_KG: Between = Between(0.235, 0.300);
const WOOD_RESTITUTION: Between = Between(0.76, 0.83);
const IRON_RESTITUTION: Between = Between(0.70, 0.80);
/// The rigid sphere keeps 2/7 of the slip; up to half more brings the start's share of the face down
/// to the least that was measured (61 to 83 %, doi 10.3390/proceedings2060249).
const KEPT_SLIP: Between = Between(0.9 * ROLLING, 1.5 * ROLLING);
/// Spin of an iron without any, rad/s: no ball has less.
const LEAST_SPIN_RAD_S: f64 = 500.0 * RPM;

impl<'a> Guesser<'a> {
    pub(super) fn of(ball: &'a SeenBall, kind: ClubKind) -> Guesser<'a> {
        let usual = kind.usual();
        let measured = &ball.measured;
        let spread = |known: Option<f64>, sd: f64, usual: f64| known.map_or(usual, |_| sd);
        let middle = [
            measured.ball_speed_m_s.unwrap_or(usual.ball_speed_m_s.mean),
            measured
                .launch_rad
                .unwrap_or(usual.launch_deg.mean.to_radians()),
            measured.spin_rad_s.unwrap_or(usual.spin_rpm.mean * RPM),
        ];
        let around = [
            spread(measured.ball_speed_m_s, 1.0, usual.ball_speed_m_s.sd),
            spread(
                measured.launch_rad,
                told::MEASURED_LAUNCH_RAD,
                usual.launch_deg.sd.to_radians(),
            ),
            spread(
                measured.spin_rad_s,
                0.05 * middle[2],
                0.7 * usual.spin_rpm.sd * RPM,
            ),
        ];
        let bend = BendModel::around(middle, around);
        let usual_carry_m = bend.as_ref().map_or(f64::NAN, BendModel::carry_m);
        Guesser {
            ball,
            kind,
            usual,
            bend,
            usual_carry_m,
        }
    }

    /// The curve in numbers, if there are any: told, or what the measured axis gives.
    pub(super) fn curve_of_carry(&self) -> Option<f64> {
        if let (Some(curve_m), Some(carry_m)) = (self.ball.curve_m(), self.ball.carry_m()) {
            return Some(curve_m / carry_m);
        }
        if let Some(curve_m) = self.ball.curve_m() {
            return Some(curve_m / self.usual_carry_m);
        }
        Some(
            self.bend
                .as_ref()?
                .middle_curve(self.ball.measured.axis_rad?),
        )
    }

    /// None where no club gives what was drawn.
    pub(super) fn guess(&self, draws: &mut Draws) -> Option<Guess> {
        let collision = self.collision(draws);
        let spot = self.spot(draws);
        let launch_rad = told::launch_rad(self.ball, &self.usual, draws);
        let attack_rad = told::attack_rad(self.ball, &self.usual, draws);
        let start_rad = told::start_rad(self.ball, draws);
        let air = self.air(launch_rad, attack_rad, &collision, draws);
        let tilt = self.seen_tilt_rad(air, draws)?;
        let launch = Launch::seen_along_flight(air[0], start_rad, launch_rad, air[2], tilt);
        let club = collision.delivery(&launch, attack_rad, &spot)?;
        let measured = &self.ball.measured;
        let usual = Some(0.0);
        let weight = agreement(club.face_rad, usual, told::ANY_PLAYER_RAD)
            * agreement(club.path_rad, usual, told::ANY_PLAYER_RAD)
            * agreement(club.face_rad, measured.face_rad, told::MEASURED_CLUB_RAD)
            * agreement(club.path_rad, measured.path_rad, told::MEASURED_CLUB_RAD)
            * agreement(club.loft_rad, measured.loft_rad, told::MEASURED_LOFT_RAD);
        Some(Guess {
            face_rad: club.face_rad,
            path_rad: club.path_rad,
            weight,
        })
    }

    fn collision(&self, draws: &mut Draws) -> Collision {
        let wood = self.kind.has_gear_effect();
        Collision {
            head_mass_kg: draws.between(if wood { WOOD_KG } else { IRON_KG }),
            restitution: draws.between(if wood {
                WOOD_RESTITUTION
            } else {
                IRON_RESTITUTION
            }),
            kept_slip: draws.between(KEPT_SLIP),
        }
    }

    fn spot(&self, draws: &mut Draws) -> FaceSpot {
        FaceSpot {
            toward_toe_m: told::toward_toe_m(self.ball, draws),
            depth_m: draws.between(self.usual.depth_mm) / 1000.0,
            inertia_kg_m2: draws.between(self.usual.inertia) * 1e-4,
            bulge_per_m: self
                .usual
                .bulge_mm
                .map_or(0.0, |radius| 1000.0 / draws.between(radius)),
        }
    }

    fn air(
        &self,
        launch_rad: f64,
        attack_rad: f64,
        collision: &Collision,
        draws: &mut Draws,
    ) -> Air {
        let measured = &self.ball.measured;
        let speed = match (measured.ball_speed_m_s, measured.club_speed_m_s) {
            (Some(ball), _) => ball * (1.0 + told::MEASURED_SPEED * draws.normal()),
            (None, Some(club)) => collision.ball_speed(club, launch_rad - attack_rad),
            (None, None) => draws.around(self.usual.ball_speed_m_s),
        };
        let spin = match measured.spin_rad_s {
            Some(spin) => spin * (1.0 + told::MEASURED_SPIN * draws.normal()),
            None => draws.around(self.usual.spin_rpm) * RPM,
        };
        [speed, launch_rad, spin.max(LEAST_SPIN_RAD_S)]
    }

    /// Tilt of the spin axis seen along the flight: measured, or from the curve, or anything.
    fn seen_tilt_rad(&self, air: Air, draws: &mut Draws) -> Option<f64> {
        if let Some(axis) = self.ball.measured.axis_rad {
            return Some(axis + told::MEASURED_AXIS_RAD * draws.normal());
        }
        match told::curve(self.ball, self.usual_carry_m, draws) {
            Some(curve) => {
                let scale = draws.between(MEASURED_OVER_MODEL);
                self.bend.as_ref()?.tilt_rad(curve, air, scale)
            }
            None => Some(told::UNTOLD_AXIS_RAD * draws.normal()),
        }
    }
}

/// exp(−½·(difference/sd)²); 1 where nothing was measured.
fn agreement(is: f64, measured: Option<f64>, sd: f64) -> f64 {
    measured.map_or(1.0, |value| (-0.5 * ((is - value) / sd).powi(2)).exp())
}
