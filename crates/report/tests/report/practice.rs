//! A plan as part of a page, as a card and as a calendar file.
//!
//! The calendar is held against the text of RFC 5545 here, and read back by an outside parser in
//! `tests/browser/practice.test.js` (`ical.js`).

use crate::sample;
use jiff::ToSpan;
use jiff::civil::{Date, Time};
use lessonwright_language::{Language, Say};
use lessonwright_model::{
    Block, BlockKind, Feet, Hand, Layout, Practice, PracticePlace, PracticePlan, Reason, Season,
    Session, Thing, ThingKind,
};
use lessonwright_report::{
    CardFor, LessonContent, calendar, lesson_page, plan_part, practice_card,
};

const FROM: Date = Date::constant(2026, 11, 27);

fn block(kind: BlockKind, rounds: u32, swings: u32, balls: u32) -> Block {
    Block {
        kind,
        says: match kind {
            BlockKind::Drill => "Bump the stick. Slow: the touch alone, arms crossed.".into(),
            _ => "Walk; turn, and swing \"easily\" — small first \\ then larger.".into(),
        },
        rounds,
        swings,
        balls,
        rest_s: 60,
        time_s: 290,
        look: "Look after the round.".into(),
    }
}

fn plan(sessions: i64, at: Option<Time>) -> PracticePlan {
    let session = |index: i64| {
        let mut blocks = vec![block(BlockKind::WarmUp, 0, 0, 0)];
        if index % 4 == 3 {
            blocks.push(block(BlockKind::Check, 1, 3, 3));
        }
        blocks.push(block(BlockKind::Drill, 2, 8, 0));
        Session {
            number: index as usize + 1,
            date: FROM.checked_add((2 * index).days()).unwrap(),
            blocks,
        }
    };
    PracticePlan {
        title: "Move the lower body toward the target first".into(),
        drill: "bump_the_stick".into(),
        drill_title: "Bump the stick".into(),
        practice: Practice {
            from: FROM,
            next_lesson: FROM.checked_add((2 * sessions).days()).unwrap(),
            days: vec![1, 3, 5],
            minutes: 20,
            place: PracticePlace::Mat,
            season: Season::Between,
            at,
        },
        cue: "Touch the stick before the club starts down <now>.".into(),
        cue_inward: "Let the belt buckle go first.".into(),
        station: vec!["a soft foam pole".into(), "a short iron".into()],
        hand: Hand::Right,
        layout: Some(Layout {
            feet: Feet::Apart,
            ball: true,
            things: vec![
                thing(ThingKind::Pole, None),
                thing(ThingKind::Wall, Some([37.0, -20.0])),
            ],
        }),
        checkpoint: "8 of 10 touches come before the hands have dropped.".into(),
        check: "Film face-on. The number to reach: hips 2.0 cm (0.8 in) toward the target.".into(),
        sessions: (0..sessions).map(session).collect(),
        lowered: vec!["Over 65: half the swings and a day of rest between.".into()],
        cautions: vec!["Stop at once on new, sharp or spreading pain.".into()],
        why: vec![Reason {
            says: "Short sessions.".into(),
            source: "Common practice, no source.".into(),
        }],
        edition: "standard 2026-11".into(),
    }
}

fn thing(kind: ThingKind, to: Option<[f64; 2]>) -> Thing {
    Thing {
        kind,
        at: [37.0, -72.0],
        to,
        size: None,
        says: "a hand's width from the <hip>".into(),
    }
}

/// Middles of the circles of a class, px.
fn circles(html: &str, class: &str) -> Vec<[f64; 2]> {
    let number = |tag: &str, name: &str| -> f64 {
        let rest = tag.split_once(&format!(" {name}=\"")).unwrap().1;
        rest.split_once('"').unwrap().0.parse().unwrap()
    };
    let tags = html
        .split("<circle")
        .skip(1)
        .map(|tag| tag.split_once('>').unwrap().0);
    tags.filter(|tag| tag.contains(&format!("class=\"{class}\"")))
        .map(|tag| [number(tag, "cx"), number(tag, "cy")])
        .collect()
}

#[test]
fn a_station_is_drawn_as_the_player_sees_it_and_mirrored_for_the_other_hand() {
    let right = plan(2, None);
    let left = PracticePlan {
        hand: Hand::Left,
        ..right.clone()
    };
    let [right, left] = [right, left].map(|plan| plan_part(&plan, Say::default()).unwrap());
    let x = |html: &str, class| circles(html, class)[0][0];
    // Facing the ball with the target on the left, a pole on the lead side is left of the ball; for a left-hander right.
    assert!(x(&right, "point") < x(&right, "ball"), "{right}");
    assert!(x(&left, "point") > x(&left, "ball"), "{left}");
    let apart = |html: &str| (x(html, "point") - x(html, "ball")).abs();
    assert!((apart(&right) - apart(&left)).abs() < 0.11);
    // The ball is farther from the player: higher in the picture than the pole beside the hip.
    assert!(circles(&right, "ball")[0][1] < circles(&right, "point")[0][1]);
    assert!(
        right.contains("a hand&#39;s width from the &#60;hip&#62;"),
        "{right}"
    );
}

