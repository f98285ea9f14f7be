//! The rules of the screening as they are written in TOML, and when each holds.

use crate::data_error::{self, DataError};
use lessonwright_language::{Text, t};
use lessonwright_model::{BodyArea, STRONGEST_PAIN, Screening};
use serde::Deserialize;

/// The format this version reads.
const FORMAT: u32 = 1;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct File {
    pub(super) format: u32,
    pub(super) edition: String,
    pub(super) ask_again_after_days: u32,
    pub(super) clearance_holds_days: u32,
    pub(super) rule: Vec<Rule>,
}

/// One rule.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Rule {
    pub(super) key: String,
    pub(super) when: When,
    does: Does,
    once_cleared: Option<Does>,
    #[serde(default)]
    pub(super) limits: Vec<String>,
    pub(super) says: String,
    source: String,
}

/// What a rule does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum Does {
    Block,
    Lower,
}

/// When a rule holds: everything that is there.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub(super) struct When {
    warning_signs: bool,
    injury: bool,
    balance_medicine: bool,
    condition: bool,
    other: bool,
    surgery_within_months: Option<u32>,
    pain: Option<PainRange>,
    age: Option<AgeRange>,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct PainRange {
    from: u8,
    #[serde(default = "strongest")]
    to: u8,
    #[serde(default)]
    areas: Vec<BodyArea>,
}

fn strongest() -> u8 {
    STRONGEST_PAIN
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct AgeRange {
    #[serde(default)]
    from: u32,
    #[serde(default = "oldest")]
    to: u32,
}

fn oldest() -> u32 {
    u32::MAX
}

/// What the rules read.
pub(super) struct Told<'a> {
    pub(super) age_years: Option<u32>,
    pub(super) answers: Option<&'a Screening>,
}

impl When {
    pub(super) fn holds(&self, told: &Told<'_>) -> bool {
        let age = self
            .age
            .as_ref()
            .is_none_or(|range| range.holds(told.age_years));
        age && (!self.asks_answers() || told.answers.is_some_and(|answers| self.holds_for(answers)))
    }

    /// True if it looks at anything but the age.
    fn asks_answers(&self) -> bool {
        *self
            != When {
                age: self.age.clone(),
                ..When::default()
            }
    }

    fn holds_for(&self, answers: &Screening) -> bool {
        let signs = [
            (self.warning_signs, answers.warning_signs),
            (self.injury, answers.injury),
            (self.balance_medicine, answers.balance_medicine),
            (self.condition, answers.condition),
            (self.other, !answers.other.trim().is_empty()),
        ];
        let surgery = self.surgery_within_months.is_none_or(|within| {
            answers
                .surgery_months_ago
                .is_some_and(|months| months <= within)
        });
        let pain = self.pain.as_ref().is_none_or(|range| {
            let in_range = |strength: u8| (range.from..=range.to).contains(&strength);
            let there = |area| range.areas.is_empty() || range.areas.contains(&area);
            answers
                .pains
                .iter()
                .any(|pain| in_range(pain.strength) && there(pain.area))
        });
        signs.iter().all(|(asked, told)| !asked || *told) && surgery && pain
    }
}

impl AgeRange {
    fn holds(&self, age_years: Option<u32>) -> bool {
        age_years.is_some_and(|age| (self.from..=self.to).contains(&age))
    }
}

impl Rule {
    /// What it does, with a physician's word or without.
    pub(super) fn does(&self, cleared: bool) -> Does {
        match (cleared, self.once_cleared) {
            (true, Some(then)) => then,
            _ => self.does,
        }
    }

    /// In a few words, behind a dose.
    pub(super) fn short(&self, told: &Told<'_>, cleared: bool) -> Text {
        if self.does == Does::Block && cleared {
            return t("coaching-because-cleared");
        }
        let strongest = told.answers.map_or(0, Screening::strongest);
        match (&self.when.age, &self.when.pain, told.age_years) {
            (Some(range), _, _) if range.from == 0 => t("coaching-because-junior"),
            (Some(_), _, Some(age)) => t("coaching-because-age").with("age", age),
            (_, Some(_), _) => t("coaching-because-pain")
                .with("strength", strongest)
                .with("most", STRONGEST_PAIN),
            _ => match self.key.as_str() {
                "warning_signs" => t("coaching-because-warning-signs"),
                "injury" => t("coaching-because-injury"),
                "surgery" => t("coaching-because-surgery"),
                "condition" => t("coaching-because-condition"),
                "balance_medicine" => t("coaching-because-balance-medicine"),
                "other" => t("coaching-because-other"),
                // The professional's own.
                own => t("coaching-because-rule").with("rule", own.replace('_', " ")),
            },
        }
    }
}

/// Reads and checks a file.
pub(super) fn read(file: &str, text: &str) -> Result<File, DataError> {
    let read: File = data_error::read(file, text)?;
    let fault = |place: &str, problem: String| Err(DataError::content(file, place, problem));
    if read.format != FORMAT {
        return fault("format", format!("this version reads format {FORMAT}"));
    }
    if read.ask_again_after_days == 0 || read.clearance_holds_days == 0 {
        return fault("days", "give whole days of at least 1".into());
    }
    for (index, rule) in read.rule.iter().enumerate() {
        let place = format!("rule {}", rule.key);
        if read.rule[..index].iter().any(|other| other.key == rule.key) {
            return fault(&place, "there is one of this key already: keep one".into());
        }
        if let Err(problem) = check(rule) {
            return fault(&place, problem.into());
        }
    }
    Ok(read)
}

fn check(rule: &Rule) -> Result<(), &'static str> {
    if rule.when == When::default() {
        return Err("say when it holds");
    }
    if rule.says.trim().is_empty() || rule.source.trim().is_empty() {
        return Err("say why (says) and whose rule it is (source)");
    }
    if let Some(pain) = &rule.when.pain
        && (pain.from == 0 || pain.from > pain.to || pain.to > STRONGEST_PAIN)
    {
        return Err("pain goes from 1 to 10, the smaller number first");
    }
    if rule.when.age.as_ref().is_some_and(|age| age.from > age.to) {
        return Err("no age is in the range: give the smaller number first");
    }
    match (rule.does, rule.once_cleared) {
        (Does::Block, None) => {
            Err("say what a physician's word makes of it: once_cleared = \"lower\" or \"block\"")
        }
        (Does::Lower, Some(_)) => Err("once_cleared belongs to a rule that blocks"),
        _ => Ok(()),
    }
}
