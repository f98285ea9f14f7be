//! How the square around the golfer should be chosen: the study behind `docs/decisions/003`.
//!
//! Reads rendered clips with exact truth and prints, for each way of choosing the square, one CSV
//! line a frame and joint: the error in centimetres in the plane of the joint.
//!
//! ```text
//! region_study MODEL_FOLDER CLIP.yuv TRUTH.json > errors.csv
//! ```
//!
//! CLIP.yuv is planar Y'CbCr 4:2:0 (`ffmpeg … -pix_fmt yuv420p -f rawvideo`); TRUTH.json holds
//! `width`, `height`, `focal_px`, and for each of its `frames` a `time` and `joints2d`: name →
//! [x px, y px, depth m].

use lessonwright_model::{Joint, Landmarks, Picture, PixelPoint};
use lessonwright_vision::{
    BodyNetwork, ModelFiles, PersonDetector, Refinement, SeenBody, Square, choose_golfer,
};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::error::Error;
use std::fs::File;
use std::io::Read;
use std::path::Path;

#[derive(Deserialize)]
struct Truth {
    width: usize,
    height: usize,
    focal_px: f64,
    frames: Vec<TruthFrame>,
}

#[derive(Deserialize)]
struct TruthFrame {
    time: f64,
    joints2d: BTreeMap<String, [f64; 3]>,
}

/// One way of choosing the square of each frame.
struct Way {
    name: &'static str,
    refinement: Refinement,
    /// Times the square that the networks propose.
    scale: f64,
    rule: Rule,
    /// Average with the mirrored picture.
    mirror: bool,
}

enum Rule {
    /// From the frame before; the share of the old square that stays.
    Follow(f64),
    Given(Make),
}

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().collect();
    let [_, models, clip, truth] = &arguments[..] else {
        return Err("usage: region_study MODEL_FOLDER CLIP.yuv TRUTH.json".into());
    };
    let files = ModelFiles::in_folder(Path::new(models));
    let mut detector = PersonDetector::load(&files, 2)?;
    let mut network = BodyNetwork::load(&files, 2)?;
    let truth: Truth = serde_json::from_reader(File::open(truth)?)?;
    let pictures = read_pictures(clip, &truth)?;
    let sampled = pictures.iter().step_by(4);
    let seed = choose_golfer(&mut detector, sampled)?.ok_or("nobody seen")?;
    let seed = seed.in_picture(truth.width, truth.height);
    let mut followed: Vec<Square> = Vec::new();
    for way in ways() {
        if std::env::var("LW_ONLY").is_ok_and(|n| !n.split(',').any(|n| n == way.name)) {
            continue;
        }
        let given: Option<Vec<Square>> = match &way.rule {
            Rule::Given(make) => Some(make(&followed)),
            _ => None,
        };
        let mut square = scaled(&seed, way.scale);
        let mut squares = vec![];
        for (frame, picture) in pictures.iter().enumerate() {
            if let Some(given) = &given {
                square = scaled(&given[frame], way.scale);
            }
            let body = look(&mut network, picture, &square, &way)?;
            print_errors(clip, &way, frame, &truth, &body.landmarks);
            let [hip, edge] = body.circle;
            let next = Square::around(hip, edge, 1.25 * way.scale);
            squares.push(square);
            if let Rule::Follow(keep) = way.rule {
                square = square.towards(&next, 1.0 - keep);
            }
        }
        if way.name == "follow" {
            followed = squares;
        }
    }
    Ok(())
}

type Make = fn(&[Square]) -> Vec<Square>;
fn med(mut v: Vec<f64>) -> f64 {
    v.sort_by(f64::total_cmp);
    v[v.len() / 2]
}
fn median_square(q: &[Square]) -> Square {
    Square {
        centre: PixelPoint {
            x: med(q.iter().map(|s| s.centre.x).collect()),
            y: med(q.iter().map(|s| s.centre.y).collect()),
        },
        side_px: med(q.iter().map(|s| s.side_px).collect()),
        rotation_rad: med(q.iter().map(|s| s.rotation_rad).collect()),
    }
}
fn gauss(q: &[Square], sigma: f64) -> Vec<Square> {
    (0..q.len())
        .map(|i| {
            let mut t = 0.0;
            let mut a = [0.0; 4];
            for (j, s) in q.iter().enumerate() {
                let w = (-0.5 * ((i as f64 - j as f64) / sigma).powi(2)).exp();
                t += w;
                for (a, v) in a
                    .iter_mut()
                    .zip([s.centre.x, s.centre.y, s.side_px, s.rotation_rad])
                {
                    *a += w * v;
                }
            }
            Square {
                centre: PixelPoint {
                    x: a[0] / t,
                    y: a[1] / t,
                },
                side_px: a[2] / t,
                rotation_rad: a[3] / t,
            }
        })
        .collect()
}
fn ways() -> Vec<Way> {
    let plain = |name, rule| Way {
        name,
        refinement: Refinement::Heatmap,
        scale: 1.0,
        rule,
        mirror: false,
    };
    vec![
        plain("follow", Rule::Follow(0.0)),
        plain("follow_.5", Rule::Follow(0.5)),
        plain("follow_.8", Rule::Follow(0.8)),
        plain("follow_.95", Rule::Follow(0.95)),
        Way {
            scale: 1.15 / 1.25,
            ..plain("follow_1.15", Rule::Follow(0.0))
        },
        Way {
            mirror: true,
            ..plain("follow_mirror", Rule::Follow(0.0))
        },
        plain(
            "hold_median",
            Rule::Given(|q| vec![median_square(q); q.len()]),
        ),
        plain(
            "hold_first15",
            Rule::Given(|q| vec![median_square(&q[..15]); q.len()]),
        ),
        plain("two_pass_1.5", Rule::Given(|q| gauss(q, 1.5))),
        plain("two_pass_4", Rule::Given(|q| gauss(q, 4.0))),
        plain("two_pass_10", Rule::Given(|q| gauss(q, 10.0))),
        Way {
            scale: 1.15 / 1.25,
            ..plain("two_pass_4_1.15", Rule::Given(|q| gauss(q, 4.0)))
        },
        Way {
            mirror: true,
            ..plain("two_pass_4_mirror", Rule::Given(|q| gauss(q, 4.0)))
        },
        plain(
            "size_held",
            Rule::Given(|q| {
                let m = median_square(q);
                q.iter()
                    .map(|s| Square {
                        side_px: m.side_px,
                        ..*s
                    })
                    .collect()
            }),
        ),
        plain(
            "centre_held",
            Rule::Given(|q| {
                let m = median_square(q);
                q.iter()
                    .map(|s| Square {
                        centre: m.centre,
                        ..*s
                    })
                    .collect()
            }),
        ),
        plain(
            "rotation_held",
            Rule::Given(|q| {
                let m = median_square(q);
                q.iter()
                    .map(|s| Square {
                        rotation_rad: m.rotation_rad,
                        ..*s
                    })
                    .collect()
            }),
        ),
        plain(
            "only_rotation",
            Rule::Given(|q| {
                let m = median_square(q);
                gauss(q, 4.0)
                    .iter()
                    .map(|s| Square {
                        rotation_rad: s.rotation_rad,
                        ..m
                    })
                    .collect()
            }),
        ),
    ]
}

