//! Lessons at the door: those of this player that were approved, once the player agreed to be sent lessons. Of a lesson that is
//! not approved nothing is said, not even that it is there.

use super::door::{Door, Trouble, Visit};
use crate::error::PageError;
use crate::lesson_files::{file, name};
use crate::lesson_page::{self, Asked};
use crate::named;
use crate::pages::day;
use crate::routes::Studio;
use axum::extract::{Path, State};
use axum::response::Response;
use lessonwright_language::Text;
use lessonwright_store::{FileKind, Lesson, LessonId, LessonSummary, Purpose, SwingId};

/// A lesson to be opened.
pub struct LessonLink {
    pub day: Text,
    pub page: String,
    pub paper: Option<String>,
    pub film: Option<String>,
    /// Not opened before.
    pub new: bool,
}

/// What a player has to open.
pub enum Lessons {
    /// These, latest first.
    Open(Vec<LessonLink>),
    /// There are some, and the player has not agreed to be sent lessons.
    Agree,
}

impl Lessons {
    pub async fn of(studio: &Studio, visit: &Visit, at: &str) -> Result<Lessons, PageError> {
        let lessons = approved(studio, visit).await?;
        let agreed = is_agreed(studio, visit).await?;
        if !agreed && !lessons.is_empty() {
            return Ok(Lessons::Agree);
        }
        let mut links = Vec::new();
        for lesson in lessons {
            let kinds = studio.store.lesson_file_kinds(lesson.id).await?;
            let page = format!("{at}/lessons/{}", lesson.id);
            let of = |kind: FileKind| {
                let is_there = kinds.contains(&kind);
                is_there.then(|| format!("{page}/{}", name(kind)))
            };
            links.push(LessonLink {
                day: day(
                    lesson.approved_at.unwrap_or(lesson.drafted_at),
                    &studio.state,
                ),
                paper: of(FileKind::Paper),
                film: of(FileKind::Film),
                new: lesson.sent_at.is_none(),
                page,
            });
        }
        Ok(Lessons::Open(links))
    }
}

async fn is_agreed(studio: &Studio, visit: &Visit) -> Result<bool, PageError> {
    let consents = studio.store.consents_of(visit.player.id).await?;
    Ok(consents.in_force(Purpose::Sending).is_some())
}

/// The latest approved lesson of each swing, latest first.
async fn approved(studio: &Studio, visit: &Visit) -> Result<Vec<LessonSummary>, PageError> {
    let mut lessons = studio.store.lessons_of_player(visit.player.id).await?;
    let mut seen: Vec<SwingId> = Vec::new();
    lessons.retain(|lesson| {
        let wanted = lesson.approved_at.is_some() && !seen.contains(&lesson.swing);
        if wanted {
            seen.push(lesson.swing);
        }
        wanted
    });
    Ok(lessons)
}

/// The lesson of an address, if the player may have it; noted as sent.
async fn find(door: &Door, visit: &Visit, id: &str) -> Result<LessonId, PageError> {
    let missing = || named::no_lesson(id);
    let id = named::lesson_id(id)?;
    let lessons = approved(&door.studio, visit).await?;
    if !lessons.iter().any(|lesson| lesson.id == id) || !is_agreed(&door.studio, visit).await? {
        return Err(missing());
    }
    let now = (door.studio.state.now)();
    door.studio.store.mark_lesson_sent(id, now).await?;
    Ok(id)
}

pub async fn lesson(
    State(door): State<Door>,
    visit: Visit,
    Path((token, id)): Path<(String, String)>,
) -> Result<Response, Trouble> {
    let lesson = open(&door, &visit, &id).await?;
    let at = format!("/for/{token}/lessons/{id}");
    Ok(lesson_page::served(&lesson, &at))
}

pub async fn picture(
    State(door): State<Door>,
    visit: Visit,
    Path((_, id, number)): Path<(String, String, String)>,
    asked: Asked,
) -> Result<Response, Trouble> {
    let lesson = open(&door, &visit, &id).await?;
    let found = lesson_page::picture(&lesson, &number, asked);
    Ok(found.ok_or_else(|| named::no_lesson(&id))?)
}

async fn open(door: &Door, visit: &Visit, id: &str) -> Result<Lesson, PageError> {
    let found = find(door, visit, id).await?;
    let lesson = door.studio.store.lesson(found).await?;
    lesson.ok_or_else(|| named::no_lesson(id))
}

pub async fn paper(
    State(door): State<Door>,
    visit: Visit,
    Path((_, id)): Path<(String, String)>,
) -> Result<Response, Trouble> {
    find(&door, &visit, &id).await?;
    Ok(file(&door.studio.store, &id, FileKind::Paper).await?)
}

pub async fn film(
    State(door): State<Door>,
    visit: Visit,
    Path((_, id)): Path<(String, String)>,
) -> Result<Response, Trouble> {
    find(&door, &visit, &id).await?;
    Ok(file(&door.studio.store, &id, FileKind::Film).await?)
}
