//! Corrections by hand from the swing's page: plain forms, each one change, then the page again.

use crate::AppState;
use crate::error::{PageError, page};
use crate::language::say;
use crate::pages::NotCorrected;
use crate::routes::swing_address;
use crate::typed::decimal;
use axum::extract::rejection::FormRejection;
use axum::extract::{Form, Path};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use lessonwright_language::filters::told;
use lessonwright_language::{Text, t};
use lessonwright_model::{Change, MomentName, View};
use lessonwright_store::SwingId;
use serde::Deserialize;
use std::collections::BTreeMap;

/// What is asked of a swing's corrections.
#[derive(Clone, Debug, PartialEq)]
pub enum Asked {
    /// A change.
    Make(Change),
    /// That the last change be taken back.
    TakeBack,
    /// That it be judged again by what is known of the player and was chosen now.
    Again,
    /// That its lesson alone be drafted again, soon, with what was chosen and said now.
    Draft,
}

/// Where the forms of a swing go.
pub struct Addresses {
    pub moment: String,
    pub stature: String,
    pub capture_rate: String,
    pub seen: String,
    pub undo: String,
}

impl Addresses {
    pub fn of(id: SwingId) -> Addresses {
        let to = |what: &str| format!("{}/by-hand/{what}", swing_address(id));
        Addresses {
            moment: to("moment"),
            stature: to("stature"),
            capture_rate: to("capture-rate"),
            seen: to("seen"),
            undo: to("undo"),
        }
    }
}

/// A moment moved by frames, or left where it is found.
#[derive(Deserialize)]
pub struct MomentForm {
    view: View,
    moment: MomentName,
    /// A number of frames, or "as found".
    frames: String,
}

/// The player's stature; empty for the one on record.
#[derive(Deserialize)]
pub struct StatureForm {
    stature_cm: String,
}

/// A clip's capture rate; empty for what the clip says.
#[derive(Deserialize)]
pub struct CaptureRateForm {
    view: View,
    capture_rate_hz: String,
}

/// What the professional saw: a box for each fact, named after its key; absent where it is not ticked.
pub type SeenForm = BTreeMap<String, String>;

/// What is filled in, as a change.
pub trait Filled {
    fn change(&self) -> Result<Change, String>;
}

impl Filled for MomentForm {
    fn change(&self) -> Result<Change, String> {
        if self.frames == "as found" {
            return Ok(Change::MomentAsFound(self.view, self.moment));
        }
        let frames =
            number(&self.frames)?.ok_or_else(|| say().text(&t("swing-how-many-frames")))?;
        Ok(Change::Nudge(self.view, self.moment, frames))
    }
}

impl Filled for StatureForm {
    fn change(&self) -> Result<Change, String> {
        let stature_cm = number(&self.stature_cm)?;
        Ok(Change::Stature(stature_cm.map(|cm| cm / 100.0)))
    }
}

impl Filled for CaptureRateForm {
    fn change(&self) -> Result<Change, String> {
        let rate_hz = number(&self.capture_rate_hz)?;
        Ok(Change::CaptureRate(self.view, rate_hz))
    }
}

impl Filled for SeenForm {
    fn change(&self) -> Result<Change, String> {
        Ok(Change::Seen(self.keys().cloned().collect()))
    }
}

/// A number as typed; none if nothing is.
fn number(text: &str) -> Result<Option<f64>, String> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(None);
    }
    let refused = || say().text(&t("swing-no-number").with("typed", text));
    decimal(text).map(Some).ok_or_else(refused)
}

/// Make the change that a form asks for, and show the swing again.
pub async fn make<F: Filled>(
    state: AppState,
    Path(id): Path<String>,
    form: Result<Form<F>, FormRejection>,
) -> Result<Response, PageError> {
    let back = swing_address(swing(&id)?);
    make_and_show(state, Path(id), form, back).await
}

/// Make the change that a form asks for, and show the page at `back`.
pub async fn make_and_show<F: Filled>(
    state: AppState,
    Path(id): Path<String>,
    form: Result<Form<F>, FormRejection>,
    back: String,
) -> Result<Response, PageError> {
    let id = swing(&id)?;
    let change = form
        .map_err(|error| error.body_text())
        .and_then(|Form(form)| form.change());
    Ok(match change {
        Ok(change) => answer(&state, id, Asked::Make(change), back).await,
        Err(reason) => not_corrected(back, Text::plain(reason)),
    })
}

/// Judge the swing again, and show it again.
pub async fn again(state: AppState, Path(id): Path<String>) -> Result<Response, PageError> {
    let id = swing(&id)?;
    Ok(answer(&state, id, Asked::Again, swing_address(id)).await)
}

/// Take the last change back, and show the swing again.
pub async fn undo(state: AppState, Path(id): Path<String>) -> Result<Response, PageError> {
    let back = swing_address(swing(&id)?);
    undo_and_show(state, Path(id), back).await
}

/// Take the last change back, and show the page at `back`.
pub async fn undo_and_show(
    state: AppState,
    Path(id): Path<String>,
    back: String,
) -> Result<Response, PageError> {
    Ok(answer(&state, swing(&id)?, Asked::TakeBack, back).await)
}

fn swing(id: &str) -> Result<SwingId, PageError> {
    let number = id.parse();
    number
        .map(SwingId)
        .map_err(|_| PageError::Missing(t("error-none-swing").with("key", id.to_string())))
}

pub(crate) async fn answer(state: &AppState, id: SwingId, asked: Asked, back: String) -> Response {
    match (state.correct)(id, asked).await {
        Ok(()) => Redirect::to(&back).into_response(),
        Err(reason) => not_corrected(back, told(&reason)),
    }
}

fn not_corrected(back: String, reason: Text) -> Response {
    page(
        StatusCode::UNPROCESSABLE_ENTITY,
        &NotCorrected { reason, back },
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::in_english;

    #[test]
    fn a_number_may_be_missing_but_not_something_else() {
        assert_eq!(number(" 181,5 "), Ok(Some(181.5)));
        assert_eq!(number(" "), Ok(None));
        assert!(in_english(|| number("tall")).is_err());
    }
}
