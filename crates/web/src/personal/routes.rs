//! The door's addresses and their handlers.

use super::agreed;
use super::answers;
use super::door::{
    Address, Door, Trouble, Visit, ended, guarded, in_the_players_language, too_much,
};
use super::lessons;
use super::limits::{Limits, What};
use super::page::{Before, PersonalPage};
use super::tray::{SentTray, clips_of};
use crate::AppState;
use crate::bring_in::files;
use crate::bring_in::upload::{self, Scope};
use crate::error::{PageError, page as with_status};
use crate::language::{say, spoken};
use crate::routes::{Fields, Studio, shown};
use crate::script_words;
use crate::wording::today;
use axum::Router;
use axum::body::Body;
use axum::extract::{DefaultBodyLimit, Form, Multipart, Path, Query, State};
use axum::http::header::CONTENT_TYPE;
use axum::http::{HeaderMap, StatusCode};
use axum::middleware;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, options, patch, post};
use lessonwright_exchange::MOST_CLIP_BYTES;
use lessonwright_language::{Text, t};
use lessonwright_store::{MailKind, Store};
use std::sync::Arc;
use tower_http::compression::CompressionLayer;

/// Most bytes of clips of one player that wait to be looked at.
const MOST_WAITING_BYTES: u64 = 6 << 30;
/// Most bytes of a form of words.
const MOST_FORM_BYTES: usize = 64 << 10;
/// Most bytes of a form without scripts: two clips and what is around them.
const MOST_CLIPS_BYTES: usize = (2 * MOST_CLIP_BYTES) as usize + (1 << 20);

/// The page of a token.
pub fn personal_address(token: &str) -> String {
    format!("/for/{token}")
}

/// The pages for players, and no others. Meant for a listener of its own, behind what speaks TLS at `address`.
pub fn personal_router(store: Store, state: AppState, address: Address) -> Router {
    let language = state.spoken.clone();
    let door = Door {
        studio: Studio::new(store, state),
        limits: Arc::new(Limits::new()),
    };
    let routes = Router::new()
        .route("/for/{token}", get(page))
        .route("/for/{token}/tray", get(tray))
        .route(
            "/for/{token}/clips",
            post(clips).layer(DefaultBodyLimit::max(MOST_CLIPS_BYTES)),
        )
        .route("/for/{token}/uploads", options(upload::options).post(begin))
        .route(
            "/for/{token}/uploads/{key}",
            patch(append)
                .head(offset)
                .delete(end)
                .options(upload::options),
        )
        .route("/for/{token}/answers", post(answer))
        .route("/for/{token}/agreed", post(agree))
        .route("/for/{token}/mail", post(mail))
        .route("/for/{token}/lessons/{id}", get(lessons::lesson))
        .route(
            "/for/{token}/lessons/{id}/pictures/{number}",
            get(lessons::picture),
        )
        .route("/for/{token}/lessons/{id}/lesson.pdf", get(lessons::paper))
        .route("/for/{token}/lessons/{id}/film.mp4", get(lessons::film))
        .route("/bring-in/files/{file}", get(files::file))
        .route("/personal/{file}", get(file))
        .route("/words.js", get(script_words::module))
        .route("/studio.css", get(crate::routes::style))
        .route("/robots.txt", get(robots))
        .fallback(missing)
        .layer(DefaultBodyLimit::max(MOST_FORM_BYTES))
        .layer(middleware::from_fn_with_state(
            door.clone(),
            in_the_players_language,
        ))
        .layer(CompressionLayer::new())
        .with_state(door);
    spoken(guarded(routes, address), language)
}

async fn missing(State(door): State<Door>) -> Response {
    ended(&door).await
}

async fn robots() -> impl IntoResponse {
    let text = "User-agent: *\nDisallow: /\n";
    ([(CONTENT_TYPE, "text/plain; charset=utf-8")], text)
}

/// Style and script of these pages, built into the program.
pub async fn file(Path(name): Path<String>) -> Result<Response, Trouble> {
    let (kind, text) = match name.as_str() {
        "personal.css" => (
            "text/css; charset=utf-8",
            include_str!("../../templates/personal.css"),
        ),
        "copy.js" => (
            "text/javascript; charset=utf-8",
            include_str!("../../scripts/personal/copy.js"),
        ),
        _ => {
            return Err(
                PageError::Missing(t("error-none-page").with("key", name.to_string())).into(),
            );
        }
    };
    Ok(([(CONTENT_TYPE, kind)], text).into_response())
}

async fn page(
    State(door): State<Door>,
    visit: Visit,
    Query(fields): Query<Fields>,
) -> Result<Response, Trouble> {
    let before = Before {
        said: fields.get("said").cloned().unwrap_or_default(),
        ..Before::default()
    };
    Ok(shown(
        &PersonalPage::of(&door.studio, &visit, before).await?,
    )?)
}

async fn tray(State(door): State<Door>, visit: Visit) -> Result<Response, Trouble> {
    Ok(shown(&SentTray::of(&door.studio, &visit).await?)?)
}

/// Back to the page, which says that it is done.
fn done(visit: &Visit, said: &str) -> Response {
    Redirect::to(&format!(
        "{}?said={said}#said",
        personal_address(&visit.token)
    ))
    .into_response()
}

/// The page again, which says what is wrong.
async fn wrong(door: &Door, visit: &Visit, problem: Text) -> Result<Response, Trouble> {
    let before = Before {
        problem: Some(problem),
        ..Before::default()
    };
    let page = PersonalPage::of(&door.studio, visit, before).await?;
    Ok(with_status(StatusCode::UNPROCESSABLE_ENTITY, &page))
}

fn scope(visit: &Visit) -> Scope {
    Scope {
        player: Some(visit.player.id),
        link: Some(visit.link.id),
    }
}

