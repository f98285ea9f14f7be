//! The tables of accuracy and speed, and the table of biases that the analysis uses.

mod accuracy;
mod calibrate;
mod club;
mod pages;
mod speed;
mod swings;

use anyhow::Result;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// Which table.
#[derive(Args)]
pub struct Options {
    /// Which table to print.
    #[arg(value_enum)]
    table: Table,
    /// Where rendered clips and their landmarks are kept; what is missing there is made (half a minute
    /// a clip). Delete the folder after a change of `stage` or `vision`.
    #[arg(long, default_value = "target/stage")]
    clips: PathBuf,
    /// Table of joints (CSV in golf axes) of the captured motion, which is left out without it.
    #[arg(long)]
    capture: Option<PathBuf>,
    /// Only these swings of the accuracy table.
    #[arg(long, value_enum)]
    only: Vec<accuracy::Family>,
    /// Also time the same network under Python (fetches packages into target/bench).
    #[arg(long)]
    python: bool,
    /// Players of the invented studio whose pages are timed.
    #[arg(long, default_value_t = 1000)]
    players: usize,
}

#[derive(Clone, Copy, ValueEnum)]
enum Table {
    /// Errors of moments and measures against the stage's truth.
    Accuracy,
    /// Frames a second of the whole road against the network alone.
    Speed,
    /// How long the studio's pages take with a thousand players in it (needs wrk and curl).
    Pages,
    /// The club in clips of `training/club_clips.py` (name their folder with --clips) against their truth.
    Club,
    /// Measure biases and ± again on the tuning swings, and write them into the analysis.
    Calibration,
}

/// Print one table.
pub fn print_table(options: &Options) -> Result<()> {
    match options.table {
        Table::Accuracy => {
            accuracy::print_table(&options.clips, &options.only, options.capture.as_deref())
        }
        Table::Speed => speed::print_table(options.python),
        Table::Pages => pages::print_table(options.players),
        Table::Club => club::print_table(&options.clips),
        Table::Calibration => calibrate::write_table(&options.clips),
    }
}
