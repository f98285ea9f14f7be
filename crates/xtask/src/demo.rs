//! The demo: the main job on the clips of an invented academy, then the studio.

use crate::shell::{build, built, root, run};
use anyhow::{Context, Result};
use clap::Args;
use jiff::{ToSpan, Zoned};
use serde::Deserialize;
use std::fs;
use std::path::Path;
use std::process::Command;

/// How to show the demo.
#[derive(Args)]
pub struct Options {
    /// Prepare everything but do not open the studio.
    #[arg(long)]
    prepare_only: bool,
    /// Port of the local page [default: the product's].
    #[arg(long)]
    port: Option<u16>,
}

#[derive(Deserialize)]
struct Academy {
    name: String,
    coach: String,
    player: Vec<DemoPlayer>,
}

#[derive(Deserialize)]
struct DemoPlayer {
    name: String,
    hand: String,
    stature_cm: f64,
    age: u32,
    flight: String,
    /// As `lessonwright player screen --pain` takes it.
    pain: Vec<String>,
    /// Options of `lessonwright player practice`.
    practice: String,
    clips: Vec<String>,
}

/// Analyse every demo player's clips with the real binary and open the studio on them.
pub fn run_demo(options: &Options) -> Result<()> {
    println!("Building …");
    build()?;
    let text = fs::read_to_string(root().join("demo/academy.toml"))?;
    let academy: Academy = toml::from_str(&text).context("reading demo/academy.toml")?;
    let data = root().join("target/demo");
    if data.exists() {
        fs::remove_dir_all(&data)?;
    }
    for player in &academy.player {
        println!("\n{}", player.name);
        let clips = player
            .clips
            .iter()
            .map(|clip| root().join("demo").join(clip));
        take_in(player, &data)?;
        run(product()
            .arg("lesson")
            .args(clips)
            .args(["--player", &player.name, "--flight", &player.flight])
            .args(["--academy", &academy.name, "--coach", &academy.coach])
            .arg("--studio")
            .arg(&data))?;
    }
    if options.prepare_only {
        return Ok(());
    }
    let port = options.port.map(|port| format!("--port={port}"));
    run(product()
        .args(["open", "--browser"])
        .args(port)
        .args(["--academy", &academy.name, "--coach", &academy.coach])
        .arg("--studio")
        .arg(&data))
}

/// A player on record, asked what has to be asked before a prescription, with days to practise.
fn take_in(player: &DemoPlayer, studio: &Path) -> Result<()> {
    let about = |what: &str, details: &[&str]| {
        let mut told = product();
        told.args(["player", what, &player.name]).args(details);
        run(told.arg("--studio").arg(studio))
    };
    let (stature, age) = (player.stature_cm.to_string(), player.age.to_string());
    let facts = [
        "--hand",
        &player.hand,
        "--age",
        &age,
        "--stature-cm",
        &stature,
    ];
    about("add", &facts)?;
    let pains = player.pain.iter().flat_map(|pain| ["--pain", pain]);
    let asked = ["--warning-signs=no", "--injury=no", "--surgery=none"];
    let asked_too = ["--balance-medicine=no", "--condition=no"];
    about(
        "screen",
        &pains.chain(asked).chain(asked_too).collect::<Vec<_>>(),
    )?;
    let practice = player.practice.split(' ').collect::<Vec<_>>();
    let next = Zoned::now().date().saturating_add(14.days()).to_string();
    about(
        "practice",
        &[&["--next-lesson", &next], &practice[..]].concat(),
    )
}

/// The product's binary.
fn product() -> Command {
    built("lessonwright")
}

/// The demo's swings, as parameters of the stage.
const SWINGS: [&str; 3] = ["tom_hallam", "nils_ostrand", "ines_carvalho"];

/// Render the demo's clips again, with their truth: many minutes.
pub fn render_clips() -> Result<()> {
    build()?;
    for swing in SWINGS {
        for view in ["face-on", "down-the-line"] {
            let parameters = root().join(format!("crates/stage/demo/{swing}.json"));
            let name = format!("{}-{view}", swing.replace('_', "-"));
            println!("Rendering {name} …");
            let scene = |chore: &str| {
                let mut stage = built("lessonwright-stage");
                stage
                    .arg(chore)
                    .arg("--swing")
                    .arg(&parameters)
                    .args(["--view", view]);
                stage
            };
            let clip = root().join(format!("demo/clips/{name}.mp4"));
            run(scene("render")
                .args(["--samples", "3", "--crf", "16", "--out"])
                .arg(clip))?;
            let truth = root().join(format!("demo/truth/{name}.json"));
            run(scene("truth").args(["--summary", "--out"]).arg(truth))?;
        }
    }
    Ok(())
}

/// Draw the figures of the drills again: many minutes.
pub fn render_drills() -> Result<()> {
    build()?;
    run(built("lessonwright-stage")
        .args(["drills", "--samples", "6", "--sheets"])
        .arg(root().join("crates/stage/drills.toml"))
        .arg("--out")
        .arg(root().join("crates/coaching/data/figures")))
}
