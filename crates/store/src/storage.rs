//! What lies on the disk: by player and by kind, and what of it is made again when it is gone.

use crate::error::{StoreError, during};
use crate::frames::FOLDER as FRAMES;
use crate::media::{self, failed};
use crate::store::{DATABASE, Store};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// Where what the networks saw is kept, in the studio's folder; made again by looking at the clips.
pub const LANDMARKS_FOLDER: &str = "landmarks";

/// What each file of a swing is, by name.
type Kinds = BTreeMap<String, String>;

/// Bytes on the disk.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Storage {
    /// Each player, by name.
    pub players: Vec<PlayerStorage>,
    /// The database, lesson pages included.
    pub database_bytes: u64,
    /// What the networks saw. Can be made again, in about a minute a swing.
    pub landmarks_bytes: u64,
}

/// Bytes of one player.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlayerStorage {
    /// Key.
    pub id: i64,
    /// Name.
    pub name: String,
    /// Swings.
    pub swings: usize,
    /// Clips as they came.
    pub clips_bytes: u64,
    /// Lesson pages, in the database.
    pub pages_bytes: u64,
    /// Lessons on paper and everything else that belongs to a swing.
    pub papers_bytes: u64,
    /// Films of lessons.
    pub films_bytes: u64,
    /// Pictures for looking frame by frame. Can be made again, in seconds.
    pub pictures_bytes: u64,
}

impl PlayerStorage {
    /// All files; pages are in the database.
    pub fn files_bytes(&self) -> u64 {
        self.clips_bytes + self.papers_bytes + self.films_bytes + self.pictures_bytes
    }

    /// Adds what lies in a swing's folder.
    fn add_folder(&mut self, folder: &Path, kinds: Option<&Kinds>) -> Result<(), StoreError> {
        for entry in media::entries(folder)? {
            let about = entry.metadata().map_err(failed("read", folder))?;
            let name = entry.file_name();
            let name = name.to_string_lossy();
            if about.is_dir() {
                if name == FRAMES {
                    self.pictures_bytes += folder_bytes(&entry.path())?;
                }
                continue;
            }
            if name.ends_with(".part") {
                continue;
            }
            let kind = kinds.and_then(|kinds| kinds.get(&*name));
            match kind.map(String::as_str) {
                Some("clip") => self.clips_bytes += about.len(),
                Some("film") => self.films_bytes += about.len(),
                _ => self.papers_bytes += about.len(),
            }
        }
        Ok(())
    }
}

impl Storage {
    /// All together.
    pub fn bytes(&self) -> u64 {
        let files: u64 = self.players.iter().map(PlayerStorage::files_bytes).sum();
        files + self.database_bytes + self.landmarks_bytes
    }

    /// What can be cleared.
    pub fn again_bytes(&self) -> u64 {
        self.pictures_bytes() + self.landmarks_bytes
    }

    /// Pictures of all players.
    pub fn pictures_bytes(&self) -> u64 {
        self.players
            .iter()
            .map(|player| player.pictures_bytes)
            .sum()
    }
}

