//! The way the shaft took through the pictures: of the directions that each picture allows, the ones
//! that follow each other as a club can turn.
//!
//! The search keeps the best few hypotheses from picture to picture (a beam search; a hypothesis is a
//! direction, how fast it turns, and what it has cost). A picture may also be passed over: the club is not
//! seen there.

use crate::clock::Clock;
use lessonwright_math::angle::wrap;
use lessonwright_model::{ClubGlance, ClubRay, ClubTrack, PixelPoint};
use serde::Serialize;

/// Hypotheses kept.
const BEAM: usize = 48;
/// Passing a picture over costs as much as a whole shaft that is seen with a probability of e^−3.2, 4 %.
const PASS_COST: f64 = 3.2;
/// A shaft of so many network pixels is seen whole for what it matters.
const WHOLE: f64 = 14.0;
/// How fast a club is taken to go on turning at most, rad/s: 2413 ± 442 °/s at the shaft's peak (Zheng et al.
/// 2008, Int J Sports Med 29:487–493), and faster where it points at the camera.
const FASTEST_RAD_S: f64 = 75.0;
/// How its turning changes, rad/s²: from rest to that in some hundredths of a second.
const TURN_CHANGE_RAD_S2: f64 = 420.0;
/// … and what a picture's own error adds, rad.
const RAY_SD_RAD: f64 = 0.05;
/// No change costs more than this: shafts that point at the camera swing round at once. Less than passing over, or the
/// two or three plain pictures of a shaft that does so twice (down the line, about impact) are passed over: with 2.6 and 4.0
/// of these two, 2.5 % of the shafts in 200 tuning clips were, and none of what is told was better for it.
const MOST_TURN_COST: f64 = 2.5;
/// A shaft is not seen where the network gives it less than this; set on 24 tuning swings, as the next two.
const SHAFT_SEEN: f64 = 0.45;
const HEAD_SEEN: f64 = 0.50;
/// Nor a head with a peak lower than this.
const HEAD_PEAK: f64 = 0.10;
/// A head this near to the picture's edge, network pixels, lies beyond it as often as not: 30 of the 43 hidden heads
/// that were told in 96 clips.
const EDGE: f64 = 4.0;

/// What the network tells of its own error, times this, holds 95 % of the errors of 24 tuning swings within
/// 1.96 of it (68 % lie within 1.26 spreads).
const SPREAD_TO_SD: f64 = 1.75;

/// The shaft in one picture.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Shaft {
    /// Frame number in the clip.
    pub frame: usize,
    /// Real seconds from the clip's first frame.
    pub time_s: f64,
    /// Middle of the grip, px.
    pub grip: PixelPoint,
    /// Direction from grip to head, radians from right, plus clockwise as seen.
    pub angle_rad: f64,
    /// Its standard deviation, radians.
    pub sd_rad: f64,
    /// How far the shaft is seen, px from the grip.
    pub length_px: f64,
    /// Middle of the head, px, where it is seen.
    pub head: Option<PixelPoint>,
}

impl Shaft {
    /// Where the club ends as far as it is seen, px: the head, or the end of the shaft.
    pub fn end(&self) -> PixelPoint {
        let (sin, cos) = self.angle_rad.sin_cos();
        self.head.unwrap_or(PixelPoint {
            x: self.grip.x + self.length_px * cos,
            y: self.grip.y + self.length_px * sin,
        })
    }
}

/// The club in the pictures in which its shaft was seen, in order of time.
pub type ClubWay = Vec<Shaft>;

