//! The club through the swing: where to look for it, and the way it took.

mod levels;
mod looks;
mod shaft_at;
mod way;

pub(crate) use levels::shaft_levels;
pub use looks::{ClubLook, club_looks};
pub(crate) use shaft_at::shaft_at;
pub use way::{ClubWay, Shaft, club_way};
