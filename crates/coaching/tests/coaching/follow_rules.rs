//! Which swings count as what, what is advised, and where the roster stands.

use crate::follow_support::{
    PLACE, Random, given, hidden, history, measure, session, swing, swings,
};
use lessonwright_coaching::follow::{
    Counted, NEXT_LESSON_DAYS, Progress, Roster, Series, Step, Verdict,
};
use lessonwright_language::Text;
use lessonwright_model::{
    Day, FilmedSwing, FoundIn, Given, History, MeasureName, MomentName, Occasion, Place, View,
};

const HOUR: i64 = 3600;

fn said(texts: &[Text]) -> String {
    let say = lessonwright_language::Say::default();
    let all: Vec<String> = texts.iter().map(|text| say.text(text)).collect();
    all.join(" ")
}

fn counted(history: &History, given: &Given) -> Vec<(i64, Counted)> {
    let series = Series::around(history, given, PLACE);
    series.after.iter().map(|n| (n.swing, n.counted)).collect()
}

/// Ten other players who are taught nothing, filmed on two days.
fn others() -> Vec<History> {
    let mut random = Random(21);
    (100..110)
        .map(|player| {
            let level = random.normal(4.0);
            let days =
                [0, 9].map(|day| swings(&session(&mut random, day, 3, level, 0.7, 0.5), None));
            history(player, days.concat(), vec![])
        })
        .collect()
}

fn with_others(player: History) -> Roster {
    let mut histories = vec![player];
    histories.extend(others());
    Roster::of(histories)
}

/// A player whose level was -2.0 before day 0 and is `after` on the days of `sessions`, marked.
fn taught(after: f64, sessions: &[(i32, Option<Occasion>)], goal: f64) -> History {
    let scatter = [-0.4, 0.1, 0.3];
    let day = |day: i32, level: f64, occasion: Option<Occasion>| {
        let numbers = scatter.iter().enumerate();
        numbers
            .map(|(i, by)| {
                swing(
                    i64::from(day + 50) * 10 + i as i64,
                    day,
                    occasion,
                    level + by,
                )
            })
            .collect::<Vec<FilmedSwing>>()
    };
    let mut all = day(-7, -2.1, None);
    all.extend(day(0, -1.9, None));
    for (number, occasion) in sessions {
        all.extend(day(*number, after, *occasion));
    }
    history(1, all, vec![given(1, 0, goal, Some(-2.0))])
}

fn progress(roster: &Roster, today: i32) -> Progress {
    let history = &roster.histories[0];
    roster.progress(history, Day(today)).remove(0)
}

#[test]
fn swings_count_by_when_and_how_they_were_made() {
    let lesson = given(1, 0, 3.0, Some(-2.0));
    let mut same_day = swing(2, 0, None, 0.0);
    same_day.at_s = Some(lesson.at_s.unwrap() + HOUR);
    let mut too_soon = swing(3, 1, Some(Occasion::Retention), 0.0);
    too_soon.at_s = Some(lesson.at_s.unwrap() + 20 * HOUR);
    let mut undated = swing(4, 1, Some(Occasion::Retention), 0.0);
    undated.at_s = None;
    let all = vec![
        swing(1, 0, None, -2.0),
        same_day,
        too_soon,
        undated,
        swing(5, 3, Some(Occasion::Practice), 0.0),
        swing(6, 5, Some(Occasion::Retention), 0.0),
        swing(7, 6, Some(Occasion::Transfer), 0.0),
        swing(8, 7, None, 0.0),
    ];
    let history = history(1, all, vec![lesson.clone()]);
    let expected = [
        (2, Counted::Practice),
        (3, Counted::Practice),
        // Only its day is known: a day later is later.
        (4, Counted::Retention),
        (5, Counted::Practice),
        (6, Counted::Retention),
        (7, Counted::Transfer),
        (8, Counted::Unmarked),
    ];
    assert_eq!(counted(&history, &lesson), expected);
    let series = Series::around(&history, &lesson, PLACE);
    assert_eq!(
        series.before.len(),
        1,
        "noon, before the lesson in the evening"
    );
    assert_eq!(series.too_soon, 1);
}

