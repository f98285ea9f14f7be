//! `export`: what the studio knows of one player or of all, as files that other programs read. What they are:
//! `docs/open-data.md`.

mod index;
mod research;

use crate::arguments::ExportArguments;
use crate::correct::travel_again;
use crate::progress::Stage;
use crate::road::Travelled;
use crate::surroundings::Surroundings;
use anyhow::{Context, Result, bail};
use lessonwright_analysis::SwingBody;
use lessonwright_body::Point;
use lessonwright_exchange::{Mark, Motion, SwingRow, bvh, c3d};
use lessonwright_model::{Cancel, Hand, View};
use lessonwright_store::{Player, PlayerId, Store, StoredAnalysis, Swing};
use std::fs;
use std::path::{Path, PathBuf};
use tokio::runtime::Runtime;

/// A swing that was analysed.
struct Exported {
    swing: Swing,
    stored: StoredAnalysis,
}

/// Folder of the professional's own tables and drills in an export of the whole studio.
const OWN: &str = "own";

/// Write everything into a folder that is not there yet or empty.
pub fn export(
    around: &Surroundings,
    arguments: &ExportArguments,
    runtime: &Runtime,
    cancel: &Cancel,
) -> Result<()> {
    let out = &arguments.out;
    runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let players = match &arguments.player {
            None => store.players().await?,
            Some(name) => {
                let player = store.player_named(name).await?;
                vec![player.with_context(|| format!("there is no player called \"{name}\""))?]
            }
        };
        if arguments.tables {
            let pseudonyms = match arguments.pseudonyms {
                true => Some(research::Pseudonyms::of(&around.studio)?),
                false => None,
            };
            let swings = research::write_out(&store, &players, out, pseudonyms.as_ref()).await?;
            println!(
                "Tables of {} players and {swings} swings written to {}",
                players.len(),
                out.display()
            );
            return Ok(());
        }
        let swings = write_out(around, &store, &players, out, cancel).await?;
        if arguments.player.is_none() {
            copy_own(&around.studio, &out.join(OWN))?;
        }
        println!(
            "{} players and {swings} swings written to {}; begin with {}",
            players.len(),
            out.display(),
            out.join("index.html").display()
        );
        Ok(())
    })
}

/// Everything that is kept of these players: a page to begin with, rows and files that `import` reads back, and the same
/// in forms that other programs read. Gives back how many swings.
pub async fn write_out(
    around: &Surroundings,
    store: &Store,
    players: &[Player],
    out: &Path,
    cancel: &Cancel,
) -> Result<usize> {
    make_empty(out)?;
    let keys: Vec<PlayerId> = players.iter().map(|player| player.id).collect();
    let bar = Stage::alone("copying");
    store
        .write_records(&keys, out, &|share| bar.report(share))
        .await?;
    let mut all = Vec::new();
    for player in players {
        all.extend(analysed(store, player).await?);
    }
    write(out, "players.json", players_json(players)?.as_bytes())?;
    let rows: Vec<SwingRow<'_>> = all.iter().map(row).collect();
    research::write_tables(&rows, out)?;
    for exported in &all {
        swing_files(around, store, exported, out, cancel).await?;
    }
    write(
        out,
        "index.html",
        index::page(store, players, out).await?.as_bytes(),
    )?;
    Ok(all.len())
}

/// The folder, made; refused where something is in it.
fn make_empty(out: &Path) -> Result<()> {
    fs::create_dir_all(out).with_context(|| format!("making {}", out.display()))?;
    if fs::read_dir(out)?.next().is_some() {
        bail!("{} is not empty: name another folder", out.display());
    }
    Ok(())
}

/// The professional's own tables and drills.
fn copy_own(studio: &Path, to: &Path) -> Result<()> {
    for (name, file) in own_files(studio)? {
        let to = to.join(&name);
        let parent = to.parent().unwrap_or(Path::new("."));
        fs::create_dir_all(parent).with_context(|| format!("making {}", parent.display()))?;
        fs::copy(&file, &to).with_context(|| format!("copying {}", file.display()))?;
    }
    Ok(())
}

/// The same back into a studio, where it has none of that name; gives back what was taken.
pub fn own_files_in(export: &Path, studio: &Path) -> Result<Vec<String>> {
    let mut taken = Vec::new();
    for (name, file) in own_files(&export.join(OWN))? {
        let to = studio.join(&name);
        if to.exists() {
            continue;
        }
        let parent = to.parent().unwrap_or(studio);
        fs::create_dir_all(parent).with_context(|| format!("making {}", parent.display()))?;
        fs::copy(&file, &to).with_context(|| format!("copying {}", file.display()))?;
        taken.push(name);
    }
    Ok(taken)
}

