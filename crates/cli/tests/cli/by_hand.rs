//! Corrections by hand through the real binary, on the demo's clips: a left-hander's kept swing is
//! changed step by step and taken back, and a clip's corrections come from a file.

use crate::common::{
    analyse, clips, lessonwright, measure, moment_s, root, studio_with_shared_landmarks,
};
use serde_json::{Value, json};
use std::fs;
use std::path::Path;

/// Run `correct` on the only swing; what it prints, or what it says on failing.
fn correct(studio: &Path, options: &[&str]) -> Result<Vec<u8>, String> {
    let output = lessonwright(studio)
        .args(["correct", "1", "--json"])
        .args(options)
        .output()
        .expect("the binary starts");
    match output.status.success() {
        true => Ok(output.stdout),
        false => Err(String::from_utf8_lossy(&output.stderr).into_owned()),
    }
}

fn json_of(printed: &[u8]) -> Value {
    serde_json::from_slice(printed).expect("one JSON object")
}

fn value(swing: &Value, name: &str, moment: &str, against: Option<&str>) -> f64 {
    let found = measure(swing, name, moment, against);
    found["value"]
        .as_f64()
        .unwrap_or_else(|| panic!("{name}: {}", found["reason"]))
}

fn moment<'a>(swing: &'a Value, view: &str, name: &str) -> &'a Value {
    let moments = swing["moments"].as_array().expect("moments");
    let is = |m: &&Value| m["view"] == view && m["name"] == name;
    moments.iter().find(is).expect("the moment")
}

#[test]
fn a_kept_left_handers_swing_is_corrected_step_by_step_and_taken_back() {
    let studio = studio_with_shared_landmarks();
    let made = lessonwright(studio.path())
        .arg("lesson")
        .args(clips("nils-ostrand"))
        .args(["--player", "Nils Östrand", "--hand", "left"])
        .args(["--stature-cm", "186", "--date", "2026-11-25"])
        .output()
        .unwrap();
    assert!(
        made.status.success(),
        "{}",
        String::from_utf8_lossy(&made.stderr)
    );
    let said = String::from_utf8_lossy(&made.stdout).into_owned();
    assert!(said.contains("as swing 1"), "{said}");
    let printed = lessonwright(studio.path())
        .arg("analyse")
        .args(clips("nils-ostrand"))
        .args(["--player", "Nils Östrand", "--hand", "left"])
        .args(["--stature-cm", "186", "--json"])
        .output()
        .unwrap()
        .stdout;
    let before = json_of(&printed);
    assert!(before.get("corrections").is_none());

    // A moment: two frames of 60 a second later, in both views.
    let steps = ["--view", "face-on", "--nudge", "top=+2"];
    let nudged = json_of(&correct(studio.path(), &steps).unwrap());
    let later = |view| moment_s(&nudged, Some(view), "top") - moment_s(&before, Some(view), "top");
    assert!((later("face_on") - 2.0 / 60.0).abs() < 1e-9);
    assert!((later("down_the_line") - 2.0 / 60.0).abs() < 0.012);
    for view in ["face_on", "down_the_line"] {
        assert_eq!(moment(&nudged, view, "top")["by_hand"], true);
        assert_eq!(moment(&nudged, view, "impact")["by_hand"], false);
    }
    let backswing = |swing| value(swing, "backswing_time", "top", Some("address"));
    assert!((backswing(&nudged) - backswing(&before) - 2.0 / 60.0).abs() < 0.002);

    // A joint: the trail knee of a left-hander is the left one. Twenty pixels toward the ball, which lies to
    // the left of his picture, open the line through the knees.
    let frame = moment(&nudged, "down_the_line", "lead_arm_level_down")["frame"].clone();
    let [x, y] = knee(studio.path(), &frame);
    let place = format!("left_knee@{frame}={:.1},{y:.1}", x - 20.0);
    let steps = ["--view", "down-the-line", "--joint", &place];
    let placed = json_of(&correct(studio.path(), &steps).unwrap());
    let turn = |swing| {
        value(
            swing,
            "knee_line_turn",
            "lead_arm_level_down",
            Some("address"),
        )
    };
    assert!(turn(&placed) - turn(&nudged) > 3.0, "{}", turn(&placed));
    let kept = &placed["corrections"]["clips"];
    assert_eq!(kept["down_the_line"]["joints"][0]["joint"], "left_knee");
    assert!(kept["face_on"]["moments"]["top"].is_number());
    let schema = fs::read(root().join("docs/schema/swing-analysis-2.json")).unwrap();
    let validator = jsonschema::validator_for(&json_of(&schema)).expect("a JSON Schema");
    assert!(validator.is_valid(&placed));

    // A stature: lengths in the picture are as many centimetres less.
    let shorter = json_of(&correct(studio.path(), &["--stature-cm", "170"]).unwrap());
    let half_width = |swing: &Value| {
        let shift = measure(swing, "pelvis_shift", "top", Some("address"));
        shift["value"].as_f64().unwrap()
    };
    assert!(half_width(&shorter) != half_width(&placed));

    // What can't be is refused with what to do, and changes nothing.
    for (steps, said) in [
        (
            &["--view", "face-on", "--moment", "top=0.1"][..],
            "set the other one by hand as well",
        ),
        (
            &["--view", "face-on", "--joint", "left_knee@9999=10,10"],
            "was followed through frames",
        ),
        (&["--nudge", "top=1"], "two views: say --view"),
        (&["--stature-cm", "17"], "0.8 to 2.6 m"),
        (
            &["--view", "face-on", "--joint", "left_kne@1=1,1"],
            "left_knee",
        ),
        (&[], "what is to be corrected?"),
    ] {
        let error = correct(studio.path(), steps).expect_err(said);
        assert!(error.contains(said), "{error}");
    }

    // Step by step back to the very bytes of before.
    let back = json_of(&correct(studio.path(), &["--undo"]).unwrap());
    assert_eq!(back, placed);
    let back = json_of(&correct(studio.path(), &["--undo"]).unwrap());
    assert_eq!(back, nudged);
    assert!(correct(studio.path(), &["--undo"]).unwrap() == printed);
    let error = correct(studio.path(), &["--undo"]).expect_err("nothing is left");
    assert!(error.contains("no change to take back"), "{error}");
}

