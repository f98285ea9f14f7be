//! What the follow-up rests on: how swings were made, what was prescribed, and each player's history.

use crate::error::{StoreError, during};
use crate::players::timestamp;
use crate::rows::{AnalysisId, LessonId, LessonState, PlayerId, Swing, SwingId};
use crate::store::Store;
use jiff::Timestamp;
use jiff::civil::{Date, date};
use jiff::tz::TimeZone;
use lessonwright_model::{
    Aim, Day, FilmedSwing, Finding, FoundIn, Given, History, Measure, Occasion, Place,
    SwingAnalysis,
};
use serde::Deserialize;
use serde::de::DeserializeOwned;
use sqlx::Row;
use sqlx::sqlite::{SqliteConnection, SqliteRow};
use std::collections::BTreeMap;

/// What the professional says of how a swing was made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct SwingMark {
    /// How it was made; none where that is not said.
    pub occasion: Option<Occasion>,
    /// To which day's session it belongs; none for the day it was filmed.
    pub session_on: Option<Date>,
}

/// A prescription put on record by hand.
#[derive(Clone, Debug, PartialEq)]
pub struct ByHand {
    /// The drill's key.
    pub drill: String,
    /// The drill's title.
    pub title: String,
    /// What is to change.
    pub aim: Option<Aim>,
    /// The day it was given.
    pub given_on: Date,
    /// Days to the next lesson.
    pub next_in_days: Option<u32>,
}

/// 1 January 1970.
const FIRST_DAY: Date = date(1970, 1, 1);

/// A civil day as the follow-up counts it.
pub fn day_of(on: Date) -> Day {
    Day((on - FIRST_DAY).get_days())
}

/// The day as a calendar has it.
pub fn date_of(day: Day) -> Date {
    FIRST_DAY.saturating_add(jiff::Span::new().days(day.0))
}

impl Store {
    /// Notes how a swing was made; what was noted before is replaced.
    ///
    /// # Errors
    /// If there is no such swing.
    pub async fn mark_swing(&self, id: SwingId, mark: SwingMark) -> Result<(), StoreError> {
        self.swing(id).await?.ok_or(StoreError::NoSwing(id))?;
        sqlx::query(
            "INSERT OR REPLACE INTO swing_marks (swing_id, occasion, session_on) VALUES (?, ?, ?)",
        )
        .bind(id.0)
        .bind(mark.occasion.map(Occasion::key))
        .bind(mark.session_on.map(|on| on.to_string()))
        .execute(&self.pool)
        .await
        .map_err(during("note how a swing was made"))?;
        Ok(())
    }