#[test]
fn retention_is_24_hours_from_the_last_practice_not_only_from_the_lesson() {
    let lesson = given(1, 0, 3.0, None);
    let mut practised = swing(2, 9, Some(Occasion::Practice), 0.0);
    practised.at_s = Some(9 * 86_400 + 20 * HOUR);
    let mut soon = swing(3, 10, Some(Occasion::Retention), 0.0);
    soon.at_s = Some(10 * 86_400 + 9 * HOUR);
    let mut later = swing(4, 11, Some(Occasion::Retention), 0.0);
    later.at_s = Some(11 * 86_400 + 9 * HOUR);
    let all = vec![swing(1, -1, None, 0.0), practised, soon, later];
    let history = history(1, all, vec![lesson.clone()]);
    let found = counted(&history, &lesson);
    assert_eq!(found[1], (3, Counted::Practice));
    assert_eq!(found[2], (4, Counted::Retention));
}

#[test]
fn the_swing_it_was_prescribed_on_is_before_whatever_its_time() {
    let mut lesson = given(1, 0, 3.0, None);
    lesson.swing = Some(1);
    let mut late = swing(1, 0, None, -2.0);
    late.at_s = Some(lesson.at_s.unwrap() + HOUR);
    let history = history(1, vec![late], vec![lesson.clone()]);
    let series = Series::around(&history, &lesson, PLACE);
    assert_eq!((series.before.len(), series.after.len()), (1, 0));
}

#[test]
fn a_later_prescription_for_the_same_number_ends_the_one_before() {
    let first = given(1, 0, 3.0, None);
    let second = given(2, 20, 5.0, None);
    let all = (-1..30)
        .map(|d| swing(i64::from(d) + 2, d, None, 0.0))
        .collect();
    let history = history(1, all, vec![first.clone(), second.clone()]);
    let (one, two) = (
        Series::around(&history, &first, PLACE),
        Series::around(&history, &second, PLACE),
    );
    assert_eq!(one.after.last().unwrap().day, Day(20));
    assert_eq!(two.before.first().unwrap().day, Day(0));
    assert_eq!(two.after.first().unwrap().day, Day(21));
    let mut ended = first;
    ended.ended = Some(Day(8));
    assert_eq!(
        Series::around(&history, &ended, PLACE)
            .after
            .last()
            .unwrap()
            .day,
        Day(8)
    );
}

#[test]
fn missing_numbers_and_other_views_are_left_out_and_said() {
    let lesson = given(1, 0, 3.0, Some(-2.0));
    let mut none = swing(2, 3, None, 0.0);
    none.measures = vec![hidden()];
    let mut other = swing(3, 4, None, 9.0);
    other.measures = vec![measure(9.0, 2.0, None)];
    let mut unknown_day = swing(4, 5, None, 0.5);
    unknown_day.day_assumed = true;
    let all = vec![swing(1, -1, None, -2.0), none, other, unknown_day];
    let roster = with_others(history(1, all, vec![lesson]));
    let found = progress(&roster, 6);
    assert_eq!(found.change().unwrap().to, [1, 1]);
    for text in [
        "no such number",
        "another view",
        "when it was filmed",
        "rests on one swing",
    ] {
        assert!(
            said(&found.notes).contains(text),
            "{text}: {:?}",
            found.notes
        );
    }
}

#[test]
fn retention_decides_and_practice_is_kept_apart() {
    // Six better with the cue, nothing a day later: learned nothing yet.
    let mut player = taught(4.0, &[(2, Some(Occasion::Practice))], 4.0);
    let without_cue = taught(-2.0, &[(6, Some(Occasion::Retention))], 4.0);
    let later = without_cue.swings.into_iter().filter(|s| s.day == Day(6));
    player.swings.extend(later);
    let found = progress(&with_others(player), 7);
    assert_eq!(found.headline, Some(Counted::Retention));
    assert_eq!(found.verdict(), Some(Verdict::NotYet));
    let of = |counted| {
        let is = |r: &&lessonwright_coaching::follow::Result| r.counted == counted;
        found
            .results
            .iter()
            .find(is)
            .unwrap()
            .change
            .as_ref()
            .unwrap()
            .verdict
    };
    assert_eq!(of(Counted::Practice), Verdict::Real);
    assert_eq!(found.advice.step, Step::Keep);
}

