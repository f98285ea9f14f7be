//! The trade's tables as pages use them, in the language that is spoken.

use crate::language::say;
use lessonwright_coaching::{
    CauseTable, DrillBook, Figures, PracticeRules, Retold, ScreeningRules, Stations, Words,
};
use lessonwright_language::Text;
use lessonwright_model::{Language, SwingAnalysis};
use std::sync::{Arc, OnceLock};

/// What prescriptions and plans are made by.
#[derive(Clone, Debug)]
pub struct Prescribing {
    /// What may be prescribed to whom.
    pub screening: ScreeningRules,
    /// How practice is built.
    pub practice: PracticeRules,
    /// The drills.
    pub book: DrillBook,
    /// How their stations lie on the ground.
    pub stations: Stations,
    /// Their pictures.
    pub figures: Figures,
    /// For the titles of priorities.
    pub causes: CauseTable,
    /// The same in other languages, said once.
    pub others: Others,
}

/// Tables in other languages, each made when it is first asked for.
#[derive(Clone, Debug, Default)]
pub struct Others([OnceLock<Box<Other>>; Language::ALL.len()]);

#[derive(Clone, Debug)]
struct Other {
    tables: Prescribing,
    retold: Retold,
}

impl Prescribing {
    /// The same said in a language.
    pub fn in_language(&self, language: Language) -> &Prescribing {
        self.other(language).map_or(self, |other| &other.tables)
    }

    /// In the language of the page.
    pub(crate) fn said(&self) -> &Prescribing {
        self.in_language(say().language)
    }

    /// A text that an analysis wrote in English.
    pub(crate) fn retold(&self, written: &str) -> Text {
        Text::in_each(|language| match self.other(language) {
            None => written.to_owned(),
            Some(other) => other.retold.text(written),
        })
    }

    /// An analysis, written in English, in a language.
    pub(crate) fn analysis(&self, analysis: SwingAnalysis, language: Language) -> SwingAnalysis {
        match self.other(language) {
            None => analysis,
            Some(other) => other.retold.analysis(&analysis),
        }
    }

    /// None for English, which the tables are in.
    fn other(&self, language: Language) -> Option<&Other> {
        if language == Language::English {
            return None;
        }
        let place = Language::ALL.iter().position(|one| *one == language)?;
        let other = self.others.0[place].get_or_init(|| {
            let own = self.clone();
            let tables = Prescribing {
                screening: own.screening.in_language(language),
                practice: own.practice.in_language(language),
                book: own.book.in_language(language),
                stations: own.stations.in_language(language),
                causes: own.causes.in_language(language),
                figures: own.figures,
                others: Others::default(),
            };
            let retold = Retold::of(&self.words(), &tables.words());
            Box::new(Other { tables, retold })
        });
        Some(other)
    }

    fn words(&self) -> Words<'_> {
        Words {
            causes: &self.causes,
            book: &self.book,
            screening: &self.screening,
        }
    }
}

/// The words of the cause table in a language.
pub type TradeIn = Arc<dyn Fn(Language) -> Arc<Trade> + Send + Sync>;

/// What the cause table has for the pages: facts to tick, and words for what is on record of a player.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trade {
    /// Body facts that a professional can tick, in the order of the swing.
    pub tickable: Vec<Tickable>,
    /// Limits of the body: key and words.
    pub limits: Vec<(String, String)>,
    /// Goals: key and words.
    pub goals: Vec<(String, String)>,
}

/// A body fact to tick.
#[derive(Clone, Debug, PartialEq)]
pub struct Tickable {
    /// The part of the swing it is listed under.
    pub part: Text,
    /// Its key in the cause table.
    pub key: String,
    /// What it says, the same for both hands.
    pub says: String,
}
