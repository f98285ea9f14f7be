//! A motion capture as a swing: its file is read, its two films are drawn, and the body goes down the road.

mod command;
mod drawn;
mod road;

pub use command::{MotionArguments, bring_in_motion, read, swing_of};
pub use road::{measured, travel, watched};
