//! The follow-up's pages as structs, and how they say numbers.

mod player;
mod roster;

pub use player::PlayerFollowUp;
pub use roster::RosterFollowUp;

use crate::error::PageError;
use crate::routes::Studio;
use crate::wording::today;
use askama::Template;
use askama::filters::HtmlSafe;
use lessonwright_coaching::follow::{Change, Counted, Roster, Verdict};
use lessonwright_model::{Day, Interval, MeasureName};
use lessonwright_report::{Amount, Direction, TrendMark, Units};
use lessonwright_store::{date_of, day_of};
use std::sync::Arc;

/// A verdict, or that there is none yet: a shape and a word. Displays as HTML.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Template)]
#[template(path = "follow_verdict.html")]
struct Badge(Option<Verdict>);

impl HtmlSafe for Badge {}

/// Everybody's history, and the day.
async fn everybody(studio: &Studio) -> Result<(Arc<Roster>, Day), PageError> {
    let roster = studio.follow.roster(&studio.store, &studio.state).await?;
    Ok((roster, day_of(today(&studio.state))))
}

/// Statistics are no work for the threads that answer.
pub(crate) async fn computed<T: Send + 'static>(work: impl FnOnce() -> T + Send + 'static) -> T {
    match tokio::task::spawn_blocking(work).await {
        Ok(done) => done,
        Err(failed) => std::panic::resume_unwind(failed.into_panic()),
    }
}

/// "4 November 2026".
fn spelled(day: Day) -> String {
    date_of(day).strftime("%-d %B %Y").to_string()
}

/// "4 Nov".
fn short(day: Day) -> String {
    date_of(day).strftime("%-d %b").to_string()
}

/// "12 swings in 3 sessions".
fn counts([sessions, swings]: [usize; 2]) -> String {
    format!("{} in {}", many(swings, "swing"), many(sessions, "session"))
}

fn many(n: usize, what: &str) -> String {
    match n {
        1 => format!("1 {what}"),
        _ => format!("{n} {what}s"),
    }
}

/// A size with its unit: "3.1 cm", "4°".
fn size(measure: MeasureName, value: f64, units: Units) -> String {
    let amount = Amount::new(measure, value, units);
    let number = amount.number;
    match amount.unit {
        "" => number,
        "°" => format!("{number}°"),
        unit => format!("{number} {unit}"),
    }
}

/// A size with a sign: "+3.1 cm".
fn signed(measure: MeasureName, value: f64, units: Units) -> String {
    let sign = match Amount::new(measure, value, units).direction {
        Direction::Plus => "+",
        Direction::Minus => "−",
        Direction::Nil => "",
    };
    format!("{sign}{}", size(measure, value, units))
}

/// A change, plus where it is toward the number to reach: "+3.1 cm (+1.2 to +5.0 cm)".
fn toward(measure: MeasureName, change: &Change, units: Units) -> String {
    let turned = turned(change.interval, change.toward);
    let amount = signed(measure, change.toward * change.change, units);
    format!("{amount} ({})", between(measure, turned, units))
}

/// "+1.2 cm to +5.0 cm".
fn between(measure: MeasureName, interval: Interval, units: Units) -> String {
    let end = |v| signed(measure, v, units);
    format!("{} to {}", end(interval.low), end(interval.high))
}

fn turned(interval: Interval, sign: f64) -> Interval {
    match sign > 0.0 {
        true => interval,
        false => Interval {
            low: -interval.high,
            high: -interval.low,
        },
    }
}

fn mark_of(counted: Counted) -> TrendMark {
    match counted {
        Counted::Practice => TrendMark::Practice,
        Counted::Unmarked => TrendMark::Unmarked,
        Counted::Retention => TrendMark::Retention,
        Counted::Transfer => TrendMark::Transfer,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_change_is_plus_where_it_is_toward_the_number() {
        let interval = Interval {
            low: -5.0,
            high: -1.2,
        };
        let shown = turned(interval, -1.0);
        assert_eq!(
            between(MeasureName::PelvisShift, shown, Units::Centimetres),
            "+1.2 cm to +5.0 cm"
        );
        assert_eq!(
            signed(MeasureName::KneeLineTurn, -7.4, Units::Centimetres),
            "−7°"
        );
        assert_eq!(
            signed(MeasureName::PelvisShift, 0.01, Units::Centimetres),
            "0 cm"
        );
    }
}
