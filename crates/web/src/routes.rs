//! Addresses and their handlers: read the request, ask the store, show a page.

use crate::AppState;
use crate::alive;
use crate::ball::BallForm;
use crate::bench;
use crate::bring_in;
use crate::by_hand::{self, CaptureRateForm, Filled, MomentForm, SeenForm, StatureForm};
use crate::desk;
use crate::diary;
use crate::drills;
use crate::error::{PageError, page};
use crate::find;
use crate::follow;
use crate::follow_cache::FollowCache;
use crate::keeping;
use crate::language::say;
use crate::lesson_files;
use crate::lesson_page::{self, Asked};
use crate::letter;
use crate::look;
use crate::named;
use crate::own;
use crate::pages::{BallPage, PlayerPage, Roster, SwingPage};
use crate::script_words;
use crate::{personal, player_record, practice, settings, swing_ball, today};
use askama::Template;
use axum::Router;
use axum::extract::rejection::FormRejection;
use axum::extract::{Form, Path, Query, State};
use axum::http::header::CONTENT_TYPE;
use axum::http::{StatusCode, Uri};
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use lessonwright_coaching::Told;
use lessonwright_language::t;
use lessonwright_report::{FIGURE_STYLE, PLAN_STYLE};
use lessonwright_store::{LessonId, Player, PlayerId, Store, SwingId};
use std::collections::BTreeMap;
use tower_http::compression::CompressionLayer;

/// The page of a player.
pub fn player_address(id: PlayerId) -> String {
    format!("/players/{id}")
}

/// Where a player's balls are read.
pub struct BallAddresses {
    pub page: String,
    pub shots: String,
    pub keep: String,
}

impl BallAddresses {
    pub fn of(id: PlayerId) -> BallAddresses {
        let page = format!("{}/ball", player_address(id));
        BallAddresses {
            shots: format!("{page}/shots"),
            keep: format!("{page}/keep"),
            page,
        }
    }
}

/// The page of a swing.
pub fn swing_address(id: SwingId) -> String {
    format!("/swings/{id}")
}

/// A lesson as the player gets it.
pub fn lesson_address(id: LessonId) -> String {
    format!("/lessons/{id}")
}

/// Where a lesson is approved.
pub fn approval_address(id: LessonId) -> String {
    format!("/lessons/{id}/approve")
}

/// A lesson page carries its style and pictures inside and needs nothing else: it may do nothing
/// else.
pub(crate) const LESSON_POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; \
                             media-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'; sandbox";

const STYLE: &str = include_str!("../templates/studio.css");
const OWN_STYLE: &str = include_str!("../templates/settings.css");
const DRILLS_STYLE: &str = include_str!("../templates/drills.css");

#[derive(Clone)]
pub(crate) struct Studio {
    pub(crate) store: Store,
    pub(crate) state: AppState,
    pub(crate) follow: FollowCache,
}

impl Studio {
    pub(crate) fn new(store: Store, state: AppState) -> Studio {
        Studio {
            follow: state.lasting.follow.clone(),
            store,
            state,
        }
    }
}

pub fn routes(store: Store, state: AppState) -> Router {
    Router::new()
        .merge(today::routes())
        .merge(diary::routes())
        .merge(find::routes())
        .merge(player_record::routes())
        .route("/players", get(roster))
        .route("/players/{id}", get(player))
        .route("/players/{id}/ball", get(ball))
        .route("/players/{id}/ball/shots", post(shots))
        .route("/players/{id}/ball/keep", post(keep_flight))
        .route("/swings/{id}", get(swing))
        .merge(swing_ball::routes())
        .route("/swings/{id}/by-hand/moment", post(correct::<MomentForm>))
        .route("/swings/{id}/by-hand/stature", post(correct::<StatureForm>))
        .route(
            "/swings/{id}/by-hand/capture-rate",
            post(correct::<CaptureRateForm>),
        )
        .route("/swings/{id}/by-hand/seen", post(correct::<SeenForm>))
        .route("/swings/{id}/by-hand/undo", post(undo))
        .route("/swings/{id}/again", post(again))
        .merge(drills::routes())
        .merge(settings::routes())
        .merge(practice::routes())
        .route("/lessons/{id}", get(lesson).layer(CompressionLayer::new()))
        .route("/lessons/{id}/pictures/{number}", get(lesson_picture))
        .route("/lessons/{id}/approve", post(approve))
        .route("/lessons/{id}/lesson.pdf", get(lesson_files::paper))
        .route("/lessons/{id}/film.mp4", get(lesson_files::film))
        .route("/studio.css", get(style))
        .route("/words.js", get(script_words::module))
        .merge(follow::routes())
        .merge(bring_in::routes())
        .merge(desk::routes())
        .merge(letter::routes())
        .merge(personal::routes())
        .merge(look::routes())
        .merge(own::routes())
        .merge(alive::routes())
        .fallback(missing)
        .with_state(Studio::new(store.clone(), state.clone()))
        .merge(keeping::routes(store.clone(), state.clone()))
        .merge(bench::routes(store, state))
}

