//! Every measure of every swing as it is read before biases are taken off, beside its truth.

use crate::cases::{Case, GIVEN, run, true_measure};
use lessonwright_analysis::calibration::{BodySpread, Seen, Unlisted};
use lessonwright_analysis::{Calibration, Way};
use lessonwright_model::*;

/// Which measure, from which views, in which way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Key {
    pub name: MeasureName,
    pub moment: MomentName,
    pub against: Option<MomentName>,
    pub seen: Seen,
    pub way: Way,
}

impl Key {
    /// Tempo has no error but that of its moments.
    pub fn is_tempo(&self) -> bool {
        is_tempo(self.name)
    }
}

fn is_tempo(name: MeasureName) -> bool {
    use MeasureName::{BackswingTime, DownswingTime, TempoRatio};
    matches!(name, BackswingTime | DownswingTime | TempoRatio)
}

/// One measure of one swing.
#[derive(Clone, Copy, Debug)]
pub struct Reading {
    pub case: usize,
    /// Which clips were given.
    pub given: Seen,
    pub key: Key,
    pub value: f64,
    /// What noise, scale and timing account for (1 sd).
    pub sd: f64,
    pub truth: f64,
}

/// All of them.
pub struct Readings(Vec<Reading>);

impl Readings {
    /// Reads all cases, on two threads.
    pub fn take(cases: &[Case], calibration: &Calibration) -> Readings {
        let silent = silent(calibration);
        let half = cases.len().div_ceil(2).max(1);
        let read = |first: usize, cases: &[Case]| -> Vec<Reading> {
            let numbered = cases.iter().enumerate();
            numbered
                .flat_map(|(i, case)| read_case(first + i, case, &silent))
                .collect()
        };
        std::thread::scope(|scope| {
            let parts: Vec<_> = cases
                .chunks(half)
                .enumerate()
                .map(|(part, cases)| scope.spawn(move || read(part * half, cases)))
                .collect();
            let joined = parts
                .into_iter()
                .flat_map(|part| part.join().expect("a thread that reads"));
            Readings(joined.collect())
        })
    }

    /// The measures read with some clips, in order.
    pub fn keys(&self, given: Seen) -> Vec<Key> {
        let mut keys: Vec<Key> = Vec::new();
        for reading in self.0.iter().filter(|r| r.given == given) {
            if !keys.contains(&reading.key) {
                keys.push(reading.key);
            }
        }
        keys.sort_by_key(|k| (k.name, k.way == Way::Body, k.moment, k.against));
        keys
    }

    /// One measure's readings with some clips.
    pub fn of(&self, given: Seen, key: Key) -> impl Iterator<Item = &Reading> {
        let wanted = move |r: &&Reading| r.given == given && r.key == key;
        self.0.iter().filter(wanted)
    }
}

fn read_case(number: usize, case: &Case, silent: &Calibration) -> Vec<Reading> {
    let mut readings = Vec::new();
    for (_, given) in GIVEN {
        for way in [Way::Picture, Way::Body] {
            let Some((measured, truths)) = run(case, given, way, silent.clone()) else {
                continue;
            };
            for m in &measured.measures {
                let numbers = (
                    m.value,
                    m.low,
                    m.high,
                    truths.iter().find_map(|t| true_measure(t, m)),
                );
                let (Some(value), Some(low), Some(high), Some(truth)) = numbers else {
                    continue;
                };
                if way == Way::Body && is_tempo(m.name) {
                    continue;
                }
                let reading = Reading {
                    case: number,
                    given,
                    key: Key {
                        name: m.name,
                        moment: m.moment,
                        against: m.against,
                        seen: seen(m.view),
                        way,
                    },
                    value: near(value, truth, m.unit),
                    sd: 0.5 * (high - low) / 1.96,
                    truth,
                };
                // What the body does not show from these views is taken in the picture again.
                let again = |r: &Reading| {
                    let key = Key { way, ..r.key };
                    (r.given, key, r.value) == (given, reading.key, reading.value)
                };
                if !readings.iter().any(again) {
                    readings.push(reading);
                }
            }
        }
    }
    readings
}

/// The same angle, on the truth's turn of the circle.
fn near(value: f64, truth: f64, unit: Unit) -> f64 {
    match unit {
        Unit::Degree => truth + (value - truth + 180.0).rem_euclid(360.0) - 180.0,
        _ => value,
    }
}

fn seen(view: Option<View>) -> Seen {
    match view {
        None => Seen::Both,
        Some(View::FaceOn) => Seen::FaceOn,
        Some(View::DownTheLine) => Seen::DownTheLine,
    }
}

/// The same lengths and moments, with no bias and no spread of any measure: what is read is raw.
fn silent(calibration: &Calibration) -> Calibration {
    Calibration {
        measures: Vec::new(),
        otherwise: Unlisted {
            shift_sd_cm: 0.0,
            elbow_sd_cm: 0.0,
            turn_sd_deg: 0.0,
            body: Some(BodySpread {
                cm: 0.0,
                deg: 0.0,
                s: 0.0,
                percent: 0.0,
            }),
            ..calibration.otherwise
        },
        ..calibration.clone()
    }
}
