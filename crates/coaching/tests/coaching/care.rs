//! Pain, age and missing answers: what may be prescribed.

use crate::support::{SHIFT_DOWN, adult, judge, measured};
use lessonwright_coaching::{Coaching, DrillBook};
use lessonwright_model::{Hand, PlayerFacts};

fn stays_back(player: &PlayerFacts) -> Coaching {
    judge(&[measured(SHIFT_DOWN, 0.0, 1.0)], Hand::Right, player)
}

#[test]
fn pain_withholds_exercise_but_not_the_measures() {
    let player = PlayerFacts {
        health_note: Some("lower back hurts".into()),
        ..adult("slice")
    };
    let coaching = stays_back(&player);
    assert!(coaching.drills.is_empty() && coaching.prescription.is_none());
    assert_eq!(coaching.findings.len(), 1);
    assert!(coaching.priority.is_some());
    assert!(coaching.notice.unwrap().contains("see a physician"));
    assert!(
        coaching
            .ranking
            .notes
            .iter()
            .any(|line| line.contains("Exercise withheld"))
    );
}

#[test]
fn juniors_seniors_cleared_and_unasked_players_get_less() {
    let full = stays_back(&adult("slice")).prescription.unwrap();
    assert!(!full.dose.contains("lowered"));
    let cases = [
        PlayerFacts {
            age_years: Some(12),
            ..adult("slice")
        },
        PlayerFacts {
            age_years: Some(71),
            ..adult("slice")
        },
        PlayerFacts {
            health_note: Some("cleared by physician: hip".into()),
            ..adult("slice")
        },
        PlayerFacts {
            health_note: None,
            ..adult("slice")
        },
    ];
    for player in cases {
        let prescription = stays_back(&player).prescription.unwrap();
        assert!(
            prescription.dose.contains("2 rounds of 4, 3 days a week"),
            "{player:?}"
        );
        assert!(prescription.dose.contains("lowered dose"), "{player:?}");
    }
}

#[test]
fn a_lowered_dose_is_lower_for_every_drill() {
    for page in DrillBook::standard().pages() {
        let dose = page.dose();
        let ratio = f64::from(dose.lowered().swings_a_week()) / f64::from(dose.swings_a_week());
        assert!((0.25..=0.6).contains(&ratio), "{}: {ratio}", page.key());
    }
}

#[test]
fn cautions_come_with_the_prescription_and_with_every_drill() {
    let coaching = stays_back(&adult("slice"));
    let text = coaching.prescription.unwrap().cautions.join(" ");
    for word in [
        "Warm up",
        "Stop at once",
        "nobody in the line of the ball",
        "physician",
    ] {
        assert!(text.contains(word), "{word}: {text}");
    }
    assert!(
        coaching
            .drills
            .iter()
            .all(|drill| !drill.cautions.is_empty())
    );
}

#[test]
fn no_finding_and_pain_says_both() {
    let player = PlayerFacts {
        health_note: Some("stiff neck".into()),
        ..adult("slice")
    };
    let notice = judge(&[measured(SHIFT_DOWN, 5.0, 1.0)], Hand::Right, &player)
        .notice
        .unwrap();
    assert!(
        notice.contains("No change advised") && notice.contains("physician"),
        "{notice}"
    );
}
