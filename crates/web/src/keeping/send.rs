//! The page "film and send" of a lesson, for the player to keep on the phone.

use super::Here;
use crate::error::PageError;
use crate::named;
use crate::routes::lesson_address;
use axum::extract::{Path, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use lessonwright_language::Say;
use lessonwright_report::{SendFor, send_page};
use lessonwright_store::LessonId;

/// The page "film and send" of a lesson.
pub fn film_and_send_address(id: LessonId) -> String {
    format!("{}/film-and-send.html", lesson_address(id))
}

pub async fn film_and_send(
    State(here): State<Here>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let store = &here.studio.store;
    let lesson = named::lesson_summary(store, &id).await?;
    let player = store.player(lesson.player).await?;
    let player = player.ok_or_else(|| named::no_lesson(&id))?;
    let sent_for = SendFor {
        academy: here.studio.state.academy.clone(),
        coach: here.studio.state.coach.clone(),
        player: player.facts.name.clone(),
        code: player.code(),
        lesson: Some(lesson.id.0),
        hand: player.facts.hand,
        units: here.studio.state.for_player(&player).units,
        say: Say::new(
            player
                .facts
                .language
                .unwrap_or_else(|| here.studio.state.spoken.language()),
        ),
    };
    let headers = [
        (CONTENT_TYPE, "text/html; charset=utf-8"),
        // Kept, not shown: its script runs where the player opens it, never in the studio.
        (
            CONTENT_DISPOSITION,
            "attachment; filename=\"film-and-send.html\"",
        ),
    ];
    Ok((headers, send_page(&sent_for)?).into_response())
}
