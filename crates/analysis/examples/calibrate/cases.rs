//! Swings with known truth, as the stage and `lessonwright landmarks` write them.

use lessonwright_analysis::calibration::Seen;
use lessonwright_analysis::clean::Points;
use lessonwright_analysis::{Calibration, ClipObservation, Measured, Settings, Way, analyse};
use lessonwright_model::*;
use serde_json::Value;
use std::path::Path;

/// A swing with its truth.
#[derive(Clone)]
pub struct Case {
    pub name: String,
    pub player: PlayerFacts,
    pub clips: Vec<ClipObservation>,
    pub truths: Vec<Value>,
}

/// The swings of a folder; with landmarks alone where `points` says so.
pub fn read_cases(folder: &Path, points: Points) -> Vec<Case> {
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .expect("a readable folder")
        .map(|entry| entry.expect("a readable entry").path())
        .filter(|path| path.extension().is_some_and(|e| e == "json"))
        .collect();
    files.sort();
    files.iter().map(|path| read_case(path, points)).collect()
}

fn read_case(path: &Path, points: Points) -> Case {
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
                club: None,
                centres: (points == Points::JointCentres).then(|| {
                    serde_json::from_value(part(clip, "centres"))
                        .expect("joint centres; landmarks alone would mix two kinds of points")
                }),
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

pub fn view_of(truth: &Value) -> View {
    if truth["view"] == "face_on" {
        View::FaceOn
    } else {
        View::DownTheLine
    }
}

pub fn true_moment(truth: &Value, name: MomentName) -> Option<f64> {
    let key = serde_json::to_value(name).ok()?;
    truth["moments"]
        .as_array()?
        .iter()
        .find(|m| m["name"] == key)?["time_s"]
        .as_f64()
}

pub fn true_measure(truth: &Value, measure: &Measure) -> Option<f64> {
    let key = |value| serde_json::to_value(value).ok();
    let name = serde_json::to_value(measure.name).ok()?;
    let (moment, against) = (key(Some(measure.moment))?, key(measure.against)?);
    let is = |m: &&Value| m["name"] == name && m["moment"] == moment && m["against"] == against;
    truth["measures"].as_array()?.iter().find(is)?["value"].as_f64()
}

/// Pixels in a metre at the hips' depth.
pub fn true_px_per_m(truth: &Value) -> Option<f64> {
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

/// Which clips of a case are given.
pub const GIVEN: [(&str, Seen); 3] = [
    ("face-on", Seen::FaceOn),
    ("down the line", Seen::DownTheLine),
    ("both", Seen::Both),
];

pub fn clips_for(case: &Case, seen: Seen) -> Vec<(ClipObservation, Value)> {
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

/// A case read from some of its clips; without the fitted body where only the picture is asked for.
pub fn run(
    case: &Case,
    seen: Seen,
    way: Way,
    calibration: Calibration,
) -> Option<(Measured, Vec<Value>)> {
    let (clips, truths): (Vec<_>, Vec<_>) = clips_for(case, seen).into_iter().unzip();
    let whole = if seen == Seen::Both { 2 } else { 1 };
    if clips.len() != whole {
        return None;
    }
    let settings = Settings {
        calibration: Some(calibration),
        checks: way,
        without_body: way == Way::Picture,
        ..Settings::default()
    };
    match analyse(&clips, &case.player, &settings) {
        Ok(measured) => Some((measured, truths)),
        Err(error) => {
            println!("  {} {seen:?}: {error}", case.name);
            None
        }
    }
}
