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
            for text in drill_texts(&drill) {
                assert!(!text.contains(['{', '}']), "{}: {text}", drill.key);
                assert!(text.len() > 3, "{}: {text}", drill.key);
            }
            assert!(drill.set_up.len() + drill.steps.len() >= 4, "{}", drill.key);
            assert!(
                !drill.cautions.is_empty() && drill.watch_for.len() >= 2,
                "{}",
                drill.key
            );
            assert_eq!(drill.progressions.len(), 5, "{}", drill.key);
            assert!(
                !drill.station.is_empty() && !drill.who_should_not.is_empty(),
                "{}",
                drill.key
            );
            assert!(drill.cue_outward != drill.cue_inward, "{}", drill.key);
            assert_eq!(
                drill.measure.is_some(),
                drill.expected_change.is_some(),
                "{}",
                drill.key
            );
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
            .filter(|page| page.worded(Hand::Right, &Care::Full).measure == Some(measure))
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
            (Some(target.measure), target.moment, target.against)
                == (drill.measure, drill.moment, drill.against)
        });
        if let (Some(target), Some(change)) = (target, drill.expected_change) {
            assert!(change.abs() < target.high - target.low, "{}", drill.key);
        }
    }
}

#[test]
fn no_page_says_left_or_right_in_words_of_its_own() {
    // They would be wrong for one of the two hands; and where they mean something else, the mirror turns them.
    for page in DrillBook::standard().pages() {
        let words = page.text().split(|c: char| !c.is_alphabetic());
        for word in words {
            let word = word.to_lowercase();
            assert!(word != "left" && word != "right", "{}: {word}", page.key());
        }
    }
}

#[test]
fn every_part_of_the_trade_has_drills() {
    // Grip, aim, ball position, posture, distance, weight; takeaway, top, down, impact; tempo.
    let book = DrillBook::standard();
    let of = |moment| {
        let pages = book.pages();
        pages
            .filter(|page| page.worded(Hand::Right, &Care::Full).moment == moment)
            .count()
    };
    use lessonwright_model::MomentName as M;
    for (moment, fewest) in [
        (M::Address, 10),
        (M::Top, 8),
        (M::LeadArmLevelDown, 12),
        (M::Impact, 12),
    ] {
        assert!(of(moment) >= fewest, "{moment:?}: {}", of(moment));
    }
}
