//! Words at the beginning of a heading or a line, and a template's words without its markup.

use askama::filters::HtmlSafe;
use askama::{FastWritable, Template, Values};
use lessonwright_language::{Say, Text};
use std::fmt;

/// What templates of this crate write: the catalogue's filters, and `|capital`.
pub(crate) mod filters {
    #![allow(missing_docs, reason = "the macro's builders have none")]

    pub use lessonwright_language::filters::*;

    /// A text with its first letter large.
    #[askama::filter_fn]
    pub fn capital(
        text: lessonwright_language::Text,
        _: &dyn askama::Values,
    ) -> askama::Result<super::Capital> {
        Ok(super::Capital(text))
    }
}

/// A text with its first letter large.
pub struct Capital(Text);

impl FastWritable for Capital {
    fn write_into(&self, dest: &mut dyn fmt::Write, values: &dyn Values) -> askama::Result<()> {
        let say: &Say = askama::get_value(values, "say")?;
        let words = say.html(&self.0).map_err(askama::Error::custom)?;
        Ok(dest.write_str(&capital(&words))?)
    }
}

/// The catalogue escapes what is filled in.
impl HtmlSafe for Capital {}

/// Fails always, as a text does that is displayed without a language.
impl fmt::Display for Capital {
    fn fmt(&self, _: &mut fmt::Formatter<'_>) -> fmt::Result {
        Err(fmt::Error)
    }
}

/// Words with their first letter large.
pub(crate) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// A part of a page alone, in a language.
///
/// # Panics
/// If the part has a text that the catalogue lacks, which its tests hold off.
pub(crate) fn rendered(part: &impl Template, say: Say) -> String {
    say.render(part)
        .unwrap_or_else(|error| panic!("a part of a page: {error}"))
}
