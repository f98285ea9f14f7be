//! Swings.

use crate::error::{StoreError, during};
use crate::players::{check_film_allowed, timestamp};
use crate::rows::{PlayerId, Swing, SwingId};
use crate::store::Store;
use jiff::Timestamp;
use sqlx::Row;
use sqlx::sqlite::SqliteRow;

impl Store {
    /// Adds a swing of a player.
    ///
    /// # Errors
    /// If there is no such player, or the player is a minor without a guardian's consent on record.
    pub async fn add_swing(
        &self,
        player: PlayerId,
        filmed_at: Option<Timestamp>,
        added_at: Timestamp,
    ) -> Result<SwingId, StoreError> {
        let failed = || during("add a swing");
        // Takes the write lock at once, so that what was checked stays true until the commit.
        let mut change = self
            .pool
            .begin_with("BEGIN IMMEDIATE")
            .await
            .map_err(failed())?;
        check_film_allowed(&mut *change, player).await?;
        let done =
            sqlx::query("INSERT INTO swings (player_id, filmed_at, added_at) VALUES (?, ?, ?)")
                .bind(player.0)
                .bind(filmed_at.map(|at| at.to_string()))
                .bind(added_at.to_string())
                .execute(&mut *change)
                .await
                .map_err(failed())?;
        change.commit().await.map_err(failed())?;
        Ok(SwingId(done.last_insert_rowid()))
    }

    /// Notes that a swing was looked at and needs no lesson; none takes that back.
    ///
    /// # Errors
    /// If there is no such swing.
    pub async fn set_aside(&self, id: SwingId, at: Option<Timestamp>) -> Result<(), StoreError> {
        let done = sqlx::query("UPDATE swings SET set_aside_at = ? WHERE id = ?")
            .bind(at.map(|at| at.to_string()))
            .bind(id.0)
            .execute(&self.pool)
            .await
            .map_err(during("set a swing aside"))?;
        match done.rows_affected() {
            0 => Err(StoreError::NoSwing(id)),
            _ => Ok(()),
        }
    }

    /// One swing.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn swing(&self, id: SwingId) -> Result<Option<Swing>, StoreError> {
        sqlx::query("SELECT * FROM swings WHERE id = ?")
            .bind(id.0)
            .fetch_optional(&self.pool)
            .await
            .map_err(during("look for a swing"))?
            .map(|row| from_row(&row))
            .transpose()
    }

    /// A player's swings, latest added first.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn swings_of(&self, player: PlayerId) -> Result<Vec<Swing>, StoreError> {
        sqlx::query("SELECT * FROM swings WHERE player_id = ? ORDER BY id DESC")
            .bind(player.0)
            .fetch_all(&self.pool)
            .await
            .map_err(during("list a player's swings"))?
            .iter()
            .map(from_row)
            .collect()
    }
}

fn from_row(row: &SqliteRow) -> Result<Swing, StoreError> {
    let id: i64 = row.get("id");
    let what = || format!("swing {id}");
    Ok(Swing {
        id: SwingId(id),
        player: PlayerId(row.get("player_id")),
        club: row.get("club"),
        model_since: row
            .get::<Option<String>, _>("model_since")
            .map(|text| timestamp(&text, what()))
            .transpose()?,
        set_aside_at: row
            .get::<Option<String>, _>("set_aside_at")
            .map(|text| timestamp(&text, what()))
            .transpose()?,
        filmed_at: row
            .get::<Option<String>, _>("filmed_at")
            .map(|text| timestamp(&text, what()))
            .transpose()?,
        added_at: timestamp(row.get("added_at"), what())?,
    })
}
