//! Phone video to frames with true times, and to sound: probing, decoding, and the search for the
//! swing inside a long clip; and pictures with a voice to a film that plays everywhere.
//!
//! The system's `ffprobe` and `ffmpeg` (5.1 or later) read the files, as child processes over
//! pipes and under limits: untrusted bytes never meet a decoder inside this process. Frames stream,
//! so memory does not grow with a clip's length.
//!
//! All times are seconds of the file's own clock from the clip's first shown frame (edit lists are
//! respected); [`ClipFacts::real_seconds_per_file_second`] turns them into real time.
//!
//! This crate knows nothing of people or golf networks: [`find_swings`] looks at motion and sound
//! alone.
//!
//! [`ClipFacts::real_seconds_per_file_second`]:
//!     lessonwright_model::ClipFacts::real_seconds_per_file_second

mod child;
mod error;
mod film;
mod filmed;
mod frames;
mod motion;
mod orientation;
mod probe;
mod sound;
mod strikes;
mod swings;
mod tone;
mod tools;
mod voice;

pub use error::MediaError;
pub use film::{Film, FilmFormat};
pub use filmed::filmed_at;
pub use frames::{Frame, FrameReader, FrameRequest, grab};
pub use probe::{Clip, LONGEST_CLIP_S, MOST_PIXELS, probe};
pub use sound::{SOUND_RATE_HZ, Sound, sound};
pub use strikes::strikes;
pub use swings::find_swings;
pub use tools::Tools;
pub use voice::{LONGEST_VOICE_S, Voice, voice};
