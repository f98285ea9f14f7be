//! How much practice is safe to offer, and the cautions that come with it.
//!
//! All of this is common practice with no dose–response study behind it (reference-values G:
//! short daily blocks of 10–20 swings per cue with rests; children: limit volume; never prescribe
//! through pain). The tool measures; it does not diagnose.

use lessonwright_model::PlayerFacts;

/// Players younger than this get a lowered dose, years. Common practice, no source.
pub const JUNIOR_BELOW_YEARS: u32 = 16;

/// Players older than this get a lowered dose, years. Common practice, no source.
pub const SENIOR_ABOVE_YEARS: u32 = 65;

/// How much may be offered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Care {
    /// The drill's own dose.
    Full,
    /// About half of it, for these reasons.
    Lowered(Vec<String>),
    /// Pain, injury or surgery was told and no physician's clearance: no exercise at all.
    Withheld,
}

impl Care {
    /// Decides from what the professional knows.
    ///
    /// `health_note` of `None` means nobody asked: lowered until somebody does. A note that says
    /// nothing ("", "none", "no pain") is no complaint. A note that starts with "cleared"
    /// ("cleared by physician: knee, 2019") lowers. Any other note withholds: the words of
    /// complaint are too many to list, so none is needed.
    pub fn of(player: &PlayerFacts) -> Care {
        let mut reasons = Vec::new();
        match Health::of(player.health_note.as_deref()) {
            Health::Complaint => return Care::Withheld,
            Health::Cleared => reasons.push("a physician's clearance".to_string()),
            Health::NotAsked => reasons.push("health not asked yet".to_string()),
            Health::NoComplaint => {}
        }
        match player.age_years {
            Some(age) if age < JUNIOR_BELOW_YEARS => reasons.push("junior".into()),
            Some(age) if age > SENIOR_ABOVE_YEARS => reasons.push(format!("age {age}")),
            _ => {}
        }
        if reasons.is_empty() {
            Care::Full
        } else {
            Care::Lowered(reasons)
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

    /// In words, for this care.
    pub fn say(&self, care: &Care) -> String {
        match care {
            Care::Full => self.plain(),
            Care::Lowered(reasons) => format!(
                "{} This is a lowered dose ({}).",
                self.lowered().plain(),
                reasons.join(", ")
            ),
            Care::Withheld => "None until a physician has agreed.".into(),
        }
    }

    fn plain(&self) -> String {
        let rounds = if self.rounds == 1 { "round" } else { "rounds" };
        format!(
            "{} {rounds} of {}, {} days a week: {}. Rest {} seconds between rounds.",
            self.rounds, self.swings, self.days_a_week, self.how, self.rest_s
        )
    }
}

/// Cautions that come with every prescription, the most personal first.
pub fn cautions(player: &PlayerFacts, care: &Care) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    if player.health_note.is_none() {
        all.push(
            "Before the first swing, tell your professional of any pain, injury or surgery; with \
             any of these see a physician first."
                .into(),
        );
    }
    if matches!(care, Care::Lowered(_)) && Health::of(player.health_note.as_deref()).is_cleared() {
        all.push("Keep to what your physician has allowed; it comes before this page.".into());
    }
    match player.age_years {
        Some(age) if age < JUNIOR_BELOW_YEARS => all.push(
            "A grown-up stays with you. Use a club of your own length and weight, and stop when \
             you are tired."
                .into(),
        ),
        Some(_) => {}
        None => all.push("Age was not told: a junior or an older player does half of this.".into()),
    }
    all.extend(ALWAYS.map(String::from));
    all
}

impl Health {
    fn is_cleared(&self) -> bool {
        matches!(self, Health::Cleared)
    }
}

/// Common practice (reference-values G, safe-practice lines).
const ALWAYS: [&str; 5] = [
    "Warm up for five to ten minutes: walk, turn and swing easily before the first ball.",
    "Stop at once on new, sharp or spreading pain, numbness, weakness, dizziness or chest pain, \
     and see a physician before you go on.",
    "Look all round before every swing: nobody and nothing within reach of the club, nobody in \
     the line of the ball or ahead of it.",
    "Put the phone on a stand; nobody holds it near the swing or stands where a mis-hit could fly.",
    "The rules of your range, course or house and your physician's advice come before this page.",
];

/// What the player reads when exercise is withheld.
pub(crate) const WITHHELD: &str = "You told us of pain, an injury or surgery. Please see a \
    physician before you practise: this page therefore gives no exercise and no number to reach. \
    What was measured is shown, so that your professional can go on from here once you are cleared.";

#[cfg(test)]
mod tests {
    use super::*;

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
            assert_eq!(
                Care::of(&player(Some(40), Some(note))),
                Care::Withheld,
                "{note}"
            );
        }
    }

    #[test]
    fn age_and_notes_lower_the_dose() {
        let lowered = |age, note| matches!(Care::of(&player(age, note)), Care::Lowered(_));
        let cases = [
            (Some(15), Some(""), true),
            (Some(16), Some(""), false),
            (Some(65), Some("none"), false),
            (Some(66), Some("None."), true),
            (Some(40), Some("Cleared by physician: knee, 2019"), true),
            (Some(40), None, true),
            (None, Some("no pain"), false),
        ];
        for (age, note, expected) in cases {
            assert_eq!(lowered(age, note), expected, "{age:?} {note:?}");
        }
    }

    #[test]
    fn a_lowered_dose_is_about_half() {
        let full = dose();
        assert_eq!(
            (full.swings_a_week(), full.lowered().swings_a_week()),
            (56, 24)
        );
        let says = full.say(&Care::Lowered(vec!["junior".into()]));
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
            let text = cautions(&facts, &Care::of(&facts)).join(" ");
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
