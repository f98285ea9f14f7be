//! The road of a swing: clip → frames → landmarks → track → moments → measures → findings.
//!
//! Every step is one call into the crate that knows it; this file only joins them, shows progress
//! and lets Ctrl-C stop the work. Landmarks, the one slow step, are kept in the studio's folder, so
//! that work that was stopped goes on where it was.

use crate::kept::{Kept, Seen, sha256_of};
use crate::progress::Stage;
use crate::surroundings::Surroundings;
use anyhow::{Context, Result, bail, ensure};
use lessonwright_analysis::{ClipObservation, Measured, Settings};
use lessonwright_coaching::{CauseTable, DrillBook, Targets};
use lessonwright_media as media;
use lessonwright_media::{Clip, FrameReader, FrameRequest};
use lessonwright_model::swing::SCHEMA_VERSION;
use lessonwright_model::{
    BodyFrame, Brief, Cancel, Corrections, LandmarkTrack, Picture, PlayerFacts, RateSource,
    SwingAnalysis, SwingWindow, View,
};
use lessonwright_vision::{Networks, Region, SwingClip, Tracker, TrackerConfig, choose_golfer};
use std::path::{Path, PathBuf};
use std::sync::mpsc;

/// Longest side of the pictures the networks see, px; less where the golfer fills enough of them.
const LONGEST_SIDE_PX: u32 = 1920;

/// Least side of the golfer's square in those pictures, px: twice the landmark network's own 256. What
/// is larger is halved there anyhow, and the decoder carries the smaller picture at a quarter of the
/// cost.
const LEAST_SQUARE_PX: f64 = 512.0;

/// Longest side of the pictures in which the golfer is told from bystanders, px: the detector's own
/// input has 224.
const CHOOSING_SIDE_PX: u32 = 480;

/// Real time before and after impact in which the golfer is told from bystanders, s: the arms sweep
/// fastest there.
const CHOOSING_SPAN_S: f64 = 0.5;

/// Pictures looked at for that; about one every 60 ms.
const CHOOSING_PICTURES: usize = 16;

/// Joint centres are looked for this often, of real time: what landmarks are off by changes slowly.
const JOINTS_RATE_HZ: f64 = 30.0;

/// What is said of a clip without joint centres.
const STRANGE: &str = "player and place look unlike what our own networks were taught: joints are taken \
                       from the general landmarks, and every ± is wider";

/// Frames decoded ahead of the network.
const FRAMES_AHEAD: usize = 3;

/// A clip's file.
#[derive(Clone, Debug)]
pub struct ClipFile {
    /// Where it lies.
    pub path: PathBuf,
    /// The name it came with, where it lies under another one.
    pub name: Option<String>,
    /// SHA-256 of its bytes, where that is known.
    pub sha256: Option<String>,
}

/// A swing that went down the road.
pub struct Travelled {
    /// The clips, in the order given.
    pub clips: Vec<Clip>,
    /// Cleaned tracks, moments and measures.
    pub measured: Measured,
    /// What scripts and pages receive.
    pub swing: SwingAnalysis,
    /// The bands the measures were held against.
    pub targets: Targets,
}

/// All the way from files to findings, for a player of whom `player` is known, with what was corrected
/// by hand. Landmarks stay as they were seen; everything after them follows the corrections.
pub fn travel(
    around: &Surroundings,
    files: &[ClipFile],
    brief: &Brief,
    player: &PlayerFacts,
    corrections: &Corrections,
    cancel: &Cancel,
) -> Result<Travelled> {
    // Before the slow part.
    corrections.check()?;
    let seen = observe_all(around, files, brief, cancel)?;
    let player = &PlayerFacts {
        stature_m: corrections.stature_m.or(player.stature_m),
        ..player.clone()
    };
    let settings = Settings {
        corrections: corrections.clone(),
        ..settings(brief)
    };
    let mut observations = observations(&seen, brief);
    state_capture_rates(&mut observations, player, &settings)?;
    move_to_joint_centres(around, &mut observations, player, &settings)?;
    let mut measured = lessonwright_analysis::analyse(&observations, player, &settings)?;
    for (number, (report, seen)) in measured.views.iter_mut().zip(&seen).enumerate() {
        report.warnings.extend(seen.clip.warnings.iter().cloned());
        if observations[number].centres.is_none() {
            report.warnings.push(STRANGE.to_owned());
        }
        if seen.swings > 1 && brief.swing_number.is_none() {
            report.warnings.push(format!(
                "this clip holds {} swings; the last was taken (--swing-number takes another)",
                seen.swings
            ));
        }
    }
    let clips: Vec<Clip> = seen.into_iter().map(|seen| seen.clip).collect();
    let targets = own_targets(&around.studio)?;
    let swing = SwingAnalysis {
        corrections: corrections.clone(),
        ..coach(&measured, player, &targets)
    };
    Ok(Travelled {
        clips,
        measured,
        swing,
        targets,
    })
}

