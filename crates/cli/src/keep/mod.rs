//! Keeping the studio: backup and restore, storage, reading an export back, erasing a player. The same from the
//! command line and from the page "Studio" ([`page`]).

mod page;

pub use page::Keeper;

use crate::export;
use crate::kept::Kept;
use crate::progress::Stage;
use crate::surroundings::Surroundings;
use anyhow::{Context, Result, bail, ensure};
use clap::Args;
use jiff::Timestamp;
use lessonwright_language::{Say, Text, t};
use lessonwright_model::Cancel;
use lessonwright_store::{Brought, Player, Storage, Store, restore};
use lessonwright_web::keeping::size;
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use tokio::runtime::Runtime;

#[derive(Args)]
pub struct BackupArguments {
    /// The file to write, best on another disk (ZIP)
    #[arg(value_name = "FILE")]
    pub to: PathBuf,
}

#[derive(Args)]
pub struct RestoreArguments {
    /// A file that `backup` wrote
    #[arg(value_name = "FILE")]
    pub from: PathBuf,
    /// Replace the studio that is there; it is moved aside, not removed
    #[arg(long)]
    pub replace: bool,
}

#[derive(Args)]
pub struct StorageArguments {
    /// Remove what can be made again: pictures for looking frame by frame, and what the networks saw
    #[arg(long)]
    pub clear: bool,
}

#[derive(Args)]
pub struct ImportArguments {
    /// A folder that `export` wrote, here or in another studio
    #[arg(value_name = "FOLDER")]
    pub from: PathBuf,
}

#[derive(Args)]
pub struct EraseArguments {
    /// The player's name
    pub player: String,
    /// First write everything that is kept of the player into this folder, for the player
    #[arg(
        long,
        value_name = "FOLDER",
        required_unless_present = "without_export"
    )]
    pub export: Option<PathBuf>,
    /// Erase without an export
    #[arg(long, conflicts_with = "export")]
    pub without_export: bool,
    /// The player's name once more: yes, erase
    #[arg(long, value_name = "NAME")]
    pub confirm: Option<String>,
}

/// `backup`: the studio as one file, also while its pages are open.
pub fn backup(around: &Surroundings, what: &BackupArguments, runtime: &Runtime) -> Result<()> {
    let bar = Arc::new(Stage::alone("backing up"));
    let done = runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let report = move |share| bar.report(share);
        store
            .back_up(
                &what.to,
                env!("CARGO_PKG_VERSION"),
                Timestamp::now(),
                report,
            )
            .await
    })?;
    println!(
        "{}: {} files, {}, written and read again",
        what.to.display(),
        done.files,
        english(&size(done.bytes))
    );
    for lost in &done.missing {
        println!("  not in it, since it is gone from the disk: {lost}");
    }
    Ok(())
}

/// `restore`.
pub fn restore_from(
    around: &Surroundings,
    what: &RestoreArguments,
    runtime: &Runtime,
) -> Result<()> {
    let bar = Stage::alone("restoring");
    let replace = what.replace.then(Timestamp::now);
    fs::create_dir_all(&around.studio)
        .with_context(|| format!("making {}", around.studio.display()))?;
    let done = runtime.block_on(restore(&what.from, &around.studio, replace, move |share| {
        bar.report(share)
    }))?;
    // Tables of an earlier version are brought up to date.
    runtime.block_on(Store::open(&around.studio))?;
    println!(
        "The studio as it was on {}: {} files, now in {}",
        done.made_at,
        done.files,
        around.studio.display()
    );
    if let Some(before) = done.before {
        println!(
            "What was there before lies in {}; remove that folder when you no longer need it",
            before.display()
        );
    }
    Ok(())
}

/// `storage`: what lies on the disk.
pub fn storage(around: &Surroundings, what: &StorageArguments, runtime: &Runtime) -> Result<()> {
    let text = runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let mut text = told(&store.storage().await?);
        if what.clear {
            let freed = store.clear_pictures().await? + store.clear_landmarks().await?;
            let _ = writeln!(text, "{} cleared", english(&size(freed)));
        }
        Ok::<_, anyhow::Error>(text)
    })?;
    print!("{text}");
    Ok(())
}

fn told(storage: &Storage) -> String {
    let mut text = String::new();
    for player in &storage.players {
        let _ = writeln!(
            text,
            "{}: {}; clips {}, films {}, papers {}, pages {}, pictures {}",
            player.name,
            counted(player.swings, "swing"),
            english(&size(player.clips_bytes)),
            english(&size(player.films_bytes)),
            english(&size(player.papers_bytes)),
            english(&size(player.pages_bytes)),
            english(&size(player.pictures_bytes))
        );
    }
    let _ = writeln!(
        text,
        "The database {}, what the networks saw {}; all together {}, of which {} can be made again (--clear)",
        english(&size(storage.database_bytes)),
        english(&size(storage.landmarks_bytes)),
        english(&size(storage.bytes())),
        english(&size(storage.again_bytes()))
    );
    text
}

/// `import`: what `export` wrote, back in.
pub fn import(around: &Surroundings, what: &ImportArguments, runtime: &Runtime) -> Result<()> {
    let brought = runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        store
            .bring_records(&what.from)
            .await
            .map_err(anyhow::Error::from)
    })?;
    let own = export::own_files_in(&what.from, &around.studio)?;
    print!("{}", told_of(&brought));
    for name in own {
        println!("{name}: as in the export, since there was none here");
    }
    Ok(())
}

