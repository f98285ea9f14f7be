//! The desk's addresses.

use super::drafts::Draft;
use super::files::all_in_one;
use super::forms;
use super::page::{DeskPage, is_usual};
use crate::by_hand::Asked;
use crate::error::{PageError, page};
use crate::language::say;
use crate::pages::NotCorrected;
use crate::practice;
use crate::routes::{Fields, LESSON_POLICY, Studio, shown, swing_address};
use axum::extract::{DefaultBodyLimit, Form, Multipart, Path, State};
use axum::http::StatusCode;
use axum::http::header::{
    CONTENT_DISPOSITION, CONTENT_SECURITY_POLICY, CONTENT_TYPE, X_FRAME_OPTIONS,
};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum::{Json, Router};
use lessonwright_language::filters::told;
use lessonwright_language::t;
use lessonwright_model::{Choices, Scrub};
use lessonwright_store::{StoredAnalysis, SwingId};

/// Three minutes of sound without compression are 17 MB.
const LARGEST_VOICE: usize = 40_000_000;

/// The lesson desk of a swing.
pub fn desk_address(id: SwingId) -> String {
    format!("{}/lesson", swing_address(id))
}

/// Where the desk's forms go and its files are.
pub struct Addresses {
    pub teaching: String,
    pub words: String,
    pub voice: String,
    pub forget_voice: String,
    pub draft: String,
    pub approve: String,
    pub state: String,
    pub preview: String,
    pub all: String,
}

impl Addresses {
    pub fn of(id: SwingId) -> Addresses {
        let to = |what: &str| format!("{}/{what}", desk_address(id));
        Addresses {
            teaching: to("teaching"),
            words: to("words"),
            voice: to("voice"),
            forget_voice: to("voice/forget"),
            draft: to("draft"),
            approve: to("approve"),
            state: to("state"),
            preview: to("preview"),
            all: to("all.zip"),
        }
    }
}

pub fn routes() -> Router<Studio> {
    Router::new()
        .route("/swings/{id}/lesson", get(desk))
        .route("/swings/{id}/lesson/teaching", post(teaching))
        .route("/swings/{id}/lesson/words", post(words))
        .route(
            "/swings/{id}/lesson/voice",
            get(voice)
                .post(speak)
                .layer(DefaultBodyLimit::max(LARGEST_VOICE)),
        )
        .route("/swings/{id}/lesson/voice/forget", post(forget_voice))
        .route("/swings/{id}/lesson/draft", post(draft))
        .route("/swings/{id}/lesson/approve", post(approve))
        .route("/swings/{id}/lesson/state", get(state))
        .route("/swings/{id}/lesson/preview", get(preview))
        .route("/swings/{id}/lesson/all.zip", get(all))
        .route("/desk/{file}", get(file))
}

async fn desk(State(studio): State<Studio>, Path(id): Path<String>) -> Result<Response, PageError> {
    let page = DeskPage::of(&studio, known(&studio, &id).await?.swing).await?;
    shown(&page.ok_or_else(|| missing(&id))?)
}

/// Keeps what is taught; where it is another, the swing is judged again by it.
async fn teaching(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let stored = known(&studio, &id).await?;
    let before = studio.store.choices(stored.swing).await?.choices;
    let teaching = forms::teaching(&fields, &before.teaching, &stored.analysis);
    let judged = before.teaching != teaching;
    let choices = Choices { teaching, ..before };
    keep(&studio, &stored, &choices).await?;
    let asked = if judged { Asked::Again } else { Asked::Draft };
    then(&studio, stored.swing, asked, "#what").await
}

async fn words(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let stored = known(&studio, &id).await?;
    let before = studio.store.choices(stored.swing).await?.choices;
    let choices = forms::words(&fields, before, &stored.analysis, is_usual);
    keep(&studio, &stored, &choices).await?;
    then(&studio, stored.swing, Asked::Draft, "#words").await
}

