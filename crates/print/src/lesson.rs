//! The lesson as a PDF: two pages of A4, tagged for screen readers (PDF/UA-1), fonts inside.

use crate::PrintError;
use crate::desk::{fitted, tagged};
use lessonwright_report::LessonSheet;

/// Sizes of the text to try, points, until it fits on two pages. Below 8.5 points few can read it on paper (by eye);
/// the last, hardly smaller, goes without the drill's pictures.
const SIZES: [&str; 6] = ["11.2pt", "10.5pt", "9.8pt", "9.1pt", "8.5pt", "8.4pt"];

const PAGES: usize = 2;

/// The lesson as a PDF. A lesson too long for two pages at the smallest size has more of them: nothing is left out.
///
/// # Errors
/// If the layout does not fit the lesson, or the document breaks a rule of PDF/UA-1.
pub fn lesson_pdf(sheet: &LessonSheet) -> Result<Vec<u8>, PrintError> {
    let data = ("lesson", serde_json::to_string(sheet)?);
    let document = fitted("lesson", include_str!("lesson.typ"), data, &SIZES, PAGES)?;
    tagged("lesson", &document)
}
