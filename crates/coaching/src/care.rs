//! How much practice is safe to offer, and the cautions that come with it. Who gets how much is decided by the rules of
//! [`crate::screening`].
//!
//! All of this is common practice with no dose–response study behind it (reference-values G:
//! short daily blocks of 10–20 swings per cue with rests; children: limit volume; never prescribe
//! through pain). The tool measures; it does not diagnose.

use crate::screening::Screened;
use lessonwright_language::{Say, Text, t};
use lessonwright_model::PlayerFacts;

/// How much may be offered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Care {
    /// The drill's own dose.
    Full,
    /// About half of it, for these reasons.
    Lowered(Vec<String>),
    /// Something was told that a physician has to agree to first: no exercise at all.
    Withheld,
}

impl Care {
    /// What a note on the player's health says, written before the questions were asked one by one
    /// ([`crate::ScreeningRules`]) or typed since; `screened` is whether they were asked.
    ///
    /// A note that says nothing ("", "none", "no pain") is no complaint. One that starts with "cleared"
    /// ("cleared by physician: knee, 2019") lowers. Any other note withholds: the words of complaint are too many to
    /// list, so none is needed. No note, and nobody asked: lowered until somebody does.
    pub(crate) fn of_note(note: Option<&str>, screened: bool, say: Say) -> Care {
        let lowered = |why| Care::Lowered(vec![say.text(&t(why))]);
        match Health::of(note) {
            Health::Complaint => Care::Withheld,
            Health::Cleared => lowered("coaching-because-cleared"),
            Health::NotAsked if !screened => lowered("coaching-because-not-asked"),
            Health::NotAsked | Health::NoComplaint => Care::Full,
        }
    }
}

/// What was said of pain, injury or surgery.
enum Health {
    NotAsked,
    NoComplaint,
    Cleared,
    Complaint,
}

/// Notes that say that nothing was told; compared whole, so that "no longer able to bend" is not
/// among them.
const NOTHING_TOLD: [&str; 12] = [
    "",
    "-",
    "–",
    "no",
    "none",
    "nothing",
    "nil",
    "n/a",
    "no pain",
    "no injury",
    "no complaints",
    "nothing told",
];

impl Health {
    fn of(note: Option<&str>) -> Health {
        let Some(note) = note else {
            return Health::NotAsked;
        };
        let note = note.trim().trim_end_matches('.').to_lowercase();
        if NOTHING_TOLD.contains(&note.as_str()) {
            Health::NoComplaint
        } else if note.split(|c: char| !c.is_alphabetic()).next() == Some("cleared") {
            Health::Cleared
        } else {
            Health::Complaint
        }
    }
}

/// How much and how often, as a drill's page gives it for a healthy adult.
#[derive(Clone, Debug, PartialEq, Eq, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Dose {
    /// Rounds in a session.
    pub rounds: u32,
    /// Swings or movements in a round.
    pub swings: u32,
    /// Days a week.
    pub days_a_week: u32,
    /// Rest between rounds, s.
    pub rest_s: u32,
    /// Of what kind ("half-speed swings, the first round without a ball").
    pub how: String,
}

/// Most swings a session with one cue. Common practice, no source (reference-values G).
pub const MOST_SWINGS_A_SESSION: u32 = 20;

/// Most days a week of a lowered dose: a day of rest between. Common practice, no source.
const LOWERED_DAYS_A_WEEK: u32 = 3;

impl Dose {
    /// Half the swings, at most every second day, the same rests.
    pub fn lowered(&self) -> Dose {
        Dose {
            swings: self.swings.div_ceil(2),
            days_a_week: self.days_a_week.min(LOWERED_DAYS_A_WEEK),
            ..self.clone()
        }
    }

    /// Swings or movements a week.
    pub fn swings_a_week(&self) -> u32 {
        self.rounds * self.swings * self.days_a_week
    }

