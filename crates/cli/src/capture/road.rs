//! The road of a captured swing: nothing is watched and nothing fitted; everything from the moments on is as for a film.

use crate::kept::Seen;
use crate::road::{Travelled, corrected, judge};
use crate::surroundings::Surroundings;
use crate::trade::Own;
use crate::watch::ClipFile;
use anyhow::{Result, ensure};
use lessonwright_analysis::captured::{PICTURE_PX, within_mm};
use lessonwright_analysis::{Measured, analyse_captured};
use lessonwright_media::{self as media, Clip};
use lessonwright_model::{
    BodyFrame, Brief, Cancel, CapturedBody, ClipFacts, ClubTrack, Corrections, LandmarkTrack,
    PlayerFacts, RateSource, SwingWindow, View,
};

/// From a captured body and its drawn films, face-on and down the line, to findings.
pub fn travel(
    around: &Surroundings,
    own: Own,
    files: &[ClipFile],
    (brief, captured): (&Brief, &CapturedBody),
    player: &PlayerFacts,
    corrections: &Corrections,
    cancel: &Cancel,
) -> Result<Travelled> {
    for clip in corrections.clips.values() {
        ensure!(
            clip.joints.is_empty() && clip.capture_rate_hz.is_none(),
            "this swing was captured, not filmed: its joints and its rate are those of the capture; moments can be set"
        );
    }
    let clips = files
        .iter()
        .map(|file| opened(around, file, captured, cancel))
        .collect::<Result<Vec<_>>>()?;
    let measured = measured(captured, brief, player, corrections)?;
    let swing = judge(&measured, player, corrections, &own);
    Ok(Travelled {
        clips,
        measured,
        swing,
        own,
        captured_within_mm: Some(within_mm(captured)),
    })
}

/// A drawn film as if it had been watched: every picture counts, and nobody was looked for.
pub fn watched(
    around: &Surroundings,
    file: &ClipFile,
    captured: &CapturedBody,
    cancel: &Cancel,
) -> Result<Seen> {
    let clip = opened(around, file, captured, cancel)?;
    let times = clip.facts.frame_times_s.iter().enumerate();
    let frames = times.map(|(frame, time_s)| BodyFrame {
        frame,
        time_s: *time_s,
        body: None,
    });
    Ok(Seen {
        swings: 1,
        window: SwingWindow {
            start_s: 0.0,
            end_s: clip.facts.duration_s,
            impact_guess_s: 0.5 * clip.facts.duration_s,
            strike: None,
        },
        track: LandmarkTrack {
            width_px: clip.facts.width_px,
            height_px: clip.facts.height_px,
            frames: frames.collect(),
        },
        club: ClubTrack::default(),
        clip,
    })
}

fn opened(
    around: &Surroundings,
    file: &ClipFile,
    captured: &CapturedBody,
    cancel: &Cancel,
) -> Result<Clip> {
    let rate_hz = Some(captured.rate_hz);
    let mut clip = media::probe(&around.tools, &file.path, rate_hz, cancel)?;
    if let Some(name) = &file.name {
        clip.facts.name.clone_from(name);
    }
    Ok(clip)
}

/// The numbers alone, which need no film.
pub fn measured(
    captured: &CapturedBody,
    brief: &Brief,
    player: &PlayerFacts,
    corrections: &Corrections,
) -> Result<Measured> {
    let (player, settings) = corrected(brief, player, corrections);
    let facts = facts(captured);
    Ok(analyse_captured(
        captured,
        [facts.clone(), facts],
        &player,
        &settings,
    )?)
}

/// Of a film with one picture an instant, on the clock that [`super::drawn`] gives it. What is said of it names the capture, which
/// is the file that somebody has.
fn facts(captured: &CapturedBody) -> ClipFacts {
    let rate_hz = film_rate_hz(captured);
    let times = (0..captured.poses_mm.len()).map(|frame| frame as f64 / f64::from(rate_hz));
    let frame_times_s: Vec<f64> = times.collect();
    ClipFacts {
        name: captured.file.clone(),
        codec: "h264".into(),
        bit_depth: 8,
        width_px: PICTURE_PX[0],
        height_px: PICTURE_PX[1],
        rotation_deg: 0,
        duration_s: frame_times_s.len() as f64 / f64::from(rate_hz),
        frame_times_s,
        rate_hz: f64::from(rate_hz),
        variable_rate: false,
        capture_rate_hz: captured.rate_hz,
        capture_rate_source: RateSource::Stated,
        has_sound: false,
    }
}

/// Films have whole numbers of pictures a second.
pub fn film_rate_hz(captured: &CapturedBody) -> u32 {
    (captured.rate_hz.round() as u32).max(1)
}

/// Name of a drawn film.
pub fn file_name(view: View) -> &'static str {
    match view {
        View::FaceOn => "capture-face-on.mp4",
        View::DownTheLine => "capture-down-the-line.mp4",
    }
}
