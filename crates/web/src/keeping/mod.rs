//! The page "Studio": backup, storage, what players sent, exports and erasing; and how to place the camera. The work
//! itself is done by whoever serves the pages ([`Keeping`]).

mod camera;
mod disk;
mod files;
mod language;
mod pages;
mod send;

use crate::AppState;
use crate::error::{PageError, page};
use crate::named;
use crate::pages::minute;
use crate::routes::{Fields, Studio, shown};
use axum::Router;
use axum::extract::{DefaultBodyLimit, Form, Multipart, Path, Query, State};
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
pub(crate) use disk::Disk;
use disk::{Counted, Known, When};
pub(crate) use files::receive;
use files::{attachment, keep_upload};
pub(crate) use language::LANGUAGE_ADDRESS;
use lessonwright_exchange::recorded::Asked;
use lessonwright_language::filters::told;
use lessonwright_language::{Text, t};
use lessonwright_store::{PlayerId, PlayerStorage, Storage, Store, StoreError, SwingId};
pub use pages::size;
use pages::{ErasePage, KeepingPage, Row, SaidPage, Sums};
pub(crate) use send::film_and_send_address;
use serde::Deserialize;
use std::cmp::Reverse;
use std::future::Future;
use std::path::PathBuf;
use std::pin::Pin;
use std::sync::{Arc, Mutex};

/// What the page "Studio" asks for. An error is a sentence for the professional.
pub type Answer<T> = Pin<Box<dyn Future<Output = Result<T, String>> + Send>>;

/// Takes the share that is done, 0..=1.
pub type Report = Box<dyn Fn(f64) + Send + Sync>;

/// Does what the page "Studio" asks for.
pub trait Keeping: Send + Sync {
    /// Writes a new backup into the folder of backups; gives back its file.
    fn back_up(&self, report: Report) -> Answer<PathBuf>;
    /// The last backup that was made from the page, if it is still there.
    fn last_backup(&self) -> Option<PathBuf>;
    /// Writes everything that is kept of a player into one new file, which is removed when it was fetched.
    fn export(&self, player: PlayerId) -> Answer<PathBuf>;
    /// What erasing a player would remove, in words.
    fn would_erase(&self, player: PlayerId) -> Answer<Text>;
    /// Erases a player; says what was removed.
    fn erase(&self, player: PlayerId) -> Answer<Text>;
    /// Takes in what a player sent; says of whom, what, and what happens next.
    fn take_in(&self, bundle: PathBuf) -> Answer<Text>;
    /// Makes a swing of a player's motion capture, with its lesson's draft.
    fn bring_motion(&self, player: PlayerId, file: PathBuf, asked: Asked) -> Answer<SwingId>;
    /// A new name for a file that is being taken in.
    fn incoming(&self) -> Result<PathBuf, String>;
}

/// The page "Studio".
pub const STUDIO_ADDRESS: &str = "/studio";
/// How to place the camera.
pub const CAMERA_ADDRESS: &str = "/studio/camera";

const STYLE: &str = include_str!("../../templates/keeping.css");
const SCRIPT: &str = include_str!("../../scripts/keeping/count.js");

/// Players on the page at first.
const MOST_ROWS: usize = 100;

/// Most bytes of a bundle: two clips and their list.
const MOST_BUNDLE_BYTES: usize = (2 << 30) + (1 << 20);

/// How a backup stands that was asked for from the page.
#[derive(Clone, Debug, Default)]
pub(crate) enum Backup {
    #[default]
    None,
    Running(f64),
    Failed(String),
}

/// Shared by all who ask.
pub(crate) type BackupNote = Arc<Mutex<Backup>>;

#[derive(Clone)]
struct Here {
    studio: Studio,
    backup: BackupNote,
}

impl Here {
    fn backup(&self) -> Backup {
        self.backup.lock().map_or(Backup::None, |now| now.clone())
    }

    fn note(&self, now: Backup) {
        if let Ok(mut noted) = self.backup.lock() {
            *noted = now;
        }
    }

