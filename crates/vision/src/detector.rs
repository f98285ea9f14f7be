//! Where people are in a picture.
//!
//! The BlazePose person detector (Bazarevsky et al. 2020, arXiv:2006.10204): a network looks at the
//! whole picture and proposes, for each of its anchors, a box around the face and four points; the
//! first is the mid-hip, the second lies on a circle around the whole body, towards the head.

use crate::anchors::{ANCHORS, INPUT_SIDE, anchors};
use crate::crop::{InputRange, Outside, sample_square};
use crate::error::VisionError;
use crate::network::{Expected, ModelFiles, Network};
use crate::region::{Region, Square};
use lessonwright_model::{Picture, PixelPoint};

/// Half-side of the region over the radius of the circle around the body: the margin with which
/// the landmark network was trained (published pose graph).
const REGION_MARGIN: f64 = 1.25;

/// Below this score a proposal is no person (published pose graph).
const LEAST_SCORE: f32 = 0.5;

/// Proposals whose boxes overlap more than this are the same person (published pose graph).
const SAME_PERSON_OVERLAP: f32 = 0.3;

/// Numbers a proposal: box centre and size, then four points.
const VALUES: usize = 12;

/// Somebody in a picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Person {
    /// Probability in 0..=1 that it is a person.
    pub score: f64,
    /// The square around the whole body.
    pub region: Region,
}

/// The person detector, loaded.
#[derive(Debug)]
pub struct PersonDetector {
    pub(crate) network: Network,
    anchors: Vec<[f32; 2]>,
    input: Vec<f32>,
}

impl PersonDetector {
    /// Loads the network, to run on `threads` threads.
    ///
    /// # Errors
    /// When a file is missing, damaged or not the one expected.
    pub fn load(files: &ModelFiles, threads: usize) -> Result<Self, VisionError> {
        let expected = Expected {
            what: "person detector",
            input_side: INPUT_SIDE,
            outputs: &[(0, &[1, ANCHORS, VALUES]), (1, &[1, ANCHORS, 1])],
        };
        Ok(PersonDetector {
            network: Network::load(&files.runtime, &files.person_detector, threads, &expected)?,
            anchors: anchors(),
            input: vec![0.0; 3 * INPUT_SIDE * INPUT_SIDE],
        })
    }

    /// Everybody in the picture, most certain first; empty when nobody is seen.
    ///
    /// The network looks at the whole picture and then at parts of it, so that it also finds people
    /// who are small in it (see `views`).
    ///
    /// # Errors
    /// When ONNX Runtime fails.
    pub fn detect(&mut self, picture: &Picture) -> Result<Vec<Person>, VisionError> {
        let (width, height) = (picture.width, picture.height);
        let mut seen = Vec::new();
        for view in views(width, height) {
            let people = self.look(picture, &view)?;
            seen.extend(people.into_iter().filter(|person| {
                let outside = |&p: &PixelPoint| !view.holds(p) && within(p, width, height);
                !person.ends().iter().any(outside)
            }));
        }
        Ok(most_certain(seen)
            .into_iter()
            .map(|person| Person {
                score: person.score.into(),
                region: Square::around(person.mid_hip, person.on_circle, REGION_MARGIN)
                    .as_region(width, height),
            })
            .collect())
    }

    /// People in one view, placed in the picture.
    fn look(&mut self, picture: &Picture, view: &Square) -> Result<Vec<Placed>, VisionError> {
        let range = InputRange {
            black: -1.0,
            white: 1.0,
        };
        let mut input = std::mem::take(&mut self.input);
        sample_square(picture, view, INPUT_SIDE, Outside::Black, range, &mut input);
        let proposals = self.propose(&input);
        self.input = input;
        Ok(merge(proposals?)
            .iter()
            .map(|proposal| Placed::of(proposal, view))
            .collect())
    }

    /// Proposals above the least score for an input of the network, in the order of the anchors.
    pub(crate) fn propose(&mut self, input: &[f32]) -> Result<Vec<Proposal>, VisionError> {
        let anchors = &self.anchors;
        self.network.run(input, |outputs| {
            let (boxes, scores) = (outputs[0].as_chunks::<VALUES>().0, outputs[1]);
            anchors
                .iter()
                .zip(boxes)
                .zip(scores)
                .map(|((anchor, values), &score)| Proposal::decode(anchor, values, score))
                .filter(|proposal| proposal.score >= LEAST_SCORE)
                .collect()
        })
    }
}

