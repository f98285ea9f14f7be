//! What a page says when there is no page.

use crate::alive;
use crate::pages::{Failed, Missing, NotSaved};
use askama::Template;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use lessonwright_store::StoreError;

/// Why a request has no page.
#[derive(Debug, thiserror::Error)]
pub enum PageError {
    /// There is no such thing.
    #[error("there is no {0}")]
    Missing(String),
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
                page(StatusCode::INTERNAL_SERVER_ERROR, &Failed { causes })
            }
        }
    }
}

/// A page that says why a form was not kept.
pub fn not_saved(reason: String, back: String) -> Response {
    page(StatusCode::UNPROCESSABLE_ENTITY, &NotSaved { reason, back })
}

/// The same where the store refused what a person can put right; any other error stays one.
pub fn refused(error: StoreError, back: String) -> Result<Response, PageError> {
    match error {
        StoreError::SendingNotAgreed { .. }
        | StoreError::NotApproved(_)
        | StoreError::Impossible { .. }
        | StoreError::Empty(_)
        | StoreError::GuardianConsentMissing { .. }
        | StoreError::NameTaken(_)
        | StoreError::NameEmpty => Ok(not_saved(sentence(&error.to_string()), back)),
        error => Err(error.into()),
    }
}

/// An error's words as a sentence.
fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(char::to_uppercase);
    first
        .into_iter()
        .flatten()
        .chain(letters)
        .chain(['.'])
        .collect()
}

/// A page with a status; a page that can't even say that it failed is plain text.
pub fn page(status: StatusCode, page: &impl Template) -> Response {
    match page.render() {
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
