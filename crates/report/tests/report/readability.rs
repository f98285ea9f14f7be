//! How hard the lesson is to read, by the grade of Flesch and Kincaid: a child of twelve is in grade 6 or 7.

use crate::grade::{Count, grade, sentences_of};
use crate::sample;
use lessonwright_report::lesson_page;
use serde_json::Value;

#[test]
fn grades_agree_with_an_outside_program() {
    // testdata/readability/reference.py; its syllables are counted by hyphenation, which finds some 3 % fewer.
    let reference = include_str!("../../../../testdata/readability/grades.json");
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
        ("captured", crate::captured()),
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
