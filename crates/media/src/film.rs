//! Pictures and a voice to a film that plays everywhere: MP4, H.264 (main profile, 8 bits), AAC, index first.
//!
//! The same pictures and voice give the same bytes with the same ffmpeg: threads are counted, no time or version is
//! written. ffmpeg writes beside the film's place and the file is renamed when it is whole.

use crate::child::{Limits, Worker};
use crate::error::{MediaError, clip_name, plain_reason};
use crate::probe::{start_error, stopped_error};
use crate::sound::SOUND_RATE_HZ;
use crate::tools::Tools;
use crate::voice::Voice;
use lessonwright_model::Cancel;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::process::Command;

/// What a film is like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FilmFormat {
    /// Width of the pictures given, px; even.
    pub width: usize,
    /// Height of the pictures given, px; even.
    pub height: usize,
    /// Pictures a second.
    pub rate_hz: u32,
    /// How many pictures will be given.
    pub pictures: usize,
    /// A second film without sound, this wide (even), for a page.
    pub small_width: usize,
}

/// A film being written.
pub struct Film {
    worker: Worker,
    name: String,
    picture_bytes: usize,
    /// Written, and where it goes: the film, then the small one.
    parts: [(PathBuf, PathBuf); 2],
    voice: PathBuf,
}

/// x264's constant rate factor; larger is smaller and worse. By eye at these sizes.
const QUALITY: &str = "24";
const SMALL_QUALITY: &str = "30";

/// Largest film, bytes: what messengers and mail servers commonly carry.
const LARGEST_BYTES: u64 = 20_000_000;

const LIMITS: Limits = Limits {
    address_space_bytes: 2 << 30,
    processor_s: 900,
    wait_s: 120,
    written_bytes: LARGEST_BYTES,
};

const DOING: &str = "encoding the film";

impl Film {
    /// Starts a film at `to` and a small one without sound at `small`. A voice shorter than the pictures is followed by
    /// silence, one longer is cut where they end; without one the film is silent.
    ///
    /// # Errors
    /// [`MediaError`] if ffmpeg can't be started or the voice can't be put beside the film.
    pub fn start(
        tools: &Tools,
        format: FilmFormat,
        voice: &Voice,
        to: &Path,
        small: &Path,
        cancel: &Cancel,
    ) -> Result<Film, MediaError> {
        let name = clip_name(to);
        let parts = [to, small].map(|place| (beside(place, "part.mp4"), place.to_owned()));
        let voice_part = beside(to, "voice.part");
        fs::write(&voice_part, as_long_as_pictures(voice, format)).map_err(system(&name))?;
        let mut command = Command::new(&tools.ffmpeg);
        command
            .args([
                "-hide_banner",
                "-nostats",
                "-y",
                "-loglevel",
                "repeat+level+error",
            ])
            .args(["-f", "rawvideo", "-pix_fmt", "rgba"])
            .args(["-s", &format!("{}x{}", format.width, format.height)])
            .args(["-r", &format.rate_hz.to_string(), "-i", "pipe:0"])
            .args(["-f", "s16le", "-ac", "1", "-ar", &SOUND_RATE_HZ.to_string()])
            .arg("-i")
            .arg(file_of(&voice_part))
            .args(["-filter_complex", &filters(format)])
            .args([
                "-map", "[large]", "-map", "1:a", "-c:a", "aac", "-b:a", "96k",
            ])
            .args(["-crf", QUALITY])
            .args(picture_options())
            .arg(file_of(&parts[0].0))
            .args(["-map", "[small]", "-an", "-crf", SMALL_QUALITY])
            .args(picture_options())
            .arg(file_of(&parts[1].0));
        let worker = Worker::start_fed(command, LIMITS, cancel, |_| true)
            .map_err(|source| start_error(&tools.ffmpeg, &name, DOING, source))?;
        Ok(Film {
            worker,
            name,
            picture_bytes: format.width * format.height * 4,
            parts,
            voice: voice_part,
        })
    }

