//! The histories of all players, kept between pages: to read a thousand and to work out the errors of the set-up
//! takes long, and most pages are looked at with nothing changed. What changed since is asked of the store every
//! time, and only those players are read again.

use crate::AppState;
use crate::error::PageError;
use crate::follow_pages::{RosterFollowUp, computed};
use lessonwright_coaching::follow::Roster;
use lessonwright_model::{Day, History, Units};
use lessonwright_store::{PlayerId, Store};
use std::collections::BTreeMap;
use std::sync::Arc;
use tokio::sync::Mutex;

/// The kept histories. Clones share them.
#[derive(Clone, Default)]
pub struct FollowCache {
    histories: Arc<Mutex<Kept>>,
    everybody: Arc<Mutex<Option<Shown>>>,
    dues: Arc<Mutex<Option<Dues>>>,
}

/// Who is due, with when it was read.
type Dues = (Stamp, Arc<Vec<History>>);

/// Another one after every change.
type Stamp = (i64, i64, i64);

/// Everybody's page, with the histories and the day that it was made of.
struct Shown {
    roster: Arc<Roster>,
    today: Day,
    units: Units,
    page: Arc<RosterFollowUp>,
}

#[derive(Debug, Default)]
struct Kept {
    /// When it was read.
    stamp: Option<Stamp>,
    /// How often each player's record had changed when it was read.
    changes: BTreeMap<i64, i64>,
    roster: Arc<Roster>,
}

impl FollowCache {
    /// Everybody's history as it is now.
    pub async fn roster(&self, store: &Store, state: &AppState) -> Result<Arc<Roster>, PageError> {
        // Held while reading: who asks meanwhile waits for the same histories.
        let mut kept = self.histories.lock().await;
        let stamp = store.follow_stamp().await?;
        if kept.stamp != Some(stamp) {
            let changes = store.follow_changes().await?;
            let histories = read_again(store, state, &kept, &changes).await?;
            kept.roster = Arc::new(Roster::of(histories));
            kept.changes = changes;
            kept.stamp = Some(stamp);
        }
        Ok(Arc::clone(&kept.roster))
    }

    /// As much of the histories as says who is due.
    pub async fn dues(
        &self,
        store: &Store,
        state: &AppState,
    ) -> Result<Arc<Vec<History>>, PageError> {
        let mut kept = self.dues.lock().await;
        let stamp = store.follow_stamp().await?;
        if let Some((known, dues)) = &*kept
            && *known == stamp
        {
            return Ok(Arc::clone(dues));
        }
        let dues = Arc::new(store.dues(&state.time_zone).await?);
        *kept = Some((stamp, Arc::clone(&dues)));
        Ok(dues)
    }

    /// Everybody's page of these histories and this day: as it was made last, or made now.
    pub async fn everybody(
        &self,
        roster: Arc<Roster>,
        today: Day,
        units: Units,
        make: impl FnOnce(&Roster) -> RosterFollowUp + Send + 'static,
    ) -> Arc<RosterFollowUp> {
        let mut shown = self.everybody.lock().await;
        if let Some(known) = &*shown
            && Arc::ptr_eq(&known.roster, &roster)
            && known.today == today
            && known.units == units
        {
            return Arc::clone(&known.page);
        }
        let of = Arc::clone(&roster);
        let page = Arc::new(computed(move || make(&of)).await);
        *shown = Some(Shown {
            roster,
            today,
            units,
            page: Arc::clone(&page),
        });
        page
    }
}

async fn read_again(
    store: &Store,
    state: &AppState,
    kept: &Kept,
    changes: &BTreeMap<i64, i64>,
) -> Result<Vec<History>, PageError> {
    let known: BTreeMap<i64, &History> = kept
        .roster
        .histories
        .iter()
        .map(|history| (history.player, history))
        .collect();
    let mut histories = Vec::new();
    for player in store.players().await? {
        let key = player.id.0;
        let before = kept.changes.get(&key);
        let same = before.is_some() && before == changes.get(&key);
        histories.push(match known.get(&key).filter(|_| same) {
            Some(history) => (*history).clone(),
            None => store.history(PlayerId(key), &state.time_zone).await?,
        });
    }
    Ok(histories)
}