async fn keep(
    studio: &Studio,
    stored: &StoredAnalysis,
    choices: &Choices,
) -> Result<(), PageError> {
    let now = (studio.state.now)();
    Ok(studio
        .store
        .keep_choices(stored.swing, choices, now)
        .await?)
}

/// Has the swing's lesson brought up to date, and goes back to the desk.
async fn then(
    studio: &Studio,
    swing: SwingId,
    asked: Asked,
    place: &str,
) -> Result<Response, PageError> {
    studio.state.drafts.note(swing, None);
    let back = desk_address(swing);
    Ok(match (studio.state.correct)(swing, asked).await {
        Ok(()) => Redirect::to(&format!("{back}{place}")).into_response(),
        Err(reason) => {
            let reason = told(&reason);
            page(StatusCode::CONFLICT, &NotCorrected { reason, back })
        }
    })
}

/// A recording: the file, and, from the desk's own recorder, which frame was looked at when.
async fn speak(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    mut form: Multipart,
) -> Result<Response, PageError> {
    let swing = known(&studio, &id).await?.swing;
    let broken = |_| PageError::Missing(t("error-none-recording"));
    let (mut recording, mut scrub) = (None, None);
    while let Some(field) = form.next_field().await.map_err(broken)? {
        match field.name() {
            Some("voice") => {
                let name = field.file_name().unwrap_or_default().to_owned();
                recording = Some((name, field.bytes().await.map_err(broken)?));
            }
            Some("scrub") => {
                let text = field.text().await.map_err(broken)?;
                let read: Option<Scrub> = serde_json::from_str(&text).ok();
                scrub = read
                    .map(Scrub::tidied)
                    .filter(|scrub| !scrub.points.is_empty());
            }
            _ => {}
        }
    }
    let Some((name, bytes)) = recording.filter(|(_, bytes)| !bytes.is_empty()) else {
        let reason = t("desk-no-sound");
        let back = desk_address(swing);
        return Ok(page(
            StatusCode::BAD_REQUEST,
            &NotCorrected { reason, back },
        ));
    };
    let extension = name.rsplit_once('.').map_or("audio", |(_, end)| end);
    let now = (studio.state.now)();
    let kept = studio
        .store
        .keep_voice(swing, &bytes, extension, scrub.as_ref(), now);
    kept.await?;
    then(&studio, swing, Asked::Draft, "#voice").await
}

async fn forget_voice(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let swing = known(&studio, &id).await?.swing;
    studio
        .store
        .forget_voice(swing, (studio.state.now)())
        .await?;
    then(&studio, swing, Asked::Draft, "#voice").await
}

/// The recording, to be listened to.
async fn voice(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let swing = known(&studio, &id).await?.swing;
    let found = studio.store.voice(swing).await?;
    let (path, bytes) = found
        .ok_or_else(|| PageError::Missing(t("error-none-voice").with("key", id.to_string())))?;
    let kind = match path.extension().and_then(|e| e.to_str()) {
        Some("webm") => "audio/webm",
        Some("ogg" | "opus") => "audio/ogg",
        Some("wav") => "audio/wav",
        Some("mp3") => "audio/mpeg",
        Some("flac") => "audio/flac",
        _ => "audio/mp4",
    };
    Ok(([(CONTENT_TYPE, kind)], bytes).into_response())
}

async fn draft(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let swing = known(&studio, &id).await?.swing;
    then(&studio, swing, Asked::Draft, "#see").await
}

async fn approve(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let swing = known(&studio, &id).await?.swing;
    let Draft::Ready(lesson) = Draft::of(&studio.store, &studio.state.drafts, swing).await? else {
        let reason = t("desk-not-last");
        let back = desk_address(swing);
        return Ok(page(StatusCode::CONFLICT, &NotCorrected { reason, back }));
    };
    if let Some(refused) = practice::refusal(&studio, &lesson).await? {
        return Ok(page(StatusCode::CONFLICT, &refused));
    }
    studio
        .store
        .approve_lesson(lesson.id, (studio.state.now)())
        .await?;
    Ok(Redirect::to(&format!("{}#ready", desk_address(swing))).into_response())
}

