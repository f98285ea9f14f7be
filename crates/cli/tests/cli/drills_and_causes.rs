//! Drill book and cause network through the real binary: looked at, carried out, brought in, used.

use crate::common::{analyse, demo, lessonwright, studio_with_shared_landmarks};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// Runs a command that has to succeed, and gives back what it prints.
fn says(studio: &Path, arguments: &[&str]) -> String {
    let output = lessonwright(studio)
        .args(arguments)
        .output()
        .expect("the binary starts");
    let error = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{arguments:?}: {error}");
    String::from_utf8(output.stdout).expect("text")
}

/// Runs a command that has to fail, and gives back why it does.
fn refuses(studio: &Path, arguments: &[&str]) -> String {
    let output = lessonwright(studio)
        .args(arguments)
        .output()
        .expect("the binary starts");
    assert!(!output.status.success(), "{arguments:?} was accepted");
    String::from_utf8(output.stderr).expect("text")
}

fn path(folder: &TempDir, name: &str) -> String {
    folder.path().join(name).display().to_string()
}

#[test]
fn the_book_is_listed_and_a_drill_is_read_for_either_hand() {
    let studio = TempDir::new().unwrap();
    let list = says(studio.path(), &["drills", "list"]);
    assert!(list.contains("gate_for_the_slice"), "{list}");
    let count: usize = list
        .lines()
        .last()
        .unwrap()
        .split(' ')
        .next()
        .unwrap()
        .parse()
        .unwrap();
    assert!(count >= 44 && list.lines().count() == count + 1, "{list}");
    let show = |hand| {
        says(
            studio.path(),
            &["drills", "show", "seam_of_the_shirt", "--hand", hand],
        )
    };
    let (right, left) = (show("right"), show("left"));
    assert!(right.contains("right elbow") && left.contains("left elbow"));
    for part in [
        "You need",
        "Cue, inward",
        "Checkpoint",
        "Course: ",
        "Who should not",
    ] {
        assert!(right.contains(part), "{part}: {right}");
    }
    let unknown = refuses(studio.path(), &["drills", "show", "nonsense"]);
    assert!(unknown.contains("drills list"), "{unknown}");
}

#[test]
fn what_is_exported_can_be_changed_and_brought_in() {
    let (studio, other) = (TempDir::new().unwrap(), TempDir::new().unwrap());
    let folder = path(&other, "book");
    says(studio.path(), &["drills", "export", &folder]);
    let file = format!("{folder}/toes_up.md");
    let page = fs::read_to_string(&file).unwrap();
    // Each in English and in German.
    assert_eq!(
        says(studio.path(), &["drills", "check", &folder])
            .lines()
            .count(),
        2 * 67
    );
    let there = refuses(studio.path(), &["drills", "export", &folder]);
    assert!(
        there.contains("there already") && there.contains("--overwrite"),
        "{there}"
    );

    let own = path(&other, "own");
    fs::create_dir(&own).unwrap();
    fs::write(
        format!("{own}/toes_up.md"),
        page.replace("Toes up inside the shoes", "Light toes"),
    )
    .unwrap();
    fs::write(format!("{own}/heels_wait.md"), &page).unwrap();
    let checked = says(studio.path(), &["drills", "check", &own]);
    for said in [
        "toes_up: sound, in place of the standard page",
        "heels_wait: sound, new",
        "no body fact has it",
    ] {
        assert!(checked.contains(said), "{said}: {checked}");
    }
    assert!(
        !says(studio.path(), &["drills", "list"]).contains("Light toes"),
        "checking changes nothing"
    );
    let answering = page.replacen("[cue]", "answers = [\"weight_on_toes\"]\n[cue]", 1);
    fs::write(format!("{own}/heels_wait.md"), answering).unwrap();
    let brought = says(studio.path(), &["drills", "import", &own]);
    assert!(
        brought.starts_with("2 drills brought into") && !brought.contains("no body fact"),
        "{brought}"
    );
    let list = says(studio.path(), &["drills", "list"]);
    assert!(
        list.contains("Light toes (own)") && list.contains("68 drills, 2 of them own"),
        "{list}"
    );
    // An own page has its own pictures or none; those that come with it are brought in.
    let studio_has = |name: &str| studio.path().join("drills").join(name).exists();
    assert!(!studio_has("toes_up.jpg") && !studio_has("toes_up.webp"));
    for kind in ["jpg", "webp"] {
        fs::copy(
            format!("{folder}/hum_to_the_top.{kind}"),
            format!("{own}/toes_up.{kind}"),
        )
        .unwrap();
    }
    says(studio.path(), &["drills", "import", &own]);
    assert!(studio_has("toes_up.jpg") && studio_has("toes_up.webp"));
    fs::write(format!("{own}/toes_up.jpg"), "no picture").unwrap();
    let refused = refuses(studio.path(), &["drills", "import", &own]);
    assert!(
        refused.contains("toes_up") && refused.contains("JPEG"),
        "{refused}"
    );
    // What is in use is what is exported.
    let again = path(&other, "again");
    says(studio.path(), &["drills", "export", &again]);
    assert!(
        fs::read_to_string(format!("{again}/toes_up.md"))
            .unwrap()
            .contains("Light toes")
    );
}

