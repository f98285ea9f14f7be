//! The swings of a long clip are found, and nothing else.

#![expect(clippy::unwrap_used, reason = "a test that can't unwrap has failed")]

mod common;

use common::scene::{HEIGHT, Story, WIDTH, add_strike, add_talk, pcm, quiet};
use common::*;
use lessonwright_media::{Clip, find_swings, probe};
use lessonwright_model::{Cancel, SwingWindow};
use std::path::{Path, PathBuf};

/// Writes the story at `rate_hz`, said by the file to be `file_rate_hz`; with sound if there is any.
fn film(story: &Story, rate_hz: f64, file_rate_hz: f64, sound: Option<&[f64]>, path: &Path) {
    let size = format!("{WIDTH}x{HEIGHT}");
    let rate = file_rate_hz.to_string();
    let raw: PathBuf = path.with_extension("pcm");
    let raw_name = raw.to_str().unwrap();
    let mut arguments = vec![
        "-f", "rawvideo", "-pix_fmt", "yuv420p", "-s", &size, "-r", &rate, "-i", "pipe:0",
    ];
    if let Some(sound) = sound {
        std::fs::write(&raw, pcm(sound)).unwrap();
        arguments.extend(["-f", "s16le", "-ar", "48000", "-ac", "1", "-i", raw_name]);
        arguments.extend(["-c:a", "aac", "-b:a", "96k"]);
    }
    arguments.extend([
        "-c:v",
        "libx264",
        "-preset",
        "ultrafast",
        "-crf",
        "26",
        "-g",
        "60",
    ]);
    ffmpeg(&arguments, path, story.pictures(rate_hz));
}

fn found(clip: &Clip) -> Vec<SwingWindow> {
    let mut steps = Vec::new();
    let mut progress = |part| steps.push(part);
    let windows = find_swings(&tools(), clip, &mut progress, &Cancel::default()).unwrap();
    assert!(
        steps.windows(2).all(|pair| pair[0] <= pair[1]),
        "progress goes forward"
    );
    assert_eq!(steps.last(), Some(&1.0));
    windows
}

/// One window for each impact, with the impact where it belongs and the swing all inside.
fn check(name: &str, windows: &[SwingWindow], impacts_s: &[f64], within_s: f64) {
    assert_eq!(windows.len(), impacts_s.len(), "{name}: {windows:#?}");
    for (window, &impact_s) in windows.iter().zip(impacts_s) {
        let off_s = window.impact_guess_s - impact_s;
        assert!(
            off_s.abs() <= within_s,
            "{name}: {impact_s} off by {off_s:.4}"
        );
        assert!(window.start_s < impact_s - 1.3, "{name}: {window:?}");
        assert!(window.end_s > impact_s + 0.8, "{name}: {window:?}");
    }
}

/// A minute with talk, walking, waggles, a bent-down tee and swings.
fn lesson(swings_s: &[f64]) -> (Story, Vec<f64>) {
    let story = Story {
        length_s: 60.0,
        swings_s: swings_s.to_vec(),
        waggles_s: vec![(7.0, 10.0), (25.0, 28.0), (45.0, 48.0)],
        gestures_s: vec![(4.0, 7.0), (16.0, 24.0), (34.0, 39.0)],
        walks: vec![(0.0, 3.0, -1.4, 0.0), (55.0, 58.0, 0.0, 1.4)],
        tremor_px: 0.4,
        flicker_levels: 6.0,
        ..Story::default()
    };
    let mut sound = quiet(60.0, 5);
    for (from_s, to_s) in [(0.0, 7.0), (16.0, 26.0), (34.0, 40.0), (52.0, 60.0)] {
        add_talk(&mut sound, from_s, to_s, 0.08, 6);
    }
    (story, sound)
}

#[test]
fn a_minute_with_one_swing_gives_one_with_and_without_sound() {
    let folder = tempfile::tempdir().unwrap();
    let (story, mut sound) = lesson(&[30.9]);
    add_strike(&mut sound, 30.9, 0.5, 7);
    // Two claps while talking: sharp, but nothing swings there.
    add_strike(&mut sound, 20.0, 0.4, 8);
    add_strike(&mut sound, 54.0, 0.6, 9);
    let path = file_in(&folder, "one.mp4");
    film(&story, 30.0, 30.0, Some(&sound), &path);
    let windows = found(&probed(&path));
    check("with sound", &windows, &[30.9], 1e-3);
    assert!(windows[0].strike.is_some());

    let mute = file_in(&folder, "mute.mp4");
    ffmpeg(
        &["-i", path.to_str().unwrap(), "-an", "-c", "copy"],
        &mute,
        std::iter::empty(),
    );
    let windows = found(&probed(&mute));
    check("mute", &windows, &[30.9], 0.15);
    assert!(windows[0].strike.is_none());
}

