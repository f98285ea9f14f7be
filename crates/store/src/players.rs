//! Players: who is on the roster, a guardian's consent, and erasing everything of somebody.

use crate::consents::{self, NewConsent, Purpose};
use crate::error::{StoreError, during};
use crate::rows::{GuardianConsent, Player, PlayerId};
use crate::store::Store;
use crate::{OF_AGE_YEARS, PlayerFacts};
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};
use lessonwright_model::{Hand, Language, Screening, Sex, Units};
use serde::de::DeserializeOwned;
use sqlx::Row;
use sqlx::sqlite::{SqliteExecutor, SqliteRow};

impl Store {
    /// Adds a player. No two of a studio are added at the same instant, since it is what tells them apart in another
    /// studio and for what they send ([`Player::code`]): where somebody has this one, the next free one is kept, in
    /// nanoseconds.
    ///
    /// # Errors
    /// If the name is empty or taken, the stature is not a height, or the answers of the screening can't be.
    pub async fn add_player(
        &self,
        facts: &PlayerFacts,
        mut added_at: Timestamp,
    ) -> Result<PlayerId, StoreError> {
        check(facts)?;
        loop {
            let done = bind_facts(
                sqlx::query(
                    "INSERT INTO players
                         (name, hand, stature_m, age_years, usual_flight, health_note, limits, goals,
                          sex, screening, language, added_at)
                     SELECT ?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12
                     WHERE NOT EXISTS (SELECT 1 FROM players WHERE added_at = ?12)",
                ),
                facts,
            )?
            .bind(added_at.to_string())
            .execute(&self.pool)
            .await
            .map_err(name_taken(facts))?;
            if done.rows_affected() == 1 {
                return Ok(PlayerId(done.last_insert_rowid()));
            }
            added_at += SignedDuration::from_nanos(1);
        }
    }

    /// Replaces the facts of a player.
    ///
    /// # Errors
    /// As [`Store::add_player`]; also if there is no such player.
    pub async fn update_player(&self, id: PlayerId, facts: &PlayerFacts) -> Result<(), StoreError> {
        check(facts)?;
        let done = bind_facts(
            sqlx::query(
                "UPDATE players SET name = ?, hand = ?, stature_m = ?, age_years = ?,
                     usual_flight = ?, health_note = ?, limits = ?, goals = ?, sex = ?, screening = ?,
                     language = ?
                 WHERE id = ?",
            ),
            facts,
        )?
        .bind(id.0)
        .execute(&self.pool)
        .await
        .map_err(name_taken(facts))?;
        found(done.rows_affected(), id)
    }