#[test]
fn a_page_that_cannot_be_is_refused_with_every_fault_and_nothing_is_brought_in() {
    let (studio, other) = (TempDir::new().unwrap(), TempDir::new().unwrap());
    let folder = path(&other, "book");
    says(studio.path(), &["drills", "export", &folder]);
    for (key, from, to) in [
        ("toes_up", "## Feel", "## Feeling"),
        ("ball_ladder", "title =", "name ="),
    ] {
        let file = format!("{folder}/{key}.md");
        let page = fs::read_to_string(&file).unwrap();
        fs::write(&file, page.replace(from, to)).unwrap();
    }
    for command in ["check", "import"] {
        let error = refuses(studio.path(), &["drills", command, &folder]);
        for said in ["toes_up.md", "Feeling", "ball_ladder.md", "name"] {
            assert!(error.contains(said), "{said}: {error}");
        }
    }
    assert!(!studio.path().join("drills").exists());
    let empty = path(&other, "empty");
    fs::create_dir(&empty).unwrap();
    assert!(refuses(studio.path(), &["drills", "check", &empty]).contains("holds no drill"));
    assert!(
        refuses(
            studio.path(),
            &["drills", "check", &path(&other, "nowhere")]
        )
        .contains("is no folder")
    );
}

#[test]
fn the_cause_network_is_printed_checked_and_replaced() {
    let studio = TempDir::new().unwrap();
    let printed = says(studio.path(), &["causes", "print"]);
    let file = path(&studio, "causes.toml");
    fs::write(&file, printed.replace("standard 2026-11", "Imke's own")).unwrap();
    assert!(
        says(studio.path(), &["causes", "check", &file]).contains("sound, edition \"Imke's own\"")
    );
    let list = says(studio.path(), &["causes", "list"]);
    for said in ["Imke's own", "grip_weak", "balance", "distance"] {
        assert!(list.contains(said), "{said}: {list}");
    }
    fs::write(&file, printed.replace("\"toes_up\"", "\"toes_down\"")).unwrap();
    let error = refuses(studio.path(), &["causes", "check", &file]);
    assert!(
        error.contains("toes_down") && error.contains("write toes_down.md"),
        "{error}"
    );
    // A studio whose own table can't be used says so instead of using half of it.
    assert!(refuses(studio.path(), &["drills", "list"]).contains("toes_down"));
}

#[test]
fn what_is_typed_wrong_is_refused_before_any_film_is_looked_at() {
    let studio = TempDir::new().unwrap();
    for (option, key, known) in [
        ("--seen", "grip", "grip_weak"),
        ("--limit", "knee", "lead_knee_load"),
        ("--goal", "fame", "distance"),
    ] {
        let error = refuses(studio.path(), &["analyse", "no-such-film.mp4", option, key]);
        assert!(
            error.contains(&format!("\"{key}\"")) && error.contains(known),
            "{error}"
        );
    }
}

#[test]
fn what_was_seen_and_the_players_limits_count_in_the_analysis() {
    let studio = studio_with_shared_landmarks();
    let clip = [demo("clips/tom-hallam-face-on.mp4")];
    let told = [
        "--stature-cm",
        "181",
        "--flight",
        "slice",
        "--age",
        "40",
        "--health",
        "none",
    ];
    let swing = analyse(
        studio.path(),
        &clip,
        &[&told[..], &["--seen", "grip_weak"]].concat(),
    );
    let first = &swing["ranking"]["candidates"][0];
    assert_eq!(first["key"], "grip_weak", "{}", swing["ranking"]);
    assert_eq!(first["shown_by"], "professional");
    assert_eq!(swing["priority"]["finding"], "grip_weak");
    assert_eq!(swing["corrections"]["seen"][0], "grip_weak");
    assert!(swing["prescription"]["measure"].is_null() && swing["prescription"]["reach"].is_null());
    assert!(
        swing["prescription"]["check"]
            .as_str()
            .unwrap()
            .contains("No camera measures this")
    );
    let stiff = analyse(
        studio.path(),
        &clip,
        &[
            &told[..],
            &["--seen", "grip_weak", "--limit", "hands_close"],
        ]
        .concat(),
    );
    let probability = |swing: &serde_json::Value| {
        let all = swing["ranking"]["candidates"].as_array().unwrap();
        let one = all.iter().find(|c| c["key"] == "grip_weak").unwrap();
        one["probability"].as_f64().unwrap()
    };
    assert!(probability(&stiff) < probability(&swing));
}
