//! The progress letter: what it says for each verdict, that it invents nothing, and that a child of twelve can read it.

use crate::grade::{grade_of, sentences_of};
use crate::html::text_of;
use crate::sample;
use lessonwright_language::{Language, Say};
use lessonwright_model::{Hand, MeasureName, MomentName, View};
use lessonwright_report::{
    How, LetterChange, LetterContent, LetterPicture, LetterVerdict, NextStep, Practised, Units,
    letter_page, letter_sheet,
};

fn letter(verdict: LetterVerdict, next: NextStep) -> LetterContent {
    let (after, low, high) = match verdict {
        LetterVerdict::Real => (3.1, 1.6, 4.2),
        LetterVerdict::NotYet => (0.8, -1.2, 2.4),
        LetterVerdict::Away => (-3.0, -4.6, -1.8),
    };
    LetterContent {
        say: Say::default(),
        academy: "Harrow Lane Golf Studio".into(),
        coach: "Imke Brandt".into(),
        player: "Tobias Wren".into(),
        date_text: "25 November 2026".into(),
        note: Some("Nice to see you work on it.".into()),
        units: Units::Centimetres,
        drill: "Bump the stick".into(),
        since: "4 November 2026".into(),
        measure: MeasureName::PelvisShift,
        moment: MomentName::LeadArmLevelDown,
        against: Some(MomentName::Top),
        goal: 3.0,
        change: Some(LetterChange {
            verdict,
            before: 0.2,
            after,
            low,
            high,
            toward: 1.0,
            reached: verdict == LetterVerdict::Real,
            in_practice_only: false,
            swings_before: 4,
        }),
        practice: vec![
            Practised {
                how: How::Practice,
                days: 1,
                swings: 5,
            },
            Practised {
                how: How::Later,
                days: 2,
                swings: 6,
            },
        ],
        next,
        pictures: None,
        hand: Hand::Right,
    }
}

fn with_pictures(mut content: LetterContent) -> LetterContent {
    let all = sample::lesson().pictures;
    let at = |moment| {
        let is =
            |p: &&lessonwright_report::KeyPicture| (p.view, p.moment) == (View::FaceOn, moment);
        all.iter().find(is).unwrap().clone()
    };
    let one = |moment, day: &str, value| LetterPicture {
        picture: at(moment),
        day: day.into(),
        value,
    };
    content.pictures = Some(Box::new([
        one(MomentName::LeadArmLevelDown, "4 November 2026", Some(0.4)),
        one(MomentName::LeadArmLevelDown, "25 November 2026", None),
    ]));
    content
}

#[test]
fn each_verdict_is_said_with_its_range_and_no_more() {
    for (verdict, next, says, never) in [
        (
            LetterVerdict::Real,
            NextStep::Progress,
            "at least 1.6 cm (0.6 in) and at most 4.2",
            "can’t tell",
        ),
        (
            LetterVerdict::NotYet,
            NextStep::Keep,
            "2.4 cm (0.9 in) the right way and 1.2 cm (0.5 in) the wrong way",
            "You did it",
        ),
        (
            LetterVerdict::Away,
            NextStep::Change,
            "away from your number. The move is at least 1.8 cm (0.7 in) and at most 4.6",
            "toward your number.",
        ),
    ] {
        let text = text_of(&letter_page(&letter(verdict, next)).unwrap()).replace('\u{a0}', " ");
        assert!(text.contains(says), "{verdict:?}: {text}");
        assert!(!text.contains(never), "{verdict:?}: {text}");
    }
}

#[test]
fn a_goal_on_the_minus_side_swaps_nothing_but_the_sign() {
    let mut content = letter(LetterVerdict::Real, NextStep::Progress);
    let change = content.change.as_mut().unwrap();
    (change.low, change.high, change.toward) = (-4.2, -1.6, -1.0);
    let text = text_of(&letter_page(&content).unwrap());
    assert!(text.contains("at least 1.6"), "{text}");
}

#[test]
fn a_change_that_chance_could_bring_is_not_called_none() {
    let mut content = letter(LetterVerdict::NotYet, NextStep::Keep);
    let change = content.change.as_mut().unwrap();
    (change.low, change.high) = (0.3, 2.9);
    let text = text_of(&letter_page(&content).unwrap());
    assert!(
        text.contains("the right way, by 0.3") && text.contains("by chance"),
        "{text}"
    );
    assert!(!text.contains("the wrong way"), "{text}");
}

