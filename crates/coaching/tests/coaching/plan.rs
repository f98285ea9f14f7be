//! Practice until the next lesson: caps, days, blocks; for adults, juniors, seniors and the sore, both hands.

use crate::support;
use crate::support::{ELBOW, NOW, SHIFT_DOWN, adult, judge, measured};
use jiff::ToSpan;
use jiff::civil::{Date, Weekday};
use lessonwright_coaching::{
    DrillBook, PlanError, PlanRules, PracticeRules, ScreeningRules, Stations, plan,
};
use lessonwright_model::{
    BlockKind, BodyArea, Hand, Measure, Pain, PlayerFacts, Practice, PracticePlace, PracticePlan,
    Screening, Season, SwingAnalysis,
};
use proptest::prelude::*;

const FROM: Date = Date::constant(2026, 11, 26);

fn screened(age: u32, pains: &[(BodyArea, u8)]) -> PlayerFacts {
    let pain = |(area, strength): &(BodyArea, u8)| Pain {
        area: *area,
        strength: *strength,
    };
    PlayerFacts {
        age_years: Some(age),
        screening: Some(Screening {
            pains: pains.iter().map(pain).collect(),
            ..Screening::nothing(NOW)
        }),
        ..adult("slice")
    }
}

fn practice(
    days: i64,
    weekdays: &[u8],
    minutes: u32,
    place: PracticePlace,
    season: Season,
) -> Practice {
    Practice {
        from: FROM,
        next_lesson: FROM.checked_add(days.days()).unwrap(),
        days: weekdays.to_vec(),
        minutes,
        place,
        season,
        at: None,
    }
}

fn three_weeks(place: PracticePlace) -> Practice {
    practice(21, &[1, 2, 3, 4, 5, 6, 7], 45, place, Season::Between)
}

/// The swing of a player who hangs back, analysed for this hand.
fn lesson(player: &PlayerFacts, hand: Hand) -> SwingAnalysis {
    lesson_of(&[measured(SHIFT_DOWN, 0.0, 1.0)], player, hand)
}

fn lesson_of(measures: &[Measure], player: &PlayerFacts, hand: Hand) -> SwingAnalysis {
    let coaching = judge(measures, hand, player);
    SwingAnalysis {
        schema_version: 2,
        program_version: "0".into(),
        corrections: Default::default(),
        teaching: lessonwright_model::Teaching::default(),
        views: Vec::new(),
        moments: Vec::new(),
        measures: Vec::new(),
        findings: coaching.findings,
        priority: coaching.priority,
        ranking: coaching.ranking,
        drills: coaching.drills,
        prescription: coaching.prescription,
        notice: coaching.notice,
    }
}

fn planned(player: &PlayerFacts, practice: &Practice) -> Result<PracticePlan, PlanError> {
    planned_from(&lesson(player, Hand::Right), player, practice)
}

fn planned_from(
    analysis: &SwingAnalysis,
    player: &PlayerFacts,
    practice: &Practice,
) -> Result<PracticePlan, PlanError> {
    let rules = PlanRules {
        practice: &PracticeRules::standard(),
        screening: &ScreeningRules::standard(),
        book: &DrillBook::standard(),
        stations: &Stations::standard(),
    };
    plan(analysis, player, practice, &rules, NOW)
}

fn kinds(plan: &PracticePlan, session: usize) -> Vec<BlockKind> {
    plan.sessions[session]
        .blocks
        .iter()
        .map(|b| b.kind)
        .collect()
}

/// Most swings in any seven days.
fn fullest_week(plan: &PracticePlan) -> u32 {
    let from = |first: Date| {
        let last = first.saturating_add(6.days());
        let within = |date: Date| first <= date && date <= last;
        let sessions = plan.sessions.iter().filter(|s| within(s.date));
        sessions.map(|s| s.swings()).sum::<u32>()
    };
    plan.sessions.iter().map(|s| from(s.date)).max().unwrap()
}

