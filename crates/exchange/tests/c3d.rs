//! A C3D file as another program reads it: ezc3d, whose reading of these very bytes is committed.

use lessonwright_exchange::{ExchangeError, Mark, Motion, c3d};
use serde_json::Value;
use std::path::Path;

/// Two points on plain curves, one of them lost for an instant.
fn motion() -> Motion {
    let instants = (0..40).map(|n| {
        let t = f64::from(n) / 120.0;
        let lost = n == 7;
        vec![
            Some([0.5 * t, 1.0 + t * t, -0.25]),
            (!lost).then_some([-0.125, 1.5 - t, 2.0 * t]),
        ]
    });
    Motion {
        rate_hz: 120.0,
        names: ["LeadHip", "TrailShoulder"].map(str::to_owned).to_vec(),
        instants: instants.collect(),
        marks: vec![
            Mark {
                name: "address".into(),
                time_s: 0.0,
            },
            Mark {
                name: "top".into(),
                time_s: 0.25,
            },
        ],
    }
}

fn testdata(name: &str) -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../testdata/exchange")
        .join(name)
}

#[test]
fn another_program_reads_what_was_written() {
    let bytes = c3d(&motion()).unwrap();
    if std::env::var_os("WRITE_TESTDATA").is_some() {
        std::fs::write(testdata("two_points.c3d"), &bytes).unwrap();
    }
    assert!(
        bytes == std::fs::read(testdata("two_points.c3d")).unwrap(),
        "the file changed: WRITE_TESTDATA=1, then testdata/exchange/reference.py"
    );
    // testdata/exchange/reference.py: ezc3d 1.7.2 on that file.
    let read: Value =
        serde_json::from_slice(&std::fs::read(testdata("two_points.json")).unwrap()).unwrap();
    assert_eq!(
        read["labels"],
        serde_json::json!(["LeadHip", "TrailShoulder"])
    );
    assert_eq!(read["unit"], "mm");
    assert_eq!(read["rate_hz"], 120.0);
    assert_eq!(read["event_labels"], serde_json::json!(["address", "top"]));
    assert_eq!(read["event_times_s"], serde_json::json!([0.0, 0.25]));
    let instants = motion().instants;
    assert_eq!(read["points_mm"].as_array().unwrap().len(), instants.len());
    for (found, wanted) in read["points_mm"].as_array().unwrap().iter().zip(&instants) {
        for (found, wanted) in found.as_array().unwrap().iter().zip(wanted) {
            match wanted {
                None => assert!(found.is_null(), "a lost point is lost"),
                Some(at) => {
                    for (axis, metres) in at.iter().enumerate() {
                        // 24 bits of mantissa at 2 m.
                        assert!((found[axis].as_f64().unwrap() - 1000.0 * metres).abs() < 2e-4);
                    }
                }
            }
        }
    }
}

#[test]
fn what_the_format_does_not_hold_is_refused() {
    let mut uneven = motion();
    uneven.instants[3].pop();
    assert!(matches!(c3d(&uneven), Err(ExchangeError::Uneven)));
    let mut many = motion();
    many.instants = vec![many.instants[0].clone(); 40_000];
    assert!(matches!(
        c3d(&many),
        Err(ExchangeError::TooMany { count: 40_000, .. })
    ));
}
