//! Reads swings with known truth, prints how wrong the analysis is, and writes the calibration.
//!
//! ```text
//! calibrate [--exact] [--each] [--write FILE] FOLDER
//! ```
//!
//! FOLDER holds one JSON file a swing, tuning swings only (never those that are reported on):
//! `{"stature_m", "clips": [{"facts", "track", "centres", "strikes", "truth"}]}`, where `truth` is what the
//! stage writes. `--exact` takes the points as known exactly (a check of the geometry).
//! `--each` prints truth, error and ± of every swing.
//! `--write` derives the table from these swings, writes it, and prints the errors that are left;
//! each fifth of the swings judged with the table of the others.

use lessonwright_analysis::benchmark::event_tolerance_frames;
use lessonwright_analysis::calibration::{
    Bias, Cue, Length, LengthRow, MeasureRow, MomentRow, Seen,
};
use lessonwright_analysis::{Calibration, ClipObservation, Measured, Settings, analyse};
use lessonwright_math::{median, quantile};
use lessonwright_model::*;
use serde_json::Value;
use std::fmt::Write as _;
use std::path::Path;

fn main() {
    let mut exact = false;
    let mut each = false;
    let mut write = None;
    let mut folder = None;
    let mut arguments = std::env::args().skip(1);
    while let Some(argument) = arguments.next() {
        match argument.as_str() {
            "--exact" => exact = true,
            "--each" => each = true,
            "--write" => write = arguments.next(),
            other => folder = Some(other.to_owned()),
        }
    }
    let folder = folder.expect("usage: calibrate [--exact] [--each] [--write FILE] FOLDER");
    let cases = read_cases(Path::new(&folder));
    println!("{} swings from {folder}", cases.len());
    let start = if exact {
        Calibration::exact()
    } else {
        Calibration::body_network()
    };
    let Some(file) = write else {
        print_errors(&cases, each, &|_| start.clone());
        return;
    };
    // A table of zeros, so that what is read is raw.
    let whole = derive(&cases.iter().collect::<Vec<_>>());
    std::fs::write(&file, table_source(&whole, cases.len())).expect("the table can be written");
    println!("wrote {file}; errors of each fifth with the table of the other four:");
    let others: Vec<Calibration> = (0..FOLDS)
        .map(|fold| {
            let kept = cases.iter().enumerate().filter(|(i, _)| i % FOLDS != fold);
            derive(&kept.map(|c| c.1).collect::<Vec<_>>())
        })
        .collect();
    print_errors(&cases, each, &|i| others[i % FOLDS].clone());
}

/// Parts into which the swings are divided to judge the table on swings it was not made of.
const FOLDS: usize = 5;

/// A swing with its truth.
#[derive(Clone)]
struct Case {
    name: String,
    player: PlayerFacts,
    clips: Vec<ClipObservation>,
    truths: Vec<Value>,
}

fn read_cases(folder: &Path) -> Vec<Case> {
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .expect("a readable folder")
        .map(|entry| entry.expect("a readable entry").path())
        .filter(|path| path.extension().is_some_and(|e| e == "json"))
        .collect();
    files.sort();
    files.iter().map(|path| read_case(path)).collect()
}

fn read_case(path: &Path) -> Case {
    let text = std::fs::read_to_string(path).expect("a readable file");
    let value: Value = serde_json::from_str(&text).expect("JSON");
    let clips = value["clips"].as_array().expect("clips");
    let part = |clip: &Value, name: &str| clip[name].clone();
    Case {
        name: path
            .file_stem()
            .map(|s| s.to_string_lossy().into_owned())
            .unwrap_or_default(),
        player: PlayerFacts {
            stature_m: value["stature_m"].as_f64(),
            ..PlayerFacts::default()
        },
        clips: clips
            .iter()
            .map(|clip| ClipObservation {
                facts: facts(&part(clip, "facts")),
                track: serde_json::from_value(part(clip, "track")).expect("a landmark track"),
                centres: serde_json::from_value(part(clip, "centres")).expect("a landmark track"),
                strikes: serde_json::from_value(part(clip, "strikes")).expect("strikes"),
                view: None,
                hand: None,
            })
            .collect(),
        truths: clips.iter().map(|clip| part(clip, "truth")).collect(),
    }
}

