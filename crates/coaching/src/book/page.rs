//! One page of the drill book: Markdown, its facts in TOML front matter.
//!
//! ```text
//! +++
//! title = "…"
//! changes = "…"                          # in a sentence
//! station = ["two sticks"]               # what to have at hand
//! flights = ["slice"]                    # it is known to help with these, and comes first for them
//! not_for = ["hook"]                     # it would feed these, and is left out for them
//! not_with = ["balance"]                 # left out with these limits of the body (keys of the cause table)
//! answers = ["pelvis_stays_back"]        # body facts it is for, beside those that name it in the cause table
//! cue = { outward = "…", inward = "…" }  # outside the body first; inside for those who do better with it
//! dose = { rounds = 2, swings = 8, days_a_week = 4, rest_s = 60, how = "half-speed swings" }
//! checkpoint = { moment = "top", says = "… 8 of 10 …" }   # what to see, with a number
//! [[moves]]                              # measures it moves, the first of them before all; none if no camera shows it
//! measure = "pelvis_shift"
//! moment = "lead_arm_level_down"
//! against = "top"
//! by = 2.0
//! +++
//! ## Set-up
//! - …
//! ```
//!
//! The sections are Set-up, Steps, Feel, Watch for, Progressions, Cautions and Who should not, in this order.
//! Progressions are five: Slow, Half, Full, Ball, Course. Texts may hold `{lead}` and `{trail}`, which become left or
//! right. The key is the file's name. Moves are in the measure's unit and sign, over one to two
//! weeks: a teacher's expectation, not a published figure.

use super::sections::{SECTIONS, rungs, sections};
use super::words::{DrillWords, Original};
use crate::care::{Care, Dose};
use crate::causes::{BodyFact, Outside};
use crate::data_error::{self, DataError};
use crate::flight::Flight;
use crate::wording::{Filling, Placeholders, check_template};
use lessonwright_language::{Language, Say, t};
use lessonwright_model::{Drill, Hand, MeasureName, MomentName};
use serde::Deserialize;
use std::collections::BTreeMap;

/// One drill, not yet worded for a hand.
#[derive(Clone, Debug, PartialEq)]
pub struct DrillPage {
    key: String,
    text: String,
    facts: Facts,
    /// In the order of [`SECTIONS`].
    sections: [Vec<String>; SECTIONS.len()],
    /// The language it is said in.
    language: Language,
    /// The same in other languages.
    words: BTreeMap<Language, DrillWords>,
}

/// The front matter.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Facts {
    title: String,
    changes: String,
    station: Vec<String>,
    flights: Vec<Flight>,
    #[serde(default)]
    not_for: Vec<Flight>,
    #[serde(default)]
    not_with: Vec<String>,
    #[serde(default)]
    answers: Vec<String>,
    cue: Cue,
    dose: Dose,
    checkpoint: Checkpoint,
    #[serde(default)]
    moves: Vec<Move>,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Cue {
    outward: String,
    inward: String,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Checkpoint {
    moment: MomentName,
    says: String,
}

/// A measure that a drill moves.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Move {
    measure: MeasureName,
    moment: MomentName,
    against: Option<MomentName>,
    by: f64,
}

impl DrillPage {
    /// Reads one page; `key` is its file's name without `.md`.
    ///
    /// # Errors
    /// When the key is no plain name, the front matter or a section is missing or empty, a text has an unknown
    /// placeholder, a rung is missing, the checkpoint has no number, or a move is zero or not finite.
    pub fn parse(key: &str, text: &str) -> Result<DrillPage, DataError> {
        let file = format!("{key}.md");
        let fault = |place: &str, problem: String| DataError::content(&file, place, problem);
        check_key(key).map_err(|problem| fault("file name", problem))?;
        let text = text.replace("\r\n", "\n");
        let (front, body) = parts(&file, &text)?;
        let facts: Facts = data_error::read_below(&file, 1, front)?;
        let sections = sections(body, SECTIONS)
            .map_err(|(place, problem)| DataError::content(&file, place, problem))?;
        let page = DrillPage {
            key: key.into(),
            facts,
            sections,
            text,
            language: Language::default(),
            words: BTreeMap::new(),
        };
        page.check()
            .map_err(|(place, problem)| fault(place, problem))?;
        Ok(page)
    }

