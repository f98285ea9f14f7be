//! Watching the clips: from files to the golfer's landmarks.
//!
//! The one slow step. What was seen is kept in the studio's folder, so that work that was stopped goes
//! on where it was.

use crate::club::watch_club;
use crate::kept::{Kept, Seen, sha256_of};
use crate::progress::Stage;
use crate::surroundings::Surroundings;
use anyhow::{Context, Result, bail, ensure};
use lessonwright_media as media;
use lessonwright_media::{Clip, FrameReader, FrameRequest};
use lessonwright_model::{
    BodyFrame, Brief, Cancel, ClipFacts, ClubTrack, LandmarkTrack, Picture, SwingWindow,
};
use lessonwright_vision::{
    ClubNetwork, Networks, Region, Tracker, TrackerConfig, choose_golfer, mend_sides,
};
use lessonwright_web::bring_in::Step;
use std::path::{Path, PathBuf};
use std::sync::mpsc;

/// Longest side of the pictures the networks see, px; less where the golfer fills enough of them.
const LONGEST_SIDE_PX: u32 = 1920;

/// Least side of the golfer's square in those pictures, px: twice the landmark network's own 256. What
/// is larger is halved there anyhow, and the decoder carries the smaller picture at a quarter of the
/// cost.
const LEAST_SQUARE_PX: f64 = 512.0;

/// Longest side of the pictures in which the golfer is told from bystanders, px: the detector's own input has 224 for
/// squares of the shorter side. Of 48 rendered clips one golfer before a rocket was not seen at 480, and all were at 768.
const CHOOSING_SIDE_PX: u32 = 960;

/// Real time before and after impact in which the golfer is told from bystanders, s: the arms sweep
/// fastest there.
const CHOOSING_SPAN_S: f64 = 0.5;

/// Pictures looked at for that; about one every 60 ms.
const CHOOSING_PICTURES: usize = 16;

/// Joint centres are looked for this often, of real time: what landmarks are off by changes slowly.
const JOINTS_RATE_HZ: f64 = 30.0;

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

/// What was seen in each clip.
pub fn observe_all(
    around: &Surroundings,
    files: &[ClipFile],
    brief: &Brief,
    cancel: &Cancel,
) -> Result<Vec<Seen>> {
    let kept = Kept::in_folder(&around.studio);
    let (mut networks, mut network) = (None, None);
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
        mend_sides(&mut seen.track);
        seen.club = kept_club(
            around,
            &seen,
            &kept.club_key(&key, None),
            &mut network,
            cancel,
        )?;
        all.push(seen);
    }
    Ok(all)
}

/// The club in a clip whose capture rate was corrected by hand: which pictures are looked at follows the clock. `seen`
/// is by the clock of before. `None` where the film is no longer there.
pub fn observe_club_again(
    around: &Surroundings,
    file: &ClipFile,
    seen: &Seen,
    corrected: &ClipFacts,
    (stated_hz, swing_number): (Option<f64>, Option<usize>),
    cancel: &Cancel,
) -> Result<Option<ClubTrack>> {
    if !file.path.exists() {
        return Ok(None);
    }
    let mut seen = seen.clone();
    seen.clip.facts.clone_from(corrected);
    let kept = Kept::in_folder(&around.studio);
    let key = kept.key(&sha256(around, file, cancel)?, stated_hz, swing_number);
    let key = kept.club_key(&key, Some(corrected.capture_rate_hz));
    kept_club(around, &seen, &key, &mut None, cancel).map(Some)
}

/// The club as it was kept, or else looked for and kept. The network is loaded when it is needed first.
fn kept_club(
    around: &Surroundings,
    seen: &Seen,
    key: &Path,
    network: &mut Option<ClubNetwork>,
    cancel: &Cancel,
) -> Result<ClubTrack> {
    let kept = Kept::in_folder(&around.studio);
    if let Some(club) = kept.read(key) {
        return Ok(club);
    }
    let network = match network {
        Some(loaded) => loaded,
        none => none.insert(around.load_club()?),
    };
    let club = watch_club(around, seen, network, cancel)?;
    kept.write(key, &club)?;
    Ok(club)
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
        club: ClubTrack::default(),
    })
}

/// The swings in a clip.
pub fn find_swings(
    around: &Surroundings,
    clip: &Clip,
    cancel: &Cancel,
) -> Result<Vec<SwingWindow>> {
    let stage = Stage::begin(
        &around.listener,
        Step::Swings,
        "Looking for swings in",
        &clip.facts.name,
    );
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

/// Which of the people in the picture swings. Where the first picture shows one person, upright, there is
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
        && only.region.is_upright()
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
    let stage = Stage::begin(
        &around.listener,
        Step::Golfer,
        "Following the golfer in",
        &clip.facts.name,
    );
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
    use crate::arguments::Places;
    use crate::progress::listening;

    #[test]
    fn a_second_look_that_is_stopped_keeps_what_the_first_saw_and_nothing_of_itself() {
        let studio = tempfile::TempDir::new().unwrap();
        let places = Places {
            studio: Some(studio.path().into()),
            networks: None,
            threads: None,
        };
        let around = Surroundings::find(&places).unwrap();
        let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/clips");
        let files = [ClipFile {
            path: Path::new(demo).join("tom-hallam-face-on.mp4"),
            name: None,
            sha256: None,
        }];
        let brief = Brief {
            clips: vec![Default::default()],
            ..Brief::default()
        };
        let kept = || {
            let folder = studio.path().join(lessonwright_store::LANDMARKS_FOLDER);
            let mut names: Vec<String> = std::fs::read_dir(folder)
                .unwrap()
                .map(|file| file.unwrap().file_name().into_string().unwrap())
                .map(|name| name.split_once('.').unwrap().1.to_owned())
                .collect();
            names.sort();
            names
        };
        let cancel = Cancel::default();
        let switch = cancel.clone();
        let stopping = around.telling(listening(move |step, share| {
            if step == Step::Club && share > 0.2 {
                switch.cancel();
            }
        }));
        let stopped = observe_all(&stopping, &files, &brief, &cancel);
        assert!(stopped.is_err());
        assert_eq!(kept(), ["json"]);
        // It goes on where it was: the golfer is not followed again.
        let going_on = around.telling(listening(|step, _| assert_ne!(step, Step::Golfer)));
        let seen = observe_all(&going_on, &files, &brief, &Cancel::default()).unwrap();
        assert!(seen[0].club.glances.len() > 30);
        assert_eq!(kept().len(), 2, "{:?}", kept());
    }

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
