//! Every frame of what a phone makes comes out once, with its own number, time and the right way
//! up.

#![expect(clippy::unwrap_used, reason = "a test that can't unwrap has failed")]

mod common;

use common::*;
use lessonwright_media::{Clip, FrameReader, FrameRequest, MediaError, grab};
use lessonwright_model::{Cancel, ClipFacts, Picture, RateSource};
use std::path::Path;

/// Number carried by the picture, index and time of every frame of a request.
fn read(clip: &Clip, request: FrameRequest) -> Vec<(usize, usize, f64)> {
    FrameReader::open(&tools(), clip, request, &Cancel::default())
        .unwrap()
        .map(|frame| frame.unwrap_or_else(|error| panic!("{error}")))
        .map(|frame| (number_in(&frame.picture), frame.index, frame.time_s))
        .collect()
}

/// Reads the whole clip, then several stretches that start in the middle; every picture must carry
/// `first_number` + its index. Times are held against ffprobe's own decoding.
fn check(name: &str, path: &Path, frames: usize, first_number: usize) -> ClipFacts {
    let clip = probed(path);
    let times = &clip.facts.frame_times_s;
    let outside = decoded_times_s(path);
    assert_eq!(times.len(), frames, "{name}: count");
    assert_eq!(outside.len(), frames, "{name}: ffprobe's count");
    for (index, (ours, theirs)) in times.iter().zip(&outside).enumerate() {
        // ffprobe prints microseconds.
        assert!(
            (ours - theirs).abs() < 2e-6,
            "{name}: time of {index}: {ours} {theirs}"
        );
    }
    let expected: Vec<_> = times
        .iter()
        .enumerate()
        .map(|(index, &time_s)| (first_number + index, index, time_s))
        .collect();
    assert_eq!(
        read(&clip, FrameRequest::whole(None)),
        expected,
        "{name}: whole"
    );
    for (from, to) in [(frames / 3, frames / 2), (frames - 2, frames - 1)] {
        let request = FrameRequest {
            from_s: times[from],
            to_s: times[to],
            longest_side_px: None,
        };
        assert_eq!(
            read(&clip, request),
            expected[from..=to],
            "{name}: {from} to {to}"
        );
    }
    clip.facts
}

#[test]
fn frames_of_every_codec_container_and_rate_carry_their_own_number() {
    let folder = tempfile::tempdir().unwrap();
    let b_frames = [
        H264,
        &["-bf", "3", "-b_strategy", "0", "-g", "24", "-refs", "3"],
    ]
    .concat();
    let hevc = "log-level=none:keyint=20:bframes=3";
    let hevc_8 = [
        "-c:v",
        "libx265",
        "-preset",
        "ultrafast",
        "-x265-params",
        hevc,
        "-tag:v",
        "hvc1",
    ];
    let hevc_10 = [&hevc_8[..], &["-pix_fmt", "yuv420p10le"]].concat();
    let vp9 = [
        "-c:v",
        "libvpx-vp9",
        "-deadline",
        "realtime",
        "-cpu-used",
        "8",
        "-g",
        "25",
        "-b:v",
        "1M",
    ];
    let uneven = "settb=1/90000,setpts='(N+0.4*mod(N,3))/30/TB'";
    let uneven = [
        H264,
        &["-bf", "2", "-g", "20", "-vf", uneven, "-fps_mode", "vfr"],
    ]
    .concat();
    const SMALL: (usize, usize) = (160, 96);
    const ODD: (usize, usize) = (161, 97);
    let cases = [
        ("24 frames/s", "a.mp4", SMALL, "24", H264),
        (
            "30 000/1001 frames/s, B-frames",
            "b.mov",
            SMALL,
            "30000/1001",
            &b_frames,
        ),
        ("60 frames/s HEVC", "c.mp4", SMALL, "60", &hevc_8),
        ("60 frames/s HEVC 10 bit", "d.mov", SMALL, "60", &hevc_10),
        ("120 frames/s", "e.mp4", SMALL, "120", &b_frames),
        ("240 frames/s", "f.mp4", SMALL, "240", &b_frames),
        ("VP9 in WebM, odd size", "g.webm", ODD, "30", &vp9),
        ("variable rate, B-frames", "h.mp4", SMALL, "30", &uneven),
    ];
    for (name, file, (width, height), rate, encode) in cases {
        let path = file_in(&folder, file);
        let frames = 70;
        Numbered {
            frames,
            width,
            height,
            rate,
            more_input: &[],
            encode,
        }
        .write(&path);
        let facts = check(name, &path, frames, 0);
        assert_eq!(
            (facts.width_px, facts.height_px),
            (width as u32, height as u32),
            "{name}"
        );
        assert_eq!(
            facts.bit_depth,
            if name.contains("10 bit") { 10 } else { 8 },
            "{name}"
        );
        assert_eq!(facts.variable_rate, name.contains("variable"), "{name}");
        assert!(!facts.has_sound, "{name}");
        if let Ok(rate) = rate.parse::<f64>()
            && !facts.variable_rate
        {
            // WebM counts milliseconds: 69 spacings, half a millisecond at each end.
            assert!(
                (facts.rate_hz / rate - 1.0).abs() < 1e-3,
                "{name}: {}",
                facts.rate_hz
            );
        }
    }
}

