//! Swings to learn from: what is drawn, and what the stream holds.

use lessonwright_stage::motion::{Motion, Movement};
use lessonwright_stage::params::{SwingParams, View};
use lessonwright_stage::stream::write_clip;
use rayon::prelude::*;
use serde_json::Value;

/// Pearson's correlation.
fn correlation(pairs: &[(f64, f64)]) -> f64 {
    let n = pairs.len() as f64;
    let mean = |of: fn(&(f64, f64)) -> f64| pairs.iter().map(of).sum::<f64>() / n;
    let (ma, mb) = (mean(|p| p.0), mean(|p| p.1));
    let sum =
        |of: &dyn Fn(f64, f64) -> f64| pairs.iter().map(|p| of(p.0 - ma, p.1 - mb)).sum::<f64>();
    sum(&|a, b| a * b) / (sum(&|a, _| a * a) * sum(&|_, b| b * b)).sqrt()
}

#[test]
fn varied_swings_are_possible_and_one_turn_does_not_foretell_another() {
    let seeds = (1..=400_u64).into_par_iter();
    let all: Vec<SwingParams> = seeds.map(SwingParams::varied).collect();
    for swing in &all {
        swing.check().expect("a possible swing");
    }
    let of = |a: fn(&SwingParams) -> f64, b: fn(&SwingParams) -> f64| {
        correlation(&all.iter().map(|s| (a(s), b(s))).collect::<Vec<_>>())
    };
    // Of 400 independent pairs the correlation stays below 0.16 in all but one of a thousand tries.
    for (name, r) in [
        (
            "pelvis and knees",
            of(
                |s| s.motion.pelvis_open_down_deg,
                |s| s.motion.knee_line_down_deg,
            ),
        ),
        (
            "pelvis and chest",
            of(
                |s| s.motion.pelvis_open_down_deg,
                |s| s.motion.chest_closed_down_deg,
            ),
        ),
        (
            "shift and knees",
            of(|s| s.motion.shift_down_cm, |s| s.motion.knee_line_down_deg),
        ),
        (
            "top and down",
            of(
                |s| s.motion.pelvis_turn_top_deg,
                |s| s.motion.pelvis_open_down_deg,
            ),
        ),
        (
            "elbow and chest",
            of(
                |s| s.motion.elbow_ahead_down_cm,
                |s| s.motion.chest_closed_down_deg,
            ),
        ),
    ] {
        assert!(r.abs() < 0.16, "{name}: {r:.2}");
    }
}

#[test]
fn a_stream_holds_header_pictures_and_the_joints_of_its_truth() {
    let params = SwingParams::varied(3);
    let motion = Motion::new(&params);
    let size = [24, 40];
    let mut bytes = Vec::new();
    write_clip(&mut bytes, &params, &motion, View::FaceOn, size, true).expect("a stream");
    let (length, rest) = bytes.split_first_chunk::<4>().expect("a length");
    let (header, rest) = rest.split_at(u32::from_le_bytes(*length) as usize);
    let header: Value = serde_json::from_slice(header).expect("a header");
    let times: Vec<f64> = serde_json::from_value(header["times_s"].clone()).expect("times");
    let points: Vec<String> = serde_json::from_value(header["points"].clone()).expect("points");
    assert_eq!(points.len(), 17);
    let picture = size[0] * size[1] * 3;
    let each = picture + points.len() * 12;
    assert_eq!(rest.len(), times.len() * each, "each frame in full");
    assert!(times.is_sorted() && times[0] < params.before_s);
    assert!(times[times.len() - 1] > params.before_s + motion.key_times().impact + 0.7);
    for (time_s, frame) in times.iter().zip(rest.chunks_exact(each)) {
        let pose = motion.pose(time_s - params.before_s);
        let hip = points.iter().position(|p| p == "hip_lead").expect("a hip");
        for (axis, expected) in pose.hip[0].to_array().into_iter().enumerate() {
            let at = picture + (hip * 3 + axis) * 4;
            let value = f32::from_le_bytes(frame[at..at + 4].try_into().expect("four bytes"));
            assert!((f64::from(value) - expected).abs() < 1e-6);
        }
    }
    // A person stands out from the backdrop: the picture is not one colour.
    let first = &rest[..picture];
    assert!(first.iter().max() > first.iter().min());
}
