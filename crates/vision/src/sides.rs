//! Left and right, where the landmark network confuses them.
//!
//! Of a face that looks down under a visor the landmark network takes a front for a back, now and then and for seconds
//! on end, with full certainty; of legs behind one another it does so too. The joint network keeps the sides apart: in all
//! 555 pairs of 94 rendered clips in which the two disagreed clearly, it was right (`docs/decisions/030`). So it decides.

use lessonwright_model::body::JOINT_CENTRES;
use lessonwright_model::{BodyFrame, Joint, JointCentre, LandmarkTrack, Landmarks, PixelPoint};

/// Joint centres tell the sides apart where they are this many of their spreads away from each other.
const APART: f64 = 4.0;

/// Pairs that are exchanged together with the pair whose sides are told by joint centres, itself the first.
const PAIRS: [&[[Joint; 2]]; 7] = [
    &[[Joint::LeftShoulder, Joint::RightShoulder]],
    // The wrists of a grip are too close to be told apart; they go with the elbows.
    &[
        [Joint::LeftElbow, Joint::RightElbow],
        [Joint::LeftWrist, Joint::RightWrist],
        [Joint::LeftPinky, Joint::RightPinky],
        [Joint::LeftIndex, Joint::RightIndex],
        [Joint::LeftThumb, Joint::RightThumb],
    ],
    &[[Joint::LeftHip, Joint::RightHip]],
    &[[Joint::LeftKnee, Joint::RightKnee]],
    &[[Joint::LeftAnkle, Joint::RightAnkle]],
    &[[Joint::LeftHeel, Joint::RightHeel]],
    &[[Joint::LeftFootIndex, Joint::RightFootIndex]],
];

/// Exchanges landmarks whose sides are clearly the other ones by the joint network. Pictures in which it did not look
/// are told by those before and after.
pub fn mend_sides(track: &mut LandmarkTrack) {
    let looked: Vec<(f64, Vec<JointCentre>)> = (track.frames.iter())
        .filter_map(|frame| Some((frame.time_s, &frame.body.as_ref()?.joint_centres)))
        .filter(|(_, centres)| centres.len() == JOINT_CENTRES.len())
        .map(|(time_s, centres)| (time_s, centres.clone()))
        .collect();
    if looked.is_empty() {
        return;
    }
    for BodyFrame { time_s, body, .. } in &mut track.frames {
        let Some(body) = body else { continue };
        let after = looked.partition_point(|(looked_s, _)| *looked_s < *time_s);
        let before = after.saturating_sub(1);
        let [(before_s, before), (after_s, after)] =
            [before, after].map(|at| &looked[at.min(looked.len() - 1)]);
        let share = ((*time_s - before_s) / (after_s - before_s).max(1e-9)).clamp(0.0, 1.0);
        for pairs in PAIRS {
            let [left, right] = pairs[0].map(|joint| Centre::of(joint, before, after, share));
            if are_exchanged(body, pairs[0], left, right) {
                for [left, right] in pairs.iter() {
                    body.points.swap(*left as usize, *right as usize);
                }
            }
        }
    }
}

/// Where a joint's centre is, px, and how widely that may be wrong.
#[derive(Clone, Copy)]
struct Centre {
    at: PixelPoint,
    spread_px: f64,
}

impl Centre {
    /// `share` of the way from one picture to another.
    fn of(joint: Joint, before: &[JointCentre], after: &[JointCentre], share: f64) -> Centre {
        let place = JOINT_CENTRES.iter().position(|of| *of == joint);
        let place = place.expect("every pair that tells has a joint centre");
        let (before, after) = (&before[place], &after[place]);
        let between = |from: f64, to: f64| from + share * (to - from);
        Centre {
            at: PixelPoint {
                x: between(before.at.x, after.at.x),
                y: between(before.at.y, after.at.y),
            },
            spread_px: before.spread.at_px.max(after.spread.at_px),
        }
    }
}

