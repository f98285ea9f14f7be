//! Damaged network files give errors, never panics.

use crate::network::onnx_from_tflite;
use crate::testing::model_files;
use crate::tflite::TfliteError;

/// The detector's file: with 3 MB the smaller one; it uses the same operators, sparse weights
/// included.
fn detector_file() -> Vec<u8> {
    let path = model_files().person_detector;
    std::fs::read(&path).unwrap_or_else(|error| {
        panic!(
            "cannot read {} ({error}): run the set-up command, `cargo xtask setup`",
            path.display()
        )
    })
}

const OUTPUTS: [usize; 2] = [0, 1];

#[test]
fn other_files_are_refused() {
    for file in [
        &b""[..],
        b"TFL3",
        b"\x10\0\0\0TFL3",
        b"\x89PNG\r\n\x1a\n and so on",
    ] {
        assert!(onnx_from_tflite(file, &OUTPUTS).is_err());
    }
    assert_eq!(
        onnx_from_tflite(&[0; 64], &OUTPUTS),
        Err(TfliteError::NotTflite)
    );
}

#[test]
fn an_output_that_is_not_there_is_an_error() {
    let file = detector_file();
    assert!(onnx_from_tflite(&file, &OUTPUTS).is_ok());
    assert!(onnx_from_tflite(&file, &[7]).is_err());
}

/// A file cut short at any of many lengths.
#[test]
fn truncated_files_are_errors() {
    let file = detector_file();
    let mut length = file.len() - 1;
    while length > 0 {
        // Close cuts near the file's end and start, where tables lie; wider ones between.
        length -= (length / 40).clamp(1, 60_000);
        let result = onnx_from_tflite(&file[..length], &OUTPUTS);
        assert!(result.is_err(), "cut at {length}");
    }
}

/// Bytes overwritten at random, most of them where tables and not weights lie. A changed weight
/// is no error; what counts is that nothing panics and nothing takes forever.
#[test]
fn garbled_files_do_not_panic() {
    let file = detector_file();
    // Tables lie mostly in the first and last 60 kB of the file.
    let ends = 60_000;
    let mut random = Random(20_240_611);
    let mut errors = 0;
    for round in 0..200 {
        let mut garbled = file.clone();
        for _ in 0..1 + round % 8 {
            let within = random.below(2 * ends);
            let at = if within < ends {
                within
            } else {
                file.len() - 1 - (within - ends)
            };
            garbled[at] = random.below(256) as u8;
        }
        errors += usize::from(onnx_from_tflite(&garbled, &OUTPUTS).is_err());
    }
    assert!(errors > 15, "only {errors} of 200 rounds hit a table");
}

/// The "quick and dirty" generator of Numerical Recipes.
struct Random(u32);

impl Random {
    fn below(&mut self, bound: usize) -> usize {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (self.0 >> 8) as usize % bound
    }
}
