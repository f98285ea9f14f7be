//! What a phone on the local network sees: one page for one player, behind a token that ends. It can bring clips in and see
//! how far they are; nothing else of the studio is at this door at all.

use super::files;
use super::upload::{self, Brought, Scope};
use crate::AppState;
use crate::error::PageError;
use crate::guard;
use crate::routes::{Studio, shown};
use askama::Template;
use axum::Router;
use axum::body::Body;
use axum::extract::{DefaultBodyLimit, Multipart, Path, State};
use axum::http::{HeaderMap, StatusCode, Uri};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, options, patch, post};
use lessonwright_store::{ArrivalState, LinkKind, PlayerLink, Store};

/// The page of a token.
pub fn phone_address(token: &str) -> String {
    format!("/from-phone/{token}")
}

/// The pages for phones, and no others. Meant for a listener of its own.
pub fn phone_router(store: Store, state: AppState) -> Router {
    let routes = Router::new()
        .route("/from-phone/{token}", get(page))
        .route("/from-phone/{token}/tray", get(tray))
        .route(
            "/from-phone/{token}/clips",
            post(clips).layer(DefaultBodyLimit::disable()),
        )
        .route(
            "/from-phone/{token}/uploads",
            options(upload::options).post(begin),
        )
        .route(
            "/from-phone/{token}/uploads/{key}",
            patch(append)
                .head(offset)
                .delete(end)
                .options(upload::options),
        )
        .route("/bring-in/files/{file}", get(files::file))
        .route("/studio.css", get(crate::routes::style))
        .fallback(missing)
        .with_state(Studio::new(store, state));
    guard::guarded(routes)
}

/// The page.
#[derive(Template)]
#[template(path = "phone.html")]
struct PhonePage {
    name: String,
    academy: String,
    form: String,
    uploads: String,
    tray_address: String,
    brought: Brought,
    tray: PhoneTray,
}

/// What came by this link.
#[derive(Template)]
#[template(path = "phone_tray.html")]
struct PhoneTray {
    clips: Vec<PhoneClip>,
    moves: bool,
}

struct PhoneClip {
    id: i64,
    name: String,
    says: &'static str,
    trouble: Option<String>,
}

/// The link is dead or never was.
#[derive(Template)]
#[template(path = "phone_ended.html")]
struct Ended;

fn ended() -> Response {
    crate::error::page(StatusCode::NOT_FOUND, &Ended)
}

async fn missing(_: Uri) -> Response {
    ended()
}

async fn link(studio: &Studio, token: &str) -> Result<Option<PlayerLink>, PageError> {
    Ok(studio
        .store
        .link(LinkKind::Phone, token, (studio.state.now)())
        .await?)
}

async fn scope(studio: &Studio, token: &str) -> Result<Option<Scope>, PageError> {
    let link = link(studio, token).await?;
    Ok(link.map(|link| Scope {
        player: Some(link.player),
        link: Some(link.id),
    }))
}

async fn page(
    State(studio): State<Studio>,
    Path(token): Path<String>,
) -> Result<Response, PageError> {
    answer(&studio, &token, Brought::default()).await
}

async fn answer(studio: &Studio, token: &str, brought: Brought) -> Result<Response, PageError> {
    let Some(link) = link(studio, token).await? else {
        return Ok(ended());
    };
    let Some(player) = studio.store.player(link.player).await? else {
        return Ok(ended());
    };
    let at = phone_address(token);
    shown(&PhonePage {
        name: player.facts.name,
        academy: studio.state.academy.clone(),
        form: format!("{at}/clips"),
        uploads: format!("{at}/uploads"),
        tray_address: format!("{at}/tray"),
        brought,
        tray: PhoneTray::of(studio, link).await?,
    })
}

impl PhoneTray {
    async fn of(studio: &Studio, link: PlayerLink) -> Result<PhoneTray, PageError> {
        let arrivals = studio.store.arrivals().await?;
        let mine = arrivals
            .iter()
            .filter(|arrival| arrival.link == Some(link.id));
        let clips: Vec<PhoneClip> = mine
            .map(|arrival| PhoneClip {
                id: arrival.id.0,
                name: arrival.name.clone(),
                says: match arrival.state {
                    ArrivalState::Arrived => "It has arrived and is being opened",
                    ArrivalState::Opened | ArrivalState::Watched => "Your professional has it",
                    ArrivalState::Failed => "It can't be used",
                    ArrivalState::Stopped => "It was put aside",
                },
                trouble: arrival.trouble.clone(),
            })
            .collect();
        let moves = arrivals
            .iter()
            .any(|a| a.link == Some(link.id) && a.state == ArrivalState::Arrived);
        Ok(PhoneTray { clips, moves })
    }
}

async fn tray(
    State(studio): State<Studio>,
    Path(token): Path<String>,
) -> Result<Response, PageError> {
    match link(&studio, &token).await? {
        Some(link) => shown(&PhoneTray::of(&studio, link).await?),
        None => Ok(ended()),
    }
}

async fn clips(
    State(studio): State<Studio>,
    Path(token): Path<String>,
    form: Multipart,
) -> Result<Response, PageError> {
    let Some(scope) = scope(&studio, &token).await? else {
        return Ok(ended());
    };
    let brought = upload::form(&studio, scope, form).await;
    if brought.refused.is_empty() && brought.clips > 0 {
        return Ok(Redirect::to(&format!("{}#tray", phone_address(&token))).into_response());
    }
    answer(&studio, &token, brought).await
}

async fn begin(
    State(studio): State<Studio>,
    Path(token): Path<String>,
    headers: HeaderMap,
) -> Result<Response, PageError> {
    Ok(match scope(&studio, &token).await? {
        Some(scope) => {
            let base = format!("{}/uploads", phone_address(&token));
            upload::create(&studio, scope, &base, &headers).await
        }
        None => ended(),
    })
}

async fn offset(
    State(studio): State<Studio>,
    Path((token, key)): Path<(String, String)>,
) -> Result<Response, PageError> {
    Ok(match scope(&studio, &token).await? {
        Some(scope) => upload::offset(&studio, scope, &key).await,
        None => ended(),
    })
}

async fn append(
    State(studio): State<Studio>,
    Path((token, key)): Path<(String, String)>,
    headers: HeaderMap,
    body: Body,
) -> Result<Response, PageError> {
    Ok(match scope(&studio, &token).await? {
        Some(scope) => upload::append(&studio, scope, &key, &headers, body).await,
        None => ended(),
    })
}

async fn end(
    State(studio): State<Studio>,
    Path((token, key)): Path<(String, String)>,
) -> Result<Response, PageError> {
    Ok(match scope(&studio, &token).await? {
        Some(scope) => upload::end(&studio, scope, &key).await,
        None => ended(),
    })
}