    /// The page with its words in another language; `file` names them in errors.
    ///
    /// # Errors
    /// As [`DrillPage::parse`], and when the words do not fit the page: another count of items, other numbers.
    pub(super) fn with_words(
        mut self,
        language: Language,
        file: &str,
        text: &str,
    ) -> Result<DrillPage, DataError> {
        let words = DrillWords::parse(language, file, text)?;
        let original = Original {
            station: &self.facts.station,
            checkpoint: &self.facts.checkpoint.says,
            how: &self.facts.dose.how,
            sections: &self.sections,
        };
        words
            .fits(&original, language)
            .map_err(|(place, problem)| DataError::content(file, place, problem))?;
        self.words.insert(language, words);
        Ok(self)
    }

    /// Said in a language from here on.
    pub(super) fn say_in(&mut self, language: Language) {
        self.language = language;
    }

    /// Its words in a language; none in English, which is the page itself, and where nobody has written them.
    pub fn words_in(&self, language: Language) -> Option<&DrillWords> {
        self.words.get(&language)
    }

    /// The key.
    pub fn key(&self) -> &str {
        &self.key
    }

    /// The page as it was written.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Of what kind its swings are.
    pub(crate) fn how(&self) -> &str {
        self.read().how
    }

    /// The dose of a healthy adult.
    pub fn dose(&self) -> &Dose {
        &self.facts.dose
    }

    /// Whether it is known to help with a flight.
    pub fn helps_with(&self, flight: Flight) -> bool {
        self.facts.flights.contains(&flight)
    }

    /// Whether it would make a flight worse.
    pub fn harms(&self, flight: Flight) -> bool {
        self.facts.not_for.contains(&flight)
    }

    /// Whether one of these limits of the body forbids it.
    pub fn is_not_with(&self, limits: &[String]) -> bool {
        self.not_with().iter().any(|limit| limits.contains(limit))
    }

    /// The limits of the body with which it is left out.
    pub fn not_with(&self) -> &[String] {
        &self.facts.not_with
    }

    /// The body facts that the page itself says it is for.
    pub fn is_for(&self) -> &[String] {
        &self.facts.answers
    }

    /// Whether it moves the measure of a body fact toward its range; for a fact that no measure shows, any drill may
    /// answer.
    pub fn answers(&self, body: &BodyFact) -> bool {
        body.shown.is_none() || self.move_for(body).is_some()
    }

    /// The page said in a language; without words in it, it is English and says so.
    pub fn in_language(&self, language: Language) -> DrillPage {
        let mut page = self.clone();
        page.say_in(language);
        page
    }

    /// The drill, worded for a hand and with the dose for this care.
    pub fn worded(&self, hand: Hand, care: &Care) -> Drill {
        self.worded_with(self.facts.moves.first(), hand, care)
    }

    /// The same for a body fact: with the measure that shows it, if the drill moves that.
    pub fn worded_for(&self, body: &BodyFact, hand: Hand, care: &Care) -> Drill {
        self.worded_with(self.move_for(body), hand, care)
    }

    fn move_for(&self, body: &BodyFact) -> Option<&Move> {
        let shown = body.shown.as_ref()?;
        let toward = |by: f64| match shown.outside {
            Outside::Below => by > 0.0,
            Outside::Above => by < 0.0,
        };
        let mut moves = self.facts.moves.iter();
        moves.find(|m| body.is_shown_by(m.measure, m.moment, m.against) && toward(m.by))
    }

    fn worded_with(&self, moved: Option<&Move>, hand: Hand, care: &Care) -> Drill {
        let say = Say::new(self.language);
        let words = Filling::of(hand);
        let fill = |text: &String| words.fill(text);
        let fill_all = |texts: &[String]| texts.iter().map(fill).collect();
        let read = self.read();
        let [
            set_up,
            steps,
            feel,
            watch_for,
            progressions,
            cautions,
            who_should_not,
        ] = read.sections;
        let facts = &self.facts;
        let changes = fill(read.changes);
        Drill {
            key: self.key.clone(),
            title: fill(read.title),
            changes: match read.is_foreign {
                true => say.text(&t("coaching-drill-not-worded").with("changes", changes)),
                false => changes,
            },
            station: fill_all(read.station),
            set_up: fill_all(set_up),
            steps: fill_all(steps),
            feel: fill(&feel.join(" ")),
            cue_outward: fill(read.outward),
            cue_inward: fill(read.inward),
            watch_for: fill_all(watch_for),
            progressions: fill_all(progressions),
            checkpoint: fill(read.checkpoint),
            cautions: fill_all(cautions),
            who_should_not: fill_all(who_should_not),
            dose: facts.dose.say_with(read.how, care, say),
            measure: moved.map(|m| m.measure),
            moment: moved.map_or(facts.checkpoint.moment, |m| m.moment),
            against: moved.and_then(|m| m.against),
            expected_change: moved.map(|m| m.by),
        }
    }

