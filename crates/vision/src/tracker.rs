//! One person's landmarks from frame to frame.

use crate::error::VisionError;
use crate::landmarks::{Refinement, SeenBody};
use crate::network::Networks;
use crate::region::{Region, Square};
use lessonwright_model::{Landmarks, Picture};

/// Below this presence nobody is in the square (published pose graph).
const LEAST_PRESENCE: f64 = 0.5;

/// How the tracker works; [`TrackerConfig::default`] is what `docs/decisions/003` chose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrackerConfig {
    /// Whether heatmaps move the points.
    pub refinement: Refinement,
    /// Where the next frame's square comes from.
    pub rule: RegionRule,
    /// The square's half-side over the radius of the circle around the body.
    pub margin: f64,
}

/// Where the next frame's square comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RegionRule {
    /// From this frame's landmarks. `keep` in 0..1 is the share of the present square that stays
    /// in the next one: 0 follows at once.
    Follow {
        /// Share that stays.
        keep: f64,
    },
    /// The square found first, for as long as the person is in it.
    Hold,
}

impl Default for TrackerConfig {
    fn default() -> Self {
        TrackerConfig {
            refinement: Refinement::Heatmap,
            rule: RegionRule::Follow { keep: 0.0 },
            margin: 1.25,
        }
    }
}

/// Follows one person. Give it every frame of a stretch, in order.
#[derive(Debug)]
pub struct Tracker<'a> {
    networks: &'a mut Networks,
    config: TrackerConfig,
    /// Where to look next; `None` when the person is lost.
    region: Option<Region>,
    /// Where the person was seen last.
    last_place: Option<Region>,
    redetections: usize,
}

impl<'a> Tracker<'a> {
    /// A tracker that starts with `seed` (see [`crate::choose_golfer`]), or with the person that
    /// the detector is most certain of.
    pub fn new(networks: &'a mut Networks, config: TrackerConfig, seed: Option<Region>) -> Self {
        Tracker {
            networks,
            config,
            region: seed,
            last_place: seed,
            redetections: 0,
        }
    }

    /// The person's landmarks in the next frame, in its pixels; `None` when the person is not
    /// there.
    ///
    /// # Errors
    /// When ONNX Runtime fails.
    pub fn follow(&mut self, picture: &Picture) -> Result<Option<Landmarks>, VisionError> {
        let mut seen = match self.region {
            Some(region) => self.look(picture, region)?,
            None => None,
        };
        if seen.is_none() {
            if self.last_place.is_some() {
                self.redetections += 1;
            }
            seen = match self.detect(picture)? {
                Some(region) => self.look(picture, region)?,
                None => None,
            };
        }
        if seen.is_none() {
            self.region = None;
        }
        Ok(seen)
    }

    /// How often the person was lost and looked for again.
    pub fn redetections(&self) -> usize {
        self.redetections
    }

    /// Landmarks within a region, and from them the region of the next frame.
    fn look(
        &mut self,
        picture: &Picture,
        region: Region,
    ) -> Result<Option<Landmarks>, VisionError> {
        let square = region.in_picture(picture.width, picture.height);
        let body = self
            .networks
            .body
            .look(picture, &square, self.config.refinement)?;
        if body.landmarks.presence < LEAST_PRESENCE {
            return Ok(None);
        }
        let next = self
            .next_square(&square, &body)
            .as_region(picture.width, picture.height);
        self.region = Some(next);
        self.last_place = Some(next);
        Ok(Some(body.landmarks))
    }

    fn next_square(&self, square: &Square, body: &SeenBody) -> Square {
        let [mid_hip, on_circle] = body.circle;
        let follow = Square::around(mid_hip, on_circle, self.config.margin);
        match self.config.rule {
            RegionRule::Hold => *square,
            RegionRule::Follow { keep } => square.towards(&follow, 1.0 - keep),
        }
    }

    /// The person nearest to the last known place, or the most certain one.
    fn detect(&mut self, picture: &Picture) -> Result<Option<Region>, VisionError> {
        let people = self.networks.detector.detect(picture)?;
        let nearest = match self.last_place {
            None => people.into_iter().next(),
            Some(last) => {
                let place = last.in_picture(picture.width, picture.height).centre;
                let distance = |region: &Region| {
                    region
                        .in_picture(picture.width, picture.height)
                        .centre
                        .distance(place)
                };
                people
                    .into_iter()
                    .min_by(|a, b| distance(&a.region).total_cmp(&distance(&b.region)))
            }
        };
        Ok(nearest.map(|person| person.region))
    }
}
