//! Which swings are held against which: a player's numbers at one place, told apart by when and how
//! they were made. The rules are in `docs/follow-up.md`.

use super::variance::Session;
use lessonwright_language::{Text, t};
use lessonwright_model::{Day, FilmedSwing, Given, History, Occasion, Place, Taken, View};
use std::collections::BTreeSet;

/// As what a swing after a prescription counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Counted {
    /// During practice, with the drill or cue, or within 24 hours of it.
    Practice,
    /// Not marked, on a later day: perhaps with the cue, perhaps without.
    Unmarked,
    /// At least 24 hours after practice, without cue: what was learned.
    Retention,
    /// In another task.
    Transfer,
}

impl Counted {
    /// All, in the order in which they say more and more.
    pub const ALL: [Counted; 4] = [
        Counted::Practice,
        Counted::Unmarked,
        Counted::Retention,
        Counted::Transfer,
    ];

    /// In plain words.
    pub fn plain(self) -> &'static str {
        match self {
            Counted::Practice => "during practice",
            Counted::Unmarked => "not marked",
            Counted::Retention => "retention",
            Counted::Transfer => "transfer",
        }
    }

    /// The same in every language.
    pub fn text(self) -> Text {
        t(match self {
            Counted::Practice => "follow-counted-practice",
            Counted::Unmarked => "follow-counted-unmarked",
            Counted::Retention => "follow-counted-retention",
            Counted::Transfer => "follow-counted-transfer",
        })
    }
}

/// One swing's number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Number {
    /// The swing's key.
    pub swing: i64,
    /// The session it belongs to.
    pub day: Day,
    /// The number.
    pub taken: Taken,
    /// As what it counts.
    pub counted: Counted,
}

/// A player's numbers before and after a prescription.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Series {
    /// Before, oldest first.
    pub before: Vec<Number>,
    /// After, oldest first.
    pub after: Vec<Number>,
    /// Numbers left out, since they were taken in another view than the ones compared.
    pub other_view: usize,
    /// Swings in these stretches without a number at this place.
    pub without: usize,
    /// Swings whose day of filming nobody knows, counted by the day they were added.
    pub day_assumed: usize,
    /// Swings marked as retention that came less than 24 hours after practice: counted as practice.
    pub too_soon: usize,
}

/// What is compared with a prescription reaches back so far, days: an older level may not be the
/// player's any more. Ours; no source.
pub const BEFORE_DAYS: i32 = 60;

/// The least time between practice and a retention test, s: 24 hours are often used (PeerJ 17799).
const RETENTION_S: i64 = 24 * 3600;

impl Series {
    /// The numbers at `place` around a prescription: before from the last prescription for the same place
    /// or [`BEFORE_DAYS`] back, after until the next one or its end.
    pub fn around(history: &History, given: &Given, place: Place) -> Series {
        let (from, until) = stretch(history, given, place);
        let mut series = Series::default();
        for swing in &history.swings {
            if swing.day < from || until.is_some_and(|until| swing.day > until) {
                continue;
            }
            let late = is_after(swing, given);
            let counted = count(swing, history, given, late);
            let prescribed_on = given.swing == Some(swing.swing);
            if !late && counted.as_what != Counted::Unmarked && !prescribed_on {
                // Practice or transfer for something earlier: no level to start from.
                continue;
            }
            series.day_assumed += usize::from(swing.day_assumed);
            series.too_soon += usize::from(counted.too_soon);
            let Some(taken) = swing.taken(place) else {
                series.without += 1;
                continue;
            };
            let number = Number {
                swing: swing.swing,
                day: swing.day,
                taken,
                counted: counted.as_what,
            };
            match late {
                true => series.after.push(number),
                false => series.before.push(number),
            }
        }
        series.keep_one_view();
        series
    }

