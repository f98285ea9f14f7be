//! Where the ball is after the strike, for as long as a phone can see it.
//!
//! A straight line at one speed. Over the quarter of a second that is shown, drag takes 2–4 m/s of 60 off, and weight
//! less lift bends the way by less than 10 cm in 12 m (0.5°); neither is drawn.

use crate::motion::Movement;
use crate::params::{BallFlight, ClubKind, Place, SwingParams};
use glam::DVec3;

/// An indoor screen stops the ball so far toward the target, m.
const SCREEN_M: f64 = 3.3;
/// Outdoors it is drawn for so long, s.
pub const SHOWN_S: f64 = 0.25;

/// Middle of the ball `t` s after the first movement, m; none once it can't be seen.
pub fn ball_at(params: &SwingParams, motion: &dyn Movement, t: f64) -> Option<DVec3> {
    let flown_s = t - motion.key_times().impact;
    if flown_s <= 0.0 {
        return Some(motion.ball());
    }
    let at = motion.ball() + velocity(params) * flown_s;
    let stopped = match (&params.flight, params.scene.place) {
        (Some(_), Place::Range) => flown_s > SHOWN_S,
        _ => at.x >= SCREEN_M,
    };
    (!stopped).then_some(at)
}

/// Of the ball after the strike, m/s.
pub fn velocity(params: &SwingParams) -> DVec3 {
    let Some(flight) = &params.flight else {
        // Of the order of a mid-iron's and a driver's.
        return match params.club.kind {
            ClubKind::Iron => DVec3::new(48.0, 16.0, 0.0),
            ClubKind::Driver => DVec3::new(62.0, 13.0, 0.0),
        };
    };
    let BallFlight {
        speed_m_s,
        launch_deg,
        start_deg,
    } = *flight;
    let (up, ahead) = launch_deg.to_radians().sin_cos();
    let (away, along) = start_deg.to_radians().sin_cos();
    speed_m_s * DVec3::new(ahead * along, up, ahead * away)
}
