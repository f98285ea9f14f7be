//! The PDF as another library reads it (lopdf). The standards behind each check: ISO 32000-1 and PDF/UA-1 (ISO 14289-1,
//! after the Matterhorn Protocol 1.1 of the PDF Association; its numbers are from memory).

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

#[path = "../../report/tests/sample/mod.rs"]
mod sample;

use lessonwright_language::{Language, Say};
use lessonwright_print::lesson_pdf;
use lessonwright_report::{LessonContent, lesson_sheet};
use lopdf::{Document, Object};

fn pdf(content: &LessonContent) -> Vec<u8> {
    lesson_pdf(&lesson_sheet(content).unwrap()).unwrap()
}

fn read(content: &LessonContent) -> Document {
    Document::load_mem(&pdf(content)).unwrap()
}

/// Every dictionary of the file, those of streams too.
fn dictionaries(document: &Document) -> impl Iterator<Item = &lopdf::Dictionary> {
    document.objects.values().filter_map(|object| match object {
        Object::Dictionary(dictionary) => Some(dictionary),
        Object::Stream(stream) => Some(&stream.dict),
        _ => None,
    })
}

fn is(dictionary: &lopdf::Dictionary, key: &[u8], name: &[u8]) -> bool {
    dictionary
        .get(key)
        .and_then(Object::as_name)
        .is_ok_and(|found| found == name)
}

fn letters(text: &str) -> String {
    text.chars().filter(|c| c.is_alphanumeric()).collect()
}

#[test]
fn a_lesson_is_two_pages() {
    let captured = LessonContent {
        captured_within_mm: Some(20.4),
        ..sample::lesson()
    };
    for (name, content) in [
        ("one thing", sample::lesson()),
        ("left-handed", sample::left_handed()),
        ("nothing to change", sample::nothing_to_change()),
        ("too little", sample::too_little()),
        ("captured", captured),
    ] {
        assert_eq!(read(&content).get_pages().len(), 2, "{name}");
    }
}

#[test]
fn it_says_that_it_is_for_screen_readers_and_is() {
    let document = read(&sample::lesson());
    let catalog = document.catalog().unwrap();
    // Matterhorn 06-003, 07-001, 11-006: title shown, language, marked as tagged, with a structure.
    let marked = match catalog.get(b"MarkInfo").unwrap() {
        Object::Reference(id) => document.get_dictionary(*id).unwrap(),
        found => found.as_dict().unwrap(),
    };
    assert!(marked.get(b"Marked").unwrap().as_bool().unwrap());
    for key in ["StructTreeRoot", "Lang", "ViewerPreferences"] {
        assert!(catalog.has(key.as_bytes()), "{key}");
    }
    let metadata = catalog.get(b"Metadata").unwrap().as_reference().unwrap();
    let metadata = document.get_object(metadata).unwrap().as_stream().unwrap();
    let plain = metadata
        .decompressed_content()
        .unwrap_or_else(|_| metadata.content.clone());
    let plain = String::from_utf8(plain).unwrap();
    assert!(plain.contains("pdfuaid:part>1<"), "{plain}");
    assert!(plain.contains("Golf lesson for Tobias Wren"));
}

#[test]
fn headings_begin_at_the_first_and_every_picture_has_its_words() {
    let document = read(&sample::lesson());
    let of = |role: &[u8]| {
        dictionaries(&document)
            .filter(|d| is(d, b"S", role))
            .collect::<Vec<_>>()
    };
    assert_eq!(of(b"H1").len(), 1);
    assert!(of(b"H2").len() >= 4 && !of(b"H3").is_empty() && of(b"H4").is_empty());
    assert!(
        !of(b"L").is_empty() && !of(b"LI").is_empty(),
        "lists are lists"
    );
    // Matterhorn 13-004: two photographs, the ball's flight, and where to put the phone.
    let figures = of(b"Figure");
    assert_eq!(figures.len(), 4);
    assert!(figures.iter().all(|figure| figure.has(b"Alt")));
}

/// A strip of three stills of the drill book.
fn with_figure(content: LessonContent) -> LessonContent {
    let stills = include_bytes!("../../coaching/data/figures/bump_the_stick.jpg");
    LessonContent {
        figure: Some(lessonwright_model::DrillFigure {
            stills: stills.as_slice().into(),
            moving: None,
            size_px: [840, 280],
        }),
        ..content
    }
}