#[test]
fn an_edit_list_hides_frames_before_the_cut() {
    let folder = tempfile::tempdir().unwrap();
    let whole = file_in(&folder, "whole.mp4");
    let encode = [H264, &["-bf", "2", "-g", "30", "-c:a", "aac", "-shortest"]].concat();
    Numbered {
        frames: 90,
        width: 160,
        height: 96,
        rate: "30",
        more_input: &["-f", "lavfi", "-i", "sine=440:r=48000"],
        encode: &encode,
    }
    .write(&whole);
    let cut = file_in(&folder, "cut.mp4");
    let source = whole.to_str().unwrap();
    ffmpeg(
        &["-ss", "0.5", "-i", source, "-c", "copy"],
        &cut,
        std::iter::empty(),
    );
    check("cut", &cut, 75, 15);
}

#[test]
fn all_eight_ways_to_hold_a_phone_come_out_upright() {
    let folder = tempfile::tempdir().unwrap();
    // Rows [a, b], [c, d] of x' = a x + c y, y' = b x + d y; degrees clockwise; mirrored.
    let cases = [
        ([[1, 0], [0, 1]], 0),
        ([[0, 1], [-1, 0]], 90),
        ([[-1, 0], [0, -1]], 180),
        ([[0, -1], [1, 0]], 270),
        ([[-1, 0], [0, 1]], 0),
        ([[0, 1], [1, 0]], 90),
        ([[1, 0], [0, -1]], 180),
        ([[0, -1], [-1, 0]], 270),
    ];
    for (matrix, degrees) in cases {
        let path = file_in(&folder, "held.mp4");
        Numbered {
            frames: 3,
            width: 192,
            height: 96,
            rate: "30",
            more_input: &[],
            encode: H264,
        }
        .write(&path);
        set_matrix(&path, matrix);
        let clip = probed(&path);
        assert_eq!(clip.facts.rotation_deg, degrees, "{matrix:?}");
        let request = FrameRequest::whole(None);
        let frames = FrameReader::open(&tools(), &clip, request, &Cancel::default()).unwrap();
        for frame in frames {
            let Picture {
                width,
                height,
                luma,
                ..
            } = frame.unwrap().picture;
            assert_eq!(
                (width as u32, height as u32),
                (clip.facts.width_px, clip.facts.height_px)
            );
            // By the standard's formula: where the stored point (u, v), seen from the middle,
            // lies in the upright picture.
            let [[a, b], [c, d]] = matrix.map(|row| row.map(f64::from));
            let number = number_at(|u, v| {
                let (u, v) = (u - 0.5, v - 0.5);
                let (x, y) = (a * u + c * v + 0.5, b * u + d * v + 0.5);
                luma[(y * height as f64) as usize * width + (x * width as f64) as usize]
            });
            assert!(number < 3, "{matrix:?}: {number}");
        }
    }
}

