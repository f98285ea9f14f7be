//! The follow-up's addresses: a player's progress, the roster's, and the forms that mark swings and set days.

use crate::error::PageError;
use crate::follow_pages::{PlayerFollowUp, RosterFollowUp};
use crate::follow_wait::soon;
use crate::named;
use crate::routes::{Studio, player_address, shown};
use axum::Router;
use axum::extract::{Form, Path, Query, State};
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use jiff::civil::Date;
use lessonwright_language::t;
use lessonwright_model::Occasion;
use lessonwright_store::{PlayerId, SwingId, SwingMark};
use std::collections::BTreeMap;

const STYLE: &str = include_str!("../templates/follow.css");

/// A player's progress.
pub fn progress_address(id: PlayerId) -> String {
    format!("{}/progress", player_address(id))
}

/// The whole roster's.
pub const ROSTER_ADDRESS: &str = "/progress";

/// Where swings are marked.
pub const MARK_ADDRESS: &str = "/progress/mark";

/// Where a prescription's days are set.
pub fn prescription_address(id: i64) -> String {
    format!("/prescriptions/{id}")
}

pub fn routes() -> Router<Studio> {
    Router::new()
        .route("/players/{id}/progress", get(progress))
        .route(ROSTER_ADDRESS, get(roster))
        .route(MARK_ADDRESS, post(mark))
        .route("/prescriptions/{id}", post(set_prescription))
        .route("/follow.css", get(style))
}

type Fields = BTreeMap<String, String>;

async fn progress(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Query(fields): Query<Fields>,
) -> Result<Response, PageError> {
    let missing = || named::no_player(&id);
    let id = named::player_id(&id)?;
    let show = fields.get("show").cloned();
    let asked = studio.clone();
    let work = async move { PlayerFollowUp::of(&asked, id, show.as_deref()).await };
    soon(&studio, work, |page| shown(&page.ok_or_else(missing)?)).await
}

async fn roster(State(studio): State<Studio>) -> Result<Response, PageError> {
    let asked = studio.clone();
    let work = async move { RosterFollowUp::of(&asked).await };
    soon(&studio, work, |page| shown(page.as_ref())).await
}

/// Marks the swings named in `swings` (keys with spaces between). An empty occasion or day takes the mark off.
async fn mark(
    State(studio): State<Studio>,
    Form(fields): Form<Fields>,
) -> Result<Redirect, PageError> {
    let said = |name: &str| fields.get(name).map_or("", |text| text.trim());
    let asked = |what: &'static str| PageError::Missing(t(what));
    let occasion = match said("occasion") {
        "" => None,
        key => Some(Occasion::of_key(key).ok_or_else(|| asked("error-none-kind-like"))?),
    };
    let session_on: Option<Date> = match said("session_on") {
        "" => None,
        text => Some(text.parse().map_err(|_| asked("error-none-day-like"))?),
    };
    let keys: Result<Vec<i64>, _> = said("swings").split_whitespace().map(str::parse).collect();
    let mut player = None;
    for key in keys.map_err(|_| asked("error-none-swing-like"))? {
        let swing = studio.store.swing(SwingId(key)).await?;
        player = Some(swing.ok_or_else(|| asked("error-none-swing-like"))?.player);
        let mark = SwingMark {
            occasion,
            session_on,
        };
        studio.store.mark_swing(SwingId(key), mark).await?;
    }
    let player = player.ok_or_else(|| asked("error-none-swing-like"))?;
    Ok(Redirect::to(&format!(
        "{}#sessions",
        progress_address(player)
    )))
}

/// Sets the days to the next lesson, or ends a prescription, or takes its end back.
async fn set_prescription(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Redirect, PageError> {
    let missing = || PageError::Missing(t("error-none-prescription").with("key", id.to_string()));
    let key: i64 = id.parse().map_err(|_| missing())?;
    let said = |name: &str| fields.get(name).map(|text| text.trim());
    let today = (studio.state.now)()
        .to_zoned(studio.state.time_zone.clone())
        .date();
    let player = match said("what") {
        Some("end") => studio.store.end_prescription(key, Some(today)).await,
        Some("go on") => studio.store.end_prescription(key, None).await,
        _ => {
            let days = match said("next_in_days") {
                None | Some("") => None,
                Some(text) => Some(text.parse().map_err(|_| {
                    PageError::Missing(t("error-none-days").with("key", text.to_string()))
                })?),
            };
            studio.store.set_next_lesson(key, days).await
        }
    };
    let player = player.map_err(|error| match error {
        lessonwright_store::StoreError::NoPrescription(_) => missing(),
        lessonwright_store::StoreError::Impossible { .. } => {
            PageError::Missing(t("error-none-next-in-0"))
        }
        error => error.into(),
    })?;
    Ok(Redirect::to(&progress_address(player)))
}

async fn style() -> impl IntoResponse {
    ([(CONTENT_TYPE, "text/css; charset=utf-8")], STYLE)
}
