//! A virtual camera, figures with known truth, and the open motion capture.
//!
//! World axes as everywhere: toward the target, up, toward the ball, metres. Filmed figures are
//! right-handed; a left-hander is the mirrored film with left and right exchanged.
#![allow(dead_code, reason = "each test file uses its own part of this")]

pub mod staged;
pub mod stick;

use lessonwright_analysis::{Calibration, ClipObservation, Settings};
use lessonwright_math::CubicSpline;
use lessonwright_model::body::LANDMARKS;
use lessonwright_model::*;

/// Joints of a figure at one instant.
pub type Pose = Vec<(Joint, WorldPoint)>;

/// A pinhole camera before the player.
#[derive(Clone, Copy, Debug)]
pub struct Camera {
    pub view: View,
    pub distance_m: f64,
    pub height_m: f64,
    /// Turn about the vertical around the player, radians.
    pub yaw_rad: f64,
    pub width_px: u32,
    pub height_px: u32,
    /// Field of view of the long side, radians.
    pub field_rad: f64,
}

impl Camera {
    pub fn of(view: View) -> Camera {
        Camera {
            view,
            distance_m: 4.0,
            height_m: 1.0,
            yaw_rad: 0.0,
            width_px: 1080,
            height_px: 1920,
            field_rad: 62_f64.to_radians(),
        }
    }

    fn focal_px(&self) -> f64 {
        0.5 * f64::from(self.height_px) / (0.5 * self.field_rad).tan()
    }

    pub fn project(&self, p: WorldPoint) -> PixelPoint {
        let (sin, cos) = self.yaw_rad.sin_cos();
        let (target, ball) = (p.target * cos - p.ball * sin, p.target * sin + p.ball * cos);
        let (across, depth) = match self.view {
            View::FaceOn => (target, self.distance_m - ball),
            View::DownTheLine => (ball - 0.3, self.distance_m + target),
        };
        let f = self.focal_px() / depth;
        PixelPoint {
            x: 0.5 * f64::from(self.width_px) + f * across,
            y: 0.5 * f64::from(self.height_px) - f * (p.up - self.height_m),
        }
    }
}

/// How a figure is filmed.
#[derive(Clone, Debug)]
pub struct Film {
    pub camera: Camera,
    pub rate_hz: f64,
    pub from_s: f64,
    pub to_s: f64,
    pub hand: Hand,
    /// Frame-to-frame noise of each coordinate, px.
    pub noise_px: f64,
    pub seed: u64,
}

impl Film {
    pub fn of(view: View, from_s: f64, to_s: f64) -> Film {
        Film {
            camera: Camera::of(view),
            rate_hz: 60.0,
            from_s,
            to_s,
            hand: Hand::Right,
            noise_px: 0.0,
            seed: 1,
        }
    }

    /// Landmarks of the figure, time 0 at the first frame.
    pub fn shoot(&self, figure: &dyn Fn(f64) -> Pose) -> ClipObservation {
        let count = ((self.to_s - self.from_s) * self.rate_hz).floor() as usize + 1;
        let times: Vec<f64> = (0..count).map(|i| i as f64 / self.rate_hz).collect();
        self.shoot_at(figure, &times)
    }

