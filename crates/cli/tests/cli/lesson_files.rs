//! A lesson's page, paper and film through the real binary, two swings side by side, and what is written out.

use crate::common::{clips, lessonwright, studio_with_shared_landmarks};
use std::fs;
use std::path::Path;
use std::process::Command;
use tempfile::TempDir;

fn done(command: &mut Command) -> String {
    let output = command.output().expect("the binary starts");
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.success(), "{said}");
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn lesson(studio: &Path, out: &Path) {
    let mut command = lessonwright(studio);
    command
        .arg("lesson")
        .args(clips("tom-hallam"))
        .args([
            "--player",
            "Tom Hallam",
            "--hand",
            "right",
            "--stature-cm",
            "181",
        ])
        .args(["--flight", "slice", "--date", "2026-11-25"]);
    for (option, name) in [
        ("--out", "page.html"),
        ("--pdf", "paper.pdf"),
        ("--film", "film.mp4"),
    ] {
        command.arg(option).arg(out.join(name));
    }
    done(&mut command);
}

/// What ffprobe says of a film: its streams, then its length in s.
fn probed(film: &Path) -> (Vec<String>, f64) {
    let output = Command::new("ffprobe")
        .args(["-v", "error", "-of", "csv=p=0", "-show_entries"])
        .arg("stream=codec_name,profile,pix_fmt:format=duration")
        .arg(film)
        .output()
        .unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let length = lines.pop().unwrap().parse().unwrap();
    (lines, length)
}

#[test]
fn a_lesson_is_a_page_a_paper_and_a_film_small_enough_to_send() {
    let (studio, out) = (studio_with_shared_landmarks(), TempDir::new().unwrap());
    lesson(studio.path(), out.path());
    let read = |name: &str| fs::read(out.path().join(name)).unwrap();
    let (page, paper, film) = (read("page.html"), read("paper.pdf"), read("film.mp4"));
    assert!(page.len() <= 12_000_000 && film.len() <= 20_000_000);
    assert!(paper.starts_with(b"%PDF-"));
    let page = String::from_utf8(page).unwrap();
    assert!(page.contains("<video ") && page.contains("data:video/mp4;base64,"));
    let (streams, length_s) = probed(&out.path().join("film.mp4"));
    assert_eq!(streams, ["h264,Main,yuv420p", "aac,LC"]);
    assert!((5.0..40.0).contains(&length_s), "{length_s}");
    let left = fs::read_dir(studio.path().join("films-in-progress"))
        .unwrap()
        .count();
    assert_eq!(left, 0, "no film is left half way");

    // Again: the same bytes; then both side by side, and all of it written out.
    let again = TempDir::new().unwrap();
    lesson(studio.path(), again.path());
    for name in ["page.html", "paper.pdf", "film.mp4"] {
        assert!(
            fs::read(again.path().join(name)).unwrap() == read(name),
            "{name}"
        );
    }
    let two = out.path().join("two.mp4");
    done(
        lessonwright(studio.path())
            .args(["before-after", "1", "2", "--out"])
            .arg(&two),
    );
    assert_eq!(probed(&two).0, streams);
    written_out(studio.path());
}

fn written_out(studio: &Path) {
    let all = TempDir::new().unwrap();
    done(
        lessonwright(studio)
            .args(["export", "--player", "Tom Hallam", "--out"])
            .arg(all.path()),
    );
    let text = |name: &str| fs::read_to_string(all.path().join(name)).unwrap();
    assert_eq!(text("swings.csv").lines().count(), 3);
    assert!(
        text("swings.csv")
            .lines()
            .nth(1)
            .unwrap()
            .contains(",right,face_on+down_the_line,")
    );
    // Every row has every field (RFC 4180), and the tables say what the JSON says.
    let analysis: serde_json::Value =
        serde_json::from_str(&text("swings/1/analysis.json")).unwrap();
    let measures = text("measures.csv");
    let of_first = measures
        .lines()
        .filter(|line| line.starts_with("1,"))
        .count();
    assert_eq!(of_first, analysis["measures"].as_array().unwrap().len());
    for name in [
        "body.c3d",
        "body.bvh",
        "lesson-1.pdf",
        "lesson-1.mp4",
        "face_on.mp4",
    ] {
        assert!(all.path().join("swings/1").join(name).is_file(), "{name}");
    }
    assert!(all.path().join("lessons/lesson-1.html").is_file());
    let index = text("index.html");
    for link in index
        .split("href=\"")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
    {
        assert!(all.path().join(link).is_file(), "the page leads to {link}");
    }
    assert!(index.contains("181 cm") && index.contains("swings/2/body.bvh"));
    // A C3D file begins with the block of its parameters and its key.
    assert_eq!(
        fs::read(all.path().join("swings/1/body.c3d")).unwrap()[..2],
        [2, 0x50]
    );
    let again = lessonwright(studio)
        .args(["export", "--out"])
        .arg(all.path())
        .output()
        .unwrap();
    assert!(!again.status.success(), "nothing is written over");
}
