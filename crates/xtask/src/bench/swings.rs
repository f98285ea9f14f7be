//! Swings rendered from seeds, with their truth.

use crate::shell::{built, json_of, run};
use anyhow::{Context, Result};
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};

/// Small and quick: the network sees 256 px of the golfer whatever the picture's size.
const SIZE: [&str; 4] = ["--width", "288", "--height", "512"];
/// The usual rate, and no more stillness than the analysis needs: rendering is the slow part.
pub const SHORT: [&str; 6] = ["--rate-hz", "60", "--pre-s", "0.45", "--post-s", "0.35"];
const ROUGH: [&str; 4] = ["--samples", "1", "--crf", "18"];

/// Both views of one swing.
pub struct Swing {
    /// Face-on, down the line.
    pub clips: [PathBuf; 2],
    /// In the same order.
    pub truths: [Value; 2],
}

impl Swing {
    /// The swing of a seed in `folder`; rendered, with further options of the stage, if it is not
    /// there yet.
    pub fn rendered(folder: &Path, seed: u64, options: &[&str]) -> Result<Swing> {
        fs::create_dir_all(folder)?;
        let [face_on, down_the_line] = VIEWS.map(|view| clip(folder, seed, view, options));
        let truths = VIEWS.map(|view| truth(seed, view, options));
        let [face_truth, line_truth] = truths;
        Ok(Swing {
            clips: [face_on?, down_the_line?],
            truths: [face_truth?, line_truth?],
        })
    }

    /// Stature of the player, m.
    pub fn stature_m(&self) -> Result<f64> {
        self.truths[0]["stature_m"]
            .as_f64()
            .context("the truth has no stature")
    }
}

/// The stage's names of the views.
pub const VIEWS: [&str; 2] = ["face-on", "down-the-line"];

/// A clip, kept from run to run.
fn clip(folder: &Path, seed: u64, view: &str, options: &[&str]) -> Result<PathBuf> {
    let clip = folder.join(format!("{seed}-{view}.mp4"));
    if !clip.exists() {
        eprintln!("rendering swing {seed}, {view} …");
        run(built("lessonwright-stage")
            .args(["render", "--seed", &seed.to_string(), "--view", view])
            .args(SIZE)
            .args(options)
            .args(ROUGH)
            .arg("--out")
            .arg(&clip))?;
    }
    Ok(clip)
}

/// What is true of a clip; made anew each time, so that measures that the stage has learnt since the
/// clip was rendered have theirs.
pub fn truth(seed: u64, view: &str, options: &[&str]) -> Result<Value> {
    json_of(
        built("lessonwright-stage")
            .args(["truth", "--summary", "--seed", &seed.to_string()])
            .args(["--view", view])
            .args(SIZE)
            .args(options),
    )
}