fn facts(value: &Value) -> ClipFacts {
    serde_json::from_value(value.clone()).expect("clip facts")
}

fn view_of(truth: &Value) -> View {
    if truth["view"] == "face_on" {
        View::FaceOn
    } else {
        View::DownTheLine
    }
}

fn true_moment(truth: &Value, name: MomentName) -> Option<f64> {
    let key = serde_json::to_value(name).ok()?;
    truth["moments"]
        .as_array()?
        .iter()
        .find(|m| m["name"] == key)?["time_s"]
        .as_f64()
}

fn true_measure(truth: &Value, measure: &Measure) -> Option<f64> {
    let key = |name: &dyn Fn() -> Value| name();
    let name = key(&|| serde_json::to_value(measure.name).unwrap_or_default());
    let moment = key(&|| serde_json::to_value(measure.moment).unwrap_or_default());
    let against = key(&|| serde_json::to_value(measure.against).unwrap_or_default());
    let all = truth["measures"].as_array()?;
    let by_name = || {
        all.iter()
            .filter(|m| m["name"] == name && m["moment"] == moment)
    };
    by_name()
        .find(|m| m["against"] == against)
        .or_else(|| by_name().find(|_| measure.name != MeasureName::PelvisShift))
        .and_then(|m| m["value"].as_f64())
}

/// Pixels in a metre at the hips' depth.
fn true_px_per_m(truth: &Value) -> Option<f64> {
    let camera = &truth["camera"];
    let vector = |v: &Value| -> Option<[f64; 3]> {
        let a = v.as_array()?;
        Some([
            a.first()?.as_f64()?,
            a.get(1)?.as_f64()?,
            a.get(2)?.as_f64()?,
        ])
    };
    let (position, forward) = (vector(&camera["position"])?, vector(&camera["forward"])?);
    let hips = truth["frames"]
        .as_array()
        .and_then(|f| vector(&f.first()?["joints"]["pelvis"]["world"]))
        .unwrap_or([0.0, 0.90, -0.05]);
    let depth: f64 = (0..3).map(|i| (hips[i] - position[i]) * forward[i]).sum();
    Some(camera["focal_px"].as_f64()? / depth)
}

fn settings(calibration: Calibration) -> Settings {
    Settings {
        calibration,
        ..Settings::default()
    }
}

/// Which clips of a case are given.
const GIVEN: [(&str, Seen); 3] = [
    ("face-on", Seen::FaceOn),
    ("down the line", Seen::DownTheLine),
    ("both", Seen::Both),
];

fn clips_for(case: &Case, seen: Seen) -> Vec<(ClipObservation, Value)> {
    case.clips
        .iter()
        .cloned()
        .zip(case.truths.iter().cloned())
        .filter(|(_, truth)| match seen {
            Seen::FaceOn => view_of(truth) == View::FaceOn,
            Seen::DownTheLine => view_of(truth) == View::DownTheLine,
            Seen::Both => true,
        })
        .collect()
}

fn run(case: &Case, seen: Seen, calibration: Calibration) -> Option<(Measured, Vec<Value>)> {
    let (clips, truths): (Vec<_>, Vec<_>) = clips_for(case, seen).into_iter().unzip();
    let whole = if seen == Seen::Both { 2 } else { 1 };
    if clips.len() != whole {
        return None;
    }
    match analyse(&clips, &case.player, &settings(calibration)) {
        Ok(measured) => Some((measured, truths)),
        Err(error) => {
            println!("  {} {seen:?}: {error}", case.name);
            None
        }
    }
}

