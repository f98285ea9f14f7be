//! When things happen, finer than frames. Definitions in `docs/measures/moments.md`.
//!
//! The hands are the mid-point of the wrists. Their fast stroke is found first ([`stroke`]), the
//! rest of the swing follows from it: rest before ([`rest`]), levels of the lead arm ([`level`]),
//! impact ([`impact`]) and rest after. Times are real seconds from the clip's first frame.

pub mod impact;
pub mod level;
pub mod rest;
pub mod stroke;

use lessonwright_model::MomentName;
use std::collections::BTreeMap;

/// An instant with its uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Timed {
    /// Real seconds from the clip's first frame.
    pub time_s: f64,
    /// Standard deviation, s.
    pub sd_s: f64,
}

/// The moments found in one view.
pub type Moments = BTreeMap<MomentName, Timed>;

/// Spacing of the grid on which curves are searched, s: events are refined between its points, so
/// it only needs to be finer than the filtered hands can turn (12 Hz).
pub const SEARCH_STEP_S: f64 = 1.0 / 240.0;

/// Grid of search times over `[from, to]`.
pub fn search_times(from: f64, to: f64) -> impl DoubleEndedIterator<Item = f64> {
    let count = ((to - from) / SEARCH_STEP_S).floor().max(-1.0) + 1.0;
    (0..count as usize).map(move |i| from + i as f64 * SEARCH_STEP_S)
}
