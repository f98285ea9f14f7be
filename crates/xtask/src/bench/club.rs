//! The club as the real binary finds it in rendered clips, against their exact truth.
//!
//! The clips are made by `training/club_clips.py`: clubs, shutters and light of any kind, half of them
//! before photographs that took no part in teaching.

use super::accuracy::at_shares;
use crate::shell::{build, built, json_of, root};
use anyhow::{Context, Result, bail};
use serde::Deserialize;
use serde_json::Value;
use std::collections::BTreeMap;
use std::f64::consts::{PI, TAU};
use std::fs;
use std::path::{Path, PathBuf};

/// Measure every clip of a folder, print.
pub fn print_table(clips: &Path) -> Result<()> {
    build()?;
    let folder = root().join(clips);
    let mut truths: Vec<PathBuf> = fs::read_dir(&folder)
        .with_context(|| {
            format!(
                "reading {}; make clips with training/club_clips.py",
                folder.display()
            )
        })?
        .map(|entry| Ok(entry?.path()))
        .collect::<Result<_>>()?;
    truths
        .retain(|path| path.with_extension("mp4") != *path && path.with_extension("mp4").exists());
    truths.sort();
    if truths.is_empty() {
        bail!(
            "{} holds no clip with its truth; make some with training/club_clips.py",
            folder.display()
        );
    }
    let mut found = Found::default();
    for path in &truths {
        let truth: Truth = serde_json::from_slice(&fs::read(path)?)
            .with_context(|| format!("reading {}", path.display()))?;
        let clip = path.with_extension("mp4");
        let seen = json_of(
            built("lessonwright")
                .arg("landmarks")
                .arg(&clip)
                .arg("--studio")
                .arg(&folder),
        );
        match seen {
            Ok(seen) => found.compare(&truth, &seen[0])?,
            Err(error) => {
                found.failed += 1;
                eprintln!("{}: {error:#}", clip.display());
            }
        }
    }
    let mut said = Said::default();
    for [face_on, line] in pairs(&truths) {
        said.compare(&mut found, &face_on, &line, &folder)?;
    }
    found.print(truths.len());
    println!();
    said.print();
    Ok(())
}

/// Truths of both views of one swing.
fn pairs(truths: &[PathBuf]) -> Vec<[PathBuf; 2]> {
    truths
        .iter()
        .filter_map(|path| {
            let name = path.file_name()?.to_str()?;
            let seed = name.strip_suffix("-face-on.json")?;
            let other = path.with_file_name(format!("{seed}-down-the-line.json"));
            other.exists().then(|| [path.clone(), other])
        })
        .collect()
}

/// What is told of club and ball.
const OF_CLUB: [&str; 5] = [
    "shaft_lean",
    "shaft_slope",
    "shaft_steepening",
    "wrist_set",
    "ball_start",
];

/// Errors of what the shaft says of a swing: moments in ms, measures in degrees, each with whether its
/// ± holds the truth.
#[derive(Default)]
struct Said(BTreeMap<String, Vec<Option<(f64, bool)>>>);

impl Said {
    fn compare(
        &mut self,
        found: &mut Found,
        face_on: &Path,
        line: &Path,
        folder: &Path,
    ) -> Result<()> {
        let truth: Value = serde_json::from_slice(&fs::read(face_on)?)?;
        let stature_cm = 100.0 * truth["stature_m"].as_f64().context("a stature")?;
        let analysed = json_of(
            built("lessonwright")
                .arg("analyse")
                .args([face_on, line].map(|path| path.with_extension("mp4")))
                .args(["--json", "--stature-cm", &format!("{stature_cm:.1}")])
                .arg("--studio")
                .arg(folder),
        );
        let analysed = match analysed {
            Ok(analysed) => analysed,
            Err(error) => {
                eprintln!("{}: {error:#}", face_on.display());
                return Ok(());
            }
        };
        let line_truth: Truth = serde_json::from_slice(&fs::read(line)?)?;
        let truths = [serde_json::from_value(truth.clone())?, line_truth];
        for (truth, view) in truths.iter().zip(list(&analysed["views"])?) {
            found.ball(truth, view);
        }
        let [_, line_truth] = truths;
        for moment in ["shaft_level_back", "shaft_level_down"] {
            let here = |m: &&Value| m["name"] == moment && m["view"] != "down_the_line";
            let truly = list(&truth["moments"])?.iter().find(here);
            let found = list(&analysed["moments"])?.iter().find(here);
            let error = truly.zip(found).map(|(truly, found)| {
                let ms = |v: &Value| 1000.0 * v["time_s"].as_f64().unwrap_or(f64::NAN);
                let off = ms(found) - ms(truly);
                let half = 1000.0 * found["plus_minus_s"].as_f64().unwrap_or(f64::NAN);
                (off, off.abs() <= half)
            });
            self.0
                .entry(format!("{moment}, ms"))
                .or_default()
                .push(error);
        }
        for found in list(&analysed["measures"])? {
            let name = found["name"].as_str().unwrap_or("");
            if !OF_CLUB.contains(&name) {
                continue;
            }
            let same = |m: &&Value| {
                ["name", "moment", "against"]
                    .iter()
                    .all(|key| m[*key] == found[*key])
            };
            let truly = list(&truth["measures"])?.iter().find(same);
            let truly = match name {
                "ball_start" => line_truth.ball_start_deg(),
                _ => truly.and_then(|truly| truly["value"].as_f64()),
            };
            let error = truly.and_then(|truly| {
                let value = |key: &str| found[key].as_f64();
                let holds = (value("low")?..=value("high")?).contains(&truly);
                Some((value("value")? - truly, holds))
            });
            let word = |key: &str| found[key].as_str().unwrap_or("").replace('_', " ");
            let against = word("against");
            let key = format!(
                "{} at {}{}",
                word("name"),
                word("moment"),
                if against.is_empty() {
                    String::new()
                } else {
                    format!(" since {against}")
                }
            );
            self.0.entry(key).or_default().push(error);
        }
        Ok(())
    }