/// The way of the shaft.
pub fn club_way(track: &ClubTrack, clock: Clock) -> ClubWay {
    let times_s: Vec<f64> = track.glances.iter().map(|g| clock.real(g.time_s)).collect();
    let mut beam = vec![Hypothesis::default()];
    // For each picture, every hypothesis' ray and where it came from.
    let mut steps: Vec<Vec<(Option<usize>, usize)>> = Vec::new();
    for (glance, &time_s) in track.glances.iter().zip(&times_s) {
        let mut next: Vec<(Hypothesis, Option<usize>, usize)> = Vec::new();
        for (from, hypothesis) in beam.iter().enumerate() {
            let passed = Hypothesis {
                cost: hypothesis.cost + PASS_COST,
                ..*hypothesis
            };
            next.push((passed, None, from));
            for (number, ray) in glance.rays.iter().enumerate() {
                next.push((hypothesis.turned(glance, ray, time_s), Some(number), from));
            }
        }
        next.sort_by(|a, b| a.0.cost.total_cmp(&b.0.cost));
        next.truncate(BEAM);
        beam = next.iter().map(|n| n.0).collect();
        steps.push(next.into_iter().map(|n| (n.1, n.2)).collect());
    }
    let mut way = Vec::new();
    let mut at = 0;
    for (number, step) in steps.iter().enumerate().rev() {
        let (ray, from) = step[at];
        if let Some(ray) = ray {
            let glance = &track.glances[number];
            way.extend(shaft(track, glance, &glance.rays[ray], times_s[number]));
        }
        at = from;
    }
    way.reverse();
    way
}

/// A way so far.
#[derive(Clone, Copy, Default)]
struct Hypothesis {
    cost: f64,
    /// Time, direction and turn of the last picture in which the shaft was seen.
    last: Option<(f64, f64, f64)>,
}

impl Hypothesis {
    /// With one more ray.
    fn turned(&self, glance: &ClubGlance, ray: &ClubRay, time_s: f64) -> Hypothesis {
        let cost = self.cost + ray_cost(glance, ray);
        let Some((last_s, angle, turn)) = self.last else {
            return Hypothesis {
                cost,
                last: Some((time_s, ray.angle_rad, 0.0)),
            };
        };
        let step_s = (time_s - last_s).max(1e-4);
        // Of the ways round, the one nearest to going on as before.
        let straight = wrap(ray.angle_rad - angle);
        let expected = turn * step_s;
        let off = wrap(straight - expected);
        let turned = (expected + off) / step_s;
        let turned = turned.clamp(-FASTEST_RAD_S, FASTEST_RAD_S);
        let allowed = TURN_CHANGE_RAD_S2 * step_s * step_s + RAY_SD_RAD + 2.0 * ray.spread_rad;
        Hypothesis {
            cost: cost + (0.5 * (off / allowed).powi(2)).min(MOST_TURN_COST),
            last: Some((time_s, ray.angle_rad, turned)),
        }
    }
}

/// What a ray costs by itself: less the more shaft lies along it, compared with the picture's best.
fn ray_cost(glance: &ClubGlance, ray: &ClubRay) -> f64 {
    let best = glance.rays.iter().map(|r| r.score).fold(1e-9, f64::max);
    let share = (ray.score / best).max(0.02);
    let whole = (ray.score / WHOLE).clamp(0.05, 1.0);
    -share.ln() - whole.ln() - glance.shaft_seen.max(0.03).ln()
}

