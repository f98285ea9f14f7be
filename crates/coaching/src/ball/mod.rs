//! What the ball tells of the club: models of impact and flight, and both read backwards.
//!
//! [`impact`] takes the club to the ball's launch, [`trajectory`] the launch to the landing.
//! [`infer()`] goes the other way: from what was seen or measured of a ball ([`SeenBall`]) to face and
//! path as ranges, with what can't be known. [`read_shots`] reads what a device wrote down.
//!
//! Axes, for all of this folder: the player's world, x toward the target, y up, z from the player
//! to the ball and beyond. A left-hander's world is the mirror image, so + is right of the target
//! for a right-hander and left of it for a left-hander; toward the toe for both. SI units and radians inside.

mod clubs;
pub mod impact;
mod infer;
mod nine;
mod quantity;
mod said;
mod seen;
mod shots_csv;
pub mod trajectory;

pub use clubs::ClubKind;
pub use infer::{BallReading, ClubAngle, LEVEL, MiddleShot, infer, middle_shots, would_settle};
pub use quantity::{Kind, Unit, read_quantity};
pub use seen::{Bend, Curve, Height, Measured, SeenBall, Spoilt, Start, Strike, ToldBall, Way};
pub use shots_csv::{AssumedUnits, Column, MOST_SHOTS, Shot, ShotTable, ShotsError, read_shots};
