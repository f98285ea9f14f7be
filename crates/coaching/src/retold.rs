//! What an analysis says, said in another language.
//!
//! Analyses are kept in English as they were made. Their words come from the trade's tables and from the catalogue, so they
//! are found there again: a text of a table by its English, a sentence of the catalogue by its words
//! ([`lessonwright_language::again_with`]). What neither knows (an older version wrote it, or the professional) stays as it
//! was written.

use crate::book::DrillBook;
use crate::care::Care;
use crate::causes::{CauseTable, Named};
use crate::screening::ScreeningRules;
use crate::targets::Targets;
use crate::wording::Filling;
use lessonwright_language::{Language, Say, Text, again_with, number_again};
use lessonwright_model::{Drill, Hand, Prescription, Priority, Ranking, SwingAnalysis};
use std::collections::HashMap;

/// The trade's tables, all said in one language.
#[derive(Clone, Copy, Debug)]
pub struct Words<'a> {
    /// Facts, links and what they say.
    pub causes: &'a CauseTable,
    /// The drills.
    pub book: &'a DrillBook,
    /// What is said of the answers before a prescription.
    pub screening: &'a ScreeningRules,
}

/// Says again what was written in English.
#[derive(Clone, Debug)]
pub struct Retold {
    say: Say,
    /// By their English.
    texts: HashMap<String, String>,
    /// Of both languages, with places for numbers.
    templates: Vec<[String; 2]>,
}

impl Retold {
    /// From the tables in English and in the language that is spoken.
    pub fn of(english: &Words<'_>, spoken: &Words<'_>) -> Retold {
        let language = spoken.causes.language();
        let mut retold = Retold {
            say: Say::new(language),
            texts: HashMap::new(),
            templates: Vec::new(),
        };
        for hand in [Hand::Right, Hand::Left] {
            retold.learn_causes(english.causes, spoken.causes, hand);
            retold.learn_drills(english.book, spoken.book, hand);
        }
        let targets = Targets::standard();
        for (one, other) in targets
            .iter()
            .zip(targets.clone().in_language(language).iter())
        {
            retold.learn(&one.cited(Language::English), &other.cited(language));
        }
        for (one, other) in english.screening.words().zip(spoken.screening.words()) {
            retold.learn(one, other);
        }
        retold
    }

    /// A text of an analysis.
    pub fn text(&self, written: &str) -> String {
        if self.say.language == Language::English {
            return written.to_owned();
        }
        self.say.text(&again_with(written, &|one| self.known(one)))
    }

    /// An analysis with all its texts.
    pub fn analysis(&self, analysis: &SwingAnalysis) -> SwingAnalysis {
        let mut said = analysis.clone();
        if self.say.language == Language::English {
            return said;
        }
        self.ranking(&mut said.ranking);
        for finding in &mut said.findings {
            self.put([&mut finding.says, &mut finding.reference_source]);
        }
        if let Some(priority) = &mut said.priority {
            self.priority(priority);
        }
        said.drills.iter_mut().for_each(|drill| self.drill(drill));
        if let Some(prescription) = &mut said.prescription {
            self.prescription(prescription);
        }
        self.put(&mut said.notice);
        said
    }

