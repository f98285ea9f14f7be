//! Moments set by hand.

use crate::clock::Clock;
use crate::moments::rest::Rest;
use crate::moments::{Moments, Timed};
use lessonwright_math::SD_TO_95;
use lessonwright_model::{ClipCorrections, ClipFacts, CorrectionError, MomentName, View};
use std::collections::{BTreeMap, BTreeSet};

/// Places at address are medians over a stretch this long …
const REST_S: f64 = 0.20;
/// … that ends so long before the instant itself: the last part may already move.
const STILL_BEFORE_S: f64 = 0.05;

/// The moments set by hand in one clip.
#[derive(Clone, Debug, Default)]
pub struct SetMoments {
    timed: BTreeMap<MomentName, Timed>,
}

impl SetMoments {
    /// On the real clock; each is good to half a frame (95 %), the eye sees frames.
    ///
    /// # Errors
    /// If one lies outside of `from_s` to `to_s`, s of the file's own clock.
    pub fn of(
        corrections: Option<&ClipCorrections>,
        facts: &ClipFacts,
        (from_s, to_s): (f64, f64),
        view: View,
    ) -> Result<SetMoments, CorrectionError> {
        let clock = Clock::of(facts);
        let half_frame_s = 0.5 / facts.capture_rate_hz;
        let mut timed = BTreeMap::new();
        for (&name, &time_s) in corrections.iter().flat_map(|c| &c.moments) {
            if !(from_s..=to_s).contains(&time_s) {
                return Err(CorrectionError::MomentOutside {
                    view,
                    name,
                    time_s,
                    from_s,
                    to_s,
                });
            }
            timed.insert(
                name,
                Timed {
                    time_s: clock.real(time_s),
                    sd_s: half_frame_s / SD_TO_95,
                },
            );
        }
        Ok(SetMoments { timed })
    }

    /// When a moment is, real s, if it was set.
    pub fn time_s(&self, name: MomentName) -> Option<f64> {
        self.timed.get(&name).map(|t| t.time_s)
    }

    /// Which were set.
    pub fn names(&self) -> BTreeSet<MomentName> {
        self.timed.keys().copied().collect()
    }

    /// The stillness before an address set by hand.
    pub fn rest(&self, span_s: (f64, f64)) -> Option<Rest> {
        let time_s = self.time_s(MomentName::Address)?;
        let end = (time_s - STILL_BEFORE_S).max(span_s.0);
        Some(Rest {
            time_s,
            inside_s: ((time_s - REST_S).max(span_s.0), end),
            restless: false,
        })
    }

    /// Puts them in the place of those found.
    pub fn replace(&self, moments: &mut Moments) {
        moments.extend(&self.timed);
    }
}

/// Looks whether moments, some of them set by hand, follow each other as in a swing. Those found
/// are taken as they are.
///
/// # Errors
/// The first two that do not.
pub fn check_order(
    moments: &Moments,
    by_hand: &BTreeSet<MomentName>,
    clock: Clock,
    view: View,
) -> Result<(), CorrectionError> {
    let in_order: Vec<(MomentName, f64)> = moments
        .iter()
        .map(|(&name, timed)| (name, clock.file(timed.time_s)))
        .collect();
    for pair in in_order.windows(2) {
        let ((earlier, earlier_s), (later, later_s)) = (pair[0], pair[1]);
        let hands = [earlier, later].map(|name| by_hand.contains(&name));
        if later_s <= earlier_s && hands.contains(&true) {
            return Err(CorrectionError::Disordered {
                view,
                earlier,
                earlier_s,
                earlier_by_hand: hands[0],
                later,
                later_s,
                later_by_hand: hands[1],
            });
        }
    }
    Ok(())
}