#[test]
fn three_weeks_on_the_range_go_from_the_same_to_mixed_to_played() {
    use BlockKind::{AsPlayed, Check, Drill, Mixed, WarmUp};
    let plan = planned(&screened(41, &[]), &three_weeks(PracticePlace::Range)).unwrap();
    assert_eq!(plan.sessions.len(), 12);
    assert_eq!(kinds(&plan, 0), [WarmUp, Drill]);
    assert_eq!(kinds(&plan, 5), [WarmUp, Drill, Mixed]);
    assert_eq!(kinds(&plan, 11), [WarmUp, Check, Drill, Mixed, AsPlayed]);
    assert!(plan.sessions[0].blocks[1].says.contains("Slow: "));
    assert!(plan.sessions[11].blocks[2].says.contains("Ball: "));
    let checks = plan.sessions.iter().filter(|s| s.is_check()).count();
    assert!((2..=4).contains(&checks), "{checks}");
    assert_eq!(plan.lowered, Vec::<String>::new());
}

#[test]
fn at_home_there_is_no_ball_and_on_the_course_one_from_the_middle_on() {
    let player = screened(41, &[]);
    let home = planned(&player, &three_weeks(PracticePlace::Home)).unwrap();
    assert_eq!(home.balls(), 0);
    assert!(home.swings() > 100);
    let course = planned(&player, &three_weeks(PracticePlace::Course)).unwrap();
    assert!(
        course.sessions[11]
            .blocks
            .iter()
            .any(|b| b.says.contains("Course: "))
    );
}

#[test]
fn juniors_seniors_and_the_sore_do_less_and_it_is_said_why() {
    let full = planned(&screened(41, &[]), &three_weeks(PracticePlace::Range)).unwrap();
    for (player, why) in [
        (screened(10, &[]), "Under 16"),
        (screened(15, &[]), "Under 16"),
        (screened(66, &[]), "Over 65"),
        (screened(41, &[(BodyArea::Elbow, 2)]), "Light pain"),
    ] {
        let less = planned(&player, &three_weeks(PracticePlace::Range)).unwrap();
        let (a, b) = (less.swings(), full.swings());
        assert!((3 * b..=6 * b).contains(&(10 * a)), "{why}: {a} of {b}");
        assert!(
            less.lowered.iter().any(|line| line.contains(why)),
            "{:?}",
            less.lowered
        );
        let dates: Vec<Date> = less.sessions.iter().map(|s| s.date).collect();
        let rested = |pair: &[Date]| pair[0].saturating_add(2.days()) <= pair[1];
        assert!(dates.windows(2).all(rested), "{why}: {dates:?}");
    }
    let junior = planned(&screened(10, &[]), &three_weeks(PracticePlace::Range)).unwrap();
    assert!(junior.why.iter().any(|reason| reason.says.contains("fun")));
    assert!(!full.why.iter().any(|reason| reason.says.contains("fun")));
}

#[test]
fn nothing_is_planned_that_may_not_be_prescribed() {
    let healthy = lesson(&screened(41, &[]), Hand::Right);
    let refused = |player: PlayerFacts| {
        planned_from(&healthy, &player, &three_weeks(PracticePlace::Range))
            .unwrap_err()
            .to_string()
    };
    assert!(refused(screened(41, &[(BodyArea::Hip, 4)])).contains("physician"));
    assert!(refused(adult("slice")).contains("have not been asked for"));
    let old = Screening::nothing(NOW - jiff::SignedDuration::from_hours(24 * 91));
    let old = PlayerFacts {
        screening: Some(old),
        ..adult("slice")
    };
    assert!(refused(old).contains("91 days old"));
    // Told since: the drill of the lesson loads the knee that hurts now.
    let drill = &healthy.drills[0].key;
    let limits = DrillBook::standard()
        .page(drill)
        .unwrap()
        .not_with()
        .to_vec();
    if let Some(limit) = limits.first() {
        let told = PlayerFacts {
            limits: vec![limit.clone()],
            ..screened(41, &[])
        };
        assert!(refused(told).contains("draft the lesson again"));
    }
    let nothing = SwingAnalysis {
        prescription: None,
        ..healthy
    };
    let none = planned_from(
        &nothing,
        &screened(41, &[]),
        &three_weeks(PracticePlace::Mat),
    );
    assert_eq!(none, Err(PlanError::NothingPrescribed));
}

