//! Where swings stand, in lists: what waits to be read, what waits to be sent, the roster, a player's swings.
//! Each list is one question to the database, however long the roster is.

use crate::error::{StoreError, during};
use crate::players::{from_row as player_of, timestamp};
use crate::rows::{LessonId, LessonState, Player, PlayerId, SwingId};
use crate::search::match_words;
use crate::store::Store;
use jiff::Timestamp;
use sqlx::Row;
use sqlx::sqlite::SqliteRow;

/// Where one swing stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// The swing.
    pub swing: SwingId,
    /// When it was filmed, or added where that is not known.
    pub made_at: Timestamp,
    /// Whether it was analysed.
    pub analysed: bool,
    /// What its latest analysis says to work on first; none where nothing stands out.
    pub title: Option<String>,
    /// Its latest lesson, and how far that has come.
    pub lesson: Option<(LessonId, LessonState)>,
    /// Whether the professional looked at it and it needs no lesson.
    pub set_aside: bool,
}

/// A swing that waits for the professional.
#[derive(Clone, Debug, PartialEq)]
pub struct Waiting {
    /// Where it stands.
    pub standing: Standing,
    /// Whose it is.
    pub player: PlayerId,
    /// The player's name.
    pub name: String,
    /// Since when it waits: when it was added, or its lesson approved.
    pub since: Timestamp,
    /// Whether the player agreed to be sent lessons.
    pub sending_agreed: bool,
    /// Whether the player sent it from afar.
    pub sent_in: bool,
}

/// A player with the latest swing.
#[derive(Clone, Debug, PartialEq)]
pub struct RosterLine {
    /// The player.
    pub player: Player,
    /// Where the latest swing stands, if there is one.
    pub latest: Option<Standing>,
}

/// A part of the roster.
#[derive(Clone, Debug, PartialEq)]
pub struct RosterPage {
    /// By name.
    pub lines: Vec<RosterLine>,
    /// How many players there are in all that answer to what was asked for.
    pub players: usize,
}

const WAITING: &str =
    "SELECT standings.*, players.name, coalesce(standings.approved_at, swings.added_at) AS since,
        EXISTS (SELECT 1 FROM consents WHERE consents.player_id = standings.player_id
                AND purpose = 'sending' AND withdrawn_on IS NULL) AS sending_agreed,
        EXISTS (SELECT 1 FROM sent_in WHERE sent_in.swing_id = standings.swing_id) AS sent_in
    FROM standings
    JOIN players ON players.id = standings.player_id
    JOIN swings ON swings.id = swing_id";

