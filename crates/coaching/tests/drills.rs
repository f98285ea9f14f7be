//! The drill book as a whole: complete, worded for both hands, careful.

mod support;

use lessonwright_coaching::{Care, DrillBook, Targets};
use lessonwright_model::{Hand, MeasureName};
use support::{drill_texts, mirrored};

#[test]
fn every_drill_is_complete_for_both_hands() {
    for page in DrillBook::standard().pages() {
        for hand in [Hand::Right, Hand::Left] {
            let drill = page.worded(hand, &Care::Full);
            for text in drill_texts(&drill).iter().chain([&page.cue(hand)]) {
                assert!(!text.contains(['{', '}']), "{}: {text}", drill.key);
                assert!(text.len() > 3, "{}: {text}", drill.key);
            }
            assert!(drill.set_up.len() + drill.steps.len() >= 4, "{}", drill.key);
            assert!(
                !drill.cautions.is_empty() && drill.watch_for.len() >= 2,
                "{}",
                drill.key
            );
            assert!(drill.expected_change != 0.0);
        }
    }
}

#[test]
fn left_handers_read_every_drill_mirrored() {
    for page in DrillBook::standard().pages() {
        let texts = |hand| drill_texts(&page.worded(hand, &Care::Full));
        let mirror: Vec<String> = texts(Hand::Right)
            .iter()
            .map(|text| mirrored(text))
            .collect();
        assert_eq!(mirror, texts(Hand::Left), "{}", page.key());
    }
}

#[test]
fn the_three_checks_have_three_drills_each() {
    let count = |measure| {
        let book = DrillBook::standard();
        book.pages()
            .filter(|page| page.worded(Hand::Right, &Care::Full).measure == measure)
            .count()
    };
    for measure in [
        MeasureName::PelvisShift,
        MeasureName::KneeLineTurn,
        MeasureName::TrailElbowAhead,
    ] {
        assert!(count(measure) >= 3, "{measure:?}");
    }
}

#[test]
fn no_drill_promises_more_than_the_band_is_wide() {
    // A teacher's expectation over one to two weeks; more than the whole band is not credible.
    let targets = Targets::standard();
    for page in DrillBook::standard().pages() {
        let drill = page.worded(Hand::Right, &Care::Full);
        let target = targets.iter().find(|target| {
            (target.measure, target.moment, target.against)
                == (drill.measure, drill.moment, drill.against)
        });
        if let Some(target) = target {
            assert!(
                drill.expected_change.abs() < target.high - target.low,
                "{}",
                drill.key
            );
        }
    }
}
