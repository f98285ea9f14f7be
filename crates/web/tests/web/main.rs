//! The studio's pages, over real connections.
//!
//! One program for all of them: linking one is quicker than linking one a file, and what they share is made once.
//! A new file is named here, or it does not run.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

#[path = "../client/mod.rs"]
mod client;
#[path = "../contrast/mod.rs"]
mod contrast;
#[path = "../sample/months.rs"]
mod months;
#[path = "../sample/mod.rs"]
mod sample;

mod bench;
mod bring_in;
mod desk;
mod follow;
mod look;
mod own;
mod personal;
mod practice;
mod studio;
mod today;
