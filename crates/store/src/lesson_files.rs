//! Files that go with a lesson beside its page: the same on paper, and its film. They lie in the media folder of the
//! lesson's swing, so that erasing a player erases them.

use crate::error::{StoreError, during};
use crate::media;
use crate::rows::LessonId;
use crate::store::Store;
use sqlx::Row;

/// What a file is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileKind {
    /// The lesson on paper (PDF).
    Paper,
    /// The swing slowed down (MP4).
    Film,
}

impl FileKind {
    fn column(self) -> &'static str {
        match self {
            FileKind::Paper => "paper",
            FileKind::Film => "film",
        }
    }

    fn extension(self) -> &'static str {
        match self {
            FileKind::Paper => "pdf",
            FileKind::Film => "mp4",
        }
    }
}

impl Store {
    /// Keeps a file of a lesson, in place of one of its kind. The file is whole or not there.
    ///
    /// # Errors
    /// If there is no such lesson or the file can't be written.
    pub async fn keep_lesson_file(
        &self,
        lesson: LessonId,
        kind: FileKind,
        bytes: &[u8],
    ) -> Result<(), StoreError> {
        let summary = self.lesson_summary(lesson).await?;
        let swing = summary.ok_or(StoreError::NoLesson(lesson))?.swing;
        let name = format!("lesson-{lesson}.{}", kind.extension());
        let part = media::write(bytes.to_vec(), self.media_folder(swing).join(&name)).await?;
        let sha256 = part.sha256.clone();
        part.settle().await?;
        sqlx::query(
            "INSERT INTO lesson_files (lesson_id, kind, path, sha256) VALUES (?, ?, ?, ?)
             ON CONFLICT (lesson_id, kind) DO UPDATE SET path = excluded.path, sha256 = excluded.sha256",
        )
        .bind(lesson.0)
        .bind(kind.column())
        .bind(name)
        .bind(sha256)
        .execute(&self.pool)
        .await
        .map_err(during("keep a lesson's file"))?;
        Ok(())
    }

    /// Which files a lesson has.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn lesson_file_kinds(&self, lesson: LessonId) -> Result<Vec<FileKind>, StoreError> {
        let rows =
            sqlx::query("SELECT kind FROM lesson_files WHERE lesson_id = ? ORDER BY kind DESC")
                .bind(lesson.0)
                .fetch_all(&self.pool)
                .await
                .map_err(during("list a lesson's files"))?;
        let kind = |row: &sqlx::sqlite::SqliteRow| match row.get("kind") {
            "film" => FileKind::Film,
            _ => FileKind::Paper,
        };
        Ok(rows.iter().map(kind).collect())
    }

    /// A file of a lesson, if it has one of this kind.
    ///
    /// # Errors
    /// If the database fails or the file can't be read.
    pub async fn lesson_file(
        &self,
        lesson: LessonId,
        kind: FileKind,
    ) -> Result<Option<Vec<u8>>, StoreError> {
        let Some(summary) = self.lesson_summary(lesson).await? else {
            return Ok(None);
        };
        let name: Option<String> =
            sqlx::query_scalar("SELECT path FROM lesson_files WHERE lesson_id = ? AND kind = ?")
                .bind(lesson.0)
                .bind(kind.column())
                .fetch_optional(&self.pool)
                .await
                .map_err(during("look for a lesson's file"))?;
        match name {
            None => Ok(None),
            Some(name) => {
                let path = self.media_folder(summary.swing).join(name);
                Ok(Some(media::read(path).await?))
            }
        }
    }
}
