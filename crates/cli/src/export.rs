//! `export`: what the studio knows of one player or of all, as files that other programs read. What they are:
//! `docs/open-data.md`.

use crate::arguments::ExportArguments;
use crate::correct::travel_again;
use crate::road::Travelled;
use crate::surroundings::Surroundings;
use anyhow::{Context, Result, bail};
use lessonwright_analysis::SwingBody;
use lessonwright_body::Point;
use lessonwright_exchange::{Mark, Motion, SwingRow, c3d, measures_csv, moments_csv, swings_csv};
use lessonwright_model::{Cancel, Hand, View};
use lessonwright_store::{FileKind, LessonId, Player, Store, StoredAnalysis, Swing};
use std::fs;
use std::path::Path;
use tokio::runtime::Runtime;

/// A swing that was analysed.
struct Exported {
    swing: Swing,
    stored: StoredAnalysis,
}

/// Write everything into a folder that is not there yet or empty.
pub fn export(
    around: &Surroundings,
    arguments: &ExportArguments,
    runtime: &Runtime,
    cancel: &Cancel,
) -> Result<()> {
    let out = &arguments.out;
    fs::create_dir_all(out).with_context(|| format!("making {}", out.display()))?;
    if fs::read_dir(out)?.next().is_some() {
        bail!("{} is not empty: name another folder", out.display());
    }
    runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let players = match &arguments.player {
            None => store.players().await?,
            Some(name) => {
                let player = store.player_named(name).await?;
                vec![player.with_context(|| format!("there is no player called \"{name}\""))?]
            }
        };
        let mut all = Vec::new();
        for player in &players {
            all.extend(analysed(&store, player).await?);
        }
        write(out, "players.json", players_json(&players)?.as_bytes())?;
        let rows: Vec<SwingRow<'_>> = all.iter().map(row).collect();
        write(out, "swings.csv", &swings_csv(&rows)?)?;
        write(out, "moments.csv", &moments_csv(&rows)?)?;
        write(out, "measures.csv", &measures_csv(&rows)?)?;
        for exported in &all {
            swing_files(around, &store, exported, out, cancel).await?;
        }
        println!(
            "{} players and {} swings written to {}",
            players.len(),
            all.len(),
            out.display()
        );
        Ok(())
    })
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
        player: swing.player.0,
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

/// Clips, analysis, motion and lessons of one swing.
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
    for clip in store.clips_of(id).await? {
        let name = clip.path.file_name().context("a clip has a name")?;
        fs::copy(&clip.path, folder.join(name))
            .with_context(|| format!("copying {}", clip.path.display()))?;
    }
    for lesson in store.lessons_of_swing(id).await? {
        lesson_files(store, lesson.id, &folder).await?;
    }
    // A swing kept by an early version can't be analysed again: it has no motion.
    if store.brief(id).await?.is_some() {
        let travelled = travel_again(around, store, id, cancel).await?;
        for body in &travelled.measured.bodies {
            let name = match (
                &travelled.measured.bodies[..],
                travelled.measured.views.get(body.clip),
            ) {
                ([_, _, ..], Some(report)) if report.view == View::DownTheLine => {
                    "body-down-the-line.c3d"
                }
                ([_, _, ..], _) => "body-face-on.c3d",
                _ => "body.c3d",
            };
            write(&folder, name, &c3d(&motion(&travelled, body))?)?;
        }
    }
    Ok(())
}

async fn lesson_files(store: &Store, id: LessonId, folder: &Path) -> Result<()> {
    if let Some(lesson) = store.lesson(id).await? {
        write(folder, &format!("lesson-{id}.html"), &lesson.page)?;
    }
    for (kind, ending) in [(FileKind::Paper, "pdf"), (FileKind::Film, "mp4")] {
        if let Some(bytes) = store.lesson_file(id, kind).await? {
            write(folder, &format!("lesson-{id}.{ending}"), &bytes)?;
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
