//! What is known of one recorded file before anybody looks at its pictures.

use serde::{Deserialize, Serialize};

/// Where the capture rate comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RateSource {
    /// The user said so.
    Stated,
    /// The file carries it as metadata.
    Metadata,
    /// Nothing says otherwise: the container's own rate.
    Container,
}

/// Facts of a clip, read from its container and codec.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ClipFacts {
    /// The file's name without its folder.
    pub name: String,
    /// Codec of the video, as the decoder names it ("h264", "hevc", "vp9").
    pub codec: String,
    /// Bits a sample, 8 or 10.
    pub bit_depth: u8,
    /// Width of the upright picture, px.
    pub width_px: u32,
    /// Height of the upright picture, px.
    pub height_px: u32,
    /// The rotation flag, degrees clockwise needed to make the picture upright: 0, 90, 180, 270.
    pub rotation_deg: u16,
    /// Time of each frame from the first, s of the file's own clock, in presentation order.
    pub frame_times_s: Vec<f64>,
    /// Frames a second of the file's own clock (median spacing).
    pub rate_hz: f64,
    /// True if frame spacings differ by more than a quarter of the median.
    pub variable_rate: bool,
    /// Frames a second of the real motion. Higher than `rate_hz` in a slow-motion export.
    pub capture_rate_hz: f64,
    /// Where `capture_rate_hz` comes from.
    pub capture_rate_source: RateSource,
    /// Length of the video, s of the file's own clock.
    pub duration_s: f64,
    /// True if the file has a sound track.
    pub has_sound: bool,
}

impl ClipFacts {
    /// Seconds of real motion in one second of the file: 1 for a normal clip, 1/8 for 240 frames/s
    /// played back at 30.
    pub fn real_seconds_per_file_second(&self) -> f64 {
        self.rate_hz / self.capture_rate_hz
    }
}

/// A strike heard in the sound track.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Strike {
    /// When the sound reached the microphone, from the clip's first frame, s of the file's own
    /// clock.
    pub time_s: f64,
    /// Half-width of the 95 % interval of `time_s`, s.
    pub plus_minus_s: f64,
    /// How far the onset stands above the room's noise, dB.
    pub above_noise_db: f64,
}

/// A stretch of a clip that holds one swing.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct SwingWindow {
    /// Start, from the clip's first frame, s of the file's own clock.
    pub start_s: f64,
    /// End, s.
    pub end_s: f64,
    /// Where the motion peaks or the strike sounds, s: near impact.
    pub impact_guess_s: f64,
    /// The strike, where one was heard.
    pub strike: Option<Strike>,
}