    /// The same at given times from the first frame.
    pub fn shoot_at(&self, figure: &dyn Fn(f64) -> Pose, times: &[f64]) -> ClipObservation {
        let mut random = Random(self.seed);
        let frames = times
            .iter()
            .enumerate()
            .map(|(frame, &time_s)| {
                let mut points = vec![Landmark::default(); LANDMARKS];
                for (joint, place) in figure(self.from_s + time_s) {
                    let mut at = self.camera.project(place);
                    at.x += self.noise_px * random.normal();
                    at.y += self.noise_px * random.normal();
                    let mut joint = joint as usize;
                    if self.hand == Hand::Left {
                        at.x = f64::from(self.camera.width_px) - at.x;
                        joint = exchanged(joint);
                    }
                    points[joint] = Landmark {
                        at,
                        depth_px: 0.0,
                        visibility: 0.9,
                        spread: None,
                    };
                }
                BodyFrame {
                    frame,
                    time_s,
                    body: Some(Landmarks {
                        presence: 0.99,
                        points,
                        joint_centres: Vec::new(),
                    }),
                }
            })
            .collect();
        ClipObservation {
            facts: facts_of(
                match self.camera.view {
                    View::FaceOn => "face.mp4",
                    View::DownTheLine => "line.mp4",
                },
                [self.camera.width_px, self.camera.height_px],
                times,
                self.rate_hz,
            ),
            track: LandmarkTrack {
                width_px: self.camera.width_px,
                height_px: self.camera.height_px,
                frames,
            },
            centres: None,
            club: None,
            strikes: Vec::new(),
            view: None,
            hand: None,
        }
    }
}

pub fn facts_of(name: &str, size_px: [u32; 2], times: &[f64], rate_hz: f64) -> ClipFacts {
    ClipFacts {
        name: name.into(),
        codec: "h264".into(),
        bit_depth: 8,
        width_px: size_px[0],
        height_px: size_px[1],
        rotation_deg: 0,
        frame_times_s: times.to_vec(),
        rate_hz,
        variable_rate: false,
        capture_rate_hz: rate_hz,
        capture_rate_source: RateSource::Container,
        duration_s: times.last().copied().unwrap_or(0.0),
        has_sound: false,
    }
}

/// The landmark of the other side.
pub fn exchanged(joint: usize) -> usize {
    match joint {
        0 => 0,
        1..=3 => joint + 3,
        4..=6 => joint - 3,
        _ if joint % 2 == 1 => joint + 1,
        _ => joint - 1,
    }
}

/// A small generator with a fixed sequence (Knuth's MMIX constants), for noise in tests.
pub struct Random(pub u64);

impl Random {
    /// Uniform in (0, 1).
    pub fn uniform(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    /// Standard normal (Box & Muller).
    pub fn normal(&mut self) -> f64 {
        let (u, v) = (self.uniform(), self.uniform());
        (-2.0 * u.ln()).sqrt() * (std::f64::consts::TAU * v).cos()
    }
}

/// Settings for points known exactly.
pub fn exact() -> Settings {
    Settings {
        calibration: Some(Calibration::exact()),
        ..Settings::default()
    }
}

pub fn player(stature_m: f64) -> PlayerFacts {
    PlayerFacts {
        name: "Test player".into(),
        stature_m: Some(stature_m),
        ..PlayerFacts::default()
    }
}

/// The open capture: CMU Graphics Lab Motion Capture Database, one right-handed swing at 120/s.
pub struct Capture {
    joints: Vec<(Joint, [CubicSpline; 3])>,
}

impl Capture {
    /// `None`, with a printed reason, where the shared data folder is absent.
    pub fn load() -> Option<Capture> {
        let path = concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/../../../shared/data/mocap/cmu_golf_swing_joints.csv"
        );
        let Ok(text) = std::fs::read_to_string(path) else {
            eprintln!("skipped: ../shared/data/mocap is not beside the repository");
            return None;
        };
        let mut lines = text.lines();
        let header: Vec<&str> = lines.next()?.split(',').collect();
        let rows: Vec<Vec<f64>> = lines
            .map(|line| {
                line.split(',')
                    .map(|v| v.parse().expect("a number"))
                    .collect()
            })
            .collect();
        let times: Vec<f64> = (0..rows.len()).map(|i| i as f64 / 120.0).collect();
        let spline = |name: &str| {
            let column = header
                .iter()
                .position(|h| *h == name)
                .expect("a known column");
            let values: Vec<f64> = rows.iter().map(|r| r[column] / 100.0).collect();
            CubicSpline::new(&times, &values).expect("ordered samples")
        };
        use Joint::*;
        let names = [
            (Nose, "nose_proxy_head"),
            (LeftShoulder, "l_shoulder"),
            (RightShoulder, "r_shoulder"),
            (LeftElbow, "l_elbow"),
            (RightElbow, "r_elbow"),
            (LeftWrist, "l_wrist"),
            (RightWrist, "r_wrist"),
            (LeftHip, "l_hip"),
            (RightHip, "r_hip"),
            (LeftKnee, "l_knee"),
            (RightKnee, "r_knee"),
            (LeftAnkle, "l_ankle"),
            (RightAnkle, "r_ankle"),
            (LeftFootIndex, "l_toe"),
            (RightFootIndex, "r_toe"),
            // The capture has no heels: the ankles stand in, above them.
            (LeftHeel, "l_ankle"),
            (RightHeel, "r_ankle"),
        ];
        let joints = names
            .into_iter()
            .map(|(joint, name)| {
                let axes = ["target", "up", "ball"].map(|a| spline(&format!("{name}_{a}_cm")));
                (joint, axes)
            })
            .collect();
        Some(Capture { joints })
    }