/// How far the draft is: `state` is `ready`, `under_way` or `failed`; `lesson` the draft's key.
async fn state(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let swing = known(&studio, &id).await?.swing;
    let (state, lesson, why) = match Draft::of(&studio.store, &studio.state.drafts, swing).await? {
        Draft::Ready(lesson) => ("ready", Some(lesson.id.0), String::new()),
        Draft::Under => ("under_way", None, String::new()),
        Draft::Failed(why) => ("failed", None, say().text(&told(&why))),
    };
    let said = serde_json::json!({ "state": state, "lesson": lesson, "why": why });
    Ok(Json(said).into_response())
}

/// The latest draft's page as the player gets it, for a frame on the desk.
async fn preview(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let none = || PageError::Missing(t("error-none-lesson-of").with("key", id.to_string()));
    let swing = known(&studio, &id).await?.swing;
    let lessons = studio.store.lessons_of_swing(swing).await?;
    let lesson = studio
        .store
        .lesson(lessons.first().ok_or_else(none)?.id)
        .await?;
    let headers = [
        (CONTENT_TYPE, "text/html; charset=utf-8".to_owned()),
        (
            CONTENT_SECURITY_POLICY,
            LESSON_POLICY.replace("frame-ancestors 'none'", "frame-ancestors 'self'"),
        ),
        (X_FRAME_OPTIONS, "SAMEORIGIN".to_owned()),
    ];
    Ok((headers, lesson.ok_or_else(none)?.page).into_response())
}

/// Everything in one file, once it is approved.
async fn all(State(studio): State<Studio>, Path(id): Path<String>) -> Result<Response, PageError> {
    let none = || PageError::Missing(t("error-none-approved-of").with("key", id.to_string()));
    let swing = known(&studio, &id).await?.swing;
    let draft = Draft::of(&studio.store, &studio.state.drafts, swing).await?;
    let Draft::Ready(lesson) = draft else {
        return Err(none());
    };
    if lesson.approved_at.is_none() {
        return Err(none());
    }
    let packed = all_in_one(&studio.store, &studio.state, &lesson).await?;
    let (name, bytes) = packed.ok_or_else(none)?;
    // RFC 6266 leaves what is not ASCII to another form; the folder inside has the whole name.
    let ascii: String = name
        .chars()
        .map(|c| if c.is_ascii() { c } else { '-' })
        .collect();
    let headers = [
        (CONTENT_TYPE, "application/zip".to_owned()),
        (
            CONTENT_DISPOSITION,
            format!("attachment; filename=\"{ascii}.zip\""),
        ),
    ];
    Ok((headers, bytes).into_response())
}

async fn file(Path(name): Path<String>) -> Result<Response, PageError> {
    const SCRIPT: &str = "text/javascript; charset=utf-8";
    let (kind, text) = match name.as_str() {
        "desk.css" => (
            "text/css; charset=utf-8",
            include_str!("../../templates/desk.css"),
        ),
        "desk.js" => (SCRIPT, include_str!("../../scripts/desk/desk.js")),
        "speak.js" => (SCRIPT, include_str!("../../scripts/desk/speak.js")),
        _ => {
            return Err(PageError::Missing(
                t("error-none-page").with("key", format!("/desk/{name}")),
            ));
        }
    };
    Ok(([(CONTENT_TYPE, kind)], text).into_response())
}

fn missing(id: &str) -> PageError {
    PageError::Missing(t("error-none-analysed").with("key", id.to_string()))
}

/// The latest analysis of a swing that is in the studio.
async fn known(studio: &Studio, id: &str) -> Result<StoredAnalysis, PageError> {
    let swing = SwingId(id.parse().map_err(|_| missing(id))?);
    studio
        .store
        .latest_analysis(swing)
        .await?
        .ok_or_else(|| missing(id))
}
