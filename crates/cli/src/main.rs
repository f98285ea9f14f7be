//! The one binary: reads the command line, the environment and the clock, and wires the crates.
//! The road of a swing is in [`road`].

mod arguments;
mod bench;
mod bring_in;
mod by_hand;
mod capture;
mod causes;
mod club;
mod correct;
mod desk;
mod diary;
mod drills;
mod export;
mod film;
mod flight;
mod follow;
mod keep;
mod kept;
mod lesson;
mod letter;
mod mail;
mod models;
mod own;
mod personal;
mod personal_link;
mod pictures;
mod plan;
mod player;
mod progress;
mod record;
mod road;
mod say;
mod seed;
mod set;
mod studio;
mod surroundings;
mod take_in;
mod trade;
mod watch;

use anyhow::{Context, Result};
use arguments::{Arguments, Command};
use clap::Parser;
use kept::Seen;
use lessonwright_analysis::ClipObservation;
use lessonwright_analysis::clock::Clock;
use lessonwright_analysis::club::{ClubWay, club_way};
use lessonwright_model::{
    Cancel, ClipFacts, ClubTrack, Corrections, LandmarkTrack, PlayerFacts, Strike, SwingAnalysis,
    SwingWindow,
};
use std::io::Write;
use std::process::ExitCode;
use surroundings::Surroundings;
use tokio::runtime::Runtime;

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    tracing_subscriber::fmt()
        .with_writer(std::io::stderr)
        .with_env_filter(tracing_subscriber::EnvFilter::from_default_env())
        .init();
    match run(&arguments) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) if is_closed_pipe(&error) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("lessonwright: {error:#}");
            ExitCode::FAILURE
        }
    }
}

fn run(arguments: &Arguments) -> Result<()> {
    match &arguments.command {
        Command::Schema => return print_json(&schemars::schema_for!(SwingAnalysis)),
        Command::Flight(flight) if flight.swing.is_none() => return print(&flight::told(flight)?),
        _ => {}
    }
    let around = Surroundings::find(&arguments.places)?;
    let runtime = Runtime::new().context("starting the tasks' runtime")?;
    let cancel = progress::cancel_on_ctrl_c(&runtime);
    match &arguments.command {
        Command::Analyse {
            swing,
            corrections,
            json,
        } => {
            let mut corrections = match corrections {
                Some(file) => by_hand::read(file)?,
                None => Corrections::default(),
            };
            corrections.seen.extend(swing.seen.iter().cloned());
            let (files, brief) = (swing.files(), swing.brief());
            let player = swing.player.facts();
            road::check_keys(&around, &corrections, &player)?;
            let own = trade::Own::load(&around.studio)?;
            let travelled =
                road::travel(&around, own, &files, &brief, &player, &corrections, &cancel)?;
            print_analysis(&travelled.swing, *json)
        }
        Command::Correct(changes) => {
            let say = |swing: &SwingAnalysis| print_analysis(swing, changes.json);
            correct::correct(around, changes, &runtime, &cancel, say)
        }
        Command::Lesson(lesson) => lesson::make(&around, lesson, runtime.handle(), &cancel),
        Command::Desk(chosen) => desk::run(around, chosen, &runtime, &cancel),
        Command::Export(what) => export::export(&around, what, &runtime, &cancel),
        Command::Import(what) => keep::import(&around, what, &runtime),
        Command::TakeIn(what) => take_in::run(&around, what, &runtime, &cancel),
        Command::Backup(what) => keep::backup(&around, what, &runtime),
        Command::Restore(what) => keep::restore_from(&around, what, &runtime),
        Command::Storage(what) => keep::storage(&around, what, &runtime),
        Command::Erase(what) => keep::erase(&around, what, &runtime, &cancel),
        Command::BeforeAfter(two) => film::before_after(&around, two, &runtime, &cancel),
        Command::Player { what } => player::run(&around, what, &runtime, &cancel),
        Command::Plan(plan) => plan::run(&around, plan, &runtime),
        Command::Models { what } => models::run(&around, what, &runtime),
        Command::Drills { what } => print(&drills::run(&around, what)?),
        Command::Causes { what } => print(&causes::run(&around, what, &runtime)?),
        Command::Targets { what } => print(&set::targets(&around, what, &runtime)?),
        Command::Units(asked) => print(&set::units(&around, asked, &runtime)?),
        Command::Progress(asked) => print(&follow::progress(&around, asked, &runtime)?),
        Command::Letter(asked) => letter::run(&around, asked, &runtime, &cancel),
        Command::Overview(asked) => print(&follow::overview(&around, asked, &runtime)?),
        Command::Repeatability => print(&follow::repeatability(&around, &runtime)?),
        Command::Mark(asked) => print(&follow::mark(&around, asked, &runtime)?),
        Command::Prescribe(asked) => print(&follow::prescribe(&around, asked, &runtime)?),
        Command::BringInMotion(asked) => {
            capture::bring_in_motion(&around, asked, runtime.handle(), &cancel)
        }
        Command::BringIn(asked) => print(&bring_in::bring_in(&around, asked, &runtime, &cancel)?),
        Command::Diary { what } => print(&diary::run(&around, what, &runtime)?),
        Command::Sent { lessons } => print(&diary::sent(&around, lessons, &runtime)?),
        Command::Find { words } => print(&diary::find(&around, words, &runtime)?),
        Command::Seed(many) => print(&seed::run(&around, many, &runtime)?),
        Command::Mail(asked) => print(&studio::mail(&around, asked, &runtime)?),
        Command::Open(open) => studio::open(around, open, &runtime, &cancel),
        Command::Clip {
            clips,
            capture_rate_hz,
        } => clips
            .iter()
            .try_for_each(|clip| describe(&around, clip, *capture_rate_hz, &cancel)),
        Command::Landmarks { swing } => {
            let brief = swing.brief();
            let seen = watch::observe_all(&around, &swing.files(), &brief, &cancel)?;
            let mut observations = road::observations(&seen, &brief);
            let moved = road::move_to_joint_centres(
                &around,
                &mut observations,
                &PlayerFacts::default(),
                &road::settings(&brief),
            );
            // A clip that is no swing has landmarks too, but nobody may take them for joint centres.
            if let Err(error) = moved {
                eprintln!("lessonwright: no joint centres (\"centres\" is null): {error:#}");
            }
            let all: Vec<Observation<'_>> = seen
                .iter()
                .zip(&observations)
                .map(|(seen, clip)| Observation::of(seen, clip))
                .collect();
            print(&(serde_json::to_string(&all)? + "\n"))
        }
        Command::Flight(flight) => {
            print(&flight::told(flight)?)?;
            flight::run(around, flight, &runtime, &cancel)
        }
        Command::Schema => Ok(()),
    }
}

