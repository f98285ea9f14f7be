//! From the club network's maps to directions in which the shaft may lie.

use super::INPUT_SIDE;
use crate::region::Square;
use lessonwright_model::{ClubGlance, ClubRay, PixelPoint};
use std::f64::consts::TAU;

/// Side of a map, cells, and of a cell, px of the input.
const MAP_SIDE: usize = INPUT_SIDE / CELL;
const CELL: usize = 4;

/// The maps, in the network's order: logits of grip, head, shaft and ball; cosine and sine of the
/// direction from grip to head, and the logarithm of its spread.
const GRIP: usize = 0;
const HEAD: usize = 1;
const SHAFT: usize = 2;
const BALL: usize = 3;
const COSINE: usize = 4;
const SINE: usize = 5;
const SPREAD: usize = 6;
const MAPS: usize = 7;

/// Directions tried.
const RAYS: usize = 360;
/// Places along a ray, px of the input from the grip: past the hands, to the longest club's head.
const NEAREST: f64 = 12.0;
const FARTHEST: f64 = 170.0;
const STEP: f64 = 2.0;
/// What a place without a shaft costs a ray: below that it ends.
const BARE: f64 = 0.15;
/// Directions kept, and how far apart they lie at least, steps of the circle.
const KEPT: usize = 5;
const APART: usize = 8;
/// A direction that gathers less is none.
const LEAST_SCORE: f64 = 0.6;
/// The grip lies this near to the hands, the middle of the square, px of the input: what landmarks of
/// wrists are off by, hidden ones too.
const GRIP_WITHIN: f64 = 44.0;
/// Cells around a peak that have a say in its place.
const REACH: usize = 2;
/// The head lies about the end of the shaft that is seen: so far along it and beside it, px of the input.
const HEAD_ALONG: f64 = 28.0;
const HEAD_BESIDE: f64 = 14.0;

/// What the network says, in px of the picture.
pub(super) fn glance(maps: &[f32], seen: &[f32], square: &Square) -> ClubGlance {
    assert_eq!(maps.len(), MAPS * MAP_SIDE * MAP_SIDE, "the network's own");
    let maps = Maps::of(maps);
    let near_hands = |at: [f64; 2]| {
        let middle = 0.5 * INPUT_SIDE as f64;
        (at[0] - middle).hypot(at[1] - middle) < GRIP_WITHIN
    };
    let (grip, _) = maps.peak(GRIP, near_hands);
    let (ball, _) = maps.peak(BALL, |_| true);
    let px = square.side_px / INPUT_SIDE as f64;
    let at = |[x, y]: [f64; 2]| square.point_at(x / INPUT_SIDE as f64, y / INPUT_SIDE as f64);
    let probability = |logit: f32| sigmoid(f64::from(logit));
    ClubGlance {
        frame: 0,
        time_s: 0.0,
        grip: at(grip),
        px,
        rays: maps
            .rays(grip)
            .into_iter()
            .map(|ray| ClubRay {
                length_px: ray.length_px * px,
                head: at([ray.head.x, ray.head.y]),
                ..ray
            })
            .collect(),
        head_seen: probability(seen[0]),
        shaft_seen: probability(seen[1]),
        ball_seen: probability(seen[2]),
        ball: at(ball),
    }
}

struct Maps<'a> {
    said: &'a [f32],
    /// Probability of a shaft, cell by cell: every ray asks for it.
    shaft: Vec<f64>,
}