/// Whether the centres are well apart, and the landmarks nearer to the other side's by all of that.
fn are_exchanged(body: &Landmarks, pair: [Joint; 2], left: Centre, right: Centre) -> bool {
    let apart_px = left.at.distance(right.at);
    let [as_said, exchanged] = [(left, right), (right, left)].map(|(first, second)| {
        body.get(pair[0]).at.distance(first.at) + body.get(pair[1]).at.distance(second.at)
    });
    apart_px > APART * left.spread_px.hypot(right.spread_px) && exchanged < as_said - apart_px
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_model::body::LANDMARKS;
    use lessonwright_model::{Landmark, Spread};

    /// A body face-on, its joints `half_width_px` either side of the middle, the joint network sure to 2 px.
    fn body(half_width_px: f64, looked: bool) -> Landmarks {
        let at = |number: usize| PixelPoint {
            // From the ears on, the left ones have odd numbers.
            x: 200.0 + half_width_px * if number % 2 == 1 { 1.0 } else { -1.0 },
            y: 100.0 + 20.0 * number.div_ceil(2) as f64,
        };
        let spread = Spread {
            at_px: 2.0,
            depth_px: 5.0,
        };
        let centre = |joint: Joint| JointCentre {
            at: at(joint as usize),
            depth_px: 0.0,
            spread,
        };
        Landmarks {
            presence: 1.0,
            points: (0..LANDMARKS)
                .map(|number| Landmark {
                    at: at(number),
                    ..Landmark::default()
                })
                .collect(),
            joint_centres: (JOINT_CENTRES.iter().filter(|_| looked))
                .map(|joint| centre(*joint))
                .collect(),
        }
    }

    /// Three pictures, the joint network did not look at the middle one; `change` happens to all.
    fn mended(half_width_px: f64, change: impl Fn(&mut Landmarks)) -> LandmarkTrack {
        let frames = [true, false, true].into_iter().enumerate();
        let mut track = LandmarkTrack {
            width_px: 400,
            height_px: 700,
            frames: frames
                .map(|(frame, looked)| {
                    let mut body = body(half_width_px, looked);
                    change(&mut body);
                    BodyFrame {
                        frame,
                        time_s: frame as f64 / 60.0,
                        body: Some(body),
                    }
                })
                .collect(),
        };
        mend_sides(&mut track);
        track
    }

    fn exchange_all(body: &mut Landmarks) {
        for [left, right] in PAIRS.iter().flat_map(|pairs| pairs.iter()) {
            body.points.swap(*left as usize, *right as usize);
        }
    }

    #[test]
    fn a_front_taken_for_a_back_is_turned_round_in_every_picture() {
        assert_eq!(mended(30.0, exchange_all), mended(30.0, |_| ()));
    }

    #[test]
    fn one_pair_is_exchanged_alone() {
        let ankles = |body: &mut Landmarks| {
            let [left, right] = [Joint::LeftAnkle, Joint::RightAnkle];
            body.points.swap(left as usize, right as usize);
        };
        assert_eq!(mended(30.0, ankles), mended(30.0, |_| ()));
    }

    #[test]
    fn sides_too_close_to_be_told_stay_as_the_landmarks_have_them() {
        let track = mended(4.0, exchange_all);
        let body = track.frames[0].body.as_ref().expect("a body");
        assert!(body.get(Joint::LeftAnkle).at.x < body.get(Joint::RightAnkle).at.x);
    }

    #[test]
    fn landmarks_between_both_sides_stay() {
        let middle = |body: &mut Landmarks| {
            for point in &mut body.points {
                point.at.x = 0.2 * point.at.x + 0.8 * 200.0;
            }
            exchange_all(body);
        };
        let track = mended(30.0, middle);
        let body = track.frames[0].body.as_ref().expect("a body");
        assert!(body.get(Joint::LeftHip).at.x < body.get(Joint::RightHip).at.x);
    }
}
