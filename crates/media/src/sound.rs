//! A clip's sound as one channel of samples with the time of the first.

use crate::child::{Limits, Worker};
use crate::error::{MediaError, plain_reason};
use crate::probe::{Clip, LONGEST_CLIP_S, guarded_input, start_error, stopped_error};
use crate::tools::Tools;
use lessonwright_model::Cancel;
use std::process::Command;
use std::sync::mpsc;

/// Samples a second of every [`Sound`]; what phones record.
pub const SOUND_RATE_HZ: u32 = 48_000;

/// One channel of sound, full scale ±1.
#[derive(Clone, Debug, PartialEq)]
pub struct Sound {
    /// Samples a second, [`SOUND_RATE_HZ`].
    pub rate_hz: u32,
    /// The samples; all channels of the file averaged.
    pub samples: Vec<f32>,
    /// Time of the first sample from the clip's first frame, s of the file's own clock. Negative
    /// where the sound starts first.
    pub start_s: f64,
}

impl Sound {
    /// Time of a sample from the clip's first frame, s.
    pub fn time_s(&self, sample: f64) -> f64 {
        self.start_s + sample / f64::from(self.rate_hz)
    }
}

/// 900 s decode in a few seconds.
const LIMITS: Limits = Limits {
    address_space_bytes: 2 << 30,
    processor_s: 120,
    wait_s: 120,
    written_bytes: 0,
};

const DOING: &str = "decoding the sound";

/// The clip's sound, or `None` if it has none. Gaps in it are filled with silence, so that sample
/// times hold to the end.
///
/// # Errors
/// [`MediaError`] if the sound track is damaged, on cancel, and for the limits.
pub fn sound(tools: &Tools, clip: &Clip, cancel: &Cancel) -> Result<Option<Sound>, MediaError> {
    let Some(track) = clip.sound_track else {
        return Ok(None);
    };
    let mut command = Command::new(&tools.ffmpeg);
    command
        .args(["-hide_banner", "-nostdin", "-nostats"])
        .args(["-loglevel", "repeat+level+info"])
        .args(guarded_input(&clip.path, &["-copyts".to_owned()]))
        .args(["-map", &format!("0:{track}")])
        .args(["-af", &filters()])
        .args(["-f", "f32le", "pipe:1"]);
    let (sender, starts) = mpsc::channel();
    let mut waiting = true;
    let on_line = move |line: &str| {
        if let Some(start_s) = shown_start_s(line).filter(|_| waiting) {
            waiting = false;
            // The receiver outlives the child.
            let _ = sender.send(start_s);
        }
        line.contains("[error]") || line.contains("[fatal]")
    };
    let name = &clip.facts.name;
    let mut worker = Worker::start(command, LIMITS, cancel, on_line)
        .map_err(|source| start_error(&tools.ffmpeg, name, DOING, source))?;
    let system = |source| MediaError::System {
        clip: name.clone(),
        doing: DOING,
        source,
    };
    let bytes = worker.read_all(most_bytes());
    if let Some(why) = worker.stopped() {
        return Err(stopped_error(name, DOING, why, LIMITS.wait_s));
    }
    let bytes = bytes.map_err(system)?;
    let (status, messages) = worker.finish().map_err(system)?;
    if let Some(why) = worker.stopped() {
        return Err(stopped_error(name, DOING, why, LIMITS.wait_s));
    }
    if !status.success() {
        return Err(MediaError::Decoding {
            clip: name.clone(),
            doing: DOING,
            reason: plain_reason(&messages),
        });
    }
    let samples: Vec<f32> = bytes
        .chunks_exact(4)
        .map(|b| f32::from_le_bytes([b[0], b[1], b[2], b[3]]))
        .collect();
    // An empty sound track, as some editors leave behind, is no sound.
    let Some(first_s) = starts.try_recv().ok().filter(|_| !samples.is_empty()) else {
        return Ok(None);
    };
    let first_frame_s = clip.track.time_base.seconds(clip.track.ticks[0]);
    Ok(Some(Sound {
        rate_hz: SOUND_RATE_HZ,
        samples,
        start_s: first_s - first_frame_s,
    }))
}

/// `async=1` fills gaps and trims overlaps by the sound's own times, without stretching.
fn filters() -> String {
    format!("aresample={SOUND_RATE_HZ}:async=1,aformat=channel_layouts=mono,ashowinfo")
}

/// The longest clip, and a little that sound may run on after the pictures.
fn most_bytes() -> usize {
    (LONGEST_CLIP_S * 1.1) as usize * SOUND_RATE_HZ as usize * size_of::<f32>()
}

/// The start in a line of the `ashowinfo` filter: "… n:0 pts:0 pts_time:0 …" whose ticks are samples.
fn shown_start_s(line: &str) -> Option<f64> {
    if !line.contains("ashowinfo") {
        return None;
    }
    let (_, rest) = line.split_once(" n:")?;
    let (_, rest) = rest.split_once(" pts:")?;
    let tick: i64 = rest.split_whitespace().next()?.parse().ok()?;
    Some(tick as f64 / f64::from(SOUND_RATE_HZ))
}
