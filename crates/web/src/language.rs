//! In which language a page is laid out.
//!
//! Pages keep [`lessonwright_language::Text`]s; the studio's language is looked up once for each request and
//! known to its task ([`say`]), so neither handlers nor pages' structs carry it.

use axum::Router;
use axum::extract::{Request, State};
use axum::middleware::{self, Next};
use axum::response::Response;
use lessonwright_language::{Language, Say};
use std::sync::{Arc, PoisonError, RwLock};

/// The studio's language as it is chosen now. Cheap to clone; clones are one choice.
#[derive(Clone, Debug, Default)]
pub struct Spoken(Arc<RwLock<Language>>);

impl Spoken {
    /// With a language to begin with.
    pub fn new(language: Language) -> Spoken {
        Spoken(Arc::new(RwLock::new(language)))
    }

    /// The language.
    pub fn language(&self) -> Language {
        *self.0.read().unwrap_or_else(PoisonError::into_inner)
    }

    /// From now on, this one.
    pub fn choose(&self, language: Language) {
        *self.0.write().unwrap_or_else(PoisonError::into_inner) = language;
    }
}

tokio::task_local! {
    static SAY: Say;
}

/// The language of the request under way.
///
/// # Panics
/// Outside of a request: pages are laid out inside [`spoken`] only.
pub(crate) fn say() -> Say {
    SAY.with(|say| *say)
}

/// Answers in the studio's language.
pub(crate) fn spoken(router: Router, spoken: Spoken) -> Router {
    router.layer(middleware::from_fn_with_state(spoken, in_language))
}

async fn in_language(State(spoken): State<Spoken>, request: Request, next: Next) -> Response {
    in_language_of(spoken.language(), next.run(request)).await
}

/// Work, of which pages are laid out in this language.
pub(crate) async fn in_language_of<T>(language: Language, work: impl Future<Output = T>) -> T {
    SAY.scope(Say::new(language), work).await
}

/// Work that goes on in a task of its own and lays pages out in the language of the request under way.
///
/// # Panics
/// As [`say`].
pub(crate) fn in_this_language<T>(work: impl Future<Output = T>) -> impl Future<Output = T> {
    SAY.scope(say(), work)
}

/// Work of a test that is under no request.
#[cfg(test)]
pub(crate) fn in_english<T>(work: impl FnOnce() -> T) -> T {
    SAY.sync_scope(Say::new(Language::English), work)
}