impl Store {
    /// Swings without a lesson, or whose latest lesson is not approved, that were not set aside: the longest
    /// waiting first, at most so many; and how many there are.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn swings_to_read(&self, most: usize) -> Result<(Vec<Waiting>, usize), StoreError> {
        let condition = "WHERE standings.approved_at IS NULL AND standings.set_aside_at IS NULL";
        self.waiting(condition, "made_at", most).await
    }

    /// Swings whose latest lesson is approved and not sent: the longest waiting first, at most so many; and how
    /// many there are.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn lessons_to_send(&self, most: usize) -> Result<(Vec<Waiting>, usize), StoreError> {
        let condition = "WHERE standings.approved_at IS NOT NULL AND standings.sent_at IS NULL";
        self.waiting(condition, "approved_at", most).await
    }

    async fn waiting(
        &self,
        condition: &'static str,
        order: &'static str,
        most: usize,
    ) -> Result<(Vec<Waiting>, usize), StoreError> {
        // All parts are constants of this file.
        let text = format!("{WAITING} {condition} ORDER BY standings.{order}, swing_id LIMIT ?");
        let rows = sqlx::query(sqlx::AssertSqlSafe(text))
            .bind(i64::try_from(most).unwrap_or(i64::MAX))
            .fetch_all(&self.pool)
            .await
            .map_err(during("list what waits"))?;
        let text = format!("SELECT count(*) FROM standings {condition}");
        let all: i64 = sqlx::query_scalar(sqlx::AssertSqlSafe(text))
            .fetch_one(&self.pool)
            .await
            .map_err(during("count what waits"))?;
        let waiting = rows.iter().map(waiting_of).collect::<Result<_, _>>()?;
        Ok((waiting, usize::try_from(all).unwrap_or_default()))
    }

    /// A player's swings, latest added first.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn standings_of(&self, player: PlayerId) -> Result<Vec<Standing>, StoreError> {
        sqlx::query("SELECT * FROM standings WHERE player_id = ? ORDER BY swing_id DESC")
            .bind(player.0)
            .fetch_all(&self.pool)
            .await
            .map_err(during("list a player's swings"))?
            .iter()
            .map(standing_of)
            .collect()
    }

    /// Analysed swings of other players, the so many that were added last, by name.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn swings_of_others(
        &self,
        player: PlayerId,
        most: usize,
    ) -> Result<Vec<RosterLine>, StoreError> {
        let rows = sqlx::query(
            "SELECT players.*, standings.* FROM (
                 SELECT swing_id AS key FROM standings WHERE player_id <> ? AND analysis_id IS NOT NULL
                 ORDER BY swing_id DESC LIMIT ?)
             JOIN standings ON swing_id = key JOIN players ON players.id = player_id
             ORDER BY name COLLATE NOCASE, swing_id DESC",
        )
        .bind(player.0)
        .bind(i64::try_from(most).unwrap_or(i64::MAX))
        .fetch_all(&self.pool)
        .await
        .map_err(during("list other players' swings"))?;
        let line = |row: &SqliteRow| {
            Ok(RosterLine {
                player: player_of(row)?,
                latest: Some(standing_of(row)?),
            })
        };
        rows.iter().map(line).collect()
    }

    /// The roster from the `skip`th player on, at most `most`; only those whose name or facts have words like
    /// `named`, if that is not empty.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn roster(
        &self,
        named: &str,
        skip: usize,
        most: usize,
    ) -> Result<RosterPage, StoreError> {
        // No words, or none to look for: everybody.
        let words = match &match_words(named)[..] {
            [] => None,
            named => Some(self.near_words(named).await?),
        };
        let matched = "WHERE id IN (SELECT rowid - (1 << 40) FROM search WHERE search MATCH ?
                       AND rowid BETWEEN (1 << 40) AND (2 << 40) - 1)";
        let condition = words.as_ref().map_or("", |_| matched);
        let failed = || during("list the roster");
        let text = format!("SELECT count(*) FROM players {condition}");
        let mut count = sqlx::query_scalar::<_, i64>(sqlx::AssertSqlSafe(text));
        let text = format!(
            "SELECT players.*, standings.* FROM (SELECT id AS key FROM players {condition}
                 ORDER BY name COLLATE NOCASE, id LIMIT ? OFFSET ?)
             JOIN players ON players.id = key
             LEFT JOIN standings ON swing_id = (SELECT max(swing_id) FROM standings WHERE player_id = key)
             ORDER BY name COLLATE NOCASE, id"
        );
        let mut lines = sqlx::query(sqlx::AssertSqlSafe(text));
        if let Some(words) = &words {
            count = count.bind(words.clone());
            lines = lines.bind(words.clone());
        }
        let players = count.fetch_one(&self.pool).await.map_err(failed())?;
        let lines = lines
            .bind(i64::try_from(most).unwrap_or(i64::MAX))
            .bind(i64::try_from(skip).unwrap_or(i64::MAX))
            .fetch_all(&self.pool)
            .await
            .map_err(failed())?;
        let line = |row: &SqliteRow| {
            let latest = row.get::<Option<i64>, _>("swing_id");
            Ok(RosterLine {
                player: player_of(row)?,
                latest: latest.map(|_| standing_of(row)).transpose()?,
            })
        };
        Ok(RosterPage {
            lines: lines.iter().map(line).collect::<Result<_, StoreError>>()?,
            players: usize::try_from(players).unwrap_or_default(),
        })
    }
}

fn waiting_of(row: &SqliteRow) -> Result<Waiting, StoreError> {
    Ok(Waiting {
        standing: standing_of(row)?,
        player: PlayerId(row.get("player_id")),
        name: row.get("name"),
        since: timestamp(row.get("since"), "where a swing stands".into())?,
        sending_agreed: row.get("sending_agreed"),
        sent_in: row.get("sent_in"),
    })
}

fn standing_of(row: &SqliteRow) -> Result<Standing, StoreError> {
    let there = |column| row.get::<Option<&str>, _>(column).is_some();
    let state = match (there("approved_at"), there("sent_at")) {
        (_, true) => LessonState::Sent,
        (true, false) => LessonState::Approved,
        (false, false) => LessonState::Drafted,
    };
    let lesson: Option<i64> = row.get("lesson_id");
    Ok(Standing {
        swing: SwingId(row.get("swing_id")),
        made_at: timestamp(row.get("made_at"), "where a swing stands".into())?,
        analysed: row.get::<Option<i64>, _>("analysis_id").is_some(),
        title: row.get("title"),
        lesson: lesson.map(|lesson| (LessonId(lesson), state)),
        set_aside: there("set_aside_at"),
    })
}
