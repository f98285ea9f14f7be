//! Joints placed by hand: exact in their frame, and felt near it.
//!
//! The error of a landmark wanders slowly, so an error found in one frame tells of its neighbours: what
//! is added to the path is kriged from the placements ([`Kriging`]), each joint by itself, and the
//! point's spread shrinks by as much as is known. The error goes with the pose, so before the takeaway, where the
//! player stands still, it hardly wanders at all.

use super::PLACED_SD;
use crate::clean::{CleanTrack, Origin, TrackPoint};
use crate::clock::Clock;
use crate::path::Path;
use lessonwright_math::{Kriging, Left};
use lessonwright_model::{CorrectionError, Joint, LandmarkTrack, PixelPoint, PlacedJoint, View};
use std::collections::BTreeMap;

/// Reach of an error found in one frame, s of real motion: at 0.97 of it half of the error is left. From
/// the cleaned joint centres of the demo's six clips against the stage's exact ones, takeaway to 0.3 s
/// after impact (`docs/decisions/009-by-hand.md`): half is left after 0.10 s for head, shoulders and hips,
/// 0.045 s for elbows and wrists, 0.3 s and more for what is below the hips.
const REACH_TRUNK_S: f64 = 0.10;
const REACH_ARM_S: f64 = 0.06;
const REACH_LEG_S: f64 = 0.30;
/// A gap is filled around a placed joint as far as this share of an unknown error's variance is known
/// away …
const FILLED: f64 = 0.25;
/// … an unknown error being this wide there, body heights (a hidden joint may be 10 cm off a straight
/// line between where it was seen; common practice, no source).
const UNSEEN_SD: f64 = 0.07;
/// How fast the error wanders while the player stands still, against how fast it does in the swing: the pose
/// sways by a twentieth of what a swing moves it (2 cm of extent at rest).
const STILL_PACE: f64 = 0.05;

/// What is known of one joint's error from where it was placed.
#[derive(Clone, Debug, Default)]
pub struct Known {
    kriging: Kriging,
    still_until_s: f64,
}

impl Known {
    /// From placements at `times_s`, of which no two are the same.
    fn new(joint: usize, times_s: &[f64], still_until_s: f64) -> Known {
        let mut known = Known {
            kriging: Kriging::default(),
            still_until_s,
        };
        let times: Vec<f64> = times_s.iter().map(|&t| known.pose_time_s(t)).collect();
        known.kriging = Kriging::new(&times, reach_s(joint))
            .expect("corrections are checked: no joint is placed twice in a frame");
        known
    }

    /// What is left of the error at `t`, real s.
    pub fn left(&self, t: f64) -> Left {
        self.kriging.left(self.pose_time_s(t))
    }

    /// The share that the error at each placement has in that at `t`.
    fn shares(&self, t: f64) -> Vec<f64> {
        self.kriging.shares(self.pose_time_s(t))
    }

    fn pose_time_s(&self, t: f64) -> f64 {
        let before_s = (self.still_until_s - t).max(0.0);
        t + before_s * (1.0 - STILL_PACE)
    }
}

