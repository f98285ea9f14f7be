//! The roster's follow-up: who is due, whose change does not happen, what players have in common, what drills
//! moved, and how well each number repeats.

use super::{Badge, between, everybody, many, place_words, signed, size, spelled, toward};
use crate::Prescribing;
use crate::error::PageError;
use crate::follow::progress_address;
use crate::routes::Studio;
use askama::Template;
use lessonwright_coaching::follow::{
    DrillEffect, Due, Line, Moved, NEXT_LESSON_DAYS, Overview, Repeatability, Roster, Step,
};
use lessonwright_language::{Text, filters, t, words};
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
    today: Text,
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
    due: Option<Text>,
    drill: Option<Text>,
    what: Text,
    change: Option<Text>,
    badge: Badge,
    step: Option<Text>,
    /// The same, as a sentence of its own.
    step_first: Option<Text>,
    because: Option<Text>,
    drafts: usize,
}

struct CommonRow {
    what: Text,
    players: usize,
    names: Text,
}

struct DrillRow {
    title: Text,
    players: Text,
    moved: Vec<MovedRow>,
    besides: Vec<MovedRow>,
    looked_at: usize,
    /// How many of those would move by chance, in words.
    by_chance: Text,
}

struct MovedRow {
    what: Text,
    players: usize,
    mean: Text,
    interval: Option<Text>,
    chance: Option<Text>,
    beyond: Option<Text>,
    in_practice: usize,
}

struct RepeatRow {
    what: Text,
    rests_on: Text,
    within: Text,
    between: Text,
    mdc_one: Text,
    mdc_five: Text,
    own: Text,
    icc: Option<Text>,
}

impl RosterFollowUp {
    pub async fn of(studio: &Studio) -> Result<Arc<RosterFollowUp>, PageError> {
        let (roster, today) = everybody(studio).await?;
        let (academy, units) = (studio.state.academy.clone(), studio.state.units);
        let prescribing = Arc::clone(&studio.state.prescribing);
        let make = move |roster: &Roster| {
            RosterFollowUp::made(roster, today, academy, units, &prescribing)
        };
        Ok(studio.follow.everybody(roster, today, units, make).await)
    }

    fn made(
        roster: &Roster,
        today: Day,
        academy: String,
        units: Units,
        by: &Prescribing,
    ) -> RosterFollowUp {
        let overview = roster.overview(today);
        let person = |line: &Line| Person::of(line, units, by);
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
                .map(|effect| DrillRow::of(effect, units, by))
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
pub fn due_words(due: Due) -> Text {
    let said = match due.in_days {
        0 => t("follow-due-today"),
        days if days < 0 => t("follow-due-since").with("count", days.unsigned_abs()),
        days => t("follow-due-on").with("count", days),
    };
    said.with("day", spelled(due.day))
}

/// Those who are due, longest first.
fn due_first(overview: &Overview) -> Vec<&Line> {
    let mut due: Vec<&Line> = overview.lines.iter().filter(|l| l.is_due()).collect();
    due.sort_by_key(|line| line.due.map(|due| due.in_days));
    due
}

impl Person {
    fn of(line: &Line, units: Units, by: &Prescribing) -> Person {
        let progress = line.progress.as_ref();
        let measure = progress.map(|p| p.aim.place.measure);
        let change = progress.and_then(|p| p.change());
        Person {
            name: line.name.clone(),
            address: progress_address(PlayerId(line.player)),
            due: line.due.map(due_words),
            drill: progress.map(|p| by.retold(&p.given.title)),
            what: progress.map_or_else(
                || match line.due {
                    Some(_) => t("follow-without-number"),
                    None => t("follow-nothing"),
                },
                |p| place_words(p.aim.place),
            ),
            change: measure
                .zip(change)
                .map(|(measure, change)| toward(measure, change, units)),
            badge: Badge(progress.and_then(|p| p.verdict())),
            step: progress.map(|p| p.advice.step.text()),
            step_first: progress.map(|p| step_first(p.advice.step)),
            because: progress.map(|p| Text::joined(p.advice.because.iter().cloned(), " ")),
            drafts: line.drafts,
        }
    }
}

/// What is to be done next, as a sentence of its own.
fn step_first(step: Step) -> Text {
    t(match step {
        Step::Film => "follow-first-film",
        Step::Keep => "follow-first-keep",
        Step::Progress => "follow-first-progress",
        Step::Change => "follow-first-change",
    })
}

fn common(overview: &Overview) -> Vec<CommonRow> {
    let row = |common: &lessonwright_coaching::follow::Common| CommonRow {
        what: t(match common.above {
            true => "follow-above",
            false => "follow-below",
        })
        .with("what", place_words(common.place)),
        players: common.players.len(),
        names: names(&common.players),
    };
    overview.common.iter().map(row).collect()
}

/// Names as far as they are read through.
fn names(all: &[String]) -> Text {
    const MOST_NAMED: usize = 20;
    match all.len().checked_sub(MOST_NAMED) {
        None | Some(0) => Text::plain(all.join(", ")),
        Some(more) => t("follow-names-more")
            .with("names", all[..MOST_NAMED].join(", "))
            .with("more", more),
    }
}

impl DrillRow {
    fn of(effect: &DrillEffect, units: Units, by: &Prescribing) -> DrillRow {
        let rows = |moved: &[Moved]| moved.iter().map(|m| MovedRow::of(m, units)).collect();
        DrillRow {
            title: by.retold(&effect.title),
            players: many(effect.players, "follow-players"),
            moved: rows(&effect.aimed),
            besides: rows(&effect.besides),
            looked_at: effect.looked_at,
            by_chance: match effect.looked_at / 20 {
                0 => t("follow-fewer-than-one"),
                n => t("follow-about").with("count", n),
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
            what: place_words(moved.place),
            players: moved.players,
            mean: way(measure, mean, units),
            interval: moved.pooled.map(pooled),
            chance: moved.by_chance.map(|by| signed(measure, by, units)),
            beyond: moved.beyond_chance.map(|p| {
                t("follow-toward")
                    .with("amount", signed(measure, p.mean, units))
                    .with("interval", pooled(p))
            }),
            in_practice: moved.in_practice,
        }
    }
}

/// "+3.1 cm, toward the target".
fn way(measure: MeasureName, value: f64, units: Units) -> Text {
    let amount = signed(measure, value, units);
    match words::way(measure, value >= 0.0) {
        None => amount,
        Some(way) => t("follow-way").with("amount", amount).with("way", way),
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
            what: place_words(one.place),
            rests_on: Text::joined(
                [
                    many(players, "follow-players"),
                    many(sessions, "follow-sessions"),
                    many(swings, "follow-swings"),
                ],
                ", ",
            ),
            within: said(one.within),
            between: said(one.between),
            mdc_one: said(one.mdc_one),
            mdc_five: said(one.mdc_five),
            own: said(one.own),
            icc: one.icc.map(|icc| {
                let icc = Text::decimal(icc, 2);
                match &one.retest {
                    None => icc,
                    Some(retest) => t("follow-icc-retest")
                        .with("icc", icc)
                        .with("agreement", Text::decimal(retest.agreement, 2))
                        .with("low", Text::decimal(retest.interval.low, 2))
                        .with("high", Text::decimal(retest.interval.high, 2)),
                }
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
            let day = Day(20_782);
            lessonwright_language::Say::default().text(&due_words(Due { day, in_days }))
        };
        assert_eq!(due(0), "due today, 25 November 2026");
        assert_eq!(due(-1), "due since 25 November 2026 (1 day)");
        assert_eq!(due(3), "due on 25 November 2026 (in 3 days)");
    }
}
