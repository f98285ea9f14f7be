//! A player's progress letter: what it is, a note for its top, the page and the paper.

use crate::AppState;
use crate::error::{PageError, page};
use crate::follow::progress_address;
use crate::named;
use crate::routes::{Fields, LESSON_POLICY, Studio, player_address, shown};
use askama::Template;
use axum::Router;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_SECURITY_POLICY, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use lessonwright_language::filters::told;
use lessonwright_language::{Text, filters};
use lessonwright_store::{Player, PlayerId};
use std::future::Future;
use std::pin::Pin;
use std::sync::Arc;

/// A letter as the player gets it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LetterFiles {
    /// HTML.
    pub page: String,
    /// PDF.
    pub paper: Vec<u8>,
}

/// Writes a player's letter, with a note of the professional's; what it says when it can't is for the professional.
pub type LetterOf = Arc<
    dyn Fn(
            PlayerId,
            Option<String>,
        ) -> Pin<Box<dyn Future<Output = Result<LetterFiles, String>> + Send>>
        + Send
        + Sync,
>;

/// Where a player's letter is written.
pub fn letter_address(id: PlayerId) -> String {
    format!("{}/letter", player_address(id))
}

pub fn routes() -> Router<Studio> {
    Router::new()
        .route("/players/{id}/letter", get(form))
        .route("/players/{id}/letter/page", get(letter))
        .route("/players/{id}/letter/letter.pdf", get(paper))
}

#[derive(Template)]
#[template(path = "letter_form.html")]
struct LetterForm {
    academy: String,
    player: String,
    player_address: String,
    progress: String,
    to: String,
    note: String,
    /// Why there is no letter.
    why: Option<Text>,
}

impl LetterForm {
    fn of(state: &AppState, player: &Player, fields: &Fields, why: Option<Text>) -> LetterForm {
        LetterForm {
            academy: state.academy.clone(),
            player: player.facts.name.clone(),
            player_address: player_address(player.id),
            progress: progress_address(player.id),
            to: letter_address(player.id),
            note: fields.get("note").cloned().unwrap_or_default(),
            why,
        }
    }
}

async fn form(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Query(fields): Query<Fields>,
) -> Result<Response, PageError> {
    let player = named::player(&studio.store, &id).await?;
    shown(&LetterForm::of(&studio.state, &player, &fields, None))
}

async fn letter(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Query(fields): Query<Fields>,
) -> Result<Response, PageError> {
    let player = named::player(&studio.store, &id).await?;
    Ok(match written(&studio, &player, &fields).await {
        Err(refused) => refused,
        Ok(files) => {
            let headers = [
                (CONTENT_TYPE, "text/html; charset=utf-8"),
                (CONTENT_SECURITY_POLICY, LESSON_POLICY),
            ];
            (headers, files.page).into_response()
        }
    })
}

async fn paper(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Query(fields): Query<Fields>,
) -> Result<Response, PageError> {
    let player = named::player(&studio.store, &id).await?;
    Ok(match written(&studio, &player, &fields).await {
        Err(refused) => refused,
        Ok(files) => {
            let headers = [
                (CONTENT_TYPE, "application/pdf"),
                (CONTENT_DISPOSITION, "attachment; filename=\"letter.pdf\""),
            ];
            (headers, files.paper).into_response()
        }
    })
}

/// The letter, or the form again with why there is none.
async fn written(
    studio: &Studio,
    player: &Player,
    fields: &Fields,
) -> Result<LetterFiles, Response> {
    let note = fields.get("note").cloned();
    let written = (studio.state.letter)(player.id, note).await;
    written.map_err(|why| {
        let form = LetterForm::of(&studio.state, player, fields, Some(told(&why)));
        page(StatusCode::CONFLICT, &form)
    })
}
