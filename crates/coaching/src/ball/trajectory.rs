//! Flight: from launch to landing, on level ground and in still air.
//!
//! ```text
//! a = −(ρA/2m)·C_D·|v|·v + (ρA/2m)·C_L·|v|·(ω̂×v) − g·up        S = ωr/|v|,  Re = ρ|v|d/μ
//! dω/dt = −2·10⁻⁵·ω·|v|/r                                      (Penner 2001, eq. 16)
//! C_D = 0.24 + 0.18·S + 0.06·sin[π(Re − 90 000)/200 000],  C_L = 0.54·S^0.4
//! ```
//!
//! The coefficients are Smits & Smith 1994 (*Science and Golf II*, 340–347), for drivers:
//! 0.08 < S < 0.2 and 70 000 < Re < 210 000. Irons spin more than that (S up to 0.4), so their carry
//! is an extrapolation; `docs/ball.md` says how far it was off. The axis keeps its direction in
//! space. Axes as in [`super`]; SI units. Integrated by the classical Runge–Kutta method of fourth
//! order with a fixed step.

use super::impact::{BALL_MASS_KG, BALL_RADIUS_M, Launch};
use glam::DVec3;
use std::f64::consts::PI;

/// Standard acceleration of gravity, m/s² (CGPM 1901).
pub const GRAVITY_M_S2: f64 = 9.806_65;
/// Density of the standard atmosphere at sea level, kg/m³ (ISO 2533).
const AIR_DENSITY_KG_M3: f64 = 1.225;
/// Its viscosity, Pa·s (ISO 2533).
const AIR_VISCOSITY_PA_S: f64 = 1.789e-5;
/// ρA/2m, 1/m.
const DRAG_SCALE_PER_M: f64 =
    AIR_DENSITY_KG_M3 * PI * BALL_RADIUS_M * BALL_RADIUS_M / (2.0 * BALL_MASS_KG);
/// How spin dies out, per radius travelled (Penner 2001, eq. 16, after Smits & Smith).
const SPIN_DECAY: f64 = 2.0e-5;

/// Step of the integration, s: a much finer one lands within 2 cm (a test).
const STEP_S: f64 = 0.01;
/// No ball stays up longer, s.
const LONGEST_S: f64 = 30.0;

/// How a ball flew.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flown {
    /// Where it lands, m toward the target.
    pub carry_m: f64,
    /// Where it lands, m beside the target line; + away from the player.
    pub side_m: f64,
    /// Where it lands, m beside its start line; + away from the player.
    pub curve_m: f64,
    /// Highest point, m.
    pub apex_m: f64,
    /// Time in the air, s.
    pub time_s: f64,
    /// Speed at landing, m/s.
    pub landing_speed_m_s: f64,
    /// Angle under the level at landing, rad.
    pub landing_rad: f64,
    /// Spin left at landing, of that at launch.
    pub spin_left: f64,
}

/// The flight of a launched ball. None if it never leaves the ground, if a number of the launch is
/// not finite, or if its axis can't be (see [`Launch::axis`]).
pub fn fly(launch: &Launch) -> Option<Flown> {
    fly_about(launch, launch.axis()?, &smits_smith, SPIN_DECAY)
}

/// C_D and C_L from speed (m/s) and spin (rad/s).
type Coefficients = dyn Fn(f64, f64) -> (f64, f64);

/// Smits & Smith 1994.
fn smits_smith(speed_m_s: f64, spin_rad_s: f64) -> (f64, f64) {
    let spin_factor = spin_rad_s * BALL_RADIUS_M / speed_m_s;
    let reynolds = AIR_DENSITY_KG_M3 * speed_m_s * 2.0 * BALL_RADIUS_M / AIR_VISCOSITY_PA_S;
    let drag = 0.24 + 0.18 * spin_factor + 0.06 * (PI * (reynolds - 90_000.0) / 200_000.0).sin();
    (drag, 0.54 * spin_factor.powf(0.4))
}

