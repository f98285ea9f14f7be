//! What each word and number is worth: the distributions the guesses are drawn from.
//!
//! Of the eye and of devices there is no source we may quote, so these are our own, wide on
//! purpose: common practice, no source. All of them are on `docs/ball.md`.

use super::super::clubs::{Between, Spread, Usual};
use super::super::seen::{Bend, Curve, Height, SeenBall, Start, Strike, Way};
use super::random::Draws;

const DEGREE: f64 = std::f64::consts::PI / 180.0;

/// One standard deviation of a device's numbers.
pub(super) const MEASURED_START_RAD: f64 = 0.5 * DEGREE;
pub(super) const MEASURED_LAUNCH_RAD: f64 = 0.7 * DEGREE;
pub(super) const MEASURED_AXIS_RAD: f64 = 2.0 * DEGREE;
pub(super) const MEASURED_CLUB_RAD: f64 = 1.0 * DEGREE;
pub(super) const MEASURED_LOFT_RAD: f64 = 1.5 * DEGREE;
pub(super) const MEASURED_SPEED: f64 = 0.01;
pub(super) const MEASURED_SPIN: f64 = 0.08;
const MEASURED_STRIKE_M: f64 = 0.003;
const MEASURED_CURVE_M: f64 = 2.0;

/// "Straight" to the eye, and "plainly to a side".
const SEEN_STRAIGHT: Between = Between(-2.0, 2.0);
const SEEN_TO_A_SIDE: Between = Between(1.5, 10.0);
/// A start line told in degrees, by eye.
const ESTIMATED_START_RAD: f64 = 1.5 * DEGREE;
/// A curve told in metres, by eye: so much of it, and at least 2 m.
const ESTIMATED_CURVE: f64 = 0.2;

/// Curve as part of the carry: under 2 % is 4 m at 200 m.
pub(in super::super) const NO_CURVE: f64 = 0.02;
/// Where a draw or fade becomes a hook or slice: 12 m at 200 m.
pub(in super::super) const SLIGHT_CURVE: f64 = 0.06;

fn curve_of_carry(bend: Bend) -> Between {
    match bend {
        Bend::Slight => Between(0.01, 0.07),
        Bend::Clear => Between(0.05, 0.15),
        Bend::Big => Between(0.12, 0.30),
    }
}

/// What a start or a spin axis may be when nothing was told of it, one standard deviation.
const UNTOLD_START_RAD: f64 = 5.0 * DEGREE;
pub(super) const UNTOLD_AXIS_RAD: f64 = 20.0 * DEGREE;

/// How far off the target line players swing and aim at most, one standard deviation: keeps a big
/// slice from being read as a face 30° open; hardly felt where anything was measured.
pub(super) const ANY_PLAYER_RAD: f64 = 8.0 * DEGREE;

/// Ways off the middle of the face, m.
const STRUCK_CENTRE_M: f64 = 0.005;
const STRUCK_ANYWHERE_M: f64 = 0.012;
const STRUCK_OFF_M: Between = Between(0.009, 0.025);

/// Start direction, rad.
pub(super) fn start_rad(ball: &SeenBall, draws: &mut Draws) -> f64 {
    match (ball.measured.start_rad, ball.start) {
        (Some(start), _) => start + MEASURED_START_RAD * draws.normal(),
        (None, Some(Start::About(start))) => start + ESTIMATED_START_RAD * draws.normal(),
        (None, Some(Start::Straight)) => draws.between(SEEN_STRAIGHT) * DEGREE,
        (None, Some(Start::To(way))) => way.sign() * draws.between(SEEN_TO_A_SIDE) * DEGREE,
        (None, None) => UNTOLD_START_RAD * draws.normal(),
    }
}

/// Curve as part of the carry. `usual_carry_m` is for a curve told without a carry.
pub(super) fn curve(ball: &SeenBall, usual_carry_m: f64, draws: &mut Draws) -> Option<f64> {
    if let Some(curve_m) = ball.curve_m() {
        let sd_m = match ball.curve {
            Some(Curve::About(_)) => MEASURED_CURVE_M.max(ESTIMATED_CURVE * curve_m.abs()),
            _ => MEASURED_CURVE_M,
        };
        let carry_m = ball.carry_m().unwrap_or(usual_carry_m);
        return Some((curve_m + sd_m * draws.normal()) / carry_m);
    }
    match ball.curve? {
        Curve::None => Some(draws.between(Between(-NO_CURVE, NO_CURVE))),
        Curve::To(way, bend) => Some(way.sign() * draws.between(curve_of_carry(bend))),
        Curve::About(_) => None,
    }
}

/// Launch angle, rad. How high a ball flew moves the usual angle by its deviation; off the middle of
/// a wood's face height says nothing of the angle.
pub(super) fn launch_rad(ball: &SeenBall, usual: &Usual, draws: &mut Draws) -> f64 {
    if let Some(launch) = ball.measured.launch_rad {
        return launch + MEASURED_LAUNCH_RAD * draws.normal();
    }
    let Spread { mean, sd } = usual.launch_deg;
    let struck_high_or_low = matches!(ball.strike, Some(Strike::High | Strike::Low));
    let spread = match ball.height {
        _ if struck_high_or_low && usual.bulge_mm.is_some() => Spread { mean, sd },
        None => Spread { mean, sd },
        Some(Height::Usual) => Spread { mean, sd: 0.7 * sd },
        Some(Height::Low) => Spread {
            mean: mean - sd,
            sd: 0.7 * sd,
        },
        Some(Height::High) => Spread {
            mean: mean + sd,
            sd: 0.7 * sd,
        },
    };
    draws.around(spread) * DEGREE
}

/// Attack angle, rad.
pub(super) fn attack_rad(ball: &SeenBall, usual: &Usual, draws: &mut Draws) -> f64 {
    match ball.measured.attack_rad {
        Some(attack) => attack + MEASURED_CLUB_RAD * draws.normal(),
        None => draws.around(usual.attack_deg) * DEGREE,
    }
}

/// Strike from the middle of the face toward the toe, m.
pub(super) fn toward_toe_m(ball: &SeenBall, draws: &mut Draws) -> f64 {
    match (ball.measured.toward_toe_m, ball.strike) {
        (Some(toe), _) => toe + MEASURED_STRIKE_M * draws.normal(),
        (None, Some(Strike::Centre)) => STRUCK_CENTRE_M * draws.normal(),
        (None, Some(Strike::Toe)) => draws.between(STRUCK_OFF_M),
        (None, Some(Strike::Heel)) => -draws.between(STRUCK_OFF_M),
        (None, Some(Strike::High | Strike::Low) | None) => STRUCK_ANYWHERE_M * draws.normal(),
    }
}

/// The side a start is plainly to, if the eye would say so; None where nothing was told.
pub(in super::super) fn side_of_start(ball: &SeenBall) -> Option<Option<Way>> {
    match (ball.start_rad(), ball.start) {
        (Some(rad), _) if rad.abs() < SEEN_STRAIGHT.1 * DEGREE => Some(None),
        (Some(rad), _) if rad < 0.0 => Some(Some(Way::Left)),
        (Some(_), _) => Some(Some(Way::Right)),
        (None, Some(Start::To(way))) => Some(Some(way)),
        (None, Some(_)) => Some(None),
        (None, None) => None,
    }
}
