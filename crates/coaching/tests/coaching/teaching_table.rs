//! The cause network against the teaching table of the reference values (H), row by row: "ball flight → club → body".
//! That table is common teaching practice put together from other people's work before this network was.

use lessonwright_coaching::{CauseTable, Flight};

/// Flight, and the body and set-up facts that the table's row names, in its order.
const ROWS: [(Flight, &[&str]); 15] = [
    (
        Flight::Slice,
        &[
            "grip_weak",
            "wrist_cupped",
            "face_not_closing",
            "aim_lead",
            "ball_forward",
            "hands_over",
            "chest_opens_early",
            "pelvis_stays_back",
        ],
    ),
    (
        Flight::Pull,
        &[
            "aim_lead",
            "hands_over",
            "chest_opens_early",
            "pelvis_stays_back",
        ],
    ),
    (
        Flight::PullSlice,
        &[
            "aim_lead",
            "hands_over",
            "chest_opens_early",
            "pelvis_stays_back",
        ],
    ),
    (
        Flight::Push,
        &[
            "pelvis_slides_far",
            "pelvis_stalls",
            "pelvis_to_ball_impact",
            "pelvis_behind_at_impact",
            "ball_back",
            "aim_trail",
        ],
    ),
    (
        Flight::Hook,
        &[
            "grip_strong",
            "wrist_bowed",
            "forearms_roll",
            "pelvis_stalls",
            "hands_under",
        ],
    ),
    (
        Flight::PushHook,
        &[
            "grip_strong",
            "hands_under",
            "pelvis_slides_far",
            "pelvis_stalls",
        ],
    ),
    (Flight::PushSlice, &["elbow_behind", "pelvis_to_ball_down"]),
    (
        Flight::Fat,
        &[
            "mass_back_at_impact",
            "pelvis_behind_at_impact",
            "pelvis_sways_away",
            "early_release",
            "head_drops",
            "ball_forward",
        ],
    ),
    (
        Flight::Thin,
        &[
            "pelvis_to_ball_impact",
            "lead_arm_bent_at_impact",
            "head_rises",
            "ball_forward",
            "early_release",
        ],
    ),
    (
        Flight::Top,
        &[
            "pelvis_to_ball_impact",
            "lead_arm_bent_at_impact",
            "head_rises",
        ],
    ),
    (
        Flight::Shank,
        &[
            "weight_on_toes",
            "pelvis_to_ball_impact",
            "head_to_ball",
            "hands_over",
        ],
    ),
    (
        Flight::Toe,
        &["stands_far", "lead_arm_bent_at_impact", "weight_on_heels"],
    ),
    (
        Flight::Sky,
        &["hands_over", "mass_ahead_at_top", "head_to_target_top"],
    ),
    (Flight::High, &["early_release", "mass_back_at_impact"]),
    (Flight::Low, &["ball_back"]),
];

/// The usual body list of a path from outside to inside, in the table's order.
const OUT_TO_IN: [&str; 8] = [
    "aim_lead",
    "pelvis_stays_back",
    "hands_over",
    "chest_opens_early",
    "elbow_behind",
    "takeaway_inside",
    "head_to_target_top",
    "grip_weak",
];

#[test]
fn every_row_of_the_teaching_table_is_in_the_network() {
    let causes = CauseTable::standard();
    let mut missing = Vec::new();
    for (flight, keys) in ROWS {
        for key in keys {
            let body = causes
                .body(key)
                .unwrap_or_else(|| panic!("no body fact {key}"));
            if causes.road(body, flight).is_none() {
                missing.push(format!("{key} → {}", flight.plain()));
            }
        }
    }
    for key in OUT_TO_IN {
        let body = causes
            .body(key)
            .unwrap_or_else(|| panic!("no body fact {key}"));
        if !body.clubs.iter().any(|link| link.club == "path_out_to_in") {
            missing.push(format!("{key} → path_out_to_in"));
        }
    }
    assert!(missing.is_empty(), "{missing:#?}");
}

#[test]
fn what_the_table_calls_a_slices_cause_is_no_hooks_cause() {
    // A network in which everything leads everywhere would pass the test above.
    let causes = CauseTable::standard();
    let has = |key: &str, flight| causes.road(causes.body(key).unwrap(), flight).is_some();
    for key in [
        "grip_weak",
        "wrist_cupped",
        "face_not_closing",
        "aim_lead",
        "chest_opens_early",
    ] {
        assert!(
            !has(key, Flight::Hook) && !has(key, Flight::PushHook),
            "{key}"
        );
    }
    for key in ["grip_strong", "wrist_bowed", "forearms_roll", "hands_under"] {
        assert!(
            !has(key, Flight::Slice) && !has(key, Flight::PullSlice),
            "{key}"
        );
    }
    let roads = |flight| {
        causes
            .bodies()
            .iter()
            .filter(|b| causes.road(b, flight).is_some())
            .count()
    };
    for (flight, _) in ROWS {
        assert!(
            2 * roads(flight) < causes.bodies().len(),
            "{}: {}",
            flight.plain(),
            roads(flight)
        );
    }
}
