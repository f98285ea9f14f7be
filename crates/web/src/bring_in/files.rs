//! Style and scripts of these pages, built into the program.

use crate::error::PageError;
use axum::extract::Path;
use axum::http::header::{CONTENT_TYPE, HeaderValue};
use axum::response::{IntoResponse, Response};

macro_rules! scripts {
    ($($name:literal),* $(,)?) => {
        [$(($name, include_str!(concat!("../../scripts/bring_in/", $name)))),*]
    };
}

const SCRIPTS: [(&str, &str); 7] = scripts![
    "pieces.js",
    "sha1.js",
    "drop.js",
    "tray.js",
    "camera.js",
    "strike.js",
    "onset.js"
];

pub async fn file(Path(name): Path<String>) -> Result<Response, PageError> {
    let script = SCRIPTS.iter().find(|(known, _)| *known == name);
    let (kind, text) = match script {
        Some((_, text)) => ("text/javascript; charset=utf-8", *text),
        None if name == "bring_in.css" => (
            "text/css; charset=utf-8",
            include_str!("../../templates/bring_in.css"),
        ),
        None => return Err(PageError::Missing(format!("page {name}"))),
    };
    Ok(([(CONTENT_TYPE, HeaderValue::from_static(kind))], text).into_response())
}
