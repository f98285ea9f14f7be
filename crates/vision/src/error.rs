//! What can go wrong between the files of the networks and the landmarks.

use crate::tflite::TfliteError;
use std::path::PathBuf;
use thiserror::Error;

/// An error of this crate; the message says what to do about it.
#[derive(Debug, Error)]
pub enum VisionError {
    /// A file that the set-up command fetches is not there or cannot be read.
    #[error("cannot read the {what} file {}; run the set-up command (`cargo xtask setup`)", path.display())]
    Unreadable {
        /// Which file.
        what: &'static str,
        /// Where it was looked for.
        path: PathBuf,
        /// Why.
        source: std::io::Error,
    },
    /// A network file is damaged or another one.
    #[error("the {what} file {} is not the one expected; run the set-up command again (`cargo xtask setup`)", path.display())]
    WrongFile {
        /// Which file.
        what: &'static str,
        /// Where it lies.
        path: PathBuf,
        /// Why.
        source: TfliteError,
    },
    /// The ONNX Runtime library is not one, or too old.
    #[error("cannot load the ONNX Runtime library {}; run the set-up command again (`cargo xtask setup`)", path.display())]
    Runtime {
        /// Where it lies.
        path: PathBuf,
        /// Why.
        source: Box<dyn std::error::Error + Send + Sync>,
    },
    /// ONNX Runtime refused a network or failed to run it.
    #[error("ONNX Runtime cannot run the {what} network")]
    Network {
        /// Which network.
        what: &'static str,
        /// Why.
        source: ort::Error,
    },
    /// A thread ended in a panic, which is a fault of this program.
    #[error("the landmark network's thread has stopped; this is a fault of the program")]
    Stopped,
}
