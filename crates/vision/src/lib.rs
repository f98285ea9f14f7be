//! The neural networks: frames in, landmarks of the golfer out.
//!
//! [`Networks`] loads two published networks: one finds people in a picture, the other finds 33
//! landmarks of one person in a square around that person. [`choose_golfer`] tells who of several
//! people swings; [`Tracker`] follows that person from frame to frame. Two networks of our own are committed:
//! one sees joint centres in single pictures, the other, [`Correction`], weighs them against the landmarks
//! of the whole swing. Everything is deterministic: the same pictures give the same landmarks.
//!
//! The fetched networks come as TensorFlow Lite files; they are turned into ONNX models in memory and run
//! by ONNX Runtime.

mod anchors;
mod club;
mod correction;
mod crop;
mod detector;
mod error;
mod golfer;
mod joints;
mod landmarks;
mod lane;
mod network;
mod onnx;
mod region;
mod sides;
mod spots;
mod tflite;
mod tracker;

#[cfg(test)]
mod people_tests;
#[cfg(test)]
mod reference_tests;
#[cfg(test)]
mod testing;

pub use club::{ClubNetwork, SQUARE_STATURES};
pub use correction::{Correction, SwingClip};
pub use detector::{Person, PersonDetector};
pub use error::VisionError;
pub use golfer::{GolferSearch, choose_golfer};
pub use landmarks::{BodyNetwork, Refinement, SeenBody};
pub use network::{ModelFiles, Networks, onnx_from_tflite};
pub use region::{Region, Square};
pub use sides::mend_sides;
pub use spots::moving_spots;
pub use tflite::TfliteError;
pub use tracker::{Tracked, Tracker, TrackerConfig};
