//! From which side the camera looks, and which hand the player plays.
//!
//! Face-on, shoulders, hips and feet are spread across the picture; down the line they lie behind
//! one another, and the feet point across it. The hand: face-on, the fast stroke travels toward
//! the player's lead side, which is the picture's right for a right-hander; down the line, a
//! right-hander's toes, hands and ball are to the right of the heels.

use crate::path::Path;
use lessonwright_math::median;
use lessonwright_model::{Hand, Joint, PixelPoint, View};

/// Widths that tell the views apart, as shares of the body's height in the picture (nose to ankle,
/// 0.80 of the stature): half-way between square to the camera (shoulders 0.20, hips 0.10,
/// ankles 0.20 of the stature) and in line with it.
const SHOULDERS_SPLIT: f64 = 0.14;
const HIPS_SPLIT: f64 = 0.07;
const ANKLES_SPLIT: f64 = 0.14;
/// Feet point across the picture down the line: 0.15 of the stature long, so half of that again.
const FEET_SPLIT: f64 = 0.08;
/// A proposal below this probability is not trusted without being stated.
pub const TRUSTED: f64 = 0.75;
/// A proposal above this probability that contradicts what was stated is worth a warning.
pub const CERTAIN: f64 = 0.9;

/// A proposal with its probability.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proposal<T> {
    /// What is proposed.
    pub is: T,
    /// Probability in 0.5..=1.
    pub probability: f64,
}

/// The view, from the body at rest over `[from, to]`.
pub fn view(paths: &[Path], span_px: f64, rest_s: (f64, f64)) -> Option<Proposal<View>> {
    let posture = Posture::read(paths, span_px, rest_s);
    // Each feature votes between −2 (down the line) and +2 (face-on); a vote of 1 is one split's
    // worth away from undecided.
    let vote = |width: Option<f64>, split: f64| {
        width.map(|w| ((w.abs() - split) / (0.5 * split)).clamp(-2.0, 2.0))
    };
    let votes: Vec<f64> = [
        vote(posture.shoulders, SHOULDERS_SPLIT),
        vote(posture.hips, HIPS_SPLIT),
        vote(posture.ankles, ANKLES_SPLIT),
        vote(posture.feet, FEET_SPLIT).map(|v| -v),
    ]
    .into_iter()
    .flatten()
    .collect();
    let score = votes.iter().sum::<f64>();
    if votes.is_empty() {
        return None;
    }
    Some(Proposal {
        is: if score > 0.0 {
            View::FaceOn
        } else {
            View::DownTheLine
        },
        probability: logistic(score.abs()),
    })
}

/// True if the player's back is to the camera: the left side is on the picture's left.
pub fn back_to_camera(paths: &[Path], span_px: f64, rest_s: (f64, f64)) -> bool {
    let posture = Posture::read(paths, span_px, rest_s);
    posture.shoulders.is_some_and(|s| s < -SHOULDERS_SPLIT)
        && posture.hips.is_some_and(|h| h < -HIPS_SPLIT)
}

/// The hand, seen from `view`. `sweep_px` is how far the hands travel to the picture's right in the
/// fast stroke.
pub fn hand(
    view: View,
    paths: &[Path],
    span_px: f64,
    rest_s: (f64, f64),
    sweep_px: Option<f64>,
) -> Option<Proposal<Hand>> {
    let score = match view {
        // A full swing sweeps 0.5 body heights and more through the bottom: 0.1 is undecided.
        View::FaceOn => sweep_px? / span_px / 0.1,
        View::DownTheLine => {
            let posture = Posture::read(paths, span_px, rest_s);
            let votes: Vec<f64> = [posture.toes, posture.hands]
                .into_iter()
                .flatten()
                .map(|v| (v / (0.5 * FEET_SPLIT)).clamp(-2.0, 2.0))
                .collect();
            if votes.is_empty() {
                return None;
            }
            votes.iter().sum()
        }
    };
    Some(Proposal {
        is: if score > 0.0 { Hand::Right } else { Hand::Left },
        probability: logistic(score.abs()),
    })
}

/// How the body stands, in body heights, plus to the picture's right.
struct Posture {
    /// Left shoulder from right shoulder.
    shoulders: Option<f64>,
    /// Left hip from right hip.
    hips: Option<f64>,
    /// Left ankle from right ankle.
    ankles: Option<f64>,
    /// Length of the feet across the picture, both pointing the same way; 0 if they do not.
    feet: Option<f64>,
    /// Toes from heels, mean of both feet.
    toes: Option<f64>,
    /// Hands from ankles.
    hands: Option<f64>,
}

impl Posture {
    fn read(paths: &[Path], span_px: f64, rest_s: (f64, f64)) -> Posture {
        let place = |joint: Joint| paths[joint as usize].median_over(rest_s.0, rest_s.1, 16);
        let across =
            |to: Option<PixelPoint>, from: Option<PixelPoint>| Some((to?.x - from?.x) / span_px);
        let apart = |left: Joint, right: Joint| across(place(left), place(right));
        let left_foot = apart(Joint::LeftFootIndex, Joint::LeftHeel);
        let right_foot = apart(Joint::RightFootIndex, Joint::RightHeel);
        let feet = left_foot.zip(right_foot).map(|(l, r)| {
            if l * r > 0.0 {
                l.abs().min(r.abs())
            } else {
                0.0
            }
        });
        let middle = |a: Joint, b: Joint| Some(place(a)?.midpoint(place(b)?));
        let both: Vec<f64> = [left_foot, right_foot].into_iter().flatten().collect();
        Posture {
            shoulders: apart(Joint::LeftShoulder, Joint::RightShoulder),
            hips: apart(Joint::LeftHip, Joint::RightHip),
            ankles: apart(Joint::LeftAnkle, Joint::RightAnkle),
            feet,
            toes: median(&both),
            hands: across(
                middle(Joint::LeftWrist, Joint::RightWrist),
                middle(Joint::LeftAnkle, Joint::RightAnkle),
            ),
        }
    }
}

/// Probability from a score; 0 is even odds.
fn logistic(score: f64) -> f64 {
    1.0 / (1.0 + (-score).exp())
}
