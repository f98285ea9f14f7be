//! Sets words in type: a lesson on paper as a PDF, and lines of words as pictures, for film.
//!
//! Type is set by Typst as a library, with fonts that are compiled in; nothing is read from the machine. The same
//! values give the same bytes. The layouts are `lesson.typ`, `letter.typ` and `caption.typ`; all words come in as data, and
//! what people wrote is never read as markup.

mod caption;
mod desk;
mod lesson;
mod letter;

pub use caption::{Caption, Lettering, lettering};
pub use lesson::lesson_pdf;
pub use letter::letter_pdf;

/// Why something could not be set in type.
#[derive(Debug, thiserror::Error)]
pub enum PrintError {
    /// The layout does not fit what came in: a fault of this program.
    #[error("could not set the {what} in type: {why}")]
    Layout {
        /// What was set.
        what: &'static str,
        /// What Typst says.
        why: String,
    },
    /// The content could not be given to the layout.
    #[error("could not hand the lesson to its layout")]
    Content(#[from] serde_json::Error),
}
