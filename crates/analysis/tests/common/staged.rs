//! Swings of the stage as landmarks at their exact joints, with their truth.

use super::{Random, facts_of};
use lessonwright_analysis::ClipObservation;
use lessonwright_model::body::LANDMARKS;
use lessonwright_model::*;
use lessonwright_stage::truth::{FrameTruth, MeasureTruth, Truth};
use lessonwright_stage::{SwingParams, truth};

/// Face-on and down the line, with the truth of each; `noise_m` is a slow error at the player (AR(1),
/// 0.95 a frame of 60/s).
pub fn clips(params: &SwingParams, noise_m: f64) -> [(ClipObservation, Truth); 2] {
    [
        lessonwright_stage::View::FaceOn,
        lessonwright_stage::View::DownTheLine,
    ]
    .map(|view| {
        let truth = truth(params, view, [1080, 1920]).expect("a true swing");
        (clip(&truth, noise_m, view as u64), truth)
    })
}

fn clip(truth: &Truth, noise_m: f64, seed: u64) -> ClipObservation {
    let [x, _, z] = truth.camera.position;
    let px_per_m = truth.camera.focal_px / x.hypot(z);
    let mut random = Random(truth.params.seed.wrapping_add(1000 * seed));
    let keep = 0.95_f64.powf(60.0 / truth.rate_hz);
    let mut errors = [[0.0; 2]; LANDMARKS];
    let times: Vec<f64> = truth.frames.iter().map(|f| f.time_s).collect();
    let frames = truth
        .frames
        .iter()
        .map(|frame| {
            let mut points = vec![Landmark::default(); LANDMARKS];
            for (joint, at) in joints(frame, truth.hand) {
                let error = &mut errors[joint as usize];
                for e in error.iter_mut() {
                    let fresh = if frame.frame == 0 {
                        1.0
                    } else {
                        (1.0 - keep * keep).sqrt()
                    };
                    *e = keep * *e + fresh * noise_m * px_per_m * random.normal();
                }
                points[joint as usize] = Landmark {
                    at: PixelPoint {
                        x: at[0] + error[0],
                        y: at[1] + error[1],
                    },
                    depth_px: 0.0,
                    visibility: 0.9,
                    spread: None,
                };
            }
            BodyFrame {
                frame: frame.frame,
                time_s: frame.time_s,
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
            &format!("{:?}.mp4", truth.view),
            [truth.width_px as u32, truth.height_px as u32],
            &times,
            truth.rate_hz,
        ),
        track: LandmarkTrack {
            width_px: truth.width_px as u32,
            height_px: truth.height_px as u32,
            frames,
        },
        centres: None,
        club: Some(club(truth)),
        strikes: vec![Strike {
            time_s: truth.strike_sound_time_s,
            plus_minus_s: 0.002,
            above_noise_db: 30.0,
        }],
        view: None,
        hand: None,
    }
}

/// The club as a network without error would see it in every frame.
fn club(truth: &Truth) -> ClubTrack {
    let point = |[x, y]: [f64; 2]| PixelPoint { x, y };
    let [x, _, z] = truth.camera.position;
    // The network's 288 pixels span 1.53 statures.
    let network_px = truth.stature_m * truth.camera.focal_px / x.hypot(z) * 1.53 / 288.0;
    let glances = truth.frames.iter().map(|frame| {
        let seen = &frame.club;
        let along = [0, 1].map(|k| seen.hosel[k] - seen.grip[k]);
        ClubGlance {
            frame: frame.frame,
            time_s: frame.time_s,
            grip: point(seen.grip),
            px: network_px,
            rays: vec![ClubRay {
                angle_rad: along[1].atan2(along[0]),
                spread_rad: 1e-4,
                score: 50.0,
                length_px: along[0].hypot(along[1]),
                head: point(seen.head),
                head_peak: 1.0,
            }],
            head_seen: 1.0,
            shaft_seen: 1.0,
            ball_seen: seen.ball_seen,
            ball: point(seen.ball),
        }
    });
    ClubTrack {
        width_px: truth.width_px as u32,
        height_px: truth.height_px as u32,
        glances: glances.collect(),
        flight: flight(truth),
    }
}

/// The ball in flight as differences of pictures without error show it, and the head that follows it.
fn flight(truth: &Truth) -> Vec<FlightGlance> {
    let impact_s = truth
        .moments
        .iter()
        .find(|m| m.name.key() == "impact")
        .expect("an impact")
        .time_s;
    let shown = |frame: &&FrameTruth| (0.0..0.12).contains(&(frame.time_s - impact_s));
    let glance = |frame: &FrameTruth| {
        let spot = |[x, y]: [f64; 2], width_m: f64, away_m: f64| Spot {
            at: PixelPoint { x, y },
            across_px: 0.25 * width_m * truth.camera.focal_px / away_m,
        };
        let (ball, away_m) = ball_after(truth, frame.time_s - impact_s);
        let spots = vec![spot(ball, 0.0427, away_m), spot(frame.club.head, 0.06, 4.0)];
        FlightGlance {
            time_s: frame.time_s,
            spots,
        }
    };
    truth.frames.iter().filter(shown).map(glance).collect()
}

/// Where the picture shows the ball some time after impact, px, and how far it is away, m.
pub fn ball_after(truth: &Truth, after_s: f64) -> ([f64; 2], f64) {
    let camera = &truth.camera;
    let from: [f64; 3] = std::array::from_fn(|k| {
        truth.ball[k] + after_s * truth.ball_velocity_m_s[k] - camera.position[k]
    });
    let along = |axis: [f64; 3]| (0..3).map(|k| axis[k] * from[k]).sum::<f64>();
    let away_m = along(camera.forward);
    let px = |axis| camera.focal_px * along(axis) / away_m;
    let middle = [truth.width_px, truth.height_px].map(|side| 0.5 * side as f64);
    let at = [middle[0] + px(camera.right), middle[1] - px(camera.up)];
    (at, away_m)
}

fn joints(frame: &FrameTruth, hand: lessonwright_stage::Hand) -> Vec<(Joint, [f64; 2])> {
    let hand = match hand {
        lessonwright_stage::Hand::Right => Hand::Right,
        lessonwright_stage::Hand::Left => Hand::Left,
    };
    let parts = [
        (BodyPart::Ear, "ear"),
        (BodyPart::Shoulder, "shoulder"),
        (BodyPart::Elbow, "elbow"),
        (BodyPart::Wrist, "wrist"),
        (BodyPart::Hip, "hip"),
        (BodyPart::Knee, "knee"),
        (BodyPart::Ankle, "ankle"),
        (BodyPart::Heel, "heel"),
        (BodyPart::Toe, "toe"),
    ];
    let sides = [(Side::Lead, "lead"), (Side::Trail, "trail")];
    let mut all = vec![(Joint::Nose, frame.joints["nose"].pixel)];
    for (part, name) in parts {
        for (side, suffix) in sides {
            let at = frame.joints[&format!("{name}_{suffix}")].pixel;
            all.push((Joint::of(part, side, hand), at));
        }
    }
    all
}

/// What is true of a measure.
pub fn true_value(truth: &Truth, measure: &Measure) -> f64 {
    let name = key(&measure.name);
    let moment = key(&measure.moment);
    let against = measure.against.map(|a| key(&a));
    let is = |m: &&MeasureTruth| {
        m.name == name
            && m.moment.key() == moment
            && m.against.map(|a| a.key().to_owned()) == against
    };
    let found = truth.measures.iter().find(is);
    found
        .unwrap_or_else(|| panic!("{name} at {moment} has no truth"))
        .value
}

fn key(value: &impl serde::Serialize) -> String {
    let json = serde_json::to_value(value).expect("a name");
    json.as_str().expect("a string").to_owned()
}
