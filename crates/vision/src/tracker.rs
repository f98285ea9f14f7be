//! One person's landmarks from frame to frame.
//!
//! The square in which the network looks follows the person, damped: the network gives slightly
//! other points for a slightly shifted square, and feeding these back at once makes it tremble.
//! `docs/decisions/003` has the figures behind the default settings.
//!
//! With several lanes as many pictures are under way at once. The square of a picture then rests on
//! the pictures before those under way, never on which of them is ready first: the landmarks are
//! the same in every run.

use crate::error::VisionError;
use crate::landmarks::{Refinement, SeenBody};
use crate::lane::{Pending, Question};
use crate::network::Networks;
use crate::region::{Region, Square};
use lessonwright_model::{Landmarks, Picture};
use std::collections::VecDeque;
use std::sync::Arc;

/// Below this presence nobody is in the square (published pose graph).
const LEAST_PRESENCE: f64 = 0.5;

/// How the tracker works; [`TrackerConfig::default`] is what `docs/decisions/003` chose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrackerConfig {
    /// Whether heatmaps move the points.
    pub refinement: Refinement,
    /// The square's half-side over the radius of the circle around the body.
    pub margin: f64,
    /// Share of the present square that stays in the next one, 0..1: 0 follows at once.
    pub damping: f64,
}

impl Default for TrackerConfig {
    fn default() -> Self {
        TrackerConfig {
            refinement: Refinement::Heatmap,
            margin: 1.25,
            damping: 0.5,
        }
    }
}

/// What was seen in one picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Tracked {
    /// Number of the picture, from 0, as handed in.
    pub frame: usize,
    /// The person's landmarks in the picture's pixels; `None` when the person is not there.
    pub body: Option<Landmarks>,
}

/// Follows one person. Hand it every picture of a stretch, in order.
#[derive(Debug)]
pub struct Tracker<'a> {
    networks: &'a mut Networks,
    config: TrackerConfig,
    under_way: VecDeque<UnderWay>,
    handed_in: usize,
    place: Place,
    redetections: usize,
}

/// A picture that a lane looks at.
#[derive(Debug)]
struct UnderWay {
    frame: usize,
    picture: Arc<Picture>,
    joints: bool,
    /// Where it looks, and what it sees there; `None` when nobody was known to be anywhere.
    look: Option<(Square, Pending)>,
}

/// What is known of where the person is.
#[derive(Clone, Copy, Debug)]
enum Place {
    /// Nobody has been seen yet.
    Unknown,
    /// Seen there in the last picture.
    Known(Region),
    /// Last seen there, but not in the last picture.
    Lost(Region),
}

impl<'a> Tracker<'a> {
    /// A tracker that starts with `seed` (see [`crate::choose_golfer`]) or, without, with the
    /// person that the detector is most certain of.
    pub fn new(networks: &'a mut Networks, config: TrackerConfig, seed: Option<Region>) -> Self {
        Tracker {
            networks,
            config,
            under_way: VecDeque::new(),
            handed_in: 0,
            place: seed.map_or(Place::Unknown, Place::Known),
            redetections: 0,
        }
    }

    /// Hands in the next picture, and whether to look for joint centres in it too. Gives what was seen
    /// in an earlier one, as soon as as many are under way as there are lanes.
    ///
    /// # Errors
    /// When ONNX Runtime fails.
    pub fn push(&mut self, picture: Picture, joints: bool) -> Result<Option<Tracked>, VisionError> {
        let done = if self.under_way.len() == self.networks.lanes.len() {
            self.next_done()?
        } else {
            None
        };
        let picture = Arc::new(picture);
        let look = match self.place {
            Place::Known(region) => {
                let square = region.in_picture(picture.width, picture.height);
                Some((square, self.ask(self.handed_in, &picture, square, joints)))
            }
            Place::Unknown | Place::Lost(_) => None,
        };
        self.under_way.push_back(UnderWay {
            frame: self.handed_in,
            picture,
            joints,
            look,
        });
        self.handed_in += 1;
        Ok(done)
    }

