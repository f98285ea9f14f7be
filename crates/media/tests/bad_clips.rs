//! What is wrong with a clip is said in one line: what, where, what to do. Nothing hangs, nothing
//! is read that is not a clip.

#![expect(clippy::unwrap_used, reason = "a test that can't unwrap has failed")]

mod common;

use common::*;
use lessonwright_media::{FrameReader, FrameRequest, MediaError, find_swings};
use lessonwright_model::Cancel;
use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};

fn write_clip(path: &Path, frames: usize, encode: &[&str]) {
    Numbered {
        frames,
        width: 160,
        height: 96,
        rate: "30",
        more_input: &[],
        encode: &[H264, encode].concat(),
    }
    .write(path);
}

/// The error must be one line that names the file and holds `words`.
fn check_refused(path: &Path, words: &str) {
    let text = try_probe(path).err().map(|error| error.to_string());
    let text = text.unwrap_or_else(|| panic!("{} was accepted", path.display()));
    assert!(text.contains(words), "{text}");
    assert!(
        text.starts_with(path.file_name().unwrap().to_str().unwrap()),
        "{text}"
    );
    assert!(!text.contains('\n'), "{text}");
}

#[test]
fn files_that_are_no_clips_are_refused_in_plain_words() {
    let folder = tempfile::tempdir().unwrap();
    let file = |name: &str, bytes: &[u8]| {
        let path = file_in(&folder, name);
        fs::write(&path, bytes).unwrap();
        path
    };
    let random: Vec<u8> = (0..50_000_u32)
        .map(|n| (n.wrapping_mul(2_654_435_761) >> 11) as u8)
        .collect();
    check_refused(&file_in(&folder, "absent.mp4"), "can't be opened");
    check_refused(folder.path(), "not a plain file");
    check_refused(&file("empty.mp4", b""), "the file is empty");
    check_refused(
        &file("letter.mp4", b"Dear pro,\nhere is my swing.\n"),
        "no MP4, MOV or WebM",
    );
    check_refused(&file("random.mp4", &random), "no MP4, MOV or WebM");
    check_refused(&file("seven.mp4", b"1234567"), "no MP4, MOV or WebM");
    let headed = [&b"\0\0\0\x18ftypmp42\0\0\0\0mp42isom"[..], &random].concat();
    check_refused(&file("headed.mp4", &headed), "not a video that can be read");
    let sound = file_in(&folder, "sound.m4a");
    ffmpeg(
        &["-f", "lavfi", "-i", "sine=440:d=1"],
        &sound,
        std::iter::empty(),
    );
    check_refused(&sound, "no video track");
    let picture = file_in(&folder, "picture.png");
    ffmpeg(
        &["-f", "lavfi", "-i", "testsrc2=d=0.04"],
        &picture,
        std::iter::empty(),
    );
    check_refused(&picture, "MP4, MOV or WebM");
}

#[test]
fn playlists_that_name_other_files_are_not_followed() {
    let folder = tempfile::tempdir().unwrap();
    write_clip(&file_in(&folder, "private.mp4"), 5, &[]);
    let concat = "ffconcat version 1.0\nfile private.mp4\n";
    let playlist = "#EXTM3U\n#EXT-X-TARGETDURATION:1\n#EXTINF:1,\nprivate.mp4\n#EXT-X-ENDLIST\n";
    for (name, text) in [("a.mp4", concat), ("b.mp4", playlist)] {
        let path = file_in(&folder, name);
        fs::write(&path, text).unwrap();
        check_refused(&path, "not a video that can be read");
    }
}

#[test]
fn what_is_too_big_is_refused_before_it_is_decoded() {
    let folder = tempfile::tempdir().unwrap();
    let wide = file_in(&folder, "wide.mov");
    let source = [
        "-f",
        "lavfi",
        "-i",
        "color=s=7680x4320:d=0.04",
        "-c:v",
        "mjpeg",
    ];
    ffmpeg(&source, &wide, std::iter::empty());
    check_refused(&wide, "7680 × 4320 pixels; up to 4K");
    // The sample description's own claim (ISO/IEC 14496-12 8.5.2: width and height 24 bytes in).
    let claim = file_in(&folder, "claim.mov");
    let source = [
        "-f",
        "lavfi",
        "-i",
        "color=s=64x48:d=0.2",
        "-c:v",
        "rawvideo",
    ];
    ffmpeg(
        &[&source[..], &["-pix_fmt", "uyvy422"]].concat(),
        &claim,
        std::iter::empty(),
    );
    let mut bytes = fs::read(&claim).unwrap();
    let entry = find(&bytes, b"2vuy").unwrap();
    let size = entry + 4 + 24;
    assert_eq!(bytes[size..size + 4], [0, 64, 0, 48]);
    bytes[size..size + 4].copy_from_slice(&[0x3a, 0x98, 0x3a, 0x98]);
    fs::write(&claim, bytes).unwrap();
    check_refused(&claim, "15000 × 15000 pixels");
    let long = file_in(&folder, "long.mp4");
    Numbered {
        frames: 6,
        width: 64,
        height: 48,
        rate: "0.005",
        more_input: &[],
        encode: H264,
    }
    .write(&long);
    check_refused(&long, "20 minutes long");
}

