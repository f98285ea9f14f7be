//! What may be prescribed, from what the player answered: a full dose, a lowered one, or none and a physician.
//!
//! [`ScreeningRules::screen`] reads the answers by rules that are data (`data/screening.toml`, which explains the
//! format); nothing here decides by itself but what has to be asked. It is no diagnosis.

mod rules;

use crate::care::Care;
use crate::causes::CauseTable;
use crate::data_error::DataError;
use jiff::{SignedDuration, Timestamp};
use lessonwright_language::{Language, Say, Text, t};
use lessonwright_model::{PlayerFacts, Screening};
use rules::{Does, Rule, Told};
use std::collections::BTreeMap;

const STANDARD: &str = include_str!("../../data/screening.toml");
const GERMAN: &str = include_str!("../../data/de/screening.toml");

/// The rules in use.
#[derive(Clone, Debug, PartialEq)]
pub struct ScreeningRules {
    edition: String,
    ask_again_after_days: u32,
    clearance_holds_days: u32,
    rules: Vec<Rule>,
    language: Language,
}

/// What the answers come to.
#[derive(Clone, Debug, PartialEq)]
pub struct Screened {
    /// How much may be offered.
    pub care: Care,
    /// Why nothing may be prescribed, a sentence each; empty if something may.
    pub blocked: Vec<String>,
    /// Why less is prescribed, a sentence each.
    pub lowered: Vec<String>,
    /// What has to be asked before a prescription is approved.
    pub ask: Option<Ask>,
    /// Limits of the body that the answers bring with them.
    pub limits: Vec<String>,
    /// A physician or physiotherapist has agreed, and that still counts.
    pub cleared: bool,
}

/// What has to be asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Ask {
    /// Nobody asked yet.
    Never,
    /// The answers are older than they may be, days.
    TooOld(u32),
    /// The player's age is not on record.
    Age,
}

impl Screened {
    /// Why a prescription may not be approved, in plain sentences; none if it may.
    pub fn refusal(&self) -> Option<Text> {
        let mut why: Vec<Text> = self.blocked.iter().map(Text::plain).collect();
        why.extend(self.ask.as_ref().map(Ask::says));
        (!why.is_empty()).then(|| Text::joined(why, " "))
    }
}

impl Ask {
    /// What to do, in a sentence.
    pub fn says(&self) -> Text {
        match self {
            Ask::Never => t("judged-ask-never"),
            Ask::TooOld(days) => t("judged-ask-old").with("days", days),
            Ask::Age => t("judged-ask-age"),
        }
    }
}

impl ScreeningRules {
    /// The project's rules.
    ///
    /// # Panics
    /// Never with the embedded file, which a test reads.
    pub fn standard() -> ScreeningRules {
        ScreeningRules::parse("screening.toml", STANDARD)
            .unwrap_or_else(|error| panic!("the embedded rules are sound: {error}"))
    }

