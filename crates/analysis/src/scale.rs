//! Pixels in a metre at the player's depth, and how far the camera stands.
//!
//! From lengths known in the picture where there are any, else from the player's stature: the
//! body's height at address, the longest leg and the longest arm are shares of it.

use crate::calibration::{Calibration, Length};
use crate::path::Path;
use lessonwright_math::{median, quantile};
use lessonwright_model::{Joint, PixelPoint, PlayerFacts, View};

/// Camera to player where it is not told, m, and its standard deviation: 3–5 m or somewhat farther
/// are the placements asked for (reference values F). The picture itself cannot tell: the same
/// phone films through a wide or a double lens.
pub const USUAL_DISTANCE_M: f64 = 4.3;
pub const USUAL_DISTANCE_SD_M: f64 = 0.9;
/// A distance that is told is paced or taped: within 5 %.
const TOLD_DISTANCE_REL_SD: f64 = 0.05;
/// Adults' stature where none is given, m: mean of men's and women's means and a spread that
/// holds both (NCD-RisC 2016: 1.59–1.71 m world means; golfers of any country: wide on purpose).
const USUAL_STATURE_M: f64 = 1.71;
const USUAL_STATURE_SD_M: f64 = 0.10;
/// Stature is given to about 1 cm, and shoes add 2–3 cm to what is seen.
const STATURE_SD_M: f64 = 0.01;
/// Below this age the adult proportions and the usual stature do not hold, years.
const ADULT_YEARS: u32 = 18;
/// Ends of a known length are set by hand to about this, px.
const SET_BY_HAND_PX: f64 = 2.0;

/// A length that differs from the middle one by this many standard deviations is left out.
const DISAGREES_SD: f64 = 2.5;

/// A length known in the picture, near the player.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KnownLength {
    /// Which clip, from 0.
    pub clip: usize,
    /// One end.
    pub from: PixelPoint,
    /// Other end.
    pub to: PixelPoint,
    /// Its length square to the view, m.
    pub length_m: f64,
}

/// Scale of one view at the depth of the hips at address.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// Pixels in a metre.
    pub px_per_m: f64,
    /// Relative standard deviation.
    pub rel_sd: f64,
    /// Camera to hips, m.
    pub distance_m: f64,
    /// Standard deviation of the distance, m.
    pub distance_sd_m: f64,
    /// True if the stature was not given but assumed.
    pub stature_assumed: bool,
    /// The body's lengths in the picture.
    pub lengths: BodyLengths,
}

/// Lengths measured in the picture, px.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BodyLengths {
    /// [`Length::NoseToAnkle`].
    pub nose_to_ankle_px: Option<f64>,
    /// [`Length::Leg`].
    pub leg_px: Option<f64>,
    /// [`Length::Arm`].
    pub arm_px: Option<f64>,
}

impl BodyLengths {
    /// Reads them at rest (`rest_s`) and over the frames.
    pub fn read(paths: &[Path], times_s: &[f64], rest_s: (f64, f64)) -> BodyLengths {
        let at_rest = |j: Joint| paths[j as usize].median_over(rest_s.0, rest_s.1, 16);
        let nose_to_ankle_px = at_rest(Joint::Nose)
            .zip(at_rest(Joint::LeftAnkle).zip(at_rest(Joint::RightAnkle)))
            .map(|(nose, (l, r))| l.midpoint(r).y - nose.y);
        let chain = |joints: &[Joint]| {
            let lengths: Vec<f64> = times_s
                .iter()
                .filter_map(|&t| {
                    joints.windows(2).try_fold(0.0, |sum, w| {
                        let (a, b) = (paths[w[0] as usize].at(t)?, paths[w[1] as usize].at(t)?);
                        Some(sum + a.distance(b))
                    })
                })
                .collect();
            // Not the greatest: one in twenty may be noise.
            quantile(&lengths, 0.95)
        };
        let longer = |a: Option<f64>, b: Option<f64>| match (a, b) {
            (Some(a), Some(b)) => Some(a.max(b)),
            (one, other) => one.or(other),
        };
        use Joint::*;
        BodyLengths {
            nose_to_ankle_px,
            leg_px: longer(
                chain(&[LeftHip, LeftKnee, LeftAnkle]),
                chain(&[RightHip, RightKnee, RightAnkle]),
            ),
            arm_px: longer(
                chain(&[LeftShoulder, LeftElbow, LeftWrist]),
                chain(&[RightShoulder, RightElbow, RightWrist]),
            ),
        }
    }

