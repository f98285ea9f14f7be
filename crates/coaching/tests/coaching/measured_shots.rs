//! The flight model against 474 measured full shots: CaddieSet (MIT), one half of its shots, in
//! `../shared/data/flight`. Skipped with a printed reason where that folder is absent.
//!
//! Nobody measured their launch angle: the usual one of each kind of club takes its place, so the
//! error of the carry is that guess's and the model's together. How the carry and the lateral
//! distance were come by is not said; if from a model, agreement in sign is less of a proof.
//!
//! `cargo test --release --workspace --test coaching measured_shots:: -- --nocapture` prints the
//! table of `docs/ball.md`.

use lessonwright_coaching::ball::impact::Launch;
use lessonwright_coaching::ball::trajectory::{Flown, fly};
use lessonwright_coaching::ball::{AssumedUnits, ClubKind, Unit, read_shots};
use std::fmt::Write;
use std::path::Path;

const RPM: f64 = std::f64::consts::TAU / 60.0;
/// Less curve than this may be anything, m.
const CURVES_M: f64 = 5.0;

struct Shot {
    club: String,
    kind: ClubKind,
    flown: Flown,
    carry_m: f64,
    /// Lateral distance less carry · sin(start direction).
    curve_m: f64,
    axis_deg: f64,
}

impl Shot {
    fn carry_error_m(&self) -> f64 {
        self.flown.carry_m.hypot(self.flown.side_m) - self.carry_m
    }
}

fn text() -> Option<String> {
    let file = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../../shared/data/flight/measured_shots.csv");
    let text = std::fs::read_to_string(file).ok();
    if text.is_none() {
        println!("skipped: the measured shots are not in ../shared/data/flight");
    }
    text
}

/// A row of the file, with its names.
#[derive(serde::Deserialize)]
#[serde(rename_all = "PascalCase")]
struct Row {
    club_type: String,
    carry: f64,
    lr_distance_out: f64,
    direction_angle: f64,
    spin_back: f64,
    spin_side: f64,
    spin_axis: f64,
    ball_speed: f64,
}

fn shots() -> Option<Vec<Shot>> {
    let text = text()?;
    let rows = csv::Reader::from_reader(text.as_bytes()).into_deserialize();
    Some(rows.map(|row| fly_again(row.expect("a row"))).collect())
}

fn fly_again(row: Row) -> Shot {
    let kind = ClubKind::read(&row.club_type).expect("a club");
    let start = row.direction_angle.to_radians();
    let launch = Launch::seen_along_flight(
        row.ball_speed,
        start,
        kind.usual_launch_deg().to_radians(),
        row.spin_back.hypot(row.spin_side) * RPM,
        row.spin_axis.to_radians(),
    );
    Shot {
        club: row.club_type,
        kind,
        flown: fly(&launch).expect("a measured shot flies"),
        carry_m: row.carry,
        curve_m: row.lr_distance_out - row.carry * start.sin(),
        axis_deg: row.spin_axis,
    }
}

/// The value below which this part of the values lies.
fn quantile(values: impl Iterator<Item = f64>, part: f64) -> f64 {
    let mut values: Vec<f64> = values.collect();
    values.sort_by(f64::total_cmp);
    values[(part * (values.len() - 1) as f64).round() as usize]
}

#[test]
fn the_file_is_read_as_shots_of_any_device_are() {
    let Some(text) = text() else { return };
    let units = AssumedUnits {
        speed: Some(Unit::MetrePerSecond),
        length: Some(Unit::Metre),
    };
    let table = read_shots(&text, units).unwrap();
    assert_eq!(table.shots.len(), 474);
    assert_eq!(table.unknown, ["Distance", "LrDistanceOut", "GolferId"]);
    for shot in &table.shots {
        let measured = &shot.ball.measured;
        assert!(shot.club.is_some());
        assert!(measured.carry_m.is_some() && measured.ball_speed_m_s.is_some());
        assert!(measured.spin_rad_s.is_some() && measured.start_rad.is_some());
    }
    // First row: W1,221.9,…,3.9,1705,-331,-10.98645025,63.0,4
    let first = &table.shots[0].ball.measured;
    assert_eq!(first.ball_speed_m_s, Some(63.0));
    assert!((first.axis_rad.unwrap().to_degrees() + 10.986_450_25).abs() < 1e-9);
    // Without a word on units nothing is guessed.
    let refused = read_shots(&text, AssumedUnits::default()).unwrap_err();
    assert!(
        refused.to_string().contains("\"Carry\": its unit"),
        "{refused}"
    );
}

