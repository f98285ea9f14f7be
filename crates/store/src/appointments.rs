//! The diary: who comes when, where and what for.

use crate::error::{StoreError, during};
use crate::players::timestamp;
use crate::rows::{PlayerId, id};
use crate::store::Store;
use jiff::Timestamp;
use sqlx::Row;
use sqlx::sqlite::SqliteRow;
use std::fmt;

id!(
    /// Key of an appointment.
    AppointmentId
);

/// What an appointment is to be.
#[derive(Clone, Debug, PartialEq)]
pub struct Planned {
    /// Who comes.
    pub player: PlayerId,
    /// When it begins.
    pub starts_at: Timestamp,
    /// How long it takes, 5 to 1440.
    pub minutes: u32,
    /// Where; empty where that goes without saying.
    pub place: String,
    /// What for; empty if it was not said.
    pub purpose: String,
}

/// An appointment that is kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Appointment {
    /// Key.
    pub id: AppointmentId,
    /// Who, when, where and what for.
    pub planned: Planned,
    /// The player's name.
    pub name: String,
}

/// How long an appointment can take, minutes: the table holds the same.
const MINUTES: std::ops::RangeInclusive<u32> = 5..=1440;

const SELECT: &str =
    "SELECT appointments.*, name FROM appointments JOIN players ON players.id = player_id";

impl Store {
    /// Writes an appointment into the diary.
    ///
    /// # Errors
    /// If there is no such player or the length can't be.
    pub async fn add_appointment(&self, planned: &Planned) -> Result<AppointmentId, StoreError> {
        check(planned)?;
        self.player(planned.player)
            .await?
            .ok_or(StoreError::NoPlayer(planned.player))?;
        let done = sqlx::query(
            "INSERT INTO appointments (player_id, starts_at, minutes, place, purpose) VALUES (?, ?, ?, ?, ?)",
        )
        .bind(planned.player.0)
        .bind(planned.starts_at.to_string())
        .bind(i64::from(planned.minutes))
        .bind(planned.place.trim())
        .bind(planned.purpose.trim())
        .execute(&self.pool)
        .await
        .map_err(during("write down an appointment"))?;
        Ok(AppointmentId(done.last_insert_rowid()))
    }

    /// Moves an appointment to another time, place or purpose; whose it is stays.
    ///
    /// # Errors
    /// If there is no such appointment or the length can't be.
    pub async fn move_appointment(
        &self,
        id: AppointmentId,
        to: &Planned,
    ) -> Result<(), StoreError> {
        check(to)?;
        let done = sqlx::query(
            "UPDATE appointments SET starts_at = ?, minutes = ?, place = ?, purpose = ? WHERE id = ?",
        )
        .bind(to.starts_at.to_string())
        .bind(i64::from(to.minutes))
        .bind(to.place.trim())
        .bind(to.purpose.trim())
        .bind(id.0)
        .execute(&self.pool)
        .await
        .map_err(during("move an appointment"))?;
        there(done.rows_affected(), "appointment", id.0)
    }

    /// Takes an appointment out of the diary.
    ///
    /// # Errors
    /// If there is no such appointment.
    pub async fn cancel_appointment(&self, id: AppointmentId) -> Result<(), StoreError> {
        let done = sqlx::query("DELETE FROM appointments WHERE id = ?")
            .bind(id.0)
            .execute(&self.pool)
            .await
            .map_err(during("cancel an appointment"))?;
        there(done.rows_affected(), "appointment", id.0)
    }

    /// One appointment.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn appointment(&self, id: AppointmentId) -> Result<Option<Appointment>, StoreError> {
        sqlx::query(sqlx::AssertSqlSafe(format!(
            "{SELECT} WHERE appointments.id = ?"
        )))
        .bind(id.0)
        .fetch_optional(&self.pool)
        .await
        .map_err(during("look for an appointment"))?
        .map(|row| from_row(&row))
        .transpose()
    }

    /// Appointments that begin from one instant until before another, first ones first.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn appointments_between(
        &self,
        from: Timestamp,
        until: Timestamp,
    ) -> Result<Vec<Appointment>, StoreError> {
        let text = format!(
            "{SELECT} WHERE starts_at >= ? AND starts_at < ? ORDER BY starts_at, appointments.id"
        );
        sqlx::query(sqlx::AssertSqlSafe(text))
            .bind(from.to_string())
            .bind(until.to_string())
            .fetch_all(&self.pool)
            .await
            .map_err(during("list appointments"))?
            .iter()
            .map(from_row)
            .collect()
    }

    /// A player's appointments from an instant on, first ones first.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn appointments_of(
        &self,
        player: PlayerId,
        from: Timestamp,
    ) -> Result<Vec<Appointment>, StoreError> {
        let text = format!(
            "{SELECT} WHERE player_id = ? AND starts_at >= ? ORDER BY starts_at, appointments.id"
        );
        sqlx::query(sqlx::AssertSqlSafe(text))
            .bind(player.0)
            .bind(from.to_string())
            .fetch_all(&self.pool)
            .await
            .map_err(during("list a player's appointments"))?
            .iter()
            .map(from_row)
            .collect()
    }
}

/// What was to be changed must have been there.
pub(crate) fn there(rows: u64, what: &'static str, key: i64) -> Result<(), StoreError> {
    match rows {
        0 => Err(StoreError::Nothing { what, key }),
        _ => Ok(()),
    }
}

fn check(planned: &Planned) -> Result<(), StoreError> {
    if MINUTES.contains(&planned.minutes) {
        return Ok(());
    }
    Err(StoreError::Impossible {
        what: "an appointment's length in minutes",
        value: planned.minutes.into(),
    })
}

fn from_row(row: &SqliteRow) -> Result<Appointment, StoreError> {
    let id: i64 = row.get("id");
    Ok(Appointment {
        id: AppointmentId(id),
        planned: Planned {
            player: PlayerId(row.get("player_id")),
            starts_at: timestamp(row.get("starts_at"), format!("appointment {id}"))?,
            minutes: row.get("minutes"),
            place: row.get("place"),
            purpose: row.get("purpose"),
        },
        name: row.get("name"),
    })
}