#[test]
fn the_drill_is_pictured_with_its_words_and_there_are_still_two_pages() {
    for (name, content) in [("right", sample::lesson()), ("left", sample::left_handed())] {
        let document = read(&with_figure(content));
        assert_eq!(document.get_pages().len(), 2, "{name}");
        let figures = dictionaries(&document).filter(|d| is(d, b"S", b"Figure"));
        let alts: Vec<String> = figures
            .map(|figure| {
                let text = figure.get(b"Alt").unwrap();
                lopdf::decode_text_string(text).unwrap()
            })
            .collect();
        let drawn = alts
            .iter()
            .filter(|alt| alt.starts_with("The drill in three pictures"));
        assert_eq!(drawn.count(), 1, "{name}: {alts:?}");
    }
}

#[test]
fn every_font_is_inside() {
    let document = read(&sample::lesson());
    let fonts: Vec<_> = dictionaries(&document)
        .filter(|d| is(d, b"Type", b"FontDescriptor"))
        .collect();
    assert!(fonts.len() >= 3);
    for font in fonts {
        assert!(font.has(b"FontFile") || font.has(b"FontFile2") || font.has(b"FontFile3"));
    }
}

#[test]
fn its_words_come_in_the_order_in_which_they_are_read() {
    let document = read(&sample::lesson());
    let [first, second] = [1, 2].map(|page| letters(&document.extract_text(&[page]).unwrap()));
    let mut rest = first.as_str();
    for words in [
        "A lesson for Tobias Wren",
        "lead is your left side",
        "Move the lower body toward the target first",
        "What we saw",
        "Why your ball flies as it does",
        "The number to reach",
        "Foot down, then arms",
    ] {
        let words = letters(words);
        let at = rest.find(&words);
        assert!(
            at.is_some(),
            "{words} is not after what came before it: {rest}"
        );
        rest = &rest[at.unwrap()..];
    }
    for words in [
        "Feet together, step, strike",
        "How to film the check",
        "Before you practise",
    ] {
        assert!(second.contains(&letters(words)), "{words}");
    }
}

#[test]
fn the_same_lesson_gives_the_same_bytes() {
    assert!(pdf(&sample::lesson()) == pdf(&sample::lesson()));
}

#[test]
fn what_people_wrote_is_words_and_not_markup() {
    let mut content = sample::lesson();
    content.player = "#panic(\"no\") *Co* $x$ <a>".into();
    content.coach_note = Some("= not a heading\n- #include \"main.typ\"".into());
    let text = read(&content).extract_text(&[1]).unwrap();
    assert!(
        text.contains("#panic") && text.contains("#include"),
        "{text}"
    );
}

#[test]
fn nothing_is_left_out_of_a_long_lesson() {
    let mut content = sample::lesson();
    let drill = &mut content.analysis.drills[0];
    let step = |n: i32| format!("Step number {n}, which says a little more than is needed here.");
    drill.steps = (0..60).map(step).collect();
    let document = read(&content);
    let pages: Vec<u32> = document.get_pages().into_keys().collect();
    let text = letters(&document.extract_text(&pages).unwrap());
    assert!(text.contains("Stepnumber59") && text.contains("Beforeyoupractise"));
}

#[test]
fn a_german_lesson_is_two_pages_of_german_text() {
    for content in [sample::lesson(), sample::left_handed()] {
        let content = LessonContent {
            say: Say::new(Language::German),
            ..content
        };
        let document = read(&content);
        assert_eq!(document.get_pages().len(), 2);
        let catalog = document.catalog().unwrap();
        assert_eq!(catalog.get(b"Lang").unwrap().as_str().unwrap(), b"de");
        let pages: Vec<u32> = document.get_pages().into_keys().collect();
        let text = letters(&document.extract_text(&pages).unwrap());
        // Umlauts come out as they went in.
        for words in [
            "IHRE ÜBUNG",
            "Was wir gesehen haben",
            "Bevor Sie üben",
            "So filmen Sie die Prüfung",
        ] {
            assert!(text.contains(&letters(words)), "{words}: {text}");
        }
        for words in [
            "What we saw",
            "YOUR DRILL",
            "Before you practise",
            "How to film",
        ] {
            assert!(!text.contains(&letters(words)), "{words}");
        }
    }
}
