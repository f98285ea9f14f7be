//! The sections of a drill's page, and the rungs of its progressions.

use lessonwright_language::Language;

/// Their headings, in order.
pub(super) const SECTIONS: [&str; 7] = [
    "Set-up",
    "Steps",
    "Feel",
    "Watch for",
    "Progressions",
    "Cautions",
    "Who should not",
];

const GERMAN: [&str; SECTIONS.len()] = [
    "Aufbau",
    "Ablauf",
    "Gefühl",
    "Achten Sie auf",
    "Steigerung",
    "Vorsicht",
    "Nicht für",
];

/// The headings of a language, in the same order.
pub(super) fn headings(language: Language) -> [&'static str; SECTIONS.len()] {
    match language {
        Language::English => SECTIONS,
        Language::German => GERMAN,
    }
}

/// Looks whether the progressions are the five rungs of a language, in order.
pub(super) fn rungs(items: &[String], language: Language) -> Result<(), String> {
    let names = match language {
        Language::English => ["Slow", "Half", "Full", "Ball", "Course"],
        Language::German => ["Langsam", "Halb", "Voll", "Ball", "Platz"],
    };
    let begins = |(item, name): (&String, &str)| {
        item.strip_prefix(name)
            .is_some_and(|rest| rest.starts_with(": "))
    };
    if items.len() == names.len() && items.iter().zip(names).all(begins) {
        Ok(())
    } else {
        Err(format!(
            "give five items that begin with {}, in this order",
            names.map(|name| format!("\"{name}: \"")).join(", ")
        ))
    }
}

/// The items under each heading: list items, or the lines of a paragraph, joined. What is wrong comes with
/// where it is.
pub(super) fn sections(
    body: &str,
    headings: [&'static str; SECTIONS.len()],
) -> Result<[Vec<String>; SECTIONS.len()], (String, String)> {
    let mut found: [Vec<String>; SECTIONS.len()] = Default::default();
    let mut current = None;
    for line in body.lines() {
        if let Some(heading) = line.strip_prefix("## ") {
            let next = headings.iter().position(|known| *known == heading.trim());
            if next.is_none() || next <= current {
                let expected = headings.join(", ");
                return Err((
                    heading.into(),
                    format!("the headings are {expected}, in this order: correct this one"),
                ));
            }
            current = next;
            continue;
        }
        let text = line.trim();
        if text.is_empty() {
            continue;
        }
        let Some(section) = current else {
            return Err((
                text.into(),
                "text before the first heading: move it below one".into(),
            ));
        };
        match (list_item(text), found[section].last_mut()) {
            (Some(item), _) => found[section].push(item.into()),
            (None, Some(item)) => {
                item.push(' ');
                item.push_str(text);
            }
            (None, None) => found[section].push(text.into()),
        }
    }
    match found.iter().position(Vec::is_empty) {
        Some(empty) => Err((
            headings[empty].into(),
            "this section is missing or empty: write it".into(),
        )),
        None => Ok(found),
    }
}

/// The text after "- " or "3. ".
fn list_item(line: &str) -> Option<&str> {
    if let Some(item) = line.strip_prefix("- ") {
        return Some(item);
    }
    let (number, item) = line.split_once(". ")?;
    number.chars().all(|c| c.is_ascii_digit()).then_some(item)
}
