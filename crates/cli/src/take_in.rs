//! `take-in`: what a player sent, from the file to a lesson. Nothing in the file is believed before it is checked; what is
//! answered goes on record, what hurts goes to the answers before a prescription, the clips go down the road.

use crate::arguments::{ClubName, LessonArguments, PlayerArguments, SwingArguments, ViewName};
use crate::desk::DeskOptions;
use crate::lesson;
use crate::surroundings::Surroundings;
use anyhow::{Context, Result, bail};
use clap::{Args, ValueEnum};
use jiff::Timestamp;
use lessonwright_coaching::ball::ClubKind;
use lessonwright_exchange::{Bundle, Manifest};
use lessonwright_language::{Say, Text, t, words};
use lessonwright_model::{Cancel, View};
use lessonwright_store::{NewClip, Player, Store, SwingId, TakenIn};
use lessonwright_web::personal::facts_with;
use std::fs::{self, File};
use std::io::BufReader;
use std::path::{Path, PathBuf};
use tempfile::TempDir;
use tokio::runtime::Handle;

#[derive(Args)]
pub struct TakeInArguments {
    /// The files that players sent
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
}

/// A bundle that was checked: whose it is, its clips in a folder of their own.
pub struct Checked {
    pub player: Player,
    manifest: Manifest,
    sha256: String,
    clips: Vec<(View, PathBuf)>,
    /// Removed with the value.
    _folder: TempDir,
}

/// What a lesson that is drafted says of whom it comes from.
#[derive(Clone, Default)]
pub struct Letterhead {
    pub academy: String,
    pub coach: String,
}

/// Take every file in; one that is refused does not stop the others.
pub fn run(
    around: &Surroundings,
    arguments: &TakeInArguments,
    runtime: &tokio::runtime::Runtime,
    cancel: &Cancel,
) -> Result<()> {
    let store = runtime.block_on(Store::open(&around.studio))?;
    let mut refused = 0;
    for file in &arguments.files {
        let done = runtime
            .block_on(check(around, &store, file))
            .and_then(|bundle| {
                let say = Say::default();
                println!("{}: {}", file.display(), say.text(&said(&bundle)));
                let recorded = runtime.block_on(record(&store, &bundle))?;
                if let Some(why) = recorded {
                    println!("{}", say.text(&why));
                }
                analyse(
                    around,
                    &bundle,
                    &Letterhead::default(),
                    runtime.handle(),
                    cancel,
                )
            });
        if let Err(error) = done {
            refused += 1;
            eprintln!("lessonwright: {}: {error:#}", file.display());
        }
    }
    if refused > 0 {
        bail!(
            "{refused} of {} files were not taken in",
            arguments.files.len()
        );
    }
    Ok(())
}

/// Reads a bundle, holds its clips against their sums, finds its player. Changes nothing.
pub async fn check(around: &Surroundings, store: &Store, file: &Path) -> Result<Checked> {
    let opened = File::open(file).with_context(|| format!("reading {}", file.display()))?;
    let mut bundle = Bundle::open(BufReader::new(opened))?;
    let manifest = bundle.manifest.clone();
    let player = store.player_of_code(&manifest.player).await?;
    let player =
        player.context("its player is not on this roster: was it meant for another studio?")?;
    store.check_film_allowed(player.id).await?;
    let sha256 = crate::kept::sha256_of(file)?;
    if store
        .taken_in_of(player.id)
        .await?
        .iter()
        .any(|one| one.sha256 == sha256)
    {
        bail!("this file of {} was taken in already", player.facts.name);
    }
    fs::create_dir_all(&around.studio)?;
    let folder = tempfile::Builder::new()
        .prefix("taking-in-")
        .tempdir_in(&around.studio)?;
    let mut clips = Vec::new();
    for clip in &manifest.clips {
        let path = folder.path().join(&clip.name);
        let to = File::create(&path).with_context(|| format!("writing {}", path.display()))?;
        bundle.write_clip(clip, to)?;
        clips.push((clip.view, path));
    }
    Ok(Checked {
        player,
        manifest,
        sha256,
        clips,
        _folder: folder,
    })
}

