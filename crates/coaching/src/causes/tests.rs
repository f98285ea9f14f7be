//! The standard table against the reference it was made from.

use super::*;
use lessonwright_model::{CauseGrade, MeasureName, MomentName};
use std::collections::BTreeSet;

/// Every row of the teaching table (reference-values H).
const TAUGHT: [Flight; 15] = [
    Flight::Slice,
    Flight::Hook,
    Flight::Pull,
    Flight::PullSlice,
    Flight::PullHook,
    Flight::Push,
    Flight::PushSlice,
    Flight::PushHook,
    Flight::Fat,
    Flight::Thin,
    Flight::Top,
    Flight::Shank,
    Flight::Toe,
    Flight::Sky,
    Flight::High,
];

fn with_a_road(table: &CauseTable, flight: Flight) -> Vec<&BodyFact> {
    let has = |body: &&BodyFact| table.road(body, flight).is_some();
    table.bodies().iter().filter(has).collect()
}

#[test]
fn every_flight_of_the_teaching_table_has_several_causes() {
    let table = CauseTable::standard();
    for flight in TAUGHT {
        assert!(with_a_road(&table, flight).len() >= 2, "{flight:?}");
    }
    assert!(!with_a_road(&table, Flight::Low).is_empty());
}

#[test]
fn a_wanted_flight_has_no_cause_to_look_for() {
    let table = CauseTable::standard();
    for flight in [Flight::Straight, Flight::Fade, Flight::Draw] {
        assert!(with_a_road(&table, flight).is_empty(), "{flight:?}");
    }
}

#[test]
fn links_are_graded_as_the_reference_grades_them() {
    // Reference-values H: face and path to start and curve A; weight shift, separation and straight lead
    // arm to ball speed B; body to path and face D.
    let table = CauseTable::standard();
    for body in table.bodies() {
        for link in &body.clubs {
            let speed = link.club == "speed_lost";
            assert_eq!(
                speed,
                link.grade != CauseGrade::D,
                "{} → {}",
                body.key,
                link.club
            );
        }
    }
    for key in [
        "path_out_to_in",
        "path_in_to_out",
        "face_open",
        "face_closed",
    ] {
        let club = table.club(key).unwrap();
        assert!(club.flights.len() >= 4);
        for link in &club.flights {
            assert_eq!(link.grade, CauseGrade::A, "{key} → {:?}", link.flight);
        }
    }
    for key in [
        "pelvis_stays_back",
        "chest_opens_early",
        "lead_arm_bends",
        "mass_back_at_impact",
    ] {
        let body = table.body(key).unwrap();
        let speed = body.clubs.iter().find(|link| link.club == "speed_lost");
        assert_eq!(speed.map(|link| link.grade), Some(CauseGrade::B), "{key}");
    }
}

#[test]
fn face_and_path_give_the_nine_flights() {
    // The D-plane (Jorgensen 1999; reference-values H): the ball starts with the face, between face and
    // path, and curves to the side of the path on which the face looks.
    let table = CauseTable::standard();
    let gives = |club: &str, flight| {
        table
            .club(club)
            .unwrap()
            .flights
            .iter()
            .any(|to| to.flight == flight)
    };
    let curve_trail = [Flight::Slice, Flight::PullSlice, Flight::PushSlice];
    let curve_lead = [Flight::Hook, Flight::PullHook, Flight::PushHook];
    for (flight, other) in curve_trail.into_iter().zip(curve_lead) {
        assert!(
            gives("face_open", flight) && !gives("face_closed", flight),
            "{flight:?}"
        );
        assert!(
            gives("face_closed", other) && !gives("face_open", other),
            "{other:?}"
        );
    }
    for flight in [Flight::Pull, Flight::PullSlice, Flight::PullHook] {
        assert!(gives("path_out_to_in", flight) && !gives("path_in_to_out", flight));
    }
    for flight in [Flight::Push, Flight::PushSlice, Flight::PushHook] {
        assert!(gives("path_in_to_out", flight) && !gives("path_out_to_in", flight));
    }
}

#[test]
fn nothing_rests_on_how_far_anyone_turns_back() {
    // McTeigue et al. 1994 (reference-values A1): turn at the top does not separate skill.
    for body in CauseTable::standard().bodies() {
        let turn = body.shown.as_ref().is_some_and(|shown| {
            matches!(
                shown.measure,
                MeasureName::PelvisTurn | MeasureName::ChestTurn
            )
        });
        assert!(!(turn && body.moment == MomentName::Top), "{}", body.key);
    }
}

#[test]
fn upstream_runs_through_several_links() {
    let table = CauseTable::standard();
    assert!(table.leads_to("pelvis_sways_away", "elbow_behind"));
    assert!(table.leads_to("posture_slumped", "hands_over"));
    assert!(!table.leads_to("elbow_behind", "pelvis_stays_back"));
}

#[test]
fn every_club_fact_and_limit_and_goal_is_used() {
    let table = CauseTable::standard();
    let linked: BTreeSet<&str> = table
        .bodies()
        .iter()
        .flat_map(|b| &b.clubs)
        .map(|l| l.club.as_str())
        .collect();
    let clubs: BTreeSet<&str> = table.clubs().iter().map(|c| c.key.as_str()).collect();
    assert_eq!(linked, clubs);
    for limit in table.limits() {
        assert!(
            table
                .bodies()
                .iter()
                .any(|b| b.lowered_by.contains(&limit.key)),
            "{}",
            limit.key
        );
    }
    for goal in table.goals() {
        assert!(
            table.bodies().iter().any(|b| table.serves(b, &goal.key)),
            "{}",
            goal.key
        );
    }
}