    /// How a swing was made, as far as it was said.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn swing_mark(&self, id: SwingId) -> Result<SwingMark, StoreError> {
        let row = sqlx::query("SELECT * FROM swing_marks WHERE swing_id = ?")
            .bind(id.0)
            .fetch_optional(&self.pool)
            .await
            .map_err(during("look how a swing was made"))?;
        row.as_ref().map_or(Ok(SwingMark::default()), mark_of)
    }

    /// Puts a prescription on record that no lesson made.
    ///
    /// # Errors
    /// If there is no such player.
    pub async fn prescribe(&self, player: PlayerId, what: &ByHand) -> Result<i64, StoreError> {
        self.player(player)
            .await?
            .ok_or(StoreError::NoPlayer(player))?;
        let aim = what.aim.as_ref();
        let done = sqlx::query(
            "INSERT INTO prescriptions
                 (player_id, drill, title, measure, moment, against, goal, start, given_on, next_in_days)
             VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        )
        .bind(player.0)
        .bind(&what.drill)
        .bind(&what.title)
        .bind(aim.map(|aim| word(&aim.place.measure)))
        .bind(aim.map(|aim| word(&aim.place.moment)))
        .bind(aim.and_then(|aim| aim.place.against.map(|moment| word(&moment))))
        .bind(aim.map(|aim| aim.goal))
        .bind(aim.and_then(|aim| aim.start))
        .bind(what.given_on.to_string())
        .bind(what.next_in_days.map(i64::from))
        .execute(&self.pool)
        .await
        .map_err(during("put a prescription on record"))?;
        Ok(done.last_insert_rowid())
    }

    /// Sets the days from a prescription to the next lesson; none for the usual ones. Gives back whose it is.
    ///
    /// # Errors
    /// If there is no such prescription, or the days are none.
    pub async fn set_next_lesson(
        &self,
        prescription: i64,
        days: Option<u32>,
    ) -> Result<PlayerId, StoreError> {
        if days == Some(0) {
            return Err(StoreError::Impossible {
                what: "days to the next lesson",
                value: 0.0,
            });
        }
        self.change_prescription(
            "UPDATE prescriptions SET next_in_days = ? WHERE id = ? RETURNING player_id",
            days.map(|days| days.to_string()),
            prescription,
        )
        .await
    }

    /// Ends a prescription on a day; none to take that back. Gives back whose it is.
    ///
    /// # Errors
    /// If there is no such prescription.
    pub async fn end_prescription(
        &self,
        prescription: i64,
        on: Option<Date>,
    ) -> Result<PlayerId, StoreError> {
        self.change_prescription(
            "UPDATE prescriptions SET ended_on = ? WHERE id = ? RETURNING player_id",
            on.map(|on| on.to_string()),
            prescription,
        )
        .await
    }

    async fn change_prescription(
        &self,
        statement: &'static str,
        to: Option<String>,
        prescription: i64,
    ) -> Result<PlayerId, StoreError> {
        let player: Option<i64> = sqlx::query_scalar(statement)
            .bind(to)
            .bind(prescription)
            .fetch_optional(&self.pool)
            .await
            .map_err(during("change a prescription"))?;
        player
            .map(PlayerId)
            .ok_or(StoreError::NoPrescription(prescription))
    }

    /// All that the follow-up needs of a player; days are those of `zone`.
    ///
    /// # Errors
    /// If there is no such player, or the database holds an analysis of another contract.
    pub async fn history(&self, id: PlayerId, zone: &TimeZone) -> Result<History, StoreError> {
        let player = self.player(id).await?.ok_or(StoreError::NoPlayer(id))?;
        let marks = self.marks_of(id).await?;
        let mut swings = Vec::new();
        for (swing, read) in self.analysed_swings_of(id).await? {
            let mark = marks.get(&swing.id.0).copied().unwrap_or_default();
            swings.push(filmed(&swing, mark, read, zone));
        }
        swings.sort_by_key(|s| (s.day, s.at_s, s.swing));
        let mut history = History {
            player: id.0,
            name: player.facts.name,
            swings,
            ..History::default()
        };
        self.add_prescriptions(&mut history, zone).await?;
        Ok(history)
    }

    /// The histories of all players, in the order of the roster.
    ///
    /// # Errors
    /// As [`Store::history`].
    pub async fn histories(&self, zone: &TimeZone) -> Result<Vec<History>, StoreError> {
        let mut all = Vec::new();
        for player in self.players().await? {
            all.push(self.history(player.id, zone).await?);
        }
        Ok(all)
    }

    /// A player's analysed swings, each with its latest analysis, latest added first.
    async fn analysed_swings_of(&self, id: PlayerId) -> Result<Vec<(Swing, Followed)>, StoreError> {
        let swings = self.swings_of(id).await?.into_iter();
        let mut swings: BTreeMap<SwingId, Swing> = swings.map(|swing| (swing.id, swing)).collect();
        let rows = sqlx::query(
            "SELECT analyses.id, analyses.swing_id, analysis FROM standings JOIN analyses ON analyses.id = analysis_id
             WHERE player_id = ? ORDER BY standings.swing_id DESC",
        )
        .bind(id.0)
        .fetch_all(&self.pool)
        .await
        .map_err(during("read a player's analyses"))?;
        let mut analysed = Vec::new();
        for row in &rows {
            let key: i64 = row.get("id");
            let read = serde_json::from_str(row.get("analysis"));
            let read = read.map_err(|source| StoreError::Unreadable {
                what: format!("analysis {key}"),
                source: source.into(),
            })?;
            let swing = swings.remove(&SwingId(row.get("swing_id")));
            analysed.extend(swing.map(|swing| (swing, read)));
        }
        Ok(analysed)
    }

    /// How often what the follow-up rests on was changed, for each player: what was made of a history is good as
    /// long as its number stays.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn follow_changes(&self) -> Result<BTreeMap<i64, i64>, StoreError> {
        let rows: Vec<(i64, i64)> = sqlx::query_as("SELECT player_id, changes FROM follow_changes")
            .fetch_all(&self.pool)
            .await
            .map_err(during("see what changed"))?;
        Ok(rows.into_iter().collect())
    }

    /// A stamp of all that the follow-up rests on: it is another one after every change. Keys are never used again, so
    /// that somebody erased and somebody new don't make up for one another.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn follow_stamp(&self) -> Result<(i64, i64, i64), StoreError> {
        sqlx::query_as(
            "SELECT count(*), coalesce(sum(changes), 0), coalesce(max(player_id), 0) FROM follow_changes",
        )
        .fetch_one(&self.pool)
        .await
        .map_err(during("see whether anything changed"))
    }

    /// Of every player with a prescription in force as much as says when the next lesson is due: the
    /// prescriptions, and the latest session that was not practice alone. No measures are in it.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn dues(&self, zone: &TimeZone) -> Result<Vec<History>, StoreError> {
        let failed = || during("look who is due");
        let rows = sqlx::query(
            "SELECT given.*, name, approved_at, swing_id FROM prescriptions AS given
             JOIN players ON players.id = given.player_id
             LEFT JOIN lessons INDEXED BY lessons_in_short ON lessons.id = given.lesson_id
             LEFT JOIN analyses ON analyses.id = analysis_id
             WHERE ended_on IS NULL AND (lesson_id IS NULL OR approved_at IS NOT NULL AND NOT EXISTS (
                 SELECT 1 FROM analyses AS other JOIN lessons AS later ON later.analysis_id = other.id
                 WHERE other.swing_id = analyses.swing_id AND later.id > lessons.id
                     AND later.approved_at IS NOT NULL))",
        )
        .fetch_all(&self.pool)
        .await
        .map_err(failed())?;
        let mut all: BTreeMap<i64, History> = BTreeMap::new();
        for row in &rows {
            let player: i64 = row.get("player_id");
            let lesson = match row.get::<Option<&str>, _>("approved_at") {
                None => None,
                Some(at) => Some((
                    SwingId(row.get("swing_id")),
                    timestamp(at, format!("a lesson of player {player}"))?,
                )),
            };
            let history = all.entry(player).or_insert_with(|| History {
                player,
                name: row.get("name"),
                ..History::default()
            });
            history.given.push(given(row, lesson, zone)?);
        }
        let rows = sqlx::query(
            "SELECT standings.player_id, max(CASE WHEN session_on IS NULL THEN made_at END) AS at,
                    max(session_on) AS session_on
             FROM standings LEFT JOIN swing_marks ON swing_marks.swing_id = standings.swing_id
             WHERE analysis_id IS NOT NULL AND occasion IS NOT 'practice'
             GROUP BY standings.player_id",
        )
        .fetch_all(&self.pool)
        .await
        .map_err(failed())?;
        for row in &rows {
            let player: i64 = row.get("player_id");
            if let Some(history) = all.get_mut(&player) {
                history.swings = last_days(row, zone)?.into_iter().map(on_day).collect();
            }
        }
        for history in all.values_mut() {
            history.given.sort_by_key(|g| (g.day, g.at_s, g.id));
        }
        Ok(all.into_values().collect())
    }

    async fn marks_of(&self, id: PlayerId) -> Result<BTreeMap<i64, SwingMark>, StoreError> {
        sqlx::query(
            "SELECT swing_marks.* FROM swing_marks JOIN swings ON swings.id = swing_id WHERE player_id = ?",
        )
        .bind(id.0)
        .fetch_all(&self.pool)
        .await
        .map_err(during("look how swings were made"))?
        .iter()
        .map(|row| Ok((row.get("swing_id"), mark_of(row)?)))
        .collect()
    }

    /// Those in force: by hand, and of each swing the lesson approved last.
    async fn add_prescriptions(
        &self,
        history: &mut History,
        zone: &TimeZone,
    ) -> Result<(), StoreError> {
        let lessons = self.lessons_of_player(PlayerId(history.player)).await?;
        let rows = sqlx::query("SELECT * FROM prescriptions WHERE player_id = ? ORDER BY id")
            .bind(history.player)
            .fetch_all(&self.pool)
            .await
            .map_err(during("list prescriptions"))?;
        for row in &rows {
            let lesson = row.get::<Option<i64>, _>("lesson_id").map(LessonId);
            let Some(lesson) = lesson else {
                history.given.push(given(row, None, zone)?);
                continue;
            };
            // Latest first, so the first approved one of a swing is the one that counts.
            let Some(own) = lessons.iter().find(|l| l.id == lesson) else {
                continue;
            };
            let of_swing = || lessons.iter().filter(|l| l.swing == own.swing);
            let approved = of_swing().find(|l| l.state() != LessonState::Drafted);
            match (approved.map(|l| l.id), own.approved_at) {
                (Some(latest), Some(at)) if latest == lesson => {
                    history.given.push(given(row, Some((own.swing, at)), zone)?);
                }
                (None, _) if of_swing().next().map(|l| l.id) == Some(lesson) => history.drafts += 1,
                _ => {}
            }
        }
        history.given.sort_by_key(|g| (g.day, g.at_s, g.id));
        Ok(())
    }
}

