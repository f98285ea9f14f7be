//! The bench's addresses.

use super::Making;
use super::before_after::{BeforeAfter, Chosen};
use super::files;
use super::forms::{JointForm, MomentForm};
use super::numbers::Numbers;
use super::page::{Asked, BenchPage};
use crate::AppState;
use crate::by_hand::{self, Filled};
use crate::error::PageError;
use crate::language::say;
use crate::named;
use crate::pages::view_key;
use crate::routes::{shown, swing_address};
use axum::extract::rejection::FormRejection;
use axum::extract::{Form, Path, Query, State};
use axum::http::StatusCode;
use axum::http::header::{CONTENT_TYPE, HeaderValue};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum::{Json, Router};
use lessonwright_language::filters::told;
use lessonwright_language::t;
use lessonwright_model::View;
use lessonwright_store::{Store, SwingId};
use serde::{Deserialize, Serialize};

/// The bench of a swing.
pub fn bench_address(id: SwingId) -> String {
    format!("{}/bench", swing_address(id))
}

/// One frame's picture.
pub fn frame_address(id: SwingId, view: View, frame: usize) -> String {
    format!("{}/frames/{}/{frame}", swing_address(id), view_key(view))
}

/// All frames' pictures of one clip.
pub fn strip_address(id: SwingId, view: View) -> String {
    format!("{}/strips/{}", swing_address(id), view_key(view))
}

/// Where everything is in every frame.
pub fn tracks_address(id: SwingId) -> String {
    format!("{}/tracks.json", swing_address(id))
}

#[derive(Clone)]
struct Bench {
    store: Store,
    state: AppState,
}

pub fn routes(store: Store, state: AppState) -> Router {
    Router::new()
        .route("/swings/{id}/bench", get(bench))
        .route("/players/{id}/before-after", get(before_after))
        .route("/swings/{id}/bench/numbers", get(numbers))
        .route("/swings/{id}/bench/progress", get(progress))
        .route("/swings/{id}/bench/again", post(again))
        .route("/swings/{id}/bench/moment", post(correct::<MomentForm>))
        .route("/swings/{id}/bench/joint", post(correct::<JointForm>))
        .route("/swings/{id}/bench/undo", post(undo))
        .route("/swings/{id}/tracks.json", get(tracks))
        .route("/swings/{id}/strips/{view}", get(strip))
        .route("/swings/{id}/frames/{view}/{frame}", get(frame))
        .route("/bench/{file}", get(file))
        .with_state(Bench { store, state })
}

async fn bench(
    State(bench): State<Bench>,
    Path(id): Path<String>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let swing = swing(&id)?;
    let page = BenchPage::of(&bench.store, &bench.state, swing, &asked).await?;
    shown(&page.ok_or_else(|| missing(&id))?)
}

async fn before_after(
    State(bench): State<Bench>,
    Path(id): Path<String>,
    Query(chosen): Query<Chosen>,
) -> Result<Response, PageError> {
    let player = named::player_id(&id)?;
    let page = BeforeAfter::of(&bench.store, &bench.state, player, &chosen).await?;
    shown(&page.ok_or_else(|| named::no_player(&id))?)
}

/// The table alone, for after a correction.
async fn numbers(
    State(bench): State<Bench>,
    Path(id): Path<String>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let numbers = Numbers::of(&bench.store, &bench.state, swing(&id)?, asked.with()).await?;
    shown(&numbers.ok_or_else(|| missing(&id))?)
}

async fn tracks(State(bench): State<Bench>, Path(id): Path<String>) -> Result<Response, PageError> {
    let swing = known(&bench, &id).await?;
    Ok(match bench.state.bench.tracks(swing).await {
        Ok(tracks) => Json(tracks).into_response(),
        Err(why) => failed(why),
    })
}

/// How far one clip's pictures are, as JSON.
#[derive(Serialize)]
struct Progress {
    view: View,
    state: &'static str,
    done: usize,
    of: usize,
    why: String,
}

