//! The chores of a developer: `cargo xtask setup | demo | render-demo | render-drills | test |
//! check | bench`.
//!
//! `demo` and `test` do the set-up first, so a fresh machine needs no other command.

mod bench;
mod demo;
mod packages;
mod programs;
mod shell;
mod test;

use anyhow::Result;
use clap::{Parser, Subcommand};

#[derive(Parser)]
#[command(about = "Development chores of Lessonwright")]
struct Arguments {
    #[command(subcommand)]
    chore: Chore,
}

#[derive(Subcommand)]
enum Chore {
    /// Install or check ffmpeg and Chromium, and fetch the networks and their runtime.
    Setup,
    /// Run the main job on the demo academy and open the studio.
    Demo(demo::Options),
    /// Render the demo's clips again (many minutes).
    RenderDemo,
    /// Draw the figures of the drills again (many minutes).
    RenderDrills,
    /// Run every test.
    Test(test::Options),
    /// Formatting, lints, documentation and licences.
    Check,
    /// Print the tables of accuracy and speed.
    Bench(bench::Options),
}

fn main() -> Result<()> {
    match Arguments::parse().chore {
        Chore::Setup => set_up(),
        Chore::Demo(options) => {
            set_up()?;
            demo::run_demo(&options)
        }
        Chore::RenderDemo => {
            set_up()?;
            demo::render_clips()
        }
        Chore::RenderDrills => {
            set_up()?;
            demo::render_drills()
        }
        Chore::Test(options) => {
            set_up()?;
            test::test_everything(&options)
        }
        Chore::Check => test::check_everything(),
        Chore::Bench(options) => {
            set_up()?;
            bench::print_table(&options)
        }
    }
}

/// What every other chore stands on. Quick when nothing is missing.
fn set_up() -> Result<()> {
    programs::install_missing()?;
    packages::fetch_missing(&packages::home()?)
}
