//! Makes the tables of biases and ± again: renders the tuning swings, has the real binary follow the
//! golfer through them, and hands landmarks and truth to the example `calibrate` of `analysis`.

use super::swings::{SHORT, Swing, VIEWS, truth};
use crate::shell::{build, built, cargo, command, json_of, root, run};
use anyhow::{Context, Result};
use serde_json::{Value, json};
use std::fs;
use std::ops::RangeInclusive;
use std::path::Path;

/// Swings for tuning, never those that are reported on: of solids, and of people's shapes; with the folder that their
/// clips are kept in.
const TUNING: [(RangeInclusive<u64>, &str, &[&str]); 2] = [
    (1101..=1150, "", &[]),
    (1151..=1200, "tuning-shaped", &["--shapes", "learn"]),
];

/// Write the tables of `crates/analysis/src/calibration`, and print the errors that are left.
pub fn write_table(clips: &Path) -> Result<()> {
    build()?;
    let clips = root().join(clips);
    let tracks = clips.join("tracks");
    fs::create_dir_all(&tracks)?;
    for (seeds, folder, shapes) in TUNING {
        let folder = clips.join(folder);
        let options = [&SHORT, shapes].concat();
        for seed in seeds {
            let track = tracks.join(format!("{seed}.json"));
            let mut seen = match fs::read(&track) {
                Ok(text) => serde_json::from_slice(&text)?,
                Err(_) => follow(&Swing::rendered(&folder, seed, &options)?, &folder)?,
            };
            put_truth_beside(&mut seen, seed)?;
            // Whole or not at all: a chore that was stopped goes on with what is there.
            let part = track.with_extension("part");
            fs::write(&part, serde_json::to_vec(&seen)?)?;
            fs::rename(&part, &track)?;
            eprintln!("swing {seed} followed");
        }
    }
    for (table, points) in [
        ("joint_centres.rs", None),
        ("landmarks.rs", Some("--landmarks")),
    ] {
        let table = root().join("crates/analysis/src/calibration").join(table);
        run(cargo()
            .args(["run", "--release", "-p", "lessonwright-analysis"])
            .args(["--example", "calibrate", "--"])
            .args(points)
            .arg("--write")
            .args([&table, &tracks]))?;
        run(command("rustfmt").args(["--edition", "2024"]).arg(&table))?;
    }
    Ok(())
}

/// Landmarks and joint centres of both clips.
fn follow(swing: &Swing, studio: &Path) -> Result<Value> {
    let clips = json_of(
        built("lessonwright")
            .arg("landmarks")
            .args(&swing.clips)
            .arg("--studio")
            .arg(studio),
    )?;
    Ok(json!({ "clips": clips }))
}

/// The truth made anew: what was followed is kept, but the stage may know more measures by now.
fn put_truth_beside(seen: &mut Value, seed: u64) -> Result<()> {
    let clips = seen["clips"].as_array_mut().context("no list of clips")?;
    for (clip, view) in clips.iter_mut().zip(VIEWS) {
        clip["truth"] = truth(seed, view, &SHORT)?;
    }
    seen["stature_m"] = seen["clips"][0]["truth"]["stature_m"].clone();
    Ok(())
}
