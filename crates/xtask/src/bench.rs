//! The tables of accuracy and speed.

use crate::shell::{cargo, run};
use anyhow::Result;
use clap::{Args, ValueEnum};

/// Which table.
#[derive(Args)]
pub struct Options {
    /// Which table to print.
    #[arg(value_enum)]
    table: Table,
}

#[derive(Clone, Copy, ValueEnum)]
enum Table {
    /// Errors of moments and measures against the stage's truth.
    Accuracy,
    /// Frames a second of the whole road against the network alone.
    Speed,
}

/// Print one table.
pub fn print_table(options: &Options) -> Result<()> {
    let _ = (cargo(), run, options.table);
    Ok(())
}