    /// The standard file's text, to start an own one from.
    pub fn standard_toml() -> &'static str {
        STANDARD
    }

    /// Reads a rules file; `file` names it in errors.
    ///
    /// # Errors
    /// When the text is no such file, a rule has no condition, no words or no source, a range is empty, or a block
    /// does not say what a physician's word makes of it.
    pub fn parse(file: &str, text: &str) -> Result<ScreeningRules, DataError> {
        let rules::File {
            format: _,
            edition,
            ask_again_after_days,
            clearance_holds_days,
            rule,
        } = rules::read(file, text)?;
        Ok(ScreeningRules {
            edition,
            ask_again_after_days,
            clearance_holds_days,
            rules: rule,
            language: Language::default(),
        })
    }

    /// The rules said in a language. Our words stand in for our own English ones only.
    ///
    /// # Panics
    /// Never with the embedded words, which a test reads.
    pub fn in_language(mut self, language: Language) -> ScreeningRules {
        if language != self.language && language == Language::German {
            let words: BTreeMap<String, String> =
                toml::from_str(GERMAN).expect("the embedded words are sound");
            let ours = ScreeningRules::standard();
            for rule in &mut self.rules {
                let known = ours.rules.iter().find(|known| known.key == rule.key);
                if let (Some(known), Some(words)) = (known, words.get(&rule.key))
                    && known.says == rule.says
                {
                    rule.says.clone_from(words);
                }
            }
        }
        self.language = language;
        self
    }

    /// Which edition it is.
    pub fn edition(&self) -> &str {
        &self.edition
    }

    /// What the rules say, in their order.
    pub(crate) fn words(&self) -> impl Iterator<Item = &String> {
        self.rules.iter().map(|rule| &rule.says)
    }

    /// How old answers may be, days.
    pub fn ask_again_after_days(&self) -> u32 {
        self.ask_again_after_days
    }

    /// All limits that rules bring with them, each with its rule's key.
    fn limits(&self) -> impl Iterator<Item = (&str, &String)> {
        self.rules.iter().flat_map(|rule| {
            let key = rule.key.as_str();
            rule.limits.iter().map(move |limit| (key, limit))
        })
    }

    /// Looks whether rules and causes fit; `file` names the rules in errors.
    ///
    /// # Errors
    /// When a rule names a limit of the body that the causes do not know.
    pub fn check_with(&self, file: &str, causes: &CauseTable) -> Result<(), DataError> {
        let known = |limit: &String| causes.limits().iter().any(|one| one.key == *limit);
        match self.limits().find(|(_, limit)| !known(limit)) {
            Some((key, limit)) => Err(DataError::content(
                file,
                format!("rule {key}"),
                format!("there is no limit \"{limit}\" in the causes: correct the key"),
            )),
            None => Ok(()),
        }
    }

    /// Reads a player's answers as of `now`. Without answers, the note of an earlier version is all there is:
    /// a complaint in it withholds, and asking is due.
    pub fn screen(&self, player: &PlayerFacts, now: Timestamp) -> Screened {
        let say = Say::new(self.language);
        let note = player.health_note.as_deref();
        let noted = Care::of_note(note, player.screening.is_some(), say);
        let told = Told {
            age_years: player.age_years,
            answers: player.screening.as_ref(),
        };
        let cleared = told
            .answers
            .is_some_and(|answers| self.is_cleared(answers, now));
        let mut screened = Screened {
            care: Care::Full,
            blocked: Vec::new(),
            lowered: Vec::new(),
            ask: self.ask(player, now),
            limits: Vec::new(),
            cleared,
        };
        let mut reasons = Vec::new();
        match noted {
            Care::Full => {}
            Care::Lowered(why) => {
                screened.cleared |= player.health_note.is_some();
                reasons.extend(why);
            }
            Care::Withheld => screened.blocked.push(say.text(&t("coaching-told"))),
        }
        for rule in self.rules.iter().filter(|rule| rule.when.holds(&told)) {
            match rule.does(cleared) {
                Does::Block => screened.blocked.push(rule.says.clone()),
                Does::Lower => {
                    screened.lowered.push(rule.says.clone());
                    reasons.push(say.text(&rule.short(&told, cleared)));
                }
            }
            let new = rule
                .limits
                .iter()
                .filter(|limit| !player.limits.contains(limit));
            screened.limits.extend(new.cloned());
        }
        screened.limits.sort();
        screened.limits.dedup();
        reasons.dedup();
        screened.care = if !screened.blocked.is_empty() {
            Care::Withheld
        } else if reasons.is_empty() {
            Care::Full
        } else {
            Care::Lowered(reasons)
        };
        screened
    }

    fn ask(&self, player: &PlayerFacts, now: Timestamp) -> Option<Ask> {
        let Some(answers) = &player.screening else {
            return Some(Ask::Never);
        };
        let age_days = days_between(answers.asked_at, now);
        if age_days > self.ask_again_after_days {
            Some(Ask::TooOld(age_days))
        } else if player.age_years.is_none() {
            Some(Ask::Age)
        } else {
            None
        }
    }

    /// Whether a physician's word counts on this day.
    fn is_cleared(&self, answers: &Screening, now: Timestamp) -> bool {
        let Some(cleared) = &answers.cleared else {
            return false;
        };
        let given = cleared.on.to_zoned(jiff::tz::TimeZone::UTC);
        given.is_ok_and(|given| days_between(given.timestamp(), now) <= self.clearance_holds_days)
    }
}

/// Whole days from one instant to a later one; 0 if it is not later.
fn days_between(from: Timestamp, to: Timestamp) -> u32 {
    let between: SignedDuration = to.duration_since(from);
    u32::try_from(between.as_hours() / 24).unwrap_or(0)
}
