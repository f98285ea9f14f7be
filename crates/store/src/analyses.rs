//! Analyses: kept whole, with the version of the program that computed them.

use crate::error::{StoreError, during};
use crate::players::timestamp;
use crate::rows::{AnalysisId, StoredAnalysis, SwingId};
use crate::store::Store;
use jiff::Timestamp;
use lessonwright_model::SwingAnalysis;
use sqlx::Row;
use sqlx::sqlite::SqliteRow;

impl Store {
    /// Adds an analysis of a swing; earlier ones stay.
    ///
    /// # Errors
    /// If there is no such swing.
    pub async fn add_analysis(
        &self,
        swing: SwingId,
        analysis: &SwingAnalysis,
        computed_at: Timestamp,
    ) -> Result<AnalysisId, StoreError> {
        self.swing(swing).await?.ok_or(StoreError::NoSwing(swing))?;
        let json = serde_json::to_string(analysis).map_err(|source| StoreError::Unreadable {
            what: format!("the analysis of swing {swing}"),
            source: source.into(),
        })?;
        let done = sqlx::query(
            "INSERT INTO analyses (swing_id, schema_version, program_version, analysis, computed_at)
             VALUES (?, ?, ?, ?, ?)",
        )
        .bind(swing.0)
        .bind(i64::from(analysis.schema_version))
        .bind(&analysis.program_version)
        .bind(json)
        .bind(computed_at.to_string())
        .execute(&self.pool)
        .await
        .map_err(during("add an analysis"))?;
        Ok(AnalysisId(done.last_insert_rowid()))
    }

    /// The analysis of a swing that was added last.
    ///
    /// # Errors
    /// If the database fails or holds an analysis of another contract.
    pub async fn latest_analysis(
        &self,
        swing: SwingId,
    ) -> Result<Option<StoredAnalysis>, StoreError> {
        sqlx::query("SELECT * FROM analyses WHERE swing_id = ? ORDER BY id DESC LIMIT 1")
            .bind(swing.0)
            .fetch_optional(&self.pool)
            .await
            .map_err(during("look for an analysis"))?
            .map(|row| from_row(&row))
            .transpose()
    }
}

pub(crate) fn from_row(row: &SqliteRow) -> Result<StoredAnalysis, StoreError> {
    let id: i64 = row.get("id");
    let what = || format!("analysis {id}");
    let analysis =
        serde_json::from_str(row.get("analysis")).map_err(|source| StoreError::Unreadable {
            what: what(),
            source: source.into(),
        })?;
    Ok(StoredAnalysis {
        id: AnalysisId(id),
        swing: SwingId(row.get("swing_id")),
        analysis,
        computed_at: timestamp(row.get("computed_at"), what())?,
    })
}
