//! Which pictures of a clip to look at for the club, and where: around the hands.

use crate::moments::rest::SEEN_NOSE_TO_ANKLE;
use lessonwright_math::median;
use lessonwright_model::{Joint, LandmarkTrack, Landmarks, PixelPoint};

/// A still club is looked at this often, s of real time.
const LONGEST_STEP_S: f64 = 1.0 / 15.0;
/// A fast one this often at most, s.
const SHORTEST_STEP_S: f64 = 1.0 / 125.0;
/// … and whenever the hands have moved this far since, statures.
const HANDS_MOVED: f64 = 0.025;
/// The pictures before and after lie about this far away, s.
const BESIDE_S: f64 = 1.0 / 60.0;
/// Frames from the first one with a body over which the player's size is taken.
const SIZED_OVER: usize = 15;

/// A picture to look at. Numbers are places in the track's frames.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClubLook {
    /// The picture.
    pub at: usize,
    /// The picture a little earlier; the first one has none but itself.
    pub before: usize,
    /// The picture a little later.
    pub after: usize,
    /// Middle of the wrists, px.
    pub hands: PixelPoint,
    /// The player's height in the picture, px.
    pub stature_px: f64,
}

/// Where to look for the club; nothing where no body was seen.
/// `real_seconds` is how long a second of the file's clock took.
pub fn club_looks(track: &LandmarkTrack, real_seconds: f64) -> Vec<ClubLook> {
    let frames = &track.frames;
    let heights: Vec<f64> = frames
        .iter()
        .filter_map(|frame| frame.body.as_ref())
        .take(SIZED_OVER)
        .map(|body| nose_to_ankles_px(body) / SEEN_NOSE_TO_ANKLE)
        .collect();
    let Some(stature_px) = median(&heights).filter(|px| *px > 0.0) else {
        return Vec::new();
    };
    let time_s = |at: usize| frames[at].time_s * real_seconds;
    let mut looks: Vec<ClubLook> = Vec::new();
    for at in 0..frames.len() {
        let Some(hands) = frames[at].body.as_ref().map(hands) else {
            continue;
        };
        let due = looks.last().is_none_or(|last| {
            let passed_s = time_s(at) - time_s(last.at);
            let moved_px = hands.distance(last.hands);
            passed_s >= LONGEST_STEP_S
                || (passed_s >= SHORTEST_STEP_S && moved_px >= HANDS_MOVED * stature_px)
        });
        if due {
            let beside = |wanted_s: f64| {
                let off = |k: &usize| (time_s(*k) - wanted_s).abs();
                let near = at.saturating_sub(24)..(at + 25).min(frames.len());
                near.min_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or(at)
            };
            looks.push(ClubLook {
                at,
                before: beside(time_s(at) - BESIDE_S).min(at.saturating_sub(1)),
                after: beside(time_s(at) + BESIDE_S).max((at + 1).min(frames.len() - 1)),
                hands,
                stature_px,
            });
        }
    }
    looks
}

fn hands(body: &Landmarks) -> PixelPoint {
    let [left, right] = [Joint::LeftWrist, Joint::RightWrist].map(|joint| body.get(joint).at);
    left.midpoint(right)
}

fn nose_to_ankles_px(body: &Landmarks) -> f64 {
    let [nose, left, right] =
        [Joint::Nose, Joint::LeftAnkle, Joint::RightAnkle].map(|joint| body.get(joint).at);
    nose.distance(left.midpoint(right))
}
