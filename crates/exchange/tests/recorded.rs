//! Motion of other systems, read.

use lessonwright_exchange::recorded::{Asked, Recorded, RecordedError, Target, golfer};
use lessonwright_exchange::{Motion, bvh, c3d};
use lessonwright_model::{CAPTURED_POINTS, CapturedBody, Hand};
use std::path::{Path, PathBuf};

fn testdata(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../testdata/exchange")
        .join(name)
}

/// The open capture (CMU Graphics Lab Motion Capture Database), if it is there.
fn capture() -> Option<Vec<u8>> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../shared/data/mocap");
    let bytes = std::fs::read(root.join("cmu_golf_swing.bvh")).ok();
    if bytes.is_none() {
        println!("skipped: there is no capture in ../shared/data/mocap");
    }
    bytes
}

fn swing(bytes: &[u8]) -> CapturedBody {
    golfer(&Recorded::read(bytes).expect("read"), &Asked::default()).expect("a golfer")
}

/// As our export writes a captured body.
fn exported(captured: &CapturedBody) -> Motion {
    let point = |at: &[f64; 3]| Some(at.map(|mm| mm / 1000.0));
    Motion {
        rate_hz: captured.rate_hz,
        names: CAPTURED_POINTS.map(str::to_owned).to_vec(),
        instants: captured
            .poses_mm
            .iter()
            .map(|pose| pose.iter().map(point).collect())
            .collect(),
        marks: vec![],
    }
}

/// The largest distance between like points, mm.
fn apart_mm(a: &CapturedBody, b: &CapturedBody) -> f64 {
    assert_eq!(a.poses_mm.len(), b.poses_mm.len());
    let pairs = a.poses_mm.iter().flatten().zip(b.poses_mm.iter().flatten());
    pairs.fold(0.0, |most: f64, (a, b)| {
        let square: f64 = (0..3).map(|axis| (a[axis] - b[axis]).powi(2)).sum();
        most.max(square.sqrt())
    })
}

#[test]
fn joints_of_the_open_capture_lie_where_its_table_has_them() {
    let Some(bytes) = capture() else { return };
    let recorded = Recorded::read(&bytes).unwrap();
    assert_eq!(recorded.instants.len(), 401);
    assert!((recorded.rate_hz - 120.0).abs() < 1e-3);
    // cmu_golf_swing_joints.csv: the same joints by another program's forward kinematics. Its axes are turned and moved
    // against the file's, so distances between joints are compared; printed to 0.001 cm.
    let table = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../../shared/data/mocap/cmu_golf_swing_joints.csv");
    let mut reader = csv::Reader::from_path(table).unwrap();
    let header = reader.headers().unwrap().clone();
    let column = |name: &str| header.iter().position(|known| known == name).unwrap();
    let joints = [
        ("l_wrist", "LeftHand"),
        ("r_ankle", "RightFoot"),
        ("neck", "Neck"),
        ("l_hip", "LeftUpLeg"),
    ];
    for (frame, record) in reader.records().enumerate() {
        let record = record.unwrap();
        let in_table = |name: &str| {
            ["target", "up", "ball"].map(|axis| {
                let cell = column(&format!("{name}_{axis}_cm"));
                record[cell].parse::<f64>().unwrap()
            })
        };
        let in_file = |name: &str| {
            let point = recorded.names.iter().position(|known| known == name);
            recorded.instants[frame][point.unwrap()].unwrap()
        };
        for (a, b) in [(0, 1), (1, 2), (2, 3), (0, 3)] {
            let (p, q) = (in_table(joints[a].0), in_table(joints[b].0));
            let wanted = (0..3).map(|i| (p[i] - q[i]).powi(2)).sum::<f64>().sqrt();
            let found = in_file(joints[a].1).distance(in_file(joints[b].1));
            assert!(
                (found - wanted).abs() < 0.005,
                "frame {frame}: {found} {wanted}"
            );
        }
    }
}

