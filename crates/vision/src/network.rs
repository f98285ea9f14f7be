//! The files of the two networks, and the networks loaded and ready to run.

use crate::detector::PersonDetector;
use crate::error::VisionError;
use crate::joints::JointNetwork;
use crate::landmarks::BodyNetwork;
use crate::lane::Lane;
use crate::onnx;
use crate::tflite::{Graph, TfliteError};
use ort::environment::Environment;
use ort::session::Session;
use ort::session::builder::{GraphOptimizationLevel, SessionBuilder};
use ort::value::TensorRef;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

/// Where the networks and the library that runs them lie.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ModelFiles {
    /// Person detector, a TensorFlow Lite file (input 224×224).
    pub person_detector: PathBuf,
    /// Body landmarks, "heavy", a TensorFlow Lite file (input 256×256).
    pub body_landmarks: PathBuf,
    /// The shared library of ONNX Runtime 1.24 or later.
    pub runtime: PathBuf,
}

impl ModelFiles {
    /// The files as the set-up command names them in its folder.
    pub fn in_folder(folder: &Path) -> Self {
        let runtime = match std::env::consts::OS {
            "macos" => "libonnxruntime.dylib",
            "windows" => "onnxruntime.dll",
            _ => "libonnxruntime.so.1",
        };
        ModelFiles {
            person_detector: folder.join("person_detector.tflite"),
            body_landmarks: folder.join("body_landmarks.tflite"),
            runtime: folder.join(runtime),
        }
    }
}

/// The networks that look at pictures, loaded.
#[derive(Debug)]
pub struct Networks {
    /// Finds people.
    pub detector: PersonDetector,
    /// Landmark and joint networks, side by side.
    pub(crate) lanes: Vec<Lane>,
}

impl Networks {
    /// Loads both networks, to use `threads` threads (at least one): as many pictures are under
    /// way in a [`crate::Tracker`]. The landmarks hang a little on how many: a picture's square
    /// rests on the pictures before those under way.
    ///
    /// ONNX Runtime is loaded once a process: a later call with another path keeps the first.
    ///
    /// # Errors
    /// When a file is missing, damaged or not the one expected.
    pub fn load(files: &ModelFiles, threads: usize) -> Result<Self, VisionError> {
        let threads = threads.max(1);
        Ok(Networks {
            detector: PersonDetector::load(files, threads)?,
            lanes: (0..threads)
                .map(|_| {
                    let landmarks = BodyNetwork::load(files, 1)?;
                    Ok(Lane::start(landmarks, JointNetwork::load(&files.runtime)?))
                })
                .collect::<Result<_, VisionError>>()?,
        })
    }
}

/// The bytes of an ONNX model made of a TensorFlow Lite file's outputs numbered `keep`, for tools
/// that run the same network elsewhere.
///
/// # Errors
/// When the file is damaged or holds an operator not known here.
pub fn onnx_from_tflite(file: &[u8], keep: &[usize]) -> Result<Vec<u8>, TfliteError> {
    onnx::convert(&Graph::parse(file)?, keep)
}

/// One network in ONNX Runtime.
#[derive(Debug)]
pub(crate) struct Network {
    what: &'static str,
    session: Session,
    input_shape: [usize; 4],
}

/// What a network is expected to look like.
pub(crate) struct Expected<'a> {
    /// For messages.
    pub(crate) what: &'static str,
    /// Side of the square picture that goes in, px.
    pub(crate) input_side: usize,
    /// Outputs that are used: number in the file, shape there (NHWC).
    pub(crate) outputs: &'a [(usize, &'a [usize])],
}

impl Network {
    pub(crate) fn load(
        runtime_path: &Path,
        path: &Path,
        threads: usize,
        expected: &Expected<'_>,
    ) -> Result<Self, VisionError> {
        let what = expected.what;
        let file = std::fs::read(path).map_err(|source| VisionError::Unreadable {
            what,
            path: path.to_owned(),
            source,
        })?;
        let model = convert_checked(&file, expected).map_err(|source| VisionError::WrongFile {
            what,
            path: path.to_owned(),
            source,
        })?;
        let session = session(runtime_path, &model, threads, what)?;
        let side = expected.input_side;
        Ok(Network {
            what,
            session,
            input_shape: [1, 3, side, side],
        })
    }

