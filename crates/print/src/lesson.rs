//! The lesson as a PDF: two pages of A4, tagged for screen readers (PDF/UA-1), fonts inside.

use crate::PrintError;
use crate::desk::{said, set};
use lessonwright_report::LessonSheet;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, pdf};

/// Sizes of the text to try, points, until it fits on two pages. Below 8.5 points few can read it on paper (by eye).
const SIZES: [&str; 5] = ["11.2pt", "10.5pt", "9.8pt", "9.1pt", "8.5pt"];

const PAGES: usize = 2;

/// The lesson as a PDF. A lesson too long for two pages at the smallest size has more of them: nothing is left out.
///
/// # Errors
/// If the layout does not fit the lesson, or the document breaks a rule of PDF/UA-1.
pub fn lesson_pdf(sheet: &LessonSheet) -> Result<Vec<u8>, PrintError> {
    let lesson = serde_json::to_string(sheet)?;
    let layout = include_str!("lesson.typ");
    let with_size = |size: &str| {
        let inputs = [("lesson", lesson.clone()), ("size", size.to_owned())];
        set("lesson", layout, &inputs)
    };
    let mut document = with_size(SIZES[0])?;
    for size in &SIZES[1..] {
        if document.pages().len() <= PAGES {
            break;
        }
        document = with_size(size)?;
    }
    let why = |why: String| PrintError::Layout {
        what: "lesson",
        why,
    };
    let options = PdfOptions {
        standards: PdfStandards::new(&[PdfStandard::Ua_1])
            .map_err(|error| why(error.message().to_string()))?,
        ..PdfOptions::default()
    };
    pdf(&document, &options).map_err(|errors| why(said(&errors)))
}
