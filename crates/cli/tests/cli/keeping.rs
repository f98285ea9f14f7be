//! Keeping the studio through the real binary: backup and restore, export and import, erasing. No clip is looked at.

use crate::common::{NOTHING, run};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

fn text(path: &Path) -> String {
    path.to_str().unwrap().to_owned()
}

/// Two players, one of them with answers, and a table of the professional's own.
fn studio() -> TempDir {
    let studio = TempDir::new().unwrap();
    run(
        studio.path(),
        &["player", "add", "Ida Rask", "--hand", "left", "--age", "52"],
    )
    .unwrap();
    run(
        studio.path(),
        &[
            "player",
            "add",
            "Tom Hallam",
            "--stature-cm",
            "181",
            "--age",
            "41",
        ],
    )
    .unwrap();
    let screen = [&["player", "screen", "Ida Rask"], &NOTHING[..]].concat();
    run(studio.path(), &screen).unwrap();
    fs::write(studio.path().join("own.toml"), "# own\n").unwrap();
    studio
}

fn shown(studio: &Path, player: &str) -> String {
    run(studio, &["player", "show", player]).unwrap()
}

#[test]
fn a_backup_restores_the_studio_and_nothing_is_replaced_unasked() {
    let (studio, out) = (studio(), TempDir::new().unwrap());
    let file = text(&out.path().join("backup.zip"));
    assert!(
        run(studio.path(), &["backup", &file])
            .unwrap()
            .contains("read again")
    );
    assert!(
        run(studio.path(), &["backup", &file])
            .unwrap_err()
            .contains("there already")
    );
    let new = TempDir::new().unwrap();
    run(new.path(), &["restore", &file]).unwrap();
    assert_eq!(
        shown(new.path(), "Ida Rask"),
        shown(studio.path(), "Ida Rask")
    );
    assert_eq!(
        fs::read_to_string(new.path().join("own.toml")).unwrap(),
        "# own\n"
    );
    run(new.path(), &["player", "add", "Only Here"]).unwrap();
    assert!(
        run(new.path(), &["restore", &file])
            .unwrap_err()
            .contains("--replace")
    );
    let said = run(new.path(), &["restore", &file, "--replace"]).unwrap();
    assert!(said.contains("before-restore-"), "{said}");
    assert!(run(new.path(), &["player", "show", "Only Here"]).is_err());
}

#[test]
fn an_export_comes_in_again_once_and_beside_others() {
    let (one, two, out) = (studio(), TempDir::new().unwrap(), TempDir::new().unwrap());
    run(two.path(), &["player", "add", "Ida Rask", "--age", "30"]).unwrap();
    let folder = text(&out.path().join("all"));
    run(one.path(), &["export", "--out", &folder]).unwrap();
    let said = run(two.path(), &["import", &folder]).unwrap();
    assert!(
        said.contains("Ida Rask (2) is new, under this name"),
        "{said}"
    );
    assert!(
        said.contains("Tom Hallam is new\n") && said.contains("own.toml"),
        "{said}"
    );
    assert!(shown(two.path(), "Ida Rask").contains("age: 30"));
    assert_eq!(
        shown(two.path(), "Ida Rask (2)").replace("Ida Rask (2)", "Ida Rask"),
        shown(one.path(), "Ida Rask")
    );
    let again = run(two.path(), &["import", &folder]).unwrap();
    assert_eq!(again.matches("was here already").count(), 2, "{again}");
    assert!(run(two.path(), &["player", "show", "Ida Rask (3)"]).is_err());
    // The page is about the person, in words.
    let index = fs::read_to_string(out.path().join("all/index.html")).unwrap();
    assert!(index.contains("left-handed") && index.contains("Told then</dt><dd>nothing"));
}

#[test]
fn a_player_is_erased_only_with_the_name_typed_twice_and_after_an_export() {
    let (studio, out) = (studio(), TempDir::new().unwrap());
    let folder = text(&out.path().join("ida"));
    assert!(
        run(studio.path(), &["erase", "Ida Rask"])
            .unwrap_err()
            .contains("--export")
    );
    for confirm in [&[][..], &["--confirm", "Ida"]] {
        let asked = [&["erase", "Ida Rask", "--export", &folder], confirm].concat();
        let said = run(studio.path(), &asked).unwrap_err();
        assert!(
            said.contains("0 swings") && said.contains("--confirm \"Ida Rask\""),
            "{said}"
        );
        assert!(!Path::new(&folder).exists() && !shown(studio.path(), "Ida Rask").is_empty());
    }
    let before = shown(studio.path(), "Ida Rask");
    let said = run(
        studio.path(),
        &[
            "erase",
            "Ida Rask",
            "--export",
            &folder,
            "--confirm",
            "Ida Rask",
        ],
    )
    .unwrap();
    assert!(said.contains("Erased: Ida Rask"), "{said}");
    assert!(run(studio.path(), &["player", "show", "Ida Rask"]).is_err());
    assert!(!shown(studio.path(), "Tom Hallam").is_empty());
    run(studio.path(), &["import", &folder]).unwrap();
    assert_eq!(
        shown(studio.path(), "Ida Rask"),
        before,
        "from the export all is back"
    );
}
