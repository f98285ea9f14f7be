//! Words for a page's own scripts: a block of JSON in the page, id to words, which `scripts/words.js` reads. Where a
//! message has `{ $name }`, the block has `{name}`, and the script fills it in.

use crate::language::say;
use axum::http::header::CONTENT_TYPE;
use axum::response::IntoResponse;
use lessonwright_language::t;
use std::collections::BTreeMap;

/// What scripts fill in, and what stands for it in the block.
const FILLED_IN: [(&str, &str); 25] = [
    ("at", "{at}"),
    ("count", "{count}"),
    ("done", "{done}"),
    ("error", "{error}"),
    ("frame", "{frame}"),
    ("last", "{last}"),
    ("moment", "{moment}"),
    ("name", "{name}"),
    ("number", "{number}"),
    ("of", "{of}"),
    ("percent", "{percent}"),
    ("place", "{place}"),
    ("px", "{px}"),
    ("reading", "{reading}"),
    ("seconds", "{seconds}"),
    ("side", "{side}"),
    ("status", "{status}"),
    ("time", "{time}"),
    ("title", "{title}"),
    ("tool", "{tool}"),
    ("turned", "{turned}"),
    ("up", "{up}"),
    ("view", "{view}"),
    ("what", "{what}"),
    ("why", "{why}"),
];

/// The block's JSON, in the language of the request under way. Meant for `<script type="application/json">`.
pub fn script_words(ids: &[&[&'static str]]) -> String {
    let words: BTreeMap<&str, String> = ids
        .iter()
        .copied()
        .flatten()
        .map(|id| {
            let filled = FILLED_IN
                .iter()
                .fold(t(id), |text, (name, stands)| text.with(name, *stands));
            (*id, say().text(&filled))
        })
        .collect();
    // An end tag would end the block.
    serde_json::json!(words).to_string().replace('<', "\\u003c")
}

/// The module that reads the block.
pub async fn module() -> impl IntoResponse {
    (
        [(CONTENT_TYPE, "text/javascript; charset=utf-8")],
        include_str!("../scripts/words.js"),
    )
}
