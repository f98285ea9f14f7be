//! The follow-up's statistics against published values and other programs.
//!
//! T1: Shrout PE, Fleiss JL (1979) Psychol Bull 86:420–428 (data and published digits remembered, recomputed by
//! pingouin). T2, T3: Weir JP (2005) J Strength Cond Res 19:231–240. T4: Bland JM, Altman DG (1986) Lancet
//! i:307–310. T5: arithmetic. The other programs' outputs are made by `testdata/follow/follow_reference.py`, which
//! notes their versions.

use crate::follow_support::{PLACE, given, history, swing};
use lessonwright_coaching::follow::{
    Form, Session, SetUp, Shift, TwoWay, Variances, level, mdc95, pool, restricted,
};
use lessonwright_model::Day;
use serde_json::Value;

const FORMS: [Form; 3] = [Form::OneWay, Form::Agreement, Form::Consistency];

fn reference() -> Value {
    let text = include_str!("../../../../testdata/follow/follow_reference.json");
    serde_json::from_str(text).unwrap()
}

fn numbers(value: &Value) -> Vec<f64> {
    let all = value.as_array().unwrap().iter();
    all.map(|v| v.as_f64().unwrap()).collect()
}

fn near(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{found} for {wanted}");
}

fn table(name: &str) -> (Vec<Vec<f64>>, Value) {
    let all = reference();
    let is = |t: &&Value| t["name"] == name;
    let found = all["tables"].as_array().unwrap().iter().find(is).unwrap();
    let rows = found["rows"].as_array().unwrap().iter().map(numbers);
    (rows.collect(), found.clone())
}

#[test]
fn t1_shrout_and_fleiss_1979() {
    let (rows, _) = table("T1");
    let two_way = TwoWay::of(&rows).unwrap();
    for (found, wanted) in [
        (two_way.bms, 11.241_67),
        (two_way.wms, 6.263_89),
        (two_way.jms, 32.486_11),
        (two_way.ems, 1.019_44),
    ] {
        near(found, wanted, 1e-4);
    }
    let single = FORMS.map(|form| two_way.icc(form));
    let mean = FORMS.map(|form| two_way.icc_of_mean(form));
    // As published, to its two digits.
    let published = [0.17, 0.29, 0.71, 0.44, 0.62, 0.91];
    for (found, wanted) in single.into_iter().chain(mean).zip(published) {
        near(found, wanted, 0.005);
    }
    for (form, low, high) in [
        (Form::OneWay, -0.1329, 0.7226),
        (Form::Agreement, 0.0188, 0.7611),
        (Form::Consistency, 0.3425, 0.9459),
    ] {
        let interval = two_way.icc_interval(form);
        near(interval.low, low, 1e-4);
        near(interval.high, high, 1e-4);
    }
}

#[test]
fn t2_and_t3_weir_2005_the_same_error_whatever_the_spread_of_people() {
    let [a, b] = ["T2", "T3"].map(|name| TwoWay::of(&table(name).0).unwrap());
    near(a.bms, 2098.5357, 1e-3);
    near(b.bms, 189.9643, 1e-3);
    for two_way in [a, b] {
        near(two_way.wms, 53.75, 1e-9);
        near(two_way.ems, 57.1071, 1e-4);
        // Published: SEM 7.6.
        near(two_way.sem(), 7.556_93, 1e-5);
        near(mdc95(two_way.sem()), 20.9467, 1e-3);
    }
    near(a.icc(Form::Agreement), 0.949_98, 1e-5);
    near(b.icc(Form::Agreement), 0.552_75, 1e-5);
}

