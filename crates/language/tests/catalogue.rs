//! The catalogue holds together: both languages say the same things, and the sources and it name the same ids.

use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};
use lessonwright_language::{FILES, Language};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// What a message needs: `$name` of what is filled in, `<name>` of its tags.
type Needs = BTreeSet<String>;

#[test]
fn both_languages_hold_the_same_messages_with_the_same_places_to_fill_in() {
    let (english, german) = (messages(Language::English), messages(Language::German));
    let mut problems = Vec::new();
    for id in english.keys().chain(german.keys()).collect::<BTreeSet<_>>() {
        match (english.get(id), german.get(id)) {
            (Some(of_english), Some(of_german)) if of_english != of_german => {
                problems.push(format!(
                    "{id}: {of_english:?} in English, {of_german:?} in German"
                ));
            }
            (None, _) => problems.push(format!("{id}: not in English")),
            (_, None) => problems.push(format!("{id}: not in German")),
            _ => {}
        }
    }
    assert!(problems.is_empty(), "{}", problems.join("\n"));
}

/// Files whose messages are found by their words: what analyses write, and what goes wrong.
const FOUND_AGAIN: [&str; 2] = ["analysis", "trouble"];

#[test]
fn every_id_that_is_used_exists_and_every_id_is_used() {
    let known: BTreeSet<String> = messages(Language::English).into_keys().collect();
    let mut literals = BTreeSet::new();
    for path in sources() {
        let text = product(&fs::read_to_string(&path).expect("a source"));
        for found in quoted(&text) {
            let exists = known.contains(found.words);
            assert!(
                exists || !found.is_id,
                "{}: no message \"{}\"",
                path.display(),
                found.words
            );
            literals.insert(found.words.to_owned());
        }
    }
    // What analyses write is found by its words: the next test holds those to the sources.
    let unused: Vec<_> = known
        .difference(&literals)
        .filter(|id| {
            !FOUND_AGAIN
                .iter()
                .any(|file| id.starts_with(&format!("{file}-")))
        })
        .collect();
    assert!(unused.is_empty(), "no source uses {unused:?}");
}

/// The longest word that a sentence chooses by itself ("along the ground or up"), bytes.
const CHOSEN_WORD: usize = 24;

#[test]
fn what_the_catalogue_finds_again_is_what_analyses_write() {
    let mut written = String::new();
    for path in sources() {
        let text = fs::read_to_string(&path).expect("a source");
        let joined: Vec<&str> = text.split("\\\n").collect();
        let joined = joined.iter().map(|line| line.trim_start());
        written.extend(joined);
    }
    let mut problems = Vec::new();
    let found_again = FILES
        .iter()
        .filter(|(name, _, _)| FOUND_AGAIN.contains(name));
    let lines = found_again.flat_map(|(_, english, _)| english.lines());
    // What the system says is in no source.
    let ours = lines.filter(|line| !line.starts_with('#') && !line.contains("(os error"));
    for line in ours {
        let Some((id, words)) = line.split_once(" = ") else {
            continue;
        };
        // Between places to fill in, and where a word of the sentence is chosen, the words stand in the sources.
        for piece in words.split(['{', '}']).filter(|piece| !piece.contains('$')) {
            let there = |piece: &str| written.contains(piece);
            let cuts = || piece.char_indices().map(|(at, _)| at).chain([piece.len()]);
            let begin = cuts().filter(|at| there(&piece[..*at])).max();
            let rest = cuts().filter(|at| there(&piece[*at..])).min();
            if rest > begin.map(|begin| begin + CHOSEN_WORD) {
                problems.push(format!("{id}: nothing writes {piece:?}"));
            }
        }
    }
    assert!(problems.is_empty(), "{}", problems.join("\n"));
}

#[test]
fn the_scan_sees_an_id() {
    let found = quoted(r#"<p>{{ "a-b"|t }}</p> set("c-d") t("e-f") .with("g", "h-i")"#);
    let ids: Vec<_> = found
        .iter()
        .filter(|one| one.is_id)
        .map(|one| one.words)
        .collect();
    assert_eq!(ids, ["a-b", "e-f"]);
    assert_eq!(found.len(), 5);
}

/// A source without its tests and comments.
fn product(text: &str) -> String {
    let text = text.split("\n#[cfg(test)]\nmod ").next().unwrap_or(text);
    let lines = text
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"));
    lines.flat_map(|line| [line, "\n"]).collect()
}

struct Quoted<'a> {
    words: &'a str,
    /// It is written as an id: `t("…")` in Rust, `"…"|t` in a template.
    is_id: bool,
}