    pub fn pose(&self, t: f64) -> Pose {
        self.joints
            .iter()
            .map(|(joint, [target, up, ball])| {
                (
                    *joint,
                    WorldPoint {
                        target: target.at(t),
                        up: up.at(t),
                        ball: ball.at(t),
                    },
                )
            })
            .collect()
    }

    pub fn place(&self, joint: Joint, t: f64) -> WorldPoint {
        self.pose(t)
            .into_iter()
            .find(|p| p.0 == joint)
            .expect("a captured joint")
            .1
    }

    /// The stature whose thigh and shank (Drillis & Contini 1966: 0.491 of it) the skeleton has.
    pub fn stature_m(&self) -> f64 {
        let length = |a: Joint, b: Joint| {
            let (a, b) = (self.place(a, 0.0), self.place(b, 0.0));
            (a.target - b.target)
                .hypot(a.up - b.up)
                .hypot(a.ball - b.ball)
        };
        (length(Joint::LeftHip, Joint::LeftKnee) + length(Joint::LeftKnee, Joint::LeftAnkle))
            / 0.491
    }
}

/// The value of a moment in seconds of the file.
pub fn time_of(moments: &[Moment], view: View, name: MomentName) -> Option<f64> {
    moments
        .iter()
        .find(|m| m.view == view && m.name == name)
        .map(|m| m.time_s)
}

/// One measure.
pub fn measure(
    measures: &[Measure],
    name: MeasureName,
    moment: MomentName,
    against: Option<MomentName>,
) -> &Measure {
    measures
        .iter()
        .find(|m| (m.name, m.moment, m.against) == (name, moment, against))
        .unwrap_or_else(|| panic!("{name:?} at {moment:?} is always in the list"))
}

/// When both shoulders come within 2 % of the stature (root-mean-square) of where they are at
/// `rest_s`, and stay so until then: the definition of the finish.
pub fn shoulders_arrive(pose: &dyn Fn(f64) -> Pose, stature_m: f64, rest_s: f64) -> f64 {
    const STEP_S: f64 = 1e-4;
    let shoulders = |t: f64| {
        let pose = pose(t);
        [Joint::LeftShoulder, Joint::RightShoulder].map(|joint| {
            let found = pose.iter().find(|p| p.0 == joint);
            found.copied().expect("both shoulders are drawn").1
        })
    };
    let rest = shoulders(rest_s);
    let far = |t: f64| {
        let squares = shoulders(t).into_iter().zip(rest).map(|(a, b)| {
            (a.target - b.target).powi(2) + (a.up - b.up).powi(2) + (a.ball - b.ball).powi(2)
        });
        (0.5 * squares.sum::<f64>()).sqrt() > 0.02 * stature_m
    };
    let steps = (rest_s / STEP_S) as usize;
    let arrived = (0..steps).map(|i| rest_s - i as f64 * STEP_S);
    arrived
        .take_while(|&t| !far(t))
        .last()
        .expect("the shoulders are at rest at last")
}
