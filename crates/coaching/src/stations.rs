//! How a drill's station lies on the ground: data for a drawing, worded for a hand. `data/stations.toml` explains the
//! format; drills in which nothing lies on the ground have none.

use crate::book::DrillBook;
use crate::data_error::{self, DataError};
use crate::wording::{Filling, Placeholders, check_template};
use lessonwright_language::Language;
use lessonwright_model::{Hand, Layout};
use std::collections::BTreeMap;

const STANDARD: &str = include_str!("../data/stations.toml");
const GERMAN: &str = include_str!("../data/de/stations.toml");

/// Furthest that a thing lies from the ball, cm: what can be drawn with the feet to scale.
const FURTHEST_CM: f64 = 250.0;

/// The layouts in use, by the keys of drills.
#[derive(Clone, Debug, PartialEq)]
pub struct Stations(BTreeMap<String, Layout>);

impl Stations {
    /// The project's layouts.
    ///
    /// # Panics
    /// Never with the embedded file, which a test reads.
    pub fn standard() -> Stations {
        Stations::parse("stations.toml", STANDARD)
            .unwrap_or_else(|error| panic!("the embedded stations are sound: {error}"))
    }

    /// Reads a stations file; `file` names it in errors.
    ///
    /// # Errors
    /// When the text is no such file, nothing lies there, a place is not finite or too far away, a thing with two ends
    /// has one, one with a size has none, or words have unknown placeholders.
    pub fn parse(file: &str, text: &str) -> Result<Stations, DataError> {
        let layouts: BTreeMap<String, Layout> = data_error::read(file, text)?;
        for (drill, layout) in &layouts {
            check(layout).map_err(|problem| DataError::content(file, drill, problem))?;
        }
        Ok(Stations(layouts))
    }

    /// Looks whether stations and drills fit; `file` names the stations in errors.
    ///
    /// # Errors
    /// When there is a station for a drill that the book does not have.
    pub fn check_with(&self, file: &str, book: &DrillBook) -> Result<(), DataError> {
        match self.0.keys().find(|key| book.page(key).is_none()) {
            Some(key) => {
                let problem = format!("there is no drill \"{key}\": correct the key");
                Err(DataError::content(file, key, problem))
            }
            None => Ok(()),
        }
    }

    /// The layouts said in a language. Our words stand in for our own English ones only.
    ///
    /// # Panics
    /// Never with the embedded words, which a test reads.
    pub fn in_language(mut self, language: Language) -> Stations {
        if language == Language::German {
            let words: BTreeMap<String, Vec<String>> =
                toml::from_str(GERMAN).expect("the embedded words are sound");
            let ours = Stations::standard();
            for (drill, layout) in &mut self.0 {
                if let Some(words) = words.get(drill)
                    && ours.0.get(drill) == Some(layout)
                {
                    for (thing, says) in layout.things.iter_mut().zip(words) {
                        thing.says.clone_from(says);
                    }
                }
            }
        }
        self
    }

    /// A drill's layout in the words of a hand; none if nothing lies on the ground.
    pub fn of(&self, drill: &str, hand: Hand) -> Option<Layout> {
        let mut layout = self.0.get(drill)?.clone();
        let words = Filling::of(hand);
        for thing in &mut layout.things {
            thing.says = words.fill(&thing.says);
        }
        Some(layout)
    }
}

fn check(layout: &Layout) -> Result<(), String> {
    if layout.things.is_empty() {
        return Err("nothing lies there: leave the drill out".into());
    }
    for thing in &layout.things {
        let places = [Some(thing.at), thing.to, thing.size];
        let near = |n: &f64| n.is_finite() && n.abs() <= FURTHEST_CM;
        if !places.iter().flatten().flatten().all(near) {
            return Err(format!(
                "a place is further than {FURTHEST_CM} cm from the ball, or no number"
            ));
        }
        if thing.kind.has_two_ends() != thing.to.is_some() {
            return Err(format!(
                "{}: give `to` for a stick, line or wall, and for nothing else",
                thing.says
            ));
        }
        if thing.kind.has_size() != thing.size.is_some_and(|size| size.iter().all(|n| *n > 0.0)) {
            return Err(format!(
                "{}: give a `size` for a towel or box, and for nothing else",
                thing.says
            ));
        }
        check_template(&thing.says, Placeholders::Sides)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stations_are_of_drills_there_are_and_worded_for_a_hand() {
        let stations = Stations::standard();
        stations
            .check_with("stations.toml", &DrillBook::standard())
            .unwrap();
        assert!(stations.0.len() >= 20, "{}", stations.0.len());
        let says = |hand| {
            stations.of("bump_the_stick", hand).unwrap().things[0]
                .says
                .clone()
        };
        assert!(says(Hand::Right).contains("left hip") && says(Hand::Left).contains("right hip"));
        assert_eq!(stations.of("hum_to_the_top", Hand::Right), None);
    }

    #[test]
    fn a_bad_file_says_what_and_where() {
        for (from, to, says) in [
            ("[bump_the_stick]\n", "[bump_the_stock]\n", "bump_the_stock"),
            ("at = [37, -72]", "at = [370, -72]", "further"),
            ("at = [37, -72]", "at = [nan, -72]", "no number"),
            ("kind = \"pole\"", "kind = \"wall\"", "`to`"),
            ("size = [22, 14]\n", "", "`size`"),
            ("{lead} hip", "{led} hip", "{led}"),
            ("kind = \"coin\"", "kind = \"dime\"", "dime"),
        ] {
            assert!(STANDARD.contains(from), "{from}");
            let text = STANDARD.replacen(from, to, 1).replace(
                "[[bump_the_stick.",
                if from.starts_with('[') {
                    "[[bump_the_stock."
                } else {
                    "[[bump_the_stick."
                },
            );
            let read = Stations::parse("own.toml", &text)
                .and_then(|s| s.check_with("own.toml", &DrillBook::standard()));
            let error = read.unwrap_err().to_string();
            assert!(
                error.contains("own.toml") && error.contains(says),
                "{says}: {error}"
            );
        }
    }
}