/// "Tom Hallam sent 2 clips, filmed on 2026-11-26; nothing hurts".
pub fn said(bundle: &Checked) -> Text {
    let answers = &bundle.manifest.answers;
    let pains = answers.pains.iter().map(|pain| {
        t("keeping-sent-pain")
            .with("where", words::area(pain.area))
            .with("strength", pain.strength)
    });
    let hurts = match (answers.pains.is_empty(), answers.pain_answered) {
        (false, _) => t("keeping-sent-hurts").with("where", Text::joined(pains, ", ")),
        (true, true) => t("keeping-sent-nothing"),
        (true, false) => t("keeping-sent-unanswered"),
    };
    let sent = t("keeping-sent-says")
        .with("name", &bundle.player.facts.name)
        .with(
            "clips",
            t("keeping-sent-clips").with("n", bundle.clips.len()),
        )
        .with("day", bundle.manifest.filmed_on.to_string())
        .with("hurts", hurts);
    let words = [&answers.feel, &answers.words].map(|text| text.trim());
    let words = words.into_iter().filter(|text| !text.is_empty());
    let words = words.map(|text| Text::plain(format!("\"{text}\"")));
    Text::joined([sent].into_iter().chain(words), "; ")
}

/// Puts the answers on record. Pain joins the answers before a prescription and is never made less by a form that nobody
/// asked face to face; says so.
pub async fn record(store: &Store, bundle: &Checked) -> Result<Option<Text>> {
    let now = Timestamp::now();
    let taken = TakenIn {
        sha256: bundle.sha256.clone(),
        answers: serde_json::to_string(&bundle.manifest)?,
        taken_at: now,
    };
    if !store.keep_taken_in(bundle.player.id, &taken).await? {
        bail!(
            "this file of {} was taken in already",
            bundle.player.facts.name
        );
    }
    let answers = &bundle.manifest.answers;
    let facts = facts_with(&bundle.player.facts, answers, now);
    let hurts = !answers.pains.is_empty();
    store.update_player(bundle.player.id, &facts).await?;
    Ok(hurts.then(|| t("keeping-sent-talk").with("name", &facts.name)))
}

/// The clips down the road, kept and with a lesson drafted. Where they can't be analysed they are kept all the same.
pub fn analyse(
    around: &Surroundings,
    bundle: &Checked,
    head: &Letterhead,
    runtime: &Handle,
    cancel: &Cancel,
) -> Result<()> {
    let store = runtime.block_on(Store::open(&around.studio))?;
    let swings = || runtime.block_on(store.swings_of(bundle.player.id));
    let before: Vec<SwingId> = swings()?.iter().map(|swing| swing.id).collect();
    let mut done = lesson::make(around, &arguments(bundle, head), runtime, cancel);
    if done.is_err() && swings()?.len() == before.len() {
        runtime.block_on(keep_unanalysed(around, &store, bundle, &Cancel::default()))?;
        done = done.context("the clips are kept as a swing that is not analysed");
    }
    for swing in swings()?.iter().filter(|swing| !before.contains(&swing.id)) {
        runtime.block_on(store.note_sent_in(swing.id))?;
    }
    done
}

async fn keep_unanalysed(
    around: &Surroundings,
    store: &Store,
    bundle: &Checked,
    cancel: &Cancel,
) -> Result<()> {
    let swing = store
        .add_swing(bundle.player.id, None, Timestamp::now())
        .await?;
    for (view, path) in &bundle.clips {
        let clip = lessonwright_media::probe(&around.tools, path, None, cancel)?;
        let clip = NewClip {
            view: *view,
            file: path.clone(),
            facts: clip.facts,
        };
        store.add_clip(swing, &clip).await?;
    }
    Ok(())
}

fn arguments(bundle: &Checked, head: &Letterhead) -> LessonArguments {
    let club = ClubKind::of_key(&bundle.manifest.answers.club);
    let club = ClubName::value_variants()
        .iter()
        .copied()
        .find(|name| Some(name.key()) == club.map(ClubKind::key));
    LessonArguments {
        swing: SwingArguments {
            clips: bundle.clips.iter().map(|(_, path)| path.clone()).collect(),
            view: bundle.clips.iter().map(|(view, _)| named(*view)).collect(),
            capture_rate_hz: vec![],
            swing_number: None,
            camera_distance_m: None,
            seen: vec![],
            player: PlayerArguments {
                player: bundle.player.facts.name.clone(),
                hand: None,
                stature_cm: None,
                age: None,
                flight: None,
                health: None,
                limit: vec![],
                goal: vec![],
            },
        },
        academy: head.academy.clone(),
        coach: head.coach.clone(),
        note: None,
        desk: DeskOptions::default(),
        units: None,
        out: None,
        pdf: None,
        film: None,
        voice: None,
        guardian: None,
        filmed: bundle.manifest.filmed_on.parse().ok(),
        made_as: None,
        club,
        date: None,
    }
}

fn named(view: View) -> ViewName {
    match view {
        View::FaceOn => ViewName::FaceOn,
        View::DownTheLine => ViewName::DownTheLine,
    }
}