    /// Runs the network on a picture (R, G and B planes, row-major) and hands its outputs to
    /// `read`, in the order in which they were asked for.
    pub(crate) fn run<T>(
        &mut self,
        input: &[f32],
        read: impl FnOnce(&[&[f32]]) -> T,
    ) -> Result<T, VisionError> {
        let what = self.what;
        let failed = |source| VisionError::Network { what, source };
        let input = TensorRef::from_array_view((self.input_shape, input)).map_err(failed)?;
        let outputs = self.session.run(ort::inputs![input]).map_err(failed)?;
        let slices = (0..outputs.len())
            .map(|n| Ok(outputs[n].try_extract_tensor::<f32>()?.1))
            .collect::<ort::Result<Vec<_>>>()
            .map_err(failed)?;
        Ok(read(&slices))
    }
}

fn convert_checked(file: &[u8], expected: &Expected<'_>) -> Result<Vec<u8>, TfliteError> {
    let graph = Graph::parse(file)?;
    let side = expected.input_side;
    let input_fits = graph
        .inputs
        .iter()
        .all(|&input| graph.tensors[input].shape == [1, side, side, 3]);
    let outputs_fit = expected.outputs.iter().all(|&(number, shape)| {
        graph
            .outputs
            .get(number)
            .is_some_and(|&tensor| graph.tensors[tensor].shape == shape)
    });
    if !input_fits || !outputs_fit {
        return Err(TfliteError::Unsupported("other inputs or outputs".into()));
    }
    let keep: Vec<usize> = expected.outputs.iter().map(|&(number, _)| number).collect();
    onnx::convert(&graph, &keep)
}

/// Loads ONNX Runtime, once a process.
fn runtime(path: &Path) -> Result<Environment, VisionError> {
    static ENVIRONMENT: Mutex<Option<Environment>> = Mutex::new(None);
    let mut loaded = ENVIRONMENT.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(environment) = &*loaded {
        return Ok(environment.clone());
    }
    if let Err(source) = std::fs::metadata(path) {
        return Err(VisionError::Unreadable {
            what: "ONNX Runtime",
            path: path.to_owned(),
            source,
        });
    }
    // An absolute path keeps the loader from searching elsewhere.
    let absolute = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
    let refused = |source| VisionError::Runtime {
        path: path.to_owned(),
        source,
    };
    let environment = ort::init_from(&absolute)
        .map_err(|error| refused(Box::new(error)))?
        .with_telemetry(false)
        .build()
        .map_err(|error| refused(Box::new(error)))?;
    *loaded = Some(environment.clone());
    Ok(environment)
}

/// A network of these bytes (ONNX), to run on `threads` threads of the runtime at `runtime_path`.
pub(crate) fn session(
    runtime_path: &Path,
    model: &[u8],
    threads: usize,
    what: &'static str,
) -> Result<Session, VisionError> {
    let environment = runtime(runtime_path)?;
    session_builder(&environment, threads)
        .and_then(|mut builder| builder.commit_from_memory(model))
        .map_err(|source| VisionError::Network { what, source })
}

fn session_builder(environment: &Environment, threads: usize) -> ort::Result<SessionBuilder> {
    Ok(Session::builder(environment)?
        .with_optimization_level(GraphOptimizationLevel::All)?
        .with_intra_threads(threads)?
        // Waiting threads would burn the time that the decoder needs.
        .with_intra_op_spinning(false)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::model_files;

    #[test]
    fn a_missing_file_says_what_to_do() {
        let files = ModelFiles {
            person_detector: PathBuf::from("nowhere/person_detector.tflite"),
            ..model_files()
        };
        let message = Networks::load(&files, 1).expect_err("missing").to_string();
        assert_eq!(message.lines().count(), 1);
        for part in [
            "person detector",
            "nowhere/person_detector.tflite",
            "xtask setup",
        ] {
            assert!(message.contains(part), "{message}");
        }
    }

    #[test]
    fn another_network_is_refused() {
        let right = model_files();
        let swapped = ModelFiles {
            person_detector: right.body_landmarks.clone(),
            body_landmarks: right.person_detector.clone(),
            runtime: right.runtime.clone(),
        };
        let error = Networks::load(&swapped, 1).expect_err("swapped");
        assert!(matches!(error, VisionError::WrongFile { .. }), "{error:?}");
        assert!(
            error.to_string().contains("not the one expected"),
            "{error}"
        );
    }
}
