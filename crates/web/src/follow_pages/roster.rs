//! The roster's follow-up: who is due, whose change does not happen, what players have in common, what drills
//! moved, and how well each number repeats.

use super::{Badge, between, everybody, many, signed, size, spelled, toward};
use crate::error::PageError;
use crate::follow::progress_address;
use crate::routes::Studio;
use askama::Template;
use lessonwright_coaching::follow::{
    DrillEffect, Due, Line, Moved, NEXT_LESSON_DAYS, Overview, Repeatability, Roster,
};
use lessonwright_model::{Day, MeasureName, Place};
use lessonwright_report::Units;
use lessonwright_store::PlayerId;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Where the roster stands.
#[derive(Template)]
#[template(path = "follow_roster.html")]
pub struct RosterFollowUp {
    academy: String,
    today: String,
    usual_days: u32,
    due: People,
    stuck: People,
    everybody: People,
    common: Vec<CommonRow>,
    measured: usize,
    drills: Vec<DrillRow>,
    repeats: Vec<RepeatRow>,
}

/// A list of players as far as it is read through.
struct People {
    shown: Vec<Person>,
    /// How many there are besides.
    more: usize,
}

/// As many as anybody reads through; the others are found by name.
const MOST_SHOWN: usize = 100;

/// One player in a list.
struct Person {
    name: String,
    address: String,
    due: String,
    drill: Option<String>,
    what: String,
    change: Option<String>,
    badge: Badge,
    step: &'static str,
    because: String,
    drafts: usize,
}

struct CommonRow {
    what: String,
    players: usize,
    names: String,
}

struct DrillRow {
    title: String,
    players: String,
    moved: Vec<MovedRow>,
    besides: Vec<MovedRow>,
    looked_at: usize,
    /// How many of those would move by chance, in words.
    by_chance: String,
}

struct MovedRow {
    what: String,
    players: usize,
    mean: String,
    interval: Option<String>,
    chance: Option<String>,
    beyond: Option<String>,
    in_practice: usize,
}

struct RepeatRow {
    what: String,
    rests_on: String,
    within: String,
    between: String,
    mdc_one: String,
    mdc_five: String,
    own: String,
    icc: Option<String>,
}

impl RosterFollowUp {
    pub async fn of(studio: &Studio) -> Result<Arc<RosterFollowUp>, PageError> {
        let (roster, today) = everybody(studio).await?;
        let (academy, units) = (studio.state.academy.clone(), studio.state.units);
        let make = move |roster: &Roster| RosterFollowUp::made(roster, today, academy, units);
        Ok(studio.follow.everybody(roster, today, units, make).await)
    }

    fn made(roster: &Roster, today: Day, academy: String, units: Units) -> RosterFollowUp {
        let overview = roster.overview(today);
        let person = |line: &Line| Person::of(line, units);
        let stuck = overview.lines.iter().filter(|line| line.is_stuck(today));
        RosterFollowUp {
            academy,
            today: spelled(today),
            usual_days: NEXT_LESSON_DAYS,
            due: People::of(due_first(&overview).into_iter().map(person)),
            stuck: People::of(stuck.map(person)),
            everybody: People::of(overview.lines.iter().map(person)),
            common: common(&overview),
            measured: overview.measured,
            drills: roster
                .drill_effects()
                .iter()
                .map(|effect| DrillRow::of(effect, units))
                .collect(),
            repeats: repeats(roster, units),
        }
    }
}

impl People {
    fn of(all: impl Iterator<Item = Person>) -> People {
        let mut shown: Vec<Person> = all.collect();
        let more = shown.len().saturating_sub(MOST_SHOWN);
        shown.truncate(MOST_SHOWN);
        People { shown, more }
    }
}

/// "due since 3 November 2026 (5 days)".
pub fn due_words(due: Due) -> String {
    let day = spelled(due.day);
    match due.in_days {
        0 => format!("due today, {day}"),
        days if days < 0 => format!(
            "due since {day} ({})",
            many(days.unsigned_abs() as usize, "day")
        ),
        days => format!("due on {day} (in {})", many(days as usize, "day")),
    }
}

/// Those who are due, longest first.
fn due_first(overview: &Overview) -> Vec<&Line> {
    let mut due: Vec<&Line> = overview.lines.iter().filter(|l| l.is_due()).collect();
    due.sort_by_key(|line| line.due.map(|due| due.in_days));
    due
}