/// The squares of a picture at which the network looks: the whole picture, then squares of its
/// shorter side, each overlapping the next by half or more. The network's input is small: of a
/// landscape picture seen as a whole, a golfer of half its height is only some 60 px tall there,
/// and was found with a score of 0.25 to 0.9 (rendered golfer), against 0.8 to 0.98 in a square.
fn views(width_px: usize, height_px: usize) -> Vec<Square> {
    let (width, height) = (width_px as f64, height_px as f64);
    let (shorter, longer) = (width.min(height), width.max(height));
    let square = |x: f64, y: f64, side_px: f64| Square {
        centre: PixelPoint { x, y },
        side_px,
        rotation_rad: 0.0,
    };
    let mut views = vec![square(width / 2.0, height / 2.0, longer)];
    let steps = ((longer - shorter) / (shorter / 2.0)).ceil() as usize;
    if steps > 0 {
        views.extend((0..=steps).map(|step| {
            let along = shorter / 2.0 + (longer - shorter) * step as f64 / steps as f64;
            if width > height {
                square(along, height / 2.0, shorter)
            } else {
                square(width / 2.0, along, shorter)
            }
        }));
    }
    views
}

fn within(point: PixelPoint, width_px: usize, height_px: usize) -> bool {
    (0.0..width_px as f64).contains(&point.x) && (0.0..height_px as f64).contains(&point.y)
}

/// Somebody in pixels of the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Placed {
    score: f32,
    /// Box around the face: centre and size.
    face: [f32; 4],
    mid_hip: PixelPoint,
    on_circle: PixelPoint,
}

impl Placed {
    fn of(proposal: &Proposal, view: &Square) -> Self {
        let place = |u: f32, v: f32| view.point_at(u.into(), v.into());
        let [x, y, width, height] = proposal.face;
        let centre = place(x, y);
        let side = view.side_px as f32;
        let [mid_hip, on_circle] = proposal.points.map(|[u, v]| place(u, v));
        Placed {
            score: proposal.score,
            face: [
                centre.x as f32,
                centre.y as f32,
                width * side,
                height * side,
            ],
            mid_hip,
            on_circle,
        }
    }

    /// Whether this is no person but a part of another one: hands and club, enlarged, have been
    /// taken for one. It lies on the other's body or arms and is less than half as large; a real
    /// person of that size would stand twice as far away, right behind the other.
    fn is_part_of(&self, other: &Placed) -> bool {
        // In sides of the other's region: arms reach that far from the body's middle.
        const REACH: f64 = 0.3;
        let region =
            |person: &Placed| Square::around(person.mid_hip, person.on_circle, REGION_MARGIN);
        let (own, others) = (region(self), region(other));
        let (u, v) = others.place_of(self.mid_hip);
        own.side_px < 0.5 * others.side_px && (u - 0.5).abs() < REACH && (0.0..=1.0).contains(&v)
    }

    /// About where head and feet end: the circle around the body reaches a little further.
    fn ends(&self) -> [PixelPoint; 2] {
        const BODY_IN_CIRCLE: f64 = 0.8;
        let (right, down) = (
            BODY_IN_CIRCLE * (self.on_circle.x - self.mid_hip.x),
            BODY_IN_CIRCLE * (self.on_circle.y - self.mid_hip.y),
        );
        [1.0, -1.0].map(|sign| PixelPoint {
            x: self.mid_hip.x + sign * right,
            y: self.mid_hip.y + sign * down,
        })
    }
}

/// Of those seen in several views, the most certain sight of each.
fn most_certain(mut seen: Vec<Placed>) -> Vec<Placed> {
    seen.sort_by(|a, b| b.score.total_cmp(&a.score));
    let mut people: Vec<Placed> = Vec::new();
    for person in seen {
        let same = |other: &Placed| overlap(&person.face, &other.face) > SAME_PERSON_OVERLAP;
        if !people.iter().any(same) {
            people.push(person);
        }
    }
    let all = people.clone();
    people.retain(|person| !all.iter().any(|other| person.is_part_of(other)));
    people
}

/// One proposal; lengths in units of the input's side, from its top left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Proposal {
    pub(crate) score: f32,
    /// Centre and size of the box around the face: x, y, width, height.
    pub(crate) face: [f32; 4],
    /// Mid-hip, and the point on the circle around the body.
    pub(crate) points: [[f32; 2]; 2],
}

impl Proposal {
    /// The network gives lengths in pixels of its input, relative to the anchor, and the score's
    /// logit, clipped to ±100 as in the published pose graph.
    fn decode([anchor_x, anchor_y]: &[f32; 2], values: &[f32; VALUES], logit: f32) -> Self {
        let length = |value: f32| value / INPUT_SIDE as f32;
        let x = |value| anchor_x + length(value);
        let y = |value| anchor_y + length(value);
        Proposal {
            score: sigmoid(logit.clamp(-100.0, 100.0)),
            face: [
                x(values[0]),
                y(values[1]),
                length(values[2]),
                length(values[3]),
            ],
            points: [[x(values[4]), y(values[5])], [x(values[6]), y(values[7])]],
        }
    }
}

pub(crate) fn sigmoid(logit: f32) -> f32 {
    1.0 / (1.0 + (-logit).exp())
}

