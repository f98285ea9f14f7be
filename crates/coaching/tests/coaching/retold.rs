//! What an analysis wrote in English is found again: said in German it is what the same judgement comes to in German.

use crate::support::{NOW, adult, measured, sound_swing};
use lessonwright_coaching::{
    Case, CauseTable, Coaching, DrillBook, Knowledge, Retold, ScreeningRules, Targets, Words,
    coach_as_chosen,
};
use lessonwright_language::Language;
use lessonwright_model::{
    BodyArea, Corrections, DoseChoice, Hand, Measure, Pain, PlayerFacts, PriorityChoice, Screening,
    SwingAnalysis, Teaching,
};
use std::collections::BTreeSet;

/// Targets, drills, causes and rules in a language.
struct Trade {
    targets: Targets,
    book: DrillBook,
    causes: CauseTable,
    screening: ScreeningRules,
}

impl Trade {
    fn of(language: Language) -> Trade {
        Trade {
            targets: Targets::standard().in_language(language),
            book: DrillBook::standard().in_language(language),
            causes: CauseTable::standard().in_language(language),
            screening: ScreeningRules::standard().in_language(language),
        }
    }

    fn words(&self) -> Words<'_> {
        Words {
            causes: &self.causes,
            book: &self.book,
            screening: &self.screening,
        }
    }

    fn judge(&self, case: &Case<'_>, chosen: &Teaching) -> SwingAnalysis {
        let know = Knowledge {
            targets: &self.targets,
            book: &self.book,
            causes: &self.causes,
            screening: &self.screening,
        };
        let Coaching {
            findings,
            priority,
            ranking,
            drills,
            prescription,
            notice,
        } = coach_as_chosen(case, &know, chosen);
        SwingAnalysis {
            findings,
            priority,
            ranking,
            drills,
            prescription,
            notice,
            schema_version: 0,
            program_version: String::new(),
            corrections: Corrections::default(),
            teaching: Teaching::default(),
            views: Vec::new(),
            moments: Vec::new(),
            measures: Vec::new(),
        }
    }
}

/// Players of all kinds: what they say makes other sentences.
fn players() -> Vec<PlayerFacts> {
    let pain = |strength| Screening {
        pains: vec![Pain {
            area: BodyArea::LowBack,
            strength,
        }],
        injury: true,
        ..Screening::nothing(NOW)
    };
    let flights = ["slice", "hook, fat shot", "straight ball", "a big banana"];
    let mut all: Vec<PlayerFacts> = flights.iter().map(|flight| adult(flight)).collect();
    all.push(PlayerFacts::default());
    all.extend([2, 8].map(|strength| PlayerFacts {
        screening: Some(pain(strength)),
        limits: vec!["balance".into(), "trunk_turn".into()],
        goals: vec!["direction".into()],
        ..adult("slice")
    }));
    all
}

fn chosen() -> [Teaching; 4] {
    let why = "Tom asked for it, 1.5 hours".to_owned();
    [
        Teaching::default(),
        Teaching {
            dose: DoseChoice::Half,
            ..Teaching::default()
        },
        Teaching {
            priority: PriorityChoice::Nothing { why: why.clone() },
            ..Teaching::default()
        },
        Teaching {
            priority: PriorityChoice::Other {
                fact: "hands_over".into(),
                why,
            },
            ..Teaching::default()
        },
    ]
}

/// Each choice for a hand: the words of both hands are said.
fn hands_and_choices() -> impl Iterator<Item = (Hand, Teaching)> {
    [Hand::Right, Hand::Left, Hand::Left, Hand::Right]
        .into_iter()
        .zip(chosen())
}

#[test]
fn an_analysis_said_again_is_the_judgement_in_german() {
    let [english, german] = Language::ALL.map(Trade::of);
    let retold = Retold::of(&english.words(), &german.words());
    // A sound swing, one far off to either side in everything, and one that nobody can be sure of.
    let off_by = |by: f64, wider: f64| -> Vec<Measure> {
        let all = sound_swing().into_iter();
        all.map(|(_, place, [value, half])| measured(place, value + by * half, wider * half))
            .collect()
    };
    let measures = [
        Vec::new(),
        off_by(0.0, 1.0),
        off_by(-12.0, 1.0),
        off_by(12.0, 1.0),
        off_by(12.0, 12.0),
    ];
    let every: BTreeSet<String> = CauseTable::standard()
        .bodies()
        .iter()
        .map(|body| body.key.clone())
        .collect();
    let (mut compared, mut wrong) = (0, BTreeSet::new());
    for measures in &measures {
        for seen in [BTreeSet::new(), every.clone()] {
            for player in &players() {
                for (hand, chosen) in hands_and_choices() {
                    let case = Case {
                        measures,
                        seen: &seen,
                        hand,
                        player,
                        now: NOW,
                    };
                    let kept = english.judge(&case, &chosen);
                    let said = texts(&retold.analysis(&kept));
                    let expected = texts(&german.judge(&case, &chosen));
                    assert_eq!(said.len(), expected.len());
                    for (said, expected) in said.iter().zip(&expected) {
                        compared += 1;
                        if said != expected {
                            wrong.insert([said.clone(), expected.clone()]);
                        }
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}: {wrong:#?}", wrong.len());
    assert!(compared > 10_000, "{compared}");
}

#[test]
fn what_nobody_knows_stays_as_it_was_written() {
    let [english, german] = Language::ALL.map(Trade::of);
    let retold = Retold::of(&english.words(), &german.words());
    for own in ["Turn the hands as Ada does", "Film it. Then see.", ""] {
        assert_eq!(retold.text(own), own);
    }
    assert_eq!(
        retold.text("Bump the stick"),
        german
            .book
            .page("bump_the_stick")
            .unwrap()
            .worded(Hand::Right, &lessonwright_coaching::Care::Full)
            .title
    );
}

/// Every text, as it lies in the JSON; keys are the same in both.
fn texts(analysis: &SwingAnalysis) -> Vec<String> {
    fn walk(value: &serde_json::Value, out: &mut Vec<String>) {
        match value {
            serde_json::Value::String(text) => out.push(text.clone()),
            serde_json::Value::Array(all) => all.iter().for_each(|one| walk(one, out)),
            serde_json::Value::Object(all) => all.values().for_each(|one| walk(one, out)),
            _ => {}
        }
    }
    let mut out = Vec::new();
    walk(&serde_json::to_value(analysis).unwrap(), &mut out);
    out
}