    fn keeping(&self) -> &dyn Keeping {
        self.studio.state.keeping.as_ref()
    }
}

pub(crate) fn routes(store: Store, state: AppState) -> Router {
    Router::new()
        .route(STUDIO_ADDRESS, get(studio))
        .route("/studio/backup", post(back_up))
        .route("/studio/backup/file", get(backup_file))
        .route("/studio/clear", post(clear))
        .route(language::LANGUAGE_ADDRESS, post(language::choose))
        .route("/studio/players/{id}/export", post(export))
        .route("/studio/players/{id}/erase", get(ask_erase).post(erase))
        .route(
            "/studio/take-in",
            post(take_in).layer(DefaultBodyLimit::max(MOST_BUNDLE_BYTES)),
        )
        .route(CAMERA_ADDRESS, get(camera::camera))
        .route("/studio/keeping.css", get(style))
        .route("/studio/count.js", get(script))
        .route("/lessons/{id}/film-and-send.html", get(send::film_and_send))
        .with_state(Here {
            backup: Arc::clone(&state.lasting.backup),
            studio: Studio::new(store, state),
        })
}

async fn studio(
    State(here): State<Here>,
    Query(fields): Query<Fields>,
) -> Result<Response, PageError> {
    let known = known(&here.studio).await?;
    let all = fields.contains_key("all");
    let sums = known.counted.as_ref().map(|counted| {
        let storage = &counted.storage;
        Sums::of(storage, rows(storage, all))
    });
    let (share, failed) = match here.backup() {
        Backup::None => (None, None),
        Backup::Running(share) => (Some((100.0 * share) as u32), None),
        Backup::Failed(why) => (None, Some(told(&why))),
    };
    let last = here.keeping().last_backup();
    let name = |file: PathBuf| {
        file.file_name()
            .map(|name| name.to_string_lossy().into_owned())
    };
    shown(&KeepingPage {
        academy: here.studio.state.academy.clone(),
        share,
        failed,
        last: last.and_then(name),
        sums,
        counting: known
            .is_counting
            .then(|| counting(known.counted.as_deref(), &here)),
        camera: CAMERA_ADDRESS,
        languages: language::offers(here.studio.state.spoken.language()),
    })
}

/// What lies on the disk, as far as it is known within a moment.
pub(crate) async fn known(studio: &Studio) -> Result<Known, StoreError> {
    let now = When {
        at: (studio.state.now)(),
        stamp: studio.store.follow_stamp().await?,
    };
    let count = || {
        let store = studio.store.clone();
        async move { store.storage().await }
    };
    studio.state.lasting.disk.known(now, count).await
}

/// That the sums are counted again, with how old those shown are.
fn counting(shown: Option<&Counted>, here: &Here) -> Text {
    match shown {
        None => t("keeping-counting"),
        Some(counted) => {
            t("keeping-counting-again").with("at", minute(counted.when.at, &here.studio.state))
        }
    }
}

/// The players with the most on the disk, or all of them, by name.
fn rows(storage: &Storage, all: bool) -> Vec<Row> {
    let mut players: Vec<&PlayerStorage> = storage.players.iter().collect();
    if !all && players.len() > MOST_ROWS {
        players.sort_by_key(|player| Reverse(player.files_bytes() + player.pages_bytes));
        players.truncate(MOST_ROWS);
    }
    players.into_iter().map(Row::of).collect()
}

/// Begins a backup; the page says how far it is.
async fn back_up(State(here): State<Here>) -> Redirect {
    if !matches!(here.backup(), Backup::Running(_)) {
        here.note(Backup::Running(0.0));
        let noting = here.clone();
        let report: Report = Box::new(move |share| noting.note(Backup::Running(share)));
        let work = here.keeping().back_up(report);
        tokio::spawn(async move {
            here.note(match work.await {
                Ok(_) => Backup::None,
                Err(why) => Backup::Failed(why),
            });
        });
    }
    Redirect::to(STUDIO_ADDRESS)
}