    /// What was seen in the pictures still under way. The tracker can go on after that.
    ///
    /// # Errors
    /// When ONNX Runtime fails.
    pub fn finish(&mut self) -> Result<Vec<Tracked>, VisionError> {
        let mut rest = Vec::new();
        while let Some(done) = self.next_done()? {
            rest.push(done);
        }
        Ok(rest)
    }

    /// How often the person was lost and looked for again, so far.
    pub fn redetections(&self) -> usize {
        self.redetections
    }

    /// Waits for the oldest picture under way.
    fn next_done(&mut self) -> Result<Option<Tracked>, VisionError> {
        let Some(UnderWay {
            frame,
            picture,
            joints,
            look,
        }) = self.under_way.pop_front()
        else {
            return Ok(None);
        };
        let mut body = match look {
            Some((square, pending)) => self.accept(&picture, square, pending.wait()?),
            // Somebody has been found since the picture was handed in, or not.
            None => match self.place {
                Place::Known(region) => self.look_at(frame, &picture, region, joints)?,
                Place::Unknown | Place::Lost(_) => None,
            },
        };
        if body.is_none() {
            body = self.look_for(frame, &picture, joints)?;
        }
        Ok(Some(Tracked { frame, body }))
    }

    /// Looks for the person in the whole picture.
    fn look_for(
        &mut self,
        frame: usize,
        picture: &Arc<Picture>,
        joints: bool,
    ) -> Result<Option<Landmarks>, VisionError> {
        if let Place::Known(region) | Place::Lost(region) = self.place {
            self.redetections += 1;
            self.place = Place::Lost(region);
        }
        match self.detect(picture)? {
            Some(region) => self.look_at(frame, picture, region, joints),
            None => Ok(None),
        }
    }

    fn look_at(
        &mut self,
        frame: usize,
        picture: &Arc<Picture>,
        region: Region,
        joints: bool,
    ) -> Result<Option<Landmarks>, VisionError> {
        let square = region.in_picture(picture.width, picture.height);
        let seen = self.ask(frame, picture, square, joints).wait()?;
        Ok(self.accept(picture, square, seen))
    }

    fn ask(&self, frame: usize, picture: &Arc<Picture>, square: Square, joints: bool) -> Pending {
        let lanes = &self.networks.lanes;
        lanes[frame % lanes.len()].ask(Question {
            picture: Arc::clone(picture),
            square,
            refinement: self.config.refinement,
            joints,
        })
    }

    /// The landmarks, if somebody was there; then the place follows.
    fn accept(&mut self, picture: &Picture, square: Square, seen: SeenBody) -> Option<Landmarks> {
        if seen.landmarks.presence < LEAST_PRESENCE {
            return None;
        }
        let [mid_hip, on_circle] = seen.circle;
        let tight = Square::around(mid_hip, on_circle, self.config.margin);
        let next = square.towards(&tight, 1.0 - self.config.damping);
        self.place = Place::Known(next.as_region(picture.width, picture.height));
        Some(seen.landmarks)
    }

    /// The person nearest to the last known place, or the most certain one.
    fn detect(&mut self, picture: &Picture) -> Result<Option<Region>, VisionError> {
        let people = self.networks.detector.detect(picture)?;
        let regions = people.into_iter().map(|person| person.region);
        let centre = |region: &Region| region.in_picture(picture.width, picture.height).centre;
        Ok(match self.place {
            Place::Unknown => regions.into_iter().next(),
            Place::Known(last) | Place::Lost(last) => {
                let last = centre(&last);
                regions.min_by(|a, b| {
                    let (a, b) = (centre(a).distance(last), centre(b).distance(last));
                    a.total_cmp(&b)
                })
            }
        })
    }
}
