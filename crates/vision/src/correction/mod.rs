//! From what two networks see in single pictures to the joint centres of a whole swing.
//!
//! The landmark network is off by slow, pose-dependent amounts: a hidden hip by centimetres, knees that
//! fall into one. The joint network ([`crate::joints`]) is nearer but knows one picture at a time. A third,
//! small network sees both for the whole swing, from one view or from both, and says for 17 joints how far
//! the joint centre lies from the landmark, its depth, and how widely it may be wrong.
//!
//! That third network leans on how the swings it was taught go, the joint network can't; they err in
//! different directions, and their mean is better than either, most of all on motions never taught
//! (`docs/decisions/008`). `training/README.md` says what the networks were taught and what they can't do;
//! `training/swings.py` is the other side of what happens here.

mod grid;

use crate::error::VisionError;
use crate::network::session;
use grid::{CHANNELS, Grid, STEPS};
use lessonwright_model::{Hand, JointCentre, LandmarkTrack, PixelPoint, Spread, View};
use ort::session::Session;
use ort::value::TensorRef;
use std::path::Path;

const WEIGHTS: &[u8] = include_bytes!("../../weights/correction.onnx");
/// For messages.
const WHAT: &str = "joint centre";

/// One clip of a swing.
#[derive(Clone, Copy, Debug)]
pub struct SwingClip<'a> {
    /// The landmarks, with the joint network's centres in some frames.
    pub track: &'a LandmarkTrack,
    /// Where the camera stands.
    pub view: View,
    /// The player's hand.
    pub hand: Hand,
    /// Real seconds in a second of the file's clock.
    pub real_seconds_per_file_second: f64,
    /// Address, s of the file's clock.
    pub address_s: f64,
    /// Impact, s of the file's clock.
    pub impact_s: f64,
}

impl SwingClip<'_> {
    fn after_impact_s(&self, file_s: f64) -> f64 {
        (file_s - self.impact_s) * self.real_seconds_per_file_second
    }
}

/// The network, loaded.
#[derive(Debug)]
pub struct Correction(Session);

impl Correction {
    /// Loads the network, to run on `threads` threads of the ONNX Runtime at `runtime_path`.
    ///
    /// # Errors
    /// When ONNX Runtime can't be loaded or refuses the network.
    pub fn load(runtime_path: &Path, threads: usize) -> Result<Correction, VisionError> {
        session(runtime_path, WEIGHTS, threads, WHAT).map(Correction)
    }

