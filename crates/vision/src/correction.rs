//! From the landmark network's points to joint centres, learnt from rendered swings.
//!
//! The landmark network is off by slow, pose-dependent amounts: a hidden hip by centimetres, knees
//! that fall into one. A second, small network sees the landmarks of the whole swing, from one view
//! or from both, and says for 17 joints how far the joint centre lies from the landmark, its depth,
//! and how widely it may be wrong. `training/README.md` says what it was taught and what it can't
//! do; `training/swings.py` is the other side of what happens here.
//!
//! The network works in a right-hander's picture (a left-hander's is mirrored), in body lengths
//! (nose to mid-ankle at address), at 60 steps a second around impact.

use crate::error::VisionError;
use crate::network::{runtime, session_builder};
use lessonwright_math::median;
use lessonwright_model::{BodyFrame, Hand, Landmark, LandmarkTrack, PixelPoint, View};
use ort::session::Session;
use ort::value::TensorRef;
use std::path::Path;

const WEIGHTS: &[u8] = include_bytes!("../weights/correction.onnx");

/// Steps of the network's time.
const STEPS: usize = 202;
const RATE_HZ: f64 = 60.0;
/// First step, s of real time after impact.
const START_S: f64 = -2.6;
/// Origin and length of the body are medians over this long before the takeaway, s of real time.
const ADDRESS_S: f64 = 0.25;

/// Landmarks that the network sees: nose, ears, arms with fingers, legs.
const SEEN: [usize; 25] = [
    0, 7, 8, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32,
];
/// The landmark that each joint starts from: nose, then pairs, lead before trail, of shoulders,
/// elbows, wrists, hips, knees, ankles, heels and toes.
const LANDMARK_OF: [usize; 17] = [
    0, 11, 12, 13, 14, 15, 16, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32,
];
const NOSE: usize = 0;
const ANKLES: [usize; 2] = [27, 28];

/// Numbers a landmark: x, y, depth, visibility.
const VALUES: usize = 4;
const VIEWS: usize = 2;
const CHANNELS: usize = VIEWS * SEEN.len() * VALUES + VIEWS;
/// Numbers a joint: x, y, depth and the logarithms of their spreads.
const SAID: usize = 6;

/// A joint said to be within this spread, body lengths (4 cm), counts as seen …
const SURE: f32 = 0.03;
/// … with this visibility at least.
const SURE_VISIBILITY: f64 = 0.9;

/// One clip of a swing.
#[derive(Clone, Copy, Debug)]
pub struct SwingClip<'a> {
    /// The landmarks.
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

/// The network, loaded.
#[derive(Debug)]
pub struct Correction(Session);

impl Correction {
    /// Loads the network, to run on `threads` threads of the ONNX Runtime at `runtime_path`.
    ///
    /// # Errors
    /// When ONNX Runtime can't be loaded or refuses the network.
    pub fn load(runtime_path: &Path, threads: usize) -> Result<Correction, VisionError> {
        let environment = runtime(runtime_path)?;
        session_builder(&environment, threads)
            .and_then(|mut builder| builder.commit_from_memory(WEIGHTS))
            .map(Correction)
            .map_err(failed)
    }