#[test]
fn the_advice_follows_its_table() {
    use Occasion::{Practice, Retention, Transfer};
    let retention = [(10, Some(Retention)), (20, Some(Retention))];
    let once = [(10, Some(Retention))];
    let practice = [(10, Some(Practice)), (20, Some(Practice))];
    let unmarked = [(10, None), (20, None)];
    let both = [(10, Some(Retention)), (20, Some(Transfer))];
    /// Name, level after, sessions, goal, verdict, step, a word of the reason.
    type Case<'a> = (
        &'a str,
        f64,
        &'a [(i32, Option<Occasion>)],
        f64,
        Option<Verdict>,
        Step,
        &'a str,
    );
    let cases: [Case<'_>; 10] = [
        (
            "nothing filmed",
            0.0,
            &[],
            3.0,
            None,
            Step::Film,
            "No swing after",
        ),
        (
            "reached",
            4.0,
            &retention,
            3.0,
            Some(Verdict::Real),
            Step::Progress,
            "without the cue",
        ),
        (
            "reached, unmarked",
            4.0,
            &unmarked,
            3.0,
            Some(Verdict::Real),
            Step::Progress,
            "nobody marked",
        ),
        (
            "reached, elsewhere too",
            4.0,
            &both,
            3.0,
            Some(Verdict::Real),
            Step::Progress,
            "another task as well",
        ),
        (
            "reached with the cue",
            4.0,
            &practice,
            3.0,
            Some(Verdict::Real),
            Step::Keep,
            "with the cue",
        ),
        (
            "half of the way",
            3.0,
            &retention,
            8.0,
            Some(Verdict::Real),
            Step::Keep,
            "not reached yet",
        ),
        (
            "early",
            -1.8,
            &once,
            3.0,
            Some(Verdict::NotYet),
            Step::Keep,
            "early",
        ),
        (
            "had its time",
            -2.0,
            &retention,
            8.0,
            Some(Verdict::NotYet),
            Step::Change,
            "unlikely",
        ),
        (
            "away",
            -7.0,
            &retention,
            3.0,
            Some(Verdict::Away),
            Step::Change,
            "wrong way",
        ),
        (
            "away with the cue",
            -7.0,
            &practice,
            3.0,
            Some(Verdict::Away),
            Step::Keep,
            "practice only",
        ),
    ];
    for (name, after, sessions, goal, verdict, step, says) in cases {
        let found = progress(&with_others(taught(after, sessions, goal)), 21);
        assert_eq!(found.verdict(), verdict, "{name}");
        assert_eq!(found.advice.step, step, "{name}: {:?}", found.advice);
        let because = said(&found.advice.because);
        assert!(because.contains(says), "{name}: {because}");
    }
}

#[test]
fn one_swing_before_and_one_after_give_an_interval_wider_than_their_own_plus_minus() {
    let lesson = given(1, 0, 3.0, None);
    let all = vec![swing(1, -1, None, -2.0), swing(2, 9, None, 0.0)];
    let alone = Roster::of(vec![history(1, all, vec![lesson])]);
    let found = progress(&alone, 10);
    let change = found.change().unwrap();
    assert!((change.change - 2.0).abs() < 1e-9);
    // Two independent ± of 2.0 alone would give 2.83.
    assert!(change.mdc > 2.83 && change.mdc < 12.0, "{}", change.mdc);
    assert_eq!(change.regression, None);
    assert_eq!(change.verdict, Verdict::NotYet);
}

#[test]
fn a_step_too_small_to_see_is_said_before_anybody_films() {
    let small = |goal: f64| {
        let roster = with_others(taught(0.0, &[], goal));
        let notes = progress(&roster, 3).notes;
        said(&notes).contains("smaller than what")
    };
    assert!(small(-1.5));
    assert!(!small(8.0));
}