/// Writes a lesson's prescription down beside it, if its analysis has one.
pub(crate) async fn keep_prescription(
    database: &mut SqliteConnection,
    lesson: LessonId,
    analysis: AnalysisId,
) -> Result<(), StoreError> {
    let failed = || during("keep a lesson's prescription");
    let row = sqlx::query(
        "SELECT player_id, analysis FROM analyses JOIN swings ON swings.id = swing_id WHERE analyses.id = ?",
    )
    .bind(analysis.0)
    .fetch_one(&mut *database)
    .await
    .map_err(failed())?;
    let read: SwingAnalysis =
        serde_json::from_str(row.get("analysis")).map_err(|source| StoreError::Unreadable {
            what: format!("analysis {analysis}"),
            source: source.into(),
        })?;
    let Some(prescription) = &read.prescription else {
        return Ok(());
    };
    let aim = prescription.measure.zip(prescription.reach);
    let place = aim.map(|(measure, _)| Place {
        measure,
        moment: prescription.moment,
        against: prescription.against,
    });
    let start = place.and_then(|place| {
        let taken = read.measures.iter().find(|m| Place::of(m) == place);
        taken.and_then(|m| m.value)
    });
    let drill = read.drills.iter().find(|d| d.key == prescription.drill);
    let title = drill.map_or(&prescription.drill, |d| &d.title);
    sqlx::query(
        "INSERT INTO prescriptions
             (player_id, lesson_id, drill, title, measure, moment, against, goal, start)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
    )
    .bind(row.get::<i64, _>("player_id"))
    .bind(lesson.0)
    .bind(&prescription.drill)
    .bind(title)
    .bind(place.map(|p| word(&p.measure)))
    .bind(word(&prescription.moment))
    .bind(prescription.against.map(|moment| word(&moment)))
    .bind(aim.map(|(_, reach)| reach))
    .bind(start)
    .execute(&mut *database)
    .await
    .map_err(failed())?;
    Ok(())
}

