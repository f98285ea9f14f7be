//! What a page says when there is no page.

use crate::alive;
use crate::language::say;
use crate::pages::{Failed, Missing, NotSaved};
use askama::Template;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use lessonwright_language::filters::told;
use lessonwright_language::{Text, t};
use lessonwright_model::{AnswersError, STRONGEST_PAIN};
use lessonwright_store::{OF_AGE_YEARS, StoreError};

/// Why a request has no page.
#[derive(Debug, thiserror::Error)]
pub enum PageError {
    /// There is no such thing.
    #[error("there is no such thing")]
    Missing(Text),
    /// The store failed or refused.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// A page that goes to a player could not be made.
    #[error(transparent)]
    Report(#[from] lessonwright_report::ReportError),
    /// The template could not be filled in.
    #[error("could not lay out the page")]
    Template(#[from] askama::Error),
    /// The professional's own tables can't be read.
    #[error("the studio's own tables can't be read: {0}")]
    Trade(String),
    /// The files could not be put into one.
    #[error("could not pack the files")]
    Packing(#[from] zip::result::ZipError),
}

impl IntoResponse for PageError {
    fn into_response(self) -> Response {
        if let PageError::Store(error) = &self
            && let Some((status, trouble)) = alive::trouble(error)
        {
            tracing::error!(
                causes = causes(&self).join(": "),
                "a page could not be made"
            );
            return page(status, &trouble);
        }
        match self {
            PageError::Missing(what) => page(StatusCode::NOT_FOUND, &Missing { what }),
            error => {
                let causes = causes(&error);
                tracing::error!(causes = causes.join(": "), "a page could not be made");
                let causes = causes.iter().map(|cause| told(cause)).collect();
                page(StatusCode::INTERNAL_SERVER_ERROR, &Failed { causes })
            }
        }
    }
}

/// A page that says why a form was not kept.
pub fn not_saved(reason: Text, back: String) -> Response {
    page(StatusCode::UNPROCESSABLE_ENTITY, &NotSaved { reason, back })
}

/// The same where the store refused what a person can put right; any other error stays one.
pub fn refused(error: StoreError, back: String) -> Result<Response, PageError> {
    match said(&error) {
        Some(reason) => Ok(not_saved(reason, back)),
        None => Err(error.into()),
    }
}

/// What the store refuses and a person can put right; none for any other error.
pub fn said(error: &StoreError) -> Option<Text> {
    Some(match error {
        StoreError::SendingNotAgreed { player, lesson } => t("error-sending")
            .with("player", player)
            .with("lesson", lesson.to_string()),
        StoreError::NotApproved(lesson) => {
            t("error-lesson-not-approved").with("lesson", lesson.to_string())
        }
        StoreError::Impossible { what, value } => {
            impossible(what)?.with("value", Text::figure(value.to_string()))
        }
        StoreError::Empty(what) => t(empty(what)?),
        StoreError::GuardianConsentMissing { player, age_years } => t("error-guardian-missing")
            .with("player", player)
            .with("age", age_years)
            .with("limit", OF_AGE_YEARS),
        StoreError::NameTaken(name) => t("error-name-taken").with("name", name),
        StoreError::NameEmpty => t("error-name-empty"),
        StoreError::ImpossibleAnswers(error) => answers(*error),
        _ => return None,
    })
}

/// Why answers before a prescription can't be.
pub fn answers(error: AnswersError) -> Text {
    match error {
        AnswersError::TooStrong(told) => t("error-answers-too-strong")
            .with("strongest", STRONGEST_PAIN)
            .with("told", told),
        AnswersError::NobodyCleared => t("error-answers-nobody"),
        AnswersError::ClearedInFuture => t("error-answers-future"),
    }
}

fn impossible(what: &str) -> Option<Text> {
    Some(t(match what {
        "stature in metres" => "error-impossible-stature",
        "an appointment's length in minutes" => "error-impossible-length",
        "days to the next lesson" => "error-impossible-days",
        _ => return None,
    }))
}

fn empty(what: &str) -> Option<&'static str> {
    match what {
        "a consent needs the name of who agreed" => Some("error-consent-name"),
        "a note has no words" => Some("error-note-empty"),
        _ => None,
    }
}

/// A page with a status; a page that can't even say that it failed is plain text.
pub fn page(status: StatusCode, page: &impl Template) -> Response {
    match say().render(page) {
        Ok(text) => (status, Html(text)).into_response(),
        Err(_) => (status, "The page could not be laid out.").into_response(),
    }
}

fn causes(error: &PageError) -> Vec<String> {
    let mut causes = Vec::new();
    let mut next: Option<&dyn std::error::Error> = Some(error);
    while let Some(error) = next {
        causes.push(error.to_string());
        next = error.source();
    }
    causes
}
