//! The roster: everybody by name, a page at a time.

use super::{Progress, Upshot, day};
use crate::AppState;
use crate::error::PageError;
use crate::player_record::ROSTER_ADDRESS;
use crate::routes::{player_address, swing_address};
use askama::Template;
use lessonwright_language::{Text, filters, words};
use lessonwright_store::{RosterLine, Standing, Store};

/// The roster.
#[derive(Template)]
#[template(path = "roster.html")]
pub struct Roster {
    academy: String,
    /// What names or facts are to begin with; empty for everybody.
    named: String,
    entries: Vec<Entry>,
    /// How many answer to that.
    players: usize,
    /// From 1.
    page: usize,
    pages: usize,
}

/// One player.
struct Entry {
    name: String,
    hand: Option<Text>,
    address: String,
    latest: Option<Latest>,
}

/// The latest swing.
struct Latest {
    address: String,
    day: Text,
    upshot: Upshot,
    progress: Progress,
}

/// Players on a page.
const A_PAGE: usize = 50;

impl Roster {
    /// The `page`th page, from 1; the last one where there are fewer.
    pub async fn of(
        store: &Store,
        state: &AppState,
        named: &str,
        page: usize,
    ) -> Result<Roster, PageError> {
        let skip = page.saturating_sub(1).saturating_mul(A_PAGE);
        let found = store.roster(named, skip, A_PAGE).await?;
        let pages = found.players.div_ceil(A_PAGE).max(1);
        if page > pages {
            return Box::pin(Roster::of(store, state, named, pages)).await;
        }
        Ok(Roster {
            academy: state.academy.clone(),
            named: named.to_owned(),
            players: found.players,
            entries: found
                .lines
                .into_iter()
                .map(|line| Entry::of(line, state))
                .collect(),
            page: page.max(1),
            pages,
        })
    }

    /// Where another page is.
    fn address(&self, page: usize) -> String {
        let named: String = self.named.bytes().map(escaped).collect();
        format!("{ROSTER_ADDRESS}?named={named}&page={page}")
    }
}

/// A byte in an address: letters and digits as they are (RFC 3986, section 2.3).
fn escaped(byte: u8) -> String {
    match byte.is_ascii_alphanumeric() {
        true => char::from(byte).to_string(),
        false => format!("%{byte:02X}"),
    }
}

impl Entry {
    fn of(line: RosterLine, state: &AppState) -> Entry {
        Entry {
            address: player_address(line.player.id),
            name: line.player.facts.name,
            hand: line.player.facts.hand.map(words::hand),
            latest: line.latest.map(|standing| Latest::of(&standing, state)),
        }
    }
}

impl Latest {
    fn of(standing: &Standing, state: &AppState) -> Latest {
        Latest {
            address: swing_address(standing.swing),
            day: day(standing.made_at, state),
            upshot: Upshot::of_standing(standing, state),
            progress: Progress::of_standing(standing),
        }
    }
}