    /// The next picture: row-major, 4 bytes a pixel (red, green, blue, not looked at).
    ///
    /// # Errors
    /// [`MediaError`] for a picture of another size, if ffmpeg gave up, and on cancel.
    pub fn show(&mut self, rgba: &[u8]) -> Result<(), MediaError> {
        if rgba.len() != self.picture_bytes {
            let (found, wanted) = (rgba.len(), self.picture_bytes);
            return Err(MediaError::BadRequest {
                clip: self.name.clone(),
                problem: format!("a picture of {found} bytes was given; it takes {wanted}"),
            });
        }
        match self.worker.feed(rgba) {
            Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Err(self.ended()),
            fed => fed.map_err(system(&self.name)),
        }
    }

    /// Waits until both films are whole and puts them in their places.
    ///
    /// # Errors
    /// [`MediaError`] if ffmpeg gave up, on cancel, and for the limits.
    pub fn finish(mut self) -> Result<(), MediaError> {
        self.worker.end_input();
        let (status, messages) = self.worker.finish().map_err(system(&self.name))?;
        if !status.success() {
            return Err(self.gave_up(&messages));
        }
        for (part, place) in &self.parts {
            fs::rename(part, place).map_err(system(&self.name))?;
        }
        Ok(())
    }

    /// Why it takes no more pictures.
    fn ended(&mut self) -> MediaError {
        self.worker.end_input();
        match self.worker.finish() {
            Ok((_, messages)) => self.gave_up(&messages),
            Err(source) => system(&self.name)(source),
        }
    }

    fn gave_up(&self, messages: &str) -> MediaError {
        if let Some(why) = self.worker.stopped() {
            return stopped_error(&self.name, DOING, why, LIMITS.wait_s);
        }
        MediaError::Decoding {
            clip: self.name.clone(),
            doing: DOING,
            reason: plain_reason(messages),
        }
    }
}

impl Drop for Film {
    fn drop(&mut self) {
        // What is not there is removed already.
        for part in [&self.voice, &self.parts[0].0, &self.parts[1].0] {
            let _ = fs::remove_file(part);
        }
    }
}

/// The voice, cut or followed by silence, 16 bits a sample.
fn as_long_as_pictures(voice: &Voice, format: FilmFormat) -> Vec<u8> {
    let count = format.pictures * SOUND_RATE_HZ as usize / format.rate_hz as usize;
    let silence = std::iter::repeat(&0);
    let samples = voice.samples.iter().chain(silence).take(count);
    samples.flat_map(|sample| sample.to_le_bytes()).collect()
}

/// One input to two outputs.
fn filters(format: FilmFormat) -> String {
    // Colours as phones and browsers expect them of such films (ITU-R BT.709, limited range).
    let colours = "out_color_matrix=bt709:out_range=tv,format=yuv420p";
    format!(
        "[0:v]split[a][b];[a]scale={colours}[large];[b]scale={}:-2:flags=area:{colours}[small]",
        format.small_width
    )
}

fn picture_options() -> [&'static str; 26] {
    [
        "-c:v",
        "libx264",
        "-preset",
        "veryfast",
        "-profile:v",
        "main",
        "-threads",
        "2",
        "-colorspace",
        "bt709",
        "-color_primaries",
        "bt709",
        "-color_trc",
        "bt709",
        "-color_range",
        "tv",
        "-fflags",
        "+bitexact",
        "-flags:v",
        "+bitexact",
        "-flags:a",
        "+bitexact",
        "-map_metadata",
        "-1",
        "-movflags",
        "+faststart",
    ]
}

/// A name beside a file's, of this process alone.
fn beside(path: &Path, ending: &str) -> PathBuf {
    path.with_extension(format!("{}.{ending}", std::process::id()))
}

/// A path that ffmpeg takes for nothing but a file.
fn file_of(path: &Path) -> std::ffi::OsString {
    let mut file = std::ffi::OsString::from("file:");
    file.push(path);
    file
}

fn system(name: &str) -> impl Fn(io::Error) -> MediaError {
    let name = name.to_owned();
    move |source| MediaError::System {
        clip: name.clone(),
        doing: DOING,
        source,
    }
}
