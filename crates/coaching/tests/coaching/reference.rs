//! What a player is held against, and that findings follow the choice and say which.

use crate::support::{ELBOW, KNEES, NOW, SHIFT_DOWN, TEMPO, adult, measured};
use lessonwright_coaching::ball::ClubKind;
use lessonwright_coaching::{
    Against, Basis, Case, CauseTable, DrillBook, Knowledge, Like, Model, OwnSwing, ScreeningRules,
    Targets, coach, targets_for,
};
use lessonwright_model::{Finding, Hand, Measure, Sex};
use std::collections::BTreeSet;

const LIKE: Like = Like {
    club: Some(ClubKind::MidIron),
    sex: Some(Sex::Female),
    age_years: Some(40),
    hand: Some(Hand::Right),
};

fn findings(measures: &[Measure], against: &Against<'_>, hand: Hand) -> Vec<Finding> {
    let targets = targets_for(Targets::standard(), against, &LIKE);
    let player = adult("slice");
    let case = Case {
        measures,
        seen: &BTreeSet::new(),
        hand,
        player: &player,
        now: NOW,
    };
    let know = Knowledge {
        targets: &targets,
        book: &DrillBook::standard(),
        causes: &CauseTable::standard(),
        screening: &ScreeningRules::standard(),
    };
    coach(&case, &know).findings
}

/// Swings with these pelvis shifts, the like of `like`.
fn shifts(values: &[f64]) -> Vec<Vec<Measure>> {
    values
        .iter()
        .map(|value| vec![measured(SHIFT_DOWN, *value, 0.5)])
        .collect()
}

fn models<'a>(swings: &'a [Vec<Measure>], like: Like) -> Vec<Model<'a>> {
    let of = |(player, measures): (usize, &'a Vec<Measure>)| Model {
        like,
        player: player as i64,
        measures,
    };
    swings.iter().enumerate().map(of).collect()
}

#[test]
fn against_an_own_swing_only_a_difference_beyond_both_errors_is_found() {
    let best = [measured(SHIFT_DOWN, 9.0, 1.0)];
    let own = Against::OwnSwing(OwnSwing {
        day: "4 November 2026".into(),
        club: Some(ClubKind::MidIron),
        measures: &best,
    });
    for hand in [Hand::Right, Hand::Left] {
        // 9.0 - 1.0 = 8.0: an interval that ends at 8.0 touches it.
        for (value, found) in [(6.9, true), (7.1, false), (9.0, false)] {
            let findings = findings(&[measured(SHIFT_DOWN, value, 1.0)], &own, hand);
            assert_eq!(!findings.is_empty(), found, "{value} {hand:?}");
            for finding in findings {
                let says = &finding.reference_source;
                assert!(says.contains("own swing of 4 November 2026"), "{says}");
                assert!(!says.contains("clubs differ"), "{says}");
                assert_eq!((finding.reference_low, finding.reference_high), (8.0, 10.0));
            }
        }
    }
    // Nothing there to hold it against: the studio's own band, which says so.
    let knees = findings(&[measured(KNEES, 40.0, 5.0)], &own, Hand::Right);
    assert!(
        knees[0].reference_source.contains("own address"),
        "{}",
        knees[0].reference_source
    );
}

#[test]
fn a_choice_of_address_or_published_leaves_the_rest_without_a_reference() {
    let all = [
        measured(SHIFT_DOWN, -5.0, 1.0),
        measured(KNEES, 40.0, 5.0),
        measured(ELBOW, -9.0, 1.0),
        measured(TEMPO, 1.2, 0.1),
    ];
    let keys = |against: &Against<'_>| -> Vec<String> {
        let mut keys: Vec<String> = findings(&all, against, Hand::Right)
            .into_iter()
            .map(|f| f.key)
            .collect();
        keys.sort();
        keys
    };
    assert_eq!(keys(&Against::Standard).len(), 4);
    assert_eq!(keys(&Against::OwnAddress).len(), 1);
    assert_eq!(keys(&Against::Published).len(), 1);
    assert_ne!(keys(&Against::OwnAddress), keys(&Against::Published));
}