/// Why this player may not send so many more bytes, if it is so.
async fn too_many_bytes(door: &Door, visit: &Visit, more: u64) -> Result<Option<Text>, PageError> {
    if more > MOST_CLIP_BYTES {
        let most_mb = MOST_CLIP_BYTES >> 20;
        return Ok(Some(t("personal-clip-too-large").with("most", most_mb)));
    }
    let waiting = clips_of(&door.studio.store, visit.player.id).await?;
    let bytes: u64 = waiting.iter().map(|clip| clip.bytes).sum();
    Ok((bytes + more > MOST_WAITING_BYTES).then(|| t("personal-many-wait")))
}

/// Asks for an e-mail to the professional, if there is a mail server.
async fn tell(door: &Door, visit: &Visit) -> Result<(), PageError> {
    let state = &door.studio.state;
    if let Some(after) = state.bring_in.doors.mail_after {
        let now = (state.now)();
        let store = &door.studio.store;
        store
            .ask_for_mail(visit.player.id, MailKind::SentIn, now, now + after)
            .await?;
    }
    Ok(())
}

async fn clips(
    State(door): State<Door>,
    visit: Visit,
    form: Multipart,
) -> Result<Response, Trouble> {
    if !door.allows(&visit, What::Clip) {
        return Ok(too_much());
    }
    if let Some(problem) = too_many_bytes(&door, &visit, MOST_CLIP_BYTES).await? {
        return wrong(&door, &visit, problem).await;
    }
    let brought = upload::form(&door.studio, scope(&visit), form).await;
    if brought.clips > 0 {
        tell(&door, &visit).await?;
    }
    if brought.refused.is_empty() && brought.clips > 0 {
        return Ok(done(&visit, "clips"));
    }
    let problem = brought
        .refused
        .is_empty()
        .then(|| t("personal-choose-first"));
    let before = Before {
        problem,
        brought,
        ..Before::default()
    };
    let page = PersonalPage::of(&door.studio, &visit, before).await?;
    Ok(with_status(StatusCode::UNPROCESSABLE_ENTITY, &page))
}

async fn begin(
    State(door): State<Door>,
    visit: Visit,
    headers: HeaderMap,
) -> Result<Response, Trouble> {
    if !door.allows(&visit, What::Clip) {
        let why = say().text(&t("personal-too-many-clips"));
        return Ok((StatusCode::FORBIDDEN, why).into_response());
    }
    let length = headers.get("upload-length").and_then(|v| v.to_str().ok());
    let length = length.and_then(|text| text.parse().ok()).unwrap_or(0);
    if let Some(why) = too_many_bytes(&door, &visit, length).await? {
        return Ok((StatusCode::PAYLOAD_TOO_LARGE, say().text(&why)).into_response());
    }
    let base = format!("{}/uploads", personal_address(&visit.token));
    Ok(upload::create(&door.studio, scope(&visit), &base, &headers).await)
}

async fn offset(
    State(door): State<Door>,
    visit: Visit,
    Path((_, key)): Path<(String, String)>,
) -> Response {
    upload::offset(&door.studio, scope(&visit), &key).await
}

async fn append(
    State(door): State<Door>,
    visit: Visit,
    Path((_, key)): Path<(String, String)>,
    headers: HeaderMap,
    body: Body,
) -> Result<Response, Trouble> {
    let response = upload::append(&door.studio, scope(&visit), &key, &headers, body).await;
    if response.status().is_success() {
        let upload = door.studio.store.upload(&key).await?;
        if upload.is_some_and(|(upload, _)| upload.arrival.is_some()) {
            tell(&door, &visit).await?;
        }
    }
    Ok(response)
}

async fn end(
    State(door): State<Door>,
    visit: Visit,
    Path((_, key)): Path<(String, String)>,
) -> Response {
    upload::end(&door.studio, scope(&visit), &key).await
}

async fn answer(
    State(door): State<Door>,
    visit: Visit,
    Form(fields): Form<Fields>,
) -> Result<Response, Trouble> {
    if !door.allows(&visit, What::Form) {
        return Ok(too_much());
    }
    let answers = match answers::read(&fields) {
        Ok(answers) => answers,
        Err(problem) => return wrong(&door, &visit, problem).await,
    };
    let (store, now) = (&door.studio.store, (door.studio.state.now)());
    let form = fields.get("form").map_or("", String::as_str);
    let form: String = form.chars().take(64).collect();
    let taken = answers::record(&answers, &form, today(&door.studio.state), now);
    let taken = taken.map_err(|_| PageError::Missing(t("personal-none-form")))?;
    if store.keep_answers_to_read(visit.player.id, &taken).await? {
        let facts = answers::facts_with(&visit.player.facts, &answers, now);
        store.update_player(visit.player.id, &facts).await?;
        tell(&door, &visit).await?;
    }
    Ok(done(&visit, "answers"))
}

async fn agree(
    State(door): State<Door>,
    visit: Visit,
    Form(fields): Form<Fields>,
) -> Result<Response, Trouble> {
    if !door.allows(&visit, What::Form) {
        return Ok(too_much());
    }
    match agreed::note(&door.studio, &visit, &fields).await? {
        Ok(()) => Ok(done(&visit, "agreed")),
        Err(problem) => wrong(&door, &visit, problem).await,
    }
}

async fn mail(
    State(door): State<Door>,
    visit: Visit,
    Form(fields): Form<Fields>,
) -> Result<Response, Trouble> {
    if !door.allows(&visit, What::Form) {
        return Ok(too_much());
    }
    match agreed::note_mail(&door.studio, &visit, &fields).await? {
        Ok(()) => Ok(done(&visit, "mail")),
        Err(problem) => wrong(&door, &visit, problem).await,
    }
}
