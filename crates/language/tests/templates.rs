//! No page of the studio has words of its own: they are all in the catalogue.

use std::fs;
use std::path::{Path, PathBuf};

/// What is the same in every language: units and the sign for a count.
const ANYWHERE: [&str; 6] = ["cm", "in", "s", "ms", "px", "n"];

/// Attributes that are read out or shown.
const SPOKEN: [&str; 5] = [
    "aria-label",
    "placeholder",
    "title",
    "alt",
    "aria-description",
];

#[test]
fn templates_have_no_words() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../web/templates");
    let mut problems = Vec::new();
    let files = templates_in(&folder);
    assert!(files.len() > 50, "the templates are not where they were");
    for path in files {
        let text = fs::read_to_string(&path).expect("a template");
        for words in words_of(&text) {
            problems.push(format!(
                "{}: {words:?}",
                path.strip_prefix(&folder).unwrap_or(&path).display()
            ));
        }
    }
    assert!(problems.is_empty(), "{}", problems.join("\n"));
}

/// Those of a folder and of the folders in it.
fn templates_in(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).expect("the studio's templates");
    let mut found: Vec<_> = entries
        .map(|entry| entry.expect("a template").path())
        .flat_map(|path| match path.is_dir() {
            true => templates_in(&path),
            false => vec![path],
        })
        .filter(|path| path.extension().is_some_and(|kind| kind == "html"))
        .collect();
    found.sort();
    found
}

#[test]
fn words_in_text_and_in_spoken_attributes_are_found() {
    let found = |text: &str| words_of(text);
    assert_eq!(found("<p>Hello {{ name }}</p>"), ["Hello"]);
    assert_eq!(
        found(r#"<a aria-label="Close it" href="/x">{{ "a-b"|t }}</a>"#),
        ["Close it"]
    );
    assert_eq!(
        found(r#"<a class="big red" href="/x">{{ "a-b"|t }}: {{ n }}&nbsp;cm</a>"#),
        [""; 0]
    );
    assert_eq!(
        found("{# a remark #}<b>{% if x %}yes{% endif %}</b>"),
        ["yes"]
    );
}

/// Words of a template that are not of the catalogue; commands are the same in every language.
fn words_of(template: &str) -> Vec<String> {
    let html = without(
        &without(&without(template, "{#", "#}"), "{%", "%}"),
        "{{",
        "}}",
    );
    let html = without(&without(&html, "<!--", "-->"), "<code>", "</code>");
    let mut found = Vec::new();
    for piece in html.split('<') {
        let (tag, text) = piece.split_once('>').unwrap_or(("", piece));
        found.push(text.to_owned());
        for name in SPOKEN {
            for (at, _) in tag.match_indices(&format!(" {name}=\"")) {
                let value = &tag[at + name.len() + 3..];
                found.push(value.split('"').next().unwrap_or_default().to_owned());
            }
        }
    }
    found.retain(|text| has_words(text));
    found.iter().map(|text| text.trim().to_owned()).collect()
}

fn has_words(text: &str) -> bool {
    let text = text.replace("&nbsp;", " ");
    text.split(|c: char| !c.is_alphabetic())
        .any(|word| !word.is_empty() && !ANYWHERE.contains(&word))
}

/// Text without what stands between two marks, which leaves a gap.
fn without(text: &str, open: &str, close: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once(open) {
        out.push_str(before);
        out.push('\u{1}');
        rest = after.split_once(close).map_or("", |(_, after)| after);
    }
    out.push_str(rest);
    out.replace('\u{1}', "")
}
