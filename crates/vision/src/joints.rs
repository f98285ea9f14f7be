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
use lessonwright_model::{JointCentre, Picture, Spread};
use ort::session::Session;
use ort::value::TensorRef;
use std::f64::consts::SQRT_2;
use std::path::Path;

const WEIGHTS: &[u8] = include_bytes!("../weights/joints.onnx");

/// For messages.
const WHAT: &str = "joint";
/// Side of the network's input, px.
const INPUT_SIDE: usize = 192;
/// Numbers a joint: x and y from the middle, depth, all in sides of the square, and the logarithms of
/// the scales of two Laplace distributions, of the place and of the depth.
const SAID: usize = 5;

/// The network, loaded.
#[derive(Debug)]
pub(crate) struct JointNetwork {
    session: Session,
    input: Vec<f32>,
}

impl JointNetwork {
    /// Loads the network, to run on one thread of the ONNX Runtime at `runtime_path`.
    pub(crate) fn load(runtime_path: &Path) -> Result<JointNetwork, VisionError> {
        Ok(JointNetwork {
            session: session(runtime_path, WEIGHTS, 1, WHAT)?,
            input: vec![0.0; 3 * INPUT_SIDE * INPUT_SIDE],
        })
    }

    /// The joint centres, in the order of [`JOINT_CENTRES`], of the person in `square`, whose turn is
    /// left out: the network was taught upright pictures.
    pub(crate) fn look(
        &mut self,
        picture: &Picture,
        square: &Square,
    ) -> Result<Vec<JointCentre>, VisionError> {
        let upright = Square {
            rotation_rad: 0.0,
            ..*square
        };
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