#[test]
fn what_cannot_be_planned_is_said() {
    let player = screened(41, &[]);
    let day = FROM.weekday().to_monday_one_offset() as u8;
    let cases = [
        (
            practice(
                0,
                &[1, 2, 3, 4, 5, 6, 7],
                20,
                PracticePlace::Mat,
                Season::Between,
            ),
            PlanError::NoTime,
        ),
        (
            practice(-3, &[1], 20, PracticePlace::Mat, Season::Between),
            PlanError::NoTime,
        ),
        (
            practice(85, &[1], 20, PracticePlace::Mat, Season::Between),
            PlanError::TooFar(12),
        ),
        (
            practice(1, &[day % 7 + 1], 20, PracticePlace::Mat, Season::Between),
            PlanError::NoDay,
        ),
        (
            practice(9, &[], 20, PracticePlace::Mat, Season::Between),
            PlanError::NoDay,
        ),
        (
            practice(9, &[1], 9, PracticePlace::Mat, Season::Between),
            PlanError::Minutes(9),
        ),
        (
            practice(9, &[1], 301, PracticePlace::Mat, Season::Between),
            PlanError::Minutes(301),
        ),
    ];
    for (practice, expected) in cases {
        assert_eq!(planned(&player, &practice), Err(expected), "{practice:?}");
    }
    let one = planned(
        &player,
        &practice(1, &[day], 10, PracticePlace::Mat, Season::Between),
    )
    .unwrap();
    assert_eq!((one.sessions.len(), one.sessions[0].is_check()), (1, false));
}

#[test]
fn the_first_check_comes_about_a_week_after_the_first_day() {
    let plan = planned(&screened(41, &[]), &three_weeks(PracticePlace::Mat)).unwrap();
    let first = plan.sessions.iter().find(|s| s.is_check()).unwrap();
    let days = first.date.duration_since(FROM).as_hours() / 24;
    assert!((6..=8).contains(&days), "{days}");
    assert!(plan.sessions.last().unwrap().is_check());
    // Before the drill, so that it shows what was kept.
    let kinds: Vec<BlockKind> = first.blocks.iter().map(|b| b.kind).collect();
    assert_eq!(
        kinds[..3],
        [BlockKind::WarmUp, BlockKind::Check, BlockKind::Drill]
    );
}

#[test]
fn a_left_hander_gets_the_same_plan_in_own_words() {
    let player = screened(41, &[]);
    let of = |hand| {
        let analysis = lesson_of(&[measured(ELBOW, -6.0, 2.0)], &player, hand);
        let player = PlayerFacts {
            hand: Some(hand),
            ..player.clone()
        };
        planned_from(&analysis, &player, &three_weeks(PracticePlace::Range)).unwrap()
    };
    let text = |plan: &PracticePlan| serde_json::to_string(plan).unwrap();
    let (right, left) = (text(&of(Hand::Right)), text(&of(Hand::Left)));
    assert!(right != left, "nothing in the plan is said of a side");
    assert!(support::mirrored(&right) == left, "{right}\n{left}");
}

#[test]
fn a_lowered_dose_uses_the_days_that_leave_a_day_of_rest() {
    let four = practice(14, &[1, 3, 4, 6], 30, PracticePlace::Mat, Season::Between);
    let plan = planned(&screened(70, &[]), &four).unwrap();
    let days: Vec<Weekday> = plan.sessions.iter().map(|s| s.date.weekday()).collect();
    use Weekday::{Monday, Saturday, Thursday};
    // From a Thursday on, never more than three in seven days.
    assert_eq!(
        days,
        [Thursday, Saturday, Monday, Thursday, Saturday, Monday]
    );
}

