//! What refuses a table or a page of the studio's own can be said in the language of the page: each sentence is one that the
//! catalogue finds again by its words (`lessonwright_language::trouble`), with its place in the file.

use lessonwright_coaching::{CauseTable, DataError, DrillBook, DrillPage, LinkChanges, Targets};
use lessonwright_language::{Language, Say, trouble};

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
    ];
    let mut unknown = Vec::new();
    for refused in refusals {
        let written = refused.to_string();
        match trouble(&written) {
            None => unknown.push(written),
            Some(said) => {
                let german = Say::new(Language::German).text(&said);
                assert_ne!(german, written);
                assert!(
                    german.contains(written.split(',').next().unwrap()),
                    "{german}"
                );
            }
        }
    }
    assert!(unknown.is_empty(), "{unknown:#?}");
}
