//! The calibration that some swings support: lengths first, then moments, then measures, each read with
//! what came before.

use crate::cases::{Case, GIVEN, clips_for, run, true_moment, true_px_per_m};
use crate::readings::Readings;
use crate::statistics::{bias_of, rank_correlation};
use lessonwright_analysis::calibration::{Cue, Length, LengthRow, MeasureRow, MomentRow, Seen};
use lessonwright_analysis::clean::Points;
use lessonwright_analysis::{Calibration, Measured, Way};
use lessonwright_model::*;
use serde_json::Value;

/// A number that follows the truth less than this only recites what is usual: it gets no row, and so is
/// withheld. Half of the truth's variance is left unexplained at 0.7; set by eye below that.
const LEAST_CORRELATION: f64 = 0.6;

/// Lengths and moments; no measures yet.
pub fn lengths_and_moments(cases: &[&Case], points: Points) -> Calibration {
    let mut calibration = Calibration {
        moments: Vec::new(),
        measures: Vec::new(),
        lengths: Vec::new(),
        ..Calibration::of(points)
    };
    calibration.lengths = derive_lengths(cases, &calibration);
    calibration.moments = derive_moments(cases, &calibration);
    calibration
}

/// Measures from what was read of the cases that `kept` says.
pub fn measures(readings: &Readings, kept: &dyn Fn(usize) -> bool) -> Vec<MeasureRow> {
    let mut rows = Vec::new();
    for (_, given) in GIVEN {
        for key in readings.keys(given) {
            // A row belongs to the views that a measure was taken from, and is made with these alone.
            if key.seen != given || key.is_tempo() {
                continue;
            }
            let read: Vec<_> = readings.of(given, key).filter(|r| kept(r.case)).collect();
            let pairs: Vec<(f64, f64)> = read.iter().map(|r| (r.truth, r.value)).collect();
            // A time is read off a curve; nearly all hands are fastest within the same 20 ms.
            let might_recite = key.way == Way::Body && key.name.unit() != Unit::Second;
            if might_recite && rank_correlation(&pairs) < LEAST_CORRELATION {
                continue;
            }
            let (errors, sds): (Vec<f64>, Vec<f64>) =
                read.iter().map(|r| (r.value - r.truth, r.sd)).unzip();
            if let Some(bias) = bias_of(&errors, &sds) {
                rows.push(MeasureRow {
                    name: key.name,
                    moment: key.moment,
                    against: key.against,
                    seen: key.seen,
                    way: key.way,
                    bias,
                });
            }
        }
    }
    rows
}

fn derive_lengths(cases: &[&Case], so_far: &Calibration) -> Vec<LengthRow> {
    let mut rows = Vec::new();
    for (view, seen) in [
        (View::FaceOn, Seen::FaceOn),
        (View::DownTheLine, Seen::DownTheLine),
    ] {
        let runs: Vec<_> = cases
            .iter()
            .filter_map(|case| Some((case, run(case, seen, Way::Picture, so_far.clone())?)))
            .collect();
        for length in [Length::NoseToAnkle, Length::Leg, Length::Arm] {
            let shares: Vec<f64> = runs
                .iter()
                .filter_map(|(case, (measured, truths))| {
                    let px = measured.scales.first()?.as_ref()?.lengths.get(length)?;
                    Some(px / true_px_per_m(truths.first()?)? / case.player.stature_m?)
                })
                .collect();
            if let Some(share) = bias_of(&shares, &[]) {
                rows.push(LengthRow {
                    view,
                    length,
                    share,
                });
            }
        }
    }
    rows
}

fn derive_moments(cases: &[&Case], so_far: &Calibration) -> Vec<MomentRow> {
    let mut rows = Vec::new();
    for (view, seen) in [
        (View::FaceOn, Seen::FaceOn),
        (View::DownTheLine, Seen::DownTheLine),
    ] {
        let silent: Vec<_> = cases
            .iter()
            .filter_map(|case| run(&without_sound(case), seen, Way::Picture, so_far.clone()))
            .collect();
        for name in MomentName::ALL {
            if let Some(bias) = bias_of(&moment_errors(&silent, name), &[]) {
                rows.push(MomentRow {
                    view,
                    name,
                    cue: Cue::Motion,
                    bias,
                });
            }
        }
        let heard: Vec<_> = cases
            .iter()
            .filter(|case| {
                clips_for(case, seen)
                    .iter()
                    .all(|(c, _)| !c.strikes.is_empty())
            })
            .filter_map(|case| run(case, seen, Way::Picture, so_far.clone()))
            .filter(|(m, _)| {
                !m.views[0]
                    .warnings
                    .iter()
                    .any(|w| w.contains("no sound fits"))
            })
            .collect();
        if let Some(mut bias) = bias_of(&moment_errors(&heard, MomentName::Impact), &[]) {
            // The sound's travel and onset have their own part of the ±, which covers this spread.
            bias.sd = LEAST_SOUND_SD_S;
            rows.push(MomentRow {
                view,
                name: MomentName::Impact,
                cue: Cue::Sound,
                bias,
            });
        }
    }
    rows
}

/// What is left of a strike's time beside the sound's travel and onset, s: from memory, the jitter
/// of a recorder's own clock.
const LEAST_SOUND_SD_S: f64 = 0.0005;

fn moment_errors(runs: &[(Measured, Vec<Value>)], name: MomentName) -> Vec<f64> {
    runs.iter()
        .filter_map(|(measured, truths)| {
            let moment = measured.moments.iter().find(|m| m.name == name)?;
            Some(moment.time_s - true_moment(truths.first()?, name)?)
        })
        .collect()
}

fn without_sound(case: &Case) -> Case {
    let mut case = case.clone();
    for clip in &mut case.clips {
        clip.strikes.clear();
    }
    case
}
