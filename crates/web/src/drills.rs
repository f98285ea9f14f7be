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
    let page = studio.state.prescribing.book.page(&key);
    let page = page.ok_or_else(|| missing(&key))?;
    shown(&DrillPage::of(&studio.state, page, hand)?)
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
        Some(flights) => Text::joined(flights.into_iter().map(Flight::text), ", "),
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

    #[test]
    fn flights_on_record_are_said_one_by_one() {
        let said = |language, on_record| Say::new(language).text(&flights_words(on_record));
        for flight in Flight::ALL {
            assert_eq!(said(Language::English, flight.plain()), flight.plain());
        }
        let slice = said(Language::German, "slice");
        let fat = said(Language::German, "fat shot");
        assert_ne!(fat, "fat shot");
        assert_eq!(
            said(Language::German, "slice, fat shot"),
            format!("{slice}, {fat}")
        );
        assert_eq!(said(Language::German, "a big banana"), "a big banana");
    }
}