    fn print(&self) {
        println!(
            "| what | told | mean error | sd | median | 95th percentile | within ± |\n|---|---|---|---|---|---|---|"
        );
        for (what, all) in &self.0 {
            let told: Vec<(f64, bool)> = all.iter().copied().flatten().collect();
            let off: Vec<f64> = told.iter().map(|(off, _)| *off).collect();
            let count = off.len().max(1) as f64;
            let mean = off.iter().sum::<f64>() / count;
            let sd = (off.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / count).sqrt();
            let [median, most] = at_shares(&off, [0.5, 0.95]);
            let held = told.iter().filter(|(_, holds)| *holds).count();
            println!(
                "| {what} | {} of {} | {mean:+.1} | {sd:.1} | {median:.1} | {most:.1} | {held} |",
                told.len(),
                all.len()
            );
        }
    }
}

#[derive(Deserialize)]
struct Truth {
    width_px: f64,
    stature_m: f64,
    hand: String,
    ball: [f64; 3],
    /// Absent in truths of before November 2026.
    ball_velocity_m_s: Option<[f64; 3]>,
    camera: Camera,
    frames: Vec<Frame>,
    moments: Vec<Moment>,
}

impl Truth {
    /// Perspective aside: the player stands about at the origin.
    fn stature_px(&self) -> f64 {
        let [x, _, z] = self.camera.position;
        self.stature_m * self.camera.focal_px / x.hypot(z)
    }

    /// The way the ball starts in the picture: degrees from upright, plus away from the player (the picture's right, or its
    /// left for a left-hander).
    fn ball_start_deg(&self) -> Option<f64> {
        let velocity = self.ball_velocity_m_s?;
        let at = |after_s: f64| -> [f64; 2] {
            let from = |k: usize| self.ball[k] + after_s * velocity[k] - self.camera.position[k];
            let along = |axis: [f64; 3]| (0..3).map(|k| axis[k] * from(k)).sum::<f64>();
            let camera = &self.camera;
            [camera.right, camera.up].map(|axis| along(axis) / along(camera.forward))
        };
        let ([x, y], [later_x, later_y]) = (at(0.0), at(0.001));
        let side = if self.hand == "left" { -1.0 } else { 1.0 };
        Some((side * (later_x - x)).atan2(later_y - y).to_degrees())
    }
}

#[derive(Deserialize)]
struct Camera {
    forward: [f64; 3],
    right: [f64; 3],
    up: [f64; 3],
    focal_px: f64,
    position: [f64; 3],
}

#[derive(Deserialize)]
struct Frame {
    frame: usize,
    time_s: f64,
    club: Club,
}

#[derive(Clone, Deserialize)]
struct Club {
    grip: [f64; 2],
    hosel: [f64; 2],
    head: [f64; 2],
    ball: [f64; 2],
    head_seen: f64,
    ball_seen: f64,
    shaft_seen: Vec<f64>,
}

impl Club {
    fn scaled(&self, scale: f64) -> Club {
        let scaled = |point: [f64; 2]| point.map(|v| scale * v);
        Club {
            grip: scaled(self.grip),
            hosel: scaled(self.hosel),
            head: scaled(self.head),
            ball: scaled(self.ball),
            ..self.clone()
        }
    }
}

#[derive(Deserialize)]
struct Moment {
    name: String,
    time_s: f64,
}

/// What was found, over all clips.
#[derive(Default)]
struct Found {
    /// Error of the shaft's angle, degrees, and the ± told (1 sd) beside it, for shafts that are seen.
    angles: Vec<(f64, f64)>,
    shafts_seen: usize,
    shafts_found: usize,
    shafts_hidden: usize,
    hidden_shafts_told: usize,
    /// Error of the head's place, % of stature.
    heads: Vec<f64>,
    heads_seen: usize,
    heads_found: usize,
    heads_hidden: usize,
    hidden_heads_told: usize,
    balls: usize,
    balls_found: usize,
    failed: usize,
}