#[test]
fn without_a_swing_before_nothing_is_judged() {
    let lesson = given(1, 0, 3.0, Some(-2.0));
    let alone = with_others(history(1, vec![swing(2, 9, None, 0.0)], vec![lesson]));
    let found = progress(&alone, 10);
    assert_eq!((found.verdict(), found.advice.step), (None, Step::Film));
    assert!(said(&found.advice.because).contains("film a level first"));
}

#[test]
fn a_player_is_due_two_weeks_after_the_last_lesson_or_session_that_was_not_practice() {
    let mut player = taught(0.0, &[(5, Some(Occasion::Practice))], 3.0);
    let due = |player: &History, today: i32| {
        let roster = with_others(player.clone());
        let line = roster.overview(Day(today)).lines.remove(0);
        (line.is_due(), line.due.unwrap().day)
    };
    let usual = NEXT_LESSON_DAYS as i32;
    assert_eq!(due(&player, usual - 1), (false, Day(usual)));
    assert_eq!(due(&player, usual), (true, Day(usual)));
    player.swings.push(swing(900, 10, None, 0.0));
    assert_eq!(due(&player, usual), (false, Day(10 + usual)));
    player.given[0].next_in_days = Some(4);
    assert_eq!(due(&player, usual), (true, Day(14)));
    player.given[0].ended = Some(Day(12));
    let overview = with_others(player).overview(Day(40));
    assert_eq!(
        overview.lines[0].due, None,
        "what was ended asks for nothing"
    );
    assert!(
        overview.lines[1..]
            .iter()
            .all(|l| l.due.is_none() && l.progress.is_none())
    );
}

#[test]
fn whose_change_does_not_happen_is_told_only_after_its_time() {
    let stuck = |after: f64, sessions: &[(i32, Option<Occasion>)], today: i32| {
        let roster = with_others(taught(after, sessions, 4.0));
        roster.overview(Day(today)).lines[0].is_stuck(Day(today))
    };
    let two = [(8, None), (16, None)];
    assert!(stuck(-2.0, &two, 20));
    assert!(!stuck(-2.0, &two[..1], 20), "one session is too few");
    assert!(!stuck(-2.0, &[(4, None), (8, None)], 10), "too early");
    assert!(!stuck(4.0, &two, 20), "it happens");
    assert!(stuck(-8.0, &two, 20), "it goes the wrong way");
}

#[test]
fn what_players_have_in_common_is_counted_by_their_latest_swing() {
    let found = FoundIn {
        key: "pelvis_stays_back".into(),
        place: PLACE,
        above: false,
    };
    let with = |key: i64, last: bool| {
        let mut first = swing(1, 0, None, 0.0);
        let mut second = swing(2, 5, None, 0.0);
        first.findings = vec![found.clone()];
        second.findings = if last { vec![found.clone()] } else { vec![] };
        history(key, vec![first, second], vec![])
    };
    let roster = Roster::of(vec![
        with(1, true),
        with(2, true),
        with(3, false),
        history(4, vec![], vec![]),
    ]);
    let overview = roster.overview(Day(6));
    assert_eq!(overview.measured, 3);
    assert_eq!(overview.common.len(), 1);
    assert_eq!(overview.common[0].players, ["Player 1", "Player 2"]);
}

/// Players taught with one drill whose numbers move by `step`, and a second number that nobody taught.
fn taught_roster(players: i64, step: f64) -> Roster {
    let mut random = Random(33);
    let mut histories: Vec<History> = (1..=players)
        .map(|player| {
            let level = -3.0 + random.normal(1.0);
            let mut all = Vec::new();
            for (day, level) in [
                (-7, level),
                (0, level),
                (12, level + step),
                (16, level + step),
            ] {
                all.extend(swings(&session(&mut random, day, 3, level, 0.6, 0.5), None));
            }
            for one in &mut all {
                let mut second = measure(10.0 + random.normal(1.0), 2.0, Some(View::FaceOn));
                second.name = MeasureName::HeadShift;
                one.measures.push(second);
            }
            history(player, all, vec![given(player, 0, 3.0, Some(level))])
        })
        .collect();
    histories.extend(others());
    Roster::of(histories)
}

