//! A strip holds the right picture for every frame, whatever the clip.

#[path = "../../../media/tests/common/mod.rs"]
mod common;

use super::strip;
use crate::kept::Seen;
use common::{H264, Numbered, decoded_times_s, file_in, number_at, probed, set_matrix, tools};
use lessonwright_model::{BodyFrame, Cancel, ClubTrack, LandmarkTrack, SwingWindow};
use std::io::Write;
use std::process::{Command, Stdio};
use std::sync::Mutex;

/// As if a whole clip had been watched.
fn seen(clip: lessonwright_media::Clip) -> Seen {
    let times = clip.facts.frame_times_s.clone();
    let frame = |(frame, &time_s): (usize, &f64)| BodyFrame {
        frame,
        time_s,
        body: None,
    };
    // From the fourth frame on, as a swing begins some way into its clip.
    let from = 3;
    Seen {
        swings: 1,
        window: SwingWindow {
            start_s: times[from],
            end_s: times[times.len() - 1],
            impact_guess_s: times[from],
            strike: None,
        },
        track: LandmarkTrack {
            width_px: clip.facts.width_px,
            height_px: clip.facts.height_px,
            frames: times.iter().enumerate().map(frame).skip(from).collect(),
        },
        club: ClubTrack::default(),
        clip,
    }
}

/// Luma of a JPEG by a decoder that is not ours.
fn luma_of(jpeg: &[u8]) -> Vec<u8> {
    let mut child = Command::new("ffmpeg")
        .args(["-v", "error", "-f", "mjpeg", "-i", "pipe:0"])
        .args(["-f", "rawvideo", "-pix_fmt", "gray", "pipe:1"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("ffmpeg");
    let mut stdin = child.stdin.take().expect("a pipe");
    stdin.write_all(jpeg).expect("a JPEG is taken");
    drop(stdin);
    child.wait_with_output().expect("ffmpeg ends").stdout
}

#[test]
fn every_picture_is_the_frame_it_says_also_at_a_variable_rate_upside_down_and_in_another_codec() {
    let folder = tempfile::tempdir().expect("a folder");
    // Every third frame lasts twice as long.
    let variable = [
        "-vf",
        "setpts=(N+floor(N/3))/(30*TB)",
        "-fps_mode",
        "passthrough",
    ];
    let b_frames = [
        "-c:v", "libx264", "-preset", "veryfast", "-bf", "3", "-g", "25",
    ];
    let vp9 = [
        "-c:v",
        "libvpx-vp9",
        "-deadline",
        "realtime",
        "-cpu-used",
        "8",
    ];
    let cases = [
        ("variable.mp4", [&b_frames[..], &variable].concat(), false),
        ("upside-down.mp4", H264.to_vec(), true),
        ("other-codec.webm", [&vp9[..], &variable].concat(), false),
    ];
    for (name, encode, turned) in cases {
        let path = file_in(&folder, name);
        let clip = Numbered {
            frames: 40,
            width: 160,
            height: 120,
            rate: "30",
            more_input: &[],
            encode: &encode,
        };
        clip.write(&path);
        if turned {
            set_matrix(&path, [[-1, 0], [0, -1]]);
        }
        let seen = seen(probed(&path));
        let strip = folder.path().join("frames").join(name);
        let heard = Mutex::new(Vec::new());
        let report = |done, of| heard.lock().expect("unpoisoned").push((done, of));
        strip::make(&tools(), &seen, &strip, &report, &Cancel::default()).expect("a strip");
        // ffprobe decodes every frame and prints its time: a path of its own.
        let times = decoded_times_s(&path);
        assert_eq!(times.len(), 40, "{name}");
        for frame in &seen.track.frames {
            let jpeg = strip::frame(&strip, frame.frame)
                .expect("readable")
                .expect("there");
            let luma = luma_of(&jpeg);
            let number = number_at(|u, v| {
                let (u, v) = if turned { (1.0 - u, 1.0 - v) } else { (u, v) };
                luma[(v * 120.0) as usize * 160 + (u * 160.0) as usize]
            });
            assert_eq!(number, frame.frame, "{name}");
            assert!(
                (times[number] - frame.time_s).abs() < 1e-3,
                "{name}: {number}"
            );
        }
        assert_eq!(
            strip::frame(&strip, 2).expect("readable"),
            None,
            "before the swing"
        );
        let heard = heard.into_inner().expect("unpoisoned");
        assert_eq!(
            (heard[0], heard[heard.len() - 1]),
            ((0, 37), (37, 37)),
            "{name}"
        );
    }
}

#[test]
fn of_an_erased_swing_nothing_comes_back() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = file_in(&folder, "clip.mp4");
    Numbered {
        frames: 8,
        width: 64,
        height: 48,
        rate: "30",
        more_input: &[],
        encode: H264,
    }
    .write(&path);
    let media = folder.path().join("media/7");
    let strip = media.join("frames/face_on-1.strip");
    let refused = strip::make(
        &tools(),
        &seen(probed(&path)),
        &strip,
        &|_, _| {},
        &Cancel::default(),
    );
    assert!(refused.is_err() && !media.exists());
}