/// One proposal a person: the mean, weighted by score, of those that overlap the best one
/// ("blending", Bazarevsky et al. 2019, arXiv:1907.05047, section 3.4).
fn merge(mut proposals: Vec<Proposal>) -> Vec<Proposal> {
    // A stable sort: equal scores keep the anchors' order.
    proposals.sort_by(|a, b| b.score.total_cmp(&a.score));
    let mut merged = Vec::new();
    while let Some(&best) = proposals.first() {
        let (same, others): (Vec<_>, Vec<_>) = proposals
            .into_iter()
            .partition(|other| overlap(&best.face, &other.face) > SAME_PERSON_OVERLAP);
        // A box without area overlaps not even itself.
        if !same.is_empty() {
            merged.push(weighted_mean(&same));
        }
        proposals = others.into_iter().filter(|other| *other != best).collect();
    }
    merged
}

fn weighted_mean(same: &[Proposal]) -> Proposal {
    let total: f32 = same.iter().map(|proposal| proposal.score).sum();
    let mean = |value: &dyn Fn(&Proposal) -> f32| {
        same.iter().map(|p| p.score * value(p)).sum::<f32>() / total
    };
    Proposal {
        score: same[0].score,
        face: std::array::from_fn(|i| mean(&|p| p.face[i])),
        points: std::array::from_fn(|i| std::array::from_fn(|j| mean(&|p| p.points[i][j]))),
    }
}

/// Area of the intersection over area of the union of two boxes.
fn overlap(a: &[f32; 4], b: &[f32; 4]) -> f32 {
    let along = |centre: usize, size: usize| {
        let low = (a[centre] - a[size] / 2.0).max(b[centre] - b[size] / 2.0);
        let high = (a[centre] + a[size] / 2.0).min(b[centre] + b[size] / 2.0);
        (high - low).max(0.0)
    };
    let both = along(0, 2) * along(1, 3);
    let either = a[2] * a[3] + b[2] * b[3] - both;
    if either > 0.0 { both / either } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn proposal(score: f32, x: f32) -> Proposal {
        Proposal {
            score,
            face: [x, 0.5, 0.2, 0.2],
            points: [[x, 0.6], [x, 0.1]],
        }
    }

    #[test]
    fn overlap_of_boxes() {
        let unit = [0.5, 0.5, 1.0, 1.0];
        assert_eq!(overlap(&unit, &unit), 1.0);
        assert!((overlap(&unit, &[1.0, 0.5, 1.0, 1.0]) - 1.0 / 3.0).abs() < 1e-6);
        assert_eq!(overlap(&unit, &[1.6, 0.5, 1.0, 1.0]), 0.0);
        assert_eq!(overlap(&unit, &[0.5, 0.5, 0.0, 0.0]), 0.0);
    }

    #[test]
    fn overlapping_proposals_become_their_weighted_mean() {
        let merged = merge(vec![
            proposal(0.6, 0.32),
            proposal(0.9, 0.30),
            proposal(0.7, 0.80),
        ]);
        assert_eq!(merged.len(), 2);
        assert_eq!(merged[0].score, 0.9);
        let expected = (0.6 * 0.32 + 0.9 * 0.30) / 1.5;
        assert!((merged[0].points[0][0] - expected).abs() < 1e-6);
        assert_eq!(merged[1].score, 0.7);
    }

    #[test]
    fn views_cover_the_picture_and_overlap_by_half() {
        for (width, height) in [
            (1920, 1080),
            (1080, 1920),
            (3840, 2160),
            (640, 480),
            (999, 998),
        ] {
            let views = views(width, height);
            let parts = &views[1..];
            assert!(views[0].side_px == width.max(height) as f64);
            let along = |view: &Square| {
                if width > height {
                    view.centre.x
                } else {
                    view.centre.y
                }
            };
            let half = width.min(height) as f64 / 2.0;
            assert_eq!(along(&parts[0]), half);
            let end = along(&parts[parts.len() - 1]) + half;
            assert!((end - width.max(height) as f64).abs() < 1e-9);
            for pair in parts.windows(2) {
                assert!(along(&pair[1]) - along(&pair[0]) <= half + 1e-9);
            }
        }
        assert_eq!(views(500, 500).len(), 1);
    }

    #[test]
    fn hands_are_not_another_person() {
        let person = |x: f64, y: f64, radius: f64, score: f32| Placed {
            score,
            face: [x as f32, (y - radius) as f32, 40.0, 40.0],
            mid_hip: PixelPoint { x, y },
            on_circle: PixelPoint { x, y: y - radius },
        };
        let golfer = person(340.0, 700.0, 360.0, 0.98);
        // As found on a rendered golfer at address, at the hands.
        let hands = person(347.0, 824.0, 98.0, 0.65);
        let behind = person(420.0, 650.0, 220.0, 0.9);
        assert_eq!(most_certain(vec![golfer, hands, behind]), [golfer, behind]);
    }

    #[test]
    fn boxes_without_area_end() {
        let mut flat = proposal(0.9, 0.3);
        flat.face[2] = 0.0;
        assert!(merge(vec![flat, flat]).is_empty());
    }
}
