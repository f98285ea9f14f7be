//! `bring-in`: clips into the studio's tray by command, what is in it, and swings onto the queue.

use super::Workshop;
use crate::surroundings::Surroundings;
use anyhow::{Context, Result, bail, ensure};
use clap::Args;
use jiff::Timestamp;
use lessonwright_model::{Cancel, Letter};
use lessonwright_store::{Arrival, ArrivalId, ArrivalState, CameBy, NewArrival, Store, WorkState};
use lessonwright_web::bring_in::Intake;
use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use tokio::runtime::Runtime;

/// What is brought in, and what is done with it.
#[derive(Args)]
pub struct BringInArguments {
    /// Clips, or folders of clips; they are copied and stay where they are
    #[arg(value_name = "CLIP")]
    pub clips: Vec<PathBuf>,
    /// Whose they are, by the name on the roster [default: said later]
    #[arg(long, value_name = "NAME")]
    pub player: Option<String>,
    /// Put clips of the tray on the queue as one swing, by one number or two
    #[arg(long, value_name = "NUMBER", num_args = 1..=2)]
    pub swing: Vec<i64>,
    /// Take clips out of the tray, by their numbers
    #[arg(long, value_name = "NUMBER", num_args = 1..)]
    pub take_out: Vec<i64>,
    /// Do all the work that waits, here and now, without the studio's page
    #[arg(long)]
    pub work: bool,
}

/// Brings in, and says what is in the tray.
pub fn bring_in(
    around: &Surroundings,
    arguments: &BringInArguments,
    runtime: &Runtime,
    cancel: &Cancel,
) -> Result<String> {
    runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let now = Timestamp::now();
        add(&store, arguments, now).await?;
        for number in &arguments.take_out {
            store.remove_arrival(ArrivalId(*number)).await?;
        }
        if !arguments.swing.is_empty() {
            queue(&store, &arguments.swing, now).await?;
        }
        if arguments.work {
            let workshop = Workshop::of(
                Arc::new(around.clone()),
                store.clone(),
                Arc::new(Intake::default()),
                Letter::default(),
                cancel.clone(),
            );
            store.wait_again().await?;
            workshop.open_all().await?;
            while !cancel.is_cancelled() && workshop.do_next().await? {}
        }
        say(&store).await
    })
}

async fn add(store: &Store, arguments: &BringInArguments, now: Timestamp) -> Result<()> {
    let player = match &arguments.player {
        None => None,
        Some(name) => {
            let player = store.player_named(name).await?;
            let player = player
                .with_context(|| format!("there is no player called \"{name}\" in the studio"))?;
            Some(player.id)
        }
    };
    for path in files(&arguments.clips)? {
        let name = path
            .file_name()
            .with_context(|| format!("{} has no name", path.display()))?;
        let new = NewArrival {
            player,
            link: None,
            name: name.to_string_lossy().into_owned(),
            came_by: CameBy::Command,
            view: None,
        };
        store.add_arrival(&path, &new, now).await?;
    }
    Ok(())
}

/// The files named, and those in the folders named, sorted within each.
fn files(named: &[PathBuf]) -> Result<Vec<PathBuf>> {
    let mut all = Vec::new();
    for path in named {
        if path.is_dir() {
            let entries =
                std::fs::read_dir(path).with_context(|| format!("reading {}", path.display()))?;
            let mut inside: Vec<PathBuf> = entries
                .filter_map(|entry| Some(entry.ok()?.path()))
                .collect();
            inside.retain(|path| path.is_file());
            inside.sort();
            all.extend(inside);
        } else {
            all.push(path.clone());
        }
    }
    Ok(all)
}

async fn queue(store: &Store, numbers: &[i64], now: Timestamp) -> Result<()> {
    let arrivals = store.arrivals().await?;
    let find = |number: &i64| -> Result<&Arrival> {
        let found = arrivals.iter().find(|arrival| arrival.id.0 == *number);
        found.with_context(|| format!("there is no clip {number} in the tray"))
    };
    let clips: Vec<&Arrival> = numbers.iter().map(find).collect::<Result<_>>()?;
    let Some(player) = clips[0].player else {
        bail!(
            "clip {} is nobody's yet: say whose it is on the page /bring-in",
            numbers[0]
        );
    };
    let views: Vec<_> = clips.iter().filter_map(|clip| clip.view()).collect();
    ensure!(
        views.len() < 2 || views[0] != views[1],
        "both clips are of one view: one swing needs face-on and down the line"
    );
    let ids: Vec<ArrivalId> = clips.iter().map(|clip| clip.id).collect();
    store.add_work(player, &ids, now).await?;
    Ok(())
}

/// The tray and the queue, a line each.
async fn say(store: &Store) -> Result<String> {
    let mut text = String::new();
    for clip in store.arrivals().await? {
        let player = match clip.player {
            Some(id) => store
                .player(id)
                .await?
                .map_or(String::new(), |player| player.facts.name),
            None => "nobody's yet".to_owned(),
        };
        let state = match clip.state {
            ArrivalState::Arrived => "arrived",
            ArrivalState::Opened => "opened",
            ArrivalState::Watched => "ready",
            ArrivalState::Failed => "can't be used",
            ArrivalState::Stopped => "stopped",
        };
        let view = clip
            .view()
            .map_or(String::new(), |view| format!(", {view}"));
        let why = clip
            .trouble
            .as_deref()
            .map_or(String::new(), |why| format!(": {why}"));
        writeln!(
            text,
            "clip {}  {}, {player}{view}: {state}{why}",
            clip.id,
            file_name(&clip.name)
        )?;
    }
    for work in store.works().await? {
        let what = match (work.state, work.swing) {
            (WorkState::Waiting, _) => "waits".to_owned(),
            (WorkState::UnderWay, _) => "under way".to_owned(),
            (WorkState::Stopped, _) => "stopped".to_owned(),
            (WorkState::Failed, _) => format!("went wrong: {}", work.trouble.unwrap_or_default()),
            (WorkState::Done, Some(swing)) => format!("done: swing {swing}"),
            (WorkState::Done, None) => "done".to_owned(),
        };
        writeln!(text, "queue {}  {what}", work.id)?;
    }
    if text.is_empty() {
        text.push_str("The tray is empty.\n");
    }
    Ok(text)
}

fn file_name(name: &str) -> String {
    Path::new(name).display().to_string()
}
