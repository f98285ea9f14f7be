//! Whether the studio answers, for the script that keeps what is typed until it does; and the words for what a busy or full
//! machine could not keep.

use crate::routes::Studio;
use askama::Template;
use axum::Router;
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::IntoResponse;
use axum::routing::get;
use lessonwright_language::filters;
use lessonwright_store::StoreError;

const SCRIPT: &str = include_str!("../scripts/offline/typed.js");

pub fn routes() -> Router<Studio> {
    Router::new()
        .route("/answers", get(answers))
        .route("/typed.js", get(script))
}

async fn answers() -> StatusCode {
    StatusCode::NO_CONTENT
}

async fn script() -> impl IntoResponse {
    ([(CONTENT_TYPE, "text/javascript; charset=utf-8")], SCRIPT)
}

/// What stands in the way for now, and goes away by itself or by making room.
#[derive(Template)]
#[template(path = "offline/trouble.html")]
pub struct Trouble {
    heading: &'static str,
    what: &'static str,
    then: &'static str,
}

/// The page for a store that is busy or full; none for any other error.
pub fn trouble(error: &StoreError) -> Option<(StatusCode, Trouble)> {
    if error.is_disk_full() {
        let full = Trouble {
            heading: "The disk is full",
            what: "There is no room left on the disk of the studio's machine, so this was not kept. What was kept before is whole.",
            then: "Make room – on the page Studio, under Storage, is what can be cleared – then go back and send it again.",
        };
        return Some((StatusCode::INSUFFICIENT_STORAGE, full));
    }
    error.is_busy().then_some((
        StatusCode::SERVICE_UNAVAILABLE,
        Trouble {
            heading: "The studio is busy",
            what: "Another program is writing to the studio's database – a backup, an import, a second studio – so this was not kept.",
            then: "Wait a moment, then go back and send it again.",
        },
    ))
}
