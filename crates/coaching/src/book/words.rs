//! A drill's page in another language: only what is read. What the drill is for, its numbers and its keys stay in the one
//! English page.
//!
//! ```text
//! +++
//! title = "…"
//! changes = "…"
//! station = ["…"]        # as many as the English page has
//! outward = "…"          # the cues
//! inward = "…"
//! how = "…"              # of what kind the dose is
//! checkpoint = "…"
//! +++
//! ## Aufbau
//! - …
//! ```
//!
//! Headings and rungs are the language's own; there are as many items in each section as in the English page, each with the
//! same numbers. Inches in brackets, which English has beside centimetres, are left out.

use super::page::parts;
use super::sections::{SECTIONS, headings, rungs, sections};
use crate::data_error::{self, DataError};
use crate::wording::{Placeholders, check_template};
use lessonwright_language::Language;
use serde::Deserialize;

/// What is read of a drill.
#[derive(Clone, Debug, PartialEq)]
pub struct DrillWords {
    text: String,
    pub(super) facts: Facts,
    /// In the order of [`SECTIONS`].
    pub(super) sections: [Vec<String>; SECTIONS.len()],
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Facts {
    pub(super) title: String,
    pub(super) changes: String,
    pub(super) station: Vec<String>,
    pub(super) outward: String,
    pub(super) inward: String,
    pub(super) how: String,
    pub(super) checkpoint: String,
}

/// What a page in another language must agree with: the same in the English page.
pub(super) struct Original<'a> {
    pub(super) station: &'a [String],
    pub(super) checkpoint: &'a str,
    pub(super) how: &'a str,
    pub(super) sections: &'a [Vec<String>; SECTIONS.len()],
}

impl DrillWords {
    /// Reads a page in a language; `file` names it in errors.
    ///
    /// # Errors
    /// When front matter or a section is missing or empty, a text has an unknown placeholder, or a rung is missing.
    pub(super) fn parse(
        language: Language,
        file: &str,
        text: &str,
    ) -> Result<DrillWords, DataError> {
        let text = text.replace("\r\n", "\n");
        let (front, body) = parts(file, &text)?;
        let facts = data_error::read_below(file, 1, front)?;
        let sections = sections(body, headings(language))
            .map_err(|(place, problem)| DataError::content(file, place, problem))?;
        let words = DrillWords {
            facts,
            sections,
            text,
        };
        words
            .check(language)
            .map_err(|(place, problem)| DataError::content(file, place, problem))?;
        Ok(words)
    }

    /// The page as it was written.
    pub fn text(&self) -> &str {
        &self.text
    }

    fn check(&self, language: Language) -> Result<(), (&'static str, String)> {
        let f = &self.facts;
        let texts = [
            &f.title,
            &f.changes,
            &f.outward,
            &f.inward,
            &f.how,
            &f.checkpoint,
        ];
        let lists = self.sections.iter().flatten().chain(&f.station);
        for text in texts.into_iter().chain(lists) {
            check_template(text, Placeholders::Sides).map_err(|problem| ("text", problem))?;
        }
        rungs(&self.sections[4], language).map_err(|problem| (headings(language)[4], problem))
    }

    /// Looks whether it says as much as the English page, with the same numbers. What is wrong comes with where it is.
    pub(super) fn fits(
        &self,
        original: &Original<'_>,
        language: Language,
    ) -> Result<(), (&'static str, String)> {
        same_count("station", original.station.len(), self.facts.station.len())?;
        same_numbers("checkpoint", original.checkpoint, &self.facts.checkpoint)?;
        same_numbers("how", original.how, &self.facts.how)?;
        let headings = headings(language);
        for (place, (ours, theirs)) in headings
            .into_iter()
            .zip(original.sections.iter().zip(&self.sections))
        {
            same_count(place, ours.len(), theirs.len())?;
            for (one, other) in ours.iter().zip(theirs) {
                same_numbers(place, one, other)?;
            }
        }
        Ok(())
    }
}

fn same_count(
    place: &'static str,
    wanted: usize,
    found: usize,
) -> Result<(), (&'static str, String)> {
    match wanted == found {
        true => Ok(()),
        false => Err((
            place,
            format!("{found} items where the English page has {wanted}: give as many"),
        )),
    }
}

fn same_numbers(
    place: &'static str,
    wanted: &str,
    found: &str,
) -> Result<(), (&'static str, String)> {
    let ([wanted_numbers, numbers], said) = ([numbers(wanted), numbers(found)], found);
    match wanted_numbers == numbers {
        true => Ok(()),
        false => Err((
            place,
            format!(
                "the numbers differ from those of the English page, \"{wanted}\": correct \"{said}\""
            ),
        )),
    }
}

/// The numbers of a text in order of size, with a point for the decimal mark and without inches in brackets: "(8 cm, 3 in)"
/// is 8.
fn numbers(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let inches = |at: usize| {
        words
            .get(at)
            .is_some_and(|word| *word == "in," || word.starts_with("in)"))
    };
    let mut found = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let digits = word.trim_start_matches(['(', '„', '"']);
        let end = digits
            .find(|c: char| !c.is_ascii_digit() && c != '.' && c != ',')
            .unwrap_or(digits.len());
        let digits = digits[..end].trim_end_matches(['.', ',']);
        let range = words.get(at + 1) == Some(&"to") && inches(at + 3);
        if !digits.is_empty() && !inches(at + 1) && !range {
            found.push(digits.replace(',', "."));
        }
    }
    found.sort();
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_compared_without_inches_and_decimal_marks() {
        for (english, german) in [
            (
                "a hand's width (8 cm, 3 in) in 9 of 10",
                "9 von 10, eine Handbreit (8 cm)",
            ),
            (
                "by up to a hand (8 cm, 3 in).",
                "bis zu einer Hand (8 cm) davor.",
            ),
            (
                "One hand (8 to 10 cm, 3 to 4 in) fits",
                "Eine Hand (8 bis 10 cm) passt",
            ),
            ("at least 2.6 times", "mindestens 2,6-mal"),
            ("(10 cm, 4 in, from a stick)", "(10 cm, von einem Stab)"),
            (
                "(Rules of Golf, 10.2b, from memory)",
                "(Golfregeln, 10.2b, aus dem Gedächtnis)",
            ),
        ] {
            assert_eq!(numbers(english), numbers(german), "{english}");
            assert!(!numbers(english).is_empty(), "{english}");
        }
        assert_ne!(numbers("8 of 10"), numbers("9 von 10"));
    }
}