/// What the analysis takes: one a clip.
pub fn observations(seen: &[Seen], brief: &Brief) -> Vec<ClipObservation> {
    seen.iter()
        .zip(&brief.clips)
        .map(|(seen, said)| ClipObservation {
            facts: seen.clip.facts.clone(),
            track: seen.track.clone(),
            centres: None,
            strikes: seen.window.strike.into_iter().collect(),
            view: said.view,
            hand: None,
        })
        .collect()
}

/// What the professional says of the set-up.
pub fn settings(brief: &Brief) -> Settings {
    Settings {
        camera_distance_m: brief.camera_distance_m,
        ..Settings::default()
    }
}

/// Capture rates corrected by hand, put into the facts of the clips. The stretch of the file that was
/// looked at stays.
fn state_capture_rates(
    observations: &mut [ClipObservation],
    player: &PlayerFacts,
    settings: &Settings,
) -> Result<()> {
    let rate_of = |view| {
        settings
            .corrections
            .of(view)
            .and_then(|c| c.capture_rate_hz)
    };
    if [View::FaceOn, View::DownTheLine].map(rate_of) == [None, None] {
        return Ok(());
    }
    let stated: Option<Vec<View>> = observations.iter().map(|clip| clip.view).collect();
    let views = match stated {
        Some(views) => views,
        None => {
            let as_found = Settings {
                corrections: Corrections::default(),
                ..settings.clone()
            };
            lessonwright_analysis::outlines(observations, player, &as_found)?
                .iter()
                .map(|outline| outline.view)
                .collect()
        }
    };
    for (clip, view) in observations.iter_mut().zip(views) {
        if let Some(rate_hz) = rate_of(view) {
            clip.facts.capture_rate_hz = rate_hz;
            clip.facts.capture_rate_source = RateSource::Stated;
        }
    }
    Ok(())
}

/// Landmarks moved to joint centres, seen in both clips together; none in a clip whose picture the
/// networks do not know their way about.
pub fn move_to_joint_centres(
    around: &Surroundings,
    observations: &mut [ClipObservation],
    player: &PlayerFacts,
    settings: &Settings,
) -> Result<()> {
    let outlines = lessonwright_analysis::outlines(observations, player, settings)?;
    let clips: Vec<SwingClip<'_>> = observations
        .iter()
        .zip(outlines)
        .map(|(clip, outline)| SwingClip {
            track: &clip.track,
            view: outline.view,
            hand: outline.hand,
            real_seconds_per_file_second: clip.facts.real_seconds_per_file_second(),
            address_s: outline.address_s,
            impact_s: outline.impact_s,
        })
        .collect();
    let centres = around.load_correction()?.joint_centres(&clips)?;
    for (clip, centres) in observations.iter_mut().zip(centres) {
        clip.centres = centres;
    }
    Ok(())
}

/// The professional's own targets where the studio's folder has some, else the standard ones.
pub fn own_targets(studio: &Path) -> Result<Targets> {
    let file = studio.join("targets.toml");
    match std::fs::read_to_string(&file) {
        Ok(text) => {
            let own = Targets::parse(&file.display().to_string(), &text)?;
            Ok(Targets::standard().replaced_by(own))
        }
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(Targets::standard()),
        Err(error) => Err(error).with_context(|| format!("reading {}", file.display())),
    }
}

/// Findings, the one priority and drills, put beside the measures they rest on.
fn coach(measured: &Measured, player: &PlayerFacts, targets: &Targets) -> SwingAnalysis {
    let hand = measured.views[0].hand;
    let coaching = lessonwright_coaching::coach(
        &measured.measures,
        hand,
        player,
        targets,
        &DrillBook::standard(),
        &CauseTable::standard(),
    );
    SwingAnalysis {
        schema_version: SCHEMA_VERSION,
        program_version: env!("CARGO_PKG_VERSION").to_owned(),
        corrections: Corrections::default(),
        views: measured.views.clone(),
        moments: measured.moments.clone(),
        measures: measured.measures.clone(),
        findings: coaching.findings,
        priority: coaching.priority,
        drills: coaching.drills,
        prescription: coaching.prescription,
        notice: coaching.notice,
    }
}

