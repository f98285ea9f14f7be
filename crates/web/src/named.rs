//! What an address names by its number; where there is no such, a page that says so.

use crate::error::PageError;
use lessonwright_language::t;
use lessonwright_store::{Lesson, LessonId, LessonSummary, Player, PlayerId, Store};

pub(crate) async fn player(store: &Store, id: &str) -> Result<Player, PageError> {
    let found = store.player(player_id(id)?).await?;
    found.ok_or_else(|| no_player(id))
}

/// The number alone, where the page itself finds the player.
pub(crate) fn player_id(id: &str) -> Result<PlayerId, PageError> {
    id.parse().map(PlayerId).map_err(|_| no_player(id))
}

pub(crate) fn no_player(id: &str) -> PageError {
    PageError::Missing(t("error-none-player").with("key", id.to_string()))
}

/// A lesson with its page.
pub(crate) async fn lesson(store: &Store, id: &str) -> Result<Lesson, PageError> {
    let found = store.lesson(lesson_id(id)?).await?;
    found.ok_or_else(|| no_lesson(id))
}

/// A lesson without its page.
pub(crate) async fn lesson_summary(store: &Store, id: &str) -> Result<LessonSummary, PageError> {
    let found = store.lesson_summary(lesson_id(id)?).await?;
    found.ok_or_else(|| no_lesson(id))
}

pub(crate) fn lesson_id(id: &str) -> Result<LessonId, PageError> {
    id.parse().map(LessonId).map_err(|_| no_lesson(id))
}

pub(crate) fn no_lesson(id: &str) -> PageError {
    PageError::Missing(t("error-none-lesson").with("key", id.to_string()))
}
