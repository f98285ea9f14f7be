//! Lessons: drafted by the program, approved by the professional, sent to the player.

use crate::consents::Purpose;
use crate::error::{StoreError, during};
use crate::follow_up::keep_prescription;
use crate::players::timestamp;
use crate::rows::{AnalysisId, Lesson, LessonId, LessonSummary, PlayerId, SwingId};
use crate::store::Store;
use jiff::Timestamp;
use sqlx::Row;
use sqlx::sqlite::SqliteRow;

/// Everything but the page, which may be large. Ends where a condition can be added.
const SUMMARIES: &str = "SELECT lessons.id, analysis_id, swing_id, player_id,
        drafted_at, approved_at, sent_at
    FROM lessons
    JOIN analyses ON analyses.id = analysis_id
    JOIN swings ON swings.id = swing_id";

impl Store {
    /// Adds a lesson, drafted, with what its analysis prescribes.
    ///
    /// # Errors
    /// If there is no such analysis.
    pub async fn add_lesson(
        &self,
        analysis: AnalysisId,
        page: &[u8],
        drafted_at: Timestamp,
    ) -> Result<LessonId, StoreError> {
        let mut change = self.pool.begin().await.map_err(during("add a lesson"))?;
        let done =
            sqlx::query("INSERT INTO lessons (analysis_id, page, drafted_at) VALUES (?, ?, ?)")
                .bind(analysis.0)
                .bind(page)
                .bind(drafted_at.to_string())
                .execute(&mut *change)
                .await
                .map_err(|source| match &source {
                    sqlx::Error::Database(error) if error.is_foreign_key_violation() => {
                        StoreError::NoAnalysis(analysis)
                    }
                    _ => during("add a lesson")(source),
                })?;
        let id = LessonId(done.last_insert_rowid());
        keep_prescription(&mut change, id, analysis).await?;
        change.commit().await.map_err(during("add a lesson"))?;
        Ok(id)
    }

    /// Notes that the professional approved a lesson. A second approval changes nothing.
    ///
    /// # Errors
    /// If there is no such lesson.
    pub async fn approve_lesson(&self, id: LessonId, at: Timestamp) -> Result<(), StoreError> {
        let done =
            sqlx::query("UPDATE lessons SET approved_at = coalesce(approved_at, ?) WHERE id = ?")
                .bind(at.to_string())
                .bind(id.0)
                .execute(&self.pool)
                .await
                .map_err(during("approve a lesson"))?;
        if done.rows_affected() == 0 {
            return Err(StoreError::NoLesson(id));
        }
        Ok(())
    }

    /// Notes that a lesson went out. A second time changes nothing.
    ///
    /// # Errors
    /// If there is no such lesson, it is not approved, or its player has not agreed to be sent anything.
    pub async fn mark_lesson_sent(&self, id: LessonId, at: Timestamp) -> Result<(), StoreError> {
        self.check_sending_agreed(id).await?;
        let done = sqlx::query(
            "UPDATE lessons SET sent_at = coalesce(sent_at, ?)
             WHERE id = ? AND approved_at IS NOT NULL",
        )
        .bind(at.to_string())
        .bind(id.0)
        .execute(&self.pool)
        .await
        .map_err(during("note that a lesson was sent"))?;
        match (done.rows_affected(), self.lesson_summary(id).await?) {
            (_, None) => Err(StoreError::NoLesson(id)),
            (0, Some(_)) => Err(StoreError::NotApproved(id)),
            _ => Ok(()),
        }
    }

    /// Refuses what goes out to a player without a consent to sending in force.
    async fn check_sending_agreed(&self, id: LessonId) -> Result<(), StoreError> {
        let lesson = self
            .lesson_summary(id)
            .await?
            .ok_or(StoreError::NoLesson(id))?;
        let consents = self.consents_of(lesson.player).await?;
        if consents.in_force(Purpose::Sending).is_some() || lesson.approved_at.is_none() {
            return Ok(());
        }
        let player = self.player(lesson.player).await?;
        Err(StoreError::SendingNotAgreed {
            player: player.map(|player| player.facts.name).unwrap_or_default(),
            lesson: id,
        })
    }

    /// One lesson with its page.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn lesson(&self, id: LessonId) -> Result<Option<Lesson>, StoreError> {
        let Some(summary) = self.lesson_summary(id).await? else {
            return Ok(None);
        };
        let page = sqlx::query_scalar("SELECT page FROM lessons WHERE id = ?")
            .bind(id.0)
            .fetch_optional(&self.pool)
            .await
            .map_err(during("read a lesson's page"))?;
        Ok(page.map(|page| Lesson { summary, page }))
    }

    /// One lesson without its page.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn lesson_summary(&self, id: LessonId) -> Result<Option<LessonSummary>, StoreError> {
        let found = self.summaries("WHERE lessons.id = ?", id.0).await?;
        Ok(found.into_iter().next())
    }

    /// A swing's lessons, latest first.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn lessons_of_swing(&self, id: SwingId) -> Result<Vec<LessonSummary>, StoreError> {
        self.summaries("WHERE swings.id = ?", id.0).await
    }

    /// A player's lessons, latest first.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn lessons_of_player(&self, id: PlayerId) -> Result<Vec<LessonSummary>, StoreError> {
        self.summaries("WHERE player_id = ?", id.0).await
    }

    async fn summaries(
        &self,
        condition: &'static str,
        key: i64,
    ) -> Result<Vec<LessonSummary>, StoreError> {
        // Both parts are constants of this file; the key is bound.
        let text = format!("{SUMMARIES} {condition} ORDER BY lessons.id DESC");
        sqlx::query(sqlx::AssertSqlSafe(text))
            .bind(key)
            .fetch_all(&self.pool)
            .await
            .map_err(during("list lessons"))?
            .iter()
            .map(from_row)
            .collect()
    }
}

fn from_row(row: &SqliteRow) -> Result<LessonSummary, StoreError> {
    let id: i64 = row.get("id");
    let instant = |column| {
        row.get::<Option<String>, _>(column)
            .map(|text| timestamp(&text, format!("lesson {id}")))
            .transpose()
    };
    Ok(LessonSummary {
        id: LessonId(id),
        analysis: AnalysisId(row.get("analysis_id")),
        swing: SwingId(row.get("swing_id")),
        player: PlayerId(row.get("player_id")),
        drafted_at: timestamp(row.get("drafted_at"), format!("lesson {id}"))?,
        approved_at: instant("approved_at")?,
        sent_at: instant("sent_at")?,
    })
}
