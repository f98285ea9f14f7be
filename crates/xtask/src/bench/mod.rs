//! The tables of accuracy and speed.

mod accuracy;
mod speed;

use anyhow::Result;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// Which table.
#[derive(Args)]
pub struct Options {
    /// Which table to print.
    #[arg(value_enum)]
    table: Table,
    /// Where rendered clips are kept; what is missing there is rendered (about a minute a clip).
    #[arg(long, default_value = "target/stage")]
    clips: PathBuf,
    /// Which swings of the accuracy table.
    #[arg(long, value_enum, default_value = "reporting")]
    swings: accuracy::Swings,
    /// Also time the same network under Python (fetches packages into target/bench).
    #[arg(long)]
    python: bool,
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
    match options.table {
        Table::Accuracy => accuracy::print_table(options.swings, &options.clips),
        Table::Speed => speed::print_table(options.python),
    }
}
