//! Memory does not grow with a clip's length. Alone in its file: it looks at its own process.

#![cfg(target_os = "linux")]
#![expect(clippy::unwrap_used, reason = "a test that can't unwrap has failed")]

mod common;

use common::*;
use lessonwright_media::{FrameReader, FrameRequest};
use lessonwright_model::Cancel;
use std::path::Path;

/// Most memory a process has held so far, MB ("VmHWM" of proc(5)).
fn peak_mb(process: &str) -> f64 {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).unwrap();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kib: f64 = line
        .unwrap()
        .trim()
        .trim_end_matches(" kB")
        .parse()
        .unwrap();
    kib * 1024.0 / 1e6
}

/// Frames read, and the peak of this process and its child together.
fn read(path: &Path) -> (usize, f64) {
    let clip = probed(path);
    let request = FrameRequest::whole(None);
    let reader = FrameReader::open(&tools(), &clip, request, &Cancel::default()).unwrap();
    let child = reader.process_id().to_string();
    let (mut count, mut child_mb) = (0, 0.0);
    for frame in reader {
        assert_eq!(frame.unwrap().picture.luma.len(), 3840 * 2160);
        count += 1;
        // The child has ended by the last frame.
        if count < clip.facts.frame_times_s.len() - 2 {
            child_mb = peak_mb(&child);
        }
    }
    (count, child_mb + peak_mb("self"))
}

#[test]
fn a_4k_clip_takes_as_much_memory_when_it_is_four_times_as_long() {
    let folder = tempfile::tempdir().unwrap();
    let short = file_in(&folder, "short.mp4");
    let source = "testsrc2=s=3840x2160:r=60:d=0.4";
    let encode = [H264, &["-bf", "2", "-refs", "4", "-g", "24"]].concat();
    ffmpeg(
        &[&["-f", "lavfi", "-i", source], &encode[..]].concat(),
        &short,
        std::iter::empty(),
    );
    let long = file_in(&folder, "long.mp4");
    let source = short.to_str().unwrap();
    ffmpeg(
        &["-stream_loop", "3", "-i", source, "-c", "copy"],
        &long,
        std::iter::empty(),
    );

    let (short_frames, short_mb) = read(&short);
    let (long_frames, long_mb) = read(&long);
    println!("{short_frames} frames: {short_mb:.0} MB, {long_frames} frames: {long_mb:.0} MB");
    assert_eq!((short_frames, long_frames), (24, 96));
    assert!(long_mb < 600.0, "{long_mb} MB");
    // Two frames of 12.4 MB, for what the allocators keep.
    assert!(
        long_mb < short_mb + 25.0,
        "{short_mb} MB, then {long_mb} MB"
    );
}
