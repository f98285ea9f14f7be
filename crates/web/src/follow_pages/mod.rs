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
use lessonwright_language::{Text, filters, t, when, words};
use lessonwright_model::{Day, Interval, MeasureName, Place};
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
fn spelled(day: Day) -> Text {
    when::date(date_of(day))
}

/// "12 swings in 3 sessions".
fn counts([sessions, swings]: [usize; 2]) -> Text {
    t("follow-counts")
        .with("swings", many(swings, "follow-swings"))
        .with("sessions", many(sessions, "follow-sessions"))
}

fn many(count: usize, what: &'static str) -> Text {
    t(what).with("count", count)
}

/// A measure and when it is taken: "pelvis shift, from top to impact".
fn place_words(place: Place) -> Text {
    let measure = words::measure(place.measure);
    let moment = words::moment(place.moment);
    match place.against {
        _ if place.measure.is_timing() => measure,
        Some(against) => t("follow-place-from")
            .with("measure", measure)
            .with("against", words::moment(against))
            .with("moment", moment),
        None => t("follow-place")
            .with("measure", measure)
            .with("moment", moment),
    }
}

/// A size with its unit: "3.1 cm", "4°".
fn size(measure: MeasureName, value: f64, units: Units) -> Text {
    Text::figure(written(measure, value, units))
}

/// The same, as written in English.
fn written(measure: MeasureName, value: f64, units: Units) -> String {
    let amount = Amount::new(measure, value, units);
    let number = amount.number;
    match amount.unit {
        "" => number,
        "°" => format!("{number}°"),
        unit => format!("{number} {unit}"),
    }
}

/// A size with a sign: "+3.1 cm".
fn signed(measure: MeasureName, value: f64, units: Units) -> Text {
    let sign = match Amount::new(measure, value, units).direction {
        Direction::Plus => "+",
        Direction::Minus => "−",
        Direction::Nil => "",
    };
    Text::figure(format!("{sign}{}", written(measure, value, units)))
}

/// A change, plus where it is toward the number to reach: "+3.1 cm (+1.2 to +5.0 cm)".
fn toward(measure: MeasureName, change: &Change, units: Units) -> Text {
    let turned = turned(change.interval, change.toward);
    let amount = signed(measure, change.toward * change.change, units);
    t("follow-toward")
        .with("amount", amount)
        .with("interval", between(measure, turned, units))
}

/// "+1.2 cm to +5.0 cm".
fn between(measure: MeasureName, interval: Interval, units: Units) -> Text {
    let end = |v| signed(measure, v, units);
    t("follow-between")
        .with("low", end(interval.low))
        .with("high", end(interval.high))
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
    use lessonwright_language::{Language, Say};
    use lessonwright_model::MomentName;

    #[test]
    fn a_change_is_plus_where_it_is_toward_the_number() {
        let interval = Interval {
            low: -5.0,
            high: -1.2,
        };
        let shown = turned(interval, -1.0);
        let english = |text: Text| Say::default().text(&text);
        let german = |text: Text| Say::new(Language::German).text(&text);
        let between = || between(MeasureName::PelvisShift, shown, Units::Centimetres);
        assert_eq!(english(between()), "+1.2 cm to +5.0 cm");
        assert_eq!(german(between()), "+1,2 cm bis +5,0 cm");
        let turn = signed(MeasureName::KneeLineTurn, -7.4, Units::Centimetres);
        assert_eq!(english(turn), "−7°");
        let shift = signed(MeasureName::PelvisShift, 0.01, Units::Centimetres);
        assert_eq!(english(shift), "0 cm");
    }

    /// One word for one thing: the command line says what the pages say.
    #[test]
    fn the_english_of_a_place_is_what_model_says() {
        let english = |text: Text| Say::default().text(&text);
        let place = |moment, against| Place {
            measure: MeasureName::PelvisShift,
            moment,
            against,
        };
        for place in [
            place(MomentName::Impact, Some(MomentName::Top)),
            place(MomentName::Top, None),
            Place {
                measure: MeasureName::TempoRatio,
                ..place(MomentName::Impact, None)
            },
        ] {
            assert_eq!(english(place_words(place)), place.plain());
        }
    }
}