    /// Numbers of different views have different errors of their own: those of the view with most on
    /// both sides stay.
    fn keep_one_view(&mut self) {
        let count = |numbers: &[Number], view: Option<View>| {
            numbers.iter().filter(|n| n.taken.view == view).count()
        };
        let views: BTreeSet<Option<View>> = self.all().map(|n| n.taken.view).collect();
        let most = views.into_iter().max_by_key(|view| {
            let (before, after) = (count(&self.before, *view), count(&self.after, *view));
            (before.min(after), before + after)
        });
        let Some(view) = most else { return };
        let all = self.before.len() + self.after.len();
        self.before.retain(|n| n.taken.view == view);
        self.after.retain(|n| n.taken.view == view);
        self.other_view = all - self.before.len() - self.after.len();
    }

    fn all(&self) -> impl Iterator<Item = &Number> {
        self.before.iter().chain(&self.after)
    }

    /// The sessions after that count as this.
    pub fn after_as(&self, counted: Counted) -> Vec<Session> {
        sessions(self.after.iter().filter(|n| n.counted == counted))
    }

    /// The sessions before.
    pub fn sessions_before(&self) -> Vec<Session> {
        sessions(&self.before)
    }
}

/// Numbers of one day together, in order of the days.
pub fn sessions<'a>(numbers: impl IntoIterator<Item = &'a Number>) -> Vec<Session> {
    let mut sessions: Vec<Session> = Vec::new();
    for number in numbers {
        match sessions.iter_mut().find(|s| s.day == number.day) {
            Some(session) => session.values.push(number.taken.value),
            None => sessions.push(Session {
                day: number.day,
                values: vec![number.taken.value],
            }),
        }
    }
    sessions.sort_by_key(|s| s.day);
    sessions
}

/// First day that counts as before, and last that counts as after.
fn stretch(history: &History, given: &Given, place: Place) -> (Day, Option<Day>) {
    let same =
        |other: &&Given| other.id != given.id && other.aim.is_some_and(|aim| aim.place == place);
    let key = |one: &Given| (one.day, one.id);
    let others = || history.given.iter().filter(same);
    let last = others()
        .filter(|o| key(o) < key(given))
        .map(|o| o.day)
        .max();
    let next = others()
        .filter(|o| key(o) > key(given))
        .map(|o| o.day)
        .min();
    let back = Day(given.day.0 - BEFORE_DAYS);
    let until = next.into_iter().chain(given.ended).min();
    (last.map_or(back, |day| back.max(day)), until)
}

/// Whether a swing was made after a prescription was given. A swing of the same day is, if both times
/// are known and it is the later one.
pub fn is_after(swing: &FilmedSwing, given: &Given) -> bool {
    if given.swing == Some(swing.swing) {
        return false;
    }
    match (swing.at_s, given.at_s) {
        (Some(swing_s), Some(given_s)) if swing.day == given.day => swing_s > given_s,
        _ => swing.day > given.day,
    }
}

struct Count {
    as_what: Counted,
    too_soon: bool,
}

fn count(swing: &FilmedSwing, history: &History, given: &Given, late: bool) -> Count {
    let as_what = |as_what| Count {
        as_what,
        too_soon: false,
    };
    match swing.occasion {
        Some(Occasion::Practice) => as_what(Counted::Practice),
        Some(Occasion::Transfer) => as_what(Counted::Transfer),
        Some(Occasion::Retention) if late && !rested(swing, history, given) => Count {
            as_what: Counted::Practice,
            too_soon: true,
        },
        Some(Occasion::Retention) if late => as_what(Counted::Retention),
        // On the lesson's own day the cue is fresh, whatever nobody marked.
        None if late && swing.day == given.day => as_what(Counted::Practice),
        Some(Occasion::Retention) | None => as_what(Counted::Unmarked),
    }
}

/// Whether 24 hours lie between a swing and the lesson, and the practice swings on record before it.
fn rested(swing: &FilmedSwing, history: &History, given: &Given) -> bool {
    let apart = |day: Day, at_s: Option<i64>| match (swing.at_s, at_s) {
        (Some(now), Some(then)) => now - then >= RETENTION_S,
        _ => swing.day > day,
    };
    let practice = history.swings.iter().filter(|other| {
        let earlier = (other.day, other.at_s) < (swing.day, swing.at_s);
        other.occasion == Some(Occasion::Practice) && earlier
    });
    apart(given.day, given.at_s) && practice.into_iter().all(|p| apart(p.day, p.at_s))
}