/// Moves the track and paths of joints placed by hand in this clip. The player stands still until
/// `still_until_s`, real s.
///
/// # Errors
/// If a joint is placed in a frame that the track does not have, or outside of the picture.
pub fn place(
    track: &mut CleanTrack,
    paths: &mut [Path],
    placed: &[PlacedJoint],
    clock: Clock,
    still_until_s: f64,
    (view, picture): (View, &LandmarkTrack),
) -> Result<(), CorrectionError> {
    let times_s: Vec<f64> = track.times_s.iter().map(|&t| clock.real(t)).collect();
    let mut by_joint: BTreeMap<usize, Vec<(usize, PixelPoint)>> = BTreeMap::new();
    for placed in placed {
        let index = index_of(track, placed, view)?;
        let at = placed.in_picture(picture.width_px);
        if at.y > f64::from(picture.height_px) {
            let placed = placed.clone();
            return Err(CorrectionError::PlaceOutside { view, placed });
        }
        by_joint
            .entry(placed.joint as usize)
            .or_default()
            .push((index, at));
    }
    for (joint, places) in by_joint {
        let known_s: Vec<f64> = places.iter().map(|(index, _)| times_s[*index]).collect();
        let known = Known::new(joint, &known_s, still_until_s);
        let moved = moved(
            &times_s,
            &track.points[joint],
            &places,
            &known,
            track.span_px,
        );
        let seen: Vec<Option<PixelPoint>> = moved.iter().map(|p| p.map(|p| p.at)).collect();
        paths[joint] = Path::through(&times_s, &seen, paths[joint].sigma_px).placed(known);
        // What is fitted from the uncleaned points moves as far.
        for (i, raw) in track.raw[joint].iter_mut().enumerate() {
            *raw = match (moved[i], track.points[joint][i], *raw) {
                (Some(moved), _, _) if moved.origin == Origin::ByHand => Some(moved.at),
                (Some(moved), Some(before), Some(raw)) => Some(PixelPoint {
                    x: raw.x + moved.at.x - before.at.x,
                    y: raw.y + moved.at.y - before.at.y,
                }),
                _ => *raw,
            };
        }
        track.points[joint] = moved;
    }
    Ok(())
}

fn reach_s(joint: usize) -> f64 {
    match joint {
        j if j < Joint::LeftElbow as usize => REACH_TRUNK_S,
        j if j < Joint::LeftHip as usize => REACH_ARM_S,
        j if j < Joint::LeftKnee as usize => REACH_TRUNK_S,
        _ => REACH_LEG_S,
    }
}

fn index_of(
    track: &CleanTrack,
    placed: &PlacedJoint,
    view: View,
) -> Result<usize, CorrectionError> {
    let found = track.frames.iter().position(|f| *f == placed.frame);
    found.ok_or_else(|| CorrectionError::FrameOutside {
        view,
        joint: placed.joint,
        frame: placed.frame,
        first: track.frames.first().copied().unwrap_or_default(),
        last: track.frames.last().copied().unwrap_or_default(),
    })
}

fn moved(
    times_s: &[f64],
    points: &[Option<TrackPoint>],
    places: &[(usize, PixelPoint)],
    known: &Known,
    span_px: f64,
) -> Vec<Option<TrackPoint>> {
    let base: Vec<PixelPoint> = (0..points.len())
        .map(|i| base(times_s, points, places, i))
        .collect();
    let found: Vec<(f64, f64)> = places
        .iter()
        .map(|(index, at)| (at.x - base[*index].x, at.y - base[*index].y))
        .collect();
    (0..points.len())
        .map(|i| {
            let left = known.left(times_s[i]).variance;
            if points[i].is_none() && left > FILLED {
                return None;
            }
            let shares = known.shares(times_s[i]);
            let add = |pick: fn(&(f64, f64)) -> f64| -> f64 {
                shares.iter().zip(&found).map(|(s, f)| s * pick(f)).sum()
            };
            let before = points[i].map_or(UNSEEN_SD * span_px, |p| p.sigma_px);
            let narrowed = |px: f64| (left.sqrt() * px).hypot((1.0 - left) * PLACED_SD * span_px);
            Some(TrackPoint {
                at: PixelPoint {
                    x: base[i].x + add(|f| f.0),
                    y: base[i].y + add(|f| f.1),
                },
                sigma_px: narrowed(before),
                spread_px: points[i].and_then(|p| p.spread_px).map(narrowed),
                origin: match points[i] {
                    _ if places.iter().any(|(index, _)| *index == i) => Origin::ByHand,
                    Some(point) => point.origin,
                    None => Origin::Bridged,
                },
            })
        })
        .collect()
}

