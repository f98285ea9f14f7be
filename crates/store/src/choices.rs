//! What the professional chose for a swing's lesson, and the voice over it. The voice lies in the swing's media folder, so that
//! erasing a player erases it.

use crate::error::{StoreError, during};
use crate::media;
use crate::players::timestamp;
use crate::rows::SwingId;
use crate::store::Store;
use jiff::Timestamp;
use lessonwright_model::{Choices, Scrub};
use serde::Serialize;
use serde::de::DeserializeOwned;
use sqlx::Row;
use std::path::PathBuf;

/// What was chosen and said for a lesson.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StoredChoices {
    /// What was chosen.
    pub choices: Choices,
    /// The recording's file.
    pub voice: Option<PathBuf>,
    /// What was looked at meanwhile; none for a recording that was made elsewhere.
    pub scrub: Option<Scrub>,
    /// When anything of it changed last; none where nothing ever was chosen.
    pub changed_at: Option<Timestamp>,
}

impl Store {
    /// What was chosen and said for a swing's lesson.
    ///
    /// # Errors
    /// If the database fails or holds choices that can't be read.
    pub async fn choices(&self, swing: SwingId) -> Result<StoredChoices, StoreError> {
        let row = sqlx::query("SELECT * FROM lesson_choices WHERE swing_id = ?")
            .bind(swing.0)
            .fetch_optional(&self.pool)
            .await
            .map_err(during("look for what was chosen for a lesson"))?;
        let Some(row) = row else {
            return Ok(StoredChoices::default());
        };
        let scrub: Option<String> = row.get("scrub");
        let voice: Option<String> = row.get("voice");
        Ok(StoredChoices {
            choices: read(row.get("choices"), swing)?,
            voice: voice.map(|name| self.media_folder(swing).join(name)),
            scrub: scrub.map(|text| read(&text, swing)).transpose()?,
            changed_at: Some(timestamp(row.get("changed_at"), what(swing))?),
        })
    }

    /// Keeps what was chosen for a swing's lesson.
    ///
    /// # Errors
    /// If there is no such swing.
    pub async fn keep_choices(
        &self,
        swing: SwingId,
        choices: &Choices,
        at: Timestamp,
    ) -> Result<(), StoreError> {
        self.swing(swing).await?.ok_or(StoreError::NoSwing(swing))?;
        sqlx::query(
            "INSERT INTO lesson_choices (swing_id, choices, changed_at) VALUES (?, ?, ?)
             ON CONFLICT (swing_id) DO UPDATE SET choices = excluded.choices, changed_at = excluded.changed_at",
        )
        .bind(swing.0)
        .bind(written(choices, swing)?)
        .bind(at.to_string())
        .execute(&self.pool)
        .await
        .map_err(during("keep what was chosen for a lesson"))?;
        Ok(())
    }

    /// Keeps the voice over a swing, in place of one before. `extension` is the recording's, short and plain.
    ///
    /// # Errors
    /// If there is no such swing or the file can't be written.
    pub async fn keep_voice(
        &self,
        swing: SwingId,
        recording: &[u8],
        extension: &str,
        scrub: Option<&Scrub>,
        at: Timestamp,
    ) -> Result<(), StoreError> {
        let before = self.choices(swing).await?;
        self.keep_choices(swing, &before.choices, at).await?;
        let name = PathBuf::from(format!("voice.{extension}"));
        let name = format!("voice.{}", media::extension(&name));
        let part = media::write(recording.to_vec(), self.media_folder(swing).join(&name)).await?;
        let path = part.settle().await?;
        let scrub = scrub.map(|scrub| written(scrub, swing)).transpose()?;
        self.set_voice(swing, Some(&name), scrub, at).await?;
        match before.voice {
            Some(old) if old != path => media::remove_file(&old).await,
            _ => Ok(()),
        }
    }

    /// Forgets the voice over a swing; where there is none, nothing changes.
    ///
    /// # Errors
    /// If the database fails or the file can't be removed.
    pub async fn forget_voice(&self, swing: SwingId, at: Timestamp) -> Result<(), StoreError> {
        let Some(old) = self.choices(swing).await?.voice else {
            return Ok(());
        };
        self.set_voice(swing, None, None, at).await?;
        media::remove_file(&old).await
    }

    /// The recording's bytes, if there is one.
    ///
    /// # Errors
    /// If the file can't be read.
    pub async fn voice(&self, swing: SwingId) -> Result<Option<(PathBuf, Vec<u8>)>, StoreError> {
        match self.choices(swing).await?.voice {
            Some(path) => Ok(Some((path.clone(), media::read(path).await?))),
            None => Ok(None),
        }
    }

    async fn set_voice(
        &self,
        swing: SwingId,
        name: Option<&str>,
        scrub: Option<String>,
        at: Timestamp,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "UPDATE lesson_choices SET voice = ?, scrub = ?, changed_at = ? WHERE swing_id = ?",
        )
        .bind(name)
        .bind(scrub)
        .bind(at.to_string())
        .bind(swing.0)
        .execute(&self.pool)
        .await
        .map_err(during("note the voice over a swing"))?;
        Ok(())
    }
}

fn what(swing: SwingId) -> String {
    format!("what was chosen for swing {swing}")
}

fn written(value: &impl Serialize, swing: SwingId) -> Result<String, StoreError> {
    serde_json::to_string(value).map_err(|source| unreadable(swing, source))
}

fn read<T: DeserializeOwned>(text: &str, swing: SwingId) -> Result<T, StoreError> {
    serde_json::from_str(text).map_err(|source| unreadable(swing, source))
}

fn unreadable(swing: SwingId, source: serde_json::Error) -> StoreError {
    StoreError::Unreadable {
        what: what(swing),
        source: source.into(),
    }
}