impl Person {
    fn of(line: &Line, units: Units) -> Person {
        let progress = line.progress.as_ref();
        let measure = progress.map(|p| p.aim.place.measure);
        let change = progress.and_then(|p| p.change());
        Person {
            name: line.name.clone(),
            address: progress_address(PlayerId(line.player)),
            due: line.due.map_or_else(String::new, due_words),
            drill: progress.map(|p| p.given.title.clone()),
            what: progress.map_or_else(
                || match line.due {
                    Some(_) => "Prescribed without a number to reach".into(),
                    None => "Nothing prescribed".into(),
                },
                |p| p.aim.place.plain(),
            ),
            change: measure
                .zip(change)
                .map(|(measure, change)| toward(measure, change, units)),
            badge: Badge(progress.and_then(|p| p.verdict())),
            step: progress.map_or("", |p| p.advice.step.plain()),
            because: progress.map_or_else(String::new, |p| p.advice.because.join(" ")),
            drafts: line.drafts,
        }
    }
}

fn common(overview: &Overview) -> Vec<CommonRow> {
    let row = |common: &lessonwright_coaching::follow::Common| CommonRow {
        what: format!(
            "{}: {} the range",
            common.place.plain(),
            if common.above { "above" } else { "below" }
        ),
        players: common.players.len(),
        names: names(&common.players),
    };
    overview.common.iter().map(row).collect()
}

/// Names as far as they are read through.
fn names(all: &[String]) -> String {
    const MOST_NAMED: usize = 20;
    match all.len().checked_sub(MOST_NAMED) {
        None | Some(0) => all.join(", "),
        Some(more) => format!("{} and {more} more", all[..MOST_NAMED].join(", ")),
    }
}

impl DrillRow {
    fn of(effect: &DrillEffect, units: Units) -> DrillRow {
        let rows = |moved: &[Moved]| moved.iter().map(|m| MovedRow::of(m, units)).collect();
        DrillRow {
            title: effect.title.clone(),
            players: many(effect.players, "player"),
            moved: rows(&effect.aimed),
            besides: rows(&effect.besides),
            looked_at: effect.looked_at,
            by_chance: match effect.looked_at / 20 {
                0 => "fewer than one".into(),
                n => format!("about {n}"),
            },
        }
    }
}

impl MovedRow {
    fn of(moved: &Moved, units: Units) -> MovedRow {
        let measure = moved.place.measure;
        let mean = moved.pooled.map_or(moved.mean, |p| p.mean);
        let pooled = |p: lessonwright_coaching::follow::Pooled| between(measure, p.interval, units);
        MovedRow {
            what: moved.place.plain(),
            players: moved.players,
            mean: way(measure, mean, units),
            interval: moved.pooled.map(pooled),
            chance: moved.by_chance.map(|by| signed(measure, by, units)),
            beyond: moved
                .beyond_chance
                .map(|p| format!("{} ({})", signed(measure, p.mean, units), pooled(p))),
            in_practice: moved.in_practice,
        }
    }
}

/// "+3.1 cm, toward the target".
fn way(measure: MeasureName, value: f64, units: Units) -> String {
    let amount = signed(measure, value, units);
    let [plus, minus] = measure.directions();
    let words = if value < 0.0 { minus } else { plus };
    match words {
        "" => amount,
        _ => format!("{amount} ({words})"),
    }
}

/// What was prescribed for first, then every other number that somebody repeated.
fn repeats(roster: &Roster, units: Units) -> Vec<RepeatRow> {
    let prescribed: BTreeSet<Place> = roster
        .histories
        .iter()
        .flat_map(|h| &h.given)
        .filter_map(|g| Some(g.aim?.place))
        .collect();
    let mut all = roster.repeatability();
    // Stable: within both groups in the order of the measures.
    all.sort_by_key(|r| !prescribed.contains(&r.place));
    all.iter().map(|r| RepeatRow::of(r, units)).collect()
}

impl RepeatRow {
    fn of(one: &Repeatability, units: Units) -> RepeatRow {
        let said = |value| size(one.place.measure, value, units);
        let [players, sessions, swings] = one.counts;
        RepeatRow {
            what: one.place.plain(),
            rests_on: format!(
                "{}, {}, {}",
                many(players, "player"),
                many(sessions, "session"),
                many(swings, "swing")
            ),
            within: said(one.within),
            between: said(one.between),
            mdc_one: said(one.mdc_one),
            mdc_five: said(one.mdc_five),
            own: said(one.own),
            icc: one.icc.map(|icc| {
                let retest = one.retest.as_ref().map(|r| {
                    let (low, high) = (r.interval.low, r.interval.high);
                    format!("; two sessions: {:.2} ({low:.2} to {high:.2})", r.agreement)
                });
                format!("{icc:.2}{}", retest.unwrap_or_default())
            }),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_that_is_due_is_said_as_people_do() {
        let due = |in_days| {
            due_words(Due {
                day: Day(20_782),
                in_days,
            })
        };
        assert_eq!(due(0), "due today, 25 November 2026");
        assert_eq!(due(-1), "due since 25 November 2026 (1 day)");
        assert_eq!(due(3), "due on 25 November 2026 (in 3 days)");
    }
}