#[test]
fn smaller_pictures_keep_number_time_and_shape() {
    let folder = tempfile::tempdir().unwrap();
    let path = file_in(&folder, "a.mp4");
    Numbered {
        frames: 12,
        width: 320,
        height: 180,
        rate: "30",
        more_input: &[],
        encode: H264,
    }
    .write(&path);
    set_matrix(&path, [[0, 1], [-1, 0]]);
    let clip = probed(&path);
    let request = FrameRequest::whole(Some(101));
    let reader = FrameReader::open(&tools(), &clip, request, &Cancel::default()).unwrap();
    let frames: Vec<_> = reader.map(Result::unwrap).collect();
    assert_eq!(frames.len(), 12);
    for frame in frames {
        let picture = &frame.picture;
        assert_eq!((picture.width, picture.height), (57, 101));
        assert_eq!((picture.luma.len(), picture.cb.len()), (57 * 101, 29 * 51));
    }
}

#[test]
fn colours_keep_their_meaning_whatever_matrix_and_range_the_file_uses() {
    let folder = tempfile::tempdir().unwrap();
    // ITU-R BT.601 and BT.709 code the same red by different numbers; full range stretches both.
    let cases = [
        "bt709:out_range=tv",
        "bt601:out_range=tv",
        "bt709:out_range=pc",
    ];
    for case in cases {
        let path = file_in(&folder, "red.mp4");
        let label = if case.starts_with("bt601") {
            "smpte170m"
        } else {
            "bt709"
        };
        let range = if case.ends_with("pc") { "pc" } else { "tv" };
        let filter = format!("format=rgb24,scale=out_color_matrix={case},format=yuv420p");
        let source = [
            "-f",
            "lavfi",
            "-i",
            "color=c=0xC83214:s=64x48:r=30:d=0.2",
            "-vf",
            &filter,
        ];
        let labels = ["-colorspace", label, "-color_range", range];
        ffmpeg(
            &[&source, H264, &labels].concat(),
            &path,
            std::iter::empty(),
        );
        let clip = probed(&path);
        let picture = grab(&tools(), &clip, &[1], None, &Cancel::default())
            .unwrap()
            .remove(0);
        let found = picture.rgb_at(20, 20);
        for (ours, true_value) in found.iter().zip([0xC8, 0x32, 0x14]) {
            // 8-bit rounding, twice, and the encoder's.
            assert!(ours.abs_diff(true_value) <= 4, "{case}: {found:?}");
        }
    }
}

#[test]
fn high_dynamic_range_keeps_grey_grey_and_white_white() {
    let folder = tempfile::tempdir().unwrap();
    // ITU-R BT.2408-7 table 1: signal of an 18 % grey card and of diffuse white, per cent. In the
    // standard range the card is 41 % by BT.709's curve (1.099 × 0.18^0.45 − 0.099).
    let cases = [("arib-std-b67", 38.0, 75.0), ("smpte2084", 38.0, 58.0)];
    for (transfer, card, white) in cases {
        let path = file_in(&folder, "hdr.mov");
        let level = |percent: f64| ((64.0 + 8.76 * percent).round() as u16).to_le_bytes();
        let frame: Vec<u8> = (0..64 * 48)
            .flat_map(|i| level(if i % 64 < 32 { card } else { white }))
            .chain((0..64 * 48 / 2).flat_map(|_| 512_u16.to_le_bytes()))
            .collect();
        let input = [
            "-f",
            "rawvideo",
            "-pix_fmt",
            "yuv420p10le",
            "-s",
            "64x48",
            "-i",
            "pipe:0",
        ];
        let encode = [
            "-c:v",
            "libx265",
            "-preset",
            "ultrafast",
            "-x265-params",
            "log-level=none:crf=10",
        ];
        let label = [
            "-color_trc",
            transfer,
            "-colorspace",
            "bt2020nc",
            "-color_primaries",
            "bt2020",
        ];
        let frames = std::iter::repeat_n(frame, 3);
        ffmpeg(
            &[&input[..], &encode[..], &label[..]].concat(),
            &path,
            frames,
        );
        let clip = probed(&path);
        let picture = grab(&tools(), &clip, &[1], None, &Cancel::default())
            .unwrap()
            .remove(0);
        let percent = |x: usize| (f64::from(picture.luma[64 * 20 + x]) - 16.0) / 2.19;
        // 8-bit rounding in the change of matrix, stretched: 2 levels of tint are not seen.
        // One 8-bit level of PQ near white is 2 % of the result.
        // PQ codes what the screen shows, not what the camera saw: the two curves differ a little.
        assert!(
            (percent(10) - 41.0).abs() < 2.5,
            "{transfer}: card at {}",
            percent(10)
        );
        assert!(
            (percent(50) - 100.0).abs() < 3.0,
            "{transfer}: white at {}",
            percent(50)
        );
        assert!(
            picture.cb.iter().all(|&cb| cb.abs_diff(128) <= 2),
            "{transfer}: tinted"
        );
    }
}

