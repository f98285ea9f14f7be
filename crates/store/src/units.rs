//! The unit of length that comes first: the studio's, or one player's own.

use crate::error::{StoreError, during};
use crate::rows::PlayerId;
use crate::store::Store;
use lessonwright_model::Units;

/// Its row of the studio's settings.
const NAME: &str = "units";

impl Store {
    /// The unit of length that comes first in the studio; none where nobody chose one.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn studio_units(&self) -> Result<Option<Units>, StoreError> {
        let key: Option<String> =
            sqlx::query_scalar("SELECT value FROM studio_settings WHERE name = ?")
                .bind(NAME)
                .fetch_optional(&self.pool)
                .await
                .map_err(during("look for the studio's unit"))?;
        Ok(key.and_then(|key| Units::of_key(&key)))
    }

    /// Sets the studio's.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn keep_studio_units(&self, units: Units) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO studio_settings (name, value) VALUES (?, ?)
             ON CONFLICT (name) DO UPDATE SET value = excluded.value",
        )
        .bind(NAME)
        .bind(units.key())
        .execute(&self.pool)
        .await
        .map_err(during("keep the studio's unit"))?;
        Ok(())
    }

    /// Sets a player's own; none takes it back to the studio's.
    ///
    /// # Errors
    /// If there is no such player.
    pub async fn keep_player_units(
        &self,
        id: PlayerId,
        units: Option<Units>,
    ) -> Result<(), StoreError> {
        let done = sqlx::query("UPDATE players SET units = ? WHERE id = ?")
            .bind(units.map(Units::key))
            .bind(id.0)
            .execute(&self.pool)
            .await
            .map_err(during("keep a player's unit"))?;
        match done.rows_affected() {
            0 => Err(StoreError::NoPlayer(id)),
            _ => Ok(()),
        }
    }

    /// The unit of length that comes first for a player: the own one, else the studio's, else centimetres.
    ///
    /// # Errors
    /// If there is no such player.
    pub async fn units_for(&self, id: PlayerId) -> Result<Units, StoreError> {
        let player = self.player(id).await?.ok_or(StoreError::NoPlayer(id))?;
        match player.units {
            Some(own) => Ok(own),
            None => Ok(self.studio_units().await?.unwrap_or_default()),
        }
    }
}