impl Found {
    fn compare(&mut self, truth: &Truth, seen: &Value) -> Result<()> {
        let glances = list(&seen["club"]["glances"])?;
        let way = list(&seen["club_way"])?;
        // The binary may look at a smaller picture.
        let scale = seen["club"]["width_px"].as_f64().context("a width")? / truth.width_px;
        let stature_px = scale * truth.stature_px();
        for glance in glances {
            let number = glance["frame"].as_u64().context("a frame")? as usize;
            let Some(frame) = truth.frames.iter().find(|f| f.frame == number) else {
                continue;
            };
            let shaft = way.iter().find(|w| w["frame"] == glance["frame"]);
            let club = frame.club.scaled(scale);
            self.shaft(&club, shaft, stature_px);
            self.head(&club, shaft, stature_px);
        }
        Ok(())
    }

    fn shaft(&mut self, club: &Club, told: Option<&Value>, stature_px: f64) {
        let along = [club.hosel[0] - club.grip[0], club.hosel[1] - club.grip[1]];
        let share = club.shaft_seen.iter().sum::<f64>() / club.shaft_seen.len() as f64;
        let long = along[0].hypot(along[1]) > 0.12 * stature_px;
        if share > 0.35 && long {
            self.shafts_seen += 1;
            if let Some(told) = told {
                self.shafts_found += 1;
                let angle = told["angle_rad"].as_f64().unwrap_or(f64::NAN);
                let off = (angle - along[1].atan2(along[0]) + PI).rem_euclid(TAU) - PI;
                let sd = told["sd_rad"].as_f64().unwrap_or(f64::NAN);
                self.angles.push((off.to_degrees(), sd.to_degrees()));
            }
        } else if share < 0.02 {
            self.shafts_hidden += 1;
            self.hidden_shafts_told += usize::from(told.is_some());
        }
    }

    fn head(&mut self, club: &Club, told: Option<&Value>, stature_px: f64) {
        let head = told.map(|t| &t["head"]).filter(|head| !head.is_null());
        if club.head_seen > 0.5 {
            self.heads_seen += 1;
            if let Some(head) = head {
                self.heads_found += 1;
                self.heads.push(100.0 * apart(head, club.head) / stature_px);
            }
        } else if club.head_seen < 0.1 {
            self.heads_hidden += 1;
            self.hidden_heads_told += usize::from(head.is_some());
        }
    }

    /// The ball at address, where the analysis says that it lies.
    fn ball(&mut self, truth: &Truth, view: &Value) {
        let address_s = truth
            .moments
            .iter()
            .find(|m| m.name == "address")
            .map(|m| m.time_s);
        let still = |f: &&Frame| address_s.is_some_and(|t| f.time_s <= t) && f.club.ball_seen > 0.5;
        let Some(frame) = truth.frames.iter().find(still) else {
            return;
        };
        self.balls += 1;
        let scale = view["width_px"].as_f64().unwrap_or(f64::NAN) / truth.width_px;
        let ball = frame.club.ball.map(|v| scale * v);
        let near = apart(&view["ball"], ball) < 0.02 * scale * truth.stature_px();
        self.balls_found += usize::from(near);
    }

    fn print(&self, clips: usize) {
        let off: Vec<f64> = self.angles.iter().map(|(off, _)| off.abs()).collect();
        let [angle, head] = [&off, &self.heads].map(|all| at_shares(all, [0.5, 0.95]));
        let held = self
            .angles
            .iter()
            .filter(|(off, sd)| off.abs() <= 1.96 * sd)
            .count();
        let share = |part: usize, of: usize| 100.0 * part as f64 / of.max(1) as f64;
        println!("| what | figure |\n|---|---|");
        println!("| clips, failed | {clips}, {} |", self.failed);
        println!(
            "| shaft seen, found | {}, {:.1} % |",
            self.shafts_seen,
            share(self.shafts_found, self.shafts_seen)
        );
        println!(
            "| its angle: median, 95th percentile | {:.2}°, {:.1}° |",
            angle[0], angle[1]
        );
        println!(
            "| … within its ± | {:.0} % |",
            share(held, self.angles.len())
        );
        println!(
            "| shaft hidden, told all the same | {}, {:.1} % |",
            self.shafts_hidden,
            share(self.hidden_shafts_told, self.shafts_hidden)
        );
        println!(
            "| head seen, found | {}, {:.1} % |",
            self.heads_seen,
            share(self.heads_found, self.heads_seen)
        );
        println!(
            "| its place, % of stature: median, 95th percentile | {:.2}, {:.1} |",
            head[0], head[1]
        );
        println!(
            "| head hidden, told all the same | {}, {:.1} % |",
            self.heads_hidden,
            share(self.hidden_heads_told, self.heads_hidden)
        );
        println!(
            "| ball seen at address, found | {}, {:.1} % |",
            self.balls,
            share(self.balls_found, self.balls)
        );
    }
}

fn apart(point: &Value, [x, y]: [f64; 2]) -> f64 {
    let at = |key: &str| point[key].as_f64().unwrap_or(f64::NAN);
    (at("x") - x).hypot(at("y") - y)
}

fn list(value: &Value) -> Result<&Vec<Value>> {
    value.as_array().context("the binary's own list")
}
