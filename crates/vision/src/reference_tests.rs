//! Both networks against the reference interpreter.
//!
//! `testdata/vision/reference.json` was made by `reference.py` beside it, with LiteRT (formerly
//! TensorFlow Lite); the file names the versions.

use crate::detector::PersonDetector;
use crate::landmarks::BodyNetwork;
use crate::testing::{Rgb, model_files, testdata};
use serde::Deserialize;
use std::collections::BTreeMap;

/// Largest difference of a landmark, px of the 256 px input (issue 2, item 4).
const LANDMARK_TOLERANCE_PX: f32 = 0.01;

/// Largest difference of a detector's box value, px of its 224 px input, and of a logit. Boxes
/// are pixels too; a logit's 0.001 is a quarter of a per mille in probability.
const DETECTOR_TOLERANCE_PX: f32 = 0.01;
const LOGIT_TOLERANCE: f32 = 0.001;

/// Largest difference of the presence, a probability.
const PRESENCE_TOLERANCE: f32 = 1e-4;

/// Largest difference of a heatmap's peak, a logit of up to about 3.
const HEAT_TOLERANCE: f32 = 0.002;

#[derive(Deserialize)]
struct Reference {
    pictures: BTreeMap<String, PictureReference>,
}

#[derive(Deserialize)]
struct PictureReference {
    landmarks: LandmarkReference,
    detections: DetectionReference,
}

#[derive(Deserialize)]
struct LandmarkReference {
    presence: f32,
    points: Vec<[f32; 5]>,
    heatmap_peaks: Vec<(usize, usize, f32)>,
}

#[derive(Deserialize)]
struct DetectionReference {
    anchors: Vec<usize>,
    logits: Vec<f32>,
    boxes: Vec<[f32; 12]>,
    above_half: usize,
}

#[test]
fn landmarks_agree_with_the_reference_interpreter() {
    let mut body = BodyNetwork::load(&model_files(), 1).expect("the landmark network");
    for (name, expected) in reference().pictures {
        let expected = expected.landmarks;
        let input = input_from_png(&format!("{name}_256.png"), 0.0, 1.0);
        let compare = |outputs: &[&[f32]]| {
            let (points, presence, heatmaps) = (outputs[0], outputs[1], outputs[2]);
            assert_eq!(points.len(), 5 * expected.points.len(), "{name}");
            let points = points.as_chunks::<5>().0;
            for (i, (ours, theirs)) in points.iter().zip(&expected.points).enumerate() {
                for (value, reference) in ours.iter().zip(theirs) {
                    assert!(
                        (value - reference).abs() <= LANDMARK_TOLERANCE_PX,
                        "{name}, point {i}: {ours:?}, reference {theirs:?}"
                    );
                }
            }
            assert!((presence[0] - expected.presence).abs() < PRESENCE_TOLERANCE);
            for (i, &(row, column, peak)) in expected.heatmap_peaks.iter().enumerate() {
                let heat = heatmaps[(i * 64 + row) * 64 + column];
                assert!((heat - peak).abs() < HEAT_TOLERANCE, "{name}, heatmap {i}");
            }
        };
        body.network.run(&input, compare).expect("the network runs");
    }
}

#[test]
fn detections_agree_with_the_reference_interpreter() {
    let mut detector = PersonDetector::load(&model_files(), 1).expect("the detector");
    for (name, expected) in reference().pictures {
        let expected = expected.detections;
        let input = input_from_png(&format!("{name}_224.png"), -1.0, 1.0);
        let compare = |outputs: &[&[f32]]| {
            let (boxes, logits) = (outputs[0].as_chunks::<12>().0, outputs[1]);
            let expected = expected
                .anchors
                .iter()
                .zip(&expected.logits)
                .zip(&expected.boxes);
            for ((&anchor, logit), theirs) in expected {
                assert!((logits[anchor] - logit).abs() < LOGIT_TOLERANCE, "{name}");
                for (value, reference) in boxes[anchor].iter().zip(theirs) {
                    assert!(
                        (value - reference).abs() < DETECTOR_TOLERANCE_PX,
                        "{name}, anchor {anchor}: {value}, reference {reference}"
                    );
                }
            }
        };
        detector
            .network
            .run(&input, compare)
            .expect("the network runs");
        let proposals = detector.propose(&input).expect("it runs");
        assert_eq!(proposals.len(), expected.above_half, "{name}");
    }
}

fn reference() -> Reference {
    let text = std::fs::read_to_string(testdata("reference.json")).expect("stored values");
    serde_json::from_str(&text).expect("stored values are JSON")
}

/// A square PNG as a network's input.
fn input_from_png(name: &str, black: f32, white: f32) -> Vec<f32> {
    let picture = Rgb::stored(name);
    let area = picture.pixels.len();
    let mut input = vec![0.0; 3 * area];
    for (i, pixel) in picture.pixels.iter().enumerate() {
        for (plane, &value) in pixel.iter().enumerate() {
            input[plane * area + i] = black + (white - black) * f32::from(value) / 255.0;
        }
    }
    input
}
