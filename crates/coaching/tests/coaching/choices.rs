//! What the professional chooses in place of what is proposed: it is followed as far as the screening and the findings allow.

use crate::support::{ELBOW, SHIFT_DOWN, adult, measured};
use jiff::Timestamp;
use lessonwright_coaching::{
    Case, CauseTable, Coaching, DrillBook, Knowledge, ScreeningRules, Targets, coach_as_chosen,
};
use lessonwright_model::{DoseChoice, Hand, PlayerFacts, PriorityChoice, Teaching};
use std::collections::BTreeSet;

/// A pelvis that stays back and an elbow behind the side, judged as chosen.
fn judged(player: &PlayerFacts, chosen: &Teaching) -> Coaching {
    let measures = [measured(SHIFT_DOWN, 0.0, 1.0), measured(ELBOW, -6.0, 1.0)];
    coach_as_chosen(
        &Case {
            measures: &measures,
            seen: &BTreeSet::new(),
            hand: Hand::Right,
            player,
            now: Timestamp::UNIX_EPOCH,
        },
        &Knowledge {
            targets: &Targets::standard(),
            book: &DrillBook::standard(),
            causes: &CauseTable::standard(),
            screening: &ScreeningRules::standard(),
        },
        chosen,
    )
}

fn other(fact: &str) -> Teaching {
    Teaching {
        priority: PriorityChoice::Other {
            fact: fact.into(),
            why: "worked on it before".into(),
        },
        ..Teaching::default()
    }
}

#[test]
fn another_one_of_the_list_becomes_the_priority_with_its_own_drills_and_the_reason_on_record() {
    let player = adult("slice");
    let proposed = judged(&player, &Teaching::default());
    assert!(proposed.ranking.candidates.len() >= 2);
    let second = proposed.ranking.candidates[1].key.clone();
    let chosen = judged(&player, &other(&second));
    assert_eq!(chosen.priority.as_ref().unwrap().finding, second);
    assert_eq!(chosen.findings[0].key, second);
    assert_ne!(chosen.drills[0].key, proposed.drills[0].key);
    assert_eq!(
        chosen.prescription.as_ref().unwrap().drill,
        chosen.drills[0].key
    );
    // The order stays what it was, and says what was chosen.
    assert_eq!(chosen.ranking.candidates, proposed.ranking.candidates);
    let notes = chosen.ranking.notes.join(" ");
    assert!(notes.contains("Because: worked on it before"), "{notes}");
    let next = &chosen.priority.unwrap().would_change_it;
    let first = &proposed.priority.unwrap().title;
    assert!(
        !next.contains("Next in line: ") || !next.contains(&second),
        "{next} {first}"
    );
}

#[test]
fn nothing_for_now_prescribes_nothing_and_says_that_it_was_chosen() {
    let nothing = Teaching {
        priority: PriorityChoice::Nothing { why: String::new() },
        ..Teaching::default()
    };
    let coaching = judged(&adult("slice"), &nothing);
    assert!(coaching.priority.is_none() && coaching.prescription.is_none());
    assert!(coaching.drills.is_empty() && coaching.findings.len() == 2);
    assert!(coaching.notice.unwrap().contains("leaves it as it is"));
}

#[test]
fn a_drill_is_taken_where_it_fits_and_not_where_it_does_not() {
    let player = adult("slice");
    let proposed = judged(&player, &Teaching::default());
    let last = proposed.drills.last().unwrap().key.clone();
    for (drill, expected) in [
        (last.as_str(), last.as_str()),
        ("hum_to_the_top", proposed.drills[0].key.as_str()),
        ("no_such_drill", proposed.drills[0].key.as_str()),
    ] {
        let chosen = Teaching {
            drill: Some(drill.into()),
            ..Teaching::default()
        };
        let coaching = judged(&player, &chosen);
        assert_eq!(coaching.prescription.unwrap().drill, expected, "{drill}");
    }
}

#[test]
fn half_is_less_than_the_drill_gives_and_never_more_than_the_screening_allows() {
    let half = Teaching {
        dose: DoseChoice::Half,
        ..Teaching::default()
    };
    let dose = |player: &PlayerFacts, chosen: &Teaching| {
        judged(player, chosen)
            .prescription
            .map(|prescription| prescription.dose)
    };
    let healthy = adult("slice");
    assert_ne!(dose(&healthy, &half), dose(&healthy, &Teaching::default()));
    let junior = PlayerFacts {
        age_years: Some(12),
        ..adult("slice")
    };
    assert_eq!(dose(&junior, &half), dose(&junior, &Teaching::default()));
    let hurt = PlayerFacts {
        health_note: Some("lower back hurts".into()),
        ..adult("slice")
    };
    assert_eq!(dose(&hurt, &half), None);
}

#[test]
fn what_was_chosen_and_is_not_found_any_more_counts_for_nothing() {
    let player = adult("slice");
    let proposed = judged(&player, &Teaching::default());
    let chosen = judged(&player, &other("grip_weak"));
    assert_eq!(chosen.priority, proposed.priority);
    assert!(
        chosen
            .ranking
            .notes
            .join(" ")
            .contains("not found any more")
    );
}
