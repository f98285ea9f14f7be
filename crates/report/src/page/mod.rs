//! The lesson page: puts what the template shows into the order in which it is read.

mod outcome;
mod places;
mod rows;
mod shots;
mod words;

pub(crate) use outcome::{Goal, NumberToReach, OneThing, Outcome};
pub(crate) use places::{hand_in, view_of};
pub(crate) use rows::{Check, Row, captions_at, checks, tempo};
pub(crate) use shots::{Key, Shot, Strip, strips};

use crate::ReportError;
use crate::content::LessonContent;
use crate::figure::FigurePart;
use crate::film_plan::FilmPlan;
use crate::pictures::check_pictures;
use crate::practice::plan_part;
use crate::said::filters;
use crate::verdict::Verdict;
use askama::Template;
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use lessonwright_model::{Hand, MeasureName, View};

/// Largest page without its moving picture, bytes: mail servers commonly refuse more than 10 MB, and a
/// player abroad pays for each of them.
const LARGEST_PAGE: usize = 3_000_000;

/// Largest moving picture in the page, bytes.
const LARGEST_MOVING: usize = 6_000_000;

/// JPEG qualities to try, best first, until the page is small enough.
const QUALITIES: [u8; 3] = [86, 76, 62];

/// The lesson as one HTML file that needs nothing else.
///
/// With a priority the page is about that one thing; without one it says that there is nothing to
/// change, or, if none of the three checks has a number, that too little could be measured.
///
/// # Errors
/// If pictures of one view differ in size, are broken or come twice, or if the page is too large.
pub fn lesson_page(content: &LessonContent) -> Result<String, ReportError> {
    check_pictures(&content.pictures)?;
    let moving = content.moving.as_ref().map_or(0, |moving| moving.mp4.len());
    if moving > LARGEST_MOVING {
        return Err(ReportError::TooLarge {
            bytes: moving,
            limit: LARGEST_MOVING,
        });
    }
    let figure = content.figure.as_ref().map_or(0, |figure| {
        figure.stills.len() + figure.moving.as_ref().map_or(0, |moving| moving.len())
    });
    // In Base64 four letters stand for three bytes.
    let limit = LARGEST_PAGE + (moving + figure).div_ceil(3) * 4;
    first_within(limit, |quality| {
        Ok(content.say.render(&LessonPage::new(content, quality)?)?)
    })
}

/// The page at the best quality at which it is no larger than `limit` bytes.
fn first_within(
    limit: usize,
    page_at: impl Fn(u8) -> Result<String, ReportError>,
) -> Result<String, ReportError> {
    let mut bytes = 0;
    for quality in QUALITIES {
        let page = page_at(quality)?;
        bytes = page.len();
        if bytes <= limit {
            return Ok(page);
        }
    }
    Err(ReportError::TooLarge { bytes, limit })
}

#[derive(Template)]
#[template(path = "lesson.html")]
pub(crate) struct LessonPage<'a> {
    pub(crate) content: &'a LessonContent,
    pub(crate) outcome: Outcome<'a>,
    pub(crate) checks: Vec<Check<'a>>,
    pub(crate) tempo: Vec<Row<'a>>,
    pub(crate) strips: Vec<Strip>,
    pub(crate) film_plan: FilmPlan,
    /// HTML.
    pub(crate) plan: Option<String>,
}

impl<'a> LessonPage<'a> {
    pub(crate) fn new(
        content: &'a LessonContent,
        quality: u8,
    ) -> Result<LessonPage<'a>, ReportError> {
        let strips = strips(content, quality)?;
        let checks = checks(content);
        let outcome = Outcome::of(content, &checks, &strips);
        Ok(LessonPage {
            content,
            outcome,
            checks,
            tempo: tempo(content),
            strips,
            film_plan: FilmPlan::of(hand_in(content, View::FaceOn), content.units),
            plan: content
                .plan
                .as_ref()
                .map(|plan| plan_part(plan, content.say))
                .transpose()?,
        })
    }

    /// The moving picture in Base64.
    pub(crate) fn figure(&self, title: &'a str) -> Option<FigurePart<'a>> {
        let figure = self.content.figure.as_ref()?;
        Some(FigurePart::new(title, self.hand(), figure))
    }

    pub(crate) fn moving_data(&self) -> String {
        let moving = self.content.moving.as_ref();
        moving.map_or_else(String::new, |moving| STANDARD.encode(&moving.mp4))
    }

    /// Whether any picture is shown moment by moment.
    pub(crate) fn lists_pictures(&self) -> bool {
        self.strips.iter().any(Strip::lists_any)
    }

    pub(crate) fn hand(&self) -> Hand {
        hand_in(self.content, View::FaceOn)
    }

    /// Measures that are as they should be.
    pub(crate) fn good(&self) -> Vec<&Row<'a>> {
        self.checks
            .iter()
            .flat_map(|check| &check.rows)
            .chain(&self.tempo)
            .filter(|row| row.verdict == Verdict::Inside)
            .collect()
    }

    /// Where the ranges come from, each said once.
    pub(crate) fn sources(&self) -> Vec<&'a str> {
        let mut sources = Vec::new();
        let rows = self
            .checks
            .iter()
            .flat_map(|check| &check.rows)
            .chain(&self.tempo);
        for band in rows.filter_map(|row| row.band.as_ref()) {
            if !sources.contains(&band.source) {
                sources.push(band.source);
            }
        }
        sources
    }

    /// Checks without any number.
    pub(crate) fn withheld(&self) -> Vec<MeasureName> {
        self.checks
            .iter()
            .filter(|check| !check.is_measured())
            .map(|check| check.name)
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_best_quality_that_fits_is_taken() {
        let page = |quality| Ok("x".repeat(usize::from(quality)));
        for (limit, bytes) in [(100, 86), (86, 86), (85, 76), (62, 62)] {
            assert_eq!(first_within(limit, page).unwrap().len(), bytes, "{limit}");
        }
        let error = first_within(61, page).unwrap_err();
        assert!(matches!(
            error,
            ReportError::TooLarge {
                bytes: 62,
                limit: 61
            }
        ));
    }
}
