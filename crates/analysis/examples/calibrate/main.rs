//! Reads swings with known truth, prints how wrong the analysis is, and writes the calibration.
//!
//! ```text
//! calibrate [--landmarks] [--exact] [--each] [--write FILE] FOLDER
//! ```
//!
//! FOLDER holds one JSON file a swing, tuning swings only (never those that are reported on):
//! `{"stature_m", "clips": [{"facts", "track", "centres", "strikes", "truth"}]}`, where `truth` is what the
//! stage writes. Every measure that the truth has gets a row, for each set of views and in each way it
//! can be taken. `--landmarks` takes the landmarks as they are instead of joint centres. `--exact` takes the points as known exactly (a check of the geometry).
//! `--each` prints truth, error and ± of every swing.
//! `--write` derives the table from these swings, writes it, and prints the errors that are left;
//! each fifth of the swings judged with the table of the others. (Lengths and moments under the
//! measures' own biases are those of all swings: fitting each body five times over takes too long.)

mod cases;
mod derive;
mod judge;
mod readings;
mod statistics;
mod table;

use cases::{Case, read_cases};
use judge::{print_measures, print_moments};
use lessonwright_analysis::Calibration;
use lessonwright_analysis::clean::Points;
use readings::Readings;
use std::path::Path;

fn main() {
    let mut points = Points::JointCentres;
    let mut exact = false;
    let mut each = false;
    let mut write = None;
    let mut folder = None;
    let mut arguments = std::env::args().skip(1);
    while let Some(argument) = arguments.next() {
        match argument.as_str() {
            "--landmarks" => points = Points::Landmarks,
            "--exact" => exact = true,
            "--each" => each = true,
            "--write" => write = arguments.next(),
            other => folder = Some(other.to_owned()),
        }
    }
    let folder =
        folder.expect("usage: calibrate [--landmarks] [--exact] [--each] [--write FILE] FOLDER");
    let cases = read_cases(Path::new(&folder), points);
    println!("{} swings from {folder}", cases.len());
    let start = if exact {
        Calibration::exact()
    } else {
        Calibration::of(points)
    };
    let Some(file) = write else {
        let of = |_: usize| start.clone();
        print_moments(&cases, each, &of);
        print_measures(&cases, &Readings::take(&cases, &start), each, &of);
        return;
    };
    let all: Vec<&Case> = cases.iter().collect();
    let mut whole = derive::lengths_and_moments(&all, points);
    let readings = Readings::take(&cases, &whole);
    whole.measures = derive::measures(&readings, &|_| true);
    std::fs::write(&file, table::source(&whole, cases.len())).expect("the table can be written");
    println!("wrote {file}; errors of each fifth with the table of the other four:");
    let others: Vec<Calibration> = (0..FOLDS)
        .map(|fold| {
            let kept = |i: usize| i % FOLDS != fold;
            let others: Vec<&Case> = (0..cases.len())
                .filter(|i| kept(*i))
                .map(|i| &cases[i])
                .collect();
            Calibration {
                measures: derive::measures(&readings, &kept),
                ..derive::lengths_and_moments(&others, points)
            }
        })
        .collect();
    let of = |case: usize| others[case % FOLDS].clone();
    print_moments(&cases, each, &of);
    print_measures(&cases, &readings, each, &of);
}

/// Parts into which the swings are divided to judge the table on swings it was not made of.
const FOLDS: usize = 5;