/// What stands in double quotes and looks like an id: small letters, digits and hyphens.
fn quoted(text: &str) -> Vec<Quoted<'_>> {
    let like_an_id = |b: u8| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-';
    let mut found = Vec::new();
    for (start, _) in text.match_indices('"') {
        let rest = &text[start + 1..];
        let Some(end) = rest.find('"') else { break };
        let words = &rest[..end];
        if words.is_empty() || !words.bytes().all(like_an_id) {
            continue;
        }
        let before = text[..start].trim_end();
        let after = &rest[end + 1..];
        let called = before
            .strip_suffix("t(")
            .is_some_and(|before| !before.ends_with(|c: char| c.is_alphanumeric() || c == '_'));
        let filtered = after
            .strip_prefix("|t")
            .is_some_and(|after| !after.starts_with(|c: char| c.is_alphanumeric() || c == '_'));
        found.push(Quoted {
            words,
            is_id: called || filtered,
        });
    }
    found
}

/// Rust and templates of every crate, without tests.
fn sources() -> Vec<PathBuf> {
    let crates = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let mut all = Vec::new();
    for one in fs::read_dir(crates).expect("the crates") {
        let folder = one.expect("a crate").path();
        walk(&folder.join("src"), &mut all);
        walk(&folder.join("templates"), &mut all);
    }
    assert!(all.len() > 100, "the sources are not where they were");
    all.sort();
    all
}

fn walk(folder: &Path, all: &mut Vec<PathBuf>) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for entry in entries {
        let path = entry.expect("an entry").path();
        let kind = path.extension().and_then(|kind| kind.to_str());
        if path.is_dir() {
            walk(&path, all);
        } else if matches!(kind, Some("rs" | "html" | "svg" | "txt" | "typ")) {
            all.push(path);
        }
    }
}

/// All messages of a language. Panics on what the catalogue may not have.
fn messages(language: Language) -> BTreeMap<String, Needs> {
    let mut all = BTreeMap::new();
    for (file, english, german) in FILES {
        let source = match language {
            Language::English => english,
            Language::German => german,
        };
        let parsed = fluent_syntax::parser::parse(*source)
            .unwrap_or_else(|(_, errors)| panic!("{file}.ftl, {}: {errors:?}", language.tag()));
        for entry in &parsed.body {
            let message = match entry {
                Entry::Message(message) => message,
                Entry::Comment(_) | Entry::GroupComment(_) | Entry::ResourceComment(_) => continue,
                other => panic!("{file}.ftl, {}: {other:?}", language.tag()),
            };
            let id = message.id.name.to_owned();
            assert!(
                id.strip_prefix(file)
                    .is_some_and(|rest| rest.starts_with('-')),
                "{file}.ftl: the id \"{id}\" does not begin with the file's name"
            );
            assert!(message.attributes.is_empty(), "{id} has attributes");
            let mut needs = Needs::new();
            let pattern = message.value.as_ref().expect("a message says something");
            read(&id, pattern, &mut needs);
            assert!(
                all.insert(id.clone(), needs).is_none(),
                "{id} is there twice"
            );
        }
    }
    all
}

fn read(id: &str, pattern: &Pattern<&str>, needs: &mut Needs) {
    let mut words = String::new();
    for element in &pattern.elements {
        match element {
            PatternElement::TextElement { value } => words.push_str(value),
            PatternElement::Placeable { expression } => of_expression(id, expression, needs),
        }
    }
    tags(id, &words, needs);
}

fn of_expression(id: &str, expression: &Expression<&str>, needs: &mut Needs) {
    let inline = match expression {
        Expression::Inline(inline) => inline,
        Expression::Select { selector, variants } => {
            for variant in variants {
                read(id, &variant.value, needs);
            }
            selector
        }
    };
    match inline {
        InlineExpression::VariableReference { id } => {
            needs.insert(format!("${}", id.name));
        }
        InlineExpression::StringLiteral { .. } => {}
        other => panic!("{id}: {other:?} is more than the catalogue needs"),
    }
}

/// Each tag of a pattern is a bare name, opened and closed.
fn tags(id: &str, words: &str, needs: &mut Needs) {
    for (start, _) in words.match_indices('<') {
        let end = words[start..]
            .find('>')
            .unwrap_or_else(|| panic!("{id}: a < without a >"));
        let name = words[start + 1..start + end].trim_start_matches('/');
        assert!(
            !name.is_empty() && name.bytes().all(|b| b.is_ascii_lowercase() || b == b'-'),
            "{id}: <{name}> is not the bare name of a tag"
        );
        let count = |tag: String| words.matches(&tag).count();
        assert_eq!(
            count(format!("<{name}>")),
            count(format!("</{name}>")),
            "{id}: <{name}> is not closed"
        );
        needs.insert(format!("<{name}>"));
    }
}