/// Times and values read with errors, one row a moment or measure and configuration.
fn print_errors(cases: &[Case], each: bool, calibration: &dyn Fn(usize) -> Calibration) {
    for (title, seen) in GIVEN {
        let runs: Vec<(&Case, Measured, Vec<Value>)> = cases
            .iter()
            .enumerate()
            .filter_map(|(i, case)| run(case, seen, calibration(i)).map(|(m, t)| (case, m, t)))
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
        println!(
            "{:52} {:>4} {:>8} {:>8} {:>8} {:>8} {:>7} {:>8}",
            "", "n", "median|e|", "mean", "sd", "max|e|", "held %", "± median"
        );
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
        let Some((_, first, _)) = runs.first() else {
            continue;
        };
        for (index, measure) in first.measures.iter().enumerate() {
            let errors: Vec<Error> = runs
                .iter()
                .filter_map(|(case, measured, truths)| {
                    let m = &measured.measures[index];
                    let (value, low, high) = (m.value?, m.low?, m.high?);
                    let truth = truths.iter().find_map(|t| true_measure(t, m))?;
                    Some(Error {
                        case: case.name.clone(),
                        error: value - truth,
                        half: 0.5 * (high - low),
                        truth,
                    })
                })
                .collect();
            let title = format!(
                "{:?} {:?} {:?}",
                measure.name, measure.moment, measure.against
            );
            print_row(&title, &errors);
            if each {
                print_each(&errors);
            }
            if measure.name == MeasureName::TrailElbowAhead {
                print_signs(&errors);
            }
        }
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

fn print_row(title: &str, errors: &[Error]) {
    if errors.is_empty() {
        return;
    }
    let values: Vec<f64> = errors.iter().map(|e| e.error).collect();
    let sizes: Vec<f64> = values.iter().map(|e| e.abs()).collect();
    let (mean, sd) = mean_sd(&values);
    let held = errors.iter().filter(|e| e.error.abs() <= e.half).count();
    let halves: Vec<f64> = errors.iter().map(|e| e.half).collect();
    let worst = errors
        .iter()
        .max_by(|a, b| a.error.abs().total_cmp(&b.error.abs()))
        .map_or("", |e| e.case.as_str());
    println!(
        "{title:52} {:4} {:8.2} {mean:8.2} {sd:8.2} {:8.2} {:7.0} {:8.2}  {worst}",
        errors.len(),
        median(&sizes).unwrap_or(0.0),
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

fn mean_sd(values: &[f64]) -> (f64, f64) {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let variance = values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (n - 1.0).max(1.0);
    (mean, variance.sqrt())
}

/// The calibration that these swings support: lengths first, then moments, then measures, each
/// read with what came before.
fn derive(cases: &[&Case]) -> Calibration {
    let mut calibration = Calibration {
        moments: Vec::new(),
        measures: Vec::new(),
        lengths: Vec::new(),
        ..Calibration::body_network()
    };
    calibration.lengths = derive_lengths(cases, &calibration);
    calibration.moments = derive_moments(cases, &calibration);
    calibration.measures = derive_measures(cases, &calibration);
    calibration
}

fn derive_lengths(cases: &[&Case], so_far: &Calibration) -> Vec<LengthRow> {
    let mut rows = Vec::new();
    for (view, seen) in [
        (View::FaceOn, Seen::FaceOn),
        (View::DownTheLine, Seen::DownTheLine),
    ] {
        let runs: Vec<_> = cases
            .iter()
            .filter_map(|case| Some((case, run(case, seen, so_far.clone())?)))
            .collect();
        for length in [Length::NoseToAnkle, Length::Leg, Length::Arm] {
            let shares: Vec<f64> = runs
                .iter()
                .filter_map(|(case, (measured, truths))| {
                    let px = measured.scales.first()?.as_ref()?.lengths.get(length)?;
                    Some(px / true_px_per_m(truths.first()?)? / case.player.stature_m?)
                })
                .collect();
            if let Some(share) = bias_of(&shares, &[]) {
                rows.push(LengthRow {
                    view,
                    length,
                    share,
                });
            }
        }
    }
    rows
}

fn derive_moments(cases: &[&Case], so_far: &Calibration) -> Vec<MomentRow> {
    let mut rows = Vec::new();
    for (view, seen) in [
        (View::FaceOn, Seen::FaceOn),
        (View::DownTheLine, Seen::DownTheLine),
    ] {
        let silent: Vec<_> = cases
            .iter()
            .filter_map(|case| run(&without_sound(case), seen, so_far.clone()))
            .collect();
        for name in MomentName::ALL {
            if let Some(bias) = bias_of(&moment_errors(&silent, name), &[]) {
                rows.push(MomentRow {
                    view,
                    name,
                    cue: Cue::Motion,
                    bias,
                });
            }
        }
        let heard: Vec<_> = cases
            .iter()
            .filter(|case| {
                clips_for(case, seen)
                    .iter()
                    .all(|(c, _)| !c.strikes.is_empty())
            })
            .filter_map(|case| run(case, seen, so_far.clone()))
            .filter(|(m, _)| {
                !m.views[0]
                    .warnings
                    .iter()
                    .any(|w| w.contains("no sound fits"))
            })
            .collect();
        if let Some(mut bias) = bias_of(&moment_errors(&heard, MomentName::Impact), &[]) {
            // The sound's travel and onset have their own part of the ±, which covers this spread.
            bias.sd = LEAST_SOUND_SD_S;
            rows.push(MomentRow {
                view,
                name: MomentName::Impact,
                cue: Cue::Sound,
                bias,
            });
        }
    }
    rows
}

/// What is left of a strike's time beside the sound's travel and onset, s: from memory, the jitter
/// of a recorder's own clock.
const LEAST_SOUND_SD_S: f64 = 0.0005;

fn moment_errors(runs: &[(Measured, Vec<Value>)], name: MomentName) -> Vec<f64> {
    runs.iter()
        .filter_map(|(measured, truths)| {
            let moment = measured.moments.iter().find(|m| m.name == name)?;
            Some(moment.time_s - true_moment(truths.first()?, name)?)
        })
        .collect()
}

fn without_sound(case: &Case) -> Case {
    let mut case = case.clone();
    for clip in &mut case.clips {
        clip.strikes.clear();
    }
    case
}

fn derive_measures(cases: &[&Case], so_far: &Calibration) -> Vec<MeasureRow> {
    let silent = Calibration {
        otherwise: lessonwright_analysis::calibration::Unlisted {
            shift_sd_cm: 0.0,
            elbow_sd_cm: 0.0,
            turn_sd_deg: 0.0,
            ..so_far.otherwise
        },
        ..so_far.clone()
    };
    let mut rows: Vec<MeasureRow> = Vec::new();
    for (_, seen) in GIVEN {
        let runs: Vec<_> = cases
            .iter()
            .filter_map(|case| run(case, seen, silent.clone()))
            .collect();
        let Some((first, _)) = runs.first() else {
            continue;
        };
        for (index, measure) in first.measures.iter().enumerate() {
            let tempo = matches!(measure.unit, Unit::Second | Unit::One);
            // Only the knee line is read from both views at once.
            let both = seen == Seen::Both;
            if tempo || (both && measure.name != MeasureName::KneeLineTurn) {
                continue;
            }
            let (errors, sds): (Vec<f64>, Vec<f64>) = runs
                .iter()
                .filter_map(|(measured, truths)| {
                    let m = &measured.measures[index];
                    let truth = truths.iter().find_map(|t| true_measure(t, m))?;
                    Some((m.value? - truth, 0.5 * (m.high? - m.low?) / 1.96))
                })
                .unzip();
            if let Some(bias) = bias_of(&errors, &sds) {
                rows.push(MeasureRow {
                    name: measure.name,
                    moment: measure.moment,
                    against: measure.against,
                    seen,
                    bias,
                });
            }
        }
    }
    rows
}

/// Mean error, and the spread that together with the `known` standard deviations (noise, scale,
/// timing; none: zero) makes 95 % intervals hold 95 %: by the mean square of the normalised errors,
/// or by their 95 % quantile where tails are longer than normal, whichever is more. Widened for the
/// number of swings (Student's t, and the mean's own error). `None` from fewer than six swings.
fn bias_of(errors: &[f64], known: &[f64]) -> Option<Bias> {
    const LEAST: usize = 6;
    if errors.len() < LEAST {
        return None;
    }
    let n = errors.len() as f64;
    let mean = median(errors)?;
    let known = |i: usize| known.get(i).copied().unwrap_or(0.0);
    let too_narrow = |sd: f64| {
        let sizes: Vec<f64> = errors
            .iter()
            .enumerate()
            .map(|(i, e)| (e - mean).abs() / sd.hypot(known(i)))
            .collect();
        let rms = (sizes.iter().map(|s| s * s).sum::<f64>() / (n - 1.0)).sqrt();
        rms.max(quantile(&sizes, 0.95).unwrap_or(0.0) / 1.96) > 1.0
    };
    // A bias is never taken as known to better than half of the errors' own spread: the known parts
    // are estimates too.
    let spread = mean_sd(errors).1;
    let (mut low, mut high) = (0.5 * spread, 10.0 * spread);
    if too_narrow(low) {
        for _ in 0..40 {
            let middle = 0.5 * (low + high);
            if too_narrow(middle) {
                low = middle
            } else {
                high = middle
            }
        }
    } else {
        high = low;
    }
    // t(0.975, n − 1) / 1.96 ≈ 1 + 1.25/(n − 1) for n > 5 (within 2 %).
    let few = (1.0 + 1.25 / (n - 1.0)) * (1.0 + 1.0 / n).sqrt();
    Some(Bias {
        mean,
        sd: high * few,
    })
}

/// Rust source of the table.
fn table_source(calibration: &Calibration, swings: usize) -> String {
    let mut out = String::new();
    let _ = writeln!(
        out,
        "//! Written by `cargo xtask bench calibration`; not by hand.\n//!\n//! From {swings} rendered swings used for tuning only, seen by the heavy body network.\n"
    );
    out.push_str(
        "use super::{Bias, Cue, Length, LengthRow, MeasureRow, MomentRow, Seen};\nuse lessonwright_model::{MeasureName, MomentName, View};\n\n/// Bias in s.\npub const MOMENTS: &[MomentRow] = &[\n",
    );
    let bias = |b: Bias, digits: usize| {
        format!(
            "Bias {{ mean: {:.digits$}, sd: {:.digits$} }}",
            b.mean, b.sd
        )
    };
    for r in &calibration.moments {
        let _ = writeln!(
            out,
            "MomentRow {{ view: View::{:?}, name: MomentName::{:?}, cue: Cue::{:?}, bias: {} }},",
            r.view,
            r.name,
            r.cue,
            bias(r.bias, 5)
        );
    }
    out.push_str("];\n\n/// Bias in cm or degrees.\npub const MEASURES: &[MeasureRow] = &[\n");
    for r in &calibration.measures {
        let against = r
            .against
            .map_or("None".to_owned(), |a| format!("Some(MomentName::{a:?})"));
        let _ = writeln!(
            out,
            "MeasureRow {{ name: MeasureName::{:?}, moment: MomentName::{:?}, against: {against}, seen: Seen::{:?}, bias: {} }},",
            r.name,
            r.moment,
            r.seen,
            bias(r.bias, 2)
        );
    }
    out.push_str("];\n\n/// Share of the stature.\npub const LENGTHS: &[LengthRow] = &[\n");
    for r in &calibration.lengths {
        let _ = writeln!(
            out,
            "LengthRow {{ view: View::{:?}, length: Length::{:?}, share: {} }},",
            r.view,
            r.length,
            bias(r.share, 4)
        );
    }
    out.push_str("];\n");
    out
}
