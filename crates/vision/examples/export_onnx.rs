//! Writes the landmark network as an ONNX file, for `testdata/vision/bench_reference.py`.
//!
//! ```text
//! export_onnx body_landmarks.tflite body_landmarks.onnx
//! ```

use std::error::Error;

/// Points, presence and heatmaps, as the tracker uses them.
const OUTPUTS: [usize; 3] = [0, 1, 3];

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().collect();
    let [_, from, to] = &arguments[..] else {
        return Err("usage: export_onnx body_landmarks.tflite body_landmarks.onnx".into());
    };
    let model = lessonwright_vision::onnx_from_tflite(&std::fs::read(from)?, &OUTPUTS)?;
    std::fs::write(to, model)?;
    Ok(())
}
