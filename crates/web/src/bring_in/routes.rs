//! The studio's addresses for bringing clips in.

use super::page::{Before, BringInPage, CameraPage, back};
use super::tray::Tray;
use super::upload::{self, Scope};
use super::{files, forms, random_key};
use crate::error::PageError;
use crate::language::say;
use crate::named;
use crate::pages::minute;
use crate::routes::{Fields, Studio, player_address, shown};
use axum::Router;
use axum::body::Body;
use axum::extract::{DefaultBodyLimit, Form, Multipart, Path, State};
use axum::http::header::CONTENT_TYPE;
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, options, patch, post};
use jiff::SignedDuration;
use lessonwright_language::t;
use lessonwright_store::{ArrivalId, LinkKind, Player, PlayerId};

/// How long a phone's link lives, unless it is ended: a lesson and the time around it.
const LINK_LIVES: SignedDuration = SignedDuration::from_hours(2);

/// Where clips of any player are brought in.
pub fn bring_in_address() -> String {
    "/bring-in".to_owned()
}

/// Where one player's clips are brought in.
pub fn player_bring_in_address(id: PlayerId) -> String {
    format!("{}/bring-in", player_address(id))
}

/// The page of one player or of all.
pub fn page_address(player: Option<PlayerId>) -> String {
    player.map_or_else(bring_in_address, player_bring_in_address)
}

pub fn form_address(player: Option<PlayerId>) -> String {
    format!("{}/clips", page_address(player))
}

pub fn tray_address(player: Option<PlayerId>) -> String {
    format!("{}/tray", page_address(player))
}

pub fn camera_address(player: PlayerId) -> String {
    format!("{}/camera", player_bring_in_address(player))
}

pub fn phones_address(player: PlayerId, what: &str) -> String {
    format!("{}/phones/{what}", player_bring_in_address(player))
}

/// Where resumable uploads begin.
pub fn uploads_address() -> String {
    "/uploads".to_owned()
}

/// The first picture of a clip.
pub fn picture_address(id: ArrivalId) -> String {
    format!("/bring-in/pictures/{id}")
}

/// Where a button of the tray goes.
pub fn post_address(what: &str) -> String {
    format!("/bring-in/{what}")
}

pub fn routes() -> Router<Studio> {
    let clips = || DefaultBodyLimit::disable();
    Router::new()
        .merge(super::motion::routes())
        .route("/bring-in", get(page))
        .route("/bring-in/clips", post(clips_of_any).layer(clips()))
        .route("/bring-in/tray", get(tray))
        .route("/bring-in/pictures/{id}", get(picture))
        .route("/bring-in/{what}", post(button))
        .route("/bring-in/files/{file}", get(files::file))
        .route("/players/{id}/bring-in", get(player_page))
        .route(
            "/players/{id}/bring-in/clips",
            post(clips_of_player).layer(clips()),
        )
        .route("/players/{id}/bring-in/tray", get(player_tray))
        .route("/players/{id}/bring-in/camera", get(camera))
        .route("/players/{id}/bring-in/phones/make", post(make_link))
        .route("/players/{id}/bring-in/phones/end", post(end_links))
        .route("/uploads", options(upload::options).post(begin))
        .route(
            "/uploads/{key}",
            patch(append)
                .head(offset)
                .delete(end)
                .options(upload::options),
        )
}

async fn answer(
    studio: &Studio,
    player: Option<Player>,
    before: Before,
) -> Result<Response, PageError> {
    let refused = before.problem.is_some() || !before.brought.refused.is_empty();
    let page = BringInPage::of(&studio.store, &studio.state, player, before).await?;
    let mut response = shown(&page)?;
    if refused {
        *response.status_mut() = StatusCode::UNPROCESSABLE_ENTITY;
    }
    Ok(response)
}

async fn page(State(studio): State<Studio>) -> Result<Response, PageError> {
    answer(&studio, None, Before::default()).await
}

async fn player_page(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let player = named::player(&studio.store, &id).await?;
    answer(&studio, Some(player), Before::default()).await
}

async fn tray(State(studio): State<Studio>) -> Result<Response, PageError> {
    shown(&Tray::of(&studio.store, &studio.state, None, bring_in_address()).await?)
}

async fn player_tray(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let id = named::player(&studio.store, &id).await?.id;
    let back = player_bring_in_address(id);
    shown(&Tray::of(&studio.store, &studio.state, Some(id), back).await?)
}

async fn camera(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    shown(&CameraPage::of(&named::player(&studio.store, &id).await?))
}

