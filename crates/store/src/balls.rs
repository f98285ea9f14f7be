//! The ball of a swing, as the professional told it. What it is made of is the caller's to know.

use crate::error::{StoreError, during};
use crate::players::timestamp;
use crate::rows::SwingId;
use crate::store::Store;
use jiff::Timestamp;
use serde::Serialize;
use serde::de::DeserializeOwned;
use sqlx::Row;

/// A ball that is kept with its swing.
#[derive(Clone, Debug, PartialEq)]
pub struct StoredBall<T> {
    /// What was told.
    pub ball: T,
    /// The flight that came of it, in the words of a lesson's flight.
    pub flight: Option<String>,
    /// When it was told.
    pub told_at: Timestamp,
}

impl Store {
    /// Keeps what was told of a swing's ball, in place of what was told before.
    ///
    /// # Errors
    /// If there is no such swing.
    pub async fn keep_ball(
        &self,
        swing: SwingId,
        ball: &impl Serialize,
        flight: Option<&str>,
        at: Timestamp,
    ) -> Result<(), StoreError> {
        self.swing(swing).await?.ok_or(StoreError::NoSwing(swing))?;
        let ball = serde_json::to_string(ball).map_err(|source| unreadable(swing, source))?;
        sqlx::query("INSERT OR REPLACE INTO swing_balls (swing_id, ball, flight, told_at) VALUES (?, ?, ?, ?)")
            .bind(swing.0)
            .bind(ball)
            .bind(flight)
            .bind(at.to_string())
            .execute(&self.pool)
            .await
            .map_err(during("keep a swing's ball"))?;
        Ok(())
    }

    /// What was told of a swing's ball.
    ///
    /// # Errors
    /// If the database fails or holds a ball that can't be read.
    pub async fn ball<T: DeserializeOwned>(
        &self,
        swing: SwingId,
    ) -> Result<Option<StoredBall<T>>, StoreError> {
        let row = sqlx::query("SELECT * FROM swing_balls WHERE swing_id = ?")
            .bind(swing.0)
            .fetch_optional(&self.pool)
            .await
            .map_err(during("look for a swing's ball"))?;
        let Some(row) = row else { return Ok(None) };
        let ball =
            serde_json::from_str(row.get("ball")).map_err(|source| unreadable(swing, source))?;
        Ok(Some(StoredBall {
            ball,
            flight: row.get("flight"),
            told_at: timestamp(row.get("told_at"), what(swing))?,
        }))
    }

    /// The flight of a swing's own ball, where one is kept and says it.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn ball_flight(&self, swing: SwingId) -> Result<Option<String>, StoreError> {
        sqlx::query_scalar(
            "SELECT flight FROM swing_balls WHERE swing_id = ? AND flight IS NOT NULL",
        )
        .bind(swing.0)
        .fetch_optional(&self.pool)
        .await
        .map_err(during("look for a swing's ball"))
    }

    /// Forgets a swing's ball; where there is none, nothing changes.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn forget_ball(&self, swing: SwingId) -> Result<(), StoreError> {
        sqlx::query("DELETE FROM swing_balls WHERE swing_id = ?")
            .bind(swing.0)
            .execute(&self.pool)
            .await
            .map_err(during("forget a swing's ball"))?;
        Ok(())
    }
}

fn what(swing: SwingId) -> String {
    format!("the ball of swing {swing}")
}

fn unreadable(swing: SwingId, source: serde_json::Error) -> StoreError {
    StoreError::Unreadable {
        what: what(swing),
        source: source.into(),
    }
}