    /// The tracks with 17 landmarks moved to joint centres; the others stay. Give both clips of one
    /// swing together, or one; a clip in which the body is hardly seen comes back as it was.
    ///
    /// # Errors
    /// When ONNX Runtime fails.
    pub fn joint_centres(
        &mut self,
        clips: &[SwingClip<'_>],
    ) -> Result<Vec<LandmarkTrack>, VisionError> {
        let grids: Vec<Option<Grid>> = clips.iter().map(Grid::of).collect();
        let mut input = vec![0.0; CHANNELS * STEPS];
        for grid in grids.iter().flatten() {
            grid.write(&mut input);
        }
        let said = self.run(&input)?;
        Ok(clips
            .iter()
            .zip(&grids)
            .map(|(clip, grid)| match grid {
                Some(grid) => grid.corrected(clip, &said),
                None => clip.track.clone(),
            })
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
    VisionError::Network {
        what: "joint centre",
        source,
    }
}

/// One clip in the network's own coordinates and time.
struct Grid {
    view: usize,
    body: BodyUnits,
    /// By step, landmark and number.
    values: Vec<[[f32; VALUES]; SEEN.len()]>,
}

/// A right-hander's picture in body lengths.
#[derive(Clone, Copy)]
struct BodyUnits {
    /// The picture's width where it is to be mirrored, px.
    mirrored_px: Option<f64>,
    /// Mid-ankle at address, px of the mirrored picture.
    origin: PixelPoint,
    /// Nose to mid-ankle at address, px.
    length_px: f64,
}

impl BodyUnits {
    fn x(&self, px: f64) -> f64 {
        let px = self.mirrored_px.map_or(px, |width| width - px);
        (px - self.origin.x) / self.length_px
    }

    /// The landmark's number in this player's picture.
    fn landmark(&self, number: usize) -> usize {
        match number {
            _ if self.mirrored_px.is_none() => number,
            0 => 0,
            // Ears and all below them come in pairs, left before right.
            _ if number % 2 == 1 => number + 1,
            _ => number - 1,
        }
    }
}

impl Grid {
    fn of(clip: &SwingClip<'_>) -> Option<Grid> {
        let seen: Vec<(f64, &[Landmark])> = clip.track.frames.iter().filter_map(points).collect();
        if seen.len() < 2 {
            return None;
        }
        let body = body_units(clip, &seen)?;
        let real_s: Vec<f64> = seen.iter().map(|(t, _)| clip.after_impact_s(*t)).collect();
        let rows: Vec<[[f32; VALUES]; SEEN.len()]> = seen
            .iter()
            .map(|(_, points)| SEEN.map(|number| row(&points[body.landmark(number)], &body)))
            .collect();
        let values = (0..STEPS)
            .map(|step| {
                let (before, share) = place(&real_s, START_S + step as f64 / RATE_HZ);
                let (a, b) = (&rows[before], &rows[before + 1]);
                std::array::from_fn(|i| std::array::from_fn(|k| between(a[i][k], b[i][k], share)))
            })
            .collect();
        let view = match clip.view {
            View::FaceOn => 0,
            View::DownTheLine => 1,
        };
        Some(Grid { view, body, values })
    }

    /// Channel by channel, each over all steps; then a channel of ones that says the view is there.
    fn write(&self, input: &mut [f32]) {
        let first = self.view * SEEN.len() * VALUES;
        for (step, landmarks) in self.values.iter().enumerate() {
            for (i, values) in landmarks.iter().enumerate() {
                for (k, &value) in values.iter().enumerate() {
                    input[(first + i * VALUES + k) * STEPS + step] = value;
                }
            }
        }
        let flag = CHANNELS - VIEWS + self.view;
        input[flag * STEPS..(flag + 1) * STEPS].fill(1.0);
    }

    /// The clip's own frames, moved by what the network says at their time.
    fn corrected(&self, clip: &SwingClip<'_>, said: &[f32]) -> LandmarkTrack {
        let steps_s: Vec<f64> = (0..STEPS)
            .map(|step| START_S + step as f64 / RATE_HZ)
            .collect();
        let mut track = clip.track.clone();
        for frame in &mut track.frames {
            let Some(seen) = &mut frame.body else {
                continue;
            };
            let (step, share) = place(&steps_s, clip.after_impact_s(frame.time_s));
            for (joint, number) in LANDMARK_OF.into_iter().enumerate() {
                let value = |k: usize| {
                    let series = (self.view * LANDMARK_OF.len() + joint) * SAID + k;
                    let at = series * STEPS + step;
                    between(said[at], said[at + 1], share)
                };
                let length = |k: usize| f64::from(value(k)) * self.body.length_px;
                let point = &mut seen.points[self.body.landmark(number)];
                let right = if self.body.mirrored_px.is_some() {
                    -length(0)
                } else {
                    length(0)
                };
                point.at.x += right;
                point.at.y += length(1);
                point.depth_px = length(2);
                if value(3).max(value(4)).exp() < SURE {
                    point.visibility = point.visibility.max(SURE_VISIBILITY);
                }
            }
        }
        track
    }
}

impl SwingClip<'_> {
    fn after_impact_s(&self, file_s: f64) -> f64 {
        (file_s - self.impact_s) * self.real_seconds_per_file_second
    }
}

fn points(frame: &BodyFrame) -> Option<(f64, &[Landmark])> {
    let body = frame.body.as_ref()?;
    Some((frame.time_s, &body.points))
}

fn body_units(clip: &SwingClip<'_>, seen: &[(f64, &[Landmark])]) -> Option<BodyUnits> {
    let start = clip.address_s - ADDRESS_S / clip.real_seconds_per_file_second;
    let mut rest: Vec<&[Landmark]> = seen
        .iter()
        .filter(|(t, _)| (start..=clip.address_s).contains(t))
        .map(|(_, points)| *points)
        .collect();
    if rest.is_empty() {
        rest.push(seen[0].1);
    }
    let mirrored_px = match clip.hand {
        Hand::Right => None,
        Hand::Left => Some(f64::from(clip.track.width_px)),
    };
    let middle = |of: &dyn Fn(&[Landmark]) -> f64| {
        median(&rest.iter().map(|points| of(points)).collect::<Vec<_>>())
    };
    let [left, right] = ANKLES;
    let x = middle(&|p| 0.5 * (p[left].at.x + p[right].at.x))?;
    let y = middle(&|p| 0.5 * (p[left].at.y + p[right].at.y))?;
    let (nose_x, nose_y) = (middle(&|p| p[NOSE].at.x)?, middle(&|p| p[NOSE].at.y)?);
    let length_px = (nose_x - x).hypot(nose_y - y);
    (length_px > 1.0).then_some(BodyUnits {
        mirrored_px,
        origin: PixelPoint {
            x: mirrored_px.map_or(x, |width| width - x),
            y,
        },
        length_px,
    })
}

fn row(point: &Landmark, body: &BodyUnits) -> [f32; VALUES] {
    [
        body.x(point.at.x),
        (point.at.y - body.origin.y) / body.length_px,
        point.depth_px / body.length_px,
        point.visibility,
    ]
    .map(|value| value as f32)
}

/// The interval of rising `times_s` that holds a time, and how far in it; beyond the ends, the ends.
fn place(times_s: &[f64], time_s: f64) -> (usize, f32) {
    let after = times_s.partition_point(|&t| t <= time_s);
    let before = after.saturating_sub(1).min(times_s.len() - 2);
    let share = (time_s - times_s[before]) / (times_s[before + 1] - times_s[before]);
    (before, share.clamp(0.0, 1.0) as f32)
}

fn between(a: f32, b: f32, share: f32) -> f32 {
    a + share * (b - a)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::model_files;
    use lessonwright_model::Landmarks;
    use std::collections::BTreeMap;

    const ADDRESS_S: f64 = 0.41;
    const IMPACT_S: f64 = 1.7;

    fn load() -> Correction {
        Correction::load(&model_files().runtime, 1).expect("the network")
    }

    /// The motion of `testdata/vision/correction_reference.py`.
    fn made_up(phase: f64) -> LandmarkTrack {
        let point = |t: f64, i: f64| Landmark {
            at: PixelPoint {
                x: 500.0 + 120.0 * (0.7 * i).sin() + 40.0 * (2.1 * t + 0.3 * i + phase).sin(),
                y: 300.0 + 20.0 * i + 25.0 * (1.7 * t + 0.5 * i).cos(),
            },
            depth_px: 30.0 * (i + t).sin(),
            visibility: 0.5 + 0.4 * i.sin(),
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
        let text = include_str!("../../../testdata/vision/correction.json");
        // Frame, point, x, y and depth.
        type Point = (usize, usize, f64, f64, f64);
        let reference: BTreeMap<String, Vec<Point>> =
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
        for (name, track) in names.iter().zip(&centres) {
            for &(frame, number, x, y, depth) in &reference[*name] {
                let body = track.frames[frame].body.as_ref().expect("a body");
                let found = &body.points[number];
                // Rounded to 0.001 px; single precision in both runtimes.
                let off = [found.at.x - x, found.at.y - y, found.depth_px - depth];
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
        for (a, b) in expected.expect("a run")[0]
            .frames
            .iter()
            .zip(&found[0].frames)
        {
            let points = |f: &BodyFrame| f.body.clone().expect("a body").points;
            for (p, q) in points(a).iter().zip(points(b)) {
                assert!((p.at.x - q.at.x).hypot(p.at.y - q.at.y) < 0.01);
            }
        }
    }

    #[test]
    fn a_clip_in_which_nobody_is_seen_stays_as_it_is() {
        let mut empty = made_up(0.0);
        for frame in &mut empty.frames {
            frame.body = None;
        }
        let found = load().joint_centres(&[clip(&empty, View::FaceOn, Hand::Right)]);
        assert_eq!(found.expect("a run"), [empty]);
    }
}