    fn put<'t>(&self, texts: impl IntoIterator<Item = &'t mut String>) {
        for text in texts {
            *text = self.text(text);
        }
    }

    fn priority(&self, priority: &mut Priority) {
        self.put([&mut priority.title, &mut priority.would_change_it]);
        self.put(&mut priority.chain);
    }

    fn ranking(&self, ranking: &mut Ranking) {
        for candidate in &mut ranking.candidates {
            self.put([&mut candidate.title]);
            self.put(&mut candidate.why);
            for step in &mut candidate.chain {
                self.put([&mut step.short, &mut step.says, &mut step.source]);
            }
        }
        for aside in &mut ranking.set_aside {
            self.put([&mut aside.title, &mut aside.why]);
        }
        self.put(&mut ranking.notes);
    }

    fn drill(&self, drill: &mut Drill) {
        for text in texts_of(drill) {
            *text = self.text(text);
        }
        self.put([&mut drill.dose]);
    }

    fn prescription(&self, prescription: &mut Prescription) {
        let Prescription {
            cue, dose, check, ..
        } = prescription;
        self.put([cue, dose, check]);
        self.put(&mut prescription.cautions);
    }

    fn known(&self, written: &str) -> Option<Text> {
        if let Some(text) = self.texts.get(written) {
            return Some(Text::plain(text));
        }
        let templates = self.templates.iter();
        templates
            .filter_map(|[english, spoken]| self.with_numbers(english, spoken, written))
            .next()
    }

    /// A template of both languages, with the numbers of what was written.
    fn with_numbers(&self, english: &str, spoken: &str, written: &str) -> Option<Text> {
        let mut said = spoken.to_owned();
        let mut rest = written;
        let mut pieces = english.split_inclusive('}').peekable();
        while let Some(piece) = pieces.next() {
            let Some((before, place)) = piece.split_once('{') else {
                rest = rest.strip_prefix(piece)?;
                continue;
            };
            rest = rest.strip_prefix(before)?;
            let end = match pieces.peek() {
                None => rest.len(),
                Some(behind) => match behind.split_once('{') {
                    Some((behind, _)) => rest.find(behind)?,
                    None => rest.strip_suffix(behind)?.len(),
                },
            };
            let number = number_again(&rest[..end]);
            said = said.replace(&format!("{{{place}"), &self.say.text(&number));
            rest = &rest[end..];
        }
        rest.is_empty().then(|| Text::plain(said))
    }

    fn learn(&mut self, english: &str, spoken: &str) {
        if english != spoken && !english.is_empty() {
            self.texts.insert(english.to_owned(), spoken.to_owned());
        }
    }

    fn learn_filled(&mut self, english: &str, spoken: &str, hand: Hand) {
        let words = Filling::of(hand);
        self.learn(&words.fill(english), &words.fill(spoken));
    }

    fn learn_causes(&mut self, english: &CauseTable, spoken: &CauseTable, hand: Hand) {
        let named = |table: &CauseTable| -> Vec<Named> { [table.limits(), table.goals()].concat() };
        for (one, other) in named(english).iter().zip(&named(spoken)) {
            self.learn_filled(&one.says, &other.says, hand);
        }
        for (one, other) in english.bodies().iter().zip(spoken.bodies()) {
            for (one, other) in [
                (&one.short, &other.short),
                (&one.title, &other.title),
                (&one.seen, &other.seen),
                (&one.would_change_it, &other.would_change_it),
            ] {
                self.learn_filled(one, other, hand);
            }
            for (one, other) in one.clubs.iter().zip(&other.clubs) {
                self.learn(&one.source, &other.source);
            }
            if let (Some(one), Some(other)) = (&one.shown, &other.shown) {
                for (one, other) in [(&one.says, &other.says), (&one.trade, &other.trade)] {
                    let words = Filling::of(hand);
                    self.templates.push([words.fill(one), words.fill(other)]);
                }
            }
        }
        for (one, other) in english.clubs().iter().zip(spoken.clubs()) {
            self.learn_filled(&one.short, &other.short, hand);
            self.learn_filled(&one.says, &other.says, hand);
            for (one, other) in one.flights.iter().zip(&other.flights) {
                self.learn_filled(&one.says, &other.says, hand);
            }
        }
    }

    fn learn_drills(&mut self, english: &DrillBook, spoken: &DrillBook, hand: Hand) {
        for (one, other) in english.pages().zip(spoken.pages()) {
            self.learn_filled(one.how(), other.how(), hand);
            let [mut one, mut other] = [one, other].map(|page| page.worded(hand, &Care::Full));
            // As much in both: a page's words are refused otherwise.
            for (one, other) in texts_of(&mut one).into_iter().zip(texts_of(&mut other)) {
                self.learn(one, other);
            }
        }
    }
}

/// All of a drill's texts but the dose, which is made of others.
fn texts_of(drill: &mut Drill) -> Vec<&mut String> {
    let Drill {
        title,
        changes,
        feel,
        cue_outward,
        cue_inward,
        checkpoint,
        ..
    } = drill;
    let lists = [
        &mut drill.set_up,
        &mut drill.steps,
        &mut drill.watch_for,
        &mut drill.cautions,
        &mut drill.station,
        &mut drill.progressions,
        &mut drill.who_should_not,
    ];
    [title, changes, feel, cue_outward, cue_inward, checkpoint]
        .into_iter()
        .chain(lists.into_iter().flatten())
        .collect()
}
