//! One change by hand to a swing's corrections, as a command or a form asks for it.

use crate::corrections::{ClipCorrections, Corrections, PlacedJoint};
use crate::swing::{Moment, MomentName, SwingAnalysis, View};
use std::collections::BTreeSet;
use thiserror::Error;

/// What is to be changed.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// All corrections at once.
    All(Corrections),
    /// A moment is at this time, s of the file's own clock from the clip's first frame.
    Moment(View, MomentName, f64),
    /// A moment is so many frames later (earlier where negative) than it is now.
    Nudge(View, MomentName, f64),
    /// A moment is where it is found.
    MomentAsFound(View, MomentName),
    /// A joint is here.
    Joint(View, PlacedJoint),
    /// The player's stature, m; as on record where none is said.
    Stature(Option<f64>),
    /// Frames a second of the real motion; as the clip says where none is said.
    CaptureRate(View, Option<f64>),
    /// What the professional saw, all of it: keys of the cause table.
    Seen(BTreeSet<String>),
}

/// Why a change can't be made.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum ChangeError {
    /// There is nothing to move.
    #[error(
        "{} was not found {view}, so it can't be moved by frames: say at what time it is", name.plain()
    )]
    NothingToNudge {
        /// In which view.
        view: View,
        /// Which moment.
        name: MomentName,
    },
}

impl Change {
    /// The corrections with this change, to those of the swing as it is analysed now.
    ///
    /// # Errors
    /// If a moment that was not found is to be moved. Whether the corrections can be is for
    /// [`Corrections::check`] and the analysis to say.
    pub fn apply(
        &self,
        mut corrections: Corrections,
        now: &SwingAnalysis,
    ) -> Result<Corrections, ChangeError> {
        let of =
            |corrections: &mut Corrections, view: View, change: &dyn Fn(&mut ClipCorrections)| {
                change(corrections.clips.entry(view).or_default());
            };
        match self {
            Change::All(all) => corrections = all.clone(),
            Change::Moment(view, name, time_s) => of(&mut corrections, *view, &|clip| {
                clip.moments.insert(*name, *time_s);
            }),
            Change::Nudge(view, name, frames) => {
                let time_s = nudged(now, *view, *name, *frames)?;
                return Change::Moment(*view, *name, time_s).apply(corrections, now);
            }
            Change::MomentAsFound(view, name) => of(&mut corrections, *view, &|clip| {
                clip.moments.remove(name);
            }),
            Change::Joint(view, placed) => {
                of(&mut corrections, *view, &|clip| clip.place(placed.clone()));
            }
            Change::Stature(stature_m) => corrections.stature_m = *stature_m,
            Change::Seen(seen) => corrections.seen.clone_from(seen),
            Change::CaptureRate(view, rate_hz) => of(&mut corrections, *view, &|clip| {
                clip.capture_rate_hz = *rate_hz;
            }),
        }
        corrections.clips.retain(|_, clip| !clip.is_empty());
        Ok(corrections)
    }
}

/// A time so many frames from where the moment is now.
fn nudged(
    now: &SwingAnalysis,
    view: View,
    name: MomentName,
    frames: f64,
) -> Result<f64, ChangeError> {
    let is = |m: &&Moment| (m.view, m.name) == (view, name);
    let report = now.views.iter().find(|report| report.view == view);
    match (now.moments.iter().find(is), report) {
        (Some(moment), Some(report)) => Ok(moment.time_s + frames / report.rate_hz),
        _ => Err(ChangeError::NothingToNudge { view, name }),
    }
}
