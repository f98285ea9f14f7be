//! Memory does not grow with a clip's length. Alone in its file: it looks at its own process.

#![cfg(target_os = "linux")]
#![expect(clippy::unwrap_used, reason = "a test that can't unwrap has failed")]

mod common;

use common::*;
use lessonwright_media::{FrameReader, FrameRequest};
use lessonwright_model::Cancel;

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

#[test]
fn memory_stays_level_through_a_4k_clip() {
    let folder = tempfile::tempdir().unwrap();
    let short = file_in(&folder, "short.mp4");
    let source = "testsrc2=s=3840x2160:r=60:d=0.4";
    let encode = [H264, &["-bf", "2", "-refs", "4", "-g", "24"]].concat();
    ffmpeg(
        &[&["-f", "lavfi", "-i", source], &encode[..]].concat(),
        &short,
        std::iter::empty(),
    );
    let path = file_in(&folder, "long.mp4");
    let source = short.to_str().unwrap();
    ffmpeg(
        &["-stream_loop", "3", "-i", source, "-c", "copy"],
        &path,
        std::iter::empty(),
    );

    let clip = probed(&path);
    let request = FrameRequest::whole(None);
    let reader = FrameReader::open(&tools(), &clip, request, &Cancel::default()).unwrap();
    let child = reader.process_id().to_string();
    // The most that this process and its child have held so far, MB, after each frame but the
    // last few, when the child may have ended.
    let mut peaks_mb = Vec::new();
    for frame in reader {
        assert_eq!(frame.unwrap().picture.luma.len(), 3840 * 2160);
        if peaks_mb.len() < 90 {
            peaks_mb.push(peak_mb(&child) + peak_mb("self"));
        }
    }
    let (middle_mb, end_mb) = (peaks_mb[45], peaks_mb[89]);
    println!("{middle_mb:.0} MB after 46 frames, {end_mb:.0} MB after 90");
    assert!(end_mb < 600.0, "{end_mb} MB");
    // Twelve frames of 12.4 MB, for the decoder being more or less ahead (four were seen on a busy
    // machine); frames that were kept would add 44.
    assert!(
        end_mb < middle_mb + 150.0,
        "{middle_mb} MB, then {end_mb} MB"
    );
}
