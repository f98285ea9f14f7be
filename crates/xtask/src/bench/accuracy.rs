//! Errors of the real binary on rendered swings, against their exact truth.
//!
//! The seeds are fixed, and their swings were never looked at while anything was tuned. View and
//! hand are not told to the program, stature is.

use super::swings::{SHORT, Swing};
use crate::shell::{build, built, json_of, root};
use anyhow::{Context, Result};
use serde_json::Value;
use std::collections::BTreeMap;
use std::ops::RangeInclusive;
use std::path::Path;

/// What is reported on. No network was taught any of it, and nothing tuned with it but what the captured motion
/// itself adds to the ±, as other swings pushed by torques do.
#[derive(Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Family {
    /// Swings as golfers differ, of players made of simple solids.
    Drawn,
    /// Swings as golfers differ, of players with people's shapes.
    Shaped,
    /// Bodies, clothes, places and cameras on one captured motion.
    Captured,
    /// The same motion, of players with people's shapes.
    CapturedShaped,
    /// Motion of another making: joints pushed by torques. From other seeds of it comes a part of the ±, nothing else.
    Driven,
    /// The same, of players with people's shapes.
    DrivenShaped,
}

impl Family {
    const ALL: [Family; 6] = [
        Family::Drawn,
        Family::Shaped,
        Family::Captured,
        Family::CapturedShaped,
        Family::Driven,
        Family::DrivenShaped,
    ];

    fn seeds(self) -> RangeInclusive<u64> {
        match self {
            Family::Drawn => 9001..=9100,
            Family::Shaped => 9301..=9350,
            Family::Captured => 1..=12,
            Family::CapturedShaped => 13..=24,
            Family::Driven => 9501..=9520,
            Family::DrivenShaped => 9521..=9540,
        }
    }

    fn title(self) -> &'static str {
        match self {
            Family::Drawn => "Swings as golfers differ",
            Family::Shaped => "Players with people's shapes",
            Family::Captured => "A captured motion",
            Family::CapturedShaped => "A captured motion, players with people's shapes",
            Family::Driven => "Joints pushed by torques",
            Family::DrivenShaped => "Joints pushed by torques, players with people's shapes",
        }
    }

    /// Whether the club is put into the hands by rule, and need not meet its ball: nothing of it is compared then.
    fn club_by_rule(self) -> bool {
        !matches!(self, Family::Drawn | Family::Shaped)
    }

    /// Where its clips are kept, within the folder of all.
    fn folder(self) -> &'static str {
        match self {
            Family::Drawn => "",
            Family::Shaped => "shaped",
            Family::Captured => "captured",
            Family::CapturedShaped => "captured-shaped",
            Family::Driven => "driven",
            Family::DrivenShaped => "driven-shaped",
        }
    }

    /// Options of the stage; `None` where it needs a capture and there is none.
    fn options(self, capture: Option<&str>) -> Option<Vec<&str>> {
        let held_out = ["--shapes", "held-out"];
        let captured = || Some(vec!["--capture", capture?, "--rate-hz", "60"]);
        match self {
            Family::Drawn => Some(Vec::new()),
            Family::Shaped => Some([&SHORT[..], &held_out].concat()),
            Family::Captured => captured(),
            Family::CapturedShaped => Some([captured()?, held_out.to_vec()].concat()),
            Family::Driven => Some([&SHORT[..], &["--driven"]].concat()),
            Family::DrivenShaped => Some([&SHORT[..], &["--driven"], &held_out].concat()),
        }
    }
}

/// Render what is missing, analyse, compare, print: of all families, or of some. A captured motion needs its
/// table of joints (CSV).
pub fn print_table(clips: &Path, only: &[Family], capture: Option<&Path>) -> Result<()> {
    build()?;
    let clips = root().join(clips);
    let capture = capture.map(|table| root().join(table).display().to_string());
    for family in Family::ALL {
        if !only.is_empty() && !only.contains(&family) {
            continue;
        }
        let Some(options) = family.options(capture.as_deref()) else {
            continue;
        };
        println!("\n## {}\n", family.title());
        let folder = clips.join(family.folder());
        print_family(family, &folder, &options)?;
    }
    Ok(())
}