fn fly_about(
    launch: &Launch,
    axis: DVec3,
    coefficients: &Coefficients,
    spin_decay: f64,
) -> Option<Flown> {
    let start = State {
        place: DVec3::ZERO,
        velocity: launch.velocity(),
        spin_rad_s: launch.spin_rad_s,
    };
    let forces = |state: &State| {
        let speed = state.velocity.length();
        let (drag, lift) = coefficients(speed, state.spin_rad_s);
        let air = DRAG_SCALE_PER_M * speed;
        State {
            place: state.velocity,
            velocity: air * (lift * axis.cross(state.velocity) - drag * state.velocity)
                - GRAVITY_M_S2 * DVec3::Y,
            spin_rad_s: -spin_decay * state.spin_rad_s * speed / BALL_RADIUS_M,
        }
    };
    follow(start, &forces, launch.start_rad)
}

/// Place (m), velocity (m/s) and spin (rad/s); or their rates.
#[derive(Clone, Copy, Debug)]
struct State {
    place: DVec3,
    velocity: DVec3,
    spin_rad_s: f64,
}

impl State {
    fn plus(&self, rate: &State, time_s: f64) -> State {
        State {
            place: self.place + rate.place * time_s,
            velocity: self.velocity + rate.velocity * time_s,
            spin_rad_s: self.spin_rad_s + rate.spin_rad_s * time_s,
        }
    }

    /// One step of the classical Runge–Kutta method.
    fn after(&self, time_s: f64, rate: &impl Fn(&State) -> State) -> State {
        let first = rate(self);
        let second = rate(&self.plus(&first, 0.5 * time_s));
        let third = rate(&self.plus(&second, 0.5 * time_s));
        let fourth = rate(&self.plus(&third, time_s));
        self.plus(&first, time_s / 6.0)
            .plus(&second, time_s / 3.0)
            .plus(&third, time_s / 3.0)
            .plus(&fourth, time_s / 6.0)
    }
}

/// Steps until the ball is down again; the last step is shortened to end on the ground.
fn follow(start: State, rate: &impl Fn(&State) -> State, start_rad: f64) -> Option<Flown> {
    if !(start.velocity.y > 0.0 && start.velocity.is_finite() && start.spin_rad_s.is_finite()) {
        return None;
    }
    let mut now = start;
    let (mut time_s, mut apex_m) = (0.0, 0.0_f64);
    while time_s < LONGEST_S {
        let next = now.after(STEP_S, rate);
        if now.velocity.y > 0.0 && next.velocity.y <= 0.0 {
            apex_m = apex_m.max(
                part_step(&now, rate, |state| state.velocity.y > 0.0)
                    .1
                    .place
                    .y,
            );
        }
        if next.place.y < 0.0 {
            let (rest_s, down) = part_step(&now, rate, |state| state.place.y >= 0.0);
            return Some(landed(&start, &down, start_rad, apex_m, time_s + rest_s));
        }
        now = next;
        time_s += STEP_S;
    }
    None
}

/// The part of a step, and the state after it, at which what holds before the step ends to hold.
fn part_step(
    now: &State,
    rate: &impl Fn(&State) -> State,
    holds: impl Fn(&State) -> bool,
) -> (f64, State) {
    let (mut low, mut high) = (0.0, STEP_S);
    for _ in 0..30 {
        let middle = 0.5 * (low + high);
        if holds(&now.after(middle, rate)) {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low, now.after(low, rate))
}

fn landed(start: &State, down: &State, start_rad: f64, apex_m: f64, time_s: f64) -> Flown {
    let speed = down.velocity.length();
    Flown {
        carry_m: down.place.x,
        side_m: down.place.z,
        curve_m: down.place.z * start_rad.cos() - down.place.x * start_rad.sin(),
        apex_m,
        time_s,
        landing_speed_m_s: speed,
        landing_rad: (-down.velocity.y / speed).asin(),
        spin_left: if start.spin_rad_s > 0.0 {
            down.spin_rad_s / start.spin_rad_s
        } else {
            1.0
        },
    }
}

#[cfg(test)]
mod tests;