fn look(
    network: &mut BodyNetwork,
    picture: &Picture,
    square: &Square,
    way: &Way,
) -> Result<SeenBody, Box<dyn Error>> {
    let mut body = network.look(picture, square, way.refinement)?;
    if way.mirror {
        let mirrored = mirrored(picture);
        let other = Square {
            centre: flipped(square.centre, picture.width),
            rotation_rad: -square.rotation_rad,
            ..*square
        };
        let seen = network.look(&mirrored, &other, way.refinement)?;
        for (index, point) in body.landmarks.points.iter_mut().enumerate() {
            let back = flipped(seen.landmarks.points[other_side(index)].at, picture.width);
            point.at = point.at.midpoint(back);
        }
    }
    Ok(body)
}

fn scaled(square: &Square, scale: f64) -> Square {
    Square {
        side_px: square.side_px * scale,
        ..*square
    }
}

fn print_errors(clip: &str, way: &Way, frame: usize, truth: &Truth, seen: &Landmarks) {
    let clip = Path::new(clip).file_stem().unwrap_or_default();
    for (joint, name) in COMPARED {
        let [x, y, depth_m] = truth.frames[frame].joints2d[name];
        let landmark = seen.get(joint);
        let cm = 100.0 * depth_m / truth.focal_px;
        println!(
            "{},{},{frame},{:.4},{name},{:.3},{:.3},{:.3}",
            clip.display(),
            way.name,
            truth.frames[frame].time,
            (landmark.at.x - x) * cm,
            (landmark.at.y - y) * cm,
            landmark.visibility,
        );
    }
}

const COMPARED: [(Joint, &str); 13] = [
    (Joint::Nose, "nose"),
    (Joint::LeftShoulder, "shoulder_left"),
    (Joint::RightShoulder, "shoulder_right"),
    (Joint::LeftElbow, "elbow_left"),
    (Joint::RightElbow, "elbow_right"),
    (Joint::LeftWrist, "wrist_left"),
    (Joint::RightWrist, "wrist_right"),
    (Joint::LeftHip, "hip_left"),
    (Joint::RightHip, "hip_right"),
    (Joint::LeftKnee, "knee_left"),
    (Joint::RightKnee, "knee_right"),
    (Joint::LeftAnkle, "ankle_left"),
    (Joint::RightAnkle, "ankle_right"),
];

/// The landmark that a mirrored picture shows in place of this one: eyes and mouth come as inner,
/// middle, outer of each side; from the ears on, left and right alternate.
fn other_side(index: usize) -> usize {
    match index {
        0 => 0,
        1..=3 => index + 3,
        4..=6 => index - 3,
        _ if index % 2 == 1 => index + 1,
        _ => index - 1,
    }
}

fn flipped(point: PixelPoint, width: usize) -> PixelPoint {
    PixelPoint {
        x: width as f64 - point.x,
        ..point
    }
}

fn mirrored(picture: &Picture) -> Picture {
    let flip = |plane: &[u8], width: usize| {
        plane
            .chunks_exact(width)
            .flat_map(|line| line.iter().rev().copied())
            .collect()
    };
    Picture {
        luma: flip(&picture.luma, picture.width),
        cb: flip(&picture.cb, picture.chroma_width()),
        cr: flip(&picture.cr, picture.chroma_width()),
        ..*picture
    }
}

fn read_pictures(path: &str, truth: &Truth) -> Result<Vec<Picture>, Box<dyn Error>> {
    let (width, height) = (truth.width, truth.height);
    let chroma = width.div_ceil(2) * height.div_ceil(2);
    let mut file = File::open(path)?;
    let mut plane = |length: usize| -> std::io::Result<Vec<u8>> {
        let mut samples = vec![0; length];
        file.read_exact(&mut samples)?;
        Ok(samples)
    };
    truth
        .frames
        .iter()
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
