//! The main job through the real binary, on the demo's clips of both views and both hands, against
//! the exact truth of what was rendered (`demo/truth`).
//!
//! Tolerances are those of single swings: about three times the median error of the accuracy table
//! (`docs/accuracy.md`), so that a broken road fails and ordinary error does not.

use crate::common::{
    analyse, clips, demo, lessonwright, measure, moment_s, root, studio_with_shared_landmarks,
};
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

const PLAYERS: [(&str, &str, &str); 3] = [
    ("tom-hallam", "right", "181"),
    ("nils-ostrand", "left", "186"),
    ("ines-carvalho", "right", "167"),
];

fn truth(player: &str, view: &str) -> Value {
    let file = demo(&format!("truth/{player}-{view}.json"));
    serde_json::from_slice(&fs::read(file).expect("a truth file")).expect("JSON")
}

#[test]
fn each_demo_swing_is_measured_near_its_truth_without_being_told_view_or_hand() {
    let studio = studio_with_shared_landmarks();
    let mut wrong = Vec::new();
    for (player, hand, stature_cm) in PLAYERS {
        let swing = analyse(studio.path(), &clips(player), &["--stature-cm", stature_cm]);
        for (number, view) in ["face_on", "down_the_line"].into_iter().enumerate() {
            let report = &swing["views"][number];
            if report["view"] != view || report["hand"] != hand {
                wrong.push(format!(
                    "{player}: read as {} {}",
                    report["view"], report["hand"]
                ));
            }
            let truth = truth(player, &view.replace('_', "-"));
            // Two frames at 60 frames/s for the body's moments; the strike's sound times impact,
            // less its way to the microphone, 3–6 m at 343 m/s with 1 m of doubt.
            for (name, within_s) in [
                ("top", 0.034),
                ("lead_arm_level_down", 0.034),
                ("impact", 0.005),
            ] {
                let off = moment_s(&swing, Some(view), name) - moment_s(&truth, None, name);
                if off.abs() > within_s {
                    wrong.push(format!(
                        "{player}, {view}: {name} is {:.1} ms off",
                        off * 1000.0
                    ));
                }
            }
        }
        let truth = truth(player, "face-on");
        for (name, moment, against, within) in [
            ("pelvis_shift", "top", Some("address"), 3.6),
            ("pelvis_shift", "lead_arm_level_down", Some("address"), 3.6),
            ("pelvis_shift", "lead_arm_level_down", Some("top"), 3.6),
            (
                "knee_line_turn",
                "lead_arm_level_down",
                Some("address"),
                18.0,
            ),
            ("tempo_ratio", "impact", Some("address"), 0.9),
        ] {
            let found = measure(&swing, name, moment, against);
            let (value, truly) = (
                found["value"].as_f64(),
                measure(&truth, name, moment, against),
            );
            let truly = truly["value"].as_f64().expect("a true value");
            match value {
                Some(value) if (value - truly).abs() <= within => {}
                Some(value) => wrong.push(format!("{player}: {name} {value:.1}, truly {truly:.1}")),
                None => wrong.push(format!(
                    "{player}: {name} not measured: {}",
                    found["reason"]
                )),
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn one_clip_alone_withholds_what_its_view_cannot_show() {
    let studio = studio_with_shared_landmarks();
    let [face_on, down_the_line] = clips("tom-hallam");
    let swing = analyse(studio.path(), &[face_on], &["--stature-cm", "181"]);
    let down = "lead_arm_level_down";
    for (name, against) in [
        ("knee_line_turn", Some("address")),
        ("trail_elbow_ahead", None),
    ] {
        let withheld = measure(&swing, name, down, against);
        assert_eq!(withheld["state"], "not_measurable_from_this_view", "{name}");
        assert!(withheld["value"].is_null() && !withheld["reason"].as_str().unwrap().is_empty());
    }
    let swing = analyse(studio.path(), &[down_the_line], &["--stature-cm", "181"]);
    let shift = measure(&swing, "pelvis_shift", down, Some("address"));
    assert_eq!(shift["state"], "not_measurable_from_this_view");
}

#[test]
fn what_is_printed_as_json_follows_the_committed_schema() {
    let studio = studio_with_shared_landmarks();
    let printed = lessonwright(studio.path()).arg("schema").output().unwrap();
    let committed = fs::read(root().join("docs/schema/swing-analysis-2.json")).unwrap();
    assert!(
        printed.stdout == committed,
        "docs/schema is out of date: lessonwright schema > docs/schema/swing-analysis-2.json"
    );
    let schema: Value = serde_json::from_slice(&committed).unwrap();
    let validator = jsonschema::validator_for(&schema).expect("a JSON Schema");
    let swing = analyse(
        studio.path(),
        &clips("nils-ostrand"),
        &["--hand", "left", "--stature-cm", "186"],
    );
    let errors: Vec<String> = validator
        .iter_errors(&swing)
        .map(|e| e.to_string())
        .collect();
    assert!(errors.is_empty(), "{errors:?}");
    let mut broken = swing;
    broken["moments"][0]["name"] = "half way".into();
    assert!(
        !validator.is_valid(&broken),
        "a schema that accepts anything checks nothing"
    );
}

/// The page of a lesson on one day, for whatever is typed of the player.
fn lesson_page(studio: &Path, clips: &[PathBuf], typed: &[&str]) -> Vec<u8> {
    let page = studio.join("lesson.html");
    let done = lessonwright(studio)
        .arg("lesson")
        .args(clips)
        .args(typed)
        .args(["--date", "2026-11-25", "--out"])
        .arg(&page)
        .output()
        .expect("the binary starts");
    assert!(
        done.status.success(),
        "{}",
        String::from_utf8_lossy(&done.stderr)
    );
    fs::read(page).expect("the page is where --out says")
}

const INES: [&str; 10] = [
    "--player",
    "Ines Carvalho",
    "--stature-cm",
    "167",
    "--age",
    "67",
    "--flight",
    "push",
    "--health",
    "sore back",
];

#[test]
fn the_same_clips_give_the_same_bytes() {
    let pages = [(); 2].map(|()| {
        let studio = TempDir::new().unwrap();
        lesson_page(studio.path(), &clips("ines-carvalho"), &INES)
    });
    assert!(pages[0] == pages[1]);
}

#[test]
fn a_known_players_record_counts_in_the_next_lesson() {
    let studio = studio_with_shared_landmarks();
    let [face_on, _] = clips("ines-carvalho");
    let first = lesson_page(studio.path(), std::slice::from_ref(&face_on), &INES);
    let said = String::from_utf8_lossy(&first).into_owned();
    assert!(
        said.contains("physician"),
        "a sore back calls for a caution"
    );
    let name_only = &INES[..2];
    assert!(lesson_page(studio.path(), std::slice::from_ref(&face_on), name_only) == first);
    let elsewhere = studio_with_shared_landmarks();
    let unknown = lesson_page(elsewhere.path(), &[face_on], name_only);
    assert!(
        unknown != first,
        "what is told of a player changes the page"
    );
}

#[test]
fn a_minors_film_is_refused_without_a_guardians_consent() {
    let studio = TempDir::new().unwrap();
    let lesson = |more: &[&str]| {
        lessonwright(studio.path())
            .arg("lesson")
            .arg(&clips("tom-hallam")[0])
            .args(["--player", "A Junior", "--stature-cm", "181", "--age", "13"])
            .args(more)
            .output()
            .unwrap()
    };
    let refused = lesson(&[]);
    assert!(!refused.status.success());
    let said = String::from_utf8_lossy(&refused.stderr).into_owned();
    assert!(
        said.contains("A Junior") && said.contains("guardian"),
        "{said}"
    );
    assert!(
        !studio.path().join("landmarks").exists(),
        "the film was not looked at"
    );
    assert!(lesson(&["--guardian", "A Parent"]).status.success());
}
