//! The figures of the drills: every drill has one, and no step asks a body for what it can't do.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use lessonwright_stage::drill::{Play, RATE_HZ, Sheets, moving};
use lessonwright_stage::motion::Movement;
use std::collections::BTreeSet;

fn sheets() -> Sheets {
    Sheets::parse(include_str!("../drills.toml")).unwrap()
}

#[test]
fn every_drill_of_the_book_has_a_figure() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../coaching/data/drills");
    let pages = std::fs::read_dir(folder).unwrap().map(|page| {
        let path = page.unwrap().path();
        path.file_stem().unwrap().to_string_lossy().into_owned()
    });
    let sheets = sheets();
    let drawn: BTreeSet<String> = sheets.iter().map(|(key, _)| key.to_owned()).collect();
    assert_eq!(drawn, pages.collect());
}

#[test]
fn bones_keep_their_length_at_every_step() {
    for (drill, sheet) in sheets().iter() {
        let play = Play::of(sheet);
        let s = play.skeleton().clone();
        for step in 0..sheet.steps.len() {
            let pose = play.pose(play.reached_s(step));
            for i in 0..2 {
                let bones = [
                    (pose.hip[i].distance(pose.knee[i]), s.thigh),
                    (pose.knee[i].distance(pose.ankle[i]), s.shank),
                    (pose.shoulder[i].distance(pose.elbow[i]), s.upper_arm),
                    (pose.elbow[i].distance(pose.wrist[i]), s.forearm),
                    (pose.wrist[i].distance(pose.grip[i]), s.hand),
                ];
                for (is, wanted) in bones {
                    assert!(
                        (is - wanted).abs() < 0.003,
                        "{drill}, step {step}: {is} for {wanted}"
                    );
                }
                assert!(
                    pose.ankle[i].y > s.ankle_height - 0.005,
                    "{drill}, step {step}"
                );
            }
        }
    }
}

#[test]
fn a_figure_rests_moves_and_is_the_same_each_time() {
    let sheets = sheets();
    let (_, sheet) = sheets
        .iter()
        .find(|(key, _)| *key == "hip_to_the_wall")
        .unwrap();
    let frames = moving(sheet, [40, 40], 1);
    assert_eq!(frames, moving(sheet, [40, 40], 1));
    let length_s = Play::of(sheet).length_s();
    assert_eq!(frames.len(), (length_s * RATE_HZ).round() as usize);
    // It holds the first step for half a second, then turns.
    assert_eq!(frames[0], frames[4]);
    assert_ne!(frames[0], frames[12]);
}

#[test]
fn a_bad_sheet_says_which_drill_and_what() {
    let good = include_str!("../drills.toml");
    let error = |from: &str, to: &str| {
        assert!(good.contains(from), "{from}");
        Sheets::parse(&good.replacen(from, to, 1))
            .unwrap_err()
            .to_string()
    };
    assert!(error("stills = [0, 1, 2]", "stills = [0, 1, 9]").contains("no step 9"));
    assert!(error("swing = \"short\"", "swing = \"shirt\"").contains("shirt"));
    assert!(error("stance_ratio = 0.17", "stance_ratio = 1.7").contains("stance_ratio"));
    assert!(error("holds_s = ", "waits_s = ").contains("waits_s"));
}