#[test]
fn t4_bland_and_altman_1986() {
    let wright1 = [
        494., 395., 516., 434., 476., 557., 413., 442., 650., 433., 417., 656., 267., 478., 178.,
        423., 427.,
    ];
    let mini1 = [
        512., 430., 520., 428., 500., 600., 364., 380., 658., 445., 432., 626., 260., 477., 259.,
        350., 451.,
    ];
    let wright2 = [
        490., 397., 512., 401., 470., 611., 415., 431., 638., 429., 420., 633., 275., 492., 165.,
        372., 421.,
    ];
    let mini2 = [
        525., 415., 508., 444., 500., 625., 460., 390., 642., 432., 420., 605., 227., 467., 268.,
        370., 443.,
    ];
    let pairs = |a: &[f64], b: &[f64]| -> Vec<(f64, f64)> {
        a.iter().copied().zip(b.iter().copied()).collect()
    };
    let shift = Shift::of(&pairs(&wright1, &mini1)).unwrap();
    near(shift.mean, -2.117_647, 1e-6);
    near(shift.sd, 38.765_13, 1e-5);
    // Published, from rounded values: -22.0 to 17.8.
    near(shift.interval.low, -22.0488, 1e-3);
    near(shift.interval.high, 17.8135, 1e-3);
    // The typical error of two trials is the SEM of the two-way table.
    for (first, second, typical) in [(wright1, wright2, 15.3612), (mini1, mini2, 20.4158)] {
        let rows: Vec<Vec<f64>> = (0..17).map(|i| vec![first[i], second[i]]).collect();
        near(TwoWay::of(&rows).unwrap().sem(), typical, 1e-4);
        let sd = Shift::of(&pairs(&first, &second)).unwrap().sd;
        near(sd / 2f64.sqrt(), typical, 1e-4);
    }
}

#[test]
fn t5_minimal_detectable_change() {
    // SEM 12.05 m → 33.40 m; Villarrasa-Sapiña et al. (2022) Sensors 22:9069 print 33.41.
    for (sd, icc, wanted) in [
        (6.0, 0.90, 5.259_232),
        (5.0, 0.75, 6.929_646),
        (8.0, 0.95, 4.958_451),
    ] {
        near(mdc95(sd * f64::sqrt(1.0 - icc)), wanted, 1e-5);
    }
    near(mdc95(12.05), 33.40, 0.005);
}

#[test]
fn two_way_tables_agree_with_pingouin() {
    for name in ["T1", "T2", "T3", "seven players"] {
        let (rows, wanted) = table(name);
        let two_way = TwoWay::of(&rows).unwrap();
        let icc = numbers(&wanted["icc"]);
        for (i, form) in FORMS.into_iter().enumerate() {
            near(two_way.icc(form), icc[i], 1e-9);
            near(two_way.icc_of_mean(form), icc[i + 3], 1e-9);
            // Pingouin rounds its intervals to two digits.
            let ends = numbers(&wanted["ci95"][i]);
            let interval = two_way.icc_interval(form);
            near(interval.low, ends[0], 0.0051);
            near(interval.high, ends[1], 0.0051);
        }
    }
}

#[test]
fn a_table_that_is_none_is_refused() {
    for rows in [
        vec![],
        vec![vec![1.0, 2.0]],
        vec![vec![1.0], vec![2.0]],
        vec![vec![1.0, 2.0], vec![1.0]],
        vec![vec![1.0, f64::NAN], vec![1.0, 2.0]],
    ] {
        assert_eq!(TwoWay::of(&rows), None, "{rows:?}");
    }
}

/// The sessions before and after of a reference case.
fn stretches(case: &Value) -> [Vec<Session>; 2] {
    let (y, session) = (numbers(&case["y"]), numbers(&case["session"]));
    let late = numbers(&case["late"]);
    [0.0, 1.0].map(|phase| {
        let mut sessions: Vec<Session> = Vec::new();
        for i in (0..y.len()).filter(|i| late[*i] == phase) {
            let day = Day(session[i] as i32);
            match sessions.iter_mut().find(|s| s.day == day) {
                Some(known) => known.values.push(y[i]),
                None => sessions.push(Session {
                    day,
                    values: vec![y[i]],
                }),
            }
        }
        sessions
    })
}

#[test]
fn the_change_and_its_error_are_those_of_statsmodels_mixed_model() {
    for case in reference()["mixed"].as_array().unwrap() {
        let [before, after] = stretches(case);
        let at = Variances {
            within: case["var_within"].as_f64().unwrap(),
            between: case["var_between"].as_f64().unwrap(),
        };
        let (first, second) = (level(&before, at).unwrap(), level(&after, at).unwrap());
        near(
            second.mean - first.mean,
            case["change"].as_f64().unwrap(),
            1e-4,
        );
        let error = (first.variance + second.variance).sqrt();
        near(error, case["change_se_gls"].as_f64().unwrap(), 1e-9);
        // Statsmodels takes its own from the observed information of all parameters together.
        let theirs = case["change_se"].as_f64().unwrap();
        near(error, theirs, 0.02 * theirs);
        // Its estimate is where the restricted likelihood is highest.
        let log = |at| restricted(&before, at) + restricted(&after, at);
        for (within, between) in [(1.05, 1.0), (0.95, 1.0), (1.0, 1.1), (1.0, 0.9)] {
            let aside = Variances {
                within: within * at.within,
                between: between * at.between,
            };
            assert!(log(aside) < log(at) + 1e-6, "{}", case["name"]);
        }
    }
}