    /// What is read, in the page's language, else in English.
    fn read(&self) -> Read<'_> {
        let facts = &self.facts;
        match self.words.get(&self.language) {
            Some(words) => Read {
                title: &words.facts.title,
                changes: &words.facts.changes,
                station: &words.facts.station,
                outward: &words.facts.outward,
                inward: &words.facts.inward,
                how: &words.facts.how,
                checkpoint: &words.facts.checkpoint,
                sections: &words.sections,
                is_foreign: false,
            },
            None => Read {
                title: &facts.title,
                changes: &facts.changes,
                station: &facts.station,
                outward: &facts.cue.outward,
                inward: &facts.cue.inward,
                how: &facts.dose.how,
                checkpoint: &facts.checkpoint.says,
                sections: &self.sections,
                is_foreign: self.language != Language::English,
            },
        }
    }

    fn check(&self) -> Result<(), (&'static str, String)> {
        let facts = &self.facts;
        let texts = [
            &facts.title,
            &facts.changes,
            &facts.cue.outward,
            &facts.cue.inward,
            &facts.dose.how,
            &facts.checkpoint.says,
        ];
        let lists = self.sections.iter().flatten().chain(&facts.station);
        for text in texts.into_iter().chain(lists) {
            check_template(text, Placeholders::Sides).map_err(|problem| ("text", problem))?;
        }
        self.check_moves().map_err(|problem| ("moves", problem))?;
        rungs(&self.sections[4], Language::English).map_err(|problem| ("Progressions", problem))?;
        if facts.dose.swings_a_week() == 0 {
            return Err(("dose", "give rounds, swings and days of at least 1".into()));
        }
        if !facts.checkpoint.says.contains(|c: char| c.is_ascii_digit()) {
            let problem = r#"say it with a number ("8 of 10", "a hand's width, 8 cm")"#;
            return Err(("checkpoint", problem.into()));
        }
        match facts.flights.iter().find(|flight| self.harms(**flight)) {
            Some(both) => Err((
                "flights",
                format!(
                    "{} is both in flights and in not_for: keep one",
                    both.plain()
                ),
            )),
            None => Ok(()),
        }
    }

    fn check_moves(&self) -> Result<(), String> {
        for moved in &self.facts.moves {
            if !moved.by.is_finite() || moved.by == 0.0 {
                return Err(format!(
                    "by = {} for {}: give a number other than zero, in the measure's unit",
                    moved.by,
                    moved.measure.plain()
                ));
            }
        }
        Ok(())
    }
}

/// What a player reads of a page.
struct Read<'a> {
    title: &'a String,
    changes: &'a String,
    station: &'a [String],
    outward: &'a String,
    inward: &'a String,
    how: &'a str,
    checkpoint: &'a String,
    sections: &'a [Vec<String>; SECTIONS.len()],
    /// It is in English, and should not be.
    is_foreign: bool,
}

/// Front matter and body of a page; `file` names it in errors.
pub(super) fn parts<'t>(file: &str, text: &'t str) -> Result<(&'t str, &'t str), DataError> {
    text.strip_prefix("+++\n")
        .and_then(|rest| rest.split_once("\n+++\n"))
        .ok_or_else(|| {
            let problem = "start the page with TOML between two lines of +++";
            DataError::content(file, "front matter", problem.to_owned())
        })
}

/// Keys are file names everywhere: small letters, digits and underscores.
fn check_key(key: &str) -> Result<(), String> {
    let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
    if !key.is_empty() && key.chars().all(plain) {
        Ok(())
    } else {
        Err("name the file with small letters a to z, digits and underscores only".into())
    }
}
