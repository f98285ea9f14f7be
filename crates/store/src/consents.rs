//! What a player, or a minor's guardian, agreed to: filming, teaching, sending and showing, each apart.
//! What was withdrawn stays on record with its day.

use crate::OF_AGE_YEARS;
use crate::error::{StoreError, during};
use crate::follow_up::date_in;
use crate::rows::{PlayerId, id};
use crate::store::Store;
use jiff::civil::Date;
use sqlx::Row;
use sqlx::sqlite::{SqliteExecutor, SqliteRow};
use std::fmt;

id!(
    /// Key of a consent.
    ConsentId
);

/// What is agreed to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Purpose {
    /// The player is filmed and the film kept.
    Filming,
    /// The films are looked at and measured to teach this player.
    Teaching,
    /// Lessons with pictures are sent to the player.
    Sending,
    /// Films and numbers are shown to others, other players among them.
    Showing,
}

/// A consent to be put on record.
#[derive(Clone, Debug, PartialEq)]
pub struct NewConsent {
    /// To what.
    pub purpose: Purpose,
    /// Who agreed, by name.
    pub given_by: String,
    /// As the player's guardian; else as the player.
    pub by_guardian: bool,
    /// On which day.
    pub given_on: Date,
}

/// A consent on record.
#[derive(Clone, Debug, PartialEq)]
pub struct Consent {
    /// Key.
    pub id: ConsentId,
    /// To what, by whom, when.
    pub given: NewConsent,
    /// The day it was withdrawn, if it was.
    pub withdrawn_on: Option<Date>,
}

/// All that is on record of a player, latest first.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Consents(pub Vec<Consent>);

impl Purpose {
    /// All, in the order in which they are asked for.
    pub const ALL: [Purpose; 4] = [
        Purpose::Filming,
        Purpose::Teaching,
        Purpose::Sending,
        Purpose::Showing,
    ];

    /// Its word in the database, in forms and in commands.
    pub fn key(self) -> &'static str {
        match self {
            Purpose::Filming => "filming",
            Purpose::Teaching => "teaching",
            Purpose::Sending => "sending",
            Purpose::Showing => "showing",
        }
    }

    /// The one of a word.
    pub fn of_key(key: &str) -> Option<Purpose> {
        Purpose::ALL
            .into_iter()
            .find(|purpose| purpose.key() == key)
    }
}

impl Consents {
    /// The one that is in force.
    pub fn in_force(&self, purpose: Purpose) -> Option<&Consent> {
        self.latest(purpose)
            .filter(|one| one.withdrawn_on.is_none())
    }

    /// The last one that was given, whether or not it was withdrawn.
    pub fn latest(&self, purpose: Purpose) -> Option<&Consent> {
        self.0.iter().find(|one| one.given.purpose == purpose)
    }
}

impl Store {
    /// Puts a consent on record. For a minor only a guardian can give it.
    ///
    /// # Errors
    /// If there is no such player, nobody is named, or a minor would agree alone.
    pub async fn record_consent(
        &self,
        player: PlayerId,
        consent: &NewConsent,
    ) -> Result<ConsentId, StoreError> {
        let known = self
            .player(player)
            .await?
            .ok_or(StoreError::NoPlayer(player))?;
        if consent.given_by.trim().is_empty() {
            return Err(StoreError::Empty("a consent needs the name of who agreed"));
        }
        if let Some(age_years) = known.facts.age_years.filter(|age| *age < OF_AGE_YEARS)
            && !consent.by_guardian
        {
            return Err(StoreError::GuardianConsentMissing {
                player: known.facts.name,
                age_years,
            });
        }
        let failed = || during("record a consent");
        let mut change = self.pool.begin().await.map_err(failed())?;
        let id = keep(&mut *change, player, consent).await?;
        if consent.purpose == Purpose::Filming && consent.by_guardian {
            sqlx::query("UPDATE players SET guardian = ?, guardian_consent_at = ? WHERE id = ?")
                .bind(consent.given_by.trim())
                .bind(format!("{}T00:00:00Z", consent.given_on))
                .bind(player.0)
                .execute(&mut *change)
                .await
                .map_err(failed())?;
        }
        change.commit().await.map_err(failed())?;
        Ok(id)
    }

    /// Notes that what is in force for a purpose was withdrawn on a day. Nothing in force changes nothing.
    ///
    /// # Errors
    /// If there is no such player.
    pub async fn withdraw_consent(
        &self,
        player: PlayerId,
        purpose: Purpose,
        on: Date,
    ) -> Result<(), StoreError> {
        let failed = || during("withdraw a consent");
        self.player(player)
            .await?
            .ok_or(StoreError::NoPlayer(player))?;
        let mut change = self.pool.begin().await.map_err(failed())?;
        sqlx::query(
            "UPDATE consents SET withdrawn_on = ?
             WHERE player_id = ? AND purpose = ? AND withdrawn_on IS NULL",
        )
        .bind(on.to_string())
        .bind(player.0)
        .bind(purpose.key())
        .execute(&mut *change)
        .await
        .map_err(failed())?;
        if purpose == Purpose::Filming {
            sqlx::query(
                "UPDATE players SET guardian = NULL, guardian_consent_at = NULL WHERE id = ?",
            )
            .bind(player.0)
            .execute(&mut *change)
            .await
            .map_err(failed())?;
        }
        change.commit().await.map_err(failed())
    }

    /// What is on record of a player.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn consents_of(&self, player: PlayerId) -> Result<Consents, StoreError> {
        consents_of(&self.pool, player).await
    }
}

pub(crate) async fn keep(
    database: impl SqliteExecutor<'_>,
    player: PlayerId,
    consent: &NewConsent,
) -> Result<ConsentId, StoreError> {
    let done = sqlx::query(
        "INSERT INTO consents (player_id, purpose, given_by, by_guardian, given_on) VALUES (?, ?, ?, ?, ?)",
    )
    .bind(player.0)
    .bind(consent.purpose.key())
    .bind(consent.given_by.trim())
    .bind(consent.by_guardian)
    .bind(consent.given_on.to_string())
    .execute(database)
    .await
    .map_err(during("record a consent"))?;
    Ok(ConsentId(done.last_insert_rowid()))
}

async fn consents_of(
    database: impl SqliteExecutor<'_>,
    player: PlayerId,
) -> Result<Consents, StoreError> {
    let rows = sqlx::query("SELECT * FROM consents WHERE player_id = ? ORDER BY id DESC")
        .bind(player.0)
        .fetch_all(database)
        .await
        .map_err(during("look for consents"))?;
    rows.iter()
        .map(from_row)
        .collect::<Result<_, _>>()
        .map(Consents)
}

fn from_row(row: &SqliteRow) -> Result<Consent, StoreError> {
    let purpose: String = row.get("purpose");
    Ok(Consent {
        id: ConsentId(row.get("id")),
        given: NewConsent {
            // The table knows no other words.
            purpose: Purpose::of_key(&purpose).unwrap_or(Purpose::Filming),
            given_by: row.get("given_by"),
            by_guardian: row.get("by_guardian"),
            given_on: date_in(row, "given_on")?.unwrap_or_default(),
        },
        withdrawn_on: date_in(row, "withdrawn_on")?,
    })
}
