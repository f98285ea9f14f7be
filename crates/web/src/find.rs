//! Search: one field on every page, and a page of what was found.

use crate::error::PageError;
use crate::pages::{SearchPage, SearchPart};
use crate::routes::{Fields, Studio, shown};
use axum::Router;
use axum::extract::{Query, State};
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use axum::routing::get;

const STYLE: &str = include_str!("../templates/find.css");
const SCRIPT: &str = include_str!("../scripts/find/find.js");

pub fn routes() -> Router<Studio> {
    Router::new()
        .route("/search", get(search))
        .route("/find/find.css", get(style))
        .route("/find/find.js", get(script))
}

/// The whole page, or with `part=yes` only what goes below the field.
async fn search(
    State(studio): State<Studio>,
    Query(fields): Query<Fields>,
) -> Result<Response, PageError> {
    let text = fields.get("for").map_or("", |text| text.trim());
    if fields.contains_key("part") {
        return shown(&SearchPart::of(&studio.store, &studio.state, text).await?);
    }
    shown(&SearchPage::of(&studio.store, &studio.state, text).await?)
}

async fn style() -> impl IntoResponse {
    ([(CONTENT_TYPE, "text/css; charset=utf-8")], STYLE)
}

async fn script() -> impl IntoResponse {
    ([(CONTENT_TYPE, "text/javascript; charset=utf-8")], SCRIPT)
}
