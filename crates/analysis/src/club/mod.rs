//! The club through the swing: where to look for it, and the way it took.

mod at_ball;
mod ball;
mod flight;
mod levels;
mod looks;
mod shaft_at;
mod way;

pub(crate) use at_ball::shaft_at_ball;
pub use ball::ball_at_rest;
pub(crate) use ball::ball_gone;
pub(crate) use flight::{BallStart, ball_start};
pub use flight::{FlightStretch, flight_stretch};
pub(crate) use levels::shaft_levels;
pub use looks::{ClubLook, club_looks};
pub(crate) use shaft_at::{ShaftAt, shaft_at};
pub use way::{ClubWay, Shaft, club_way};