/// As much of an analysis as the follow-up rests on: to read all its words, of every swing, takes most of the time.
#[derive(Deserialize)]
struct Followed {
    measures: Vec<Measure>,
    findings: Vec<Finding>,
    priority: Option<FollowedPriority>,
}

#[derive(Deserialize)]
struct FollowedPriority {
    finding: String,
    title: String,
}

fn filmed(swing: &Swing, mark: SwingMark, analysis: Followed, zone: &TimeZone) -> FilmedSwing {
    let at = swing.filmed_at.unwrap_or(swing.added_at);
    let own = at.to_zoned(zone.clone()).date();
    let moved = mark.session_on.filter(|on| *on != own);
    let found = |finding: &Finding| FoundIn {
        key: finding.key.clone(),
        place: Place {
            measure: finding.measure,
            moment: finding.moment,
            against: finding.against,
        },
        above: finding.value > finding.reference_high,
    };
    FilmedSwing {
        swing: swing.id.0,
        day: day_of(moved.unwrap_or(own)),
        // A day said by hand has no time of day.
        at_s: moved.is_none().then(|| at.as_second()),
        day_assumed: swing.filmed_at.is_none() && mark.session_on.is_none(),
        occasion: mark.occasion,
        findings: analysis.findings.iter().map(found).collect(),
        priority: analysis.priority.map(|p| (p.finding, p.title)),
        measures: analysis.measures,
    }
}