/// One clip as the analysis takes it, for calibration and for a look at a stage's output.
#[derive(serde::Serialize)]
struct Observation<'a> {
    facts: &'a ClipFacts,
    window: SwingWindow,
    strikes: &'a [Strike],
    track: &'a LandmarkTrack,
    centres: Option<&'a LandmarkTrack>,
    club: &'a ClubTrack,
    /// The shaft in the pictures in which it is seen.
    club_way: ClubWay,
}

impl<'a> Observation<'a> {
    fn of(seen: &'a Seen, clip: &'a ClipObservation) -> Observation<'a> {
        Observation {
            facts: &clip.facts,
            window: seen.window,
            strikes: &clip.strikes,
            track: &clip.track,
            centres: clip.centres.as_ref(),
            club: &seen.club,
            club_way: club_way(&seen.club, Clock::of(&clip.facts)),
        }
    }
}

/// Facts of one clip and its swings.
fn describe(
    around: &Surroundings,
    path: &std::path::Path,
    rate_hz: Option<f64>,
    cancel: &Cancel,
) -> Result<()> {
    let clip = lessonwright_media::probe(&around.tools, path, rate_hz, cancel)?;
    let swings = watch::find_swings(around, &clip, cancel)?;
    print(&say::clip(&clip.facts, &clip.warnings, &swings))
}

fn print_analysis(swing: &SwingAnalysis, as_json: bool) -> Result<()> {
    if as_json {
        print_json(swing)
    } else {
        print(&say::analysis(swing))
    }
}

fn print_json(value: &impl serde::Serialize) -> Result<()> {
    print(&(serde_json::to_string_pretty(value)? + "\n"))
}

fn print(text: &str) -> Result<()> {
    std::io::stdout()
        .lock()
        .write_all(text.as_bytes())
        .context("writing the result")
}

/// A reader that stops early (`| head`) is no failure of ours.
fn is_closed_pipe(error: &anyhow::Error) -> bool {
    let cause = error.root_cause().downcast_ref::<std::io::Error>();
    cause.is_some_and(|io| io.kind() == std::io::ErrorKind::BrokenPipe)
}
