//! The professional's voice, from whatever a phone or a laptop recorded.

use crate::child::{Limits, Worker};
use crate::error::{MediaError, clip_name, plain_reason};
use crate::probe::{guarded_input_of, start_error, stopped_error};
use crate::sound::SOUND_RATE_HZ;
use crate::tools::Tools;
use lessonwright_model::Cancel;
use std::io;
use std::path::Path;
use std::process::Command;

/// Longest voice, s: longer than any player listens, and a film as long is still small enough to send.
pub const LONGEST_VOICE_S: usize = 180;

/// What recorders write, by ffmpeg's names.
const CONTAINERS: &str = "mov,matroska,webm,wav,mp3,ogg,aac,flac";

const LIMITS: Limits = Limits {
    address_space_bytes: 2 << 30,
    processor_s: 60,
    wait_s: 60,
    written_bytes: 0,
};

const DOING: &str = "decoding the voice";

/// One channel of sound, [`SOUND_RATE_HZ`] samples a second.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Voice {
    /// The samples.
    pub samples: Vec<i16>,
}

impl Voice {
    /// How long it lasts, s.
    pub fn duration_s(&self) -> f64 {
        self.samples.len() as f64 / f64::from(SOUND_RATE_HZ)
    }
}

/// Reads a recording.
///
/// # Errors
/// [`MediaError`] for a file that can't be opened, is no sound, lasts longer than [`LONGEST_VOICE_S`], and on cancel.
pub fn voice(tools: &Tools, path: &Path, cancel: &Cancel) -> Result<Voice, MediaError> {
    let name = clip_name(path);
    std::fs::File::open(path).map_err(|source| MediaError::CannotOpen {
        clip: name.clone(),
        source,
    })?;
    let mut command = Command::new(&tools.ffmpeg);
    command
        .args(["-hide_banner", "-nostdin", "-nostats"])
        .args(["-loglevel", "repeat+level+error"])
        .args(guarded_input_of(CONTAINERS, path, &[]))
        .args([
            "-map",
            "0:a:0",
            "-ac",
            "1",
            "-ar",
            &SOUND_RATE_HZ.to_string(),
        ])
        .args(["-f", "s16le", "pipe:1"]);
    let mut worker = Worker::start(command, LIMITS, cancel, |_| true)
        .map_err(|source| start_error(&tools.ffmpeg, &name, DOING, source))?;
    let system = |source| MediaError::System {
        clip: name.clone(),
        doing: DOING,
        source,
    };
    let most = LONGEST_VOICE_S * SOUND_RATE_HZ as usize * size_of::<i16>();
    let bytes = match worker.read_all(most) {
        Err(error) if error.kind() == io::ErrorKind::FileTooLarge => {
            return Err(MediaError::TooBig {
                clip: name,
                what: format!(
                    "the voice lasts longer than {LONGEST_VOICE_S} s; record a shorter one"
                ),
            });
        }
        read => read.map_err(system)?,
    };
    let (status, messages) = worker.finish().map_err(system)?;
    if let Some(why) = worker.stopped() {
        return Err(stopped_error(&name, DOING, why, LIMITS.wait_s));
    }
    if !status.success() || bytes.is_empty() {
        return Err(MediaError::Decoding {
            clip: name,
            doing: DOING,
            reason: plain_reason(&messages),
        });
    }
    let sample = |b: &[u8]| i16::from_le_bytes([b[0], b[1]]);
    Ok(Voice {
        samples: bytes.chunks_exact(2).map(sample).collect(),
    })
}