/// What was seen in each clip.
pub fn observe_all(
    around: &Surroundings,
    files: &[ClipFile],
    brief: &Brief,
    cancel: &Cancel,
) -> Result<Vec<Seen>> {
    let kept = Kept::in_folder(&around.studio);
    let mut networks = None;
    let mut all = Vec::new();
    for (file, said) in files.iter().zip(&brief.clips) {
        let rate_hz = said.capture_rate_hz;
        let key = kept.key(&sha256(around, file, cancel)?, rate_hz, brief.swing_number);
        let mut seen = match kept.read(&key) {
            Some(seen) => seen,
            None => {
                let clip = media::probe(&around.tools, &file.path, rate_hz, cancel)?;
                let networks = match &mut networks {
                    Some(loaded) => loaded,
                    none => none.insert(around.load_networks()?),
                };
                let mut seen = observe(around, clip, brief.swing_number, networks, cancel)?;
                seen.clip.path = PathBuf::new();
                seen.clip.facts.name = String::new();
                kept.write(&key, &seen)?;
                seen
            }
        };
        seen.clip.path.clone_from(&file.path);
        seen.clip.facts.name = file.name();
        all.push(seen);
    }
    Ok(all)
}

impl ClipFile {
    fn name(&self) -> String {
        let own = || self.path.file_name().unwrap_or(self.path.as_os_str());
        let own = || own().to_string_lossy().into_owned();
        self.name.clone().unwrap_or_else(own)
    }
}

fn sha256(around: &Surroundings, file: &ClipFile, cancel: &Cancel) -> Result<String> {
    if let Some(known) = &file.sha256 {
        return Ok(known.clone());
    }
    sha256_of(&file.path).or_else(|error| {
        // What is wrong with a file that can't be read, probing says best.
        media::probe(&around.tools, &file.path, None, cancel)?;
        Err(error)
    })
}

/// Landmarks of the golfer in one clip's swing.
fn observe(
    around: &Surroundings,
    clip: Clip,
    swing_number: Option<usize>,
    networks: &mut Networks,
    cancel: &Cancel,
) -> Result<Seen> {
    let windows = find_swings(around, &clip, cancel)?;
    let window = choose_swing(&windows, swing_number, &clip)?;
    let golfer = find_golfer(around, &clip, &window, networks, cancel)?;
    let track = follow(around, &clip, &window, golfer, networks, cancel)?;
    ensure!(
        track.frames.iter().any(|frame| frame.body.is_some()),
        "{}: nobody was seen in the swing from {:.1} s to {:.1} s; film the whole player, upright \
         and in the light, and try again",
        clip.facts.name,
        window.start_s,
        window.end_s
    );
    Ok(Seen {
        clip,
        swings: windows.len(),
        window,
        track,
    })
}

/// The swings in a clip.
pub fn find_swings(
    around: &Surroundings,
    clip: &Clip,
    cancel: &Cancel,
) -> Result<Vec<SwingWindow>> {
    let stage = Stage::begin("Looking for swings in", &clip.facts.name);
    let mut report = |share| stage.report(share);
    Ok(media::find_swings(
        &around.tools,
        clip,
        &mut report,
        cancel,
    )?)
}

fn choose_swing(
    windows: &[SwingWindow],
    number: Option<usize>,
    clip: &Clip,
) -> Result<SwingWindow> {
    let name = &clip.facts.name;
    let Some(last) = windows.last() else {
        bail!(
            "{name}: no swing was found; check that it shows a full swing, filmed standing still"
        );
    };
    let Some(number) = number else {
        return Ok(*last);
    };
    let chosen = number.checked_sub(1).and_then(|at| windows.get(at));
    chosen.copied().with_context(|| {
        format!(
            "{name}: there is no swing {number}; {} found",
            windows.len()
        )
    })
}

