//! `causes`: the cause network – its keys, its file to start an own one from, and a check of one.

use crate::surroundings::Surroundings;
use crate::trade::{Own, sides_as_said};
use anyhow::{Context, Result};
use clap::Subcommand;
use lessonwright_coaching::{CauseTable, Named};
use std::fmt::Write;
use std::path::{Path, PathBuf};

/// What is to be done with the cause network.
#[derive(Subcommand)]
pub enum CausesCommand {
    /// The keys in use: facts for --seen, limits for --limit, goals for --goal
    List,
    /// Print the standard file, to start an own one from; the studio's `causes.toml` is used instead of it
    Print,
    /// Read a file and say what is wrong with it; changes nothing
    Check {
        /// The file
        file: PathBuf,
    },
}

/// What there is to say.
pub fn run(around: &Surroundings, command: &CausesCommand) -> Result<String> {
    match command {
        CausesCommand::List => list(&Own::load(&around.studio)?.causes),
        CausesCommand::Print => Ok(CauseTable::standard_toml().to_owned()),
        CausesCommand::Check { file } => check(&around.studio, file),
    }
}

fn list(causes: &CauseTable) -> Result<String> {
    let mut text = format!("Edition: {}\n\nFacts (--seen)\n", causes.edition());
    for body in causes.bodies() {
        let measured = if body.shown.is_some() {
            ", also measured"
        } else {
            ""
        };
        writeln!(
            text,
            "  {:28} {}{measured}",
            body.key,
            sides_as_said(&body.short)
        )?;
    }
    let named: [(&str, &[Named]); 2] = [
        ("Limits of the body (--limit)", causes.limits()),
        ("Goals (--goal)", causes.goals()),
    ];
    for (heading, list) in named {
        writeln!(text, "\n{heading}")?;
        for one in list {
            writeln!(text, "  {:28} {}", one.key, sides_as_said(&one.says))?;
        }
    }
    Ok(text)
}

fn check(studio: &Path, file: &Path) -> Result<String> {
    let text =
        std::fs::read_to_string(file).with_context(|| format!("reading {}", file.display()))?;
    let name = file.display().to_string();
    let causes = CauseTable::parse(&name, &text)?;
    Own::load(studio)?.book.check_with(&name, &causes)?;
    Ok(format!(
        "{name}: sound, edition \"{}\", {} body facts and {} club facts\n",
        causes.edition(),
        causes.bodies().len(),
        causes.clubs().len()
    ))
}