/// Tables (`.toml`) and drills (`drills/*.md`) of a studio's folder: name and file.
fn own_files(studio: &Path) -> Result<Vec<(String, PathBuf)>> {
    let mut all = Vec::new();
    for (folder, ending) in [("", "toml"), ("drills/", "md")] {
        let Ok(entries) = fs::read_dir(studio.join(folder)) else {
            continue;
        };
        for entry in entries {
            let path = entry?.path();
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            // Through which server e-mails go is the machine's, not the trade's.
            let is_own =
                path.extension().is_some_and(|found| found == ending) && name != "mail.toml";
            if path.is_file() && is_own {
                all.push((format!("{folder}{name}"), path.clone()));
            }
        }
    }
    all.sort();
    Ok(all)
}

async fn analysed(store: &Store, player: &Player) -> Result<Vec<Exported>> {
    let mut all = Vec::new();
    for swing in store.swings_of(player.id).await? {
        if let Some(stored) = store.latest_analysis(swing.id).await? {
            all.push(Exported { swing, stored });
        }
    }
    all.sort_by_key(|exported| exported.swing.id);
    Ok(all)
}

fn row(exported: &Exported) -> SwingRow<'_> {
    let swing = &exported.swing;
    SwingRow {
        swing: swing.id.0,
        player: swing.player.to_string(),
        at: swing.filmed_at.unwrap_or(swing.added_at).to_string(),
        analysis: &exported.stored.analysis,
    }
}

fn players_json(players: &[Player]) -> Result<String> {
    let entry = |player: &Player| {
        serde_json::json!({
            "player": player.id.0,
            "facts": player.facts,
            "added_at": player.added_at.to_string(),
        })
    };
    let all: Vec<_> = players.iter().map(entry).collect();
    Ok(serde_json::to_string_pretty(&all)? + "\n")
}

/// Analysis and motion of one swing; clips and lessons are there with the rows.
async fn swing_files(
    around: &Surroundings,
    store: &Store,
    exported: &Exported,
    out: &Path,
    cancel: &Cancel,
) -> Result<()> {
    let id = exported.swing.id;
    let folder = out.join("swings").join(id.to_string());
    fs::create_dir_all(&folder).with_context(|| format!("making {}", folder.display()))?;
    let analysis = serde_json::to_string_pretty(&exported.stored.analysis)? + "\n";
    write(&folder, "analysis.json", analysis.as_bytes())?;
    // A swing kept by an early version can't be analysed again: it has no motion.
    if store.brief(id).await?.is_some() {
        let travelled = travel_again(around, store, id, cancel).await?;
        for body in &travelled.measured.bodies {
            let views = &travelled.measured.views;
            let name = match (&travelled.measured.bodies[..], views.get(body.clip)) {
                ([_, _, ..], Some(report)) if report.view == View::DownTheLine => {
                    "body-down-the-line"
                }
                ([_, _, ..], _) => "body-face-on",
                _ => "body",
            };
            let motion = motion(&travelled, body);
            write(&folder, &format!("{name}.c3d"), &c3d(&motion)?)?;
            write(&folder, &format!("{name}.bvh"), &bvh(&motion)?.bytes)?;
        }
    }
    Ok(())
}

/// The body with the moments of its clip. A left-hander was mirrored for the fit; here x is turned back, so that the
/// frame stays right-handed: x then points away from the target.
fn motion(travelled: &Travelled, body: &SwingBody) -> Motion {
    let report = &travelled.measured.views[body.clip];
    let x = if report.hand == Hand::Left { -1.0 } else { 1.0 };
    let (times, poses) = (&body.motion.times_s, &body.motion.poses);
    let real = report.rate_hz / report.capture_rate_hz;
    let moments = travelled
        .measured
        .moments
        .iter()
        .filter(|m| m.view == report.view);
    Motion {
        rate_hz: (times.len() - 1) as f64 / (times[times.len() - 1] - times[0]),
        names: Point::ALL
            .iter()
            .map(|point| format!("{point:?}"))
            .collect(),
        instants: poses
            .iter()
            .map(|pose| {
                pose.0
                    .iter()
                    .map(|at| Some([x * at.x, at.y, at.z]))
                    .collect()
            })
            .collect(),
        marks: moments
            .map(|moment| Mark {
                name: moment.name.plain().to_owned(),
                time_s: moment.time_s * real - times[0],
            })
            .collect(),
    }
}

fn write(folder: &Path, name: &str, bytes: &[u8]) -> Result<()> {
    let path = folder.join(name);
    fs::write(&path, bytes).with_context(|| format!("writing {}", path.display()))
}
