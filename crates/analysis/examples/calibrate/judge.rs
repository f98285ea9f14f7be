//! Errors that are left, printed.

use crate::cases::{Case, GIVEN, run, true_moment, view_of};
use crate::readings::{Key, Readings};
use crate::statistics::{mean_sd, slope};
use lessonwright_analysis::benchmark::event_tolerance_frames;
use lessonwright_analysis::calibration::Bias;
use lessonwright_analysis::{Calibration, Measured, Way};
use lessonwright_math::{median, quantile};
use lessonwright_model::*;
use serde_json::Value;

/// Times read with errors, one row a moment and configuration; what was misread or warned of.
pub fn print_moments(cases: &[Case], each: bool, calibration: &dyn Fn(usize) -> Calibration) {
    for (title, seen) in GIVEN {
        let runs: Vec<(&Case, Measured, Vec<Value>)> = cases
            .iter()
            .enumerate()
            .filter_map(|(i, case)| {
                run(case, seen, Way::Picture, calibration(i)).map(|(m, t)| (case, m, t))
            })
            .collect();
        println!(
            "\n== {title}: {} of {} swings read",
            runs.len(),
            cases.len()
        );
        for (case, measured, truths) in &runs {
            for (view, truth) in measured.views.iter().zip(truths) {
                let hand = serde_json::to_value(view.hand).unwrap_or_default();
                if view.view != view_of(truth) || truth["hand"] != hand {
                    println!("  {}: read as {} {}", case.name, view.view, view.hand);
                }
                for warning in &view.warnings {
                    println!("  {} {}: {warning}", case.name, view.view);
                }
            }
        }
        print_head();
        print_events(&runs);
        for view in [View::FaceOn, View::DownTheLine] {
            for name in MomentName::ALL {
                let errors: Vec<Error> = runs
                    .iter()
                    .filter_map(|(case, measured, truths)| {
                        let i = measured.views.iter().position(|v| v.view == view)?;
                        let truth_s = true_moment(&truths[i], name)?;
                        let moment = measured
                            .moments
                            .iter()
                            .find(|m| m.view == view && m.name == name)?;
                        Some(Error {
                            case: case.name.clone(),
                            error: 1000.0 * (moment.time_s - truth_s),
                            half: 1000.0 * moment.plus_minus_s,
                            truth: truth_s,
                        })
                    })
                    .collect();
                print_row(&format!("{view} {name:?}, ms"), &errors);
                if each {
                    print_each(&errors);
                }
            }
        }
    }
}

/// Values read with errors, one row a measure and configuration.
pub fn print_measures(
    cases: &[Case],
    readings: &Readings,
    each: bool,
    calibration: &dyn Fn(usize) -> Calibration,
) {
    let calibrations: Vec<Calibration> = (0..cases.len()).map(calibration).collect();
    for (title, given) in GIVEN {
        println!("\n== {title}");
        print_head();
        for key in readings.keys(given) {
            let errors: Vec<Error> = readings
                .of(given, key)
                .filter_map(|r| {
                    let bias = bias_for(&calibrations[r.case], key)?;
                    Some(Error {
                        case: cases[r.case].name.clone(),
                        error: r.value - bias.mean - r.truth,
                        half: 1.96 * r.sd.hypot(bias.sd),
                        truth: r.truth,
                    })
                })
                .collect();
            let against = key.against.map_or(String::new(), |a| format!(" {a:?}"));
            let way = if key.way == Way::Body { "body" } else { "" };
            print_row(
                &format!("{:?} {:?}{against} {way}", key.name, key.moment),
                &errors,
            );
            if each {
                print_each(&errors);
            }
            if key.name == MeasureName::TrailElbowAhead {
                print_signs(&errors);
            }
        }
    }
}

fn bias_for(calibration: &Calibration, key: Key) -> Option<Bias> {
    if key.is_tempo() {
        return Some(Bias { mean: 0.0, sd: 0.0 });
    }
    match key.way {
        Way::Picture => Some(calibration.measure(key.name, key.moment, key.against, key.seen)),
        Way::Body => calibration.body_measure(key.name, (key.moment, key.against), key.seen),
    }
}

