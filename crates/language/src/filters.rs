//! What templates write: `{{ "today-empty"|t }}`, `{{ "today-more"|t|with("lessons", more) }}`,
//! `{{ "today-first"|t|link("take-in", "/players") }}`. `use lessonwright_language::filters;` beside the page's
//! struct.

#![allow(missing_docs, reason = "the macro's builders have none")]

use crate::{Argument, Text};
use askama::Values;
use std::fmt;

/// The message with this id.
#[askama::filter_fn]
pub fn t(id: &'static str, _: &dyn Values) -> askama::Result<Text> {
    Ok(crate::t(id))
}

/// Fills in `{ $name }`.
#[askama::filter_fn]
pub fn with<V: Into<Argument>>(
    text: Text,
    _: &dyn Values,
    name: &'static str,
    value: V,
) -> askama::Result<Text> {
    Ok(text.with(name, value))
}

/// Makes `<name>words</name>` a link.
#[askama::filter_fn]
pub fn link<A: fmt::Display>(
    text: Text,
    _: &dyn Values,
    name: &'static str,
    address: A,
) -> askama::Result<Text> {
    Ok(text.link(name, address))
}

/// Makes `<name>words</name>` an element.
#[askama::filter_fn]
pub fn tag(
    text: Text,
    _: &dyn Values,
    name: &'static str,
    element: &'static str,
) -> askama::Result<Text> {
    Ok(text.tag(name, element))
}

/// What an analysis wrote down in English, in the language of the page.
#[askama::filter_fn]
pub fn again<W: fmt::Display>(written: W, _: &dyn Values) -> askama::Result<Text> {
    Ok(crate::again(&written.to_string()))
}

/// What went wrong, said again; as its sources tell it, and marked as English, where it is not known.
#[askama::filter_fn]
pub fn trouble(written: impl fmt::Display, _: &dyn Values) -> askama::Result<Text> {
    Ok(told(&written.to_string()))
}

/// A full disk in the words of SQLite and of the operating systems.
const DISK_FULL: [&str; 3] = [
    "database or disk is full",
    "No space left on device",
    "not enough space on the disk",
];

/// The same in Rust.
pub fn told(written: &str) -> Text {
    if DISK_FULL.iter().any(|full| written.contains(full)) {
        return crate::t("page-disk-full-what");
    }
    crate::trouble(written).unwrap_or_else(|| {
        crate::t("error-as-told")
            .with("why", written)
            .tag("en", "span lang=\"en\"")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_full_disk_is_said_in_the_reader_s_words_whoever_noticed_it() {
        // As SQLite 3 (result code 13, SQLITE_FULL), Linux (ENOSPC, 28) and Windows (ERROR_DISK_FULL, 112) say it.
        for written in [
            "the database failed while trying to keep a correction: error returned from database: (code: 13) database or disk is full",
            "keeping landmarks in studio/landmarks: No space left on device (os error 28)",
            "keeping landmarks in studio/landmarks: There is not enough space on the disk. (os error 112)",
        ] {
            let said = crate::Say::default().text(&told(written));
            assert!(
                said.starts_with("There is no room left on the disk"),
                "{said}"
            );
        }
        let other = crate::Say::default().text(&told("the cable came out"));
        assert!(other.contains("the cable came out"), "{other}");
    }
}
