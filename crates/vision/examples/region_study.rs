//! How the square around the golfer should be chosen: the study behind `docs/decisions/003`.
//!
//! Reads a rendered clip with exact truth and prints, for each way of choosing the square, one CSV
//! line a frame and joint: clip, way, time (s), joint, error to the right and down (cm in the plane
//! of the joint), visibility.
//!
//! ```text
//! region_study MODEL_FOLDER CLIP.yuv TRUTH.json STEP > errors.csv
//! ```
//!
//! CLIP.yuv is planar Y'CbCr 4:2:0 (`ffmpeg … -pix_fmt yuv420p -f rawvideo`) of every STEP-th frame;
//! TRUTH.json comes from the same run of the stage (`lessonwright-stage truth`).

use lessonwright_model::body::BodyPart;
use lessonwright_model::{Hand, Joint, Landmarks, Picture, PixelPoint, Side};
use lessonwright_vision::{
    BodyNetwork, ModelFiles, Networks, Refinement, Square, Tracker, TrackerConfig, choose_golfer,
};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::error::Error;
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// The part of the stage's truth that is used here.
#[derive(Deserialize)]
struct Truth {
    width_px: usize,
    height_px: usize,
    hand: Hand,
    camera: Camera,
    frames: Vec<TruthFrame>,
}

#[derive(Deserialize)]
struct Camera {
    position: [f64; 3],
    forward: [f64; 3],
    focal_px: f64,
}

#[derive(Deserialize)]
struct TruthFrame {
    time_s: f64,
    joints: BTreeMap<String, TruthJoint>,
}

#[derive(Deserialize)]
struct TruthJoint {
    world: [f64; 3],
    pixel: [f64; 2],
}

/// One way of choosing the square of each picture.
enum Way {
    /// As the tracker does.
    Follow(TrackerConfig),
    /// One square for the whole clip: the median of the detections; `mirrored` averages with the
    /// landmarks in the mirrored picture.
    Hold { mirrored: bool },
}

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().collect();
    let [_, models, clip, truth, step] = &arguments[..] else {
        return Err("usage: region_study MODEL_FOLDER CLIP.yuv TRUTH.json STEP".into());
    };
    let files = ModelFiles::in_folder(Path::new(models));
    let mut networks = Networks::load(&files, 2)?;
    let mut body = BodyNetwork::load(&files, 2)?;
    let truth: Truth = serde_json::from_reader(File::open(truth)?)?;
    let frames: Vec<&TruthFrame> = truth.frames.iter().step_by(step.parse()?).collect();
    let pictures = read_pictures(clip, &truth, frames.len())?;
    let clip = Path::new(clip).file_stem().unwrap_or_default().display();

    let golfer = choose_golfer(&mut networks.detector, pictures.iter().step_by(4))?
        .ok_or("nobody is seen in this clip")?;
    for (name, way) in ways() {
        let bodies = match way {
            Way::Follow(config) => {
                let mut tracker = Tracker::new(&mut networks, config, Some(golfer));
                let mut tracked = Vec::new();
                for picture in &pictures {
                    tracked.extend(tracker.push(picture.clone(), false)?);
                }
                tracked.extend(tracker.finish()?);
                eprintln!(
                    "{clip}, {name}: looked for again {}",
                    tracker.redetections()
                );
                tracked.into_iter().map(|t| t.body).collect::<Vec<_>>()
            }
            Way::Hold { mirrored } => {
                let square = golfer.in_picture(truth.width_px, truth.height_px);
                let look = |picture| look(&mut body, picture, &square, mirrored).map(Some);
                pictures.iter().map(look).collect::<Result<_, _>>()?
            }
        };
        for (frame, body) in frames.iter().zip(&bodies) {
            if let Some(body) = body {
                print_errors(&format!("{clip},{name}"), &truth, frame, body);
            }
        }
    }
    Ok(())
}

