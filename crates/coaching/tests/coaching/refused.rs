//! What refuses a table or a page of the studio's own can be said in the language of the page: each sentence is one that the
//! catalogue finds again by its words (`lessonwright_language::trouble`), with its place in the file.

use lessonwright_coaching::{
    CauseTable, DataError, DrillBook, DrillPage, LinkChanges, PracticeRules, ScreeningRules,
    Stations, Targets,
};
use lessonwright_language::{Language, Say, trouble};
use lessonwright_model::{CorrectionError, Joint, MomentName, PlacedJoint, View};

/// A page of the standard book with a piece of it put in another's place.
fn page(what: &str, by: &str) -> DataError {
    let book = DrillBook::standard();
    let text = book.page("bump_the_stick").unwrap().text();
    assert!(text.contains(what), "{what}");
    DrillPage::parse("bump_the_stick", &text.replacen(what, by, 1)).unwrap_err()
}

fn target(what: &str, by: &str) -> DataError {
    let text = r#"
        [[target]]
        measure = "knee_line_turn"
        moment = "lead_arm_level_down"
        against = "address"
        unit = "deg"
        low = -5.0
        high = 15.0
        basis = "professional"
        source = "my own eye"
        doubt = "my own eye"
    "#;
    let changed = match what {
        "twice" => [text, text].concat(),
        _ => text.replacen(what, by, 1),
    };
    assert!(changed != text, "{what}");
    Targets::parse("targets.toml", &changed).unwrap_err()
}

fn german(key: &str, what: &str, by: &str) -> DataError {
    let book = DrillBook::standard();
    let words = book
        .page("bump_the_stick")
        .unwrap()
        .words_in(Language::German);
    let text = words.unwrap().text().to_owned();
    assert!(text.contains(what), "{what}");
    let text = text.replacen(what, by, 1);
    book.with_words(Language::German, key, &text).unwrap_err()
}

fn links(text: &str) -> DataError {
    let changes = match LinkChanges::parse("links.toml", text) {
        Err(refused) => return refused,
        Ok(changes) => changes,
    };
    let table = CauseTable::standard().changed_by("links.toml", &changes);
    table.unwrap_err()
}

/// The standard causes with a piece of them put in another's place.
fn causes(what: &str, by: &str) -> DataError {
    CauseTable::parse(
        "causes.toml",
        &changed(CauseTable::standard_toml(), what, by),
    )
    .unwrap_err()
}

fn screening(what: &str, by: &str) -> DataError {
    let text = changed(ScreeningRules::standard_toml(), what, by);
    ScreeningRules::parse("screening.toml", &text).unwrap_err()
}

fn practice(what: &str, by: &str) -> DataError {
    let text = changed(PracticeRules::standard_toml(), what, by);
    PracticeRules::parse("practice.toml", &text).unwrap_err()
}

fn changed(text: &str, what: &str, by: &str) -> String {
    assert!(text.contains(what), "{what}");
    text.replacen(what, by, 1)
}

#[test]
fn every_refusal_is_known_in_german() {
    let link =
        "[[link]]\nbody = \"nowhere\"\nclub = \"face_open\"\nhow = \"off\"\nreason = \"my eye\"\n";
    let refusals = [
        target("low = -5.0", "low = 20.0"),
        target("low = -5.0", "low = nan"),
        target("unit = \"deg\"", "unit = \"cm\""),
        target("source = \"my own eye\"", "source = \" \""),
        target("twice", ""),
        page("+++\ntitle", "title"),
        page("rounds = 2", "rounds = 0"),
        page("8 of 10 touches", "Most touches"),
        page("by = 2.0", "by = 0.0"),
        page("## Feel", "## Feeling"),
        page("## Set-up", "Stand.\n## Set-up"),
        page("- Slow: the touch", "- Gently: the touch"),
        page("title = \"Bump the stick\"", "title = \" \""),
        page("title = \"Bump the stick\"", "title = \"{Bump\""),
        page("title = \"Bump the stick\"", "title = \"{left}\""),
        page(
            "flights = [\"slice\"",
            "not_for = [\"slice\"]\nflights = [\"slice\"",
        ),
        DrillPage::parse("Bump", "").unwrap_err(),
        german("no_such_page", "+++", "+++"),
        german("bump_the_stick", "8", "9"),
        links(link),
        links(&link.replace("my eye", " ")),
        links(&link.repeat(2)),
        causes("format = 2", "format = 1"),
        causes("key = \"grip_weak\"", "key = \"\""),
        causes("key = \"grip_weak\"", "key = \"grip_strong\""),
        causes("club = \"face_open\"", "club = \"nowhere\""),
        screening("format = 1", "format = 9"),
        screening("clearance_holds_days = ", "clearance_holds_days = 0 #"),
        practice("format = 1", "format = 9"),
        practice("warm_up_s = ", "warm_up_s = 0 #"),
        // What the TOML reader stumbles over.
        target("low = -5.0", "low = -5,0"),
        target("low = -5.0", "low = \"-5.0\""),
        target("low = -5.0", "lowest = -5.0"),
        target("low = -5.0", ""),
        target("low = -5.0", "low = -5.0\nlow = -4.0"),
        target("basis = \"professional\"", "basis = \"my own\""),
        target("doubt = \"my own eye\"", "doubt = 3"),
        target("doubt = \"my own eye\"", "doubt = \"my own eye"),
        page("flights = [", "flights = \"slice\" #"),
        links("[[link]]\nclub = \"face_open\"\nhow = \"off\"\nreason = \"my eye\"\n"),
        causes("\noutside = ", "\n# outside = "),
        causes("\n[[body]]", "\n[[body]"),
        CauseTable::parse("causes.toml", "").unwrap_err(),
        Stations::parse("stations.toml", "[toes_up").unwrap_err(),
    ];
    let refusals = refusals.iter().map(ToString::to_string);
    in_german(refusals.chain(corrections()));
}