    /// Records that a guardian agreed to filming.
    ///
    /// # Errors
    /// If there is no such player.
    pub async fn record_guardian_consent(
        &self,
        id: PlayerId,
        consent: &GuardianConsent,
    ) -> Result<(), StoreError> {
        let failed = || during("record the consent");
        let mut change = self.pool.begin().await.map_err(failed())?;
        let done =
            sqlx::query("UPDATE players SET guardian = ?, guardian_consent_at = ? WHERE id = ?")
                .bind(&consent.guardian)
                .bind(consent.given_at.to_string())
                .bind(id.0)
                .execute(&mut *change)
                .await
                .map_err(failed())?;
        found(done.rows_affected(), id)?;
        let known: bool = sqlx::query_scalar(
            "SELECT EXISTS (SELECT 1 FROM consents WHERE player_id = ? AND purpose = 'filming'
                 AND given_by = ? AND withdrawn_on IS NULL)",
        )
        .bind(id.0)
        .bind(&consent.guardian)
        .fetch_one(&mut *change)
        .await
        .map_err(failed())?;
        if !known {
            let filming = NewConsent {
                purpose: Purpose::Filming,
                given_by: consent.guardian.clone(),
                by_guardian: true,
                given_on: consent.given_at.to_zoned(TimeZone::UTC).date(),
            };
            consents::keep(&mut *change, id, &filming).await?;
        }
        change.commit().await.map_err(failed())
    }

    /// What the player told of his or her golf, and what is in the bag.
    ///
    /// # Errors
    /// If there is no such player.
    pub async fn background(&self, id: PlayerId) -> Result<Background, StoreError> {
        let row = sqlx::query("SELECT background, bag FROM players WHERE id = ?")
            .bind(id.0)
            .fetch_optional(&self.pool)
            .await
            .map_err(during("read a player's background"))?
            .ok_or(StoreError::NoPlayer(id))?;
        let text = |column| row.get::<Option<String>, _>(column).unwrap_or_default();
        Ok(Background {
            golf_so_far: text("background"),
            bag: text("bag"),
        })
    }

    /// Replaces what the player told of his or her golf, and what is in the bag.
    ///
    /// # Errors
    /// If there is no such player.
    pub async fn keep_background(&self, id: PlayerId, told: &Background) -> Result<(), StoreError> {
        let done = sqlx::query("UPDATE players SET background = ?, bag = ? WHERE id = ?")
            .bind(Some(told.golf_so_far.trim()).filter(|text| !text.is_empty()))
            .bind(Some(told.bag.trim()).filter(|text| !text.is_empty()))
            .bind(id.0)
            .execute(&self.pool)
            .await
            .map_err(during("note a player's background"))?;
        found(done.rows_affected(), id)
    }

    /// One player.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn player(&self, id: PlayerId) -> Result<Option<Player>, StoreError> {
        player(&self.pool, id).await
    }

    /// The player of this very name.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn player_named(&self, name: &str) -> Result<Option<Player>, StoreError> {
        sqlx::query("SELECT * FROM players WHERE name = ?")
            .bind(name.trim())
            .fetch_optional(&self.pool)
            .await
            .map_err(during("look for a player"))?
            .map(|row| from_row(&row))
            .transpose()
    }

    /// Whether this player may be filmed; ask before a film is even looked at.
    ///
    /// # Errors
    /// [`StoreError::GuardianConsentMissing`] for a minor without a guardian's consent on record;
    /// if there is no such player; if the database fails.
    pub async fn check_film_allowed(&self, id: PlayerId) -> Result<(), StoreError> {
        check_film_allowed(&self.pool, id).await
    }

    /// All players, by name.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn players(&self) -> Result<Vec<Player>, StoreError> {
        sqlx::query("SELECT * FROM players ORDER BY name COLLATE NOCASE, id")
            .fetch_all(&self.pool)
            .await
            .map_err(during("list the players"))?
            .iter()
            .map(from_row)
            .collect()
    }

    /// Erases a player and everything of them: swings, films, analyses, lessons. An erasure that is
    /// cut short ends when the store is next opened.
    ///
    /// # Errors
    /// If there is no such player, or a film can't be removed.
    pub async fn erase_player(&self, id: PlayerId) -> Result<(), StoreError> {
        let failed = || during("erase a player");
        let mut change = self.pool.begin().await.map_err(failed())?;
        sqlx::query("INSERT INTO erasures (swing_id) SELECT id FROM swings WHERE player_id = ?")
            .bind(id.0)
            .execute(&mut *change)
            .await
            .map_err(failed())?;
        let done = sqlx::query("DELETE FROM players WHERE id = ?")
            .bind(id.0)
            .execute(&mut *change)
            .await
            .map_err(failed())?;
        found(done.rows_affected(), id)?;
        change.commit().await.map_err(failed())?;
        self.finish_erasures().await?;
        self.sweep_arrivals().await?;
        self.empty_log().await
    }
}

/// What the player told of his or her golf so far, and the clubs in the bag. Empty where nothing was told.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Background {
    /// Since when, how often, handicap, earlier lessons.
    pub golf_so_far: String,
    /// Clubs, lofts, shafts.
    pub bag: String,
}

/// Refuses a minor's film without a guardian's consent, a film of somebody who withdrew the consent to be
/// filmed, and a film of nobody. Who is of age and was never asked may be filmed: they stand before the camera.
pub(crate) async fn check_film_allowed(
    database: impl SqliteExecutor<'_>,
    id: PlayerId,
) -> Result<(), StoreError> {
    let row = sqlx::query(
        "SELECT *, (SELECT withdrawn_on FROM consents WHERE player_id = players.id AND purpose = 'filming'
                    ORDER BY consents.id DESC LIMIT 1) AS filming_withdrawn_on
         FROM players WHERE id = ?",
    )
    .bind(id.0)
    .fetch_optional(database)
    .await
    .map_err(during("look for a player"))?
    .ok_or(StoreError::NoPlayer(id))?;
    let player = from_row(&row)?;
    if row.get::<Option<&str>, _>("filming_withdrawn_on").is_some() {
        return Err(StoreError::FilmingWithdrawn {
            player: player.facts.name,
        });
    }
    match player.facts.age_years {
        Some(age_years) if age_years < OF_AGE_YEARS && player.guardian_consent.is_none() => {
            Err(StoreError::GuardianConsentMissing {
                player: player.facts.name,
                age_years,
            })
        }
        _ => Ok(()),
    }
}

async fn player(
    database: impl SqliteExecutor<'_>,
    id: PlayerId,
) -> Result<Option<Player>, StoreError> {
    sqlx::query("SELECT * FROM players WHERE id = ?")
        .bind(id.0)
        .fetch_optional(database)
        .await
        .map_err(during("look for a player"))?
        .map(|row| from_row(&row))
        .transpose()
}

type Query = sqlx::query::Query<'static, sqlx::Sqlite, sqlx::sqlite::SqliteArguments>;

