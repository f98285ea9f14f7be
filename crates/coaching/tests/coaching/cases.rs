//! The written cases of `cases.md`, judged for both hands.

use crate::support;
use crate::support::{adult, all_texts, hidden, judge_seen, measured, mirrored, sound_swing};
use lessonwright_coaching::Coaching;
use lessonwright_model::{Hand, Measure, PlayerFacts, ShownBy};

const TABLE: &str = include_str!("../cases.md");

/// Share of the cases whose expected priority has to be among the first two, as issue 5 asks; first as well, as we
/// ask.
const WANTED: f64 = 0.9;

struct Case {
    name: String,
    measures: Vec<Measure>,
    seen: Vec<String>,
    player: PlayerFacts,
    /// What to begin with, and what could come second; empty for "no change advised".
    expected: Vec<String>,
}

#[test]
fn most_written_cases_get_their_priority() {
    let cases = cases();
    assert!(cases.len() >= 64, "{} cases", cases.len());
    let mut said = String::new();
    for hand in [Hand::Right, Hand::Left] {
        let (mut first, mut among_two) = (0, 0);
        let (mut rivalled, mut first_of_rivals) = (0, 0);
        for case in &cases {
            let coaching = case.judged(hand);
            let places = places(&coaching);
            let place = case.place_in(&places);
            if coaching.ranking.candidates.len() > 1 {
                rivalled += 1;
                first_of_rivals += usize::from(place == Some(0));
            }
            first += usize::from(place == Some(0));
            among_two += usize::from(place.is_some_and(|at| at < 2));
            if place != Some(0) {
                said += &format!(
                    "{} ({hand}): {places:?}, not {:?}\n",
                    case.name, case.expected
                );
            }
        }
        let share = |n: usize| n as f64 / cases.len() as f64;
        println!(
            "{hand}: {} cases, first {:.1} %, among the first two {:.1} %; of {rivalled} with two facts or \
             more first {:.1} %",
            cases.len(),
            100.0 * share(first),
            100.0 * share(among_two),
            100.0 * first_of_rivals as f64 / rivalled as f64,
        );
        assert!(
            rivalled >= cases.len() / 3,
            "{rivalled}: most cases have nothing to choose between"
        );
        for shared in [first, among_two] {
            assert!(
                share(shared) >= WANTED,
                "{shared} of {}:\n{said}",
                cases.len()
            );
        }
    }
    println!("not first:\n{said}");
}

#[test]
fn what_the_rule_is_for_holds_without_exception() {
    // One case for each step of the rule: upstream, flight, uncertainty, set-up, limit, two flights.
    for (name, first) in [
        (
            "slicer, elbow far behind, hips a little late",
            "pelvis_stays_back",
        ),
        (
            "flight decides between unlinked facts: fat",
            "pelvis_behind_at_impact",
        ),
        ("the same, hook", "knees_closed"),
        ("uncertain measures count less", "pelvis_behind_at_impact"),
        ("weak grip and very late hips", "grip_weak"),
        ("stiff shoulder: not the elbow", "hands_under"),
        ("slice and fat: late hips explain both", "pelvis_stays_back"),
        ("contented fader, small finding", "none"),
        ("very uncertain elbow", "none"),
    ] {
        assert_eq!(places(&named(name))[0], first, "{name}");
    }
}