async fn clips_of_any(
    State(studio): State<Studio>,
    form: Multipart,
) -> Result<Response, PageError> {
    take_form(&studio, None, form).await
}

async fn clips_of_player(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    form: Multipart,
) -> Result<Response, PageError> {
    let player = named::player(&studio.store, &id).await?;
    take_form(&studio, Some(player), form).await
}

async fn take_form(
    studio: &Studio,
    player: Option<Player>,
    form: Multipart,
) -> Result<Response, PageError> {
    let id = player.as_ref().map(|player| player.id);
    let scope = Scope {
        player: id,
        link: None,
    };
    let mut brought = upload::form(studio, scope, form).await;
    if brought.clips == 0 && brought.refused.is_empty() {
        let why = say().text(&t("bring-in-choose-first"));
        let what = say().text(&t("bring-in-no-clip"));
        brought.refused.push((what, why));
    }
    if brought.refused.is_empty() {
        return Ok(Redirect::to(&format!("{}#tray", page_address(id))).into_response());
    }
    let before = Before {
        brought,
        ..Before::default()
    };
    answer(studio, player, before).await
}

/// A button of the tray.
async fn button(
    State(studio): State<Studio>,
    Path(what): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let done = match what.as_str() {
        "swings" => forms::swing(&studio, &fields).await,
        "apart" => forms::apart(&studio, &fields).await,
        "player" => forms::player(&studio, &fields).await,
        "remove" => forms::remove(&studio, &fields).await,
        "again" => forms::again(&studio, &fields).await,
        "stop" => forms::stop(&studio, &fields).await,
        "clear" => forms::clear(&studio, &fields).await,
        _ => {
            return Err(PageError::Missing(
                t("error-none-page").with("key", format!("/bring-in/{what}")),
            ));
        }
    };
    studio.state.bring_in.ring();
    let back = back(&fields);
    let Err(problem) = done else {
        return Ok(Redirect::to(&format!("{back}#tray")).into_response());
    };
    let of = back
        .strip_prefix("/players/")
        .and_then(|rest| rest.split('/').next());
    let player = match of {
        Some(id) => Some(named::player(&studio.store, id).await?),
        None => None,
    };
    let before = Before {
        problem: Some(problem),
        ..Before::default()
    };
    answer(&studio, player, before).await
}

async fn picture(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let missing = || PageError::Missing(t("error-none-clip-picture").with("key", id.to_string()));
    let id = ArrivalId(id.parse().map_err(|_| missing())?);
    let arrival = studio.store.arrival(id).await?.ok_or_else(missing)?;
    let bytes = tokio::fs::read(&arrival.picture)
        .await
        .map_err(|_| missing())?;
    Ok(([(CONTENT_TYPE, "image/jpeg")], bytes).into_response())
}

async fn make_link(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let player = named::player(&studio.store, &id).await?;
    let (token, now) = (random_key(), (studio.state.now)());
    let ends = now + LINK_LIVES;
    let mut before = Before::default();
    match (
        &studio.state.bring_in.doors.phones,
        studio
            .store
            .add_link(LinkKind::Phone, player.id, &token, now, ends)
            .await,
    ) {
        (Some(base), Ok(_)) => {
            let address = format!("{base}{}", super::phone::phone_address(&token));
            before.link = Some((address, minute(ends, &studio.state)));
        }
        (None, _) => before.problem = Some(say().text(&t("bring-in-no-phones"))),
        (_, Err(error)) => before.problem = Some(format!("{error}.")),
    }
    answer(&studio, Some(player), before).await
}

async fn end_links(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Redirect, PageError> {
    let player = named::player(&studio.store, &id).await?.id;
    studio
        .store
        .end_links(LinkKind::Phone, player, (studio.state.now)())
        .await?;
    Ok(Redirect::to(&player_bring_in_address(player)))
}

async fn begin(State(studio): State<Studio>, headers: HeaderMap) -> Response {
    upload::create(&studio, Scope::default(), &uploads_address(), &headers).await
}

async fn offset(State(studio): State<Studio>, Path(key): Path<String>) -> Response {
    upload::offset(&studio, Scope::default(), &key).await
}

async fn append(
    State(studio): State<Studio>,
    Path(key): Path<String>,
    headers: HeaderMap,
    body: Body,
) -> Response {
    upload::append(&studio, Scope::default(), &key, &headers, body).await
}

async fn end(State(studio): State<Studio>, Path(key): Path<String>) -> Response {
    upload::end(&studio, Scope::default(), &key).await
}
