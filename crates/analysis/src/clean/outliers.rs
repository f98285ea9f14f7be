//! Points left out: they disagree with both neighbours in time, or make a limb longer than it is.

use super::sampling_rate;
use crate::proportions::{FOREARM, NOSE_TO_ANKLE_AT_ADDRESS, SHANK, THIGH, UPPER_ARM};
use lessonwright_math::{RobustSmoother, Smoothed};
use lessonwright_model::{Joint, PixelPoint};

/// Points of one joint over time; `None` where it was not seen or is left out.
type Points = Vec<Option<PixelPoint>>;

/// What a robust curve must follow, Hz, and the least noise to assume, in body heights: a point is
/// called wild only farther than 4.7 times that from its neighbours' curve. The trunk and legs move
/// with the body's turn (about 2 Hz in a 0.25 s downswing): 4 cm. The hands turn at 20 rad/s
/// through impact and start down within 0.05 s, which a curve of any sense cuts short: 12 cm, and
/// elbows between. Shoulders are left out only when far off: down the line they pass one another
/// fast, and leaving out good ones cost the trail elbow more than wild ones did (43 rendered
/// swings). Tuned so that nothing is left out of 40 exact swings of the stage.
const TRUNK: (f64, f64) = (6.0, 0.006);
const SHOULDERS: (f64, f64) = (10.0, 0.020);
const ELBOWS: (f64, f64) = (14.0, 0.012);
const HANDS: (f64, f64) = (20.0, 0.020);
/// A curve cannot follow more than this share of the sampling rate.
const FOLLOW_SHARE: f64 = 0.4;
/// Projected limbs may exceed this multiple of their length by no projection: perspective at 3 m
/// with an arm 0.5 m nearer gives 1.2 (reference values T10), landmark noise the rest.
const LONGEST: f64 = 1.35;

/// Limbs (nearer end, farther end) with their length as a share of the stature.
const LIMBS: [(Joint, Joint, f64); 8] = [
    (Joint::LeftShoulder, Joint::LeftElbow, UPPER_ARM),
    (Joint::RightShoulder, Joint::RightElbow, UPPER_ARM),
    (Joint::LeftElbow, Joint::LeftWrist, FOREARM),
    (Joint::RightElbow, Joint::RightWrist, FOREARM),
    (Joint::LeftHip, Joint::LeftKnee, THIGH),
    (Joint::RightHip, Joint::RightKnee, THIGH),
    (Joint::LeftKnee, Joint::LeftAnkle, SHANK),
    (Joint::RightKnee, Joint::RightAnkle, SHANK),
];

/// Returns the points that are kept, by joint and then frame, and how many were left out.
pub fn reject(times_s: &[f64], raw: &[Points], span_px: f64) -> (Vec<Points>, usize) {
    let curves: Vec<Option<Smoothed>> = raw
        .iter()
        .enumerate()
        .map(|(joint, points)| follow(joint, times_s, points, span_px))
        .collect();
    let mut kept = raw.to_vec();
    let mut rejected = 0;
    for (joint, curve) in curves.iter().enumerate() {
        let Some(curve) = curve else { continue };
        for (frame, point) in kept[joint].iter_mut().enumerate() {
            if point.is_some() && curve.weights[frame] == 0.0 {
                *point = None;
                rejected += 1;
            }
        }
    }
    for limb in LIMBS {
        rejected += reject_long_limb(limb, &curves, &mut kept, span_px);
    }
    (kept, rejected)
}

/// Leaves out one end of the limb wherever it is longer than it can be; returns how often.
fn reject_long_limb(
    (near, far, length): (Joint, Joint, f64),
    curves: &[Option<Smoothed>],
    kept: &mut [Points],
    span_px: f64,
) -> usize {
    let (near, far) = (near as usize, far as usize);
    let miss = |joint: usize, frame: usize, at: PixelPoint| {
        curves[joint]
            .as_ref()
            .map_or(0.0, |c| (at.x - c.x[frame]).hypot(at.y - c.y[frame]))
    };
    let too_long: Vec<(usize, PixelPoint, PixelPoint)> = kept[near]
        .iter()
        .zip(&kept[far])
        .enumerate()
        .filter_map(|(frame, (a, b))| Some((frame, (*a)?, (*b)?)))
        .filter(|(_, a, b)| a.distance(*b) > LONGEST * length / NOSE_TO_ANKLE_AT_ADDRESS * span_px)
        .collect();
    for &(frame, a, b) in &too_long {
        // The farther end moves faster and is more often wrong: it goes on a draw.
        let near_is_wrong = miss(near, frame, a) > miss(far, frame, b);
        kept[if near_is_wrong { near } else { far }][frame] = None;
    }
    too_long.len()
}

fn follow(joint: usize, times_s: &[f64], points: &Points, span_px: f64) -> Option<Smoothed> {
    let (follow_hz, least) = match joint {
        j if (Joint::LeftWrist as usize..=Joint::RightThumb as usize).contains(&j) => HANDS,
        j if j == Joint::LeftElbow as usize || j == Joint::RightElbow as usize => ELBOWS,
        j if j == Joint::LeftShoulder as usize || j == Joint::RightShoulder as usize => SHOULDERS,
        _ => TRUNK,
    };
    let smoother = RobustSmoother {
        half_gain_hz: follow_hz.min(FOLLOW_SHARE * sampling_rate(times_s)),
        least_sigma: least * span_px,
    };
    let samples: Vec<Option<(f64, f64)>> = points.iter().map(|p| p.map(|p| (p.x, p.y))).collect();
    smoother.smooth(times_s, &samples)
}
