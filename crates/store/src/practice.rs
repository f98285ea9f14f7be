//! What belongs to practice and references: where and when a player practises, what the player is held against,
//! the club of a swing, and the professional's model swings.

use crate::error::{StoreError, during};
use crate::players::found;
use crate::rows::{ModelSwing, PlayerId, SwingId};
use crate::store::Store;
use jiff::Timestamp;
use lessonwright_model::{Practice, ReferenceChoice};
use serde::Serialize;

impl Store {
    /// Notes where, when and how long a player practises.
    ///
    /// # Errors
    /// If there is no such player.
    pub async fn keep_practice(&self, id: PlayerId, practice: &Practice) -> Result<(), StoreError> {
        let done = sqlx::query("UPDATE players SET practice = ? WHERE id = ?")
            .bind(json(practice, id)?)
            .bind(id.0)
            .execute(&self.pool)
            .await
            .map_err(during("note how a player practises"))?;
        found(done.rows_affected(), id)
    }

    /// Notes what a player's measures are held against.
    ///
    /// # Errors
    /// If there is no such player, or the swing chosen is not one of the player's.
    pub async fn choose_reference(
        &self,
        id: PlayerId,
        choice: ReferenceChoice,
    ) -> Result<(), StoreError> {
        if let ReferenceChoice::OwnSwing(key) = choice {
            let swing = self.swing(SwingId(key)).await?;
            if swing.is_none_or(|swing| swing.player != id) {
                return Err(StoreError::NoSwing(SwingId(key)));
            }
        }
        let done = sqlx::query("UPDATE players SET reference = ? WHERE id = ?")
            .bind(json(&choice, id)?)
            .bind(id.0)
            .execute(&self.pool)
            .await
            .map_err(during("note what a player is held against"))?;
        found(done.rows_affected(), id)
    }

    /// Notes with what kind of club a swing was made; none for not known.
    ///
    /// # Errors
    /// If there is no such swing.
    pub async fn keep_club(&self, id: SwingId, club: Option<&str>) -> Result<(), StoreError> {
        let done = sqlx::query("UPDATE swings SET club = ? WHERE id = ?")
            .bind(club)
            .bind(id.0)
            .execute(&self.pool)
            .await
            .map_err(during("note a swing's club"))?;
        one(done.rows_affected(), id)
    }

    /// Makes a swing a model from an instant on, or takes that back with none. A second marking keeps the first
    /// instant.
    ///
    /// # Errors
    /// If there is no such swing.
    pub async fn mark_model(&self, id: SwingId, at: Option<Timestamp>) -> Result<(), StoreError> {
        let done = sqlx::query(
            "UPDATE swings SET model_since = CASE WHEN ?1 IS NULL THEN NULL
                 ELSE coalesce(model_since, ?1) END
             WHERE id = ?2",
        )
        .bind(at.map(|at| at.to_string()))
        .bind(id.0)
        .execute(&self.pool)
        .await
        .map_err(during("mark a model swing"))?;
        one(done.rows_affected(), id)
    }

    /// The professional's model swings that are analysed, with whose they are, first marked first.
    ///
    /// # Errors
    /// If the database fails or holds an analysis of another contract.
    pub async fn model_swings(&self) -> Result<Vec<ModelSwing>, StoreError> {
        let keys: Vec<i64> = sqlx::query_scalar(
            "SELECT id FROM swings WHERE model_since IS NOT NULL ORDER BY model_since, id",
        )
        .fetch_all(&self.pool)
        .await
        .map_err(during("list the model swings"))?;
        let mut models = Vec::new();
        for key in keys {
            let Some(swing) = self.swing(SwingId(key)).await? else {
                continue;
            };
            let player = self.player(swing.player).await?;
            let analysis = self.latest_analysis(swing.id).await?;
            if let (Some(player), Some(stored)) = (player, analysis) {
                models.push(ModelSwing {
                    swing,
                    player,
                    analysis: stored.analysis,
                });
            }
        }
        Ok(models)
    }
}

fn json(value: &impl Serialize, id: PlayerId) -> Result<String, StoreError> {
    serde_json::to_string(value).map_err(|source| StoreError::Unreadable {
        what: format!("what belongs to player {id}"),
        source: source.into(),
    })
}

fn one(rows: u64, id: SwingId) -> Result<(), StoreError> {
    if rows == 0 {
        Err(StoreError::NoSwing(id))
    } else {
        Ok(())
    }
}
