//! A lesson's files: on paper, and its film.

use crate::error::PageError;
use crate::keeping::film_and_send_address;
use crate::routes::{Studio, lesson_address};
use axum::extract::{Path, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use lessonwright_store::{FileKind, LessonId, Store, StoreError};

/// A file to be fetched.
pub struct FileLink {
    pub address: String,
    pub title: &'static str,
}

/// Where the files of a lesson are, as far as it has them.
pub async fn file_links(store: &Store, lesson: LessonId) -> Result<Vec<FileLink>, StoreError> {
    let kinds = store.lesson_file_kinds(lesson).await?;
    let link = |kind: FileKind| FileLink {
        address: format!("{}/{}", lesson_address(lesson), name(kind)),
        title: match kind {
            FileKind::Paper => "On paper (PDF)",
            FileKind::Film => "The film (MP4)",
        },
    };
    let send = FileLink {
        address: film_and_send_address(lesson),
        title: "Film and send, for the player's phone",
    };
    Ok(kinds.into_iter().map(link).chain([send]).collect())
}

pub async fn paper(studio: State<Studio>, id: Path<String>) -> Result<Response, PageError> {
    file(&studio.store, &id, FileKind::Paper).await
}

pub async fn film(studio: State<Studio>, id: Path<String>) -> Result<Response, PageError> {
    file(&studio.store, &id, FileKind::Film).await
}

pub(crate) async fn file(store: &Store, id: &str, kind: FileKind) -> Result<Response, PageError> {
    let missing = || PageError::Missing(format!("{} of lesson {id}", name(kind)));
    let lesson = LessonId(id.parse().map_err(|_| missing())?);
    let bytes = store.lesson_file(lesson, kind).await?.ok_or_else(missing)?;
    let media = match kind {
        FileKind::Paper => "application/pdf",
        FileKind::Film => "video/mp4",
    };
    let headers = [
        (CONTENT_TYPE, media.to_owned()),
        (
            CONTENT_DISPOSITION,
            format!("attachment; filename=\"{lesson}-{}\"", name(kind)),
        ),
    ];
    Ok((headers, bytes).into_response())
}

pub(crate) fn name(kind: FileKind) -> &'static str {
    match kind {
        FileKind::Paper => "lesson.pdf",
        FileKind::Film => "film.mp4",
    }
}
