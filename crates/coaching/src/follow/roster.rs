//! All players together: who is due, whose change is not happening, what they have in common.

use super::advice::{FEW_SESSIONS, Step, TRIAL_DAYS};
use super::progress::Progress;
use super::set_up::{Repeatability, SetUp};
use super::trend::Trend;
use lessonwright_model::{Day, FilmedSwing, Given, History, Occasion, Place};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, Mutex, PoisonError};

/// The histories of all players.
#[derive(Debug, Default)]
pub struct Roster {
    /// In the order of the roster.
    pub histories: Vec<History>,
    /// The errors at each place that was asked for: they take longest, and many questions need them.
    known: Mutex<BTreeMap<Place, Option<Arc<SetUp>>>>,
}

/// Days from a prescription to the next lesson where the professional set no other: drills expect their
/// change in one to two weeks (common practice, no source).
pub const NEXT_LESSON_DAYS: u32 = 14;

/// Where the roster stands on a day.
#[derive(Clone, Debug, PartialEq)]
pub struct Overview {
    /// Every player, in the order of the roster.
    pub lines: Vec<Line>,
    /// What players have in common, most players first.
    pub common: Vec<Common>,
    /// Players with a measured swing: of how many [`Common::players`] speaks.
    pub measured: usize,
}

/// One player.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Key.
    pub player: i64,
    /// Name.
    pub name: String,
    /// When the next lesson is due; none without a prescription.
    pub due: Option<Due>,
    /// What was prescribed last and what became of it; none where nothing to be measured was.
    pub progress: Option<Progress>,
    /// Lessons drafted and not approved.
    pub drafts: usize,
}

/// When somebody is due.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Due {
    /// The day.
    pub day: Day,
    /// Days from today; 0 or less when due.
    pub in_days: i32,
}

/// A finding that several players have.
#[derive(Clone, Debug, PartialEq)]
pub struct Common {
    /// Key in the cause table.
    pub key: String,
    /// Where it is measured.
    pub place: Place,
    /// True where the number is above its range.
    pub above: bool,
    /// Names, in the order of the roster.
    pub players: Vec<String>,
}

impl Line {
    /// True on the day and after.
    pub fn is_due(&self) -> bool {
        self.due.is_some_and(|due| due.in_days <= 0)
    }

    /// Whether the change had its time and does not happen: away, or still within error after
    /// [`TRIAL_DAYS`] days and [`FEW_SESSIONS`] sessions.
    pub fn is_stuck(&self, today: Day) -> bool {
        let Some(progress) = &self.progress else {
            return false;
        };
        if progress.advice.step == Step::Change {
            return true;
        }
        let Some(change) = progress.change() else {
            return false;
        };
        let had_its_time = today.since(progress.given.day) >= TRIAL_DAYS;
        change.verdict == super::Verdict::NotYet && had_its_time && change.to[0] >= FEW_SESSIONS
    }
}

impl Roster {
    /// Of these players.
    pub fn of(histories: Vec<History>) -> Roster {
        Roster {
            histories,
            known: Mutex::default(),
        }
    }

    /// The errors of the set-up at a place.
    pub fn set_up(&self, place: Place) -> Option<Arc<SetUp>> {
        // What a thread that failed left behind is still right: whole entries only.
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        let found = known
            .entry(place)
            .or_insert_with(|| SetUp::of(place, &self.histories).map(Arc::new));
        found.clone()
    }

    /// A player.
    pub fn player(&self, key: i64) -> Option<&History> {
        self.histories.iter().find(|h| h.player == key)
    }

    /// A player's prescriptions with an aim, latest first.
    pub fn progress(&self, history: &History, today: Day) -> Vec<Progress> {
        let of = |given: &Given| {
            let set_up = self.set_up(given.aim?.place);
            Progress::of(history, given, set_up.as_deref(), today)
        };
        history.given.iter().rev().filter_map(of).collect()
    }

    /// A player's numbers at a place from session to session.
    pub fn trend(&self, history: &History, place: Place) -> Option<Trend> {
        let set_up = self.set_up(place)?;
        Trend::of(history, place, &set_up)
    }

    /// How well every number repeats, in the order of the measures. Numbers that were taken once only are
    /// left out: of them the roster tells nothing yet.
    pub fn repeatability(&self) -> Vec<Repeatability> {
        let all = self.places().into_iter();
        all.filter_map(|place| Some(self.set_up(place)?.repeatability()))
            .filter(|r| r.df.0 + r.df.1 > 0)
            .collect()
    }

    /// Where anybody has a number.
    pub fn places(&self) -> BTreeSet<Place> {
        let swings = self.histories.iter().flat_map(|h| &h.swings);
        let measured = swings
            .flat_map(|s| &s.measures)
            .filter(|m| m.value.is_some());
        measured.map(Place::of).collect()
    }

    /// Where everybody stands.
    pub fn overview(&self, today: Day) -> Overview {
        let line = |history: &History| Line {
            player: history.player,
            name: history.name.clone(),
            due: due(history, today),
            progress: self.latest(history, today),
            drafts: history.drafts,
        };
        Overview {
            lines: self.histories.iter().map(line).collect(),
            common: self.common(),
            measured: self
                .histories
                .iter()
                .filter(|h| latest_measured(h).is_some())
                .count(),
        }
    }

    fn latest(&self, history: &History, today: Day) -> Option<Progress> {
        let given = in_force(history).find(|g| g.aim.is_some())?;
        let set_up = self.set_up(given.aim?.place);
        Progress::of(history, given, set_up.as_deref(), today)
    }

    /// Findings of each player's latest measured swing that two players or more share.
    fn common(&self) -> Vec<Common> {
        let mut found: BTreeMap<(String, Place, bool), Vec<String>> = BTreeMap::new();
        for history in &self.histories {
            let Some(swing) = latest_measured(history) else {
                continue;
            };
            let own: BTreeSet<_> = swing.findings.iter().collect();
            for one in own {
                let key = (one.key.clone(), one.place, one.above);
                found.entry(key).or_default().push(history.name.clone());
            }
        }
        let mut common: Vec<Common> = found
            .into_iter()
            .filter(|(_, players)| players.len() >= 2)
            .map(|((key, place, above), players)| Common {
                key,
                place,
                above,
                players,
            })
            .collect();
        // Stable: what as many players have stays in the order of the keys.
        common.sort_by_key(|c| std::cmp::Reverse(c.players.len()));
        common
    }
}

/// Prescriptions that were not ended, latest first.
fn in_force(history: &History) -> impl Iterator<Item = &Given> {
    history.given.iter().rev().filter(|g| g.ended.is_none())
}

fn latest_measured(history: &History) -> Option<&FilmedSwing> {
    let measured = |s: &&FilmedSwing| s.measures.iter().any(|m| m.value.is_some());
    history.swings.iter().rev().find(measured)
}

/// The day of the latest prescription in force, or of the latest session since that was not practice alone, and the
/// days to the next lesson from there.
pub fn due(history: &History, today: Day) -> Option<Due> {
    let given = in_force(history).next()?;
    let seen = history
        .swings
        .iter()
        .filter(|s| s.occasion != Some(Occasion::Practice) && s.day > given.day)
        .map(|s| s.day)
        .max();
    let from = seen.unwrap_or(given.day);
    let days = given.next_in_days.unwrap_or(NEXT_LESSON_DAYS);
    let day = Day(from
        .0
        .saturating_add(i32::try_from(days).unwrap_or(i32::MAX)));
    Some(Due {
        day,
        in_days: day.since(today),
    })
}
