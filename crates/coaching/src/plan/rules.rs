//! The numbers that practice is built from, as they are written in TOML.

use crate::data_error::{self, DataError};
use lessonwright_language::{Language, Say};
use lessonwright_model::{Reason, Season};
use serde::Deserialize;
use std::collections::BTreeMap;

const STANDARD: &str = include_str!("../../data/practice.toml");
const GERMAN: &str = include_str!("../../data/de/practice.toml");

/// The format this version reads.
const FORMAT: u32 = 1;

/// The rules in use.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PracticeRules {
    format: u32,
    edition: String,
    pub(super) warm_up_s: u32,
    pub(super) check_s: u32,
    pub(super) swing_s: u32,
    pub(super) ball_s: u32,
    pub(super) check_every_days: u32,
    pub(super) mixed_ball_most: u32,
    pub(super) as_played_balls: u32,
    pub(super) most_weeks: u32,
    most: Vec<AgeBand>,
    lowered: Most,
    season_percent: SeasonPercent,
    why: Vec<Why>,
    /// The language of what a plan says.
    #[serde(skip)]
    language: Language,
}

/// Most swings, with a ball or without.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Most {
    pub(super) swings_a_day: u32,
    pub(super) swings_a_week: u32,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct AgeBand {
    age: Ages,
    swings_a_day: u32,
    swings_a_week: u32,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Ages {
    #[serde(default)]
    from: u32,
    to: Option<u32>,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct SeasonPercent {
    playing: u32,
    between: u32,
    returning: u32,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Why {
    key: String,
    says: String,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WhyWords {
    says: String,
    source: String,
}

/// Reasons that a plan gives to all; juniors get another for mixed practice.
const REASONS: [&str; 6] = ["outward", "spaced", "mixed", "feedback", "kept", "band"];

/// Juniors, for whom mixed practice is play: the young of the studies cited. The age is ours.
const JUNIOR_TO_YEARS: u32 = 15;

impl PracticeRules {
    /// The project's rules.
    ///
    /// # Panics
    /// Never with the embedded file, which a test reads.
    pub fn standard() -> PracticeRules {
        PracticeRules::parse("practice.toml", STANDARD)
            .unwrap_or_else(|error| panic!("the embedded rules are sound: {error}"))
    }

    /// The standard file's text, to start an own one from.
    pub fn standard_toml() -> &'static str {
        STANDARD
    }

    /// Reads a rules file; `file` names it in errors.
    ///
    /// # Errors
    /// When the text is no such file, a time or number is zero, an age has no band, or a reason is missing or has no
    /// source.
    pub fn parse(file: &str, text: &str) -> Result<PracticeRules, DataError> {
        let rules: PracticeRules = data_error::read(file, text)?;
        match rules.check() {
            Ok(()) => Ok(rules),
            Err((place, problem)) => Err(DataError::content(file, place, problem)),
        }
    }

    /// The rules said in a language. Our words stand in for our own English ones only.
    ///
    /// # Panics
    /// Never with the embedded words, which a test reads.
    pub fn in_language(mut self, language: Language) -> PracticeRules {
        if language != self.language && language == Language::German {
            let words: BTreeMap<String, WhyWords> =
                toml::from_str(GERMAN).expect("the embedded words are sound");
            let ours = PracticeRules::standard();
            for why in &mut self.why {
                if let (true, Some(words)) = (ours.why.contains(why), words.get(&why.key)) {
                    why.says.clone_from(&words.says);
                    why.source.clone_from(&words.source);
                }
            }
        }
        self.language = language;
        self
    }

    pub(super) fn say(&self) -> Say {
        Say::new(self.language)
    }

    /// Which edition it is.
    pub fn edition(&self) -> &str {
        &self.edition
    }

    /// Most swings for an age, a dose and a season. An age that is not known counts as the lowered dose.
    pub(super) fn most(&self, age_years: Option<u32>, is_lowered: bool, season: Season) -> Most {
        let band = age_years.and_then(|age| self.most.iter().find(|band| band.age.holds(age)));
        let band = band.map_or(self.lowered, |band| Most {
            swings_a_day: band.swings_a_day,
            swings_a_week: band.swings_a_week,
        });
        let percent = match season {
            Season::Playing => self.season_percent.playing,
            Season::Between => self.season_percent.between,
            Season::Returning => self.season_percent.returning,
        };
        let least = |own: u32, lowered: u32| {
            let swings = if is_lowered { own.min(lowered) } else { own };
            swings * percent / 100
        };
        Most {
            swings_a_day: least(band.swings_a_day, self.lowered.swings_a_day),
            swings_a_week: least(band.swings_a_week, self.lowered.swings_a_week),
        }
    }

    /// Why a plan is built like this.
    pub(super) fn reasons(&self, age_years: Option<u32>) -> Vec<Reason> {
        let keys = REASONS.map(|key| match key {
            "mixed" if is_junior(age_years) => "mixed_junior",
            key => key,
        });
        let of = |key: &str| self.why.iter().find(|why| why.key == key);
        let reason = |why: &Why| Reason {
            says: why.says.clone(),
            source: why.source.clone(),
        };
        keys.into_iter().filter_map(of).map(reason).collect()
    }

    fn check(&self) -> Result<(), (&'static str, String)> {
        if self.format != FORMAT {
            return Err(("format", format!("this version reads format {FORMAT}")));
        }
        let numbers = [
            self.warm_up_s,
            self.check_s,
            self.swing_s,
            self.ball_s,
            self.check_every_days,
            self.most_weeks,
            self.season_percent.playing,
            self.season_percent.between,
            self.season_percent.returning,
            self.lowered.swings_a_day,
            self.lowered.swings_a_week,
        ];
        if numbers.contains(&0) {
            return Err(("numbers", "a number is 0: give one of at least 1".into()));
        }
        if let Some(age) = (0..=120).find(|age| !self.most.iter().any(|band| band.age.holds(*age)))
        {
            return Err(("most", format!("there is no band for the age of {age}")));
        }
        let wanted = REASONS.iter().chain(&["mixed_junior"]);
        for key in wanted {
            let why = self.why.iter().find(|why| why.key == **key);
            if why.is_none_or(|why| why.says.trim().is_empty() || why.source.trim().is_empty()) {
                return Err((
                    "why",
                    format!("the reason \"{key}\" or its source is missing"),
                ));
            }
        }
        Ok(())
    }
}

/// Whether mixed practice is play.
pub(super) fn is_junior(age_years: Option<u32>) -> bool {
    age_years.is_some_and(|age| age <= JUNIOR_TO_YEARS)
}

impl Ages {
    fn holds(&self, age_years: u32) -> bool {
        self.from <= age_years && self.to.is_none_or(|to| age_years <= to)
    }
}