#[test]
fn three_models_make_a_band_and_few_are_called_few() {
    let swings = shifts(&[6.0, 7.0, 8.0]);
    let targets = |n: usize| {
        let some = models(&swings[..n], LIKE);
        targets_for(Targets::standard(), &Against::Models(&some), &LIKE)
    };
    let of = |targets: &Targets| targets.of(&measured(SHIFT_DOWN, 0.0, 1.0)).unwrap().clone();
    assert_ne!(of(&targets(2)).basis, Basis::ModelSwings);
    let band = of(&targets(3));
    assert_eq!(band.basis, Basis::ModelSwings);
    // Median 7, MAD 1: 4.303 · 1.4826 · √(4/3), by hand.
    assert!((band.high - band.low - 2.0 * 4.303 * 1.4826 * (4.0_f64 / 3.0).sqrt()).abs() < 1e-3);
    assert!(
        band.source.contains("3 swings of 3 players"),
        "{}",
        band.source
    );
    assert!(band.doubt.contains("Only 3 swings"), "{}", band.doubt);
    let many = shifts(&[6.0; 10]);
    let many = models(&many, LIKE);
    let many = targets_for(Targets::standard(), &Against::Models(&many), &LIKE);
    assert!(!of(&many).doubt.contains("Only"), "{}", of(&many).doubt);
}

#[test]
fn models_are_of_the_same_club_and_of_the_narrowest_group_that_is_large_enough() {
    let (women, men, irons) = (shifts(&[5.0; 4]), shifts(&[9.0; 8]), shifts(&[1.0; 9]));
    let man = Like {
        sex: Some(Sex::Male),
        ..LIKE
    };
    let other_club = Like {
        club: Some(ClubKind::Driver),
        ..LIKE
    };
    let mut all = models(&women, LIKE);
    all.extend(models(&men, man));
    all.extend(models(&irons, other_club));
    let middle = |like: &Like| {
        let targets = targets_for(Targets::standard(), &Against::Models(&all), like);
        let target = targets.of(&measured(SHIFT_DOWN, 0.0, 1.0)).unwrap();
        (
            (target.low + target.high) / 2.0,
            target.source.clone(),
            target.basis,
        )
    };
    let cases = [
        (LIKE, 5.0, "same club, sex, age group and hand"),
        (
            Like {
                hand: Some(Hand::Left),
                ..LIKE
            },
            5.0,
            "both hands",
        ),
        (
            Like {
                hand: Some(Hand::Left),
                ..man
            },
            9.0,
            "both hands",
        ),
        (
            Like {
                age_years: Some(70),
                ..LIKE
            },
            5.0,
            "all ages",
        ),
        (
            Like {
                age_years: None,
                ..LIKE
            },
            5.0,
            "all ages",
        ),
        (Like { sex: None, ..LIKE }, 9.0, "all players"),
        (other_club, 1.0, "same club, sex"),
    ];
    for (like, expected, says) in cases {
        let (middle, source, basis) = middle(&like);
        assert!(
            (middle - expected).abs() < 1e-9 && source.contains(says),
            "{like:?}: {source}"
        );
        assert_eq!(basis, Basis::ModelSwings);
    }
    for club in [None, Some(ClubKind::Wedge)] {
        let (_, source, basis) = middle(&Like { club, ..LIKE });
        assert_ne!(basis, Basis::ModelSwings, "{source}");
    }
}

#[test]
fn left_handed_models_serve_right_handers_as_they_are() {
    let swings = shifts(&[5.0, 6.0, 7.0, 8.0]);
    let lefties = models(
        &swings,
        Like {
            hand: Some(Hand::Left),
            ..LIKE
        },
    );
    let found = |hand| {
        findings(
            &[measured(SHIFT_DOWN, -9.0, 1.0)],
            &Against::Models(&lefties),
            hand,
        )
    };
    for hand in [Hand::Right, Hand::Left] {
        let found = found(hand);
        assert!(
            found[0].reference_source.contains("Model swings"),
            "{hand:?}"
        );
    }
}
