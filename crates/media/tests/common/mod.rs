//! Clips made for the tests: raw pictures that carry their own number, and sound, given to the
//! system's ffmpeg through a pipe.

#![allow(dead_code, reason = "each test file uses its own part")]
#![allow(clippy::unwrap_used, reason = "what can't be made for a test fails it")]

pub mod scene;

use lessonwright_media::{Clip, MediaError, Tools, probe};
use lessonwright_model::{Cancel, Picture};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// Bits of a frame number that a picture carries.
const BITS: usize = 12;
/// Cells across and down: 12 bits in 4 × 3 cells.
const COLUMNS: usize = 4;
const ROWS: usize = 3;

pub fn tools() -> Tools {
    Tools::locate(None).expect("the tests need ffmpeg and ffprobe")
}

pub fn probed(path: &Path) -> Clip {
    try_probe(path).unwrap_or_else(|error| panic!("{error}"))
}

pub fn try_probe(path: &Path) -> Result<Clip, MediaError> {
    probe(&tools(), path, None, &Cancel::default())
}

/// Luma of a picture whose 12 cells tell `number` in binary, first cell the lowest bit.
pub fn numbered_luma(number: usize, width: usize, height: usize) -> Vec<u8> {
    let mut luma = Vec::with_capacity(width * height);
    for y in 0..height {
        for x in 0..width {
            let cell = (y * ROWS / height) * COLUMNS + x * COLUMNS / width;
            luma.push(if number >> cell & 1 == 1 { 200 } else { 50 });
        }
    }
    luma
}

/// Reads the number back from an upright picture of any size.
pub fn number_in(picture: &Picture) -> usize {
    number_at(|u, v| {
        let x = (u * picture.width as f64) as usize;
        let y = (v * picture.height as f64) as usize;
        picture.luma[y * picture.width + x]
    })
}

/// The same, from luma at parts of the width and height.
pub fn number_at(luma: impl Fn(f64, f64) -> u8) -> usize {
    (0..BITS)
        .filter(|cell| {
            let u = ((cell % COLUMNS) as f64 + 0.5) / COLUMNS as f64;
            let v = ((cell / COLUMNS) as f64 + 0.5) / ROWS as f64;
            luma(u, v) > 125
        })
        .map(|cell| 1 << cell)
        .sum()
}

/// A clip of numbered pictures.
pub struct Numbered<'a> {
    pub frames: usize,
    pub width: usize,
    pub height: usize,
    pub rate: &'a str,
    /// Input options after the raw pictures (a second input, say).
    pub more_input: &'a [&'a str],
    /// Encoder options.
    pub encode: &'a [&'a str],
}

impl Numbered<'_> {
    pub fn write(&self, path: &Path) {
        let chroma = vec![128; self.width.div_ceil(2) * self.height.div_ceil(2) * 2];
        let pictures = (0..self.frames).map(|number| {
            let mut picture = numbered_luma(number, self.width, self.height);
            picture.extend(&chroma);
            picture
        });
        let size = format!("{}x{}", self.width, self.height);
        let mut arguments = vec![
            "-f", "rawvideo", "-pix_fmt", "yuv420p", "-s", &size, "-r", self.rate, "-i", "pipe:0",
        ];
        arguments.extend(self.more_input);
        arguments.extend(self.encode);
        ffmpeg(&arguments, path, pictures);
    }
}

/// Runs ffmpeg, feeding it `input`; fails with its words.
pub fn ffmpeg(arguments: &[&str], path: &Path, input: impl Iterator<Item = Vec<u8>>) {
    let mut file = std::ffi::OsString::from("file:");
    file.push(path);
    let mut child = Command::new("ffmpeg")
        .args(["-hide_banner", "-loglevel", "error", "-y"])
        .args(arguments)
        .arg(file)
        .stdin(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut stdin = child.stdin.take().unwrap();
    for bytes in input {
        stdin.write_all(&bytes).unwrap();
    }
    drop(stdin);
    let output = child.wait_with_output().unwrap();
    let words = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{arguments:?}: {words}");
}

/// Times of the frames by a path of their own: ffprobe decodes every one and prints its time.
pub fn decoded_times_s(path: &Path) -> Vec<f64> {
    let mut file = std::ffi::OsString::from("file:");
    file.push(path);
    let output = Command::new("ffprobe")
        .args(["-v", "error", "-select_streams", "v:0", "-of", "csv=p=0"])
        .args([
            "-show_frames",
            "-show_entries",
            "frame=best_effort_timestamp_time",
        ])
        .arg(file)
        .output()
        .unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    let times: Vec<f64> = text
        .lines()
        .filter_map(|line| line.split(',').next()?.parse().ok())
        .collect();
    times.iter().map(|t| t - times[0]).collect()
}

/// Overwrites the rotation matrix of every track header (ISO/IEC 14496-12 8.3.2) in an MP4 file.
pub fn set_matrix(path: &Path, [[a, b], [c, d]]: [[i32; 2]; 2]) {
    let mut bytes = std::fs::read(path).unwrap();
    let header = find(&bytes, b"tkhd").expect("a track header");
    assert_eq!(bytes[header + 4], 0, "version 0 of the track header");
    // After the type: version and flags 4, times and track 20, reserved 8, layer to volume 8.
    let matrix = header + 4 + 4 + 20 + 8 + 8;
    let one = 1 << 16;
    let values = [a * one, b * one, 0, c * one, d * one, 0, 0, 0, 1 << 30];
    for (place, value) in values.into_iter().enumerate() {
        bytes[matrix + 4 * place..][..4].copy_from_slice(&value.to_be_bytes());
    }
    std::fs::write(path, bytes).unwrap();
}

pub fn find(bytes: &[u8], what: &[u8]) -> Option<usize> {
    bytes.windows(what.len()).position(|window| window == what)
}

/// A folder that goes with the test, and a file in it.
pub fn file_in(folder: &tempfile::TempDir, name: &str) -> PathBuf {
    folder.path().join(name)
}

pub const H264: &[&str] = &["-c:v", "libx264", "-preset", "ultrafast", "-crf", "20"];