async fn progress(
    State(bench): State<Bench>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let swing = known(&bench, &id).await?;
    let clips = bench.store.clips_of(swing).await?;
    let all: Vec<Progress> = clips
        .iter()
        .map(|clip| Progress::of(clip.view, bench.state.bench.begin(swing, clip.view)))
        .collect();
    Ok(Json(all).into_response())
}

impl Progress {
    fn of(view: View, making: Making) -> Progress {
        let (state, done, of, why) = match making {
            Making::Waiting => ("waiting", 0, 0, String::new()),
            Making::Under { done, of } => ("under_way", done, of, String::new()),
            Making::Ready => ("ready", 0, 0, String::new()),
            Making::Failed(why) => ("failed", 0, 0, say().text(&told(&why))),
        };
        Progress {
            view,
            state,
            done,
            of,
            why,
        }
    }
}

/// Pictures that could not be made are made again.
async fn again(State(bench): State<Bench>, Path(id): Path<String>) -> Result<Redirect, PageError> {
    let swing = known(&bench, &id).await?;
    for clip in bench.store.clips_of(swing).await? {
        bench.state.bench.again(swing, clip.view);
    }
    Ok(Redirect::to(&bench_address(swing)))
}

async fn strip(
    State(bench): State<Bench>,
    Path((id, view)): Path<(String, View)>,
) -> Result<Response, PageError> {
    let swing = known(&bench, &id).await?;
    let kind = HeaderValue::from_static("application/octet-stream");
    Ok(match bench.state.bench.strip(swing, view).await {
        Ok(bytes) => ([(CONTENT_TYPE, kind)], bytes).into_response(),
        Err(why) => failed(why),
    })
}

async fn frame(
    State(bench): State<Bench>,
    Path((id, view, frame)): Path<(String, View, usize)>,
) -> Result<Response, PageError> {
    let swing = known(&bench, &id).await?;
    let kind = HeaderValue::from_static("image/jpeg");
    Ok(match bench.state.bench.frame(swing, view, frame).await {
        Ok(Some(bytes)) => ([(CONTENT_TYPE, kind)], bytes).into_response(),
        Ok(None) => {
            return Err(PageError::Missing(
                t("error-none-frame-picture").with("key", frame.to_string()),
            ));
        }
        Err(why) => failed(why),
    })
}

async fn correct<F: Filled + for<'a> Deserialize<'a>>(
    State(bench): State<Bench>,
    id: Path<String>,
    form: Result<Form<F>, FormRejection>,
) -> Result<Response, PageError> {
    let back = bench_address(swing(&id)?);
    by_hand::make_and_show(bench.state, id, form, back).await
}

async fn undo(State(bench): State<Bench>, id: Path<String>) -> Result<Response, PageError> {
    let back = bench_address(swing(&id)?);
    by_hand::undo_and_show(bench.state, id, back).await
}

async fn file(Path(name): Path<String>) -> Result<Response, PageError> {
    let found = files::find(&name).ok_or_else(|| {
        PageError::Missing(t("error-none-page").with("key", format!("/bench/{name}")))
    })?;
    Ok((
        [(CONTENT_TYPE, HeaderValue::from_static(found.kind))],
        found.text,
    )
        .into_response())
}

/// What can't be shown for a reason outside of the page: plain text, for the script to show.
fn failed(why: String) -> Response {
    let why = say().text(&told(&why));
    (StatusCode::SERVICE_UNAVAILABLE, why).into_response()
}

fn missing(id: &str) -> PageError {
    PageError::Missing(t("error-none-swing").with("key", id.to_string()))
}

fn swing(id: &str) -> Result<SwingId, PageError> {
    id.parse().map(SwingId).map_err(|_| missing(id))
}

/// A swing that is in the studio.
async fn known(bench: &Bench, id: &str) -> Result<SwingId, PageError> {
    let swing = swing(id)?;
    let found = bench.store.swing(swing).await?;
    found.map(|found| found.id).ok_or_else(|| missing(id))
}
