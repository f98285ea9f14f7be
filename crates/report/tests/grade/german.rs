//! How hard a German text is to read: Flesch's reading ease as Amstad fitted it to German. 60 to 70 is plain, for the age of 13
//! to 15; 70 to 80 easy, for 11; below 50 hard (bands as for English, from memory).

/// Amstad 1978, "Wie verständlich sind unsere Zeitungen?", dissertation, Zürich (from memory):
/// ease = 180 − words/sentences − 58.5 · syllables/words.
pub fn ease(text: &str) -> f64 {
    let words: Vec<&str> = text
        .split(|c: char| !c.is_alphabetic())
        .filter(|word| !word.is_empty())
        .collect();
    // A colon ends what is read at once in German, where a whole sentence follows it.
    let ends = text
        .split_whitespace()
        .filter(|w| w.ends_with(['.', '!', '?', ':', ';']));
    let (sentences, count) = (ends.count().max(1) as f64, words.len() as f64);
    let syllables: usize = words.iter().map(|word| syllables(word)).sum();
    180.0 - count / sentences - 58.5 * syllables as f64 / count
}

/// Groups of vowels; "ie", "ei", "eu", "au", "äu" are one, two other vowels side by side are two ("Theater").
pub fn syllables(word: &str) -> usize {
    let letters: Vec<char> = word.to_lowercase().chars().collect();
    let vowel = |c: char| "aeiouyäöü".contains(c);
    let pair = |a: char, b: char| {
        a == b
            || matches!(
                (a, b),
                ('i', 'e') | ('e', 'i') | ('e', 'u') | ('a', 'u') | ('ä', 'u') | ('a', 'i')
            )
    };
    let mut count = 0;
    let mut at = 0;
    while at < letters.len() {
        if vowel(letters[at]) {
            count += 1;
            let next = letters.get(at + 1).copied();
            at += usize::from(next.is_some_and(|next| pair(letters[at], next)));
        }
        at += 1;
    }
    count.max(1)
}
