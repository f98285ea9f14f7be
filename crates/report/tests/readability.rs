//! How hard the lesson is to read, by the grade of Flesch and Kincaid: a child of twelve is in grade 6 or 7.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod html;
mod sample;

use html::text_of;
use lessonwright_report::lesson_page;
use serde_json::Value;

/// Kincaid, Fishburne, Rogers and Chissom 1975, "Derivation of new readability formulas for Navy enlisted
/// personnel", Research Branch Report 8-75:
/// grade = 0.39 words/sentences + 11.8 syllables/words − 15.59.
fn grade(count: Count) -> f64 {
    let (sentences, words) = (count.sentences as f64, count.words as f64);
    0.39 * words / sentences + 11.8 * count.syllables as f64 / words - 15.59
}

#[derive(Clone, Copy, Default)]
struct Count {
    sentences: usize,
    words: usize,
    syllables: usize,
}

impl Count {
    fn of(text: &str) -> Count {
        let words = text.split(|c: char| !c.is_alphabetic() && c != '\'');
        let words: Vec<&str> = words
            .filter(|word| word.chars().any(char::is_alphabetic))
            .collect();
        let ends = text
            .split_whitespace()
            .filter(|w| w.ends_with(['.', '!', '?', ':']))
            .count();
        let colons = text.split_whitespace().filter(|w| w.ends_with(':')).count();
        Count {
            sentences: (ends - colons).max(1),
            words: words.len(),
            syllables: words.iter().map(|word| syllables(word)).sum(),
        }
    }
}

/// Groups of vowels, without a silent e at the end or before an s; "ed" after other letters than t and d is silent too. A rule of
/// thumb: dictionaries differ from it by a few in a hundred.
fn syllables(word: &str) -> usize {
    let word = word.to_lowercase();
    let vowel = |c: char| "aeiouy".contains(c);
    let mut groups = 0;
    let mut before = false;
    for letter in word.chars() {
        groups += usize::from(vowel(letter) && !before);
        before = vowel(letter);
    }
    let silent_e = word.ends_with('e') && !word.ends_with("le") && groups > 1;
    let hissed = ["ses", "xes", "zes", "ces", "ges", "ches", "shes", "les"];
    let silent_es =
        word.ends_with("es") && groups > 1 && !hissed.iter().any(|end| word.ends_with(end));
    let silent_ed =
        word.ends_with("ed") && !word.ends_with("ted") && !word.ends_with("ded") && groups > 1;
    groups = if silent_e || silent_es || silent_ed {
        groups - 1
    } else {
        groups
    };
    groups.max(1)
}

/// Sentences alone: lines that end as one does. Headings and numbers under pictures are none.
fn sentences_of(page: &str) -> Vec<String> {
    let text = text_of(page);
    text.lines()
        .filter(|line| line.ends_with(['.', '!', '?']) && line.split(' ').count() >= 4)
        .map(str::to_owned)
        .collect()
}

#[test]
fn grades_agree_with_an_outside_program() {
    // testdata/readability/reference.py; its syllables are counted by hyphenation, which finds some 3 % fewer.
    let reference = include_str!("../../../testdata/readability/grades.json");
    let reference: Value = serde_json::from_str(reference).unwrap();
    let passages = reference["passages"].as_array().unwrap();
    assert!(passages.len() >= 5);
    for passage in passages {
        let text = passage["text"].as_str().unwrap();
        let count = Count::of(text);
        assert_eq!(
            count.words,
            passage["words"].as_u64().unwrap() as usize,
            "{text}"
        );
        assert_eq!(
            count.sentences,
            passage["sentences"].as_u64().unwrap() as usize,
            "{text}"
        );
        let (ours, theirs) = (grade(count), passage["grade"].as_f64().unwrap());
        // Never easier than the other says by much, and harder by no more than an eighth of the syllables: short words lose
        // none to hyphenation, long ones lose most.
        let missed = 11.8 * 0.125 * count.syllables as f64 / count.words as f64;
        assert!(
            (-0.5..=missed).contains(&(ours - theirs)),
            "{ours:.1} against {theirs:.1}: {text}"
        );
    }
}

#[test]
fn a_child_of_twelve_can_read_the_lesson() {
    for (name, content) in [
        ("one thing", sample::lesson()),
        ("left-handed", sample::left_handed()),
        ("nothing to change", sample::nothing_to_change()),
        ("too little", sample::too_little()),
    ] {
        let lines = sentences_of(&lesson_page(&content).unwrap());
        assert!(lines.len() > 10, "{name}: {} lines", lines.len());
        let whole = grade(Count::of(&lines.join(" ")));
        println!("{name}: grade {whole:.1}");
        assert!(whole <= 6.0, "{name}: grade {whole:.1}");
        for line in lines {
            // One hard sentence puts off more than ten easy ones win.
            let hard = grade(Count::of(&line));
            assert!(hard <= 11.0, "{name}: grade {hard:.1}: {line}");
        }
    }
}