/// Share of moments within the tolerance of published event benchmarks.
fn print_events(runs: &[(&Case, Measured, Vec<Value>)]) {
    let mut right = 0;
    let mut all = 0;
    for (_, measured, truths) in runs {
        for (view, truth) in measured.views.iter().zip(truths) {
            let at = |name| true_moment(truth, name).unwrap_or(f64::NAN);
            let frames = (at(MomentName::Impact) - at(MomentName::Address)) * view.capture_rate_hz;
            let tolerance = event_tolerance_frames(frames);
            for name in MomentName::ALL {
                let found = measured
                    .moments
                    .iter()
                    .find(|m| m.view == view.view && m.name == name);
                let off = |m: &Moment| (m.time_s - at(name)).abs() * view.capture_rate_hz;
                all += 1;
                right += usize::from(found.is_some_and(|m| off(m) <= tolerance));
            }
        }
    }
    println!("events within the tolerance of published benchmarks: {right} of {all}");
}

struct Error {
    case: String,
    error: f64,
    half: f64,
    truth: f64,
}

fn print_each(errors: &[Error]) {
    for e in errors {
        println!(
            "    {} {:.2} {:+.2} ± {:.2}",
            e.case, e.truth, e.error, e.half
        );
    }
}

fn print_head() {
    println!(
        "{:56} {:>3} {:>8} {:>8} {:>8} {:>8} {:>8} {:>6} {:>6} {:>7} {:>8}",
        "", "n", "median|e|", "90 %", "mean", "sd", "max|e|", "slope", "r", "held %", "± median"
    );
}

fn print_row(title: &str, errors: &[Error]) {
    if errors.is_empty() {
        return;
    }
    let values: Vec<f64> = errors.iter().map(|e| e.error).collect();
    let sizes: Vec<f64> = values.iter().map(|e| e.abs()).collect();
    let (mean, sd) = mean_sd(&values);
    let pairs: Vec<(f64, f64)> = errors
        .iter()
        .map(|e| (e.truth, e.truth + e.error))
        .collect();
    let (slope, r) = slope(&pairs);
    let held = errors.iter().filter(|e| e.error.abs() <= e.half).count();
    let halves: Vec<f64> = errors.iter().map(|e| e.half).collect();
    let worst = errors
        .iter()
        .max_by(|a, b| a.error.abs().total_cmp(&b.error.abs()))
        .map_or("", |e| e.case.as_str());
    println!(
        "{title:56} {:3} {:8.3} {:8.3} {mean:8.3} {sd:8.3} {:8.3} {slope:6.2} {r:6.2} {:7.0} {:8.3}  {worst}",
        errors.len(),
        median(&sizes).unwrap_or(0.0),
        quantile(&sizes, 0.9).unwrap_or(0.0),
        sizes.iter().copied().fold(0.0, f64::max),
        100.0 * held as f64 / errors.len() as f64,
        median(&halves).unwrap_or(0.0),
    );
}

/// Ahead or behind: how often the sign is right where the interval leaves zero out, and where the
/// truth is farther from zero than the ±.
fn print_signs(errors: &[Error]) {
    let outside: Vec<&Error> = errors.iter().filter(|e| e.truth.abs() > e.half).collect();
    let right = outside
        .iter()
        .filter(|e| (e.truth + e.error) * e.truth > 0.0)
        .count();
    let claimed: Vec<&Error> = errors
        .iter()
        .filter(|e| (e.truth + e.error).abs() > e.half)
        .collect();
    let true_claims = claimed
        .iter()
        .filter(|e| (e.truth + e.error) * e.truth > 0.0)
        .count();
    println!(
        "    ahead or behind: right in {right} of {} truly outside ±; {true_claims} of {} claims true",
        outside.len(),
        claimed.len()
    );
}