async fn backup_file(State(here): State<Here>) -> Result<Response, PageError> {
    let missing = || PageError::Missing(t("error-none-backup"));
    let file = here.keeping().last_backup().ok_or_else(missing)?;
    attachment(&file, "application/zip")
        .await
        .map_err(|_| missing())
}

#[derive(Deserialize)]
struct Clear {
    what: String,
}

async fn clear(State(here): State<Here>, Form(form): Form<Clear>) -> Result<Response, PageError> {
    let store = &here.studio.store;
    let freed = match form.what.as_str() {
        "pictures" => store.clear_pictures().await?,
        "landmarks" => store.clear_landmarks().await?,
        other => {
            return Err(PageError::Missing(t("error-none-again").with("key", other)));
        }
    };
    here.studio.state.lasting.disk.forget();
    said(
        t("keeping-cleared"),
        t("keeping-cleared-says").with("size", size(freed)),
    )
}

async fn export(State(here): State<Here>, Path(id): Path<String>) -> Result<Response, PageError> {
    let id = player_of(&here, &id).await?.0;
    match here.keeping().export(id).await {
        Err(why) => Ok(refused(&why)),
        Ok(file) => {
            let answer = attachment(&file, "application/zip").await;
            // Open still; its name need not stay. Where a system does not allow that, the next export removes it.
            let _ = tokio::fs::remove_file(&file).await;
            answer.map_err(|_| PageError::Missing(t("error-none-export")))
        }
    }
}

async fn ask_erase(
    State(here): State<Here>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let (id, name) = player_of(&here, &id).await?;
    erase_page(&here, id, name, false).await
}

async fn erase_page(
    here: &Here,
    id: PlayerId,
    name: String,
    wrong: bool,
) -> Result<Response, PageError> {
    let what = here.keeping().would_erase(id).await;
    let what = what.unwrap_or_else(|why| told(&why));
    shown(&ErasePage {
        id: id.0,
        name,
        what,
        wrong,
    })
}

#[derive(Deserialize)]
struct Confirmed {
    name: String,
}

async fn erase(
    State(here): State<Here>,
    Path(id): Path<String>,
    Form(form): Form<Confirmed>,
) -> Result<Response, PageError> {
    let (id, name) = player_of(&here, &id).await?;
    if form.name.trim() != name {
        return erase_page(&here, id, name, true).await;
    }
    let erased = here.keeping().erase(id).await;
    here.studio.state.lasting.disk.forget();
    match erased {
        Ok(what) => said(
            t("keeping-erased"),
            t("keeping-erased-says").with("what", what),
        ),
        Err(why) => Ok(refused(&why)),
    }
}

async fn take_in(State(here): State<Here>, mut form: Multipart) -> Result<Response, PageError> {
    let file = match here.keeping().incoming() {
        Ok(file) => file,
        Err(why) => return Ok(refused(&why)),
    };
    let kept = keep_upload(&mut form, &file).await;
    let taken = match kept {
        Ok(()) => here.keeping().take_in(file.clone()).await,
        Err(why) => Err(why),
    };
    let _ = tokio::fs::remove_file(&file).await;
    match taken {
        Ok(taken) => said(t("keeping-taken-in"), taken),
        Err(why) => Ok(refused(&why)),
    }
}

async fn player_of(here: &Here, id: &str) -> Result<(PlayerId, String), PageError> {
    let player = named::player(&here.studio.store, id).await?;
    Ok((player.id, player.facts.name))
}

async fn style() -> impl IntoResponse {
    ([(CONTENT_TYPE, "text/css; charset=utf-8")], STYLE)
}

async fn script() -> impl IntoResponse {
    ([(CONTENT_TYPE, "text/javascript; charset=utf-8")], SCRIPT)
}

fn said(title: Text, text: Text) -> Result<Response, PageError> {
    shown(&SaidPage { title, text })
}

fn refused(why: &str) -> Response {
    let text = format!("{why}{}", if why.ends_with('.') { "" } else { "." });
    page(
        StatusCode::CONFLICT,
        &SaidPage {
            title: t("keeping-not-done"),
            text: told(&text),
        },
    )
}
