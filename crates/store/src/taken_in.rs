//! What players sent back: each bundle once, with its answers as they came; and the code by which a bundle names its
//! player.

use crate::error::{StoreError, during};
use crate::media::hex;
use crate::players::timestamp;
use crate::rows::{Player, PlayerId, SwingId};
use crate::store::Store;
use jiff::Timestamp;
use sha2::{Digest, Sha256};
use sqlx::Row;

/// A bundle on record.
#[derive(Clone, Debug, PartialEq)]
pub struct TakenIn {
    /// SHA-256 of the bundle, 64 hexadecimal digits.
    pub sha256: String,
    /// What was answered, JSON as it came.
    pub answers: String,
    /// When it was taken in.
    pub taken_at: Timestamp,
}

impl Player {
    /// By which a bundle names its player: twelve hexadecimal digits that stay the same in another studio. It is an
    /// address, no secret.
    pub fn code(&self) -> String {
        let what = format!("lessonwright player {}", self.added_at);
        hex(&Sha256::digest(what)[..6])
    }
}

impl Store {
    /// The player of a code; none if nobody has it, nor if two have it: nobody's film goes to another.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn player_of_code(&self, code: &str) -> Result<Option<Player>, StoreError> {
        let players = self.players().await?;
        let mut having = players.into_iter().filter(|player| player.code() == code);
        Ok(having.next().filter(|_| having.next().is_none()))
    }

    /// Puts a bundle on record. False if it is there already.
    ///
    /// # Errors
    /// If there is no such player.
    pub async fn keep_taken_in(
        &self,
        player: PlayerId,
        taken: &TakenIn,
    ) -> Result<bool, StoreError> {
        self.player(player)
            .await?
            .ok_or(StoreError::NoPlayer(player))?;
        let done = sqlx::query(
            "INSERT INTO taken_in (player_id, sha256, answers, taken_at) VALUES (?, ?, ?, ?)
             ON CONFLICT DO NOTHING",
        )
        .bind(player.0)
        .bind(&taken.sha256)
        .bind(&taken.answers)
        .bind(taken.taken_at.to_string())
        .execute(&self.pool)
        .await
        .map_err(during("put a bundle on record"))?;
        Ok(done.rows_affected() == 1)
    }

    /// Notes that a swing was sent from afar.
    ///
    /// # Errors
    /// If there is no such swing.
    pub async fn note_sent_in(&self, swing: SwingId) -> Result<(), StoreError> {
        sqlx::query("INSERT INTO sent_in (swing_id) VALUES (?) ON CONFLICT DO NOTHING")
            .bind(swing.0)
            .execute(&self.pool)
            .await
            .map_err(during("note that a swing was sent in"))?;
        Ok(())
    }

    /// A player's bundles, latest first.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn taken_in_of(&self, player: PlayerId) -> Result<Vec<TakenIn>, StoreError> {
        let rows = sqlx::query("SELECT * FROM taken_in WHERE player_id = ? ORDER BY id DESC")
            .bind(player.0)
            .fetch_all(&self.pool)
            .await
            .map_err(during("list bundles"))?;
        rows.iter()
            .map(|row| {
                Ok(TakenIn {
                    sha256: row.get("sha256"),
                    answers: row.get("answers"),
                    taken_at: timestamp(row.get("taken_at"), "a bundle".into())?,
                })
            })
            .collect()
    }
}
