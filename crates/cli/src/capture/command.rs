//! `bring-in-motion`, and what the page of the same work asks for.

use super::{drawn, measured};
use crate::arguments::PlayerArguments;
use crate::lesson::{self, Told, newer, spelled};
use crate::personal;
use crate::road;
use crate::say;
use crate::surroundings::Surroundings;
use crate::take_in::Letterhead;
use crate::trade::Own;
use crate::watch::ClipFile;
use anyhow::{Context, Result, ensure};
use clap::Args;
use jiff::Timestamp;
use lessonwright_exchange::recorded::{Asked, Recorded, golfer};
use lessonwright_model::{
    Brief, Cancel, CapturedBody, Choices, ClipBrief, Corrections, Letter, PlayerFacts, Units, View,
};
use lessonwright_store::{Player, Store, SwingId};
use std::fs;
use std::path::{Path, PathBuf};
use tokio::runtime::Handle;

/// The largest file that is read: a minute of a hundred markers in text.
const MOST_BYTES: u64 = 200 << 20;

#[derive(Args)]
pub struct MotionArguments {
    /// The capture: BVH or C3D
    #[arg(value_name = "FILE")]
    file: PathBuf,
    #[command(flatten)]
    player: PlayerArguments,
    /// The axis that points up: +x, -x, +y … [default: from feet to head]
    #[arg(long, value_name = "AXIS", allow_hyphen_values = true)]
    up: Option<String>,
    /// Where the target is: an axis, or "stance", along the ankles at address [default: along the stance; of our own
    /// exports as they have it]
    #[arg(long, value_name = "AXIS", allow_hyphen_values = true)]
    target: Option<String>,
    /// The file's unit: mm, cm, m, in, ft [default: as the file says, else from the body's height]
    #[arg(long)]
    unit: Option<String>,
    /// How far a joint centre may lie off, 95 of 100 times, mm [default: 20, common practice, no source]
    #[arg(long, value_name = "MM")]
    points_within_mm: Option<f64>,
    /// The academy's name on the lesson
    #[arg(long, default_value = "")]
    academy: String,
    /// The professional's name on the lesson
    #[arg(long, default_value = "")]
    coach: String,
}

impl MotionArguments {
    fn asked(&self) -> Result<Asked> {
        let said = |text: &Option<String>| text.clone().unwrap_or_default();
        let within = self.points_within_mm.map(|mm| mm.to_string());
        let fields = [&said(&self.up), &said(&self.target), &said(&self.unit)];
        let within = within.unwrap_or_default();
        Asked::stated(fields.map(String::as_str), &within).map_err(anyhow::Error::msg)
    }
}

/// Reads the capture, keeps it as a swing of the player, and drafts the lesson.
pub fn bring_in_motion(
    around: &Surroundings,
    arguments: &MotionArguments,
    runtime: &Handle,
    cancel: &Cancel,
) -> Result<()> {
    let typed = arguments.player.facts();
    ensure!(
        !typed.name.trim().is_empty(),
        "whose swing is it? say --player NAME"
    );
    let asked = arguments.asked()?;
    let store = runtime.block_on(Store::open(&around.studio))?;
    let known = runtime.block_on(store.player_named(&typed.name))?;
    let facts = match &known {
        None => typed,
        Some(known) => newer(&known.facts, &typed),
    };
    // A file that is no capture leaves the roster as it was.
    let captured = read(&arguments.file, asked, &facts)?;
    let player = runtime.block_on(async {
        let id = match known {
            None => store.add_player(&facts, Timestamp::now()).await?,
            Some(known) => {
                store.update_player(known.id, &facts).await?;
                known.id
            }
        };
        store.check_film_allowed(id).await?;
        let player = store.player(id).await?;
        player.context("the player was erased meanwhile")
    })?;
    let head = Letterhead {
        academy: arguments.academy.clone(),
        coach: arguments.coach.clone(),
    };
    let swing = swing_of(around, &store, &player, captured, &head, runtime, cancel)?;
    let kept = runtime.block_on(store.latest_analysis(swing))?;
    let kept = kept.context("the swing was erased meanwhile")?;
    print!("{}", say::analysis(&kept.analysis));
    println!("Kept in the studio as swing {swing}; to see it: lessonwright open");
    Ok(())
}

/// The body in a file, and that it can be measured: what is wrong is said before anything is drawn.
pub fn read(file: &Path, asked: Asked, player: &PlayerFacts) -> Result<CapturedBody> {
    let own = file.file_name().unwrap_or_default().to_string_lossy();
    let name = match asked.file.is_empty() {
        true => own.into_owned(),
        false => asked.file.clone(),
    };
    let reading = || format!("reading {name}");
    let bytes = fs::metadata(file).with_context(reading)?.len();
    ensure!(
        bytes <= MOST_BYTES,
        "{name} has {bytes} bytes: cut the capture to the swing"
    );
    let recorded = Recorded::read(&fs::read(file).with_context(reading)?);
    let asked = Asked {
        file: name.clone(),
        hand: asked.hand.or(player.hand),
        stature_m: player.stature_m,
        ..asked
    };
    let captured = recorded.and_then(|recorded| golfer(&recorded, &asked));
    let captured = captured.with_context(|| name.clone())?;
    let (brief, nothing) = (Brief::default(), Corrections::default());
    measured(&captured, &brief, player, &nothing)?;
    Ok(captured)
}

/// Draws a captured body's films, takes it down the road and keeps it with its lesson's draft.
pub fn swing_of(
    around: &Surroundings,
    store: &Store,
    player: &Player,
    captured: CapturedBody,
    head: &Letterhead,
    runtime: &Handle,
    cancel: &Cancel,
) -> Result<SwingId> {
    fs::create_dir_all(&around.studio)?;
    let folder = tempfile::Builder::new()
        .prefix("drawing-")
        .tempdir_in(&around.studio)?;
    let films = drawn::draw(around, &captured, folder.path(), cancel)?;
    let units = runtime.block_on(store.units_for(player.id))?;
    let brief = Brief {
        clips: [View::FaceOn, View::DownTheLine]
            .map(|view| ClipBrief {
                view: Some(view),
                capture_rate_hz: Some(captured.rate_hz),
            })
            .to_vec(),
        letter: Letter {
            academy: head.academy.clone(),
            coach: head.coach.clone(),
            date_text: spelled(jiff::Zoned::now().date()),
            inches_first: units == Units::Inches,
            coach_note: None,
        },
        capture: Some(captured),
        ..Brief::default()
    };
    let files: Vec<ClipFile> = films
        .iter()
        .map(|path| ClipFile {
            path: path.clone(),
            name: None,
            sha256: None,
        })
        .collect();
    let own = Own::load(&around.studio)?;
    let own = runtime.block_on(personal::own_for(own, store, player, None, None))?;
    let (facts, nothing) = (&player.facts, Corrections::default());
    let travelled = road::travel(around, own, &files, &brief, facts, &nothing, cancel)?;
    let told = Told::default();
    let drafted = lesson::draft(around, &brief.letter, player, &travelled, &told, cancel)?;
    let kept = (&Choices::default(), &drafted);
    runtime.block_on(lesson::keep(
        store, player, &films, None, &brief, &travelled, kept,
    ))
}
