//! What a professional corrects by hand in a swing, or adds to it from what they saw: constraints from
//! which everything after them is computed again.
//!
//! A swing has one clip a view, so corrections are kept by view. Times are seconds of the file's own
//! clock from the clip's first frame, places are pixels of the upright picture.

use crate::body::Joint;
use crate::geometry::PixelPoint;
use crate::swing::{MomentName, View};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use thiserror::Error;

/// Statures that are believed, m: beyond the shortest and tallest adults that are known and down to
/// children who can swing a club (common practice, no source).
const STATURES_M: [f64; 2] = [0.8, 2.6];
/// Capture rates that are believed, frames/s: phones film at 24 to 960 (common practice, no source).
const RATES_HZ: [f64; 2] = [10.0, 2000.0];

/// All that was corrected by hand in one swing; empty where nothing was.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct Corrections {
    /// Standing height of the player without shoes, m, instead of the one on record.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stature_m: Option<f64>,
    /// What the professional saw and no camera measures, as keys of the cause table ("grip_weak").
    #[serde(skip_serializing_if = "BTreeSet::is_empty")]
    pub seen: BTreeSet<String>,
    /// By view.
    pub clips: BTreeMap<View, ClipCorrections>,
}

/// What was corrected in one clip.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct ClipCorrections {
    /// When moments are, s of the file's own clock from the clip's first frame.
    pub moments: BTreeMap<MomentName, f64>,
    /// Where joints are.
    pub joints: Vec<PlacedJoint>,
    /// Frames a second of the real motion.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub capture_rate_hz: Option<f64>,
}

/// A joint centre put in its place by hand in one frame.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlacedJoint {
    /// Which joint; left and right are the person's own.
    pub joint: Joint,
    /// In which frame of the clip, from 0.
    pub frame: usize,
    /// To the right, px.
    pub x_px: f64,
    /// Down, px.
    pub y_px: f64,
    /// Width of the picture in which these pixels are counted: a page shows it smaller or larger
    /// than it was analysed.
    pub picture_width_px: u32,
}

/// A correction that can't be: where, what, and what to do.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum CorrectionError {
    /// A view without a clip.
    #[error("something is corrected {0}, but this swing has no clip {0}: take the correction back")]
    NoSuchView(View),
    /// A stature nobody has.
    #[error("a stature of {0} m can't be: give the standing height without shoes, 0.8 to 2.6 m")]
    Stature(f64),
    /// A rate no camera has.
    #[error(
        "{view}: a capture rate of {rate_hz} frames a second can't be: give the rate the camera filmed at, 10 to 2000"
    )]
    Rate {
        /// In which clip.
        view: View,
        /// What was given, Hz.
        rate_hz: f64,
    },
    /// A moment outside of the film that was looked at.
    #[error(
        "{view}: {moment} is set by hand at {time_s:.3} s, but the swing was followed from {from_s:.3} s to {to_s:.3} s: choose a time between", moment = name.plain()
    )]
    MomentOutside {
        /// In which clip.
        view: View,
        /// Which moment.
        name: MomentName,
        /// What was given, s.
        time_s: f64,
        /// First frame looked at, s.
        from_s: f64,
        /// Last frame looked at, s.
        to_s: f64,
    },
    /// Two moments the wrong way round.
    #[error(
        "{view}: {later} ({later_s:.3} s, {later_by}) has to come after {earlier} ({earlier_s:.3} s, {earlier_by}): move {moved}",
        later = later.plain(),
        earlier = earlier.plain(),
        later_by = by(*later_by_hand),
        earlier_by = by(*earlier_by_hand),
        moved = moved(*later_by_hand, *earlier_by_hand)
    )]
    Disordered {
        /// In which clip.
        view: View,
        /// The moment that comes first in a swing.
        earlier: MomentName,
        /// When it is, s of the file's own clock.
        earlier_s: f64,
        /// True if set by hand.
        earlier_by_hand: bool,
        /// The moment that comes later in a swing.
        later: MomentName,
        /// When it is, s.
        later_s: f64,
        /// True if set by hand.
        later_by_hand: bool,
    },
    /// A frame that was not looked at.
    #[error(
        "{view}: {joint} is placed in frame {frame}, but the swing was followed through frames {first} to {last}: choose one of these", joint = joint.plain()
    )]
    FrameOutside {
        /// In which clip.
        view: View,
        /// Which joint.
        joint: Joint,
        /// What was given.
        frame: usize,
        /// First frame looked at.
        first: usize,
        /// Last frame looked at.
        last: usize,
    },
    /// A place beyond the picture's edge.
    #[error(
        "{view}: {joint} is placed at ({x_px}, {y_px}) in frame {frame}, outside of a picture {width} px wide: choose a place inside",
        joint = placed.joint.plain(),
        x_px = placed.x_px,
        y_px = placed.y_px,
        frame = placed.frame,
        width = placed.picture_width_px
    )]
    PlaceOutside {
        /// In which clip.
        view: View,
        /// What was given.
        placed: PlacedJoint,
    },
    /// One joint in two places at once.
    #[error(
        "{view}: {joint} is placed twice in frame {frame}: keep one of the two places", joint = joint.plain()
    )]
    PlacedTwice {
        /// In which clip.
        view: View,
        /// Which joint.
        joint: Joint,
        /// In which frame.
        frame: usize,
    },
}

