//! The landmarks of one person, from a square of a picture around that person.
//!
//! The "heavy" BlazePose landmark network (Bazarevsky et al. 2020, arXiv:2006.10204). It gives 39
//! points, five numbers each: x, y and depth in pixels of its 256 px input, and the logits of
//! "visible" and "present". The first 33 are the body's; 33 and 34 describe the circle around the
//! body, from which the next frame's square follows. A heatmap a point sharpens its place.

use crate::crop::{InputRange, Outside, sample_square};
use crate::detector::sigmoid;
use crate::error::VisionError;
use crate::network::{Expected, ModelFiles, Network};
use crate::region::Square;
use lessonwright_model::body::LANDMARKS;
use lessonwright_model::{Landmark, Landmarks, Picture, PixelPoint};

/// Side of the network's input, px.
pub(crate) const INPUT_SIDE: usize = 256;

/// Points that the network gives.
pub(crate) const POINTS: usize = 39;

/// Numbers a point.
const VALUES: usize = 5;

/// Side of a heatmap, cells.
const HEATMAP_SIDE: usize = 64;

/// Cells on each side of a point's cell over which its heatmap is averaged: a kernel of 7
/// (published pose graph).
const HEATMAP_REACH: usize = 3;

/// A heatmap that is nowhere as certain as this near its point does not move it (published pose
/// graph).
const LEAST_HEAT: f32 = 0.5;

/// The landmark network, loaded.
#[derive(Debug)]
pub struct BodyNetwork {
    pub(crate) network: Network,
    input: Vec<f32>,
}

/// What the network sees in a square.
#[derive(Clone, Debug, PartialEq)]
pub struct SeenBody {
    /// The landmarks, in pixels of the picture.
    pub landmarks: Landmarks,
    /// The circle around the body: its centre, the mid-hip, and a point on it towards the head.
    pub circle: [PixelPoint; 2],
}

/// The network's outputs for one input, in units of the input's side.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct RawBody {
    pub(crate) presence: f32,
    pub(crate) points: Vec<RawPoint>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct RawPoint {
    pub(crate) x: f32,
    pub(crate) y: f32,
    pub(crate) depth: f32,
    pub(crate) visibility: f32,
    pub(crate) presence: f32,
}

impl BodyNetwork {
    /// Loads the network, to run on `threads` threads.
    ///
    /// # Errors
    /// When a file is missing, damaged or not the one expected.
    pub fn load(files: &ModelFiles, threads: usize) -> Result<Self, VisionError> {
        // Outputs 2 (a mask) and 4 (points in metres) are not used.
        let expected = Expected {
            what: "body landmark",
            input_side: INPUT_SIDE,
            outputs: &[
                (0, &[1, POINTS * VALUES]),
                (1, &[1, 1]),
                (3, &[1, HEATMAP_SIDE, HEATMAP_SIDE, POINTS]),
            ],
        };
        Ok(BodyNetwork {
            network: Network::load(&files.runtime, &files.body_landmarks, threads, &expected)?,
            input: vec![0.0; 3 * INPUT_SIDE * INPUT_SIDE],
        })
    }

    /// The body within `square`. `presence` tells whether somebody is there at all: below 0.5 the
    /// points mean nothing.
    ///
    /// # Errors
    /// When ONNX Runtime fails.
    pub fn look(
        &mut self,
        picture: &Picture,
        square: &Square,
        refinement: Refinement,
    ) -> Result<SeenBody, VisionError> {
        let range = InputRange {
            black: 0.0,
            white: 1.0,
        };
        let mut input = std::mem::take(&mut self.input);
        sample_square(
            picture,
            square,
            INPUT_SIDE,
            Outside::Border,
            range,
            &mut input,
        );
        let raw = self.run(&input, refinement);
        self.input = input;
        Ok(placed(&raw?, square))
    }

    /// Runs the network and drops what it says: for measuring its speed. `input` is as for the
    /// network: planes R, G, B of 256×256 values in 0..=1.
    ///
    /// # Errors
    /// When ONNX Runtime fails.
    pub fn run_network(&mut self, input: &[f32]) -> Result<(), VisionError> {
        self.network.run(input, |_| ())
    }

    /// The network alone, on an input of three planes R, G, B in 0..=1.
    pub(crate) fn run(
        &mut self,
        input: &[f32],
        refinement: Refinement,
    ) -> Result<RawBody, VisionError> {
        self.network.run(input, |outputs| {
            let mut points: Vec<RawPoint> = outputs[0]
                .as_chunks::<VALUES>()
                .0
                .iter()
                .map(RawPoint::decode)
                .collect();
            if refinement == Refinement::Heatmap {
                let heatmaps = outputs[2].chunks_exact(HEATMAP_SIDE * HEATMAP_SIDE);
                for (point, heatmap) in points.iter_mut().zip(heatmaps) {
                    refine(point, heatmap);
                }
            }
            RawBody {
                presence: outputs[1][0],
                points,
            }
        })
    }
}

/// Whether heatmaps move the points.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Refinement {
    /// Points as the network's last layer gives them.
    None,
    /// Points moved to the mean of their heatmap nearby.
    #[default]
    Heatmap,
}

impl RawPoint {
    fn decode(&[x, y, depth, visible, present]: &[f32; VALUES]) -> Self {
        let length = |value: f32| value / INPUT_SIDE as f32;
        RawPoint {
            x: length(x),
            y: length(y),
            depth: length(depth),
            visibility: sigmoid(visible),
            presence: sigmoid(present),
        }
    }
}

/// x = Σ heat · column / Σ heat / 64 over the kernel around the point's cell, and so for y; heat is
/// the sigmoid of the map's value. A point outside the map stays.
fn refine(point: &mut RawPoint, heatmap: &[f32]) {
    let cell = |place: f32| {
        let cell = (place * HEATMAP_SIDE as f32).floor();
        (cell >= 0.0 && cell < HEATMAP_SIDE as f32).then_some(cell as usize)
    };
    let (Some(column), Some(row)) = (cell(point.x), cell(point.y)) else {
        return;
    };
    let around = |cell: usize| {
        cell.saturating_sub(HEATMAP_REACH)..(cell + HEATMAP_REACH + 1).min(HEATMAP_SIDE)
    };
    let (mut total, mut most) = (0.0f32, 0.0f32);
    let (mut columns, mut rows) = (0.0f32, 0.0f32);
    for row in around(row) {
        for column in around(column) {
            let heat = sigmoid(heatmap[row * HEATMAP_SIDE + column]);
            total += heat;
            most = most.max(heat);
            columns += heat * column as f32;
            rows += heat * row as f32;
        }
    }
    if most >= LEAST_HEAT {
        point.x = columns / total / HEATMAP_SIDE as f32;
        point.y = rows / total / HEATMAP_SIDE as f32;
    }
}

/// From the square to the picture.
fn placed(raw: &RawBody, square: &Square) -> SeenBody {
    let at = |point: &RawPoint| square.point_at(point.x.into(), point.y.into());
    SeenBody {
        landmarks: Landmarks {
            presence: raw.presence.into(),
            points: raw.points[..LANDMARKS]
                .iter()
                .map(|point| Landmark {
                    at: at(point),
                    depth_px: f64::from(point.depth) * square.side_px,
                    visibility: point.visibility.into(),
                    spread: None,
                })
                .collect(),
            joint_centres: Vec::new(),
        },
        circle: [at(&raw.points[LANDMARKS]), at(&raw.points[LANDMARKS + 1])],
    }
}
