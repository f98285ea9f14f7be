//! Joint centres as seen in one picture, by a network of our own.
//!
//! The landmark network marks points on the body as people marked them; measures need the centres of
//! joints, hidden ones too. This network was taught them on rendered golfers (`training/README.md` says
//! how, and what it can't do). It sees one upright picture at a time and nothing of the swing, so that
//! it can't say where joints usually are; what it says is weighed against the landmarks in
//! [`crate::Correction`].

use crate::crop::{InputRange, Outside, sample_square};
use crate::error::VisionError;
use crate::network::session;
use crate::region::Square;
use lessonwright_model::body::JOINT_CENTRES;
use lessonwright_model::{JointCentre, Landmarks, Picture, PixelPoint, Spread};
use ort::session::Session;
use ort::value::TensorRef;
use std::f64::consts::SQRT_2;
use std::path::Path;

const WEIGHTS: &[u8] = include_bytes!("../weights/joints.onnx");

/// For messages.
const WHAT: &str = "joint";
/// Side of the network's input, px.
const INPUT_SIDE: usize = 192;
/// Side of the square over the larger side of the box around the landmarks of the joints, as the network
/// was taught (`SURROUND` of training/joint_network.py).
const SURROUND: f64 = 1.30;
/// Numbers a joint: x and y from the middle, depth, all in sides of the square, and the logarithms of
/// the scales of two Laplace distributions, of the place and of the depth.
const SAID: usize = 5;

/// The network, loaded.
#[derive(Debug)]
pub(crate) struct JointNetwork {
    session: Session,
    input: Vec<f32>,
}

/// The network's file: ours.
#[cfg(not(feature = "other-joints"))]
fn weights() -> &'static [u8] {
    WEIGHTS
}

/// The network's file: while a new one is taught, the one that LESSONWRIGHT_JOINTS names.
#[cfg(feature = "other-joints")]
fn weights() -> &'static [u8] {
    std::env::var_os("LESSONWRIGHT_JOINTS").map_or(WEIGHTS, |file| {
        let weights = std::fs::read(file).expect("LESSONWRIGHT_JOINTS names a network's file");
        weights.leak()
    })
}

impl JointNetwork {
    /// Loads the network, to run on one thread of the ONNX Runtime at `runtime_path`.
    pub(crate) fn load(runtime_path: &Path) -> Result<JointNetwork, VisionError> {
        Ok(JointNetwork {
            session: session(runtime_path, weights(), 1, WHAT)?,
            input: vec![0.0; 3 * INPUT_SIDE * INPUT_SIDE],
        })
    }

    /// The joint centres, in the order of [`JOINT_CENTRES`], of the person whose landmarks these are.
    pub(crate) fn look(
        &mut self,
        picture: &Picture,
        landmarks: &Landmarks,
    ) -> Result<Vec<JointCentre>, VisionError> {
        let upright = square_around(landmarks);
        let range = InputRange {
            black: 0.0,
            white: 1.0,
        };
        sample_square(
            picture,
            &upright,
            INPUT_SIDE,
            Outside::Border,
            range,
            &mut self.input,
        );
        let shape = [1, 3, INPUT_SIDE, INPUT_SIDE];
        let input = TensorRef::from_array_view((shape, &self.input[..])).map_err(failed)?;
        let outputs = self.session.run(ort::inputs![input]).map_err(failed)?;
        let (_, said) = outputs[0].try_extract_tensor::<f32>().map_err(failed)?;
        assert_eq!(said.len(), JOINT_CENTRES.len() * SAID, "the network's own");
        Ok(said
            .chunks_exact(SAID)
            .map(|said| placed(said, &upright))
            .collect())
    }
}

/// The upright square that the network was taught to see around a body.
fn square_around(landmarks: &Landmarks) -> Square {
    let places = JOINT_CENTRES.map(|joint| landmarks.get(joint).at);
    let ends = |of: fn(&PixelPoint) -> f64| {
        let all = places.iter().map(of);
        let low = all.clone().fold(f64::INFINITY, f64::min);
        (low, all.fold(f64::NEG_INFINITY, f64::max))
    };
    let ((left, right), (top, bottom)) = (ends(|p| p.x), ends(|p| p.y));
    Square {
        centre: PixelPoint {
            x: 0.5 * (left + right),
            y: 0.5 * (top + bottom),
        },
        side_px: SURROUND * (right - left).max(bottom - top),
        rotation_rad: 0.0,
    }
}

fn placed(said: &[f32], square: &Square) -> JointCentre {
    let [x, y, depth, place_scale, depth_scale] = std::array::from_fn(|i| f64::from(said[i]));
    // A Laplace distribution's standard deviation is √2 times its scale.
    let deviation_px = |logarithm: f64| SQRT_2 * logarithm.exp() * square.side_px;
    JointCentre {
        at: square.point_at(x + 0.5, y + 0.5),
        depth_px: depth * square.side_px,
        spread: Spread {
            at_px: deviation_px(place_scale),
            depth_px: deviation_px(depth_scale),
        },
    }
}

fn failed(source: ort::Error) -> VisionError {
    VisionError::Network { what: WHAT, source }
}