fn print_family(family: Family, clips: &Path, options: &[&str]) -> Result<()> {
    let mut errors = Errors {
        without_club: family.club_by_rule(),
        ..Errors::default()
    };
    for seed in family.seeds() {
        match compare(&Swing::rendered(clips, seed, options)?, clips, &mut errors) {
            Ok(()) => eprintln!("swing {seed} done"),
            Err(error) => {
                errors.failed += 1;
                eprintln!("swing {seed}: {error:#}");
            }
        }
    }
    errors.print();
    Ok(())
}

/// Names of what is read of the club begin so.
const OF_THE_CLUB: [&str; 3] = ["shaft_", "wrist_set", "ball_start"];

/// Signed errors, one entry a swing.
#[derive(Default)]
struct Errors {
    /// Leaves out what is read of the club.
    without_club: bool,
    /// Analysed moment minus true, ms of real time, by "view moment".
    moments_ms: BTreeMap<String, Vec<f64>>,
    /// By measure.
    measures: BTreeMap<String, Vec<Compared>>,
    /// How often a measure was withheld.
    withheld: BTreeMap<String, usize>,
    /// Trail elbow on the right side of the line, where its own ± leaves no doubt.
    elbow_sides: Vec<bool>,
    /// View or hand recognised wrongly.
    misread: usize,
    /// Swings that ended in an error.
    failed: usize,
}

/// One measure of one swing.
struct Compared {
    truly: f64,
    /// Measured minus true.
    error: f64,
    /// Whether the interval holds the truth.
    holds: bool,
}

fn compare(swing: &Swing, studio: &Path, errors: &mut Errors) -> Result<()> {
    let truths = &swing.truths;
    let stature_m = swing.stature_m()?;
    let analysed = json_of(
        built("lessonwright")
            .arg("analyse")
            .args(&swing.clips)
            .args([
                "--json",
                "--stature-cm",
                &format!("{:.1}", stature_m * 100.0),
            ])
            .arg("--studio")
            .arg(studio),
    )?;
    for (number, truth) in truths.iter().enumerate() {
        let report = &analysed["views"][number];
        let right = report["view"] == truth["view"] && report["hand"] == truth["hand"];
        errors.misread += usize::from(!right);
        compare_moments(&analysed, truth, errors)?;
    }
    compare_measures(&analysed, &truths[0], errors)
}

fn compare_moments(analysed: &Value, truth: &Value, errors: &mut Errors) -> Result<()> {
    for true_moment in list(truth, "moments")? {
        if errors.leaves_out(&true_moment["name"]) {
            continue;
        }
        let found = list(analysed, "moments")?
            .iter()
            .find(|m| m["name"] == true_moment["name"] && m["view"] == truth["view"]);
        let key = format!("{} {}", text(&truth["view"]), text(&true_moment["name"]));
        let all = errors.moments_ms.entry(key).or_default();
        if let Some(found) = found {
            let error_s = number(&found["time_s"])? - number(&true_moment["time_s"])?;
            all.push(error_s * 1000.0);
        }
    }
    Ok(())
}

fn compare_measures(analysed: &Value, truth: &Value, errors: &mut Errors) -> Result<()> {
    for measure in list(analysed, "measures")? {
        if errors.leaves_out(&measure["name"]) {
            continue;
        }
        let same = |t: &&Value| {
            let is = |key: &str| t[key] == measure[key];
            is("name") && is("moment") && is("against")
        };
        let Some(truly) = list(truth, "measures")?.iter().find(same) else {
            continue;
        };
        let truly = number(&truly["value"])?;
        let against = match &measure["against"] {
            Value::String(moment) => format!(" from {moment}"),
            _ => String::new(),
        };
        let key = format!(
            "{} {}{against}",
            text(&measure["name"]),
            text(&measure["moment"])
        );
        let Ok(value) = number(&measure["value"]) else {
            *errors.withheld.entry(key).or_default() += 1;
            continue;
        };
        let (low, high) = (number(&measure["low"])?, number(&measure["high"])?);
        if measure["name"] == "trail_elbow_ahead" && (low > 0.0 || high < 0.0) {
            errors.elbow_sides.push((value > 0.0) == (truly > 0.0));
        }
        let holds = (low..=high).contains(&truly);
        errors.measures.entry(key).or_default().push(Compared {
            truly,
            error: value - truly,
            holds,
        });
    }
    Ok(())
}

