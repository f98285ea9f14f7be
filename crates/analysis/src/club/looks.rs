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
    // Half a frame early is no reason to wait for the next.
    let steps: Vec<f64> = (1..frames.len())
        .map(|at| time_s(at) - time_s(at - 1))
        .collect();
    let early_s = 0.5 * median(&steps).unwrap_or(0.0);
    let mut looks: Vec<ClubLook> = Vec::new();
    for at in 0..frames.len() {
        let Some(hands) = frames[at].body.as_ref().map(hands) else {
            continue;
        };
        let due = looks.last().is_none_or(|last| {
            let passed_s = time_s(at) - time_s(last.at);
            let moved_px = hands.distance(last.hands);
            passed_s >= LONGEST_STEP_S - early_s
                || (passed_s >= SHORTEST_STEP_S - early_s && moved_px >= HANDS_MOVED * stature_px)
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

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_model::body::LANDMARKS;
    use lessonwright_model::{BodyFrame, Landmark};

    /// A player who stands still for a second and then moves the hands by `px_per_s`.
    fn track(count: usize, rate_hz: f64, px_per_s: f64) -> LandmarkTrack {
        let body = |time_s: f64| {
            let mut points = vec![Landmark::default(); LANDMARKS];
            let mut put =
                |joint: Joint, x: f64, y: f64| points[joint as usize].at = PixelPoint { x, y };
            let moved = px_per_s * (time_s - 1.0).max(0.0);
            put(Joint::Nose, 200.0, 100.0);
            put(Joint::LeftAnkle, 220.0, 475.0);
            put(Joint::RightAnkle, 180.0, 475.0);
            put(Joint::LeftWrist, 200.0 + moved, 300.0);
            put(Joint::RightWrist, 200.0 + moved, 300.0);
            Landmarks {
                presence: 1.0,
                points,
                joint_centres: Vec::new(),
            }
        };
        LandmarkTrack {
            width_px: 400,
            height_px: 700,
            frames: (0..count)
                .map(|frame| BodyFrame {
                    frame,
                    time_s: frame as f64 / rate_hz,
                    body: Some(body(frame as f64 / rate_hz)),
                })
                .collect(),
        }
    }

    #[test]
    fn a_club_at_rest_is_looked_at_often_enough_at_any_rate() {
        // The last is 240 frames a second played at 30.
        for (rate_hz, real) in [
            (24.0, 1.0),
            (25.0, 1.0),
            (30.0, 1.0),
            (60.0, 1.0),
            (240.0, 1.0),
            (30.0, 0.125),
        ] {
            let frame_s = real / rate_hz;
            let track = track((1.0 / frame_s) as usize, rate_hz, 0.0);
            let looks = club_looks(&track, real);
            assert!(
                (looks[0].stature_px - 500.0).abs() < 1e-9,
                "375 px are 0.75 of it"
            );
            for pair in looks.windows(2) {
                let apart_s = (pair[1].at - pair[0].at) as f64 * frame_s;
                assert!(
                    apart_s < LONGEST_STEP_S + 0.51 * frame_s,
                    "{rate_hz} {real}: {apart_s}"
                );
            }
            let middle = looks[looks.len() / 2];
            for beside in [middle.at - middle.before, middle.after - middle.at] {
                let off_s = (beside as f64 * frame_s - BESIDE_S.max(frame_s)).abs();
                assert!(off_s <= 0.51 * frame_s, "{rate_hz} {real}: {beside} frames");
            }
        }
    }

    #[test]
    fn fast_hands_are_looked_at_in_every_frame_of_sixty() {
        let looks = club_looks(&track(90, 60.0, 1500.0), 1.0);
        let fast: Vec<usize> = looks.iter().map(|l| l.at).filter(|at| *at > 65).collect();
        assert_eq!(fast, (66..90).collect::<Vec<_>>());
    }

    #[test]
    fn short_and_empty_tracks_are_no_trouble() {
        assert!(club_looks(&track(0, 60.0, 0.0), 1.0).is_empty());
        assert_eq!(club_looks(&track(1, 60.0, 0.0), 1.0).len(), 1);
        let mut nobody = track(8, 60.0, 0.0);
        for frame in &mut nobody.frames {
            frame.body = None;
        }
        assert!(club_looks(&nobody, 1.0).is_empty());
    }
}
