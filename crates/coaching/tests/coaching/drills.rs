//! The drill book as a whole: complete, worded for both hands, careful.

use crate::german;
use crate::support::{drill_texts, mirrored};
use lessonwright_coaching::{
    Care, CauseTable, DrillBook, PracticeRules, ScreeningRules, Stations, Targets,
};
use lessonwright_language::Language;
use lessonwright_model::{Hand, MeasureName};

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

#[test]
fn every_drill_is_worded_in_german_for_both_hands() {
    let (english, german) = (
        DrillBook::standard(),
        DrillBook::standard().in_language(Language::German),
    );
    for (ours, page) in english.pages().zip(german.pages()) {
        assert!(page.words_in(Language::German).is_some(), "{}", page.key());
        for hand in [Hand::Right, Hand::Left] {
            let (ours, drill) = (
                ours.worded(hand, &Care::Full),
                page.worded(hand, &Care::Full),
            );
            let pairs = drill_texts(&ours).into_iter().zip(drill_texts(&drill));
            for (one, other) in pairs {
                assert!(!other.contains(['{', '}']), "{}: {other}", drill.key);
                assert!(one != other, "{}: {other}", drill.key);
                // A side's word has its ending: a bare stem would be a mistake in a template.
                let words = other.split(|c: char| !c.is_alphabetic());
                for word in words {
                    let bare = ["link", "recht", "left", "right"].contains(&word);
                    assert!(!bare, "{}: {other}", drill.key);
                }
            }
            // What is not words is the same.
            assert_eq!((ours.measure, ours.moment), (drill.measure, drill.moment));
            assert_eq!(ours.expected_change, drill.expected_change);
        }
    }
}

#[test]
fn left_handers_read_every_german_drill_mirrored() {
    for page in DrillBook::standard().in_language(Language::German).pages() {
        let texts = |hand| drill_texts(&page.worded(hand, &Care::Full)).join(" ");
        let (right, left) = (texts(Hand::Right), texts(Hand::Left));
        let swapped: Vec<String> = right.split(' ').map(swapped).collect();
        // "flach, hoch, links, rechts" of a session is no drill, so nothing here is said of both hands alike.
        assert_eq!(swapped.join(" "), left, "{}", page.key());
    }
}

/// A word with the German word of the other side in its place: "linken" for "rechten"; "rechtzeitig" is no side.
fn swapped(word: &str) -> String {
    let letters: String = word.chars().filter(|c| c.is_alphabetic()).collect();
    let sides = [
        ("link", "recht"),
        ("recht", "link"),
        ("Link", "Recht"),
        ("Recht", "Link"),
    ];
    let is = |stem: &str| {
        letters
            .strip_prefix(stem)
            .is_some_and(|end| ["e", "en", "em", "er", "es", "s"].contains(&end))
    };
    match sides.into_iter().find(|(stem, _)| is(stem)) {
        Some((stem, other)) => word.replace(stem, other),
        None => word.to_owned(),
    }
}

#[test]
fn every_german_drill_is_easy_to_read() {
    for page in DrillBook::standard().in_language(Language::German).pages() {
        let drill = page.worded(Hand::Right, &Care::Full);
        let steps = drill
            .steps
            .iter()
            .chain(&drill.set_up)
            .chain(&drill.watch_for);
        let text: Vec<&str> = steps
            .map(String::as_str)
            .chain([drill.feel.as_str()])
            .collect();
        let ease = german::ease(&text.join(" "));
        assert!(ease >= 65.0, "{}: {ease:.0}", drill.key);
    }
}

#[test]
fn an_own_drill_without_german_is_shown_in_english_and_says_so() {
    let page = DrillBook::standard()
        .page("toes_up")
        .unwrap()
        .text()
        .to_owned();
    let own = page.replacen("title = \"", "title = \"Our ", 1);
    let book = DrillBook::standard().with("toes_up", &own).unwrap();
    let drill = book
        .in_language(Language::German)
        .page("toes_up")
        .unwrap()
        .worded(Hand::Right, &Care::Full);
    assert!(drill.title.starts_with("Our "), "{}", drill.title);
    assert!(
        drill.changes.contains("noch nicht auf Deutsch"),
        "{}",
        drill.changes
    );
}

#[test]
fn german_words_that_do_not_fit_the_page_are_refused() {
    let book = DrillBook::standard();
    let page = book.page("toes_up").unwrap();
    let words = page.words_in(Language::German).unwrap().text();
    let with = |from: &str, to: &str| {
        assert!(words.contains(from), "{from}");
        let text = words.replacen(from, to, 1);
        let error = book.clone().with_words(Language::German, "toes_up", &text);
        error.unwrap_err().to_string()
    };
    for (from, to, says) in [
        ("in 8 von 10", "in 9 von 10", "numbers"),
        ("2. Kamen", "Kamen", "3 items"),
        ("## Gefühl", "## Feel", "Gefühl"),
        ("- Platz:", "- Wiese:", "Platz"),
        ("Zehen im Schuh", "{toes}", "{toes}"),
    ] {
        let error = with(from, to);
        assert!(
            error.contains(says) && error.contains("de/toes_up.md"),
            "{says}: {error}"
        );
    }
    assert!(
        book.clone()
            .with_words(Language::German, "no_such", words)
            .is_err()
    );
}

#[test]
fn all_of_the_trade_that_a_player_reads_is_german() {
    let german = Language::German;
    for (ours, target) in Targets::standard()
        .iter()
        .zip(Targets::standard().in_language(german).iter())
    {
        assert!(
            ours.source != target.source && ours.doubt != target.doubt,
            "{}",
            target.source
        );
    }
    // A station is of a drill, so each drill of the book is asked.
    let (english, stations) = (
        Stations::standard(),
        Stations::standard().in_language(german),
    );
    let mut worded = 0;
    for page in DrillBook::standard().pages() {
        let layouts = [&english, &stations].map(|all| all.of(page.key(), Hand::Left));
        if let [Some(one), Some(other)] = layouts {
            for (one, other) in one.things.iter().zip(&other.things) {
                assert!(one.says != other.says, "{}", other.says);
                assert_eq!(one.at, other.at);
                worded += 1;
            }
        }
    }
    assert!(worded >= 25, "{worded}");
    let limits = |table: CauseTable| table.limits().to_vec();
    assert_ne!(
        limits(CauseTable::standard()),
        limits(CauseTable::standard().in_language(german))
    );
    assert_ne!(
        PracticeRules::standard(),
        PracticeRules::standard().in_language(german)
    );
    assert_ne!(
        ScreeningRules::standard(),
        ScreeningRules::standard().in_language(german)
    );
}
