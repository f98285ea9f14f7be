//! A strip: every frame of a clip's swing as a JPEG of its own, one after another in one file, so that the
//! browser has them all with one request and shows any of them without decoding another.
//!
//! Numbers are little-endian, 32 bits. `LWSTRIP1`, how many frames; for each its number in the clip and
//! its length in bytes, 0 where the frame is damaged; then the JPEGs in the same order. Which frame is
//! which is told by its true presentation time, whatever codec, rate or rotation ([`FrameReader`]).

use crate::kept::Seen;
use anyhow::{Context, Result, ensure};
use lessonwright_media::{Frame, FrameReader, FrameRequest, Tools};
use lessonwright_model::Cancel;
use lessonwright_report::frame_jpeg;
use std::fs::{self, File};
use std::io::{self, BufWriter, Read, Seek, SeekFrom, Write};
use std::path::Path;
use std::sync::mpsc;

/// Raised when the same clip would give another file.
pub const VERSION: u32 = 1;

const MAGIC: &[u8; 8] = b"LWSTRIP1";
/// JPEG quality: edges of a shaft one pixel wide stay clean (looked at on the demo's clips).
const QUALITY: u8 = 85;
/// Longest side of the pictures, px: full HD is kept, 4K is halved.
const LONGEST_SIDE_PX: u32 = 1920;
/// Frames decoded ahead of the encoders.
const FRAMES_AHEAD: usize = 4;

/// Makes the strip of the frames that were looked at; `report` hears how many are done, of how many.
pub fn make(
    tools: &Tools,
    seen: &Seen,
    file: &Path,
    report: &(dyn Fn(usize, usize) + Sync),
    cancel: &Cancel,
) -> Result<()> {
    let frames: Vec<usize> = seen.track.frames.iter().map(|frame| frame.frame).collect();
    let folder = file.parent().context("a strip lies in a folder")?;
    // Not with those above: of an erased swing nothing comes back.
    match fs::create_dir(folder) {
        Err(error) if error.kind() != io::ErrorKind::AlreadyExists => {
            return Err(error).with_context(|| format!("making the folder {}", folder.display()));
        }
        _ => {}
    }
    let part = file.with_extension(format!("{}.part", std::process::id()));
    let written = write(tools, seen, &frames, &part, report, cancel)
        .with_context(|| format!("making the pictures of {}", seen.clip.facts.name));
    if let Err(error) = written {
        let _ = fs::remove_file(&part);
        return Err(error);
    }
    fs::rename(&part, file).with_context(|| format!("keeping {}", file.display()))
}

fn write(
    tools: &Tools,
    seen: &Seen,
    frames: &[usize],
    part: &Path,
    report: &(dyn Fn(usize, usize) + Sync),
    cancel: &Cancel,
) -> Result<()> {
    let request = FrameRequest {
        from_s: seen.window.start_s,
        to_s: seen.window.end_s,
        longest_side_px: Some(LONGEST_SIDE_PX),
    };
    let reader = FrameReader::open(tools, &seen.clip, request, cancel)?;
    let mut lengths = vec![0u32; frames.len()];
    let mut out = BufWriter::new(File::create(part)?);
    out.write_all(&header(frames, &lengths))?;
    report(0, frames.len());
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    std::thread::scope(|scope| -> Result<()> {
        let (give, take) = mpsc::sync_channel(FRAMES_AHEAD);
        // The decoder ends by itself when this end hangs up after an error.
        scope.spawn(move || reader.into_iter().try_for_each(|frame| give.send(frame)));
        loop {
            let batch: Vec<Frame> = take.iter().take(cores).collect::<Result<_, _>>()?;
            if batch.is_empty() {
                return Ok(());
            }
            for (frame, jpeg) in batch.iter().zip(encoded(&batch)?) {
                if let Ok(at) = frames.binary_search(&frame.index) {
                    lengths[at] = u32::try_from(jpeg.len()).context("a picture too large")?;
                    out.write_all(&jpeg)?;
                    report(at + 1, frames.len());
                }
            }
        }
    })?;
    out.seek(SeekFrom::Start(0))?;
    out.write_all(&header(frames, &lengths))?;
    out.into_inner()
        .map_err(io::IntoInnerError::into_error)?
        .sync_all()?;
    Ok(())
}

/// JPEGs of a few frames, each on a thread of its own.
fn encoded(frames: &[Frame]) -> Result<Vec<Vec<u8>>> {
    std::thread::scope(|scope| {
        let begun: Vec<_> = frames
            .iter()
            .map(|frame| scope.spawn(|| frame_jpeg(&frame.picture, QUALITY)))
            .collect();
        begun
            .into_iter()
            .map(|thread| Ok(thread.join().expect("a thread that ends")?))
            .collect()
    })
}

fn header(frames: &[usize], lengths: &[u32]) -> Vec<u8> {
    let number = |n: usize| u32::try_from(n).unwrap_or(u32::MAX).to_le_bytes();
    let mut bytes = MAGIC.to_vec();
    bytes.extend(number(frames.len()));
    for (frame, length) in frames.iter().zip(lengths) {
        bytes.extend(number(*frame));
        bytes.extend(length.to_le_bytes());
    }
    bytes
}

/// One frame's JPEG; none where the strip does not have it.
pub fn frame(strip: &Path, frame: usize) -> Result<Option<Vec<u8>>> {
    let mut file = File::open(strip)?;
    let mut start = [0; 12];
    file.read_exact(&mut start)?;
    ensure!(start.starts_with(MAGIC), "{} is no strip", strip.display());
    let count = number_at(&start, 8);
    let mut entries = vec![0; 8 * count];
    file.read_exact(&mut entries)?;
    let mut from = (start.len() + entries.len()) as u64;
    for entry in entries.chunks_exact(8) {
        let length = number_at(entry, 4);
        if number_at(entry, 0) == frame && length > 0 {
            let mut jpeg = vec![0; length];
            file.seek(SeekFrom::Start(from))?;
            file.read_exact(&mut jpeg)?;
            return Ok(Some(jpeg));
        }
        from += length as u64;
    }
    Ok(None)
}

fn number_at(bytes: &[u8], at: usize) -> usize {
    let number = [bytes[at], bytes[at + 1], bytes[at + 2], bytes[at + 3]];
    u32::from_le_bytes(number) as usize
}
