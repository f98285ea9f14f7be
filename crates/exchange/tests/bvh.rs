//! A BVH file as another program reads it: bvhio, whose places of the joints in these very bytes are committed.

use glam::{DQuat, DVec3};
use lessonwright_exchange::{ExchangeError, Motion, bvh};
use serde_json::Value;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// A standing figure, m: points of the body with the names that the export gives them.
const STANDING: [(&str, [f64; 3]); 17] = [
    ("LeadHip", [0.16, 0.9, 0.02]),
    ("TrailHip", [-0.16, 0.9, -0.02]),
    ("LeadShoulder", [0.18, 1.38, 0.25]),
    ("TrailShoulder", [-0.18, 1.34, 0.25]),
    ("LeadElbow", [0.14, 1.1, 0.35]),
    ("TrailElbow", [-0.14, 1.08, 0.33]),
    ("LeadWrist", [0.03, 0.88, 0.45]),
    ("TrailWrist", [-0.03, 0.86, 0.45]),
    ("LeadKnee", [0.2, 0.48, 0.1]),
    ("TrailKnee", [-0.2, 0.48, 0.1]),
    ("LeadAnkle", [0.22, 0.08, 0.0]),
    ("TrailAnkle", [-0.22, 0.08, 0.0]),
    ("LeadHeel", [0.22, 0.03, -0.05]),
    ("TrailHeel", [-0.22, 0.03, -0.05]),
    ("LeadToe", [0.27, 0.03, 0.15]),
    ("TrailToe", [-0.27, 0.03, 0.15]),
    ("Nose", [0.0, 1.55, 0.45]),
];

/// The figure turns: the pelvis with the legs about the upright, the trunk about its own
/// way up while it bends to the side, the lead forearm bends.
/// No distance along a bone changes, so that a BVH can hold it without error.
fn moving(stretch: f64) -> Motion {
    let figure: BTreeMap<&str, DVec3> = STANDING
        .iter()
        .map(|(name, at)| (*name, DVec3::from(*at)))
        .collect();
    let pelvis = figure["LeadHip"].midpoint(figure["TrailHip"]);
    let chest = figure["LeadShoulder"].midpoint(figure["TrailShoulder"]);
    let instants = (0..25).map(|n| {
        let t = f64::from(n) / 24.0;
        let below = DQuat::from_rotation_y(0.8 * t);
        let bent = DQuat::from_rotation_z(-0.5 * t);
        let above = bent * DQuat::from_axis_angle((below * (chest - pelvis)).normalize(), 1.4 * t);
        let forearm = DQuat::from_rotation_x(-1.9 * t);
        let sway = DVec3::new(0.05 * t, -0.02 * t, 0.01);
        let place = |name: &str| {
            let at = figure[name] - pelvis;
            let upper = ["Shoulder", "Elbow", "Wrist", "Nose"]
                .iter()
                .any(|part| name.contains(part));
            let mut place = below * at;
            if upper {
                place = above * place;
            }
            if name == "LeadWrist" {
                let elbow = above * (below * (figure["LeadElbow"] - pelvis));
                place = elbow + forearm * (place - elbow) * (1.0 + stretch * t);
            }
            Some((place + pelvis + sway).to_array())
        };
        STANDING.iter().map(|(name, _)| place(name)).collect()
    });
    Motion {
        rate_hz: 60.0,
        names: STANDING
            .iter()
            .map(|(name, _)| (*name).to_owned())
            .collect(),
        instants: instants.collect(),
        marks: vec![],
    }
}

fn testdata(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../testdata/exchange")
        .join(name)
}

#[test]
fn another_program_finds_the_joints_where_the_points_are() {
    let written = bvh(&moving(0.0)).unwrap();
    if std::env::var_os("WRITE_TESTDATA").is_some() {
        std::fs::write(testdata("turning.bvh"), &written.bytes).unwrap();
    }
    assert!(
        written.bytes == std::fs::read(testdata("turning.bvh")).unwrap(),
        "the file changed: WRITE_TESTDATA=1, then testdata/exchange/bvh_reference.py"
    );
    assert!(written.error_most_m < 1e-9, "{}", written.error_most_m);
    // testdata/exchange/bvh_reference.py: bvhio on that file.
    let read: Value =
        serde_json::from_slice(&std::fs::read(testdata("turning.json")).unwrap()).unwrap();
    assert!((read["frame_time_s"].as_f64().unwrap() - 1.0 / 60.0).abs() < 1e-7);
    let motion = moving(0.0);
    let instants = read["places_cm"].as_array().unwrap();
    assert_eq!(instants.len(), motion.instants.len());
    for (found, wanted) in instants.iter().zip(&motion.instants) {
        for (name, wanted) in motion.names.iter().zip(wanted) {
            for (axis, metres) in wanted.unwrap().iter().enumerate() {
                let cm = found[name][axis].as_f64().unwrap();
                // bvhio computes in single precision; angles have six decimals.
                assert!(
                    (cm - 100.0 * metres).abs() < 2e-3,
                    "{name} {axis}: {cm} for {}",
                    100.0 * metres
                );
            }
        }
    }
}

#[test]
fn what_a_bone_of_one_length_can_not_follow_is_said_as_an_error() {
    // The forearm, 0.26 m long, grows by a fifth: from its mean it is off by a tenth at either end.
    let forearm = DVec3::from(STANDING[4].1).distance(DVec3::from(STANDING[6].1));
    let written = bvh(&moving(0.2)).unwrap();
    assert!(
        (written.error_most_m - 0.1 * forearm).abs() < 1e-3,
        "{}",
        written.error_most_m
    );
    assert!(written.error_rms_m < written.error_most_m / 3.0);
}

#[test]
fn a_body_that_is_not_whole_is_refused() {
    let mut motion = moving(0.0);
    motion.instants[3][5] = None;
    assert!(matches!(
        bvh(&motion),
        Err(ExchangeError::NoPoint("TrailElbow"))
    ));
    let mut motion = moving(0.0);
    motion.names[16] = "Ear".into();
    assert!(matches!(bvh(&motion), Err(ExchangeError::NoPoint("Nose"))));
}