#[test]
fn single_frames_come_in_the_order_asked_for() {
    let folder = tempfile::tempdir().unwrap();
    let path = file_in(&folder, "a.mp4");
    Numbered {
        frames: 200,
        width: 160,
        height: 96,
        rate: "60",
        more_input: &[],
        encode: &[H264, &["-bf", "3", "-g", "50"]].concat(),
    }
    .write(&path);
    let clip = probed(&path);
    let asked = [199, 3, 120, 121, 60, 3];
    let pictures = grab(&tools(), &clip, &asked, Some(80), &Cancel::default()).unwrap();
    assert_eq!(pictures.iter().map(number_in).collect::<Vec<_>>(), asked);
    let beyond = grab(&tools(), &clip, &[200], None, &Cancel::default()).unwrap_err();
    assert!(beyond.to_string().contains("frames 0 to 199"), "{beyond}");
    assert!(
        grab(&tools(), &clip, &[], None, &Cancel::default())
            .unwrap()
            .is_empty()
    );
}

#[test]
fn pixels_that_are_not_square_are_made_square() {
    let folder = tempfile::tempdir().unwrap();
    let path = file_in(&folder, "a.mp4");
    Numbered {
        frames: 5,
        width: 144,
        height: 96,
        rate: "25",
        more_input: &[],
        encode: &[H264, &["-vf", "setsar=4/3"]].concat(),
    }
    .write(&path);
    let clip = probed(&path);
    assert_eq!((clip.facts.width_px, clip.facts.height_px), (192, 96));
    let numbers: Vec<_> = read(&clip, FrameRequest::whole(None))
        .iter()
        .map(|f| f.0)
        .collect();
    assert_eq!(numbers, [0, 1, 2, 3, 4]);
}

#[test]
fn slow_motion_says_both_rates() {
    let folder = tempfile::tempdir().unwrap();
    let path = file_in(&folder, "slow.mp4");
    let tag = [
        "-movflags",
        "use_metadata_tags",
        "-metadata",
        "com.android.capture.fps=FFFF",
    ];
    Numbered {
        frames: 60,
        width: 160,
        height: 96,
        rate: "30",
        more_input: &[],
        encode: &[H264, &tag].concat(),
    }
    .write(&path);
    // Phones write a 32-bit float (QuickTime File Format, "Metadata item list": type 23).
    let mut bytes = std::fs::read(&path).unwrap();
    let data = find(&bytes, b"data\0\0\0\x01\0\0\0\0FFFF").unwrap();
    bytes[data + 7] = 23;
    bytes[data + 12..data + 16].copy_from_slice(&240.0_f32.to_be_bytes());
    std::fs::write(&path, bytes).unwrap();

    let facts = probed(&path).facts;
    assert!((facts.rate_hz - 30.0).abs() < 1e-6);
    assert_eq!(facts.capture_rate_hz, 240.0);
    assert_eq!(facts.capture_rate_source, RateSource::Metadata);
    assert!((facts.real_seconds_per_file_second() - 0.125).abs() < 1e-9);

    let stated = |rate| lessonwright_media::probe(&tools(), &path, Some(rate), &Cancel::default());
    let facts = stated(120.0).unwrap().facts;
    assert_eq!(facts.capture_rate_source, RateSource::Stated);
    assert_eq!(facts.capture_rate_hz, 120.0);
    for nonsense in [0.0, -30.0, f64::NAN, f64::INFINITY] {
        let error = stated(nonsense).unwrap_err();
        assert!(matches!(error, MediaError::BadRequest { .. }), "{error}");
    }
}
