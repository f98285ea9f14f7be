//! The club in one picture, by a network of our own that sees the pictures before and after it too.
//!
//! It was taught on rendered golfers before photographs and made-up places (`training/README.md` says
//! how, and what it can't do). It sees a square around the hands and gives maps of where grip, head,
//! shaft and ball are, and the direction of the shaft cell by cell; [`read`] turns these into a few
//! directions. Which of them the club took is for who sees the whole swing.

mod read;

use crate::crop::{InputRange, Outside, sample_square};
use crate::error::VisionError;
use crate::network::session;
use crate::region::Square;
use lessonwright_model::{ClubGlance, Picture};
use ort::session::Session;
use ort::value::TensorRef;
use std::path::Path;

const WEIGHTS: &[u8] = include_bytes!("../../weights/club.onnx");

/// For messages.
const WHAT: &str = "club";
/// Side of the network's input, px.
const INPUT_SIDE: usize = 288;
/// What the network was shown of a golfer: a square of this many statures around the hands.
pub const SQUARE_STATURES: f64 = 1.53;

/// The club network, loaded.
#[derive(Debug)]
pub struct ClubNetwork {
    session: Session,
    /// R, G and B of the picture, then grey of the one before and of the one after.
    input: Vec<f32>,
    colours: Vec<f32>,
}

impl ClubNetwork {
    /// Loads the network, to run on `threads` threads of the ONNX Runtime at `runtime_path`.
    ///
    /// # Errors
    /// When ONNX Runtime is missing or refuses the network.
    pub fn load(runtime_path: &Path, threads: usize) -> Result<ClubNetwork, VisionError> {
        Ok(ClubNetwork {
            session: session(runtime_path, WEIGHTS, threads, WHAT)?,
            input: vec![0.0; 5 * INPUT_SIDE * INPUT_SIDE],
            colours: vec![0.0; 3 * INPUT_SIDE * INPUT_SIDE],
        })
    }

    /// The club in the middle one of three pictures of a camera that stands still, in an upright
    /// `square` around the hands. The others are to be about 1/60 s away.
    /// Frame and time of what is returned are left at 0.
    ///
    /// # Errors
    /// When ONNX Runtime fails.
    pub fn look(
        &mut self,
        [before, now, after]: [&Picture; 3],
        square: &Square,
    ) -> Result<ClubGlance, VisionError> {
        let area = INPUT_SIDE * INPUT_SIDE;
        self.sample(now, square);
        self.input[..3 * area].copy_from_slice(&self.colours);
        for (picture, plane) in [(before, 3), (after, 4)] {
            self.sample(picture, square);
            let (red, rest) = self.colours.split_at(area);
            let (green, blue) = rest.split_at(area);
            let grey = &mut self.input[plane * area..][..area];
            for (grey, ((r, g), b)) in grey.iter_mut().zip(red.iter().zip(green).zip(blue)) {
                // Luma, ITU-R BT.601, as in teaching.
                *grey = 0.299 * r + 0.587 * g + 0.114 * b;
            }
        }
        let shape = [1, 5, INPUT_SIDE, INPUT_SIDE];
        let input = TensorRef::from_array_view((shape, &self.input[..])).map_err(failed)?;
        let outputs = self.session.run(ort::inputs![input]).map_err(failed)?;
        let (_, maps) = outputs[0].try_extract_tensor::<f32>().map_err(failed)?;
        let (_, seen) = outputs[1].try_extract_tensor::<f32>().map_err(failed)?;
        Ok(read::glance(maps, seen, square))
    }

    fn sample(&mut self, picture: &Picture, square: &Square) {
        let range = InputRange {
            black: 0.0,
            white: 1.0,
        };
        sample_square(
            picture,
            square,
            INPUT_SIDE,
            Outside::Black,
            range,
            &mut self.colours,
        );
    }
}

fn failed(source: ort::Error) -> VisionError {
    VisionError::Network { what: WHAT, source }
}