#[test]
fn rounds_and_long_breaks_count() {
    let player = screened(41, &[]);
    let swings = |season| {
        let practice = practice(21, &[1, 3, 5, 7], 240, PracticePlace::Range, season);
        fullest_week(&planned(&player, &practice).unwrap())
    };
    // 200 a week of data/practice.toml, three quarters and half of it.
    assert!(swings(Season::Between) > 150 && swings(Season::Between) <= 200);
    assert!(swings(Season::Playing) > 100 && swings(Season::Playing) <= 150);
    assert!(swings(Season::Returning) > 50 && swings(Season::Returning) <= 100);
}

#[test]
fn a_bad_rules_file_says_what_and_where() {
    let cases = [
        ("format = 1", "format = 7", "format 1"),
        ("swing_s = 15 ", "swing_s = 0 ", "at least 1"),
        ("age = { from = 66 }", "age = { from = 67 }", "age of 66"),
        ("key = \"kept\"", "key = \"keep\"", "kept"),
        ("[lowered]", "[less]", "less"),
    ];
    for (from, to, says) in cases {
        let text = PracticeRules::standard_toml();
        assert!(text.contains(from), "{from}");
        let error = PracticeRules::parse("own.toml", &text.replacen(from, to, 1)).unwrap_err();
        let error = error.to_string();
        assert!(
            error.contains("own.toml") && error.contains(says),
            "{says}: {error}"
        );
    }
}

/// Most swings in a day and in any seven days: the written table of `data/practice.toml`, copied by hand.
fn written_most(age: u32, sore: bool, season: Season) -> (u32, u32) {
    let (day, week) = match age {
        0..=12 => (24, 72),
        16..=65 if !sore => (60, 200),
        _ => (30, 90),
    };
    let percent = match season {
        Season::Playing => 75,
        Season::Between => 100,
        Season::Returning => 50,
    };
    (day * percent / 100, week * percent / 100)
}

proptest! {
    #[test]
    fn whatever_is_asked_for_time_and_swings_are_kept(
        age in 6_u32..95,
        sore in 0_u8..4,
        days in 1_i64..84,
        weekdays in proptest::collection::vec(1_u8..=7, 1..7),
        minutes in 10_u32..=300,
        place in 0_usize..4,
        season in 0_usize..3,
    ) {
        let pains: Vec<(BodyArea, u8)> = (sore > 0).then_some((BodyArea::Elsewhere, sore)).into_iter().collect();
        let player = screened(age, &pains);
        let practice = practice(days, &weekdays, minutes, PracticePlace::ALL[place], Season::ALL[season]);
        let again = planned(&player, &practice);
        let plan = planned(&player, &practice);
        prop_assert_eq!(&plan, &again);
        let plan = match plan {
            Err(error) => {
                prop_assert_eq!(error, PlanError::NoDay);
                return Ok(());
            }
            Ok(plan) => plan,
        };
        let (day, week) = written_most(age, sore > 0, Season::ALL[season]);
        prop_assert!(fullest_week(&plan) <= week);
        for session in &plan.sessions {
            prop_assert!(session.swings() <= day);
            prop_assert!(session.minutes() <= minutes);
            prop_assert!(session.balls() <= session.swings());
            prop_assert!(session.date >= practice.from && session.date < practice.next_lesson);
            let weekday = Weekday::to_monday_one_offset(session.date.weekday()) as u8;
            prop_assert!(weekdays.contains(&weekday));
            prop_assert_eq!(session.blocks[0].kind, BlockKind::WarmUp);
            for block in &session.blocks[1..] {
                prop_assert!(block.swings >= 3 && block.balls <= block.swings, "{:?}", block);
                prop_assert!(!block.says.contains('{'), "{}", block.says);
            }
        }
        let dates: Vec<Date> = plan.sessions.iter().map(|s| s.date).collect();
        prop_assert!(dates.is_sorted_by(|a, b| a < b));
    }
}