/// Where the left knee is found down the line in a frame, px.
fn knee(studio: &Path, frame: &Value) -> [f64; 2] {
    const LEFT_KNEE: usize = 25;
    let printed = lessonwright(studio)
        .arg("landmarks")
        .args(clips("nils-ostrand"))
        .output()
        .expect("the binary starts")
        .stdout;
    let frames = json_of(&printed)[1]["centres"]["frames"].clone();
    let frames = frames.as_array().expect("frames");
    let found = frames.iter().find(|f| f["frame"] == *frame).expect("it");
    let at = &found["body"]["points"][LEFT_KNEE]["at"];
    ["x", "y"].map(|axis| at[axis].as_f64().expect("a number"))
}

#[test]
fn corrections_come_from_a_file_too() {
    let studio = studio_with_shared_landmarks();
    let [face_on, _] = clips("tom-hallam");
    let clip = std::slice::from_ref(&face_on);
    let before = analyse(studio.path(), clip, &["--stature-cm", "181"]);
    let file = studio.path().join("corrections.json");
    let with = |corrections: Value| {
        fs::write(&file, corrections.to_string()).unwrap();
        let options = ["--stature-cm", "181", "--corrections"];
        analyse(
            studio.path(),
            clip,
            &[&options[..], &[file.to_str().unwrap()]].concat(),
        )
    };
    assert_eq!(with(json!({})), before);
    // Filmed twice as fast as the file plays: half the time, by the real clock.
    let fast = with(json!({ "clips": { "face_on": { "capture_rate_hz": 120.0 } } }));
    let backswing = |swing| value(swing, "backswing_time", "top", Some("address"));
    let share = backswing(&fast) / backswing(&before);
    assert!((share - 0.5).abs() < 0.03, "{share}");
    assert_eq!(fast["views"][0]["capture_rate_hz"], 120.0);
    // The club was looked for again by that clock, and is kept: told as before, half as long after the start.
    let level = |swing| moment_s(swing, None, "shaft_level_back");
    let lean = |swing| value(swing, "shaft_lean", "address", None);
    // Other pictures are looked at; within the ± of 6° it is the same.
    assert!((lean(&fast) - lean(&before)).abs() < 6.0);
    assert!(
        (level(&fast) / level(&before) - 1.0).abs() < 0.02,
        "by the file's clock"
    );
    let clubs = fs::read_dir(studio.path().join("landmarks"))
        .unwrap()
        .filter(|file| {
            let name = file.as_ref().unwrap().file_name();
            name.to_string_lossy().contains("-at-120")
        });
    assert_eq!(clubs.count(), 1);
    fs::write(&file, r#"{ "clips": { "face_on": { "moment": {} } } }"#).unwrap();
    let refused = lessonwright(studio.path())
        .arg("analyse")
        .arg(&face_on)
        .arg("--corrections")
        .arg(&file)
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&refused.stderr).into_owned();
    assert!(
        said.contains("corrections.json") && said.contains("`moments`"),
        "{said}"
    );
}
