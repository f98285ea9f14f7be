//! Swings of the stage as image tracks, with their exact truth.
#![allow(dead_code, reason = "each test file uses its own part")]

use glam::{DVec2, DVec3};
use lessonwright_body::{POINTS, Pose, Seen, View, ViewTrack};
use lessonwright_stage::camera::Camera;
use lessonwright_stage::moments::moments;
use lessonwright_stage::motion::{Motion, Movement};
use lessonwright_stage::noise::SplitMix64;
use lessonwright_stage::{Hand, MomentName, SwingParams};

/// A swing of the stage, played right-handed.
pub struct Swing {
    pub params: SwingParams,
    pub motion: Motion,
}

/// How a clip is taken.
#[derive(Clone, Copy)]
pub struct Taken {
    pub size_px: [usize; 2],
    pub rate_hz: f64,
    /// Clip time of the first movement, s.
    pub before_s: f64,
    /// Error of the impact time that is told, s.
    pub impact_error_s: f64,
    /// Slow landmark error at the player, m: AR(1) with 0.95 per 1/60 s.
    pub noise_m: f64,
    pub seed: u64,
}

impl Taken {
    pub const EXACT: Taken = Taken {
        size_px: [1080, 1920],
        rate_hz: 60.0,
        before_s: 0.5,
        impact_error_s: 0.0,
        noise_m: 0.0,
        seed: 1,
    };
}

impl Swing {
    pub fn random(seed: u64) -> Swing {
        let params = SwingParams {
            hand: Hand::Right,
            ..SwingParams::random(seed)
        };
        Swing {
            motion: Motion::new(&params),
            params,
        }
    }

    /// Time of a moment, s from the first movement.
    pub fn moment(&self, name: MomentName) -> f64 {
        moments(&self.motion)[name as usize].1
    }

    /// The true pose, time in s from the first movement.
    pub fn pose(&self, time_s: f64) -> Pose {
        let p = self.motion.pose(time_s);
        let foot = |i: usize, z: f64| p.ankle[i] + p.foot_frame[i] * DVec3::new(0.0, -0.06, z);
        let pairs = [p.hip, p.shoulder, p.elbow, p.wrist, p.knee, p.ankle];
        let mut all = [DVec3::ZERO; POINTS];
        for (k, pair) in pairs.into_iter().enumerate() {
            [all[2 * k], all[2 * k + 1]] = pair;
        }
        for i in 0..2 {
            all[12 + i] = foot(i, -0.055);
            all[14 + i] = foot(i, 0.19);
        }
        all[16] = p.head + p.head_frame * DVec3::new(0.0, -0.018, 0.112);
        Pose(all)
    }

    pub fn camera(&self, view: View, size_px: [usize; 2]) -> Camera {
        let stage_view = match view {
            View::FaceOn => lessonwright_stage::View::FaceOn,
            View::DownTheLine => lessonwright_stage::View::DownTheLine,
        };
        let place = self.params.place(stage_view);
        let reach = self.motion.ball().z;
        Camera::new(place, stage_view, Hand::Right, reach, size_px)
    }

    /// What a clip shows of the swing until a little after the strike.
    pub fn track(&self, view: View, taken: Taken) -> ViewTrack {
        let camera = self.camera(view, taken.size_px);
        let impact = self.moment(MomentName::Impact);
        let count = ((taken.before_s + impact + 0.25) * taken.rate_hz) as usize;
        let times_s: Vec<f64> = (0..count).map(|i| i as f64 / taken.rate_hz).collect();
        let px_per_m = camera.focal_px / camera.position.length();
        let mut random = SplitMix64::new(taken.seed);
        let keep = 0.95_f64.powf(60.0 / taken.rate_hz);
        let fresh = (1.0 - keep * keep).sqrt();
        let mut error = [DVec2::ZERO; POINTS];
        let frames = (0..count)
            .map(|i| {
                let pose = self.pose(times_s[i] - taken.before_s);
                std::array::from_fn(|k| {
                    let draw = DVec2::new(gauss(&mut random), gauss(&mut random));
                    error[k] = if i == 0 {
                        draw
                    } else {
                        error[k] * keep + draw * fresh
                    };
                    let exact = camera.project(pose.0[k]).0;
                    Some(Seen {
                        pixel: exact + error[k] * (taken.noise_m * px_per_m),
                        sd_px: SD_M[k] * px_per_m,
                        depth: None,
                    })
                })
            })
            .collect();
        ViewTrack {
            view,
            size_px: taken.size_px.map(|s| s as f64),
            times_s,
            frames,
            address_s: taken.before_s - 0.3,
            takeaway_s: taken.before_s,
            impact_s: taken.before_s + impact + taken.impact_error_s,
            distance_m: None,
            focal_px: None,
            bearing_rad: self.bearing_rad(view, taken.size_px),
            // told exactly of the first view, to within 6° of the second
            bearing_sd_rad: match view {
                View::FaceOn => 5e-4,
                View::DownTheLine => 0.105,
            },
        }
    }

    /// Where the first camera truly stands: the gauge.
    pub fn bearing_rad(&self, view: View, size_px: [usize; 2]) -> f64 {
        let from = self.camera(view, size_px).position;
        match view {
            View::FaceOn => view.bearing_rad(from, DVec3::new(0.0, 0.0, 0.1)),
            // told of the first view only: the second has to find it
            View::DownTheLine => 0.0,
        }
    }
}

/// The feasibility note's deviations of landmarks, m, in the order of the points.
const SD_M: [f64; POINTS] = [
    0.015, 0.015, 0.018, 0.018, 0.02, 0.02, 0.02, 0.02, 0.01, 0.01, 0.008, 0.008, 0.01, 0.01,
    0.012, 0.012, 0.012,
];

fn gauss(random: &mut SplitMix64) -> f64 {
    let (u, v) = (random.unit().max(1e-12), random.unit());
    (-2.0 * u.ln()).sqrt() * (std::f64::consts::TAU * v).cos()
}

/// Largest of some absolute values.
pub fn worst(values: impl IntoIterator<Item = f64>) -> f64 {
    values.into_iter().map(f64::abs).fold(0.0, f64::max)
}

pub fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

/// An angle in −π…π.
pub fn wrapped(angle: f64) -> f64 {
    angle.sin().atan2(angle.cos())
}
