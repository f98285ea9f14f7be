//! What is found, chosen, prescribed and followed up, against tables, books and simulations.
//!
//! One program for all of them: linking one is quicker than linking one a file, and what they share is made once.
//! A new file is named here, or it does not run.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

#[path = "../follow_support/mod.rs"]
mod follow_support;
#[path = "../../../report/tests/grade/german.rs"]
mod german;
#[path = "../support/mod.rs"]
mod support;

mod ball;
mod care;
mod cases;
mod choices;
mod drills;
mod follow_reference;
mod follow_rules;
mod follow_simulation;
mod measured_shots;
mod plan;
mod properties;
mod reference;
mod refused;
mod retold;
mod screening;
mod teaching_table;