#[test]
fn measured_balls_curve_to_the_side_their_axis_is_tilted_to() {
    let Some(shots) = shots() else { return };
    assert_eq!(shots.len(), 474);
    let curved: Vec<&Shot> = shots
        .iter()
        .filter(|shot| shot.curve_m.abs() > CURVES_M)
        .collect();
    let right = curved
        .iter()
        .filter(|shot| shot.curve_m * shot.flown.curve_m > 0.0)
        .count();
    println!(
        "sign of the curve: {right} of {} shots with more than 5 m",
        curved.len()
    );
    assert!(curved.len() > 250);
    // What the issue asks for.
    assert!(right as f64 >= 0.97 * curved.len() as f64);
}

#[test]
fn measured_balls_curve_about_as_far_as_flown_ones() {
    let Some(shots) = shots() else { return };
    // The range that the road back allows for (`infer/bend.rs`) holds eight of ten.
    let ratios = || {
        shots
            .iter()
            .filter(|shot| shot.curve_m.abs() > CURVES_M && shot.axis_deg.abs() > 5.0)
            .map(|shot| (shot.curve_m / shot.carry_m) / (shot.flown.curve_m / shot.flown.carry_m))
    };
    let [low, middle, high] = [0.1, 0.5, 0.9].map(|part| quantile(ratios(), part));
    println!(
        "measured over modelled curve: {middle:.2}, 10 to 90 % {low:.2} to {high:.2} ({} shots)",
        ratios().count()
    );
    assert!(low > 0.55 && high < 1.20 && (0.75..0.95).contains(&middle));
}

#[test]
fn measured_balls_carry_about_as_far_as_flown_ones() {
    let Some(shots) = shots() else { return };
    let mut clubs: Vec<(&str, ClubKind)> = shots
        .iter()
        .map(|shot| (shot.club.as_str(), shot.kind))
        .collect();
    clubs.sort_by_key(|(name, kind)| (*kind, *name));
    clubs.dedup();
    let mut table = String::from(
        "| club | shots | launch taken | carry, median | model less measured: median | 10 to 90 % |\n",
    );
    let mut wrong = Vec::new();
    for (name, kind) in clubs {
        let of_club = || shots.iter().filter(move |shot| shot.club == name);
        let errors = || of_club().map(Shot::carry_error_m);
        let carry = quantile(of_club().map(|shot| shot.carry_m), 0.5);
        let [low, middle, high] = [0.1, 0.5, 0.9].map(|part| quantile(errors(), part));
        writeln!(
            table,
            "| {name} | {} | {:.0}° | {carry:.0} m | {middle:+.0} m ({:+.0} %) | {low:+.0} to {high:+.0} m |",
            of_club().count(),
            kind.usual_launch_deg(),
            100.0 * middle / carry
        )
        .unwrap();
        // No source says how far a model without the launch angle may be off; a tenth was expected
        // of drivers, for which it was made, and irons lie outside its range.
        let allowed = if kind <= ClubKind::FairwayWood {
            0.12
        } else {
            0.17
        };
        if middle.abs() > allowed * carry {
            wrong.push(format!("{name}: {middle:.0} m of {carry:.0}"));
        }
    }
    println!("{table}");
    assert!(wrong.is_empty(), "{wrong:#?}\n{table}");
}
