//! The two films of a captured swing: a plain figure, seen by the cameras that its moments are found with.

use super::road::{file_name, film_rate_hz};
use crate::surroundings::Surroundings;
use anyhow::Result;
use lessonwright_analysis::captured::{GROUND_PX, PICTURE_PX, PX_PER_M, camera, poses};
use lessonwright_body::{Camera, Point, Pose};
use lessonwright_clip::{Limb, figure};
use lessonwright_media::{Film, FilmFormat, Voice};
use lessonwright_model::{Cancel, CapturedBody, Hand, View};
use std::path::{Path, PathBuf};

/// Lead side, trail side, trunk and head.
const LEAD: [u8; 3] = [0x1f, 0x4e, 0x79];
const TRAIL: [u8; 3] = [0xa6, 0x5a, 0x1e];
const TRUNK: [u8; 3] = [0x6b, 0x64, 0x59];

/// From where to where, how thick (m), and whose: a figure's look, nothing is measured by it.
const LIMBS: [(Point, Point, f64, [u8; 3]); 22] = {
    use Point::*;
    [
        (LeadHip, LeadKnee, 0.13, LEAD),
        (LeadKnee, LeadAnkle, 0.10, LEAD),
        (LeadAnkle, LeadHeel, 0.07, LEAD),
        (LeadHeel, LeadToe, 0.07, LEAD),
        (LeadAnkle, LeadToe, 0.07, LEAD),
        (TrailHip, TrailKnee, 0.13, TRAIL),
        (TrailKnee, TrailAnkle, 0.10, TRAIL),
        (TrailAnkle, TrailHeel, 0.07, TRAIL),
        (TrailHeel, TrailToe, 0.07, TRAIL),
        (TrailAnkle, TrailToe, 0.07, TRAIL),
        (LeadHip, TrailHip, 0.16, TRUNK),
        (LeadShoulder, LeadHip, 0.14, TRUNK),
        (TrailShoulder, TrailHip, 0.14, TRUNK),
        (LeadShoulder, TrailHip, 0.14, TRUNK),
        (TrailShoulder, LeadHip, 0.14, TRUNK),
        (LeadShoulder, TrailShoulder, 0.11, TRUNK),
        (LeadShoulder, LeadElbow, 0.09, LEAD),
        (LeadElbow, LeadWrist, 0.07, LEAD),
        (TrailShoulder, TrailElbow, 0.09, TRAIL),
        (TrailElbow, TrailWrist, 0.07, TRAIL),
        (Nose, Nose, 0.22, TRUNK),
        (LeadWrist, TrailWrist, 0.09, TRUNK),
    ]
};

/// Draws both films into a folder, face-on first.
pub fn draw(
    around: &Surroundings,
    captured: &CapturedBody,
    folder: &Path,
    cancel: &Cancel,
) -> Result<[PathBuf; 2]> {
    let poses = poses(captured);
    let format = FilmFormat {
        width: PICTURE_PX[0] as usize,
        height: PICTURE_PX[1] as usize,
        rate_hz: film_rate_hz(captured),
        pictures: poses.len(),
        small_width: 160,
    };
    let mut files = [View::FaceOn, View::DownTheLine].map(|view| (view, PathBuf::new()));
    for (view, file) in &mut files {
        *file = folder.join(file_name(*view));
        let small = folder.join("small.mp4");
        let voice = Voice::default();
        let mut film = Film::start(&around.tools, format, &voice, file, &small, cancel)?;
        for pose in &poses {
            film.show(&picture(pose, &camera(*view), captured.hand))?;
        }
        film.finish()?;
    }
    Ok(files.map(|(_, file)| file))
}

/// One picture, row-major, 4 bytes a pixel.
fn picture(pose: &Pose, camera: &Camera, hand: Hand) -> Vec<u8> {
    let place = |point: Point| {
        let at = camera.project(pose.at(point));
        match hand {
            Hand::Right => [at.x, at.y],
            Hand::Left => [f64::from(PICTURE_PX[0]) - at.x, at.y],
        }
    };
    let far = |point: Point| camera.to_camera(pose.at(point)).z;
    let mut limbs: Vec<(f64, Limb)> = LIMBS
        .iter()
        .map(|(from, to, thick_m, colour)| {
            let limb = Limb {
                ends: [place(*from), place(*to)],
                thick_px: thick_m * PX_PER_M,
                colour: *colour,
            };
            (far(*from) + far(*to), limb)
        })
        .collect();
    limbs.sort_by(|a, b| b.0.total_cmp(&a.0));
    let limbs: Vec<Limb> = limbs.into_iter().map(|(_, limb)| limb).collect();
    figure(PICTURE_PX, GROUND_PX, &limbs)
}
