//! What was said of a swing and what was corrected in it by hand. Corrections pile up, so that the last
//! change can be taken back; analyses computed before a change stay.

use crate::error::{StoreError, during};
use crate::rows::{AnalysisId, SwingId};
use crate::store::Store;
use jiff::Timestamp;
use lessonwright_model::{Brief, Corrections, SwingAnalysis};
use serde::Serialize;
use serde::de::DeserializeOwned;

/// A change to what is corrected by hand.
#[derive(Clone, Debug, PartialEq)]
pub enum CorrectionStep {
    /// From now on, all this is corrected.
    Add(Corrections),
    /// The last change is taken back.
    TakeBack,
}

impl Store {
    /// Notes what the professional said of a swing; what was noted before is replaced.
    ///
    /// # Errors
    /// If there is no such swing.
    pub async fn keep_brief(&self, swing: SwingId, brief: &Brief) -> Result<(), StoreError> {
        self.swing(swing).await?.ok_or(StoreError::NoSwing(swing))?;
        sqlx::query("INSERT OR REPLACE INTO briefs (swing_id, brief) VALUES (?, ?)")
            .bind(swing.0)
            .bind(written(brief, swing)?)
            .execute(&self.pool)
            .await
            .map_err(during("note what was said of a swing"))?;
        Ok(())
    }

    /// What the professional said of a swing; none for a swing kept by an early version.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn brief(&self, swing: SwingId) -> Result<Option<Brief>, StoreError> {
        let text: Option<String> =
            sqlx::query_scalar("SELECT brief FROM briefs WHERE swing_id = ?")
                .bind(swing.0)
                .fetch_optional(&self.pool)
                .await
                .map_err(during("look for what was said of a swing"))?;
        text.map(|text| read(&text, "what was said of swing", swing))
            .transpose()
    }

    /// Every state of what was corrected in a swing, latest first; nothing corrected is the state
    /// before the last in the list.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn corrections_of(&self, swing: SwingId) -> Result<Vec<Corrections>, StoreError> {
        let texts: Vec<String> = sqlx::query_scalar(
            "SELECT corrections FROM corrections WHERE swing_id = ? ORDER BY id DESC",
        )
        .bind(swing.0)
        .fetch_all(&self.pool)
        .await
        .map_err(during("look for corrections"))?;
        texts
            .iter()
            .map(|text| read(text, "the corrections of swing", swing))
            .collect()
    }

    /// Keeps a change with the analysis computed under it: both or neither.
    ///
    /// # Errors
    /// If there is no such swing, or no change to take back.
    pub async fn keep_corrected(
        &self,
        swing: SwingId,
        step: &CorrectionStep,
        analysis: &SwingAnalysis,
        at: Timestamp,
    ) -> Result<AnalysisId, StoreError> {
        let failed = || during("keep a correction");
        self.swing(swing).await?.ok_or(StoreError::NoSwing(swing))?;
        let mut change = self
            .pool
            .begin_with("BEGIN IMMEDIATE")
            .await
            .map_err(failed())?;
        let query = match step {
            CorrectionStep::Add(corrections) => sqlx::query(
                "INSERT INTO corrections (swing_id, corrections, made_at) VALUES (?, ?, ?)",
            )
            .bind(swing.0)
            .bind(written(corrections, swing)?)
            .bind(at.to_string()),
            CorrectionStep::TakeBack => sqlx::query(
                "DELETE FROM corrections
                 WHERE id = (SELECT max(id) FROM corrections WHERE swing_id = ?)",
            )
            .bind(swing.0),
        };
        let done = query.execute(&mut *change).await.map_err(failed())?;
        if done.rows_affected() == 0 {
            return Err(StoreError::NothingCorrected(swing));
        }
        let kept = sqlx::query(
            "INSERT INTO analyses (swing_id, schema_version, program_version, analysis, computed_at)
             VALUES (?, ?, ?, ?, ?)",
        )
        .bind(swing.0)
        .bind(i64::from(analysis.schema_version))
        .bind(&analysis.program_version)
        .bind(written(analysis, swing)?)
        .bind(at.to_string())
        .execute(&mut *change)
        .await
        .map_err(failed())?;
        change.commit().await.map_err(failed())?;
        Ok(AnalysisId(kept.last_insert_rowid()))
    }
}

fn written(value: &impl Serialize, swing: SwingId) -> Result<String, StoreError> {
    serde_json::to_string(value)
        .map_err(|source| unreadable("what belongs to swing", swing, source))
}

fn read<T: DeserializeOwned>(
    text: &str,
    what: &'static str,
    swing: SwingId,
) -> Result<T, StoreError> {
    serde_json::from_str(text).map_err(|source| unreadable(what, swing, source))
}

fn unreadable(what: &'static str, swing: SwingId, source: serde_json::Error) -> StoreError {
    StoreError::Unreadable {
        what: format!("{what} {swing}"),
        source: source.into(),
    }
}