fn shaft(track: &ClubTrack, glance: &ClubGlance, ray: &ClubRay, time_s: f64) -> Option<Shaft> {
    if glance.shaft_seen < SHAFT_SEEN {
        return None;
    }
    let from_edge = |at: f64, size: u32| at.min(f64::from(size) - at);
    let from_edge_px =
        from_edge(ray.head.x, track.width_px).min(from_edge(ray.head.y, track.height_px));
    let head_is_seen = glance.head_seen > HEAD_SEEN
        && ray.head_peak > HEAD_PEAK
        && from_edge_px > EDGE * glance.px;
    Some(Shaft {
        frame: glance.frame,
        time_s,
        grip: glance.grip,
        angle_rad: ray.angle_rad,
        sd_rad: SPREAD_TO_SD * ray.spread_rad,
        length_px: ray.length_px,
        head: head_is_seen.then_some(ray.head),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ray(angle_rad: f64, score: f64) -> ClubRay {
        ClubRay {
            angle_rad,
            spread_rad: 0.01,
            score,
            length_px: 100.0,
            head: PixelPoint::default(),
            head_peak: 0.9,
        }
    }

    fn glance(frame: usize, rays: Vec<ClubRay>) -> ClubGlance {
        ClubGlance {
            frame,
            time_s: frame as f64 / 60.0,
            grip: PixelPoint::default(),
            px: 1.0,
            rays,
            head_seen: 0.9,
            shaft_seen: 0.9,
            ball_seen: 0.0,
            ball: PixelPoint::default(),
        }
    }

    /// A club that turns ever faster, by 2.5° to 25° from picture to picture.
    fn turning(frame: usize) -> f64 {
        wrap(1.5 + 0.04 * frame as f64 + 0.01 * (frame * frame) as f64)
    }

    fn way_of(glances: impl Iterator<Item = ClubGlance>) -> Vec<Shaft> {
        let track = ClubTrack {
            width_px: 400,
            height_px: 700,
            glances: glances.collect(),
            flight: Vec::new(),
        };
        club_way(&track, Clock::exact())
    }

    fn followed(change: impl Fn(usize, &mut ClubGlance)) -> Vec<Option<f64>> {
        let glances = (0..20).map(|frame| {
            let mut glance = glance(frame, vec![ray(turning(frame), 30.0)]);
            change(frame, &mut glance);
            glance
        });
        let way = way_of(glances);
        let at = |frame| way.iter().find(|shaft: &&Shaft| shaft.frame == frame);
        (0..20)
            .map(|f| at(f).map(|s| wrap(s.angle_rad - turning(f)).abs()))
            .collect()
    }

    #[test]
    fn a_stick_that_is_seen_better_for_a_moment_is_not_the_club() {
        let off = followed(|frame, glance| {
            if (8..10).contains(&frame) {
                glance.rays.insert(0, ray(turning(frame) + 2.0, 36.0));
            }
        });
        assert!(
            off.iter().all(|off| off.is_some_and(|off| off < 1e-9)),
            "{off:?}"
        );
    }

    #[test]
    fn a_club_that_is_hidden_is_passed_over_and_found_again() {
        let off = followed(|frame, glance| {
            if (8..11).contains(&frame) {
                // A weak edge far off is all there is.
                glance.rays = vec![ray(turning(frame) + 2.2, 1.0)];
                glance.shaft_seen = 0.1;
            }
        });
        for (frame, off) in off.iter().enumerate() {
            assert_eq!(off.is_none(), (8..11).contains(&frame), "{frame}: {off:?}");
            assert!(off.is_none_or(|off| off < 1e-9), "{frame}: {off:?}");
        }
    }

    /// Down the line, about impact: the shaft points at the camera before and after, and the other way round between.
    #[test]
    fn a_shaft_that_swings_round_twice_is_followed_through_it() {
        let angle = |frame: usize| if (8..13).contains(&frame) { 2.2 } else { -1.0 };
        let way = way_of((0..20).map(|frame| glance(frame, vec![ray(angle(frame), 30.0)])));
        let told: Vec<bool> = (0..20).map(|f| way.iter().any(|s| s.frame == f)).collect();
        assert_eq!(told, [true; 20]);
    }

    #[test]
    fn a_head_at_the_pictures_edge_or_without_a_peak_is_not_told() {
        let told = |x: f64, head_peak: f64| {
            let seen = ClubRay {
                head: PixelPoint { x, y: 300.0 },
                head_peak,
                ..ray(0.0, 30.0)
            };
            let track = ClubTrack {
                width_px: 400,
                height_px: 700,
                glances: vec![glance(0, vec![seen])],
                flight: Vec::new(),
            };
            club_way(&track, Clock::exact())[0].head.is_some()
        };
        assert!(told(200.0, 0.9));
        // A glance's pixel is one of the picture's here.
        assert!(told(5.0, 0.9) && !told(3.0, 0.9) && !told(397.0, 0.9) && !told(-8.0, 0.9));
        assert!(!told(200.0, 0.05));
    }
}
