//! The club through the swing: where to look for it, and the way it took.

mod looks;
mod way;

pub use looks::{ClubLook, club_looks};
pub use way::{ClubWay, Shaft, club_way};