    /// In words, for this care; `how` says of what kind it is.
    pub(crate) fn say_with(&self, how: &str, care: &Care, say: Say) -> String {
        say.text(&match care {
            Care::Full => self.text(how),
            Care::Lowered(reasons) => t("coaching-dose-lowered")
                .with("dose", self.lowered().text(how))
                .with("because", reasons.join(", ")),
            Care::Withheld => t("coaching-dose-none"),
        })
    }

    fn text(&self, how: &str) -> Text {
        t("coaching-dose")
            .with("rounds", self.rounds)
            .with("swings", self.swings)
            .with("days", self.days_a_week)
            .with("how", how)
            .with("rest", self.rest_s)
    }
}

/// Cautions that come with every prescription, the most personal first.
pub(crate) fn cautions(player: &PlayerFacts, screened: &Screened, say: Say) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    if player.health_note.is_none() && player.screening.is_none() {
        all.push(say.text(&t("coaching-caution-tell")));
    }
    if screened.cleared {
        all.push(say.text(&t("coaching-caution-cleared")));
    }
    all.extend(screened.lowered.iter().cloned());
    if player.age_years.is_none() {
        all.push(say.text(&t("coaching-caution-age")));
    }
    all.extend(ALWAYS.map(|id| say.text(&t(id))));
    all
}

/// Common practice (reference-values G, safe-practice lines).
const ALWAYS: [&str; 5] = [
    "coaching-caution-warm-up",
    "coaching-caution-stop",
    "coaching-caution-look-round",
    "coaching-caution-phone",
    "coaching-caution-rules",
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screening::ScreeningRules;
    use jiff::Timestamp;

    fn player(age_years: Option<u32>, health_note: Option<&str>) -> PlayerFacts {
        PlayerFacts {
            age_years,
            health_note: health_note.map(Into::into),
            ..Default::default()
        }
    }

    fn dose() -> Dose {
        Dose {
            rounds: 2,
            swings: 7,
            days_a_week: 4,
            rest_s: 60,
            how: "slow swings".into(),
        }
    }

    #[test]
    fn complaints_withhold_whatever_their_words() {
        for note in [
            "back pain",
            "Hurts a bit",
            "operated knee",
            "pregnant",
            "no longer bends",
            "ok?",
        ] {
            for screened in [false, true] {
                assert_eq!(
                    Care::of_note(Some(note), screened, Say::default()),
                    Care::Withheld,
                    "{note}"
                );
            }
        }
    }

    #[test]
    fn notes_without_a_complaint_do_not() {
        let lowered = |note, screened| {
            matches!(
                Care::of_note(note, screened, Say::default()),
                Care::Lowered(_)
            )
        };
        let cases = [
            (Some(""), false, false),
            (Some("None."), false, false),
            (Some("no pain"), true, false),
            (Some("Cleared by physician: knee, 2019"), true, true),
            (None, false, true),
            (None, true, false),
        ];
        for (note, screened, expected) in cases {
            assert_eq!(lowered(note, screened), expected, "{note:?} {screened}");
        }
    }

    #[test]
    fn a_lowered_dose_is_about_half() {
        let full = dose();
        assert_eq!(
            (full.swings_a_week(), full.lowered().swings_a_week()),
            (56, 24)
        );
        let says = full.say_with(
            "slow swings",
            &Care::Lowered(vec!["junior".into()]),
            Say::default(),
        );
        assert!(
            says.contains("2 rounds of 4, 3 days a week") && says.contains("junior"),
            "{says}"
        );
    }

    #[test]
    fn everyone_is_told_to_stop_on_pain_and_clear_the_swing() {
        for facts in [
            player(None, None),
            player(Some(12), Some("")),
            player(Some(80), Some("none")),
        ] {
            let now = Timestamp::UNIX_EPOCH;
            let screened = ScreeningRules::standard().screen(&facts, now);
            let text = cautions(&facts, &screened, Say::default()).join(" ");
            for word in [
                "Warm up",
                "Stop at once",
                "physician",
                "line of the ball",
                "rules",
            ] {
                assert!(text.contains(word), "{word}");
            }
        }
    }
}
