//! The lesson in German: no English left in it, and as easy to read as the English one. The trade's words come from the
//! coaching, which has tests of its own; here they stand for themselves.

use crate::german_grade::{ease, syllables};
use crate::html::text_of;
use crate::sample;
use lessonwright_language::{FILES, Language, Say};
use lessonwright_model::Hand;
use lessonwright_report::{
    LessonContent, SendFor, Units, film_title, film_words, lesson_page, lesson_sheet, send_page,
};

fn in_german(content: LessonContent) -> LessonContent {
    LessonContent {
        say: Say::new(Language::German),
        ..content
    }
}

/// The catalogue's English sentences without anything filled in, long enough to be no name.
fn english_sentences() -> Vec<String> {
    let shown = [
        "lesson", "film", "letter", "practice", "card", "send", "word",
    ];
    let files = FILES.iter().filter(|(name, ..)| shown.contains(name));
    let values = files.flat_map(|(_, english, german)| {
        let german: Vec<&str> = german.lines().collect();
        english
            .lines()
            .filter(move |line| !german.contains(line))
            .filter(|line| !line.starts_with('#'))
            .filter_map(|line| line.split_once(" = "))
    });
    values
        .map(|(_, words)| words.to_owned())
        .filter(|words| words.len() > 7 && !words.contains('{') && words.contains(' '))
        .collect()
}

#[test]
fn the_page_is_german_throughout() {
    let sentences = english_sentences();
    assert!(sentences.len() > 120, "{}", sentences.len());
    for (name, content) in [
        ("one thing", sample::lesson()),
        ("left-handed", sample::left_handed()),
        ("nothing to change", sample::nothing_to_change()),
        ("too little", sample::too_little()),
        ("captured", crate::captured()),
    ] {
        let english = text_of(&lesson_page(&content).unwrap());
        // The check can fail: the English page is full of them.
        let found = sentences.iter().filter(|words| english.contains(*words));
        assert!(found.count() > 15, "{name}");
        // What the invented player's analysis and bands say is in English here: the coaching says it in German.
        let trade = format!(
            "{} {:?}",
            serde_json::to_string(&content.analysis).unwrap(),
            content.references
        );
        let page = lesson_page(&in_german(content)).unwrap();
        assert!(page.contains("<html lang=\"de\">"), "{name}");
        let text = text_of(&page);
        let left: Vec<_> = sentences
            .iter()
            .filter(|words| text.contains(*words) && !trade.contains(*words))
            .collect();
        assert!(left.is_empty(), "{name}: {left:?}");
        assert!(text.contains("Ihre drei Prüfungen"), "{name}");
    }
}

#[test]
fn numbers_have_a_decimal_comma() {
    let text = text_of(&lesson_page(&in_german(sample::lesson())).unwrap());
    let english = text_of(&lesson_page(&sample::lesson()).unwrap());
    let number = english
        .split_whitespace()
        .find(|word| word.len() == 3 && word.as_bytes()[1] == b'.')
        .unwrap();
    assert!(text.contains(&number.replace('.', ",")), "{number}");
    assert!(text.contains("Zoll"), "inches have their German name");
}

#[test]
fn left_handers_are_told_their_own_sides() {
    let text = text_of(&lesson_page(&in_german(sample::left_handed())).unwrap());
    assert!(text.contains("vorn Ihre rechte Seite"), "{text}");
}

#[test]
fn paper_and_film_say_the_same() {
    let content = in_german(sample::lesson());
    let sheet = lesson_sheet(&content).unwrap();
    assert_eq!(sheet.language, "de");
    let json = serde_json::to_string(&sheet).unwrap();
    for words in english_sentences() {
        assert!(!json.contains(&format!("\"{words}\"")), "{words}");
    }
    assert!(film_title(&content)[0].starts_with("Eine Lektion für"));
    let finding = &content.analysis.findings[0];
    let [title, _] = film_words(&content, finding.moment);
    assert!(title.starts_with("Vorderer Arm waagerecht"), "{title}");
}

#[test]
fn the_page_to_film_and_send_is_german() {
    let about = SendFor {
        academy: String::new(),
        coach: "Imke Brandt".into(),
        player: "Tobias Wren".into(),
        code: "p7".into(),
        lesson: None,
        hand: Some(Hand::Left),
        units: Units::Centimetres,
        say: Say::new(Language::German),
    };
    let page = send_page(&about).unwrap();
    for words in english_sentences() {
        assert!(
            !page.contains(&format!(">{words}<")) && !page.contains(&format!("\"{words}\"")),
            "{words}"
        );
    }
    assert!(page.contains("Datei machen") && page.contains("unterer Rücken"));
}

#[test]
fn syllables_are_counted_as_the_dictionary_hyphenates() {
    // Duden's hyphenation, from memory: Hand-ge-lenk, Schlä-ger-kopf, Trai-nings-auf-ga-be, dre-hen, Knie, Ziel-li-nie (three
    // groups here, since "ie" is one).
    for (word, count) in [
        ("Handgelenk", 3),
        ("Schlägerkopf", 3),
        ("Trainingsaufgabe", 5),
        ("drehen", 2),
        ("Knie", 1),
        ("Treffmoment", 3),
        ("Schwung", 1),
        ("Fußabdrücke", 4),
    ] {
        assert_eq!(syllables(word), count, "{word}");
    }
}

#[test]
fn german_is_plain_as_english_is() {
    // Of the catalogue's own German sentences for the player.
    let shown = ["lesson", "letter", "send"];
    let files = FILES.iter().filter(|(name, ..)| shown.contains(name));
    let sentences: Vec<&str> = files
        .flat_map(|(_, _, german)| german.lines())
        .filter(|line| !line.starts_with('#') && !line.contains('{'))
        .filter_map(|line| Some(line.split_once(" = ")?.1))
        .filter(|words| words.ends_with('.') && words.split(' ').count() >= 4)
        .collect();
    assert!(sentences.len() > 50, "{}", sentences.len());
    let whole = ease(&sentences.join(" "));
    println!("reading ease {whole:.0}");
    assert!(whole >= 70.0, "{whole:.0}");
    for line in &sentences {
        assert!(ease(line) >= 45.0, "{:.0}: {line}", ease(line));
    }
    // A text of an office, for the other end: the check can fail.
    let hard = "Die Inanspruchnahme der Vergütungsregelung setzt die fristgerechte Einreichung vollständiger \
                Antragsunterlagen voraus.";
    assert!(ease(hard) < 30.0, "{:.0}", ease(hard));
}