/// Where the point is without corrections; in a gap on the straight line across it, beyond the first and
/// last one where that is. Of a joint never seen nothing is known but where it was first placed.
fn base(
    times_s: &[f64],
    points: &[Option<TrackPoint>],
    places: &[(usize, PixelPoint)],
    index: usize,
) -> PixelPoint {
    let at = |i: usize| points[i].map(|p| (times_s[i], p.at));
    let before = (0..=index).rev().find_map(at);
    let after = (index..points.len()).find_map(at);
    match (before, after) {
        (Some((t0, a)), Some((t1, b))) if t1 > t0 => {
            let share = (times_s[index] - t0) / (t1 - t0);
            PixelPoint {
                x: a.x + share * (b.x - a.x),
                y: a.y + share * (b.y - a.y),
            }
        }
        (Some((_, only)), _) | (None, Some((_, only))) => only,
        (None, None) => places[0].1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SPAN_PX: f64 = 1000.0;
    const REACH_S: f64 = 0.25;

    fn seen(x: f64) -> Option<TrackPoint> {
        Some(TrackPoint {
            at: PixelPoint { x, y: 500.0 },
            sigma_px: 6.0,
            spread_px: None,
            origin: Origin::Seen,
        })
    }

    fn run(
        points: &[Option<TrackPoint>],
        places: &[(usize, PixelPoint)],
    ) -> Vec<Option<TrackPoint>> {
        let times_s: Vec<f64> = (0..points.len()).map(|i| i as f64 / 60.0).collect();
        let known: Vec<f64> = places.iter().map(|p| times_s[p.0]).collect();
        let known = Known {
            kriging: Kriging::new(&known, REACH_S).expect("distinct"),
            still_until_s: f64::NEG_INFINITY,
        };
        moved(&times_s, points, places, &known, SPAN_PX)
    }

    #[test]
    fn a_placed_joint_is_exact_in_its_frame_and_fades_into_what_was_found() {
        let points: Vec<_> = (0..121).map(|i| seen(f64::from(i))).collect();
        let moved = run(&points, &[(60, PixelPoint { x: 90.0, y: 480.0 })]);
        let off = |i: usize| moved[i].expect("seen").at.x - i as f64;
        let at = moved[60].expect("seen");
        assert!((at.at.x - 90.0).abs() < 1e-9 && (at.at.y - 480.0).abs() < 1e-9);
        assert_eq!(at.origin, Origin::ByHand);
        assert!((at.sigma_px - PLACED_SD * SPAN_PX).abs() < 1e-6);
        for i in 60..119 {
            assert!(off(i + 1) < off(i), "frame {i}");
            // Smooth: the second difference of 30 px over a reach of 15 frames, √3² / 15² of it.
            assert!((off(i - 1) - 2.0 * off(i) + off(i + 1)).abs() < 0.45);
        }
        // (1 + 6.9) exp(−6.9) of 30 px.
        assert!(off(120).abs() < 0.25 && off(0).abs() < 0.25);
        assert!((off(90) - off(30)).abs() < 1e-9);
        assert!((moved[120].expect("seen").sigma_px - 6.0).abs() < 0.1);
    }

    #[test]
    fn several_placements_are_all_kept() {
        let points: Vec<_> = (0..121).map(|i| seen(f64::from(i))).collect();
        let places =
            [(60, 90.0), (61, 92.0), (75, 70.0)].map(|(i, x)| (i, PixelPoint { x, y: 500.0 }));
        let moved = run(&points, &places);
        for (i, at) in places {
            assert!((moved[i].expect("seen").at.x - at.x).abs() < 1e-6, "{i}");
        }
        // Between two that pull the same way nothing overshoots by much.
        let between = (62..75).map(|i| moved[i].expect("seen").at.x - i as f64);
        assert!(between.clone().all(|off| (-8.0..=40.0).contains(&off)));
    }

    #[test]
    fn a_hidden_joint_is_known_around_its_placement_only() {
        let mut points: Vec<_> = (0..121).map(|i| seen(f64::from(i))).collect();
        points[40..100].fill(None);
        let moved = run(&points, &[(70, PixelPoint { x: 90.0, y: 500.0 })]);
        assert!((moved[70].expect("placed").at.x - 90.0).abs() < 1e-9);
        assert!(moved[69].is_some() && moved[71].is_some());
        assert!(moved[45].is_none() && moved[95].is_none());
        let never = run(&[None; 121], &[(70, PixelPoint { x: 90.0, y: 500.0 })]);
        assert_eq!(never[70].map(|p| p.at.x), Some(90.0));
        assert!(never[0].is_none());
    }
}
