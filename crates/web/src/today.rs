//! Today's addresses: the page, and the buttons that take something off its lists.

use crate::error::{PageError, refused};
use crate::named;
use crate::pages::TodayPage;
use crate::routes::{Fields, Studio, lesson_address, shown, swing_address};
use axum::Router;
use axum::extract::{Form, Path, State};
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use lessonwright_language::t;
use lessonwright_store::{LessonId, SwingId};

const STYLE: &str = include_str!("../templates/today.css");

/// The first page.
pub const TODAY_ADDRESS: &str = "/";

/// Where a lesson is marked as sent.
pub fn sent_address(id: LessonId) -> String {
    format!("{}/sent", lesson_address(id))
}

/// Where a swing is set aside.
pub fn aside_address(id: SwingId) -> String {
    format!("{}/aside", swing_address(id))
}

pub fn routes() -> Router<Studio> {
    Router::new()
        .route(TODAY_ADDRESS, get(today))
        .route("/lessons/{id}/sent", post(sent))
        .route("/swings/{id}/aside", post(aside))
        .route("/today.css", get(style))
}

async fn today(State(studio): State<Studio>) -> Result<Response, PageError> {
    shown(&TodayPage::of(&studio).await?)
}

async fn sent(State(studio): State<Studio>, Path(id): Path<String>) -> Result<Response, PageError> {
    let lesson = named::lesson_summary(&studio.store, &id).await?;
    let back = swing_address(lesson.swing);
    match studio
        .store
        .mark_lesson_sent(lesson.id, (studio.state.now)())
        .await
    {
        Ok(()) => Ok(Redirect::to(&back).into_response()),
        Err(error) => refused(error, back),
    }
}

/// Sets a swing aside that needs no lesson; with `back` takes that back.
async fn aside(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let missing = || PageError::Missing(t("error-none-swing").with("key", id.to_string()));
    let key = SwingId(id.parse().map_err(|_| missing())?);
    studio.store.swing(key).await?.ok_or_else(missing)?;
    let at = (!fields.contains_key("back")).then(|| (studio.state.now)());
    studio.store.set_aside(key, at).await?;
    let to = match at {
        Some(_) => TODAY_ADDRESS.to_owned(),
        None => swing_address(key),
    };
    Ok(Redirect::to(&to).into_response())
}

async fn style() -> impl IntoResponse {
    ([(CONTENT_TYPE, "text/css; charset=utf-8")], STYLE)
}