#[test]
fn where_a_film_is_missing_nothing_is_claimed() {
    let mut content = letter(LetterVerdict::Real, NextStep::Film);
    content.change = None;
    content.practice.clear();
    let text = text_of(&letter_page(&content).unwrap());
    for words in [
        "We can’t tell yet",
        "One of them is missing.",
        "No swing of yours was filmed since",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    assert!(
        !text.contains("at least") && !text.contains("Before\n"),
        "{text}"
    );
}

#[test]
fn both_pictures_have_words_and_only_the_numbers_that_were_measured() {
    let page = letter_page(&with_pictures(letter(LetterVerdict::Real, NextStep::Keep))).unwrap();
    assert_eq!(
        page.matches("<img src=\"data:image/svg+xml;base64,")
            .count(),
        2
    );
    assert!(page.contains(
        "alt=\"Then, 4 November 2026: Tobias Wren at lead arm level, coming down, seen face-on.\""
    ));
    assert!(!page.contains("<script") && !page.contains("http://") && !page.contains("https://"));
    assert_eq!(page.matches("<figcaption>").count(), 2);
    assert_eq!(
        page,
        letter_page(&with_pictures(letter(LetterVerdict::Real, NextStep::Keep))).unwrap()
    );
}

#[test]
fn the_line_over_a_picture_is_the_numbers_own_and_is_named() {
    let of = |measure| {
        let content = LetterContent {
            measure,
            ..with_pictures(letter(LetterVerdict::Real, NextStep::Keep))
        };
        letter_sheet(&content).unwrap().pictures
    };
    // The yellow of `marks::NOW`.
    let yellow = "#ffcf3f";
    let (shift, head) = (of(MeasureName::PelvisShift), of(MeasureName::HeadShift));
    for picture in &shift {
        assert!(picture.svg.contains(yellow));
        let named = "yellow: middle of the hips";
        assert!(picture.captions.iter().any(|line| line == named));
    }
    for picture in &head {
        assert!(!picture.svg.contains(yellow), "no line shows the head");
        assert!(!picture.captions.iter().any(|line| line.contains("yellow")));
    }
}

#[test]
fn one_swing_is_spoken_of_as_one() {
    let one = |how, say| {
        let content = LetterContent {
            say,
            practice: vec![Practised {
                how,
                days: 1,
                swings: 1,
            }],
            ..letter(LetterVerdict::NotYet, NextStep::Keep)
        };
        letter_sheet(&content).unwrap().practice.items.join(" ")
    };
    let (english, german) = (Say::default(), Say::new(Language::German));
    for (how, say, says) in [
        (
            How::NotSaid,
            english,
            "1 swing on 1 day. Nobody said how it was made.",
        ),
        (How::Later, english, "on 1 day. It shows what you keep."),
        (
            How::NotSaid,
            german,
            "1 Schwung an 1 Tag. Niemand hat gesagt, wie er gemacht wurde.",
        ),
        (How::Later, german, "an 1 Tag. Er zeigt, was Sie behalten."),
    ] {
        let text = one(how, say);
        assert!(text.ends_with(says), "{text}");
    }
}

#[test]
fn a_child_of_twelve_can_read_it() {
    let wait = NextStep::Wait("Ask a physician first.".into());
    for (verdict, next) in [
        (LetterVerdict::Real, NextStep::Progress),
        (LetterVerdict::NotYet, NextStep::Keep),
        (LetterVerdict::Away, NextStep::Change),
        (LetterVerdict::Away, wait),
        (LetterVerdict::NotYet, NextStep::Film),
    ] {
        let name = format!("{verdict:?}, {next:?}");
        let lines = sentences_of(&letter_page(&with_pictures(letter(verdict, next))).unwrap());
        assert!(lines.len() > 6, "{name}: {lines:?}");
        let whole = grade_of(&lines.join(" "));
        assert!(whole <= 6.0, "{name}: grade {whole:.1}");
        for line in lines {
            assert!(grade_of(&line) <= 11.0, "{name}: {line}");
        }
    }
}

#[test]
fn a_german_letter_has_no_english_in_it() {
    for (verdict, next) in [
        (LetterVerdict::Real, NextStep::Progress),
        (LetterVerdict::NotYet, NextStep::Keep),
        (LetterVerdict::Away, NextStep::Change),
    ] {
        let english = LetterContent {
            drill: "Den Stab anstoßen".into(),
            since: "4. November 2026".into(),
            date_text: "25. November 2026".into(),
            note: None,
            ..with_pictures(letter(verdict, next))
        };
        let german = LetterContent {
            say: Say::new(Language::German),
            ..english.clone()
        };
        let [english, german] = [english, german].map(|c| letter_page(&c).unwrap());
        assert!(german.contains("<html lang=\"de\">"));
        let lines =
            |page: &str| -> Vec<String> { text_of(page).lines().map(str::to_owned).collect() };
        let (english, german) = (lines(&english), lines(&german));
        assert_eq!(english.len(), german.len());
        let names = [
            "Harrow Lane",
            "Imke Brandt",
            "25. November",
            "Tobias Wren, Moment",
        ];
        for (one, other) in english.iter().zip(&german) {
            let named = names.iter().any(|name| one.contains(name));
            assert!(one != other || named || one.trim().is_empty(), "{other}");
        }
    }
}
