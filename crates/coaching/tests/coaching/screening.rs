//! What may be prescribed to whom: the written table `screening_cases.md`, and what holds besides.

use crate::support::{NOW, SHIFT_DOWN, adult, judge, measured};
use jiff::{SignedDuration, Timestamp};
use lessonwright_coaching::{Ask, Care, CauseTable, DrillBook, ScreeningRules};
use lessonwright_language::Say;
use lessonwright_model::{Cleared, Hand, Pain, PlayerFacts, Screening};

const CASES: &str = include_str!("../screening_cases.md");

struct Row {
    name: String,
    player: PlayerFacts,
    care: String,
    approved: bool,
    limits: Vec<String>,
}

#[test]
fn every_written_case_comes_out_as_written() {
    let rules = ScreeningRules::standard();
    let rows = rows();
    assert!(rows.len() >= 35, "{}", rows.len());
    let mut wrong = Vec::new();
    for row in &rows {
        let screened = rules.screen(&row.player, NOW);
        let care = match screened.care {
            Care::Full => "full",
            Care::Lowered(_) => "lowered",
            Care::Withheld => "withheld",
        };
        let approved = screened.refusal().is_none();
        if (care, approved, &screened.limits) != (row.care.as_str(), row.approved, &row.limits) {
            wrong.push(format!(
                "{}: {care}, {approved}, {:?}",
                row.name, screened.limits
            ));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn what_is_refused_says_why_and_whom_to_see() {
    let rules = ScreeningRules::standard();
    for row in rows().iter().filter(|row| row.care == "withheld") {
        let refusal = rules.screen(&row.player, NOW).refusal().unwrap();
        let refusal = Say::default().text(&refusal);
        let names = ["physician", "physiotherapist", "surgeon"];
        assert!(
            names.iter().any(|name| refusal.contains(name)),
            "{}: {refusal}",
            row.name
        );
        let coaching = judge(&[measured(SHIFT_DOWN, 0.0, 1.0)], Hand::Left, &row.player);
        assert!(
            coaching.drills.is_empty() && coaching.prescription.is_none(),
            "{}",
            row.name
        );
        assert!(
            coaching.notice.unwrap().contains("gives no exercise"),
            "{}",
            row.name
        );
    }
}

#[test]
fn the_days_are_whole_and_a_clock_set_back_does_no_harm() {
    let rules = ScreeningRules::standard();
    let asked = |ago: SignedDuration| {
        let player = PlayerFacts {
            screening: Some(Screening::nothing(NOW - ago)),
            ..adult("slice")
        };
        rules.screen(&player, NOW).ask
    };
    let hours = SignedDuration::from_hours;
    assert_eq!(asked(hours(90 * 24 + 23)), None);
    assert_eq!(asked(hours(91 * 24)), Some(Ask::TooOld(91)));
    assert_eq!(asked(hours(-24)), None);
}

#[test]
fn what_hurts_leaves_drills_out_that_are_not_for_it() {
    let book = DrillBook::standard();
    let with_pain = |pain: &str| PlayerFacts {
        screening: Some(answers(&format!("pain {pain}"), NOW)),
        ..adult("slice")
    };
    let mut left_out = 0;
    for pain in [
        "knee=2",
        "low_back=2",
        "hip=2",
        "shoulder=3",
        "wrist_hand=1",
    ] {
        let player = with_pain(pain);
        let limits = ScreeningRules::standard().screen(&player, NOW).limits;
        for value in [-3.0, 0.0] {
            let coaching = judge(&[measured(SHIFT_DOWN, value, 1.0)], Hand::Right, &player);
            for drill in &coaching.drills {
                assert!(
                    !book.page(&drill.key).unwrap().is_not_with(&limits),
                    "{pain}: {}",
                    drill.key
                );
                assert!(
                    drill.dose.contains("lowered dose (pain of"),
                    "{}",
                    drill.dose
                );
            }
            let healthy = judge(
                &[measured(SHIFT_DOWN, value, 1.0)],
                Hand::Right,
                &adult("slice"),
            );
            let keys = |c: &lessonwright_coaching::Coaching| -> Vec<String> {
                c.drills.iter().map(|d| d.key.clone()).collect()
            };
            left_out += usize::from(keys(&healthy) != keys(&coaching));
        }
    }
    assert!(left_out > 0, "no pain changed a drill");
}

#[test]
fn a_note_typed_besides_is_not_forgotten() {
    let told = |note: &str| PlayerFacts {
        health_note: Some(note.into()),
        screening: Some(Screening::nothing(NOW)),
        ..adult("slice")
    };
    let rules = ScreeningRules::standard();
    assert_eq!(
        rules.screen(&told("hurt my back"), NOW).care,
        Care::Withheld
    );
    assert_eq!(rules.screen(&told("none"), NOW).care, Care::Full);
}

#[test]
fn the_rules_fit_the_causes_and_a_bad_file_says_what_and_where() {
    let rules = ScreeningRules::standard();
    rules
        .check_with("screening.toml", &CauseTable::standard())
        .unwrap();
    let cases = [
        (
            "limits = [\"balance\"]",
            "limits = [\"balence\"]",
            "balence",
        ),
        ("format = 1", "format = 9", "format 1"),
        (
            "from = 4, to = 6",
            "from = 6, to = 4",
            "smaller number first",
        ),
        ("from = 7 ", "from = 11 ", "1 to 10"),
        ("when = { injury = true }", "when = {}", "when it holds"),
        ("key = \"junior\"", "key = \"senior\"", "already"),
        (
            "age = { to = 15 }",
            "age = { from = 16, to = 15 }",
            "no age",
        ),
        ("once_cleared = \"lower\"\n", "", "once_cleared"),
        ("areas = [\"hip\"]", "areas = [\"hips\"]", "hips"),
        (
            "ask_again_after_days = 90",
            "ask_again_after_days = 0",
            "at least 1",
        ),
    ];
    for (from, to, says) in cases {
        let text = ScreeningRules::standard_toml();
        assert!(text.contains(from), "{from}");
        let text = text.replacen(from, to, 1);
        let read = ScreeningRules::parse("own.toml", &text)
            .and_then(|rules| rules.check_with("own.toml", &CauseTable::standard()));
        let error = read.unwrap_err().to_string();
        assert!(
            error.contains("own.toml") && error.contains(says),
            "{says}: {error}"
        );
    }
}

fn rows() -> Vec<Row> {
    let lines = CASES.lines().skip_while(|line| !line.starts_with("|---"));
    lines.skip(1).map(row).collect()
}

fn row(line: &str) -> Row {
    let cells: Vec<&str> = line.split('|').map(str::trim).collect();
    let [_, name, age, asked, told, care, approved, limits, _] = cells[..] else {
        panic!("{line}")
    };
    let asked_at = |days: &str| NOW - SignedDuration::from_hours(24 * days.parse::<i64>().unwrap());
    assert!(["full", "lowered", "withheld"].contains(&care), "{line}");
    Row {
        name: name.into(),
        player: PlayerFacts {
            age_years: age.parse().ok(),
            health_note: None,
            screening: (asked != "never").then(|| answers(told, asked_at(asked))),
            ..adult("slice")
        },
        care: care.into(),
        approved: approved == "yes",
        limits: limits.split_whitespace().map(Into::into).collect(),
    }
}

fn answers(text: &str, asked_at: Timestamp) -> Screening {
    let mut answers = Screening::nothing(asked_at);
    for told in text.split(',').map(str::trim) {
        let (word, rest) = told.split_once(' ').unwrap_or((told, ""));
        match (word, rest) {
            ("none", "") => {}
            ("pain", rest) => answers.pains.push(Pain::read(rest).unwrap()),
            ("warning", "signs") => answers.warning_signs = true,
            ("injury", "") => answers.injury = true,
            ("surgery", months) => answers.surgery_months_ago = Some(months.parse().unwrap()),
            ("medicine", "") => answers.balance_medicine = true,
            ("condition", "") => answers.condition = true,
            ("other", "") => answers.other = "something".into(),
            ("cleared", days) => {
                let ago = SignedDuration::from_hours(24 * days.parse::<i64>().unwrap());
                let on = (NOW - ago).to_zoned(jiff::tz::TimeZone::UTC).date();
                let by = "Dr. Anselm Roe".into();
                answers.cleared = Some(Cleared { by, on });
            }
            _ => panic!("{told}"),
        }
    }
    answers
}