#[test]
fn what_a_drill_moved_is_told_with_number_interval_and_chance() {
    let roster = taught_roster(5, 4.0);
    let effects = roster.drill_effects();
    assert_eq!(effects.len(), 1);
    let effect = &effects[0];
    assert_eq!(
        (effect.players, effect.title.as_str()),
        (5, "Bump the stick")
    );
    let aimed = &effect.aimed[0];
    assert_eq!(
        (aimed.place, aimed.players, aimed.in_practice),
        (PLACE, 5, 0)
    );
    let pooled = aimed.pooled.unwrap();
    assert!(
        pooled.interval.low > 2.0 && pooled.interval.high < 6.0,
        "{pooled:?}"
    );
    // Picked at -3 from players about 0: some of it would come back by itself.
    let by_chance = aimed.by_chance.unwrap();
    assert!(by_chance > 0.0 && by_chance < 1.5, "{by_chance}");
    let beyond = aimed.beyond_chance.unwrap();
    assert!((pooled.mean - by_chance - beyond.mean).abs() < 0.2);
    assert_eq!(effect.looked_at, 1);
    assert!(effect.besides.is_empty(), "nobody's head moved");
}

#[test]
fn two_players_give_no_interval() {
    let effects = taught_roster(2, 4.0).drill_effects();
    let aimed = &effects[0].aimed[0];
    assert_eq!(
        (aimed.players, aimed.pooled, aimed.beyond_chance),
        (2, None, None)
    );
    assert!((aimed.mean - 4.0).abs() < 1.5);
}

#[test]
fn a_trend_has_a_session_a_point_a_band_and_the_lessons() {
    let player = taught(
        3.0,
        &[
            (2, Some(Occasion::Practice)),
            (9, Some(Occasion::Retention)),
        ],
        4.0,
    );
    let roster = with_others(player);
    let trend = roster.trend(&roster.histories[0], PLACE).unwrap();
    let kinds: Vec<Counted> = trend.sessions.iter().map(|s| s.counted).collect();
    use Counted::{Practice, Retention, Unmarked};
    assert_eq!(kinds, [Unmarked, Unmarked, Practice, Retention]);
    assert_eq!(trend.lessons, [Day(0)]);
    assert_eq!(trend.goal, Some(4.0));
    let band = trend.band.unwrap();
    assert!(
        band.low < -2.0 && -2.0 < band.high && band.high < 3.0,
        "{band:?}"
    );
    assert!(
        trend
            .sessions
            .iter()
            .all(|s| s.plus_minus > 0.3 && s.swings.len() == 3)
    );
    let never = Place {
        measure: MeasureName::TempoRatio,
        moment: MomentName::Impact,
        against: None,
    };
    assert!(roster.trend(&roster.histories[0], never).is_none());
}

#[test]
fn how_well_each_number_repeats_is_told_with_what_it_rests_on() {
    let roster = Roster::of(others());
    let all = roster.repeatability();
    assert_eq!(all.len(), 1);
    let one = &all[0];
    assert_eq!(one.counts, [10, 20, 60]);
    assert_eq!(one.df, (40, 10));
    // Ten degrees of freedom, and a ± that says more, tell the error between sessions only roughly.
    assert!(
        (one.within - 0.7).abs() < 0.15 && (one.between - 0.5).abs() < 0.4,
        "{one:?}"
    );
    assert!(one.mdc_five < one.mdc_one && one.mdc_five > 2.77 * one.between);
    // Players differ by 4.0.
    assert!(one.icc.unwrap() > 0.85);
    let retest = one.retest.as_ref().unwrap();
    assert_eq!((retest.table.n, retest.table.k), (10, 2));
    assert!(retest.interval.low < retest.agreement && retest.agreement < retest.interval.high);
    let nobody = Roster::default();
    assert!(nobody.repeatability().is_empty() && nobody.drill_effects().is_empty());
    assert!(nobody.overview(Day(0)).lines.is_empty());
}