impl<'a> Maps<'a> {
    fn of(said: &'a [f32]) -> Maps<'a> {
        let mut maps = Maps {
            said,
            shaft: Vec::new(),
        };
        maps.shaft = (maps.map(SHAFT).iter())
            .map(|logit| sigmoid(f64::from(*logit)))
            .collect();
        maps
    }

    fn map(&self, number: usize) -> &[f32] {
        let cells = MAP_SIDE * MAP_SIDE;
        &self.said[number * cells..][..cells]
    }

    /// The best cell of a map of logits among those wanted, moved to the mean of its neighbours; px of
    /// the input, and its probability.
    fn peak(&self, number: usize, wanted: impl Fn([f64; 2]) -> bool) -> ([f64; 2], f64) {
        let map = self.map(number);
        let middle = |cell: usize| (cell as f64 + 0.5) * CELL as f64;
        let best = (0..map.len())
            .filter(|cell| wanted([middle(cell % MAP_SIDE), middle(cell / MAP_SIDE)]))
            .max_by(|a, b| map[*a].total_cmp(&map[*b]));
        let Some(best) = best else {
            return ([0.0; 2], 0.0);
        };
        let (row, column) = (best / MAP_SIDE, best % MAP_SIDE);
        let around = |cell: usize| cell.saturating_sub(REACH)..(cell + REACH + 1).min(MAP_SIDE);
        let (mut x, mut y, mut total) = (0.0, 0.0, 0.0);
        for v in around(row) {
            for u in around(column) {
                let weight = sigmoid(f64::from(map[v * MAP_SIDE + u])).powi(2);
                x += weight * middle(u);
                y += weight * middle(v);
                total += weight;
            }
        }
        ([x / total, y / total], sigmoid(f64::from(map[best])))
    }

    /// What the network says in a map, between its cells.
    fn said_at(&self, number: usize, at: [f64; 2]) -> f64 {
        let map = self.map(number);
        between(at, |cell| f64::from(map[cell]))
    }

    fn shaft_at(&self, at: [f64; 2]) -> f64 {
        between(at, |cell| self.shaft[cell])
    }

    /// Directions from the grip that gather some shaft, the best first.
    fn rays(&self, grip: [f64; 2]) -> Vec<ClubRay> {
        let gathered: Vec<Gathered> = (0..RAYS).map(|ray| self.gather(grip, ray)).collect();
        let mut order: Vec<usize> = (0..RAYS)
            .filter(|ray| gathered[*ray].score > LEAST_SCORE)
            .collect();
        order.sort_by(|a, b| gathered[*b].score.total_cmp(&gathered[*a].score));
        let mut kept: Vec<usize> = Vec::new();
        for ray in order {
            let apart = |other: &usize| {
                let off = ray.abs_diff(*other);
                off.min(RAYS - off) >= APART
            };
            if kept.iter().all(apart) {
                kept.push(ray);
            }
            if kept.len() == KEPT {
                break;
            }
        }
        kept.into_iter()
            .map(|ray| self.told(grip, ray, &gathered[ray]))
            .collect()
    }

    /// The stretch of a ray, from the hands on, that holds most shaft.
    fn gather(&self, grip: [f64; 2], ray: usize) -> Gathered {
        let (mut sum, mut best) = (0.0, Gathered::default());
        for (reach, at) in along(grip, ray) {
            sum += self.shaft_at(at) - BARE;
            if sum > best.score {
                best = Gathered {
                    score: sum,
                    length: reach,
                };
            }
        }
        best
    }

    /// What the cells along a ray tell of the shaft's direction, and where the head is.
    fn told(&self, grip: [f64; 2], ray: usize, gathered: &Gathered) -> ClubRay {
        let (mut x, mut y, mut shaft, mut spread) = (0.0, 0.0, 0.0, 0.0);
        for (reach, at) in along(grip, ray) {
            let here = self.shaft_at(at);
            let logarithm = self.said_at(SPREAD, at).clamp(-6.0, 1.5);
            if reach <= gathered.length {
                let weight = here * (-logarithm).exp();
                x += weight * self.said_at(COSINE, at);
                y += weight * self.said_at(SINE, at);
                shaft += here;
                spread += here * logarithm;
            }
        }
        let (sin, cos) = y.atan2(x).sin_cos();
        let (head, head_peak) = self.peak(HEAD, |at| {
            let off = [at[0] - grip[0], at[1] - grip[1]];
            let (along, beside) = (off[0] * cos + off[1] * sin, off[1] * cos - off[0] * sin);
            (along - gathered.length).abs() < HEAD_ALONG && beside.abs() < HEAD_BESIDE
        });
        ClubRay {
            angle_rad: y.atan2(x),
            spread_rad: (spread / shaft.max(1e-9)).exp(),
            score: gathered.score,
            length_px: gathered.length,
            head: PixelPoint {
                x: head[0],
                y: head[1],
            },
            head_peak,
        }
    }
}

/// A value between cells, from those of the cells around it; 0 outside.
fn between([x, y]: [f64; 2], value: impl Fn(usize) -> f64) -> f64 {
    let place = |v: f64| v / CELL as f64 - 0.5;
    let (u, v) = (place(x), place(y));
    let (left, top) = (u.floor(), v.floor());
    let mut sum = 0.0;
    for (dv, du) in [(0, 0), (0, 1), (1, 0), (1, 1)] {
        let (column, row) = (left as i64 + du, top as i64 + dv);
        let side = 0..MAP_SIDE as i64;
        if !side.contains(&column) || !side.contains(&row) {
            continue;
        }
        let share = |off: f64, near: i64| if near == 0 { 1.0 - off } else { off };
        let weight = share(u - left, du) * share(v - top, dv);
        sum += weight * value(row as usize * MAP_SIDE + column as usize);
    }
    sum
}

#[derive(Clone, Copy, Default)]
struct Gathered {
    score: f64,
    /// Px of the input from the grip.
    length: f64,
}

/// Places along a ray: how far from the grip, and where, px of the input.
fn along(grip: [f64; 2], ray: usize) -> impl Iterator<Item = (f64, [f64; 2])> {
    let (sin, cos) = (ray as f64 / RAYS as f64 * TAU).sin_cos();
    let steps = ((FARTHEST - NEAREST) / STEP).ceil() as usize;
    (0..steps).map(move |step| {
        let reach = NEAREST + STEP * step as f64;
        (reach, [grip[0] + reach * cos, grip[1] + reach * sin])
    })
}

fn sigmoid(logit: f64) -> f64 {
    1.0 / (1.0 + (-logit).exp())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::testdata;

    #[derive(serde::Deserialize)]
    struct Case {
        grip: [f64; 2],
        angle_deg: f64,
        length: f64,
        head: bool,
        said: Said,
    }

    #[derive(serde::Deserialize)]
    struct Said {
        grip: [f64; 2],
        head: [f64; 2],
        ball: [f64; 2],
        told: f64,
        spread: f64,
        score: f64,
        length: f64,
    }

    /// The maps of `testdata/vision/club_reference.py`.
    fn maps(case: &Case) -> Vec<f32> {
        let (sin, cos) = case.angle_deg.to_radians().sin_cos();
        let [gx, gy] = case.grip;
        let mut maps = Vec::new();
        for map in 0..MAPS {
            for cell in 0..MAP_SIDE * MAP_SIDE {
                let middle = |cell: usize| (cell as f64 + 0.5) * CELL as f64;
                let (x, y) = (middle(cell % MAP_SIDE), middle(cell / MAP_SIDE));
                let bell = |px: f64, py: f64, sigma: f64| {
                    (-((x - px).powi(2) + (y - py).powi(2)) / (2.0 * sigma * sigma)).exp()
                };
                let along = (x - gx) * cos + (y - gy) * sin;
                let beside = -(x - gx) * sin + (y - gy) * cos;
                let past = along - along.clamp(10.0, case.length);
                let end = case.length + 5.0;
                let head = bell(gx + end * cos - 4.0 * sin, gy + end * sin + 4.0 * cos, 4.0);
                let logit = |share: f64| 12.0 * share - 6.0;
                let bent = case.angle_deg.to_radians() + 0.02 * (along - 50.0) / 50.0;
                maps.push(match map {
                    GRIP => logit(bell(gx, gy, 5.0)),
                    HEAD => logit(if case.head { head } else { 0.0 }),
                    SHAFT => logit((-(past * past + beside * beside) / 18.0).exp()),
                    BALL => logit(bell(60.0, 250.0, 4.0)),
                    COSINE => bent.cos(),
                    SINE => bent.sin(),
                    _ => -7.0 + 9.0 * (along + 20.0) / 140.0,
                } as f32);
            }
        }
        maps
    }

    /// Source: the reading that the network was judged by, PyTorch (`testdata/vision/club_reference.py`).
    #[test]
    fn made_up_maps_are_read_as_the_network_was_judged() {
        let text = std::fs::read(testdata("club.json")).expect("the reference");
        let cases: Vec<Case> = serde_json::from_slice(&text).expect("the reference");
        // A square whose pixels are the input's.
        let half = 0.5 * INPUT_SIDE as f64;
        let square = Square {
            centre: PixelPoint { x: half, y: half },
            side_px: INPUT_SIDE as f64,
            rotation_rad: 0.0,
        };
        for case in &cases {
            let glance = glance(&maps(case), &[2.0, 0.0, -2.0], &square);
            let said = &case.said;
            let near = |at: PixelPoint, [x, y]: [f64; 2]| (at.x - x).hypot(at.y - y) < 0.02;
            assert!(near(glance.grip, said.grip), "{:?}", glance.grip);
            assert!(near(glance.ball, said.ball), "{:?}", glance.ball);
            let ray = &glance.rays[0];
            let off = (ray.angle_rad - said.told + std::f64::consts::PI).rem_euclid(TAU);
            assert!((off - std::f64::consts::PI).abs() < 2e-4, "{ray:?}");
            assert!((ray.spread_rad.ln() - said.spread).abs() < 1e-3, "{ray:?}");
            assert!(
                (ray.score - said.score).abs() < 0.02,
                "{ray:?} {}",
                said.score
            );
            assert!((ray.length_px - said.length).abs() < 1e-3, "{ray:?}");
            if case.head {
                assert!(near(ray.head, said.head) && ray.head_peak > 0.9, "{ray:?}");
            } else {
                assert!(ray.head_peak < 0.1, "{ray:?}");
            }
            let seen = [glance.head_seen, glance.shaft_seen, glance.ball_seen];
            assert!((seen[0] - 0.8808).abs() < 1e-4 && (seen[1] - 0.5).abs() < 1e-9);
            assert!((seen[0] + seen[2] - 1.0).abs() < 1e-9);
        }
    }
}
