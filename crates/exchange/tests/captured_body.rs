//! How far a BVH of a real, captured body lies from its points: the open capture that goes with the project's test data (CMU
//! Graphics Lab Motion Capture Database; one golf swing, joints by forward kinematics). Skipped where the folder is absent.

use lessonwright_exchange::{Motion, bvh};
use std::path::Path;

/// Points of the body and the joints of the capture they are; the capture has no heels.
const POINTS: [(&str, &str); 15] = [
    ("LeadHip", "l_hip"),
    ("TrailHip", "r_hip"),
    ("LeadShoulder", "l_shoulder"),
    ("TrailShoulder", "r_shoulder"),
    ("LeadElbow", "l_elbow"),
    ("TrailElbow", "r_elbow"),
    ("LeadWrist", "l_wrist"),
    ("TrailWrist", "r_wrist"),
    ("LeadKnee", "l_knee"),
    ("TrailKnee", "r_knee"),
    ("LeadAnkle", "l_ankle"),
    ("TrailAnkle", "r_ankle"),
    ("LeadToe", "l_toe"),
    ("TrailToe", "r_toe"),
    ("Nose", "nose_proxy_head"),
];

fn captured() -> Option<Motion> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../shared/data/mocap");
    let file = root.join("cmu_golf_swing_joints.csv");
    let mut reader = csv::Reader::from_path(&file).ok()?;
    let names = reader.headers().expect("a row of names").clone();
    let column = |name: String| {
        names
            .iter()
            .position(|known| *known == name)
            .expect("a column")
    };
    let places: Vec<[usize; 3]> = POINTS
        .iter()
        .map(|(_, joint)| ["target", "up", "ball"].map(|axis| column(format!("{joint}_{axis}_cm"))))
        .collect();
    let mut instants = Vec::new();
    for record in reader.records() {
        let record = record.expect("a row");
        let at = |place: &[usize; 3]| {
            place.map(|cell| record[cell].parse::<f64>().expect("a number") / 100.0)
        };
        let mut points: Vec<Option<[f64; 3]>> =
            places.iter().map(|place| Some(at(place))).collect();
        for (ankle, toe) in [(10, 12), (11, 13)] {
            // A stiff foot: the heel lies behind the ankle and below it, on the line through ankle and toe.
            let (ankle, toe) = (
                points[ankle].expect("a point"),
                points[toe].expect("a point"),
            );
            points.push(Some(
                [0, 1, 2].map(|axis| ankle[axis] - 0.3 * (toe[axis] - ankle[axis])),
            ));
        }
        instants.push(points);
    }
    let heels = ["LeadHeel", "TrailHeel"].map(str::to_owned);
    Some(Motion {
        rate_hz: 120.0,
        names: POINTS
            .iter()
            .map(|(name, _)| (*name).to_owned())
            .chain(heels)
            .collect(),
        instants,
        marks: vec![],
    })
}

#[test]
fn a_captured_body_is_followed_within_a_centimetre() {
    let Some(motion) = captured() else {
        println!("skipped: there is no capture in ../shared/data/mocap");
        return;
    };
    let written = bvh(&motion).unwrap();
    let (rms_mm, most_mm) = (1e3 * written.error_rms_m, 1e3 * written.error_most_m);
    println!(
        "BVH of the captured swing: {rms_mm:.1} mm rms, {most_mm:.1} mm at most, {} instants",
        motion.instants.len()
    );
    assert_eq!(motion.instants.len(), 401);
    // The figures of docs/open-data.md.
    assert!(rms_mm < 2.5 && most_mm < 10.0, "{rms_mm} {most_mm}");
}
