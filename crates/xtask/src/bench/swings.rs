//! Swings rendered from seeds, with their truth.

use crate::shell::{built, run};
use anyhow::{Context, Result};
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};

/// Small and quick: the network sees 256 px of the golfer whatever the picture's size.
const SMALL: [&str; 8] = [
    "--width",
    "288",
    "--height",
    "512",
    "--samples",
    "1",
    "--crf",
    "18",
];

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
        let [face_on, down_the_line] =
            ["face-on", "down-the-line"].map(|view| one_view(folder, seed, view, options));
        let (face_on, down_the_line) = (face_on?, down_the_line?);
        Ok(Swing {
            clips: [face_on.0, down_the_line.0],
            truths: [face_on.1, down_the_line.1],
        })
    }

    /// Stature of the player, m.
    pub fn stature_m(&self) -> Result<f64> {
        self.truths[0]["stature_m"]
            .as_f64()
            .context("the truth has no stature")
    }
}

/// A clip and its truth.
fn one_view(folder: &Path, seed: u64, view: &str, options: &[&str]) -> Result<(PathBuf, Value)> {
    let clip = folder.join(format!("{seed}-{view}.mp4"));
    let truth = clip.with_extension("json");
    if !clip.exists() || !truth.exists() {
        eprintln!("rendering swing {seed}, {view} …");
        run(built("lessonwright-stage")
            .args(["render", "--seed", &seed.to_string(), "--view", view])
            .args(SMALL)
            .args(options)
            .arg("--out")
            .arg(&clip)
            .arg("--truth")
            .arg(&truth))?;
    }
    let text = fs::read(&truth).with_context(|| format!("reading {}", truth.display()))?;
    Ok((clip, serde_json::from_slice(&text)?))
}