/// The latest day of sessions by when they were filmed, and by what was said.
fn last_days(row: &SqliteRow, zone: &TimeZone) -> Result<Vec<Date>, StoreError> {
    let filmed = match row.get::<Option<&str>, _>("at") {
        None => None,
        Some(at) => Some(timestamp(at, "when a swing was filmed".into())?),
    };
    let filmed = filmed.map(|at| at.to_zoned(zone.clone()).date());
    Ok(filmed
        .into_iter()
        .chain(date_in(row, "session_on")?)
        .collect())
}

/// A swing of which only its day counts.
fn on_day(day: Date) -> FilmedSwing {
    FilmedSwing {
        day: day_of(day),
        ..FilmedSwing::default()
    }
}

fn mark_of(row: &SqliteRow) -> Result<SwingMark, StoreError> {
    Ok(SwingMark {
        occasion: row
            .get::<Option<&str>, _>("occasion")
            .and_then(Occasion::of_key),
        session_on: date_in(row, "session_on")?,
    })
}

/// A row as the follow-up takes it; `lesson` is the swing and when its lesson was approved.
fn given(
    row: &SqliteRow,
    lesson: Option<(SwingId, Timestamp)>,
    zone: &TimeZone,
) -> Result<Given, StoreError> {
    let id: i64 = row.get("id");
    let approved = lesson.map(|(_, at)| at.to_zoned(zone.clone()).date());
    let on = date_in(row, "given_on")?.or(approved);
    let aim = match row.get::<Option<f64>, _>("goal") {
        None => None,
        Some(goal) => Some(Aim {
            place: Place {
                measure: read_word(row, "measure", id)?,
                moment: read_word(row, "moment", id)?,
                against: match row.get::<Option<&str>, _>("against") {
                    None => None,
                    Some(_) => Some(read_word(row, "against", id)?),
                },
            },
            goal,
            start: row.get("start"),
        }),
    };
    Ok(Given {
        id,
        swing: lesson.map(|(swing, _)| swing.0),
        drill: row.get("drill"),
        title: row.get("title"),
        aim,
        day: on.map(day_of).unwrap_or_default(),
        at_s: lesson.map(|(_, at)| at.as_second()),
        next_in_days: row
            .get::<Option<i64>, _>("next_in_days")
            .and_then(|days| u32::try_from(days).ok()),
        ended: date_in(row, "ended_on")?.map(day_of),
    })
}

pub(crate) fn date_in(row: &SqliteRow, column: &str) -> Result<Option<Date>, StoreError> {
    let text: Option<String> = row.get(column);
    text.map(|text| {
        text.parse()
            .map_err(|source: jiff::Error| StoreError::Unreadable {
                what: format!("the day \"{text}\""),
                source: source.into(),
            })
    })
    .transpose()
}

/// A name of the model as the JSON contract writes it.
fn word(name: &impl serde::Serialize) -> String {
    match serde_json::to_value(name) {
        Ok(serde_json::Value::String(word)) => word,
        other => unreachable!("a name is written as a word, not {other:?}"),
    }
}

fn read_word<T: DeserializeOwned>(row: &SqliteRow, column: &str, id: i64) -> Result<T, StoreError> {
    let text: String = row.get(column);
    serde_json::from_value(text.into()).map_err(|source| StoreError::Unreadable {
        what: format!("prescription {id}"),
        source: source.into(),
    })
}
