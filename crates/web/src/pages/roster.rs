//! The first page: what waits for the professional, then everybody.

use super::{Progress, Upshot, day};
use crate::AppState;
use crate::error::PageError;
use crate::routes::{player_address, swing_address};
use askama::Template;
use lessonwright_model::Hand;
use lessonwright_store::{Player, Store, Swing};

/// Today.
#[derive(Template)]
#[template(path = "roster.html")]
pub struct Roster {
    academy: String,
    coach: String,
    today: String,
    entries: Vec<Entry>,
}

/// One player.
struct Entry {
    name: String,
    hand: Option<Hand>,
    address: String,
    latest: Option<Latest>,
}

/// The latest swing.
struct Latest {
    address: String,
    day: String,
    upshot: Upshot,
    progress: Progress,
}

impl Roster {
    pub async fn of(store: &Store, state: &AppState) -> Result<Roster, PageError> {
        let mut entries = Vec::new();
        for player in store.players().await? {
            entries.push(Entry::of(player, store, state).await?);
        }
        Ok(Roster {
            academy: state.academy.clone(),
            coach: state.coach.clone(),
            today: day((state.now)(), state),
            entries,
        })
    }

    /// Players whose latest lesson has not been read.
    fn waiting(&self) -> Vec<(&Entry, &Latest)> {
        self.entries
            .iter()
            .filter_map(|entry| Some((entry, entry.latest.as_ref()?)))
            .filter(|(_, latest)| latest.progress == Progress::Drafted)
            .collect()
    }
}

impl Entry {
    async fn of(player: Player, store: &Store, state: &AppState) -> Result<Entry, PageError> {
        let latest = match store.swings_of(player.id).await?.first() {
            Some(swing) => Some(Latest::of(swing, store, state).await?),
            None => None,
        };
        Ok(Entry {
            address: player_address(player.id),
            name: player.facts.name,
            hand: player.facts.hand,
            latest,
        })
    }
}

impl Latest {
    async fn of(swing: &Swing, store: &Store, state: &AppState) -> Result<Latest, PageError> {
        let stored = store.latest_analysis(swing.id).await?;
        let analysis = stored.as_ref().map(|stored| &stored.analysis);
        let lessons = store.lessons_of_swing(swing.id).await?;
        Ok(Latest {
            address: swing_address(swing.id),
            day: day(swing.filmed_at.unwrap_or(swing.added_at), state),
            upshot: Upshot::of(analysis),
            progress: Progress::of(analysis, &lessons),
        })
    }
}
