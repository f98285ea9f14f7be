//! The commands, through the real binary.
//!
//! One program for all of them: linking one is quicker than linking one a file, and what they share is made once.
//! A new file is named here, or it does not run.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

#[path = "../common/mod.rs"]
mod common;
#[path = "../../../web/tests/sample/months.rs"]
mod months;

mod bad_clips;
mod by_hand;
mod drills_and_causes;
mod flight;
mod follow;
mod keeping;
mod lesson_files;
mod main_job;
mod motion;
mod practice;
