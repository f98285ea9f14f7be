//! Works: swings that are to go down the road, in the order in which they were asked for, and how long each step takes here.

use crate::arrivals::{Arrival, ArrivalId};
use crate::error::{StoreError, during};
use crate::players::{check_film_allowed, timestamp};
use crate::rows::{PlayerId, SwingId};
use crate::store::Store;
use jiff::Timestamp;
use sqlx::Row;
use sqlx::sqlite::SqliteRow;
use std::collections::BTreeMap;
use std::fmt;

/// Key of a work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WorkId(pub i64);

impl fmt::Display for WorkId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// How far a work is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WorkState {
    /// Others come first.
    Waiting,
    /// On the road.
    UnderWay,
    /// Its swing and lesson are there.
    Done,
    /// It went wrong; the trouble says why.
    Failed,
    /// The professional stopped it.
    Stopped,
}

/// One swing to be taken down the road.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// Key.
    pub id: WorkId,
    /// Whose.
    pub player: PlayerId,
    /// How far it is.
    pub state: WorkState,
    /// Why it went wrong, and what to do.
    pub trouble: Option<String>,
    /// What came of it.
    pub swing: Option<SwingId>,
    /// When it was asked for.
    pub asked_at: Timestamp,
    /// Its clips that are still in the tray.
    pub arrivals: Vec<Arrival>,
}

impl Store {
    /// Puts one clip or two of one player on the queue as one swing. Clips that are on it already are refused.
    ///
    /// # Errors
    /// If they are not this player's or free, for a minor without a guardian's consent, if the database fails.
    pub async fn add_work(
        &self,
        player: PlayerId,
        arrivals: &[ArrivalId],
        at: Timestamp,
    ) -> Result<WorkId, StoreError> {
        let failed = || during("put a swing on the queue");
        let mut change = self
            .pool
            .begin_with("BEGIN IMMEDIATE")
            .await
            .map_err(failed())?;
        check_film_allowed(&mut *change, player).await?;
        let done = sqlx::query(
            "INSERT INTO swing_works (player_id, state, asked_at) VALUES (?, 'waiting', ?)",
        )
        .bind(player.0)
        .bind(at.to_string())
        .execute(&mut *change)
        .await
        .map_err(failed())?;
        let work = WorkId(done.last_insert_rowid());
        for arrival in arrivals {
            let done = sqlx::query(
                "UPDATE arrivals SET work_id = ? WHERE id = ? AND player_id = ? AND work_id IS NULL",
            )
            .bind(work.0)
            .bind(arrival.0)
            .bind(player.0)
            .execute(&mut *change)
            .await
            .map_err(failed())?;
            if done.rows_affected() != 1 {
                return Err(StoreError::ArrivalTaken(*arrival));
            }
        }
        change.commit().await.map_err(failed())?;
        Ok(work)
    }

    /// All works that were not yet cleared away, oldest first.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn works(&self) -> Result<Vec<Work>, StoreError> {
        let rows = sqlx::query("SELECT * FROM swing_works ORDER BY id")
            .fetch_all(&self.pool)
            .await
            .map_err(during("list the queue"))?;
        let arrivals = self.arrivals().await?;
        rows.iter().map(|row| from_row(row, &arrivals)).collect()
    }

    /// Notes how far a work is.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn move_work(
        &self,
        id: WorkId,
        state: WorkState,
        trouble: Option<&str>,
    ) -> Result<(), StoreError> {
        sqlx::query("UPDATE swing_works SET state = ?, trouble = ? WHERE id = ?")
            .bind(state_key(state))
            .bind(trouble)
            .bind(id.0)
            .execute(&self.pool)
            .await
            .map_err(during("note how far a swing is"))?;
        Ok(())
    }

    /// Notes what came of a work; its clips are in the swing's folder now and leave the tray. A swing of clips that came by a
    /// personal link was sent from afar.
    ///
    /// # Errors
    /// If the database fails or a file can't be removed.
    pub async fn end_work(&self, id: WorkId, swing: SwingId) -> Result<(), StoreError> {
        sqlx::query(
            "UPDATE swing_works SET state = 'done', trouble = NULL, swing_id = ? WHERE id = ?",
        )
        .bind(swing.0)
        .bind(id.0)
        .execute(&self.pool)
        .await
        .map_err(during("note what came of a swing"))?;
        sqlx::query(
            "INSERT INTO sent_in (swing_id) SELECT ?1 WHERE EXISTS (
                 SELECT 1 FROM arrivals JOIN phone_links ON phone_links.id = link_id
                 WHERE work_id = ?2 AND kind = 'personal')
             ON CONFLICT DO NOTHING",
        )
        .bind(swing.0)
        .bind(id.0)
        .execute(&self.pool)
        .await
        .map_err(during("note that a swing was sent in"))?;
        for arrival in self.arrivals().await? {
            if arrival.work == Some(id) {
                self.remove_arrival(arrival.id).await?;
            }
        }
        Ok(())
    }

    /// Takes a work off the queue; its clips, if any are left, are free again.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn remove_work(&self, id: WorkId) -> Result<(), StoreError> {
        sqlx::query("DELETE FROM swing_works WHERE id = ?")
            .bind(id.0)
            .execute(&self.pool)
            .await
            .map_err(during("take a swing off the queue"))?;
        Ok(())
    }

    /// What was under way when the studio closed waits again.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn wait_again(&self) -> Result<(), StoreError> {
        sqlx::query("UPDATE swing_works SET state = 'waiting' WHERE state = 'under_way'")
            .execute(&self.pool)
            .await
            .map_err(during("take the queue up again"))?;
        Ok(())
    }

    /// Notes how long a unit of a step's work took, s.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn note_pace(&self, step: &str, seconds_a_unit: f64) -> Result<(), StoreError> {
        sqlx::query("INSERT OR REPLACE INTO paces (step, seconds_a_unit) VALUES (?, ?)")
            .bind(step)
            .bind(seconds_a_unit)
            .execute(&self.pool)
            .await
            .map_err(during("note how long a step took"))?;
        Ok(())
    }

    /// Seconds a unit of work, by step.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn paces(&self) -> Result<BTreeMap<String, f64>, StoreError> {
        let rows = sqlx::query("SELECT step, seconds_a_unit FROM paces")
            .fetch_all(&self.pool)
            .await
            .map_err(during("look how long steps take"))?;
        Ok(rows
            .iter()
            .map(|row| (row.get("step"), row.get("seconds_a_unit")))
            .collect())
    }
}

fn from_row(row: &SqliteRow, arrivals: &[Arrival]) -> Result<Work, StoreError> {
    let id = WorkId(row.get("id"));
    let of_it = |arrival: &&Arrival| arrival.work == Some(id);
    Ok(Work {
        id,
        player: PlayerId(row.get("player_id")),
        state: match row.get("state") {
            "waiting" => WorkState::Waiting,
            "under_way" => WorkState::UnderWay,
            "done" => WorkState::Done,
            "stopped" => WorkState::Stopped,
            _ => WorkState::Failed,
        },
        trouble: row.get("trouble"),
        swing: row.get::<Option<i64>, _>("swing_id").map(SwingId),
        asked_at: timestamp(row.get("asked_at"), format!("work {id}"))?,
        arrivals: arrivals.iter().filter(of_it).cloned().collect(),
    })
}

fn state_key(state: WorkState) -> &'static str {
    match state {
        WorkState::Waiting => "waiting",
        WorkState::UnderWay => "under_way",
        WorkState::Done => "done",
        WorkState::Failed => "failed",
        WorkState::Stopped => "stopped",
    }
}