/// Which of the people in the picture swings. Where the first picture shows one person there is
/// nothing to choose, and the stretch around impact need not be decoded twice.
fn find_golfer(
    around: &Surroundings,
    clip: &Clip,
    window: &SwingWindow,
    networks: &mut Networks,
    cancel: &Cancel,
) -> Result<Option<Region>> {
    let first = FrameRequest {
        from_s: window.start_s,
        to_s: window.end_s,
        longest_side_px: Some(CHOOSING_SIDE_PX),
    };
    if let Some(frame) = FrameReader::open(&around.tools, clip, first, cancel)?.next()
        && let [only] = &networks.detector.detect(&frame?.picture)?[..]
    {
        return Ok(Some(only.region));
    }
    let span = CHOOSING_SPAN_S / clip.facts.real_seconds_per_file_second();
    let around_impact = FrameRequest {
        from_s: (window.impact_guess_s - span).max(window.start_s),
        to_s: (window.impact_guess_s + span).min(window.end_s),
        ..first
    };
    let frames = (around_impact.to_s - around_impact.from_s) * clip.facts.rate_hz;
    let every = (frames / CHOOSING_PICTURES as f64).round().max(1.0) as usize;
    let pictures: Vec<Picture> = FrameReader::open(&around.tools, clip, around_impact, cancel)?
        .step_by(every)
        .map(|frame| Ok(frame?.picture))
        .collect::<Result<_>>()?;
    Ok(choose_golfer(&mut networks.detector, &pictures)?)
}

/// Longest side of the pictures in which this golfer is followed, for a clip of this size, px.
fn followed_side_px([width, height]: [u32; 2], golfer: Option<Region>) -> u32 {
    let mut side = LONGEST_SIDE_PX.min(width.max(height));
    let Some(golfer) = golfer else {
        return side;
    };
    let square_px = |side: u32| {
        golfer.side * f64::from(height) * f64::from(side) / f64::from(width.max(height))
    };
    while square_px(side / 2) >= LEAST_SQUARE_PX {
        side /= 2;
    }
    side
}

/// The golfer's landmarks through the window. Decoding runs ahead on its own thread.
fn follow(
    around: &Surroundings,
    clip: &Clip,
    window: &SwingWindow,
    golfer: Option<Region>,
    networks: &mut Networks,
    cancel: &Cancel,
) -> Result<LandmarkTrack> {
    let stage = Stage::begin("Following the golfer in", &clip.facts.name);
    let size = [clip.facts.width_px, clip.facts.height_px];
    let request = FrameRequest {
        from_s: window.start_s,
        to_s: window.end_s,
        longest_side_px: Some(followed_side_px(size, golfer)),
    };
    let reader = FrameReader::open(&around.tools, clip, request, cancel)?;
    let mut track = LandmarkTrack {
        width_px: 0,
        height_px: 0,
        frames: Vec::new(),
    };
    let mut tracker = Tracker::new(networks, TrackerConfig::default(), golfer);
    let mut bodies = Vec::new();
    // Half a frame early is no reason to wait for the next.
    let joints_step_s = (1.0 / JOINTS_RATE_HZ - 0.5 / clip.facts.rate_hz)
        / clip.facts.real_seconds_per_file_second();
    let mut next_joints_s = f64::NEG_INFINITY;
    std::thread::scope(|scope| -> Result<()> {
        let (give, take) = mpsc::sync_channel(FRAMES_AHEAD);
        // The decoder ends by itself when this end hangs up after an error.
        scope.spawn(move || reader.into_iter().try_for_each(|frame| give.send(frame)));
        for frame in take {
            let frame = frame?;
            track.width_px = frame.picture.width as u32;
            track.height_px = frame.picture.height as u32;
            stage.report((frame.time_s - window.start_s) / (window.end_s - window.start_s));
            track.frames.push(BodyFrame {
                frame: frame.index,
                time_s: frame.time_s,
                body: None,
            });
            let joints = frame.time_s >= next_joints_s;
            if joints {
                next_joints_s = frame.time_s + joints_step_s;
            }
            bodies.extend(tracker.push(frame.picture, joints)?);
        }
        bodies.extend(tracker.finish()?);
        Ok(())
    })?;
    // Pictures come back in the order they were handed in.
    for (frame, tracked) in track.frames.iter_mut().zip(bodies) {
        frame.body = tracked.body;
    }
    Ok(track)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pictures_are_as_small_as_the_golfer_in_them_allows() {
        let filling = |side| {
            Some(Region {
                centre_x: 0.5,
                centre_y: 0.5,
                side,
                rotation_rad: 0.0,
            })
        };
        for (size, golfer, expected) in [
            ([1080, 1920], filling(0.7), 960),
            ([2160, 3840], filling(0.7), 960),
            // Of a golfer farther away every pixel is kept, and of one not yet found.
            ([1080, 1920], filling(0.5), 1920),
            ([1080, 1920], None, 1920),
            // The square's side is told in heights.
            ([1920, 1080], filling(0.9), 1920),
            ([1920, 1080], filling(1.0), 960),
            ([288, 512], filling(0.9), 512),
        ] {
            assert_eq!(
                followed_side_px(size, golfer),
                expected,
                "{size:?} {golfer:?}"
            );
        }
    }
}