fn told_of(brought: &Brought) -> String {
    let mut text = String::new();
    for player in &brought.players {
        let how = match (player.new, player.name == player.called) {
            (false, _) => "was here already; what is here stays",
            (true, true) => "is new",
            (true, false) => "is new, under this name because somebody else has the other",
        };
        let _ = writeln!(text, "{} {how}", player.name);
    }
    let count = |rows: &std::collections::BTreeMap<String, usize>, table: &str| {
        rows.get(table).copied().unwrap_or_default()
    };
    for (table, what) in [
        ("swings", "swings"),
        ("clips", "clips"),
        ("analyses", "analyses"),
        ("lessons", "lessons"),
    ] {
        let (new, there) = (count(&brought.added, table), count(&brought.there, table));
        let _ = writeln!(text, "{new} {what} added, {there} were here already");
    }
    text
}

/// `erase`: a player and everything of them, after an export and with the name typed twice.
pub fn erase(
    around: &Surroundings,
    what: &EraseArguments,
    runtime: &Runtime,
    cancel: &Cancel,
) -> Result<()> {
    runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let player = store.player_named(&what.player).await?;
        let player =
            player.with_context(|| format!("there is no player called \"{}\"", what.player))?;
        let said = english(&erased_words(&store, &player).await?);
        if what.confirm.as_deref().map(str::trim) != Some(player.facts.name.as_str()) {
            bail!(
                "this would erase for good: {said}. If that is meant, add --confirm \"{}\"",
                player.facts.name
            );
        }
        if let Some(folder) = &what.export {
            export::write_out(
                around,
                &store,
                std::slice::from_ref(&player),
                folder,
                cancel,
            )
            .await?;
            println!(
                "Everything kept of {} is written to {}",
                player.facts.name,
                folder.display()
            );
        }
        println!(
            "Erased: {}. Backups and exports made before still hold it.",
            english(&erase_player(around, &store, &player).await?)
        );
        Ok(())
    })
}

/// Erases a player, and what the networks saw of them; says what that was.
pub async fn erase_player(around: &Surroundings, store: &Store, player: &Player) -> Result<Text> {
    let said = erased_words(store, player).await?;
    let kept = Kept::in_folder(&around.studio);
    for swing in store.swings_of(player.id).await? {
        let brief = store.brief(swing.id).await?.unwrap_or_default();
        for clip in store.clips_of(swing.id).await? {
            kept.forget(&clip.sha256, &brief)?;
        }
    }
    store.erase_player(player.id).await?;
    ensure!(
        store.player(player.id).await?.is_none(),
        "{} is still there",
        player.facts.name
    );
    Ok(said)
}

/// "Tom Hallam with 3 swings (6 clips, 12.3 MB), 2 lessons and all answers".
pub async fn erased_words(store: &Store, player: &Player) -> Result<Text> {
    let storage = store.storage().await?;
    let bytes = storage
        .players
        .iter()
        .find(|one| one.id == player.id.0)
        .map_or(0, |one| one.files_bytes());
    let mut clips = 0;
    let swings = store.swings_of(player.id).await?;
    for swing in &swings {
        clips += store.clips_of(swing.id).await?.len();
    }
    let lessons = store.lessons_of_player(player.id).await?.len();
    Ok(t("keeping-erased-what")
        .with("name", &player.facts.name)
        .with("swings", t("keeping-count-swings").with("n", swings.len()))
        .with("clips", t("keeping-count-clips").with("n", clips))
        .with("lessons", t("keeping-count-lessons").with("n", lessons))
        .with("size", size(bytes)))
}

/// The command line speaks English.
fn english(text: &Text) -> String {
    Say::default().text(text)
}

fn counted(count: usize, what: &str) -> String {
    match count {
        1 => format!("1 {what}"),
        _ => format!("{count} {what}s"),
    }
}

/// A name for a file or folder: letters and digits of the player's name.
pub fn file_name(player: &str) -> String {
    let plain = player.chars().map(|c| {
        if c.is_alphanumeric() {
            c.to_ascii_lowercase()
        } else {
            '-'
        }
    });
    let name: String = plain.collect();
    name.trim_matches('-').to_owned()
}

/// A folder packed into one file, its parts as they are.
pub fn pack(folder: &Path, to: &Path) -> Result<()> {
    let file = fs::File::create(to).with_context(|| format!("writing {}", to.display()))?;
    let mut zip = zip::ZipWriter::new(std::io::BufWriter::new(file));
    let mut waiting = vec![folder.to_path_buf()];
    let mut files = Vec::new();
    while let Some(next) = waiting.pop() {
        for entry in fs::read_dir(&next)? {
            let path = entry?.path();
            if path.is_dir() {
                waiting.push(path)
            } else {
                files.push(path)
            }
        }
    }
    files.sort();
    for path in files {
        let parts = path
            .strip_prefix(folder)?
            .iter()
            .map(|part| part.to_string_lossy());
        let as_it_is = zip::write::SimpleFileOptions::default()
            .compression_method(zip::CompressionMethod::Stored)
            // Only where it must be: not every program reads the larger form.
            .large_file(path.metadata()?.len() >= u64::from(u32::MAX));
        zip.start_file(parts.collect::<Vec<_>>().join("/"), as_it_is)?;
        std::io::copy(&mut fs::File::open(&path)?, &mut zip)?;
    }
    zip.finish()?;
    Ok(())
}