fn by(hand: bool) -> &'static str {
    if hand { "set by hand" } else { "found" }
}

fn moved(later_by_hand: bool, earlier_by_hand: bool) -> &'static str {
    match (later_by_hand, earlier_by_hand) {
        (true, true) => "one of them",
        _ => "it, or set the other one by hand as well",
    }
}

impl PlacedJoint {
    /// Where that is in a picture `width_px` wide.
    pub fn in_picture(&self, width_px: u32) -> PixelPoint {
        let scale = f64::from(width_px) / f64::from(self.picture_width_px);
        PixelPoint {
            x: self.x_px * scale,
            y: self.y_px * scale,
        }
    }
}

impl ClipCorrections {
    /// True if nothing is corrected.
    pub fn is_empty(&self) -> bool {
        *self == ClipCorrections::default()
    }

    /// Put a joint in its place; an earlier place in the same frame is forgotten.
    pub fn place(&mut self, placed: PlacedJoint) {
        self.joints
            .retain(|p| (p.joint, p.frame) != (placed.joint, placed.frame));
        self.joints.push(placed);
    }
}

impl Corrections {
    /// True if nothing is corrected.
    pub fn is_empty(&self) -> bool {
        self.stature_m.is_none()
            && self.seen.is_empty()
            && self.clips.values().all(ClipCorrections::is_empty)
    }

    /// What is corrected in the clip of one view.
    pub fn of(&self, view: View) -> Option<&ClipCorrections> {
        self.clips.get(&view)
    }

    /// Looks for what can't be, whatever the clips hold.
    ///
    /// # Errors
    /// The first correction that can't be.
    pub fn check(&self) -> Result<(), CorrectionError> {
        let believed = |[low, high]: [f64; 2], value: f64| (low..=high).contains(&value);
        if let Some(stature_m) = self.stature_m.filter(|&m| !believed(STATURES_M, m)) {
            return Err(CorrectionError::Stature(stature_m));
        }
        for (&view, clip) in &self.clips {
            if let Some(rate_hz) = clip.capture_rate_hz.filter(|&r| !believed(RATES_HZ, r)) {
                return Err(CorrectionError::Rate { view, rate_hz });
            }
            check_order(view, &clip.moments)?;
            check_places(view, &clip.joints)?;
        }
        Ok(())
    }
}

fn check_order(view: View, moments: &BTreeMap<MomentName, f64>) -> Result<(), CorrectionError> {
    let in_order: Vec<(MomentName, f64)> = moments.iter().map(|(&name, &t)| (name, t)).collect();
    for pair in in_order.windows(2) {
        let ((earlier, earlier_s), (later, later_s)) = (pair[0], pair[1]);
        // Also where one of them is not a number.
        if !matches!(
            later_s.partial_cmp(&earlier_s),
            Some(std::cmp::Ordering::Greater)
        ) {
            return Err(CorrectionError::Disordered {
                view,
                earlier,
                earlier_s,
                earlier_by_hand: true,
                later,
                later_s,
                later_by_hand: true,
            });
        }
    }
    Ok(())
}