async fn roster(
    State(studio): State<Studio>,
    Query(fields): Query<Fields>,
) -> Result<Response, PageError> {
    let said = |name: &str| fields.get(name).map_or("", |text| text.trim());
    let page = said("page").parse().unwrap_or(1);
    shown(&Roster::of(&studio.store, &studio.state, said("named"), page).await?)
}

async fn player(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let page = PlayerPage::of(&studio.store, &studio.state, named::player_id(&id)?).await?;
    shown(&page.ok_or_else(|| named::no_player(&id))?)
}

/// The fields of a form or query, by name.
pub(crate) type Fields = BTreeMap<String, String>;

async fn ball(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Query(fields): Query<Fields>,
) -> Result<Response, PageError> {
    ball_page(&studio, &id, BallForm(fields)).await
}

async fn shots(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    ball_page(&studio, &id, BallForm(fields)).await
}

async fn ball_page(studio: &Studio, id: &str, filled: BallForm) -> Result<Response, PageError> {
    let player = named::player_id(id)?;
    let page = BallPage::of(&studio.store, &studio.state, player, &filled).await?;
    shown(&page.ok_or_else(|| named::no_player(id))?)
}

/// Keeps a flight as the player's usual one, if it is one that the reasoning knows.
async fn keep_flight(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Redirect, PageError> {
    let Player { id, mut facts, .. } = named::player(&studio.store, &id).await?;
    let flight = BallForm(fields).text("flight").to_owned();
    if !matches!(Told::read(Some(&flight)), Told::Flights(_)) {
        return Err(PageError::Missing(
            t("error-none-flight").with("key", flight.to_string()),
        ));
    }
    facts.usual_flight = Some(flight);
    studio.store.update_player(id, &facts).await?;
    Ok(Redirect::to(&player_address(id)))
}

async fn swing(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let missing = || PageError::Missing(t("error-none-swing").with("key", id.to_string()));
    let id = SwingId(id.parse().map_err(|_| missing())?);
    let page = SwingPage::of(&studio.store, &studio.state, id).await?;
    shown(&page.ok_or_else(missing)?)
}

async fn correct<F: Filled>(
    State(studio): State<Studio>,
    id: Path<String>,
    form: Result<Form<F>, FormRejection>,
) -> Result<Response, PageError> {
    by_hand::make(studio.state, id, form).await
}

async fn undo(State(studio): State<Studio>, id: Path<String>) -> Result<Response, PageError> {
    by_hand::undo(studio.state, id).await
}

async fn again(State(studio): State<Studio>, id: Path<String>) -> Result<Response, PageError> {
    by_hand::again(studio.state, id).await
}

async fn lesson(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let lesson = named::lesson(&studio.store, &id).await?;
    Ok(lesson_page::served(
        &lesson,
        &lesson_address(lesson.summary.id),
    ))
}

async fn lesson_picture(
    State(studio): State<Studio>,
    Path((id, number)): Path<(String, String)>,
    asked: Asked,
) -> Result<Response, PageError> {
    let lesson = named::lesson(&studio.store, &id).await?;
    lesson_page::picture(&lesson, &number, asked).ok_or_else(|| named::no_lesson(&id))
}

async fn approve(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let lesson = named::lesson_summary(&studio.store, &id).await?;
    if let Some(refused) = practice::refusal(&studio, &lesson).await? {
        return Ok(page(StatusCode::CONFLICT, &refused));
    }
    studio
        .store
        .approve_lesson(lesson.id, (studio.state.now)())
        .await?;
    Ok(Redirect::to(&swing_address(lesson.swing)).into_response())
}

pub(crate) async fn style() -> impl IntoResponse {
    let colours = look::device_colours();
    let style = [
        &colours,
        STYLE,
        PLAN_STYLE,
        OWN_STYLE,
        FIGURE_STYLE,
        DRILLS_STYLE,
    ]
    .join("\n");
    ([(CONTENT_TYPE, "text/css; charset=utf-8")], style)
}

async fn missing(address: Uri) -> PageError {
    PageError::Missing(t("error-none-page").with("key", address.path().to_string()))
}

pub(crate) fn shown(page: &impl Template) -> Result<Response, PageError> {
    Ok(Html(say().render(page)?).into_response())
}
