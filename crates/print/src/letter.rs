//! The progress letter as a PDF: one page of A4, tagged for screen readers (PDF/UA-1).

use crate::PrintError;
use crate::desk::{fitted, tagged};
use lessonwright_report::LetterSheet;

/// Sizes of the text to try, points, until it fits on one page. Below 8.5 points few can read it on paper (by eye).
const SIZES: [&str; 5] = ["11.5pt", "10.7pt", "9.9pt", "9.2pt", "8.5pt"];

/// The letter as a PDF. One too long for a page at the smallest size has more of them.
///
/// # Errors
/// If the layout does not fit the letter, or the document breaks a rule of PDF/UA-1.
pub fn letter_pdf(sheet: &LetterSheet) -> Result<Vec<u8>, PrintError> {
    let data = ("letter", serde_json::to_string(sheet)?);
    let document = fitted("letter", include_str!("letter.typ"), data, &SIZES, 1)?;
    tagged("letter", &document)
}