#[test]
fn what_could_come_second_is_among_the_first_three() {
    let mut wrong = Vec::new();
    for case in cases().iter().filter(|case| case.expected.len() > 1) {
        let places = places(&case.judged(Hand::Right));
        let first_three = &places[..places.len().min(3)];
        if !case.expected.iter().all(|key| first_three.contains(key)) {
            wrong.push(format!("{}: {places:?}", case.name));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn a_left_hander_reads_the_right_handers_words_mirrored() {
    for case in cases() {
        let [right, left] = [Hand::Right, Hand::Left].map(|hand| all_texts(&case.judged(hand)));
        let mirror: Vec<String> = right.iter().map(|text| mirrored(text)).collect();
        assert_eq!(mirror, left, "{}", case.name);
    }
}

#[test]
fn no_placeholder_is_ever_left_over() {
    for case in cases() {
        for text in all_texts(&case.judged(Hand::Left)) {
            assert!(!text.contains(['{', '}']), "{}: {text}", case.name);
            assert!(!text.trim().is_empty(), "{}", case.name);
        }
    }
}

#[test]
fn one_priority_comes_whole_or_not_at_all() {
    for case in cases() {
        let coaching = case.judged(Hand::Right);
        let Some(priority) = &coaching.priority else {
            assert!(coaching.drills.is_empty() && coaching.prescription.is_none());
            let notice = coaching.notice.unwrap_or_default();
            assert!(notice.contains("No change advised"), "{}", case.name);
            continue;
        };
        let first = &coaching.ranking.candidates[0];
        assert_eq!(first.key, priority.finding, "{}", case.name);
        let measured = first.shown_by == ShownBy::Measure;
        if measured {
            assert_eq!(coaching.findings[0].key, priority.finding, "{}", case.name);
        }
        assert!(
            priority.chain.len() >= 2,
            "{}: {:?}",
            case.name,
            priority.chain
        );
        let prescription = coaching
            .prescription
            .unwrap_or_else(|| panic!("{} has no prescription", case.name));
        assert_eq!(prescription.drill, coaching.drills[0].key);
        assert_eq!(prescription.reach.is_some(), measured, "{}", case.name);
        assert_eq!(prescription.measure.is_some(), measured, "{}", case.name);
        assert!(!prescription.cue.is_empty() && prescription.check.len() > 40);
        assert!((1..=3).contains(&coaching.drills.len()));
        assert!(coaching.notice.is_none());
    }
}

#[test]
fn probabilities_with_what_nobody_saw_make_one_and_fall() {
    for case in cases() {
        let ranking = case.judged(Hand::Right).ranking;
        let shares: Vec<f64> = ranking.candidates.iter().map(|c| c.probability).collect();
        assert!((shares.iter().sum::<f64>() + ranking.unseen - 1.0).abs() < 1e-12);
        assert!(
            shares.is_sorted_by(|a, b| a >= b),
            "{}: {shares:?}",
            case.name
        );
        for candidate in &ranking.candidates {
            assert!(candidate.why.len() >= 3, "{:?}", candidate.why);
        }
        for other in ranking.candidates.iter().skip(1) {
            assert!(
                other.why.last().unwrap().starts_with("Not before “"),
                "{:?}",
                other.why
            );
        }
        assert!(!ranking.table.is_empty());
    }
}

#[test]
fn an_unseen_upstream_measure_is_named_as_what_would_change_it() {
    let says = named("elbow behind, hips hidden")
        .priority
        .unwrap()
        .would_change_it;
    let unseen =
        "pelvis shift at lead arm level, coming down (seen face-on). If it turned out to be off";
    assert!(says.contains(unseen), "{says}");
}

#[test]
fn a_measure_that_is_off_but_not_surely_is_named_too() {
    let says = named("slicer, only the elbow behind")
        .priority
        .unwrap()
        .would_change_it;
    assert!(!says.contains("not beyond its ±"), "{says}");
    let case = Case {
        measures: [
            measured(support::SHIFT_DOWN, 1.6, 1.5),
            measured(support::ELBOW, -6.0, 3.0),
        ]
        .into(),
        ..find("slicer, only the elbow behind")
    };
    let says = case.judged(Hand::Right).priority.unwrap().would_change_it;
    assert!(
        says.contains("not beyond its ±: pelvis shift at lead arm level"),
        "{says}"
    );
}

#[test]
fn set_up_that_nobody_looked_at_is_named() {
    let says = |name| named(name).priority.unwrap().would_change_it;
    assert!(says("slicer who stays back").contains("look for this first: weak grip"));
    assert!(!says("weak grip and late hips").contains("look for this first"));
}

#[test]
fn a_flight_that_was_not_understood_is_said() {
    let says = named("flight told in other words")
        .priority
        .unwrap()
        .would_change_it;
    assert!(says.contains("\"goes wrong\" was not understood"), "{says}");
}

#[test]
fn no_cause_is_claimed_for_a_flight_without_one() {
    let chain = named("shanks, hips late").priority.unwrap().chain;
    assert!(
        chain
            .last()
            .unwrap()
            .contains("does not by itself explain the shank"),
        "{chain:?}"
    );
}

#[test]
fn the_chain_runs_from_body_to_club_to_flight() {
    let coaching = named("hook, hips late, knees closed");
    let chain = coaching.priority.unwrap().chain;
    let words = [
        "hips moved",
        "knees are",
        "inside the target line",
        "a hook",
    ];
    assert_eq!(chain.len(), words.len(), "{chain:#?}");
    for (sentence, word) in chain.iter().zip(words) {
        assert!(sentence.contains(word), "{word}: {sentence}");
    }
}

#[test]
fn what_a_limit_or_a_goal_does_is_said() {
    let why = |name: &str, key: &str| {
        let ranking = named(name).ranking;
        let one = ranking.candidates.into_iter().find(|c| c.key == key);
        one.unwrap_or_else(|| panic!("{key}")).why.join(" ")
    };
    let limited = why("stiff shoulder: not the elbow", "elbow_behind");
    assert!(
        limited.contains("turns outward little): times 0.25"),
        "{limited}"
    );
    let served = why("wants distance, nothing told", "pelvis_stays_back");
    assert!(served.contains("more distance): times 1.5"), "{served}");
}

#[test]
fn shift_is_told_in_centimetres_and_inches() {
    let says = &named("slicer who stays back").findings[0].says;
    assert!(says.contains("0.3 cm (0.1 in) toward the target"), "{says}");
    assert!(says.contains("2.5 to 10.7 cm (1.0 to 4.2 in)"), "{says}");
}

#[test]
fn the_drill_that_helps_with_the_flight_comes_first() {
    assert_eq!(
        named("slicer, only the elbow behind").drills[0].key,
        "seam_of_the_shirt"
    );
    assert_eq!(
        named("pushes with a long slide").drills[0].key,
        "do_not_run_over_the_post"
    );
    // The cause table lists the heel first; for a slice both help, and its order stands.
    assert_eq!(
        named("slicer who spins open").drills[0].key,
        "trail_heel_down"
    );
    let hook = named("hook, stuck");
    assert!(
        hook.drills
            .iter()
            .any(|drill| drill.key == "chest_keeps_going")
    );
}

#[test]
fn a_drill_that_would_feed_the_complaint_is_left_out() {
    let keys = |name| {
        named(name)
            .drills
            .into_iter()
            .map(|drill| drill.key)
            .collect::<Vec<_>>()
    };
    // A closed stance and a wait of the chest help a slice and feed a hook.
    assert!(keys("slicer who stays back").contains(&"turn_your_back_first".to_string()));
    assert!(!keys("hook, hips late, knees closed").contains(&"turn_your_back_first".to_string()));
}

#[test]
fn a_drill_that_the_body_forbids_is_left_out() {
    let mut case = find("slicer who stays back");
    let before = case.judged(Hand::Right).drills;
    case.player.limits = vec!["balance".into(), "lead_knee_load".into()];
    let after = case.judged(Hand::Right).drills;
    assert!(before.iter().any(|drill| drill.key == "bump_the_stick"));
    for key in ["bump_the_stick", "step_into_it", "pause_and_press"] {
        assert!(after.iter().all(|drill| drill.key != key), "{key}");
    }
    assert!(!after.is_empty());
}

#[test]
fn where_no_drill_remains_that_is_said_to_both() {
    // Every drill for the elbow either needs the shoulder or would feed a push.
    let mut case = find("blocks, only the elbow behind");
    case.player.limits = vec!["trail_shoulder_out".into()];
    let [right, left] = [Hand::Right, Hand::Left].map(|hand| case.judged(hand));
    assert!(right.priority.is_some() && right.drills.is_empty() && right.prescription.is_none());
    assert!(
        right
            .notice
            .as_ref()
            .unwrap()
            .contains("your professional will show you one")
    );
    let said = right
        .ranking
        .notes
        .iter()
        .any(|note| note.contains("No drill remains"));
    assert!(said, "{:?}", right.ranking.notes);
    let mirror: Vec<String> = all_texts(&right)
        .iter()
        .map(|text| mirrored(text))
        .collect();
    assert_eq!(mirror, all_texts(&left));
}

fn named(name: &str) -> Coaching {
    find(name).judged(Hand::Right)
}

fn find(name: &str) -> Case {
    let case = cases().into_iter().find(|case| case.name == name);
    case.unwrap_or_else(|| panic!("no case \"{name}\""))
}

/// The keys in order; "none" alone where no change is advised.
fn places(coaching: &Coaching) -> Vec<String> {
    match coaching.priority {
        None => vec!["none".into()],
        Some(_) => coaching
            .ranking
            .candidates
            .iter()
            .map(|c| c.key.clone())
            .collect(),
    }
}

impl Case {
    fn judged(&self, hand: Hand) -> Coaching {
        let seen: Vec<&str> = self.seen.iter().map(String::as_str).collect();
        judge_seen(&self.measures, &seen, hand, &self.player)
    }

    fn place_in(&self, places: &[String]) -> Option<usize> {
        places.iter().position(|key| *key == self.expected[0])
    }
}

fn cases() -> Vec<Case> {
    let table = TABLE.split("| case |").nth(1).expect("the table of cases");
    table
        .lines()
        .filter(|line| line.starts_with('|'))
        .skip(1)
        .map(case)
        .collect()
}

fn case(line: &str) -> Case {
    let cells: Vec<&str> = line.split('|').map(str::trim).collect();
    let [_, name, measures, seen, flight, player, expected, why, _] = cells[..] else {
        panic!("{line}")
    };
    assert!(!why.is_empty(), "{line}");
    let words = |cell: &str| -> Vec<String> {
        cell.split(',')
            .map(str::trim)
            .filter(|w| !w.is_empty())
            .map(String::from)
            .collect()
    };
    let after = |what| player.strip_prefix(what).map(words).unwrap_or_default();
    Case {
        name: name.into(),
        measures: swing(measures),
        seen: words(seen),
        player: PlayerFacts {
            limits: after("limits: "),
            goals: after("goals: "),
            ..adult(flight)
        },
        expected: words(expected),
    }
}

/// A sound swing but for what the cell says.
fn swing(cell: &str) -> Vec<Measure> {
    let (only, said) = match cell.strip_prefix("only: ") {
        Some(rest) => (true, rest),
        None => (false, cell),
    };
    let mut said: Vec<(&str, &str)> = said
        .split(';')
        .map(str::trim)
        .filter(|item| !item.is_empty())
        .map(|item| {
            let number = |c: char| c.is_ascii_digit() || c == '−';
            let at = item.find(number).or_else(|| item.find("hidden"));
            let (word, value) = item.split_at(at.unwrap_or_else(|| panic!("{item}")));
            (word.trim(), value)
        })
        .collect();
    let mut measures = Vec::new();
    for (word, place, [value, half_width]) in sound_swing() {
        let is = |(said, _): &(&str, &str)| {
            *said == word || (word == "hands over" && *said == "hands under")
        };
        match said.iter().position(is).map(|at| said.remove(at)) {
            Some((_, "hidden")) => measures.push(hidden(place)),
            Some((_, text)) => {
                let (value, half) = text.split_once(" ± ").expect("value ± half-width");
                let number = |text: &str| text.replace('−', "-").parse().expect("a number");
                measures.push(measured(place, number(value), number(half)));
            }
            None if only => {}
            None => measures.push(measured(place, value, half_width)),
        }
    }
    assert!(said.is_empty(), "no such measure: {said:?}");
    measures
}
