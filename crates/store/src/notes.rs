//! Notes on a player: dated, to be changed and deleted.

use crate::appointments::there;
use crate::error::{StoreError, during};
use crate::follow_up::date_in;
use crate::rows::{PlayerId, id};
use crate::store::Store;
use jiff::Timestamp;
use jiff::civil::Date;
use sqlx::Row;
use sqlx::sqlite::SqliteRow;
use std::fmt;

id!(
    /// Key of a note.
    NoteId
);

/// A note.
#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    /// Key.
    pub id: NoteId,
    /// On whom.
    pub player: PlayerId,
    /// The day it is about.
    pub noted_on: Date,
    /// The professional's words.
    pub text: String,
}

impl Store {
    /// Writes a note.
    ///
    /// # Errors
    /// If there is no such player, or nothing is written.
    pub async fn add_note(
        &self,
        player: PlayerId,
        noted_on: Date,
        text: &str,
        at: Timestamp,
    ) -> Result<NoteId, StoreError> {
        let text = written(text)?;
        self.player(player)
            .await?
            .ok_or(StoreError::NoPlayer(player))?;
        let done = sqlx::query(
            "INSERT INTO notes (player_id, noted_on, text, changed_at) VALUES (?, ?, ?, ?)",
        )
        .bind(player.0)
        .bind(noted_on.to_string())
        .bind(text)
        .bind(at.to_string())
        .execute(&self.pool)
        .await
        .map_err(during("write a note"))?;
        Ok(NoteId(done.last_insert_rowid()))
    }

    /// Changes a note's words and day.
    ///
    /// # Errors
    /// If there is no such note, or nothing is written.
    pub async fn change_note(
        &self,
        id: NoteId,
        noted_on: Date,
        text: &str,
        at: Timestamp,
    ) -> Result<(), StoreError> {
        let done =
            sqlx::query("UPDATE notes SET noted_on = ?, text = ?, changed_at = ? WHERE id = ?")
                .bind(noted_on.to_string())
                .bind(written(text)?)
                .bind(at.to_string())
                .bind(id.0)
                .execute(&self.pool)
                .await
                .map_err(during("change a note"))?;
        there(done.rows_affected(), "note", id.0)
    }

    /// Deletes a note.
    ///
    /// # Errors
    /// If there is no such note.
    pub async fn delete_note(&self, id: NoteId) -> Result<(), StoreError> {
        let done = sqlx::query("DELETE FROM notes WHERE id = ?")
            .bind(id.0)
            .execute(&self.pool)
            .await
            .map_err(during("delete a note"))?;
        there(done.rows_affected(), "note", id.0)
    }

    /// One note.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn note(&self, id: NoteId) -> Result<Option<Note>, StoreError> {
        sqlx::query("SELECT * FROM notes WHERE id = ?")
            .bind(id.0)
            .fetch_optional(&self.pool)
            .await
            .map_err(during("look for a note"))?
            .map(|row| from_row(&row))
            .transpose()
    }

    /// A player's notes, latest day first.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn notes_of(&self, player: PlayerId) -> Result<Vec<Note>, StoreError> {
        sqlx::query("SELECT * FROM notes WHERE player_id = ? ORDER BY noted_on DESC, id DESC")
            .bind(player.0)
            .fetch_all(&self.pool)
            .await
            .map_err(during("list a player's notes"))?
            .iter()
            .map(from_row)
            .collect()
    }
}

fn written(text: &str) -> Result<&str, StoreError> {
    match text.trim() {
        "" => Err(StoreError::Empty("a note has no words")),
        text => Ok(text),
    }
}

fn from_row(row: &SqliteRow) -> Result<Note, StoreError> {
    let id: i64 = row.get("id");
    let day = date_in(row, "noted_on")?;
    Ok(Note {
        id: NoteId(id),
        player: PlayerId(row.get("player_id")),
        noted_on: day.unwrap_or_default(),
        text: row.get("text"),
    })
}
