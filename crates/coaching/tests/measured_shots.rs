//! The flight model against 474 measured full shots: CaddieSet (MIT), one half of its shots, in
//! `../shared/data/flight`. Skipped with a printed reason where that folder is absent.
//!
//! Nobody measured their launch angle: the usual one of each kind of club takes its place, so the
//! error of the carry is that guess's and the model's together. How the carry and the lateral
//! distance were come by is not said; if from a model, agreement in sign is less of a proof.
//!
//! `cargo test --release -p lessonwright-coaching --test measured_shots -- --nocapture` prints the
//! table of `docs/ball.md`.

use lessonwright_coaching::ball::ClubKind;
use lessonwright_coaching::ball::impact::Launch;
use lessonwright_coaching::ball::trajectory::{Flown, fly};
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

fn shots() -> Option<Vec<Shot>> {
    let file = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../../shared/data/flight/measured_shots.csv");
    let Ok(text) = std::fs::read_to_string(&file) else {
        println!("skipped: the measured shots are not in ../shared/data/flight");
        return None;
    };
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let header = reader.headers().unwrap().clone();
    let all = reader.records().map(|record| {
        let record = record.unwrap();
        let cell = |name: &str| {
            record
                .get(header.iter().position(|h| h == name).unwrap())
                .unwrap()
        };
        let number = |name: &str| cell(name).parse::<f64>().unwrap();
        let kind = ClubKind::read(cell("ClubType")).unwrap();
        let start = number("DirectionAngle").to_radians();
        let launch = Launch::seen_along_flight(
            number("BallSpeed"),
            start,
            kind.usual_launch_deg().to_radians(),
            number("SpinBack").hypot(number("SpinSide")) * RPM,
            number("SpinAxis").to_radians(),
        );
        Shot {
            club: cell("ClubType").into(),
            kind,
            flown: fly(&launch).expect("a measured shot flies"),
            carry_m: number("Carry"),
            curve_m: number("LrDistanceOut") - number("Carry") * start.sin(),
            axis_deg: number("SpinAxis"),
        }
    });
    Some(all.collect())
}

/// The value below which this part of the values lies.
fn quantile(values: impl Iterator<Item = f64>, part: f64) -> f64 {
    let mut values: Vec<f64> = values.collect();
    values.sort_by(f64::total_cmp);
    values[(part * (values.len() - 1) as f64).round() as usize]
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