#[test]
fn a_minute_with_three_swings_gives_three() {
    let folder = tempfile::tempdir().unwrap();
    let impacts_s = [13.1, 31.9, 51.0];
    let (story, mut sound) = lesson(&impacts_s);
    for (seed, &impact_s) in impacts_s.iter().enumerate() {
        add_strike(&mut sound, impact_s, 0.5, seed as u64);
    }
    let path = file_in(&folder, "three.mp4");
    film(&story, 60.0, 60.0, Some(&sound), &path);
    check("with sound", &found(&probed(&path)), &impacts_s, 1e-3);
    let mute = file_in(&folder, "mute.mp4");
    ffmpeg(
        &["-i", path.to_str().unwrap(), "-an", "-c", "copy"],
        &mute,
        std::iter::empty(),
    );
    check("mute", &found(&probed(&mute)), &impacts_s, 0.15);
}

#[test]
fn a_practice_swing_is_left_out_where_the_real_one_is_heard() {
    let folder = tempfile::tempdir().unwrap();
    let story = Story {
        length_s: 16.0,
        swings_s: vec![4.0, 11.0],
        ..Story::default()
    };
    let mut sound = quiet(16.0, 5);
    add_strike(&mut sound, 11.0, 0.5, 7);
    let path = file_in(&folder, "practice.mp4");
    film(&story, 30.0, 30.0, Some(&sound), &path);
    check("heard", &found(&probed(&path)), &[11.0], 1e-3);
    // Talk beside the microphone hides the first strike, but it is no practice swing.
    add_strike(&mut sound, 4.0, 0.5, 8);
    add_talk(&mut sound, 2.0, 6.0, 0.4, 9);
    let raw = file_in(&folder, "talk.pcm");
    std::fs::write(&raw, pcm(&sound)).unwrap();
    let video = path.to_str().unwrap();
    let sound = [
        "-f",
        "s16le",
        "-ar",
        "48000",
        "-ac",
        "1",
        "-i",
        raw.to_str().unwrap(),
    ];
    let both = ["-map", "0:v", "-map", "1:a", "-c:v", "copy", "-c:a", "aac"];
    let talk = file_in(&folder, "talk.mp4");
    ffmpeg(
        &[&["-i", video], &sound[..], &both[..]].concat(),
        &talk,
        std::iter::empty(),
    );
    let windows = found(&probed(&talk));
    check("talk", &windows, &[4.0, 11.0], 0.15);
    assert!(
        windows[0].strike.is_none() && windows[1].strike.is_some(),
        "{windows:?}"
    );
    let mute = file_in(&folder, "mute.mp4");
    ffmpeg(
        &["-i", path.to_str().unwrap(), "-an", "-c", "copy"],
        &mute,
        std::iter::empty(),
    );
    check("mute", &found(&probed(&mute)), &[4.0, 11.0], 0.15);
}

#[test]
fn slow_motion_is_looked_at_in_real_time() {
    let folder = tempfile::tempdir().unwrap();
    let story = Story {
        length_s: 8.0,
        swings_s: vec![4.5],
        waggles_s: vec![(0.5, 2.5)],
        ..Story::default()
    };
    let path = file_in(&folder, "slow.mp4");
    film(&story, 240.0, 30.0, None, &path);
    let clip = probe(&tools(), &path, Some(240.0), &Cancel::default()).unwrap();
    let windows = found(&clip);
    let file_s = 8.0;
    check("slow motion", &windows, &[4.5 * file_s], 0.15 * file_s);
    let length_s = windows[0].end_s - windows[0].start_s;
    assert!((length_s / file_s - 3.6).abs() < 0.01, "{length_s}");
}

#[test]
fn a_short_clip_is_one_swing_whole() {
    let folder = tempfile::tempdir().unwrap();
    let story = Story {
        length_s: 3.2,
        swings_s: vec![1.9],
        ..Story::default()
    };
    let path = file_in(&folder, "short.mp4");
    film(&story, 30.0, 30.0, None, &path);
    let clip = probed(&path);
    let windows = found(&clip);
    check("short", &windows, &[1.9], 0.15);
    assert_eq!(
        (windows[0].start_s, windows[0].end_s),
        (0.0, clip.facts.duration_s)
    );
}

#[test]
fn nobody_talk_and_eight_frames_hold_no_swing() {
    let folder = tempfile::tempdir().unwrap();
    let empty = Story {
        length_s: 10.0,
        nobody: true,
        tremor_px: 0.4,
        flicker_levels: 6.0,
        ..Story::default()
    };
    let talk = Story {
        length_s: 20.0,
        gestures_s: vec![(4.0, 8.0)],
        waggles_s: vec![(9.0, 12.0)],
        walks: vec![(0.0, 3.0, -1.4, 0.0), (15.0, 18.0, 0.0, 1.4)],
        ..Story::default()
    };
    let eight = Story {
        length_s: 8.0 / 30.0,
        swings_s: vec![0.1],
        ..Story::default()
    };
    for (name, story) in [("nobody", empty), ("talk", talk), ("eight frames", eight)] {
        let path = file_in(&folder, "none.mp4");
        film(&story, 30.0, 30.0, None, &path);
        check(name, &found(&probed(&path)), &[], 0.0);
    }
}
