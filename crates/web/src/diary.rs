//! The diary's forms: an appointment is made, moved and cancelled.

use crate::AppState;
use crate::error::{PageError, not_saved, refused};
use crate::routes::{Fields, Studio, player_address};
use crate::today::TODAY_ADDRESS;
use crate::wording::{clock_time, date_at};
use axum::Router;
use axum::extract::{Form, Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::post;
use jiff::Timestamp;
use jiff::civil::{Date, Time};
use lessonwright_language::{Text, t, when};
use lessonwright_store::{Appointment, AppointmentId, Found, FoundKind, Planned, PlayerId, Store};

/// Where appointments are made.
pub const DIARY_ADDRESS: &str = "/appointments";

/// Where one is moved or cancelled.
pub fn appointment_address(id: AppointmentId) -> String {
    format!("{DIARY_ADDRESS}/{id}")
}

/// An appointment on a page.
pub struct DiaryEntry {
    pub name: String,
    pub player: String,
    pub address: String,
    pub date: Date,
    /// With its weekday.
    pub day: Text,
    pub time: String,
    pub minutes: u32,
    pub place: String,
    pub purpose: String,
}

/// How long an appointment is unless it is said. Common practice, no source.
pub const USUAL_MINUTES: u32 = 45;

pub fn routes() -> Router<Studio> {
    Router::new()
        .route(DIARY_ADDRESS, post(add))
        .route("/appointments/{id}", post(change))
}

impl DiaryEntry {
    pub fn of(one: &Appointment, state: &AppState) -> DiaryEntry {
        let planned = &one.planned;
        DiaryEntry {
            name: one.name.clone(),
            player: player_address(planned.player),
            address: appointment_address(one.id),
            day: when::weekday_date(date_at(planned.starts_at, state)),
            date: date_at(planned.starts_at, state),
            time: clock_time(planned.starts_at, state),
            minutes: planned.minutes,
            place: planned.place.clone(),
            purpose: planned.purpose.clone(),
        }
    }
}

async fn add(
    State(studio): State<Studio>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let back = back(&fields);
    let player = match whose(&studio.store, said(&fields, "player")).await? {
        Ok(player) => player,
        Err(problem) => return Ok(not_saved(problem, back)),
    };
    match planned(&fields, player, &studio.state) {
        Err(problem) => Ok(not_saved(problem, back)),
        Ok(planned) => match studio.store.add_appointment(&planned).await {
            Ok(_) => Ok(Redirect::to(&back).into_response()),
            Err(error) => refused(error, back),
        },
    }
}

/// Moves an appointment, or with `what=cancel` takes it out.
async fn change(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let missing = || PageError::Missing(t("error-none-appointment").with("key", id.to_string()));
    let key = AppointmentId(id.parse().map_err(|_| missing())?);
    let known = studio.store.appointment(key).await?.ok_or_else(missing)?;
    let back = back(&fields);
    let done = match said(&fields, "what") {
        "cancel" => studio.store.cancel_appointment(key).await,
        _ => match planned(&fields, known.planned.player, &studio.state) {
            Err(problem) => return Ok(not_saved(problem, back)),
            Ok(planned) => studio.store.move_appointment(key, &planned).await,
        },
    };
    match done {
        Ok(()) => Ok(Redirect::to(&back).into_response()),
        Err(error) => refused(error, back),
    }
}

fn said<'a>(fields: &'a Fields, name: &str) -> &'a str {
    fields.get(name).map_or("", |text| text.trim())
}

/// A player's page where the form was sent from there, else Today.
fn back(fields: &Fields) -> String {
    match said(fields, "on_page_of").parse() {
        Ok(player) => format!("{}#diary", player_address(PlayerId(player))),
        Err(_) => TODAY_ADDRESS.to_owned(),
    }
}

/// The player of a key or a name; a part of a name is enough where only one has it.
async fn whose(store: &Store, text: &str) -> Result<Result<PlayerId, Text>, PageError> {
    if let Ok(key) = text.parse().map(PlayerId)
        && store.player(key).await?.is_some()
    {
        return Ok(Ok(key));
    }
    if let Some(player) = store.player_named(text).await? {
        return Ok(Ok(player.id));
    }
    let found = store.search(text, 2).await?;
    let players: Vec<&Found> = found
        .iter()
        .filter(|found| found.kind == FoundKind::Player)
        .collect();
    Ok(match players[..] {
        [only] => Ok(PlayerId(only.key)),
        [] => Err(t("error-nobody-called").with("name", text)),
        _ => Err(t("error-several-called").with("name", text)),
    })
}

fn planned(fields: &Fields, player: PlayerId, state: &AppState) -> Result<Planned, Text> {
    let day: Date = said(fields, "day")
        .parse()
        .map_err(|_| t("error-which-day"))?;
    let time: Time = said(fields, "time")
        .parse()
        .map_err(|_| t("error-what-time"))?;
    let minutes = match said(fields, "minutes") {
        "" => USUAL_MINUTES,
        text => text
            .parse()
            .map_err(|_| t("error-no-minutes").with("text", text))?,
    };
    Ok(Planned {
        player,
        starts_at: instant(day, time, state)?,
        minutes,
        place: said(fields, "place").to_owned(),
        purpose: said(fields, "purpose").to_owned(),
    })
}

fn instant(day: Date, time: Time, state: &AppState) -> Result<Timestamp, Text> {
    let zoned = day.to_datetime(time).to_zoned(state.time_zone.clone());
    let zoned = zoned.map_err(|_| {
        t("error-no-such-time")
            .with("day", day.to_string())
            .with("time", time.to_string())
    })?;
    Ok(zoned.timestamp())
}
