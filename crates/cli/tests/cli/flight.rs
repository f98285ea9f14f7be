//! `flight` through the real binary: what was seen, what was pasted, what is refused.

use crate::common::lessonwright;
use serde_json::Value;
use std::io::Write;
use std::process::{Output, Stdio};
use tempfile::TempDir;

fn flight(options: &[&str], pasted: &str) -> Output {
    let studio = TempDir::new().expect("a folder");
    let mut child = lessonwright(studio.path())
        .arg("flight")
        .args(options)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the binary starts");
    let mut stdin = child.stdin.take().expect("a pipe");
    // A run that does not read what is pasted closes the pipe; that is no failure of the test.
    let _ = stdin.write_all(pasted.as_bytes());
    drop(stdin);
    child.wait_with_output().expect("it ends")
}

fn printed(options: &[&str], pasted: &str) -> String {
    let output = flight(options, pasted);
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout).expect("text")
}

fn refused(options: &[&str], pasted: &str) -> String {
    let output = flight(options, pasted);
    assert!(!output.status.success(), "accepted");
    String::from_utf8_lossy(&output.stderr).into_owned()
}

#[test]
fn a_seen_slice_is_read_as_a_face_open_to_a_path_from_outside() {
    let seen = [
        "--hand", "right", "--club", "7 iron", "--start", "straight", "--curve", "right",
    ];
    let text = printed(&seen, "");
    for says in [
        "Flight: slice",
        "out to in",
        "open to the path",
        "can't tell",
        "--flight \"slice\"",
    ] {
        assert!(text.contains(says), "{says:?} is missing in: {text}");
    }
    let object: Value =
        serde_json::from_str(&printed(&[&seen[..], &["--json"]].concat(), "")).unwrap();
    assert_eq!(object["flights"][0], "slice");
    assert!(object["face_to_path"]["low_deg"].as_f64().unwrap() > 0.0);
    assert!(object["path"]["value_deg"].as_f64().unwrap() < 0.0);
    assert!(!object["would_settle"].as_array().unwrap().is_empty());
}

#[test]
fn the_same_curve_is_a_hook_for_a_left_hander() {
    let seen = [
        "--hand", "left", "--start", "straight", "--curve", "right", "--club", "driver",
    ];
    let text = printed(&seen, "");
    assert!(
        text.contains("Flight: hook") && text.contains("closed to the path"),
        "{text}"
    );
}

#[test]
fn pasted_shots_are_read_one_by_one() {
    let pasted = "Club;Ball speed [km/h];Launch angle;Start direction;Spin axis;Colour\n\
                  Driver;230,4;12,5;2,5 L;9 R;red\n\
                  7 iron;165;17;0;0;blue\n\
                  Average;197;15;1 L;4 R;\n";
    let text = printed(&["--hand", "right", "--csv", "-"], pasted);
    for says in [
        "2 shots",
        "not read: Colour",
        "line 4",
        "pull-slice",
        "straight ball",
        "mid iron",
    ] {
        assert!(text.contains(says), "{says:?} is missing in: {text}");
    }
    let object: Value = serde_json::from_str(&printed(
        &["--hand", "right", "--csv", "-", "--json"],
        pasted,
    ))
    .unwrap();
    let shots = object["shots"].as_array().unwrap();
    assert_eq!(shots.len(), 2);
    assert!(shots[0]["reading"]["face"]["value_deg"].as_f64().unwrap() < 0.0);
    assert_eq!(object["unknown_columns"][0], "Colour");
}

#[test]
fn what_cannot_be_read_is_refused_with_place_and_remedy() {
    let csv = ["--hand", "right", "--csv", "-"];
    let cases: [(&[&str], &str, &[&str]); 5] = [
        (
            &csv,
            "ball speed,carry\n150,230\n",
            &["line 2", "ball speed", "--speed-unit"],
        ),
        (&csv, "hello\n", &["no header", "hello"]),
        (&["--hand", "right"], "", &["nothing is told", "--start"]),
        (
            &["--hand", "right", "--start", "up"],
            "",
            &["up", "straight"],
        ),
        (
            &["--hand", "right", "--csv", "nowhere.csv"],
            "",
            &["nowhere.csv"],
        ),
    ];
    for (options, pasted, says) in cases {
        let said = refused(options, pasted);
        for word in says {
            assert!(said.contains(word), "{word:?} is missing in: {said}");
        }
    }
}
