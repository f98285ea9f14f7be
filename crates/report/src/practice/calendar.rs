//! A plan as a calendar file (iCalendar, RFC 5545): an event a session and one for the next lesson.
//!
//! Times float: 17:30 is 17:30 wherever the player is. A session without a time of day is an event of the whole day.
//! The stamp that the standard asks for (DTSTAMP) is the plan's first day, not the clock, so that the same plan gives
//! the same bytes; the names of events (UID) follow from `key` and the day, so that a plan imported again replaces its
//! events. No name of a person is in the file. There are no reminders (VALARM): the library stamps those with the
//! clock and a name by chance.

use super::{amount, kind, minutes, title};
use icalendar::{Calendar, Component, Event, Property};
use jiff::civil::{Date, DateTime, Time};
use jiff::{Span, ToSpan};
use lessonwright_language::{Language, Say, t};
use lessonwright_model::{BlockKind, PracticePlan, Session};

/// The calendar file of a plan; `key` tells this player's plans from others' (letters, digits, hyphens).
pub fn calendar(plan: &PracticePlan, key: &str, say: Say) -> String {
    let product = match say.language {
        Language::English => "-//Lessonwright//Practice plan//EN",
        Language::German => "-//Lessonwright//Practice plan//DE",
    };
    let mut calendar = Calendar::empty();
    for (name, value) in [
        ("VERSION", "2.0"),
        ("PRODID", product),
        ("CALSCALE", "GREGORIAN"),
    ] {
        calendar.append_property(Property::new(name, value));
    }
    calendar.name(&say.text(&t("practice-calendar")));
    for session in &plan.sessions {
        calendar.push(event_of(plan, session, key, say));
    }
    calendar.push(lesson_of(plan, key, say));
    calendar.to_string()
}

fn event_of(plan: &PracticePlan, session: &Session, key: &str, say: Say) -> Event {
    let summary = match session.is_check() {
        true => t("practice-event-check"),
        false => t("practice-event"),
    };
    let mut event = event(plan, key, session.date, "practice");
    event.summary(&say.text(&summary.with("drill", &plan.drill_title)));
    event.description(&description(plan, session, say));
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

fn lesson_of(plan: &PracticePlan, key: &str, say: Say) -> Event {
    let mut event = event(plan, key, plan.practice.next_lesson, "lesson");
    event.summary(&say.text(&t("practice-event-lesson")));
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
fn description(plan: &PracticePlan, session: &Session, say: Say) -> String {
    let blocks = session.blocks.iter().map(|block| {
        let amount =
            amount(block).map_or_else(String::new, |amount| format!(" ({})", say.text(&amount)));
        format!(
            "{}, {}: {}{amount} {}",
            say.text(&title(block)),
            say.text(&t("practice-min").with("minutes", minutes(block))),
            block.says,
            block.look
        )
        .trim_end()
        .to_owned()
    });
    let check = session
        .is_check()
        .then(|| format!("{}: {}", say.text(&kind(BlockKind::Check)), plan.check));
    let lines = std::iter::once(say.text(&t("practice-event-cue").with("cue", &plan.cue)))
        .chain(blocks)
        .chain(check);
    let stop = say.text(&t("practice-event-stop"));
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
