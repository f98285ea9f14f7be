//! `causes`: the cause network – its keys, its file to start an own one from, and a check of one.

use crate::set::{Look, change_or_look};
use crate::surroundings::Surroundings;
use crate::trade::{Folder, Own, link_changes, unchanged_causes};
use anyhow::{Context, Result};
use clap::{Subcommand, ValueEnum};
use lessonwright_coaching::{
    CauseTable, ClubLink, Flight, FlightLink, LinkKey, LinkWeight, Named, sides_as_said,
};
use lessonwright_web::own::OwnChange;
use std::fmt::Write;
use std::path::{Path, PathBuf};
use tokio::runtime::Runtime;

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
    /// Every link: what it counts for, the grade of its evidence, and what you changed
    Links,
    /// Count one link for more, less or nothing, or as the table has it again
    Link {
        /// The body fact it begins at, where it leads to the club
        #[arg(long, value_name = "FACT")]
        body: Option<String>,
        /// The club fact
        #[arg(long, value_name = "FACT")]
        club: String,
        /// The flight it leads to, where it begins at the club ("pull-slice")
        #[arg(long, conflicts_with = "body", required_unless_present = "body")]
        flight: Option<String>,
        /// What it counts for
        #[arg(
            long,
            value_enum,
            required_unless_present = "as_table",
            requires = "reason"
        )]
        how: Option<WeightName>,
        /// Why
        #[arg(long)]
        reason: Option<String>,
        /// As the table has it again
        #[arg(long, conflicts_with = "how")]
        as_table: bool,
        #[command(flatten)]
        look: Look,
    },
}

/// What a link counts for.
#[derive(Clone, Copy, ValueEnum)]
pub enum WeightName {
    Off,
    Sometimes,
    Often,
}

impl From<WeightName> for LinkWeight {
    fn from(name: WeightName) -> LinkWeight {
        match name {
            WeightName::Off => LinkWeight::Off,
            WeightName::Sometimes => LinkWeight::Sometimes,
            WeightName::Often => LinkWeight::Often,
        }
    }
}

/// What there is to say.
pub fn run(around: &Surroundings, command: &CausesCommand, runtime: &Runtime) -> Result<String> {
    match command {
        CausesCommand::List => list(&Own::load(&around.studio)?.causes),
        CausesCommand::Print => Ok(CauseTable::standard_toml().to_owned()),
        CausesCommand::Check { file } => check(&around.studio, file),
        CausesCommand::Links => links(&around.studio),
        CausesCommand::Link {
            body,
            club,
            flight,
            how,
            reason,
            look,
            ..
        } => {
            let link = link(body.as_deref(), club, flight.as_deref())?;
            let known = unchanged_causes(&Folder::at(&around.studio))?;
            known.weight(&link).context(
                "there is no such link in the table: `lessonwright causes links` shows them",
            )?;
            let change = match how {
                None => OwnChange::LinkBack(link),
                Some(how) => OwnChange::Link {
                    link,
                    weight: (*how).into(),
                    reason: reason.clone().unwrap_or_default(),
                },
            };
            change_or_look(around, change, look, runtime)
        }
    }
}

fn link(body: Option<&str>, club: &str, flight: Option<&str>) -> Result<LinkKey> {
    let club = club.to_owned();
    let Some(flight) = flight else {
        let body = body.unwrap_or_default().to_owned();
        return Ok(LinkKey::Club { body, club });
    };
    let known = Flight::ALL
        .into_iter()
        .find(|known| known.plain() == flight);
    let flight = known.with_context(|| format!("\"{flight}\" is no flight"))?;
    Ok(LinkKey::Flight { club, flight })
}

fn links(studio: &Path) -> Result<String> {
    let folder = Folder::at(studio);
    let (causes, changes) = (unchanged_causes(&folder)?, link_changes(&folder)?);
    let to_clubs = causes.bodies().iter().flat_map(|body| {
        let link = |club: &ClubLink| {
            let (body, to) = (body.key.clone(), club.club.clone());
            (LinkKey::Club { body, club: to }, club.grade)
        };
        body.clubs.iter().map(link)
    });
    let to_flights = causes.clubs().iter().flat_map(|club| {
        let link = |to: &FlightLink| {
            let (club, flight) = (club.key.clone(), to.flight);
            (LinkKey::Flight { club, flight }, to.grade)
        };
        club.flights.iter().map(link)
    });
    let mut text = String::new();
    for (link, grade) in to_clubs.chain(to_flights) {
        let (from, to) = match &link {
            LinkKey::Club { body, club } => (body.as_str(), club.as_str()),
            LinkKey::Flight { club, flight } => (club.as_str(), flight.plain()),
        };
        let weight = causes.weight(&link).map_or("off", LinkWeight::key);
        let mine = changes
            .of(&link)
            .map(|change| format!("; now {}, because: {}", change.weight.key(), change.reason));
        let mine = mine.unwrap_or_default();
        writeln!(text, "{from:28} {to:28} {weight:9} grade {grade:?}{mine}")?;
    }
    Ok(text)
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
