//! Rows and files out and in, through real databases.
//!
//! One program for all of them: linking one is quicker than linking one a file, and what they share is made once.
//! A new file is named here, or it does not run.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod backup;
mod balls;
mod bring_in;
mod choices;
mod follow_up;
mod practice;
mod records;
mod store;
mod today;
