//! What players sent by their personal links: answers until the professional has read them, and clips still in the tray.

use crate::arrivals::Arrival;
use crate::error::{StoreError, during};
use crate::players::timestamp;
use crate::rows::{PlayerId, SwingId};
use crate::store::Store;
use crate::taken_in::TakenIn;
use sqlx::Row;

/// Answers that nobody read yet.
#[derive(Clone, Debug, PartialEq)]
pub struct Unread {
    /// Whose.
    pub player: PlayerId,
    /// The player's name.
    pub name: String,
    /// What was answered.
    pub taken: TakenIn,
}

impl Store {
    /// Puts answers on record, to be read. False if they are there already.
    ///
    /// # Errors
    /// If there is no such player.
    pub async fn keep_answers_to_read(
        &self,
        player: PlayerId,
        taken: &TakenIn,
    ) -> Result<bool, StoreError> {
        if !self.keep_taken_in(player, taken).await? {
            return Ok(false);
        }
        sqlx::query(
            "INSERT INTO unread_answers (taken_in_id) SELECT id FROM taken_in WHERE player_id = ? AND sha256 = ?",
        )
        .bind(player.0)
        .bind(&taken.sha256)
        .execute(&self.pool)
        .await
        .map_err(during("note that answers are to be read"))?;
        Ok(true)
    }

    /// Answers that nobody read yet, of all players, oldest first.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn unread_answers(&self) -> Result<Vec<Unread>, StoreError> {
        let rows = sqlx::query(
            "SELECT player_id, name, sha256, answers, taken_at FROM unread_answers
             JOIN taken_in ON taken_in.id = taken_in_id JOIN players ON players.id = player_id
             ORDER BY taken_in_id",
        )
        .fetch_all(&self.pool)
        .await
        .map_err(during("list answers to be read"))?;
        let unread = |row: &sqlx::sqlite::SqliteRow| {
            Ok(Unread {
                player: PlayerId(row.get("player_id")),
                name: row.get("name"),
                taken: TakenIn {
                    sha256: row.get("sha256"),
                    answers: row.get("answers"),
                    taken_at: timestamp(row.get("taken_at"), "answers".into())?,
                },
            })
        };
        rows.iter().map(unread).collect()
    }

    /// Notes that the professional read a player's answers.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn note_answers_read(&self, player: PlayerId) -> Result<(), StoreError> {
        sqlx::query(
            "DELETE FROM unread_answers
             WHERE taken_in_id IN (SELECT id FROM taken_in WHERE player_id = ?)",
        )
        .bind(player.0)
        .execute(&self.pool)
        .await
        .map_err(during("note that answers were read"))?;
        Ok(())
    }

    /// Clips that came by personal links, of all players, and are still in the tray; oldest first.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn arrivals_by_personal_link(&self) -> Result<Vec<Arrival>, StoreError> {
        let ids: Vec<i64> =
            sqlx::query_scalar("SELECT id FROM phone_links WHERE kind = 'personal'")
                .fetch_all(&self.pool)
                .await
                .map_err(during("list personal links"))?;
        let mut arrivals = self.arrivals().await?;
        arrivals.retain(|arrival| arrival.link.is_some_and(|link| ids.contains(&link.0)));
        Ok(arrivals)
    }

    /// A player's swings that were sent from afar.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn sent_in_by(&self, player: PlayerId) -> Result<Vec<SwingId>, StoreError> {
        let ids: Vec<i64> = sqlx::query_scalar(
            "SELECT swing_id FROM sent_in JOIN swings ON swings.id = swing_id WHERE player_id = ? ORDER BY swing_id",
        )
        .bind(player.0)
        .fetch_all(&self.pool)
        .await
        .map_err(during("list what a player sent in"))?;
        Ok(ids.into_iter().map(SwingId).collect())
    }
}
