//! Sound keeps its place beside the pictures, and strikes are found in it to the millisecond.

#![expect(clippy::unwrap_used, reason = "a test that can't unwrap has failed")]

mod common;

use common::scene::{add_strike, add_talk, pcm, quiet};
use common::*;
use lessonwright_media::{SOUND_RATE_HZ, Sound, sound, strikes};
use lessonwright_model::Cancel;
use std::path::Path;

fn as_sound(samples: &[f64]) -> Sound {
    Sound {
        rate_hz: SOUND_RATE_HZ,
        samples: samples.iter().map(|&s| s as f32).collect(),
        start_s: 0.0,
    }
}

/// Writes a clip with this sound beside numbered pictures at 30 frames/s.
fn write_with_sound(path: &Path, samples: &[f64], more_input: &[&str], encode: &[&str]) {
    let raw = path.with_extension("pcm");
    std::fs::write(&raw, pcm(samples)).unwrap();
    let mut input = more_input.to_vec();
    let raw = raw.to_str().unwrap();
    input.extend(["-f", "s16le", "-ar", "48000", "-ac", "1", "-i", raw]);
    Numbered {
        frames: 90,
        width: 64,
        height: 48,
        rate: "30",
        more_input: &input,
        encode: &[H264, encode].concat(),
    }
    .write(path);
}

fn sound_of(path: &Path) -> Option<Sound> {
    sound(&tools(), &probed(path), &Cancel::default()).unwrap()
}

#[test]
fn strikes_are_timed_to_a_millisecond_under_talk_and_through_sound_coders() {
    let folder = tempfile::tempdir().unwrap();
    // Odd places, so that no coder's block grid suits all of them.
    let at_s = [0.713_21, 1.404_77, 2.200_03];
    let coders: [(&str, &[&str]); 4] = [
        ("plain.mov", &["-c:a", "pcm_s16le"]),
        ("aac.mp4", &["-c:a", "aac", "-b:a", "96k"]),
        ("low.mp4", &["-c:a", "aac", "-b:a", "64k"]),
        ("opus.mp4", &["-c:a", "libopus", "-b:a", "64k"]),
    ];
    for (file, coder) in coders {
        let mut samples = quiet(3.0, 1);
        add_talk(&mut samples, 0.0, 3.0, 0.1, 2);
        for (number, &at_s) in at_s.iter().enumerate() {
            add_strike(&mut samples, at_s, 0.6, 3 + number as u64);
        }
        let path = file_in(&folder, file);
        write_with_sound(&path, &samples, &[], coder);
        let found = strikes(&sound_of(&path).unwrap());
        assert_eq!(found.len(), at_s.len(), "{file}: {found:?}");
        for (strike, at_s) in found.iter().zip(at_s) {
            let error_s = strike.time_s - at_s;
            assert!(
                error_s.abs() < 1e-3,
                "{file}: {at_s} off by {:.2} ms",
                error_s * 1e3
            );
            assert!(
                error_s.abs() <= strike.plus_minus_s,
                "{file}: {strike:?} at {at_s}"
            );
        }
    }
}

#[test]
fn talk_alone_and_silence_hold_no_strike() {
    let mut talk = quiet(8.0, 1);
    add_talk(&mut talk, 1.0, 7.0, 0.5, 2);
    for (name, samples) in [
        ("talk", talk),
        ("microphone noise", quiet(5.0, 3)),
        ("digital silence", vec![0.0; 48_000]),
        ("nothing", Vec::new()),
        ("ten samples", vec![0.5; 10]),
        (
            "a steady tone",
            (0..96_000).map(|n| (f64::from(n) * 0.3).sin()).collect(),
        ),
        ("no numbers", vec![f64::NAN; 48_000]),
    ] {
        let found = strikes(&as_sound(&samples));
        assert!(found.is_empty(), "{name}: {found:?}");
    }
}

#[test]
fn a_strike_is_reported_once_with_its_echoes() {
    let mut samples = quiet(4.0, 1);
    add_strike(&mut samples, 2.0, 0.8, 2);
    // The ball meets a net 50 ms later, loudly.
    add_strike(&mut samples, 2.05, 0.5, 3);
    let found = strikes(&as_sound(&samples));
    assert_eq!(found.len(), 1, "{found:?}");
    assert!((found[0].time_s - 2.0).abs() < 5e-4, "{found:?}");
    assert!(found[0].above_noise_db > 40.0, "{found:?}");
}

#[test]
fn sound_that_starts_late_or_early_keeps_its_place() {
    let folder = tempfile::tempdir().unwrap();
    let mut samples = quiet(2.0, 1);
    add_strike(&mut samples, 1.0, 0.8, 2);
    for (name, offset) in [("late.mp4", "0.25"), ("early.mkv", "-0.25")] {
        let path = file_in(&folder, name);
        write_with_sound(&path, &samples, &["-itsoffset", offset], &["-c:a", "aac"]);
        let offset_s: f64 = offset.parse().unwrap();
        let found = strikes(&sound_of(&path).unwrap());
        assert_eq!(found.len(), 1, "{name}: {found:?}");
        assert!(
            (found[0].time_s - 1.0 - offset_s).abs() < 1e-3,
            "{name}: {found:?}"
        );
    }
}

#[test]
fn a_clip_without_sound_has_none() {
    let folder = tempfile::tempdir().unwrap();
    let path = file_in(&folder, "mute.mp4");
    Numbered {
        frames: 5,
        width: 64,
        height: 48,
        rate: "30",
        more_input: &[],
        encode: H264,
    }
    .write(&path);
    assert_eq!(sound_of(&path), None);
}