fn bind_facts(query: Query, facts: &PlayerFacts) -> Result<Query, StoreError> {
    let screening = facts.screening.as_ref().map(serde_json::to_string);
    let screening = screening
        .transpose()
        .map_err(|source| StoreError::Unreadable {
            what: format!("the answers of {}", facts.name),
            source: source.into(),
        })?;
    Ok(query
        .bind(facts.name.trim().to_string())
        .bind(facts.hand.map(|hand| match hand {
            Hand::Right => "right",
            Hand::Left => "left",
        }))
        .bind(facts.stature_m)
        .bind(facts.age_years.map(i64::from))
        .bind(facts.usual_flight.clone())
        .bind(facts.health_note.clone())
        .bind(keys(&facts.limits))
        .bind(keys(&facts.goals))
        .bind(facts.sex.map(Sex::key))
        .bind(screening)
        .bind(facts.language.map(Language::tag)))
}

/// Keys as JSON.
fn keys(keys: &[String]) -> String {
    serde_json::Value::from(keys).to_string()
}

/// A value read back from JSON.
fn read<T: DeserializeOwned>(text: &str, what: String) -> Result<T, StoreError> {
    serde_json::from_str(text).map_err(|source| StoreError::Unreadable {
        what,
        source: source.into(),
    })
}

/// The same from a column that may be empty.
fn read_some<T: DeserializeOwned>(
    row: &SqliteRow,
    column: &'static str,
    what: String,
) -> Result<Option<T>, StoreError> {
    row.get::<Option<String>, _>(column)
        .map(|text| read(&text, what))
        .transpose()
}

/// Statures that a person can have, m: from a small child's to above the tallest person measured
/// (2.72 m, from memory).
const STATURES_M: std::ops::RangeInclusive<f64> = 0.5..=2.8;

fn check(facts: &PlayerFacts) -> Result<(), StoreError> {
    if facts.name.trim().is_empty() {
        return Err(StoreError::NameEmpty);
    }
    if let Some(Err(problem)) = facts.screening.as_ref().map(Screening::check) {
        return Err(StoreError::ImpossibleAnswers(problem));
    }
    match facts.stature_m {
        Some(value) if !STATURES_M.contains(&value) => Err(StoreError::Impossible {
            what: "stature in metres",
            value,
        }),
        _ => Ok(()),
    }
}

fn name_taken(facts: &PlayerFacts) -> impl Fn(sqlx::Error) -> StoreError {
    move |source| match &source {
        sqlx::Error::Database(error) if error.is_unique_violation() => {
            StoreError::NameTaken(facts.name.trim().into())
        }
        _ => during("write down a player")(source),
    }
}

pub(crate) fn found(rows: u64, id: PlayerId) -> Result<(), StoreError> {
    if rows == 0 {
        Err(StoreError::NoPlayer(id))
    } else {
        Ok(())
    }
}

pub(crate) fn from_row(row: &SqliteRow) -> Result<Player, StoreError> {
    let id: i64 = row.get("id");
    let what = || format!("player {id}");
    let hand = row
        .get::<Option<String>, _>("hand")
        .map(|hand| match hand.as_str() {
            "left" => Hand::Left,
            _ => Hand::Right,
        });
    let guardian: Option<String> = row.get("guardian");
    let given_at = row
        .get::<Option<String>, _>("guardian_consent_at")
        .map(|text| timestamp(&text, what()))
        .transpose()?;
    Ok(Player {
        id: PlayerId(id),
        facts: PlayerFacts {
            name: row.get("name"),
            hand,
            stature_m: row.get("stature_m"),
            age_years: row.get("age_years"),
            usual_flight: row.get("usual_flight"),
            health_note: row.get("health_note"),
            limits: read(row.get("limits"), what())?,
            goals: read(row.get("goals"), what())?,
            sex: row
                .get::<Option<String>, _>("sex")
                .and_then(|key| Sex::of_key(&key)),
            language: row
                .get::<Option<String>, _>("language")
                .and_then(|tag| Language::of_tag(&tag)),
            screening: read_some(row, "screening", what())?,
        },
        guardian_consent: guardian
            .zip(given_at)
            .map(|(guardian, given_at)| GuardianConsent { guardian, given_at }),
        practice: read_some(row, "practice", what())?,
        reference: read_some(row, "reference", what())?.unwrap_or_default(),
        units: row
            .get::<Option<String>, _>("units")
            .and_then(|key| Units::of_key(&key)),
        added_at: timestamp(row.get("added_at"), what())?,
    })
}

/// Reads an instant back.
pub(crate) fn timestamp(text: &str, what: String) -> Result<Timestamp, StoreError> {
    text.parse()
        .map_err(|source: jiff::Error| StoreError::Unreadable {
            what,
            source: source.into(),
        })
}
