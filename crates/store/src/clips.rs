//! Clips: the copy on disk and what is known of it.

use crate::error::{StoreError, during};
use crate::media;
use crate::players::check_film_allowed;
use crate::rows::{Clip, ClipId, NewClip, PlayerId, SwingId};
use crate::store::Store;
use lessonwright_model::View;
use sqlx::sqlite::SqliteRow;
use sqlx::{Row, Sqlite, Transaction};
use std::path::Path;

impl Store {
    /// Copies a clip into the store. The copy is whole or not there: it is written beside its
    /// place, synced and renamed. The file given stays where it is.
    ///
    /// # Errors
    /// If there is no such swing, it has a clip of this view, the player is a minor without a
    /// guardian's consent on record, or the file can't be copied.
    pub async fn add_clip(&self, swing: SwingId, clip: &NewClip) -> Result<Clip, StoreError> {
        // Before a byte is copied; what `keep` sees is what counts.
        let player = self
            .swing(swing)
            .await?
            .ok_or(StoreError::NoSwing(swing))?
            .player;
        check_film_allowed(&self.pool, player).await?;
        let name = format!("{}.{}", column(clip.view), media::extension(&clip.file));
        let part = media::copy(clip.file.clone(), self.media_folder(swing).join(&name)).await?;
        let sha256 = part.sha256.clone();
        let mut change = begin(self).await?;
        match keep(&mut change, swing, clip, &name, &sha256).await {
            Ok(id) => {
                let path = part.settle().await?;
                change.commit().await.map_err(during("add a clip"))?;
                Ok(Clip {
                    id,
                    swing,
                    view: clip.view,
                    path,
                    facts: clip.facts.clone(),
                    sha256,
                })
            }
            Err(error) => {
                part.discard().await?;
                Err(error)
            }
        }
    }

    /// A swing's clips, face-on first.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn clips_of(&self, swing: SwingId) -> Result<Vec<Clip>, StoreError> {
        sqlx::query("SELECT * FROM clips WHERE swing_id = ? ORDER BY view DESC")
            .bind(swing.0)
            .fetch_all(&self.pool)
            .await
            .map_err(during("list a swing's clips"))?
            .iter()
            .map(|row| from_row(row, &self.media_folder(swing)))
            .collect()
    }
}

/// Takes the write lock at once, so that what is checked stays true until the commit.
async fn begin(store: &Store) -> Result<Transaction<'_, Sqlite>, StoreError> {
    store
        .pool
        .begin_with("BEGIN IMMEDIATE")
        .await
        .map_err(during("add a clip"))
}

async fn keep(
    change: &mut Transaction<'_, Sqlite>,
    swing: SwingId,
    clip: &NewClip,
    name: &str,
    sha256: &str,
) -> Result<ClipId, StoreError> {
    let player = sqlx::query_scalar("SELECT player_id FROM swings WHERE id = ?")
        .bind(swing.0)
        .fetch_optional(&mut **change)
        .await
        .map_err(during("look for a swing"))?
        .ok_or(StoreError::NoSwing(swing))?;
    check_film_allowed(&mut **change, PlayerId(player)).await?;
    let facts = serde_json::to_string(&clip.facts).map_err(|source| StoreError::Unreadable {
        what: format!("the facts of {}", clip.facts.name),
        source: source.into(),
    })?;
    let done = sqlx::query(
        "INSERT INTO clips (swing_id, view, path, facts, sha256) VALUES (?, ?, ?, ?, ?)",
    )
    .bind(swing.0)
    .bind(column(clip.view))
    .bind(name)
    .bind(facts)
    .bind(sha256)
    .execute(&mut **change)
    .await
    .map_err(|source| match &source {
        sqlx::Error::Database(error) if error.is_unique_violation() => StoreError::ClipThere {
            swing,
            view: clip.view,
        },
        _ => during("add a clip")(source),
    })?;
    Ok(ClipId(done.last_insert_rowid()))
}

fn column(view: View) -> &'static str {
    match view {
        View::FaceOn => "face_on",
        View::DownTheLine => "down_the_line",
    }
}

fn from_row(row: &SqliteRow, folder: &Path) -> Result<Clip, StoreError> {
    let id: i64 = row.get("id");
    let facts =
        serde_json::from_str(row.get("facts")).map_err(|source| StoreError::Unreadable {
            what: format!("clip {id}"),
            source: source.into(),
        })?;
    Ok(Clip {
        id: ClipId(id),
        swing: SwingId(row.get("swing_id")),
        view: match row.get("view") {
            "face_on" => View::FaceOn,
            _ => View::DownTheLine,
        },
        path: folder.join(row.get::<String, _>("path")),
        facts,
        sha256: row.get("sha256"),
    })
}