    /// One of them.
    pub fn get(&self, length: Length) -> Option<f64> {
        match length {
            Length::NoseToAnkle => self.nose_to_ankle_px,
            Length::Leg => self.leg_px,
            Length::Arm => self.arm_px,
        }
    }
}

/// The scale of one view; in words why there is none.
pub fn scale(
    clip: usize,
    view: View,
    lengths: &BodyLengths,
    player: &PlayerFacts,
    known: &[KnownLength],
    camera_distance_m: Option<f64>,
    calibration: &Calibration,
) -> Result<Scale, String> {
    let (px_per_m, rel_sd, stature_assumed) = match known.iter().find(|k| k.clip == clip) {
        Some(k) => {
            let px = k.from.distance(k.to);
            // NaN fails too.
            if !(px > 10.0 && k.length_m > 0.0) {
                return Err("the known length is set on two points that coincide".into());
            }
            (
                px / k.length_m,
                SET_BY_HAND_PX * std::f64::consts::SQRT_2 / px,
                false,
            )
        }
        None => from_stature(view, lengths, player, calibration)?,
    };
    let (distance_m, distance_sd_m) = match camera_distance_m {
        Some(distance_m) => (distance_m, TOLD_DISTANCE_REL_SD * distance_m),
        None => (USUAL_DISTANCE_M, USUAL_DISTANCE_SD_M),
    };
    Ok(Scale {
        px_per_m,
        rel_sd,
        distance_m,
        distance_sd_m,
        stature_assumed,
        lengths: *lengths,
    })
}

/// A player's stature and its standard deviation, m, and whether it is assumed; in words why there is
/// none.
pub fn stature(player: &PlayerFacts) -> Result<(f64, f64, bool), String> {
    match player.stature_m {
        Some(stature) => Ok((stature, STATURE_SD_M, false)),
        None if player.age_years.is_some_and(|age| age < ADULT_YEARS) => {
            Err("the player's stature is needed: a growing player's cannot be assumed".into())
        }
        None => Ok((USUAL_STATURE_M, USUAL_STATURE_SD_M, true)),
    }
}

/// Mean of what each length says, weighted by how far it varies between people.
fn from_stature(
    view: View,
    lengths: &BodyLengths,
    player: &PlayerFacts,
    calibration: &Calibration,
) -> Result<(f64, f64, bool), String> {
    let (stature_m, stature_sd_m, assumed) = stature(player)?;
    let said: Vec<(f64, f64)> = [Length::NoseToAnkle, Length::Leg, Length::Arm]
        .into_iter()
        .filter_map(|length| {
            let px = lengths.get(length).filter(|px| *px > 0.0)?;
            let share = calibration.length(view, length);
            Some((px / (share.mean * stature_m), share.sd / share.mean))
        })
        .collect();
    let middle = median(&said.iter().map(|s| s.0).collect::<Vec<_>>())
        .ok_or("neither the body's height nor a whole limb is seen")?;
    let mut weight = 0.0;
    let mut sum = 0.0;
    for (px_per_m, rel_sd) in said {
        // One that is far from the middle one is a hidden limb or a posture of its own.
        if (px_per_m / middle - 1.0).abs() < DISAGREES_SD * rel_sd {
            weight += rel_sd.powi(-2);
            sum += rel_sd.powi(-2) * px_per_m;
        }
    }
    // The lengths' errors share the person and the network, so three are taken as good as two.
    let shares_sd = (1.5 / weight).sqrt();
    Ok((
        sum / weight,
        shares_sd.hypot(stature_sd_m / stature_m),
        assumed,
    ))
}
