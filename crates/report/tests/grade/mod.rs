//! How hard a text is to read, by the grade of Flesch and Kincaid: a child of twelve is in grade 6 or 7.

use crate::html::text_of;

/// Kincaid, Fishburne, Rogers and Chissom 1975, "Derivation of new readability formulas for Navy enlisted
/// personnel", Research Branch Report 8-75:
/// grade = 0.39 words/sentences + 11.8 syllables/words − 15.59.
pub fn grade(count: Count) -> f64 {
    let (sentences, words) = (count.sentences as f64, count.words as f64);
    0.39 * words / sentences + 11.8 * count.syllables as f64 / words - 15.59
}

/// The grade of a text.
pub fn grade_of(text: &str) -> f64 {
    grade(Count::of(text))
}

#[derive(Clone, Copy, Default)]
pub struct Count {
    pub sentences: usize,
    pub words: usize,
    pub syllables: usize,
}

impl Count {
    pub fn of(text: &str) -> Count {
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
pub fn sentences_of(page: &str) -> Vec<String> {
    let text = text_of(page);
    text.lines()
        .filter(|line| line.ends_with(['.', '!', '?']) && line.split(' ').count() >= 4)
        .map(str::to_owned)
        .collect()
}