/// Corrections by hand that can't be.
fn corrections() -> Vec<String> {
    let (view, joint) = (View::FaceOn, Joint::LeftKnee);
    let placed = PlacedJoint {
        frame: 7,
        joint,
        x_px: 2000.0,
        y_px: 20.5,
        picture_width_px: 1080,
    };
    let order = |later_by_hand, earlier_by_hand| CorrectionError::Disordered {
        view,
        later: MomentName::Impact,
        later_s: 1.0,
        later_by_hand,
        earlier: MomentName::Top,
        earlier_s: 1.25,
        earlier_by_hand,
    };
    let all = [
        CorrectionError::NoSuchView(view),
        CorrectionError::Stature(3.1),
        CorrectionError::Rate { view, rate_hz: 1.5 },
        CorrectionError::MomentOutside {
            view,
            name: MomentName::Top,
            time_s: 9.0,
            from_s: 0.5,
            to_s: 2.0,
        },
        order(true, true),
        order(true, false),
        CorrectionError::FrameOutside {
            view,
            joint,
            frame: 900,
            first: 3,
            last: 80,
        },
        CorrectionError::PlaceOutside { view, placed },
        CorrectionError::PlacedTwice {
            view,
            joint,
            frame: 7,
        },
    ];
    let (causes, none) = (CauseTable::standard(), Vec::<String>::new());
    let wrong = vec!["nobody".to_owned()];
    let keys = [
        causes.check_keys(&wrong, &none, &none),
        causes.check_keys(&none, &wrong, &none),
        causes.check_keys(&none, &none, &wrong),
    ];
    let all = all.iter().map(ToString::to_string);
    all.chain(keys.map(Result::unwrap_err)).collect()
}

fn in_german(all: impl Iterator<Item = String>) {
    let mut unknown = Vec::new();
    for written in all {
        let Some(said) = trouble(&written) else {
            unknown.push(written);
            continue;
        };
        let german = Say::new(Language::German).text(&said);
        // What is in quotation marks was typed.
        let ours: Vec<&str> = german
            .split(['„', '“'])
            .step_by(2)
            .flat_map(|part| part.split(|c: char| !c.is_alphabetic() && c != '_'))
            .collect();
        let english = [
            "the", "is", "line", "knee", "found", "hand", "keep", "choose",
        ];
        if english.iter().any(|word| ours.contains(word)) {
            unknown.push(german);
        }
    }
    assert!(unknown.is_empty(), "{unknown:#?}");
}

#[test]
fn a_broken_line_is_said_with_its_number_in_the_file() {
    for (refused, expected) in [
        (
            target("low = -5.0", "low = -5,0"),
            "targets.toml, Zeile 7: die Zeile „low = -5,0“ lässt sich nicht lesen",
        ),
        (
            page("rounds = 2", "rounds = two"),
            "„rounds = two“ lässt sich nicht lesen",
        ),
        (
            target("low = -5.0", ""),
            "targets.toml, Zeile 2: der Schlüssel `low` fehlt in dem Eintrag, der mit „[[target]]“ beginnt",
        ),
        (
            target("high = 15.0", "high = true"),
            "Zeile 8: in der Zeile „high = true“ muss eine Zahl stehen",
        ),
    ] {
        let said = trouble(&refused.to_string()).unwrap_or_else(|| panic!("{refused}"));
        let said = Say::new(Language::German).text(&said).to_lowercase();
        assert!(said.contains(&expected.to_lowercase()), "{said}");
    }
    // Of a page the line is counted from its first, not from where its facts begin.
    let book = DrillBook::standard();
    let text = book.page("bump_the_stick").unwrap().text();
    let line = 1 + text.lines().position(|line| line == "rounds = 2").unwrap();
    let refused = page("rounds = 2", "rounds = two").to_string();
    assert!(
        refused.contains(&format!("bump_the_stick.md, line {line}:")),
        "{refused}"
    );
}