fn check_places(view: View, joints: &[PlacedJoint]) -> Result<(), CorrectionError> {
    for (number, placed) in joints.iter().enumerate() {
        let across = (0.0..=f64::from(placed.picture_width_px)).contains(&placed.x_px);
        let down = (0.0..f64::INFINITY).contains(&placed.y_px);
        if placed.picture_width_px == 0 || !across || !down {
            let placed = placed.clone();
            return Err(CorrectionError::PlaceOutside { view, placed });
        }
        let same = |p: &PlacedJoint| (p.joint, p.frame) == (placed.joint, placed.frame);
        if joints[..number].iter().any(same) {
            return Err(CorrectionError::PlacedTwice {
                view,
                joint: placed.joint,
                frame: placed.frame,
            });
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn knee(frame: usize, x_px: f64) -> PlacedJoint {
        PlacedJoint {
            joint: Joint::LeftKnee,
            frame,
            x_px,
            y_px: 700.0,
            picture_width_px: 540,
        }
    }

    fn face_on(clip: ClipCorrections) -> Corrections {
        Corrections {
            clips: [(View::FaceOn, clip)].into(),
            ..Corrections::default()
        }
    }

    #[test]
    fn what_cannot_be_is_refused_with_where_what_and_what_to_do() {
        let moments = |pairs: &[(MomentName, f64)]| {
            face_on(ClipCorrections {
                moments: pairs.iter().copied().collect(),
                ..ClipCorrections::default()
            })
        };
        let joints = |joints: &[PlacedJoint]| {
            face_on(ClipCorrections {
                joints: joints.to_vec(),
                ..ClipCorrections::default()
            })
        };
        let rate = |rate_hz: f64| {
            face_on(ClipCorrections {
                capture_rate_hz: Some(rate_hz),
                ..ClipCorrections::default()
            })
        };
        let stature = |stature_m: f64| Corrections {
            stature_m: Some(stature_m),
            ..Corrections::default()
        };
        for (corrections, said) in [
            (stature(181.0), "a stature of 181 m can't be"),
            (stature(f64::NAN), "0.8 to 2.6 m"),
            (rate(0.0), "face-on: a capture rate of 0 frames a second"),
            (
                moments(&[(MomentName::Top, 1.5), (MomentName::Impact, 1.2)]),
                "face-on: impact (1.200 s, set by hand) has to come after top (1.500 s, set by hand)",
            ),
            (
                moments(&[(MomentName::Top, f64::NAN), (MomentName::Impact, 1.2)]),
                "has to come after",
            ),
            (
                joints(&[knee(3, 541.0)]),
                "face-on: left knee is placed at (541, 700) in frame 3, outside of a picture 540 px wide",
            ),
            (joints(&[knee(3, f64::NAN)]), "outside"),
            (
                joints(&[knee(3, 5.0), knee(3, 6.0)]),
                "left knee is placed twice in frame 3",
            ),
        ] {
            let refused = corrections.check().expect_err(said).to_string();
            assert!(refused.contains(said), "{refused}");
        }
        assert_eq!(joints(&[knee(3, 5.0), knee(4, 6.0)]).check(), Ok(()));
        assert_eq!(stature(1.81).check(), Ok(()));
    }

    #[test]
    fn corrections_are_read_back_as_written() {
        let mut clip = ClipCorrections {
            moments: [(MomentName::Top, 1.4375)].into(),
            capture_rate_hz: Some(240.0),
            ..ClipCorrections::default()
        };
        clip.place(knee(3, 5.0));
        clip.place(knee(3, 6.0));
        assert_eq!(clip.joints, [knee(3, 6.0)], "the last place counts");
        let corrections = face_on(clip);
        let text = serde_json::to_string(&corrections).expect("JSON");
        assert!(
            text.contains(r#""face_on":{"moments":{"top":1.4375}"#),
            "{text}"
        );
        assert_eq!(
            serde_json::from_str::<Corrections>(&text).expect("corrections"),
            corrections
        );
        let wrong = text.replace("left_knee", "left_ankl");
        let said = serde_json::from_str::<Corrections>(&wrong).expect_err("no such joint");
        assert!(said.to_string().contains("left_ankle"), "{said}");
    }

    #[test]
    fn a_place_follows_the_pictures_size() {
        assert_eq!(
            knee(3, 270.0).in_picture(1080),
            PixelPoint {
                x: 540.0,
                y: 1400.0
            }
        );
    }
}
