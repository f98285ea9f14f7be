//! Makes the table of biases and ± again: renders the tuning swings, has the real binary follow the
//! golfer through them, and hands landmarks and truth to the example `calibrate` of `analysis`.

use super::swings::Swing;
use crate::shell::{build, built, cargo, command, json_of, root, run};
use anyhow::{Context, Result};
use serde_json::{Value, json};
use std::fs;
use std::ops::RangeInclusive;
use std::path::Path;

/// Swings for tuning; never those that are reported on.
const TUNING: RangeInclusive<u64> = 1101..=1150;

/// The usual rate, and no more stillness than the analysis needs: rendering is the slow part.
const SHORT: [&str; 6] = ["--rate-hz", "60", "--pre-s", "0.45", "--post-s", "0.35"];

/// Write `crates/analysis/src/calibration/table.rs`, and print the errors that are left.
pub fn write_table(clips: &Path) -> Result<()> {
    build()?;
    let clips = root().join(clips);
    let tracks = clips.join("tracks");
    fs::create_dir_all(&tracks)?;
    for seed in TUNING {
        let track = tracks.join(format!("{seed}.json"));
        if !track.exists() {
            let followed = follow(&Swing::rendered(&clips, seed, &SHORT)?, &clips)?;
            // Whole or not at all: a chore that was stopped goes on with what is there.
            let part = track.with_extension("part");
            fs::write(&part, serde_json::to_vec(&followed)?)?;
            fs::rename(&part, &track)?;
            eprintln!("swing {seed} followed");
        }
    }
    let table = root().join("crates/analysis/src/calibration/table.rs");
    run(cargo()
        .args(["run", "--release", "-p", "lessonwright-analysis"])
        .args(["--example", "calibrate", "--", "--write"])
        .args([&table, &tracks]))?;
    run(command("rustfmt").args(["--edition", "2024"]).arg(&table))
}

/// Landmarks of both clips beside their truth.
fn follow(swing: &Swing, studio: &Path) -> Result<Value> {
    let mut seen = json_of(
        built("lessonwright")
            .arg("landmarks")
            .args(&swing.clips)
            .arg("--studio")
            .arg(studio),
    )?;
    let clips = seen.as_array_mut().context("landmarks that are no list")?;
    for (clip, truth) in clips.iter_mut().zip(&swing.truths) {
        let mut truth = truth.clone();
        // The joints of every frame are not asked for, and weigh most.
        truth
            .as_object_mut()
            .context("a truth that is no object")?
            .insert("frames".into(), json!([]));
        clip["truth"] = truth;
    }
    Ok(json!({ "stature_m": swing.stature_m()?, "clips": clips }))
}
