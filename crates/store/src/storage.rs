//! What lies on the disk: by player and by kind, and what of it is made again when it is gone.

use crate::error::{StoreError, during};
use crate::frames::FOLDER as FRAMES;
use crate::media::{self, failed};
use crate::rows::PlayerId;
use crate::store::{DATABASE, Store};
use sqlx::Row;
use std::fs;
use std::path::Path;

/// Where what the networks saw is kept, in the studio's folder; made again by looking at the clips.
pub const LANDMARKS_FOLDER: &str = "landmarks";

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
        let mut storage = Storage {
            landmarks_bytes: folder_bytes(&self.folder().join(LANDMARKS_FOLDER))?,
            ..Storage::default()
        };
        for ending in ["", "-wal", "-shm"] {
            let file = self.folder().join(format!("{DATABASE}{ending}"));
            storage.database_bytes += fs::metadata(file).map_or(0, |about| about.len());
        }
        for player in self.players().await? {
            storage
                .players
                .push(self.storage_of(player.id, player.facts.name).await?);
        }
        Ok(storage)
    }

    async fn storage_of(&self, id: PlayerId, name: String) -> Result<PlayerStorage, StoreError> {
        let failed = || during("sum up what is kept");
        let mut player = PlayerStorage {
            id: id.0,
            name,
            ..PlayerStorage::default()
        };
        let pages: i64 = sqlx::query_scalar(
            "SELECT coalesce(sum(length(page)), 0) FROM lessons
             JOIN analyses ON analyses.id = analysis_id JOIN swings ON swings.id = swing_id
             WHERE player_id = ?",
        )
        .bind(id.0)
        .fetch_one(&self.pool)
        .await
        .map_err(failed())?;
        player.pages_bytes = pages.unsigned_abs();
        for swing in self.swings_of(id).await? {
            player.swings += 1;
            let rows = sqlx::query(
                "SELECT path, 'clip' AS kind FROM clips WHERE swing_id = ?1
                 UNION ALL
                 SELECT path, kind FROM lesson_files JOIN lessons ON lessons.id = lesson_id
                 JOIN analyses ON analyses.id = analysis_id WHERE swing_id = ?1",
            )
            .bind(swing.id.0)
            .fetch_all(&self.pool)
            .await
            .map_err(failed())?;
            let kind = |name: &str| {
                let row = rows.iter().find(|row| row.get::<&str, _>("path") == name);
                row.map(|row| row.get::<String, _>("kind"))
            };
            let folder = self.media_folder(swing.id);
            for name in media::files_in(folder.clone()).await? {
                let bytes = fs::metadata(folder.join(&name)).map_or(0, |about| about.len());
                match kind(&name).as_deref() {
                    Some("clip") => player.clips_bytes += bytes,
                    Some("film") => player.films_bytes += bytes,
                    _ => player.papers_bytes += bytes,
                }
            }
            player.pictures_bytes += folder_bytes(&folder.join(FRAMES))?;
        }
        Ok(player)
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
