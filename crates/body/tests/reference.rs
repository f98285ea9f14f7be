//! Against tools outside the project: OpenCV's projection, scipy's rotations, de Leva's masses by hand,
//! a dense solve.

use glam::{DVec2, DVec3};
use lessonwright_body::mass::{MEN, centre_of_mass};
use lessonwright_body::measures::*;
use lessonwright_body::solve::Normal;
use lessonwright_body::{Camera, POINTS, Pose, View};
use serde_json::Value;

fn reference() -> Value {
    serde_json::from_str(include_str!("../../../testdata/body/reference.json")).expect("JSON")
}

fn numbers(value: &Value) -> Vec<f64> {
    let list = value.as_array().expect("a list");
    list.iter().map(|n| n.as_f64().expect("a number")).collect()
}

/// `testdata/body/reference.py`: cv2.projectPoints with a rotation made by scipy.
#[test]
fn projection_is_that_of_opencv() {
    let all = reference();
    for case in all["projections"].as_array().expect("cases") {
        let number = |key: &str| case[key].as_f64().expect("a number");
        let camera = Camera {
            view: if case["view"] == "face_on" {
                View::FaceOn
            } else {
                View::DownTheLine
            },
            position: DVec3::from_slice(&numbers(&case["position"])),
            yaw_rad: number("yaw"),
            pitch_rad: number("pitch"),
            roll_rad: number("roll"),
            focal_px: number("focal"),
            middle_px: DVec2::from_slice(&numbers(&case["middle"])),
        };
        let points = case["points"].as_array().expect("points");
        for (point, pixel) in points
            .iter()
            .zip(case["pixels"].as_array().expect("pixels"))
        {
            let here = camera.project(DVec3::from_slice(&numbers(point)));
            let there = DVec2::from_slice(&numbers(pixel));
            assert!(
                here.distance(there) < 1e-6,
                "{}: {here} for {there}",
                case["view"]
            );
        }
    }
}

/// Worked by hand in `testdata/body/reference.py` from de Leva (1996), table 4, men.
#[test]
fn centre_of_mass_is_de_levas() {
    let heights = [0.90, 1.40, 1.10, 0.85, 0.50, 0.08, 0.03, 0.03];
    let mut pose = Pose([DVec3::ZERO; POINTS]);
    for (pair, y) in heights.into_iter().enumerate() {
        for (side, x) in [0.15, -0.15].into_iter().enumerate() {
            let z = if pair == 7 { 0.2 } else { 0.0 };
            pose.0[2 * pair + side] = DVec3::new(x, y, z);
        }
    }
    pose.0[16] = DVec3::new(0.0, 1.60, 0.0);
    let height = reference()["centre_of_mass_height_m"]
        .as_f64()
        .expect("a number");
    let centre = centre_of_mass(&pose, &MEN);
    assert!((centre.y - height).abs() < 1e-9, "{centre}");
    assert!(centre.x.abs() < 1e-12);
}

/// A small system solved by elimination on the full matrix.
#[test]
fn banded_solve_is_the_dense_one() {
    const N: usize = 23;
    const M: usize = 4;
    let mut seed = 7_u64;
    let mut draw = || {
        seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (seed >> 11) as f64 / (1_u64 << 53) as f64 - 0.5
    };
    let mut normal = Normal::zero(N, 6, M);
    let mut dense = vec![vec![0.0; N + M]; N + M];
    let mut right = vec![0.0; N + M];
    for row in 0..120 {
        let at = row % (N - 6);
        let mut jacobian: Vec<(usize, f64)> = [0, 2, 6].map(|k| (at + k, draw())).to_vec();
        jacobian.push((N + row % M, draw()));
        jacobian.push((N + (row + 1) % M, draw()));
        let (weight, residual) = (0.6 + draw(), draw());
        normal.add(weight, residual, &jacobian);
        for &(i, x) in &jacobian {
            right[i] -= weight * residual * x;
            for &(j, y) in &jacobian {
                dense[i][j] += weight * x * y;
            }
        }
    }
    let factor = normal.factor(0.0).expect("positive definite");
    let x = factor.solve(&normal.right);
    let expected = eliminate(dense.clone(), right.clone());
    for (a, b) in x.iter().zip(&expected) {
        assert!((a - b).abs() < 1e-9, "{a} for {b}");
    }
    let quadratic: f64 = right.iter().zip(&expected).map(|(a, b)| a * b).sum();
    assert!((factor.quadratic(&right) - quadratic).abs() < 1e-9);
}

fn eliminate(mut a: Vec<Vec<f64>>, mut b: Vec<f64>) -> Vec<f64> {
    let n = b.len();
    for k in 0..n {
        for i in k + 1..n {
            let share = a[i][k] / a[k][k];
            let pivot = a[k].clone();
            for (value, above) in a[i].iter_mut().zip(&pivot) {
                *value -= share * above;
            }
            b[i] -= share * b[k];
        }
    }
    for k in (0..n).rev() {
        let sum: f64 = (k + 1..n).map(|j| a[k][j] * b[j]).sum();
        b[k] = (b[k] - sum) / a[k][k];
    }
    b
}

/// `testdata/body/measures_reference.py`: bodies put together from scipy rotations of known angles.
#[test]
fn turns_and_bends_are_those_of_scipys_rotations() {
    let text = include_str!("../../../testdata/body/measures_reference.json");
    let all: Value = serde_json::from_str(text).expect("JSON");
    for case in all["cases"].as_array().expect("cases") {
        let mut pose = Pose([DVec3::ZERO; POINTS]);
        for (place, point) in pose
            .0
            .iter_mut()
            .zip(case["points"].as_array().expect("points"))
        {
            *place = DVec3::from_slice(&numbers(point));
        }
        for (name, found) in [
            ("pelvis_turn", pelvis_turn_rad(&pose)),
            ("pelvis_side_bend", pelvis_side_bend_rad(&pose)),
            ("chest_turn", chest_turn_rad(&pose)),
            ("chest_side_bend", chest_side_bend_rad(&pose)),
            ("chest_forward_bend", chest_forward_bend_rad(&pose)),
            ("lead_knee", knee_flexion_rad(&pose, Side::Lead)),
            ("trail_knee", knee_flexion_rad(&pose, Side::Trail)),
            ("lead_elbow", elbow_flexion_rad(&pose, Side::Lead)),
            ("trail_elbow", elbow_flexion_rad(&pose, Side::Trail)),
        ] {
            let truly = case[name].as_f64().expect("an angle");
            // Double precision on both sides.
            assert!((found - truly).abs() < 1e-9, "{name}: {found} for {truly}");
        }
    }
}
