//! The product's words in every language, and how numbers, days and durations are said in it.
//!
//! A [`Text`] is a sentence before a language is known: the id of a message and what is filled in. A [`Say`]
//! makes words of it. Pages keep texts; the language is given once, when a page is laid out
//! ([`Say::render`]), so nothing between knows it. Messages lie in `text/LANGUAGE/NAME.ftl` (Fluent), and the id
//! of a message begins with the name of its file. Isolating marks are off: the same text gives the same bytes.

mod again;
mod arguments;
mod catalogue;
pub mod filters;
mod say;
mod text;
pub mod when;
pub mod words;

pub use again::{again, again_with, number_again, trouble};
pub use arguments::Argument;
pub use catalogue::FILES;
pub use lessonwright_model::Language;
pub use say::{Say, UnsaidError};
pub use text::{Text, t};
