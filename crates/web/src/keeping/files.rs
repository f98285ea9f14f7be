//! Files that may be large: sent and received piece by piece.

use axum::body::{Body, Bytes};
use axum::extract::Multipart;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_LENGTH, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use futures_util::stream;
use std::io;
use std::path::Path;
use tokio::fs::File;
use tokio::io::{AsyncReadExt, AsyncWriteExt};

/// Bytes sent at a time.
const CHUNK: usize = 1 << 16;

/// A file for the browser to keep.
pub async fn attachment(path: &Path, media: &'static str) -> io::Result<Response> {
    let file = File::open(path).await?;
    let bytes = file.metadata().await?.len();
    let name = path
        .file_name()
        .unwrap_or_default()
        .to_string_lossy()
        .replace(['"', '\\'], "");
    let pieces = stream::unfold(file, |mut file| async move {
        let mut piece = vec![0; CHUNK];
        match file.read(&mut piece).await {
            Ok(0) => None,
            Ok(read) => {
                piece.truncate(read);
                Some((Ok(Bytes::from(piece)), file))
            }
            Err(error) => Some((Err(error), file)),
        }
    });
    let headers = [
        (CONTENT_TYPE, media.to_owned()),
        (CONTENT_LENGTH, bytes.to_string()),
        (
            CONTENT_DISPOSITION,
            format!("attachment; filename=\"{name}\""),
        ),
    ];
    Ok((headers, Body::from_stream(pieces)).into_response())
}

/// The first file of a form, into a new file.
pub async fn keep_upload(form: &mut Multipart, to: &Path) -> Result<(), String> {
    let cut = |error: &dyn std::fmt::Display| {
        format!("the file did not arrive whole ({error}): try again")
    };
    while let Some(mut field) = form.next_field().await.map_err(|error| cut(&error))? {
        if field.file_name().is_none_or(str::is_empty) {
            continue;
        }
        let mut file = File::create(to).await.map_err(|error| cut(&error))?;
        while let Some(piece) = field.chunk().await.map_err(|error| cut(&error))? {
            file.write_all(&piece).await.map_err(|error| cut(&error))?;
        }
        return file.sync_all().await.map_err(|error| cut(&error));
    }
    Err("no file was chosen: choose the one that the player sent".into())
}

/// The first file of a form into a new file, and its other fields by name; gives back the file's own name, if one was chosen.
pub async fn receive(
    mut form: Multipart,
    to: &Path,
    mut field_is: impl FnMut(&str, String),
) -> Result<Option<String>, String> {
    let cut = |error: &dyn std::fmt::Display| {
        format!("the file did not arrive whole ({error}): try again")
    };
    let mut received = None;
    while let Some(mut field) = form.next_field().await.map_err(|error| cut(&error))? {
        let name = field.name().unwrap_or_default().to_owned();
        let Some(file_name) = field.file_name().map(str::to_owned) else {
            let text = field.text().await.map_err(|error| cut(&error))?;
            field_is(&name, text.trim().to_owned());
            continue;
        };
        if file_name.is_empty() || received.is_some() {
            continue;
        }
        let mut file = File::create(to).await.map_err(|error| cut(&error))?;
        while let Some(piece) = field.chunk().await.map_err(|error| cut(&error))? {
            file.write_all(&piece).await.map_err(|error| cut(&error))?;
        }
        file.sync_all().await.map_err(|error| cut(&error))?;
        received = Some(file_name);
    }
    Ok(received)
}