#[test]
fn the_part_says_every_day_once_and_alike_days_together() {
    let part = plan_part(&plan(6, None), Say::default()).unwrap();
    for text in [
        "<strong>6 sessions</strong> until the lesson of 9 December 2026",
        "on a mat, into a net",
        "99 swings and movements in all",
        "2 rounds of 8 swings without a ball, rest 1 minute between",
        "Fri 27 Nov</span>, <span class=\"plan-day\">Sun 29 Nov</span>, <span class=\"plan-day\">Tue 1 Dec",
        "Less than usual, because",
        "&#60;now&#62;",
        "Common practice, no source.",
    ] {
        assert!(part.contains(text), "{text}: {part}");
    }
    assert_eq!(part.matches("class=\"plan-day\"").count(), 6);
    // Three alike, one filmed, two alike.
    assert_eq!(part.matches("<h3>").count() - 2, 3);
}

#[test]
fn a_lesson_has_the_plan_in_it_where_there_is_one() {
    let with = LessonContent {
        plan: Some(plan(6, None)),
        ..sample::lesson()
    };
    let page = lesson_page(&with).unwrap();
    assert!(page.contains("Your practice until we meet again"));
    assert!(page.contains("<strong>6 sessions</strong> until the lesson of 9 December 2026"));
    assert!(
        !lesson_page(&sample::lesson())
            .unwrap()
            .contains("Your practice")
    );
}

#[test]
fn the_card_has_a_box_for_every_day_and_needs_nothing_else() {
    let card_for = CardFor {
        academy: "Tern Hollow Golf Studio",
        coach: "Ruth Marlow",
        player: "Ines <Okoro>",
    };
    for sessions in [1, 14, 15, 48] {
        let card = practice_card(&plan(sessions, None), &card_for, Say::default()).unwrap();
        assert_eq!(card.matches("class=\"box\"").count(), sessions as usize);
        assert_eq!(
            card.matches("<table>").count(),
            if sessions > 14 { 2 } else { 1 }
        );
        assert!(card.contains("Ines &#60;Okoro&#62;"));
        for outside in ["http", "<script", "src="] {
            assert!(!card.contains(outside), "{outside}");
        }
    }
    let one = practice_card(&plan(1, None), &card_for, Say::default()).unwrap();
    assert!(one.contains("1 session on a mat"), "{one}");
}

#[test]
fn a_step_that_german_writes_large_stays_large() {
    let card_for = CardFor {
        academy: "",
        coach: "",
        player: "Ines Okoro",
    };
    for (language, says, step) in [
        (
            Language::English,
            "Bump the stick. Ball: a ball on a tee.",
            "2 × 8, ball",
        ),
        (
            Language::German,
            "Den Stab anstoßen. Ball: ein Ball auf dem Tee.",
            "2 × 8, Ball",
        ),
    ] {
        let mut plan = plan(1, None);
        for block in &mut plan.sessions[0].blocks {
            block.says = says.into();
        }
        let card = practice_card(&plan, &card_for, Say::new(language)).unwrap();
        assert!(card.contains(&format!("<td>{step}</td>")), "{card}");
    }
}

#[test]
fn the_calendar_keeps_to_the_standard() {
    for at in [
        None,
        Some(Time::constant(17, 30, 0, 0)),
        Some(Time::constant(23, 55, 0, 0)),
    ] {
        let plan = plan(6, at);
        let file = calendar(&plan, "player-7", Say::default());
        // The same plan, the same bytes: no clock, no chance.
        assert_eq!(file, calendar(&plan, "player-7", Say::default()));
        // RFC 5545, 3.1: lines end with CR LF and are no longer than 75 octets.
        assert!(file.ends_with("END:VCALENDAR\r\n"));
        assert!(!file.replace("\r\n", "").contains(['\r', '\n']));
        for line in file.split("\r\n") {
            assert!(line.len() <= 75, "{line}");
        }
        let unfolded = file.replace("\r\n ", "");
        let count = |text: &str| unfolded.matches(text).count();
        assert_eq!(count("BEGIN:VEVENT"), 7);
        // 3.6: VERSION and PRODID once; 3.6.1: UID and DTSTAMP in every event, and in nothing else (3.6.6).
        assert_eq!((count("\r\nVERSION:2.0\r\n"), count("\r\nPRODID:")), (1, 1));
        assert_eq!((count("\r\nUID:player-7-"), count("\r\nUID:")), (7, 7));
        assert_eq!(
            (count("\r\nDTSTAMP:20261127T000000Z"), count("\r\nDTSTAMP")),
            (7, 7)
        );
        // 3.3.11: commas, semicolons, backslashes and line ends of a text are escaped.
        assert!(
            unfolded
                .contains("Walk\\; turn\\, and swing \"easily\" — small first \\\\ then larger.")
        );
        match at {
            None => {
                assert_eq!(count("DTSTART;VALUE=DATE:"), 7);
                assert!(unfolded.contains("DTSTART;VALUE=DATE:20261127\r\n"));
                assert!(unfolded.contains("DTEND;VALUE=DATE:20261128\r\n"));
            }
            Some(at) => {
                let start = format!("DTSTART:20261127T{}\r\n", at.strftime("%H%M%S"));
                assert!(unfolded.contains(&start), "{unfolded}");
                // 10 minutes; past midnight the day goes on.
                let end = FROM.to_datetime(at).checked_add(10.minutes()).unwrap();
                let end = format!("DTEND:{}\r\n", end.strftime("%Y%m%dT%H%M%S"));
                assert!(unfolded.contains(&end), "{unfolded}");
            }
        }
    }
}
