//! Today: who comes, what waits to be read, what waits to be sent, who is due.

use super::{Progress, Upshot, day};
use crate::AppState;
use crate::diary::DiaryEntry;
use crate::error::PageError;
use crate::follow::progress_address;
use crate::personal::{Came, came};
use crate::player_record::consents_address;
use crate::routes::{Studio, swing_address};
use crate::today::{aside_address, sent_address};
use crate::wording::{today, waited};
use askama::Template;
use jiff::ToSpan;
use jiff::civil::Date;
use lessonwright_coaching::follow::due;
use lessonwright_language::{Text, filters, t, when};
use lessonwright_store::{PlayerId, Store, Waiting, date_of, day_of};

/// The first page.
#[derive(Template)]
#[template(path = "today.html")]
pub struct TodayPage {
    academy: String,
    coach: String,
    today: Text,
    /// There is nobody on the roster.
    empty: bool,
    coming: Vec<DiaryDay>,
    /// For a new appointment.
    next_day: Date,
    /// What players sent by their personal links.
    came: Came,
    to_read: List<ToRead>,
    to_send: List<ToSend>,
    due: List<DueLine>,
}

/// The longest waiting, and how many there are in all.
struct List<T> {
    lines: Vec<T>,
    all: usize,
}

struct DiaryDay {
    day: Text,
    entries: Vec<DiaryEntry>,
}

struct ToRead {
    name: String,
    address: String,
    day: Text,
    upshot: Upshot,
    progress: Progress,
    waited: Text,
    /// Sent from afar, not brought in at the studio.
    sent_in: bool,
    aside: String,
}

struct ToSend {
    name: String,
    address: String,
    waited: Text,
    sent: String,
    /// Where the consent is noted that is missing.
    consent: Option<String>,
}

struct DueLine {
    name: String,
    address: String,
    due: Text,
    drill: Text,
}

/// The diary shows today and so many days after.
const DAYS_AHEAD: i64 = 7;

/// Of each list so many are shown: what a morning holds.
const MOST: usize = 12;

impl TodayPage {
    pub async fn of(studio: &Studio) -> Result<TodayPage, PageError> {
        let (store, state) = (&studio.store, &studio.state);
        let (to_read, all_to_read) = store.swings_to_read(MOST).await?;
        let (to_send, all_to_send) = store.lessons_to_send(MOST).await?;
        let players = store.roster("", 0, 1).await?.players;
        let of_today = today(state);
        Ok(TodayPage {
            academy: state.academy.clone(),
            coach: state.coach.clone(),
            today: day((state.now)(), state),
            empty: players == 0,
            coming: coming(store, state).await?,
            next_day: of_today,
            came: came(store, state).await?,
            to_read: List {
                lines: to_read.iter().map(|one| ToRead::of(one, state)).collect(),
                all: all_to_read,
            },
            to_send: List {
                lines: to_send.iter().map(|one| ToSend::of(one, state)).collect(),
                all: all_to_send,
            },
            due: due_list(studio).await?,
        })
    }
}

impl<T> List<T> {
    /// How many are not shown.
    fn more(&self) -> usize {
        self.all - self.lines.len()
    }
}

async fn coming(store: &Store, state: &AppState) -> Result<Vec<DiaryDay>, PageError> {
    let today = today(state);
    let begin = |day: Date| {
        let midnight = day.to_zoned(state.time_zone.clone());
        midnight.map_or((state.now)(), |zoned| zoned.timestamp())
    };
    let end = today.saturating_add((DAYS_AHEAD + 1).days());
    let all = store.appointments_between(begin(today), begin(end)).await?;
    let mut days: Vec<(Date, Vec<DiaryEntry>)> = Vec::new();
    for appointment in &all {
        let entry = DiaryEntry::of(appointment, state);
        match days.last_mut() {
            Some((day, entries)) if *day == entry.date => entries.push(entry),
            _ => days.push((entry.date, vec![entry])),
        }
    }
    let named = |(day, entries): (Date, Vec<DiaryEntry>)| DiaryDay {
        day: when::day(day, today),
        entries,
    };
    Ok(days.into_iter().map(named).collect())
}

impl ToRead {
    fn of(one: &Waiting, state: &AppState) -> ToRead {
        let standing = &one.standing;
        ToRead {
            name: one.name.clone(),
            address: swing_address(standing.swing),
            day: day(standing.made_at, state),
            upshot: Upshot::of_standing(standing, state),
            progress: Progress::of_standing(standing),
            waited: waited(one.since, (state.now)()),
            sent_in: one.sent_in,
            aside: aside_address(standing.swing),
        }
    }
}

impl ToSend {
    fn of(one: &Waiting, state: &AppState) -> ToSend {
        let lesson = one.standing.lesson.map(|(lesson, _)| lesson);
        ToSend {
            name: one.name.clone(),
            address: swing_address(one.standing.swing),
            waited: waited(one.since, (state.now)()),
            sent: lesson.map(sent_address).unwrap_or_default(),
            consent: (!one.sending_agreed).then(|| consents_address(one.player)),
        }
    }
}

async fn due_list(studio: &Studio) -> Result<List<DueLine>, PageError> {
    let today = today(&studio.state);
    let histories = studio.follow.dues(&studio.store, &studio.state).await?;
    let mut all: Vec<_> = histories
        .iter()
        .filter_map(|history| Some((due(history, day_of(today))?, history)))
        .filter(|(due, _)| due.in_days <= 0)
        .collect();
    all.sort_by(|(a, x), (b, y)| (a.in_days, &x.name).cmp(&(b.in_days, &y.name)));
    let line = |(due, history): &(
        lessonwright_coaching::follow::Due,
        &lessonwright_model::History,
    )| DueLine {
        name: history.name.clone(),
        address: progress_address(PlayerId(history.player)),
        due: match due.in_days {
            0 => t("today-due-today"),
            _ => t("today-due-since").with("day", when::day(date_of(due.day), today)),
        },
        drill: history.given.last().map_or_else(
            || Text::plain(""),
            |given| studio.state.prescribing.retold(&given.title),
        ),
    };
    Ok(List {
        lines: all.iter().take(MOST).map(line).collect(),
        all: all.len(),
    })
}