    /// The tracks with 17 landmarks moved to joint centres; the others stay. Give both clips of one
    /// swing together, or one. `None` for a clip whose picture the joint network does not know its way
    /// about (`STRANGE`), or in which the body is hardly seen: there landmarks are all that is known.
    ///
    /// # Errors
    /// When ONNX Runtime fails.
    pub fn joint_centres(
        &mut self,
        clips: &[SwingClip<'_>],
    ) -> Result<Vec<Option<LandmarkTrack>>, VisionError> {
        let grids: Vec<Option<Grid>> = clips
            .iter()
            .map(|clip| Grid::of(clip).filter(|grid| !is_strange(grid)))
            .collect();
        let mut input = vec![0.0; CHANNELS * STEPS];
        for grid in grids.iter().flatten() {
            grid.write(&mut input);
        }
        let said = self.run(&input)?;
        Ok(clips
            .iter()
            .zip(&grids)
            .map(|(clip, grid)| Some(corrected(clip, grid.as_ref()?, &said)))
            .collect())
    }

    fn run(&mut self, input: &[f32]) -> Result<Vec<f32>, VisionError> {
        let input = TensorRef::from_array_view(([1, CHANNELS, STEPS], input)).map_err(failed)?;
        let outputs = self.0.run(ort::inputs![input]).map_err(failed)?;
        let (_, said) = outputs[0].try_extract_tensor::<f32>().map_err(failed)?;
        Ok(said.to_vec())
    }
}

fn failed(source: ort::Error) -> VisionError {
    VisionError::Network { what: WHAT, source }
}

/// Joint centres seen farther from the landmarks than this, nose-to-ankle heights, in the middle of all
/// joints and pictures, come from a network that has lost its way. On rendered swings, the captured motion
/// among them, the most was 0.033 (`docs/decisions/008`); on a real man at balance exercises it is 0.025 to 0.044,
/// and was 0.07 to 0.4 with networks that had been taught solids only (`docs/decisions/029`).
const STRANGE: f64 = 0.05;

fn is_strange(grid: &Grid) -> bool {
    grid.centres_from_landmarks()
        .is_none_or(|distance| distance > STRANGE)
}

/// The clip's own frames, with landmarks moved to where the networks say the joints are.
fn corrected(clip: &SwingClip<'_>, grid: &Grid, said: &[f32]) -> LandmarkTrack {
    /// A joint said to be within this standard deviation, nose-to-ankle heights (6 cm), counts as
    /// seen …
    const SURE: f64 = 0.042;
    /// … with this visibility at least.
    const SURE_VISIBILITY: f64 = 0.9;

    let mut track = clip.track.clone();
    for frame in &mut track.frames {
        let Some(body) = &mut frame.body else {
            continue;
        };
        body.joint_centres.clear();
        let time_s = clip.after_impact_s(frame.time_s);
        let (by_swing, by_picture) = (grid.of_swing(said, time_s), grid.of_pictures(time_s));
        for (joint, (by_swing, by_picture)) in by_swing.into_iter().zip(by_picture).enumerate() {
            let point = &mut body.points[grid.landmark(joint)];
            let centre = mean(by_swing, by_picture);
            // Both are told from the landmark.
            point.at.x += centre.at.x;
            point.at.y += centre.at.y;
            point.depth_px = centre.depth_px;
            point.spread = Some(centre.spread);
            if centre.spread.at_px < SURE * grid.length_px() {
                point.visibility = point.visibility.max(SURE_VISIBILITY);
            }
        }
    }
    track
}

/// The middle of two opinions. They rest on the same pictures: their errors hang together, and the mean is
/// not taken to be surer than they are.
fn mean(a: JointCentre, b: JointCentre) -> JointCentre {
    let middle = |a: f64, b: f64| 0.5 * (a + b);
    JointCentre {
        at: PixelPoint {
            x: middle(a.at.x, b.at.x),
            y: middle(a.at.y, b.at.y),
        },
        depth_px: middle(a.depth_px, b.depth_px),
        spread: Spread {
            at_px: middle(a.spread.at_px, b.spread.at_px),
            depth_px: middle(a.spread.depth_px, b.spread.depth_px),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::model_files;
    use lessonwright_model::body::JOINT_CENTRES;
    use lessonwright_model::{BodyFrame, Landmark, Landmarks};
    use std::collections::BTreeMap;

    const ADDRESS_S: f64 = 0.41;
    const IMPACT_S: f64 = 1.7;

    fn load() -> Correction {
        Correction::load(&model_files().runtime, 1).expect("the network")
    }

    /// The motion of `testdata/vision/correction_reference.py`; joint centres are seen in every second
    /// picture.
    fn made_up(phase: f64) -> LandmarkTrack {
        let point = |t: f64, i: f64| Landmark {
            at: PixelPoint {
                x: 500.0 + 120.0 * (0.7 * i).sin() + 40.0 * (2.1 * t + 0.3 * i + phase).sin(),
                y: 300.0 + 20.0 * i + 25.0 * (1.7 * t + 0.5 * i).cos(),
            },
            depth_px: 30.0 * (i + t).sin(),
            visibility: 0.5 + 0.4 * i.sin(),
            spread: None,
        };
        let centre = |t: f64, i: f64, landmark: PixelPoint| JointCentre {
            at: PixelPoint {
                x: landmark.x + 8.0 * (1.3 * t + i).sin(),
                y: landmark.y + 6.0 * (0.9 * t + i).cos(),
            },
            depth_px: 25.0 * (i - t).sin(),
            spread: Spread {
                at_px: 6.0 + 2.0 * i.sin(),
                depth_px: 20.0 + 5.0 * i.cos(),
            },
        };
        LandmarkTrack {
            width_px: 1080,
            height_px: 1920,
            frames: (0..120)
                .map(|frame| {
                    let time_s = f64::from(frame) / 50.0;
                    BodyFrame {
                        frame: frame as usize,
                        time_s,
                        body: Some(Landmarks {
                            presence: 1.0,
                            points: (0..33).map(|i| point(time_s, f64::from(i))).collect(),
                            joint_centres: (0..17)
                                .filter(|_| frame % 2 == 0)
                                .map(|i| {
                                    let number = JOINT_CENTRES[i] as u32;
                                    let landmark = point(time_s, f64::from(number)).at;
                                    centre(time_s, i as f64, landmark)
                                })
                                .collect(),
                        }),
                    }
                })
                .collect(),
        }
    }

    fn clip(track: &LandmarkTrack, view: View, hand: Hand) -> SwingClip<'_> {
        SwingClip {
            track,
            view,
            hand,
            real_seconds_per_file_second: 1.0,
            address_s: ADDRESS_S,
            impact_s: IMPACT_S,
        }
    }

    #[test]
    fn joint_centres_are_those_of_the_reference_runtime() {
        let text = include_str!("../../../../testdata/vision/correction.json");
        // Frame, landmark, x, y, depth, spread.
        type Row = (usize, usize, f64, f64, f64, f64);
        let reference: BTreeMap<String, Vec<Row>> =
            serde_json::from_str(text).expect("the reference");
        let (face, line) = (made_up(0.0), made_up(1.0));
        let mut network = load();
        let right = [
            clip(&face, View::FaceOn, Hand::Right),
            clip(&line, View::DownTheLine, Hand::Right),
        ];
        let left = [clip(&line, View::DownTheLine, Hand::Left)];
        let mut centres = network.joint_centres(&right).expect("a run");
        centres.extend(network.joint_centres(&left).expect("a run"));
        let names = [
            "right, both, face_on",
            "right, both, down_the_line",
            "left, down the line, down_the_line",
        ];
        assert_eq!(reference.len(), names.len());
        for (name, track) in names.iter().zip(centres) {
            let track = track.expect("a picture it knows");
            for &(frame, number, x, y, depth, spread) in &reference[*name] {
                let body = track.frames[frame].body.as_ref().expect("a body");
                let found = &body.points[number];
                // Rounded to 0.001 px; single precision in both runtimes.
                let said = found.spread.expect("how widely it may be wrong");
                let off = [
                    found.at.x - x,
                    found.at.y - y,
                    found.depth_px - depth,
                    said.at_px - spread,
                ];
                assert!(
                    off.iter().all(|v| v.abs() < 0.02),
                    "{name}, frame {frame}, point {number}: {off:?}"
                );
            }
        }
    }

    #[test]
    fn slow_motion_gives_what_real_time_gives() {
        let real = made_up(0.0);
        let mut slow = real.clone();
        for frame in &mut slow.frames {
            frame.time_s *= 8.0;
        }
        let mut network = load();
        let slowed = SwingClip {
            real_seconds_per_file_second: 0.125,
            address_s: 8.0 * ADDRESS_S,
            impact_s: 8.0 * IMPACT_S,
            ..clip(&slow, View::FaceOn, Hand::Right)
        };
        let expected = network.joint_centres(&[clip(&real, View::FaceOn, Hand::Right)]);
        let found = network.joint_centres(&[slowed]).expect("a run");
        let frames =
            |all: Vec<Option<LandmarkTrack>>| all[0].clone().expect("a picture it knows").frames;
        for (a, b) in frames(expected.expect("a run")).iter().zip(&frames(found)) {
            let points = |f: &BodyFrame| f.body.clone().expect("a body").points;
            for (p, q) in points(a).iter().zip(points(b)) {
                assert!((p.at.x - q.at.x).hypot(p.at.y - q.at.y) < 0.01);
            }
        }
    }

    #[test]
    fn a_clip_in_which_nobody_is_seen_has_no_joint_centres() {
        let mut empty = made_up(0.0);
        for frame in &mut empty.frames {
            frame.body = None;
        }
        let found = load().joint_centres(&[clip(&empty, View::FaceOn, Hand::Right)]);
        assert_eq!(found.expect("a run"), [None]);
    }

    #[test]
    fn single_pictures_in_which_it_has_lost_its_way_are_left_out() {
        let (mut lost, mut without) = (made_up(0.0), made_up(0.0));
        for (a, b) in lost.frames.iter_mut().zip(&mut without.frames) {
            if a.frame % 10 == 0 {
                let body = a.body.as_mut().expect("a body");
                for centre in &mut body.joint_centres {
                    centre.at.x += 150.0;
                }
                b.body.as_mut().expect("a body").joint_centres.clear();
            }
        }
        let [found, expected] = [lost, without].map(|track| {
            let found = load().joint_centres(&[clip(&track, View::FaceOn, Hand::Right)]);
            found.expect("a run")[0]
                .clone()
                .expect("a picture it knows")
        });
        for (a, b) in found.frames.iter().zip(&expected.frames) {
            let [a, b] = [a, b].map(|frame| &frame.body.as_ref().expect("a body").points);
            assert!(a == b);
        }
    }

    #[test]
    fn a_joint_network_that_has_lost_its_way_is_not_listened_to() {
        let (known, mut strange) = (made_up(0.0), made_up(1.0));
        for body in strange.frames.iter_mut().filter_map(|f| f.body.as_mut()) {
            // A tenth of the height from nose to ankles; real people were this far off and more.
            for centre in &mut body.joint_centres {
                centre.at.x += 55.0;
            }
        }
        let found = load().joint_centres(&[
            clip(&known, View::FaceOn, Hand::Right),
            clip(&strange, View::DownTheLine, Hand::Right),
        ]);
        let found = found.expect("a run");
        assert!(found[0].is_some() && found[1].is_none());
    }
}