#[test]
fn the_open_capture_is_a_right_handers_swing_in_centimetres() {
    let Some(bytes) = capture() else { return };
    let swing = swing(&bytes);
    assert_eq!(swing.hand, Hand::Right);
    // Thigh and shank of its skeleton are 0.841 m together: over 0.491, 1.71 m.
    assert!(
        (swing.stature_m - 1.712).abs() < 0.01,
        "{}",
        swing.stature_m
    );
    assert!(swing.poses_mm.len() > 380 && (swing.rate_hz - 120.0).abs() < 1e-3);
    assert!(swing.notes.iter().any(|note| note.contains("centimetres")));
    // At the start the ankles are 45.6 cm apart along the target and the wrists 34 cm before them (its table, row 0).
    let at = |name: &str| {
        let point = CAPTURED_POINTS.iter().position(|known| *known == name);
        swing.poses_mm[0][point.unwrap()]
    };
    let feet = at("LeadAnkle")[0] - at("TrailAnkle")[0];
    assert!((feet - 456.0).abs() < 5.0, "{feet}");
    let ahead = at("LeadWrist")[2] - at("LeadAnkle")[2];
    assert!((ahead - 342.0).abs() < 15.0, "{ahead}");
}

#[test]
fn what_we_export_comes_back_in_its_place() {
    let Some(bytes) = capture() else { return };
    let swing = swing(&bytes);
    let motion = exported(&swing);
    let again = self::swing(&c3d(&motion).unwrap());
    // 24 bits of mantissa, and tenths of a millimetre twice.
    assert!(
        apart_mm(&swing, &again) < 0.2,
        "{}",
        apart_mm(&swing, &again)
    );
    let written = bvh(&motion).unwrap();
    let again = self::swing(&written.bytes);
    // As far as the writer says that its stiff bones lie off (docs/open-data.md), and no farther.
    let most_mm = 1000.0 * written.error_most_m;
    assert!(apart_mm(&swing, &again) < most_mm + 0.2);
    assert!(apart_mm(&swing, &again) > most_mm - 0.2);
}

#[test]
fn a_left_handers_export_comes_back_left_handed() {
    let Some(bytes) = capture() else { return };
    let swing = swing(&bytes);
    let mut motion = exported(&swing);
    // Our export turns x back for a left-hander.
    for point in motion.instants.iter_mut().flatten().flatten() {
        point[0] = -point[0];
    }
    let again = self::swing(&c3d(&motion).unwrap());
    assert_eq!(again.hand, Hand::Left);
    assert!(apart_mm(&swing, &again) < 0.2);
}

#[test]
fn axes_and_units_are_worked_out() {
    let Some(bytes) = capture() else { return };
    let recorded = Recorded::read(&bytes).unwrap();
    let swing = golfer(&recorded, &Asked::default()).unwrap();
    let inches_z_up = Recorded {
        instants: recorded
            .instants
            .iter()
            .map(|points| {
                let turned = |at: &glam::DVec3| glam::DVec3::new(at.z, at.x, at.y) / 2.54;
                points.iter().map(|at| at.as_ref().map(turned)).collect()
            })
            .collect(),
        ..recorded.clone()
    };
    let again = golfer(&inches_z_up, &Asked::default()).unwrap();
    assert!(
        apart_mm(&swing, &again) < 0.3,
        "{}",
        apart_mm(&swing, &again)
    );
    assert!(again.notes.iter().any(|note| note.contains("inches")));
    // Stated wrongly it is refused, in words.
    let refused = |asked: Asked| golfer(&inches_z_up, &asked).unwrap_err().to_string();
    let up = Asked {
        up: Some("+y".parse().unwrap()),
        ..Asked::default()
    };
    assert!(refused(up).contains("not above the feet along +y"));
    let target = Asked {
        target: Target::Along("+z".parse().unwrap()),
        ..Asked::default()
    };
    assert!(refused(target).contains("can't be up"));
    let unit = Asked {
        unit_m: Some(1.0),
        ..Asked::default()
    };
    assert!(refused(unit).contains("tall"));
}

#[test]
fn bad_files_are_refused_with_what_is_wrong() {
    let Some(bytes) = capture() else { return };
    let text = String::from_utf8(bytes).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    let motion = lines.iter().position(|line| *line == "MOTION").unwrap();
    let with_frames = |count: usize| {
        let mut lines = lines[..motion + 3 + count].to_vec();
        let said = format!("Frames: {count}");
        lines[motion + 1] = &said;
        lines.join("\n")
    };
    let cut = lines[..motion + 100].join("\n");
    let armless = text.replace("Arm", "Wing").replace("Hand", "Tip");
    let still = {
        let frame = lines[motion + 3];
        let head = with_frames(401);
        let head: Vec<&str> = head.lines().take(motion + 3).collect();
        [head.join("\n"), vec![frame; 401].join("\n")].join("\n")
    };
    for (what, file, said) in [
        (
            "cut short",
            cut,
            "cut short: 401 frames are announced, 97 are there",
        ),
        ("eight frames", with_frames(8), "only 8 instants"),
        (
            "no arms",
            armless,
            "the left elbow (LeftForearm; or markers LELB and LELBM); the left wrist",
        ),
        ("standing", still, "to neither side"),
        ("a photo", "JFIF".to_owned(), "neither a BVH file"),
        ("half a tree", lines[..40].join("\n"), "there is no MOTION"),
    ] {
        let read = Recorded::read(file.as_bytes());
        let refused = read.and_then(|read| golfer(&read, &Asked::default()));
        let refused = refused.expect_err(what).to_string();
        assert!(refused.contains(said), "{what}: {refused}");
    }
}

