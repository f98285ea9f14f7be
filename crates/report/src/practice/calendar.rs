//! A plan as a calendar file (iCalendar, RFC 5545): an event a session and one for the next lesson.
//!
//! Times float: 17:30 is 17:30 wherever the player is. A session without a time of day is an event of the whole day.
//! The stamp that the standard asks for (DTSTAMP) is the plan's first day, not the clock, so that the same plan gives
//! the same bytes; the names of events (UID) follow from `key` and the day, so that a plan imported again replaces its
//! events. No name of a person is in the file. There are no reminders (VALARM): the library stamps those with the
//! clock and a name by chance.

use super::{amount, minutes};
use icalendar::{Calendar, Component, Event, Property};
use jiff::civil::{Date, DateTime, Time};
use jiff::{Span, ToSpan};
use lessonwright_model::{BlockKind, PracticePlan, Session};

/// The calendar file of a plan; `key` tells this player's plans from others' (letters, digits, hyphens).
pub fn calendar(plan: &PracticePlan, key: &str) -> String {
    let mut calendar = Calendar::empty();
    for (name, value) in [
        ("VERSION", "2.0"),
        ("PRODID", "-//Lessonwright//Practice plan//EN"),
        ("CALSCALE", "GREGORIAN"),
    ] {
        calendar.append_property(Property::new(name, value));
    }
    calendar.name("Golf practice");
    for session in &plan.sessions {
        calendar.push(event_of(plan, session, key));
    }
    calendar.push(lesson_of(plan, key));
    calendar.to_string()
}

fn event_of(plan: &PracticePlan, session: &Session, key: &str) -> Event {
    let check = if session.is_check() {
        " and self-check by phone"
    } else {
        ""
    };
    let mut event = event(plan, key, session.date, "practice");
    event.summary(&format!("Golf: {}{check}", plan.drill_title));
    event.description(&description(plan, session));
    match plan.practice.at {
        Some(at) => {
            let start = session.date.to_datetime(at);
            let end = start.saturating_add(Span::new().minutes(session.minutes()));
            event.append_property(moment("DTSTART", start));
            event.append_property(moment("DTEND", end));
        }
        None => whole_day(&mut event, session.date),
    }
    event.done()
}

fn lesson_of(plan: &PracticePlan, key: &str) -> Event {
    let mut event = event(plan, key, plan.practice.next_lesson, "lesson");
    event.summary("Golf lesson");
    whole_day(&mut event, plan.practice.next_lesson);
    event.done()
}

fn event(plan: &PracticePlan, key: &str, date: Date, what: &str) -> Event {
    let mut event = Event::new();
    event.uid(&format!("{key}-{what}-{date}@lessonwright"));
    let stamp = plan.practice.from.to_datetime(Time::midnight());
    event.append_property(Property::new(
        "DTSTAMP",
        stamp.strftime("%Y%m%dT%H%M%SZ").to_string(),
    ));
    event
}

/// What is done, block by block, with the cue before and the first cautions after.
fn description(plan: &PracticePlan, session: &Session) -> String {
    let blocks = session.blocks.iter().map(|block| {
        let amount = amount(block);
        let amount = if amount.is_empty() {
            amount
        } else {
            format!(" ({amount})")
        };
        format!(
            "{}, {} min: {}{amount} {}",
            block.kind.title(),
            minutes(block),
            block.says,
            block.look
        )
        .trim_end()
        .to_owned()
    });
    let check = session
        .is_check()
        .then(|| format!("{}: {}", BlockKind::Check.title(), plan.check));
    let lines = std::iter::once(format!("Cue: {}", plan.cue))
        .chain(blocks)
        .chain(check);
    let stop = "Stop on pain, and look all round before every swing.".to_owned();
    lines.chain([stop]).collect::<Vec<_>>().join("\n")
}

fn moment(key: &str, at: DateTime) -> Property {
    Property::new(key, at.strftime("%Y%m%dT%H%M%S").to_string())
}

/// From a day to the next, as the standard wants it: the end is the first day after.
fn whole_day(event: &mut Event, date: Date) {
    for (key, date) in [("DTSTART", date), ("DTEND", date.saturating_add(1.day()))] {
        let mut property = Property::new(key, date.strftime("%Y%m%d").to_string());
        property.add_parameter("VALUE", "DATE");
        event.append_property(property);
    }
}
