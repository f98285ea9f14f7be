//! What the tests through the real binary share.

use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::LazyLock;
use tempfile::TempDir;

/// The repository's root.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .ancestors()
        .nth(2)
        .expect("two folders up")
        .to_path_buf()
}

/// A file of the demo academy.
pub fn demo(file: &str) -> PathBuf {
    root().join("demo").join(file)
}

/// The two clips of a player of the demo academy: face-on, down the line.
pub fn clips(player: &str) -> [PathBuf; 2] {
    ["face-on", "down-the-line"].map(|view| demo(&format!("clips/{player}-{view}.mp4")))
}

/// A studio's folder that shares its landmarks, the slow step, with all that begin this way: each clip's are found
/// once in a run. For tests of what comes after them.
pub fn studio_with_shared_landmarks() -> TempDir {
    static SHARED: LazyLock<PathBuf> = LazyLock::new(|| {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("landmarks");
        // Nothing of an earlier run: another build may find others.
        drop(fs::remove_dir_all(&folder));
        fs::create_dir_all(&folder).expect("a folder for landmarks");
        folder
    });
    let studio = TempDir::new().expect("a folder");
    let link = studio.path().join("landmarks");
    std::os::unix::fs::symlink(&*SHARED, link).expect("a link to the landmarks");
    studio
}

/// The real binary, with a studio folder of its own.
pub fn lessonwright(studio: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_lessonwright"));
    command.arg("--studio").arg(studio);
    command
}

/// All questions of `player screen`, nothing told.
pub const NOTHING: [&str; 12] = [
    "--pain",
    "none",
    "--warning-signs",
    "no",
    "--injury",
    "no",
    "--surgery",
    "none",
    "--balance-medicine",
    "no",
    "--condition",
    "no",
];

/// What a command prints, or what it says on failing.
pub fn run(studio: &Path, arguments: &[&str]) -> Result<String, String> {
    let output = lessonwright(studio)
        .env("TZ", "UTC")
        .args(arguments)
        .output()
        .expect("the binary starts");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
    match output.status.success() {
        true => Ok(text(output.stdout)),
        false => Err(text(output.stderr)),
    }
}

/// Run `analyse --json` on clips and give back the object.
pub fn analyse(studio: &Path, clips: &[PathBuf], options: &[&str]) -> Value {
    let output = lessonwright(studio)
        .arg("analyse")
        .args(clips)
        .arg("--json")
        .args(options)
        .output()
        .expect("the binary starts");
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    serde_json::from_slice(&output.stdout).expect("one JSON object")
}

/// Run `analyse` on a clip that can't be analysed and give back what it says.
pub fn refusal(studio: &Path, clip: &Path) -> String {
    let output = lessonwright(studio)
        .arg("analyse")
        .arg(clip)
        .output()
        .expect("the binary starts");
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(
        !output.status.success(),
        "accepted: {}",
        String::from_utf8_lossy(&output.stdout)
    );
    assert!(
        output.stdout.is_empty(),
        "a failure prints nothing on standard output"
    );
    assert!(said.starts_with("lessonwright: "), "{said}");
    said
}

/// Make a clip with ffmpeg.
pub fn ffmpeg(arguments: &[&str]) -> Output {
    let output = Command::new("ffmpeg")
        .args(["-nostdin", "-v", "error", "-y"])
        .args(arguments)
        .output()
        .expect("ffmpeg is installed by the set-up");
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    output
}

/// A measure of an analysis or of a truth file.
pub fn measure<'a>(swing: &'a Value, name: &str, moment: &str, against: Option<&str>) -> &'a Value {
    let all = swing["measures"].as_array().expect("measures");
    all.iter()
        .find(|m| m["name"] == name && m["moment"] == moment && m["against"].as_str() == against)
        .unwrap_or_else(|| panic!("no {name} at {moment}"))
}

/// A moment of an analysis or of a truth file.
pub fn moment_s(swing: &Value, view: Option<&str>, name: &str) -> f64 {
    let all = swing["moments"].as_array().expect("moments");
    all.iter()
        .find(|m| m["name"] == name && view.is_none_or(|v| m["view"] == v))
        .and_then(|m| m["time_s"].as_f64())
        .unwrap_or_else(|| panic!("no {name}"))
}