#[test]
fn a_copy_cut_short_says_so_and_gives_what_it_has() {
    let folder = tempfile::tempdir().unwrap();
    let index_last = file_in(&folder, "index_last.mp4");
    write_clip(&index_last, 60, &[]);
    let bytes = fs::read(&index_last).unwrap();
    fs::write(&index_last, &bytes[..bytes.len() / 2]).unwrap();
    check_refused(&index_last, "cut short");

    let index_first = file_in(&folder, "index_first.mp4");
    write_clip(&index_first, 60, &["-movflags", "faststart", "-g", "10"]);
    let bytes = fs::read(&index_first).unwrap();
    fs::write(&index_first, &bytes[..bytes.len() * 2 / 3]).unwrap();
    let clip = probed(&index_first);
    assert!(
        clip.warnings[0].contains("cut short"),
        "{:?}",
        clip.warnings
    );
    let request = FrameRequest::whole(None);
    let reader = FrameReader::open(&tools(), &clip, request, &Cancel::default()).unwrap();
    let frames: Vec<_> = reader.map_while(Result::ok).collect();
    let last = frames.len() - 1;
    assert!(last > 20 && last < 50, "{last}");
    // The last one may lack its lower half.
    for frame in &frames[..last] {
        assert_eq!(number_in(&frame.picture), frame.index);
    }
}

#[test]
fn damage_in_the_middle_does_not_shift_what_follows() {
    let folder = tempfile::tempdir().unwrap();
    let path = file_in(&folder, "scratched.mp4");
    write_clip(&path, 90, &["-g", "15", "-bf", "2"]);
    let mut bytes = fs::read(&path).unwrap();
    // A stretch inside the coded pictures, after the first third of them.
    let start = find(&bytes, b"mdat").unwrap();
    let third = start + (bytes.len() - start) / 3;
    bytes[third..third + 600].fill(0x55);
    fs::write(&path, bytes).unwrap();
    let clip = probed(&path);
    let request = FrameRequest::whole(None);
    let reader = FrameReader::open(&tools(), &clip, request, &Cancel::default()).unwrap();
    let frames: Vec<_> = reader.map(Result::unwrap).collect();
    let right = frames
        .iter()
        .filter(|f| number_in(&f.picture) == f.index)
        .count();
    assert!(right >= 60, "{right} of {}", frames.len());
    let tail = &frames[frames.len() - 15..];
    assert!(tail.iter().all(|f| number_in(&f.picture) == f.index));
    assert_eq!(tail[14].index, 89);
}

#[test]
fn eight_frames_are_eight_frames_and_one_is_one() {
    let folder = tempfile::tempdir().unwrap();
    for count in [8, 1] {
        let path = file_in(&folder, "few.mp4");
        write_clip(&path, count, &[]);
        let clip = probed(&path);
        assert_eq!(clip.facts.frame_times_s.len(), count);
        assert!(clip.facts.duration_s > 0.0);
        let request = FrameRequest::whole(None);
        let reader = FrameReader::open(&tools(), &clip, request, &Cancel::default()).unwrap();
        assert_eq!(reader.map(Result::unwrap).count(), count);
        let swings = find_swings(&tools(), &clip, &mut |_| {}, &Cancel::default()).unwrap();
        assert!(swings.is_empty());
    }
}

#[test]
fn times_outside_the_clip_and_no_pixels_are_told() {
    let folder = tempfile::tempdir().unwrap();
    let path = file_in(&folder, "a.mp4");
    write_clip(&path, 30, &[]);
    let clip = probed(&path);
    for (from_s, to_s, longest_side_px) in [
        (2.0, 3.0, None),
        (0.5, 0.4, None),
        (f64::NAN, f64::NAN, None),
        (0.0, 1.0, Some(0)),
    ] {
        let request = FrameRequest {
            from_s,
            to_s,
            longest_side_px,
        };
        let error = FrameReader::open(&tools(), &clip, request, &Cancel::default()).err();
        assert!(
            matches!(error, Some(MediaError::BadRequest { .. })),
            "{request:?}: {error:?}"
        );
    }
}

#[test]
fn cancelling_stops_at_once_and_dropping_ends_the_decoder() {
    let folder = tempfile::tempdir().unwrap();
    let path = file_in(&folder, "a.mp4");
    Numbered {
        frames: 300,
        width: 640,
        height: 360,
        rate: "30",
        more_input: &[],
        encode: H264,
    }
    .write(&path);
    let clip = probed(&path);
    let cancel = Cancel::default();
    let request = FrameRequest::whole(None);
    let mut reader = FrameReader::open(&tools(), &clip, request, &cancel).unwrap();
    reader.next().unwrap().unwrap();
    let child = format!("/proc/{}", reader.process_id());
    let before = Instant::now();
    cancel.cancel();
    let error = reader.find_map(Result::err).unwrap();
    assert!(matches!(error, MediaError::Cancelled { .. }), "{error}");
    assert!(before.elapsed() < Duration::from_secs(5));
    assert!(reader.next().is_none());
    drop(reader);
    assert!(!Path::new(&child).exists());

    for work in ["probe", "find_swings"] {
        let error = match work {
            "probe" => lessonwright_media::probe(&tools(), &path, None, &cancel).unwrap_err(),
            _ => find_swings(&tools(), &clip, &mut |_| {}, &cancel).unwrap_err(),
        };
        assert!(
            matches!(error, MediaError::Cancelled { .. }),
            "{work}: {error}"
        );
    }

    let mut reader = FrameReader::open(&tools(), &clip, request, &Cancel::default()).unwrap();
    reader.next().unwrap().unwrap();
    let child = format!("/proc/{}", reader.process_id());
    assert!(!cfg!(target_os = "linux") || Path::new(&child).exists());
    drop(reader);
    assert!(!Path::new(&child).exists());
}
