//! The drill book to leaf through: all drills, or those that help with a flight; each as the player reads it.

use crate::error::PageError;
use crate::pages::{DrillPage, DrillsPage};
use crate::routes::{Fields, Studio, shown};
use axum::Router;
use axum::extract::{Path, Query, State};
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use lessonwright_coaching::Flight;
use lessonwright_language::{Text, t};
use lessonwright_model::Hand;

/// The page of the whole book.
pub const DRILLS_ADDRESS: &str = "/drills";

/// The page of a drill.
pub fn drill_address(key: &str) -> String {
    format!("{DRILLS_ADDRESS}/{key}")
}

/// A drill's stills.
pub fn stills_address(key: &str) -> String {
    format!("{}/stills.jpg", drill_address(key))
}

pub fn routes() -> Router<Studio> {
    Router::new()
        .route(DRILLS_ADDRESS, get(book))
        .route("/drills/{key}", get(drill))
        .route("/drills/{key}/stills.jpg", get(stills))
}

async fn book(
    State(studio): State<Studio>,
    Query(fields): Query<Fields>,
) -> Result<Response, PageError> {
    let flight = fields.get("flight").filter(|key| !key.is_empty());
    let flight = match flight {
        None => None,
        Some(key) => Some(
            Flight::ALL
                .into_iter()
                .find(|flight| flight.plain() == key)
                .ok_or_else(|| {
                    PageError::Missing(t("error-none-flight").with("key", key.to_string()))
                })?,
        ),
    };
    shown(&DrillsPage::of(&studio.state, flight))
}

async fn drill(
    State(studio): State<Studio>,
    Path(key): Path<String>,
    Query(fields): Query<Fields>,
) -> Result<Response, PageError> {
    let hand = match fields.get("hand").map(String::as_str) {
        Some("left") => Hand::Left,
        _ => Hand::Right,
    };
    let prescribing = &studio.state.prescribing;
    let page = prescribing.book.page(&key).ok_or_else(|| missing(&key))?;
    shown(&DrillPage::of(&studio.state, page, hand, prescribing)?)
}

async fn stills(
    State(studio): State<Studio>,
    Path(key): Path<String>,
) -> Result<Response, PageError> {
    let figure = studio.state.prescribing.figures.of(&key);
    let figure = figure.ok_or_else(|| missing(&key))?;
    let headers = [
        (CONTENT_TYPE, "image/jpeg"),
        (CACHE_CONTROL, "max-age=3600"),
    ];
    Ok((headers, figure.stills.clone()).into_response())
}

/// A flight: "slice".
pub fn flight_words(flight: Flight) -> Text {
    t(match flight {
        Flight::Straight => "drills-flight-straight",
        Flight::Fade => "drills-flight-fade",
        Flight::Draw => "drills-flight-draw",
        Flight::Slice => "drills-flight-slice",
        Flight::Hook => "drills-flight-hook",
        Flight::Pull => "drills-flight-pull",
        Flight::PullSlice => "drills-flight-pull-slice",
        Flight::PullHook => "drills-flight-pull-hook",
        Flight::Push => "drills-flight-push",
        Flight::PushSlice => "drills-flight-push-slice",
        Flight::PushHook => "drills-flight-push-hook",
        Flight::Fat => "drills-flight-fat",
        Flight::Thin => "drills-flight-thin",
        Flight::Top => "drills-flight-top",
        Flight::Shank => "drills-flight-shank",
        Flight::Toe => "drills-flight-toe",
        Flight::Heel => "drills-flight-heel",
        Flight::Sky => "drills-flight-sky",
        Flight::High => "drills-flight-high",
        Flight::Low => "drills-flight-low",
    })
}

/// Flights as they are on record; what is no known flight stays as it was written.
pub fn flights_words(on_record: &str) -> Text {
    let named = |name: &str| {
        Flight::ALL
            .into_iter()
            .find(|flight| flight.plain() == name)
    };
    // One flight has a comma of its own.
    let all: Option<Vec<Flight>> = match named(on_record) {
        Some(flight) => Some(vec![flight]),
        None => on_record.split(", ").map(named).collect(),
    };
    match all {
        Some(flights) => Text::joined(flights.into_iter().map(flight_words), ", "),
        None => Text::plain(on_record),
    }
}

fn missing(key: &str) -> PageError {
    PageError::Missing(t("error-none-drill").with("key", key.to_string()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_language::{Language, Say};

    /// One word for one thing: the command line says what the pages say.
    #[test]
    fn the_english_is_what_coaching_says() {
        for flight in Flight::ALL {
            assert_eq!(Say::default().text(&flight_words(flight)), flight.plain());
            assert_eq!(
                flights_words(flight.plain()),
                Text::joined([flight_words(flight)], ", ")
            );
        }
    }

    #[test]
    fn flights_on_record_are_said_one_by_one() {
        let german = |on_record| Say::new(Language::German).text(&flights_words(on_record));
        assert_eq!(german("slice, fat shot"), "Slice, fetter Schlag");
        assert_eq!(german("a big banana"), "a big banana");
    }
}
