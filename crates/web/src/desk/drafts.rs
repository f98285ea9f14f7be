//! Which lessons could not be drafted, and why; and how far the latest draft of a swing's lesson is.

use crate::error::PageError;
use lessonwright_store::{LessonSummary, Store, SwingId};
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

/// Drafts that failed since the studio was opened. Clones share them.
#[derive(Clone, Debug, Default)]
pub struct Drafts(Arc<Mutex<BTreeMap<SwingId, String>>>);

impl Drafts {
    /// Notes how a draft ended: why it failed, or none.
    pub fn note(&self, swing: SwingId, failed: Option<String>) {
        let mut all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        match failed {
            Some(why) => all.insert(swing, why),
            None => all.remove(&swing),
        };
    }

    /// Why the last draft of a swing's lesson failed, if it did.
    pub fn failed(&self, swing: SwingId) -> Option<String> {
        let all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        all.get(&swing).cloned()
    }
}

/// How far the lesson of a swing is.
pub enum Draft {
    /// It has all that was chosen and said.
    Ready(LessonSummary),
    /// It is being drafted.
    Under,
    /// It could not be drafted.
    Failed(String),
}

impl Draft {
    pub async fn of(store: &Store, drafts: &Drafts, swing: SwingId) -> Result<Draft, PageError> {
        let latest = store.latest_analysis(swing).await?.map(|stored| stored.id);
        let changed_at = store.choices(swing).await?.changed_at;
        let lesson = store.lessons_of_swing(swing).await?.into_iter().next();
        let has_all = |lesson: &LessonSummary| {
            latest.is_some_and(|latest| lesson.has_all(latest, changed_at))
        };
        Ok(match (lesson.filter(has_all), drafts.failed(swing)) {
            (Some(lesson), _) => Draft::Ready(lesson),
            (None, Some(why)) => Draft::Failed(why),
            (None, None) => Draft::Under,
        })
    }
}
