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

/// The same in Rust.
pub fn told(written: &str) -> Text {
    crate::trouble(written).unwrap_or_else(|| {
        crate::t("error-as-told")
            .with("why", written)
            .tag("en", "span lang=\"en\"")
    })
}
