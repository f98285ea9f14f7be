//! A watched folder: files that have stopped growing are copied into the tray, each once. Nothing in the folder is ever
//! changed or removed. In a folder inside it that is named as a player, they are that player's.

use super::Workshop;
use crate::kept::sha256_of;
use anyhow::{Context, Result};
use jiff::Timestamp;
use lessonwright_store::{CameBy, NewArrival};
use std::collections::HashMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

/// Looked at so often: the system's own notices miss folders that other machines write to.
const LOOK_EVERY: Duration = Duration::from_secs(2);

/// Files that are taken for clips, by the end of their names.
const ENDS: [&str; 5] = ["mp4", "mov", "m4v", "webm", "mkv"];

/// A file's length and time, as they were when last looked at.
type Size = (u64, SystemTime);

/// What was seen of the files so far.
#[derive(Default)]
struct Seen {
    sizes: HashMap<PathBuf, Size>,
    /// Taken or known in this very state.
    settled: HashMap<PathBuf, Size>,
}

impl Workshop {
    pub(super) async fn watch_folder(self, folder: PathBuf) {
        let mut seen = Seen::default();
        while !self.closing.is_cancelled() {
            if let Err(error) = self.look_into(&folder, &mut seen).await {
                tracing::error!("the watched folder could not be read: {error:#}");
            }
            tokio::time::sleep(LOOK_EVERY).await;
        }
    }

    async fn look_into(&self, folder: &Path, seen: &mut Seen) -> Result<()> {
        let looking = folder.to_path_buf();
        let found = tokio::task::spawn_blocking(move || clips_in(&looking)).await??;
        for (path, size) in found {
            let before = seen.sizes.insert(path.clone(), size);
            let is_still = before == Some(size) && size.0 > 0;
            if !is_still || seen.settled.get(&path) == Some(&size) {
                continue;
            }
            if let Err(error) = self.take(folder, &path).await {
                // It is tried again when it changes.
                tracing::error!("{} was not taken: {error:#}", path.display());
            }
            seen.settled.insert(path, size);
        }
        Ok(())
    }

    async fn take(&self, folder: &Path, path: &Path) -> Result<()> {
        let file = path.to_path_buf();
        let sha256 = tokio::task::spawn_blocking(move || sha256_of(&file)).await??;
        if self.store.was_taken(&sha256).await? {
            return Ok(());
        }
        let inside = path.parent().filter(|parent| *parent != folder);
        let name = inside.and_then(|parent| Some(parent.file_name()?.to_string_lossy()));
        let player = match name {
            Some(name) => self
                .store
                .player_named(&name)
                .await?
                .map(|player| player.id),
            None => None,
        };
        let file_name = path.file_name().context("a file has a name")?;
        let new = NewArrival {
            player,
            link: None,
            name: file_name.to_string_lossy().into_owned(),
            came_by: CameBy::Folder,
            view: None,
        };
        let now = Timestamp::now();
        self.store.add_arrival(path, &new, now).await?;
        self.store.note_taken(&sha256, now).await?;
        self.intake.ring();
        Ok(())
    }
}

/// The clips in a folder and in the folders inside it, sorted.
fn clips_in(folder: &Path) -> Result<Vec<(PathBuf, Size)>> {
    let reading = || format!("reading {}", folder.display());
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).with_context(reading)? {
        let path = entry.with_context(reading)?.path();
        // A folder that can't be read may be another program's.
        match fs::read_dir(&path) {
            Ok(inside) => inside
                .filter_map(|entry| Some(entry.ok()?.path()))
                .for_each(|path| add(path, &mut found)),
            Err(_) => add(path, &mut found),
        }
    }
    found.sort();
    Ok(found)
}

fn add(path: PathBuf, found: &mut Vec<(PathBuf, Size)>) {
    let is_clip = path.extension().is_some_and(|end| {
        let end = end.to_string_lossy().to_ascii_lowercase();
        ENDS.contains(&end.as_str())
    });
    let hidden = path
        .file_name()
        .is_some_and(|name| name.to_string_lossy().starts_with('.'));
    let Ok(meta) = fs::metadata(&path) else {
        return;
    };
    if is_clip && !hidden && meta.is_file() {
        let changed = meta.modified().unwrap_or(SystemTime::UNIX_EPOCH);
        found.push((path, (meta.len(), changed)));
    }
}