impl Store {
    /// What lies on the disk.
    ///
    /// # Errors
    /// If the database or a folder can't be read.
    pub async fn storage(&self) -> Result<Storage, StoreError> {
        let mut storage = Storage::default();
        for ending in ["", "-wal", "-shm"] {
            let file = self.folder().join(format!("{DATABASE}{ending}"));
            storage.database_bytes += fs::metadata(file).map_or(0, |about| about.len());
        }
        let pages = self.pages_by_player().await?;
        let mut rows = BTreeMap::new();
        for player in self.players().await? {
            let row = PlayerStorage {
                id: player.id.0,
                name: player.facts.name,
                pages_bytes: pages.get(&player.id.0).copied().unwrap_or(0),
                ..PlayerStorage::default()
            };
            rows.insert(row.id, storage.players.len());
            storage.players.push(row);
        }
        let kinds = self.kinds_of_files().await?;
        let swings: Vec<(i64, i64)> = sqlx::query_as("SELECT id, player_id FROM swings")
            .fetch_all(&self.pool)
            .await
            .map_err(during("sum up what is kept"))?;
        for (_, player) in &swings {
            if let Some(row) = rows.get(player) {
                storage.players[*row].swings += 1;
            }
        }
        let owners: BTreeMap<i64, i64> = swings.into_iter().collect();
        let (media, landmarks) = (self.media_root(), self.folder().join(LANDMARKS_FOLDER));
        media::blocking(move || {
            storage.landmarks_bytes = folder_bytes(&landmarks)?;
            for entry in media::entries(&media)? {
                let swing = entry
                    .file_name()
                    .to_str()
                    .and_then(|name| name.parse().ok());
                let owner = swing.and_then(|swing: i64| owners.get(&swing));
                if let (Some(swing), Some(row)) = (swing, owner.and_then(|owner| rows.get(owner))) {
                    let kinds = kinds.get(&swing);
                    storage.players[*row].add_folder(&entry.path(), kinds)?;
                }
            }
            Ok(storage)
        })
        .await
    }

    /// Bytes of lesson pages by player.
    async fn pages_by_player(&self) -> Result<BTreeMap<i64, u64>, StoreError> {
        let rows: Vec<(i64, i64)> = sqlx::query_as(
            "SELECT player_id, sum(length(page)) FROM lessons
             JOIN analyses ON analyses.id = analysis_id JOIN swings ON swings.id = swing_id
             GROUP BY player_id",
        )
        .fetch_all(&self.pool)
        .await
        .map_err(during("sum up what is kept"))?;
        let unsigned = |(player, bytes): (i64, i64)| (player, bytes.unsigned_abs());
        Ok(rows.into_iter().map(unsigned).collect())
    }

    /// Of each swing what its files are, by name.
    async fn kinds_of_files(&self) -> Result<BTreeMap<i64, Kinds>, StoreError> {
        let rows: Vec<(i64, String, String)> = sqlx::query_as(
            "SELECT swing_id, path, 'clip' FROM clips
             UNION ALL
             SELECT swing_id, path, kind FROM lesson_files JOIN lessons ON lessons.id = lesson_id
             JOIN analyses ON analyses.id = analysis_id",
        )
        .fetch_all(&self.pool)
        .await
        .map_err(during("sum up what is kept"))?;
        let mut kinds: BTreeMap<i64, Kinds> = BTreeMap::new();
        for (swing, path, kind) in rows {
            kinds.entry(swing).or_default().entry(path).or_insert(kind);
        }
        Ok(kinds)
    }

    /// Removes the pictures of all swings; they are made again when a swing is looked at. Gives back the bytes that are
    /// free now.
    ///
    /// # Errors
    /// If a file can't be removed.
    pub async fn clear_pictures(&self) -> Result<u64, StoreError> {
        let before = self.storage().await?.pictures_bytes();
        for player in self.players().await? {
            for swing in self.swings_of(player.id).await? {
                media::remove_folder(&self.frames_folder(swing.id)).await?;
            }
        }
        Ok(before - self.storage().await?.pictures_bytes())
    }

    /// Removes what the networks saw; it is made again when a swing is analysed again. Gives back the bytes that are
    /// free now.
    ///
    /// # Errors
    /// If a file can't be removed.
    pub async fn clear_landmarks(&self) -> Result<u64, StoreError> {
        let folder = self.folder().join(LANDMARKS_FOLDER);
        let bytes = folder_bytes(&folder)?;
        media::remove_folder(&folder).await?;
        Ok(bytes)
    }
}

/// All files below a folder; none where there is no folder.
fn folder_bytes(folder: &Path) -> Result<u64, StoreError> {
    let mut bytes = 0;
    for entry in media::entries(folder)? {
        let about = entry.metadata().map_err(failed("read", folder))?;
        bytes += match about.is_dir() {
            true => folder_bytes(&entry.path())?,
            false => about.len(),
        };
    }
    Ok(bytes)
}