impl Errors {
    fn leaves_out(&self, name: &Value) -> bool {
        self.without_club
            && OF_THE_CLUB
                .iter()
                .any(|start| text(name).starts_with(start))
    }

    fn print(&self) {
        println!("| moment | n | median of abs. error, ms | 95 % below, ms | mean, ms |");
        println!("|---|---|---|---|---|");
        for (name, all) in &self.moments_ms {
            let [median, high] = at_shares(all, [0.5, 0.95]);
            let (n, mean) = (all.len(), mean(all));
            println!("| {name} | {n} | {median:.1} | {high:.1} | {mean:+.1} |");
        }
        println!(
            "\n| measure | n | withheld | median of abs. error | 95 % below | mean | slope | in the ± |"
        );
        println!("|---|---|---|---|---|---|---|---|");
        for (name, all) in &self.measures {
            let errors: Vec<f64> = all.iter().map(|c| c.error).collect();
            let [median, high] = at_shares(&errors, [0.5, 0.95]);
            let held = share(all.iter().map(|c| c.holds));
            let (n, withheld) = (all.len(), self.withheld.get(name).copied().unwrap_or(0));
            let mean = mean(&errors);
            let slope = slope(all).map_or_else(|| "–".to_owned(), |slope| format!("{slope:.2}"));
            println!(
                "| {name} | {n} | {withheld} | {median:.2} | {high:.2} | {mean:+.2} | {slope} | {held} |"
            );
        }
        for (name, withheld) in &self.withheld {
            if !self.measures.contains_key(name) {
                println!("| {name} | 0 | {withheld} | | | | | |");
            }
        }
        let every = self.measures.values().flatten().map(|c| c.holds);
        println!("\nAll intervals that hold the truth: {}.", share(every));
        let sides = share(self.elbow_sides.iter().copied());
        println!("Trail elbow on the right side, where its ± leaves no doubt: {sides}.");
        println!(
            "View or hand misread: {}. Swings that failed: {}.",
            self.misread, self.failed
        );
    }
}

fn list<'a>(object: &'a Value, key: &str) -> Result<&'a Vec<Value>> {
    object[key]
        .as_array()
        .with_context(|| format!("no list {key:?}"))
}

fn number(value: &Value) -> Result<f64> {
    value
        .as_f64()
        .with_context(|| format!("{value} is no number"))
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or("?")
}

/// Below which these shares of the absolute values lie.
pub(super) fn at_shares<const N: usize>(errors: &[f64], shares: [f64; N]) -> [f64; N] {
    let mut all: Vec<f64> = errors.iter().copied().map(f64::abs).collect();
    all.sort_by(f64::total_cmp);
    shares.map(|share| {
        let place = ((all.len() as f64 - 1.0) * share).round() as usize;
        all.get(place).copied().unwrap_or(f64::NAN)
    })
}

/// What is measured over what is true, each about its mean: 1 where a swing's own departure from the
/// usual is kept whole, 0 where the usual is recited. `None` where all have the same truth.
fn slope(all: &[Compared]) -> Option<f64> {
    let truly = mean(&all.iter().map(|c| c.truly).collect::<Vec<_>>());
    let found = mean(&all.iter().map(|c| c.truly + c.error).collect::<Vec<_>>());
    let together = |c: &Compared| (c.truly - truly) * (c.truly + c.error - found);
    let square = |c: &Compared| (c.truly - truly).powi(2);
    let spread: f64 = all.iter().map(square).sum();
    (spread > 1e-3 * all.len() as f64).then(|| all.iter().map(together).sum::<f64>() / spread)
}

fn mean(all: &[f64]) -> f64 {
    all.iter().sum::<f64>() / all.len() as f64
}

fn share(all: impl Iterator<Item = bool>) -> String {
    let all: Vec<bool> = all.collect();
    if all.is_empty() {
        return "none".into();
    }
    let yes = all.iter().filter(|b| **b).count();
    format!(
        "{yes} of {} ({:.0} %)",
        all.len(),
        100.0 * yes as f64 / all.len() as f64
    )
}