#[test]
fn the_restricted_likelihood_is_that_of_the_dense_matrices() {
    for case in reference()["mixed"].as_array().unwrap() {
        let [before, after] = stretches(case);
        for point in case["restricted"].as_array().unwrap() {
            let at = Variances {
                within: point["var_within"].as_f64().unwrap(),
                between: point["var_between"].as_f64().unwrap(),
            };
            let log = restricted(&before, at) + restricted(&after, at);
            near(log, point["log"].as_f64().unwrap(), 1e-8);
        }
    }
}

#[test]
fn effects_of_players_are_pooled_as_statsmodels_does() {
    for case in reference()["pooled"].as_array().unwrap() {
        let effects: Vec<(f64, f64)> = numbers(&case["effect"])
            .into_iter()
            .zip(numbers(&case["variance"]))
            .collect();
        let pooled = pool(&effects).unwrap();
        near(pooled.tau_squared, case["tau2"].as_f64().unwrap(), 1e-9);
        near(pooled.mean, case["mean"].as_f64().unwrap(), 1e-9);
        near(pooled.standard_error, case["se"].as_f64().unwrap(), 1e-9);
        // Ours is never narrower.
        let interval = numbers(&case["interval"]);
        assert!(pooled.interval.low <= interval[0] + 1e-6);
        assert!(pooled.interval.high >= interval[1] - 1e-6);
    }
    assert_eq!(pool(&[(1.0, 1.0)]), None);
    assert_eq!(pool(&[(1.0, 1.0), (2.0, 0.0)]), None);
}

#[test]
fn many_swings_outweigh_the_measures_own_plus_minus() {
    // ± 2.0 says SD 1.02; the swings scatter by 0.3 within and not at all between sessions.
    let scatter = [-0.3, 0.0, 0.3, 0.3, -0.3];
    let swings = |player: i64| {
        (0..8)
            .flat_map(|day| scatter.map(|by| (day, 3.0 + by)))
            .enumerate()
            .map(|(i, (day, value))| swing(player * 1000 + i as i64, day, None, value))
            .collect()
    };
    let few = [history(1, vec![swing(1, 0, None, 3.0)], vec![])];
    let many: Vec<_> = (1..=4).map(|p| history(p, swings(p), vec![])).collect();
    let of = |roster: &[_]| SetUp::of(PLACE, roster).unwrap().variances();
    let (few, many) = (of(&few), of(&many));
    // 128 degrees of freedom with variance 0.09 · 5/4 · 4/5 = 0.09, and 3 of the ± with 0.75 · 1.04.
    // Alone, the ± says each: the mean of a scaled inverse χ² is above its scale.
    assert!(few.within > 0.5 && few.between > 0.5, "{few:?}");
    near(many.within, (128.0 * 0.09 + 3.0 * 0.78) / 131.0, 0.01);
    assert!(many.between.sqrt() < 0.35, "{many:?}");
}

#[test]
fn what_is_taught_tells_nothing_of_the_error_between_sessions() {
    // The level moves by 10 cm after a lesson; the error between sessions must not take it for its own.
    let all = |taught: bool| {
        let player = |p: i64| {
            let day = |d: i32, level: f64| {
                (0..4).map(move |i| {
                    swing(
                        p * 1000 + i64::from(d) * 10 + i,
                        d,
                        None,
                        level + 0.2 * i as f64,
                    )
                })
            };
            let swings = day(0, 0.0).chain(day(20, 10.0)).collect();
            let lessons = match taught {
                true => vec![given(p, 1, 12.0, Some(0.0))],
                false => vec![],
            };
            history(p, swings, lessons)
        };
        let roster: Vec<_> = (1..=5).map(player).collect();
        SetUp::of(PLACE, &roster)
            .unwrap()
            .variances()
            .between
            .sqrt()
    };
    assert!(all(true) < 1.5, "{}", all(true));
    assert!(all(false) > 4.0, "{}", all(false));
}
