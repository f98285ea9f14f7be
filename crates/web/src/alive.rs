//! Whether the studio answers, for the script that keeps what is typed until it does; and the words for what a busy or full
//! machine could not keep.

use crate::routes::Studio;
use askama::Template;
use axum::Router;
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::IntoResponse;
use axum::routing::get;
use lessonwright_language::{Text, filters, t};
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
    heading: Text,
    what: Text,
    then: Text,
}

/// The page for a store that is busy or full; none for any other error.
pub fn trouble(error: &StoreError) -> Option<(StatusCode, Trouble)> {
    if error.is_disk_full() {
        let full = Trouble {
            heading: t("page-disk-full"),
            what: t("page-disk-full-what"),
            then: t("page-disk-full-then"),
        };
        return Some((StatusCode::INSUFFICIENT_STORAGE, full));
    }
    error.is_busy().then_some((
        StatusCode::SERVICE_UNAVAILABLE,
        Trouble {
            heading: t("page-busy"),
            what: t("page-busy-what"),
            then: t("page-busy-then"),
        },
    ))
}