/// `testdata/exchange/markers.py`: ezc3d writes floats, c3d whole tenths of a millimetre (cut, not rounded).
fn of_other_programs() -> (serde_json::Value, [(&'static str, Recorded, f64); 2]) {
    let read =
        |name: &str| Recorded::read(&std::fs::read(testdata(name)).expect(name)).expect(name);
    let truth = serde_json::from_slice(&std::fs::read(testdata("markers.json")).expect("there"));
    let [float, integer] = ["markers_float.c3d", "markers_integer.c3d"];
    let files = [(float, read(float), 0.001), (integer, read(integer), 0.101)];
    (truth.expect("JSON"), files)
}

#[test]
fn points_of_other_programs_files_are_where_they_wrote_them() {
    let (truth, files) = of_other_programs();
    for (name, recorded, tolerance_mm) in files {
        assert_eq!(recorded.rate_hz, 50.0, "{name}");
        assert_eq!(recorded.unit_m, Some(0.001), "{name}");
        assert_eq!(recorded.instants.len(), 150, "{name}");
        for (label, places) in truth["markers_mm"].as_object().unwrap() {
            let point = recorded.names.iter().position(|known| known == label);
            let point = point.unwrap_or_else(|| panic!("{name} has no {label}"));
            let every_tenth = recorded.instants.iter().step_by(10);
            for (found, wanted) in every_tenth.zip(places.as_array().unwrap()) {
                for axis in 0..3 {
                    let off = found[point].unwrap()[axis] - wanted[axis].as_f64().unwrap();
                    assert!(off.abs() < tolerance_mm, "{name} {label}: {off}");
                }
            }
        }
    }
}

#[test]
fn joint_centres_are_worked_out_from_markers() {
    let (truth, files) = of_other_programs();
    for (name, recorded, tolerance_mm) in files {
        let swing = golfer(&recorded, &Asked::default()).unwrap();
        assert_eq!(swing.hand, Hand::Right, "{name}");
        // The lab's y is the target, z up, x toward the ball; ankles stand 85 mm over the lab's ground, and as high as
        // the stature has them over ours.
        let lift = 39.0 * swing.stature_m - 85.0;
        for (centre, places) in truth["centres_mm"].as_object().unwrap() {
            let point = CAPTURED_POINTS.iter().position(|known| known == centre);
            let every_tenth = swing.poses_mm.iter().step_by(10);
            for (found, wanted) in every_tenth.zip(places.as_array().unwrap()) {
                let wanted = [1, 2, 0].map(|axis| wanted[axis].as_f64().unwrap());
                let wanted = [wanted[0], wanted[1] + lift, wanted[2]];
                for axis in 0..3 {
                    let off = found[point.unwrap()][axis] - wanted[axis];
                    // Tenths of a millimetre are kept.
                    assert!(
                        off.abs() < 2.0 * tolerance_mm + 0.06,
                        "{name} {centre}: {off}"
                    );
                }
            }
        }
    }
}

#[test]
fn markers_on_one_side_of_a_joint_are_refused_by_name() {
    let bytes = std::fs::read(testdata("markers_float.c3d")).unwrap();
    let mut recorded = Recorded::read(&bytes).unwrap();
    let inner = recorded.names.iter().position(|name| name == "LKNM");
    recorded.names[inner.unwrap()] = "BALL".into();
    let refused = golfer(&recorded, &Asked::default()).unwrap_err();
    assert!(matches!(refused, RecordedError::NoPoints { .. }));
    let said = refused.to_string();
    assert!(
        said.contains("the left knee (LeftLeg; or markers LKNE and LKNM)")
            && !said.contains("right"),
        "{said}"
    );
}
