//! Everything a player gets, in one file: page, paper and film in a folder that has the player's name and the day.

use crate::AppState;
use crate::error::PageError;
use crate::pages::day;
use lessonwright_store::{FileKind, LessonSummary, Store};
use std::io::{Cursor, Write};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

/// A lesson's files as a ZIP file, and its name. Nothing in them gets smaller by being packed, so nothing is.
pub async fn all_in_one(
    store: &Store,
    state: &AppState,
    summary: &LessonSummary,
) -> Result<Option<(String, Vec<u8>)>, PageError> {
    let (Some(lesson), Some(player)) = (
        store.lesson(summary.id).await?,
        store.player(summary.player).await?,
    ) else {
        return Ok(None);
    };
    let mut files = vec![("lesson.html", lesson.page)];
    for (name, kind) in [
        ("lesson.pdf", FileKind::Paper),
        ("film.mp4", FileKind::Film),
    ] {
        if let Some(bytes) = store.lesson_file(summary.id, kind).await? {
            files.push((name, bytes));
        }
    }
    let day = state.say().text(&day(summary.drafted_at, state));
    let folder = format!("{} {day}", plain(&player.facts.name));
    Ok(Some((folder.clone(), packed(&folder, &files)?)))
}

/// As a folder may be named everywhere.
fn plain(name: &str) -> String {
    let kept = |c: char| {
        if c.is_alphanumeric() || " -'".contains(c) {
            c
        } else {
            ' '
        }
    };
    let name: String = name.chars().map(kept).collect();
    name.trim().to_owned()
}

fn packed(folder: &str, files: &[(&str, Vec<u8>)]) -> Result<Vec<u8>, PageError> {
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Stored)
        .last_modified_time(zip::DateTime::default());
    let mut packed = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in files {
        packed.start_file(format!("{folder}/{name}"), options)?;
        packed.write_all(bytes).map_err(zip::result::ZipError::Io)?;
    }
    Ok(packed.finish()?.into_inner())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_can_not_leave_its_folder() {
        for (name, expected) in [
            ("Tom Hallam", "Tom Hallam"),
            ("../../etc", "etc"),
            ("O'Neil-Łuk / B", "O'Neil-Łuk   B"),
        ] {
            assert_eq!(plain(name), expected);
        }
    }
}