fn ways() -> Vec<(&'static str, Way)> {
    let default = TrackerConfig::default();
    let damped = |damping| Way::Follow(TrackerConfig { damping, ..default });
    let margin = |margin| Way::Follow(TrackerConfig { margin, ..default });
    let unrefined = TrackerConfig {
        refinement: Refinement::None,
        ..default
    };
    vec![
        ("default", Way::Follow(default)),
        ("unrefined", Way::Follow(unrefined)),
        ("damping 0", damped(0.0)),
        ("damping 0.5", damped(0.5)),
        ("damping 0.9", damped(0.9)),
        ("margin 1.0", margin(1.0)),
        ("margin 1.25", margin(1.25)),
        ("margin 1.4", margin(1.4)),
        ("hold", Way::Hold { mirrored: false }),
        ("hold, mirrored", Way::Hold { mirrored: true }),
    ]
}

fn look(
    network: &mut BodyNetwork,
    picture: &Picture,
    square: &Square,
    mirrored: bool,
) -> Result<Landmarks, Box<dyn Error>> {
    let mut body = network
        .look(picture, square, Refinement::Heatmap)?
        .landmarks;
    if mirrored {
        let flip = |point: PixelPoint| PixelPoint {
            x: picture.width as f64 - point.x,
            ..point
        };
        let other_square = Square {
            centre: flip(square.centre),
            rotation_rad: -square.rotation_rad,
            ..*square
        };
        let other = network
            .look(&mirror(picture), &other_square, Refinement::Heatmap)?
            .landmarks;
        for (index, point) in body.points.iter_mut().enumerate() {
            point.at = point.at.midpoint(flip(other.points[other_side(index)].at));
        }
    }
    Ok(body)
}

/// The landmark that a mirrored picture shows in place of this one: eyes come as inner, middle and
/// outer of each side; from the ears on, left and right alternate.
fn other_side(index: usize) -> usize {
    match index {
        0 => 0,
        1..=3 => index + 3,
        4..=6 => index - 3,
        _ if index % 2 == 1 => index + 1,
        _ => index - 1,
    }
}

fn mirror(picture: &Picture) -> Picture {
    let flip = |plane: &[u8], width: usize| {
        let lines = plane.chunks_exact(width);
        lines.flat_map(|line| line.iter().rev().copied()).collect()
    };
    Picture {
        luma: flip(&picture.luma, picture.width),
        cb: flip(&picture.cb, picture.chroma_width()),
        cr: flip(&picture.cr, picture.chroma_width()),
        ..*picture
    }
}

fn print_errors(clip_and_way: &str, truth: &Truth, frame: &TruthFrame, seen: &Landmarks) {
    let parts = [
        (BodyPart::Shoulder, "shoulder"),
        (BodyPart::Elbow, "elbow"),
        (BodyPart::Wrist, "wrist"),
        (BodyPart::Hip, "hip"),
        (BodyPart::Knee, "knee"),
        (BodyPart::Ankle, "ankle"),
    ];
    for (part, name) in parts {
        for (side, side_name) in [(Side::Lead, "lead"), (Side::Trail, "trail")] {
            let name = format!("{name}_{side_name}");
            let joint = &frame.joints[&name];
            let landmark = seen.get(Joint::of(part, side, truth.hand));
            let camera = &truth.camera;
            let depth_m: f64 = (0..3)
                .map(|i| (joint.world[i] - camera.position[i]) * camera.forward[i])
                .sum();
            let cm_per_px = 100.0 * depth_m / camera.focal_px;
            println!(
                "{clip_and_way},{:.4},{name},{:.3},{:.3},{:.3}",
                frame.time_s,
                (landmark.at.x - joint.pixel[0]) * cm_per_px,
                (landmark.at.y - joint.pixel[1]) * cm_per_px,
                landmark.visibility,
            );
        }
    }
}

fn read_pictures(path: &str, truth: &Truth, count: usize) -> std::io::Result<Vec<Picture>> {
    let (width, height) = (truth.width_px, truth.height_px);
    let chroma = width.div_ceil(2) * height.div_ceil(2);
    let mut file = File::open(path)?;
    let mut plane = |length: usize| {
        let mut samples = vec![0; length];
        file.read_exact(&mut samples).map(|()| samples)
    };
    (0..count)
        .map(|_| {
            Ok(Picture {
                width,
                height,
                luma: plane(width * height)?,
                cb: plane(chroma)?,
                cr: plane(chroma)?,
            })
        })
        .collect()
}
