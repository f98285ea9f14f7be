//! Where the fit starts: cameras from the player's height in the picture, points from crossing
//! rays (two views) or from a usual depth (one).

use crate::camera::{Camera, View};
use crate::input::{FitError, ViewTrack};
use crate::lengths::{BELIEFS, LENGTHS};
use crate::points::{POINTS, Point, Pose};
use crate::residuals::{Problem, aim};
use crate::state::State;
use crate::track;
use glam::{DVec2, DVec3};

/// Nose to mid-ankle, up and down, of a golfer at address, as a share of the stature (feasibility
/// note; standing it would be about 0.89).
const NOSE_TO_ANKLE: f64 = 0.80;
/// Where a phone usually stands, m from the player and over the ground (common practice, no
/// source): only a start.
const USUAL_DISTANCE_M: f64 = 4.2;
const USUAL_HEIGHT_M: f64 = 1.1;
/// Ankle over the ground with shoes on, as a share of the stature (by eye; 0.039 barefoot).
const ANKLE_HEIGHT: f64 = 0.05;

/// A usual pose at address for a stature of 1 (by eye): gives the depth that one view does not see.
const USUAL: [[f64; 3]; POINTS] = [
    [0.05, 0.52, -0.07],
    [-0.05, 0.52, -0.07],
    [0.09, 0.76, 0.10],
    [-0.11, 0.75, 0.11],
    [0.08, 0.60, 0.17],
    [-0.10, 0.60, 0.17],
    [0.02, 0.47, 0.22],
    [0.00, 0.45, 0.24],
    [0.10, 0.29, 0.05],
    [-0.10, 0.29, 0.05],
    [0.12, 0.05, 0.0],
    [-0.12, 0.05, 0.0],
    [0.12, 0.02, -0.03],
    [-0.12, 0.02, -0.03],
    [0.13, 0.02, 0.10],
    [-0.12, 0.02, 0.10],
    [-0.01, 0.84, 0.22],
];

/// The camera of a view before the fit.
pub(crate) fn camera(track: &ViewTrack, stature_m: f64, number: usize) -> Result<Camera, FitError> {
    let mut noses = Vec::new();
    let mut ankles = Vec::new();
    for (pose, time_s) in track.frames.iter().zip(&track.times_s) {
        if *time_s < track.address_s - 1e-6 || *time_s > track.takeaway_s + 1e-6 {
            continue;
        }
        let get = |p: Point| pose[p as usize].map(|s| s.pixel);
        if let (Some(nose), Some(a), Some(b)) = (
            get(Point::Nose),
            get(Point::LeadAnkle),
            get(Point::TrailAnkle),
        ) {
            noses.push(nose);
            ankles.push(0.5 * (a + b));
        }
    }
    let (nose, ankle) = median(&noses)
        .zip(median(&ankles))
        .ok_or(FitError::NothingSeen(number))?;
    let height_px = ankle.y - nose.y;
    // The player is never smaller in a picture that landmarks can be had from.
    if height_px < 20.0 {
        return Err(FitError::NothingSeen(number));
    }
    let height_m = NOSE_TO_ANKLE * stature_m;
    let (focal_px, distance_m) = match (track.focal_px, track.distance_m) {
        (Some(focal), _) => (focal, focal * height_m / height_px),
        (None, told) => {
            let distance = told.unwrap_or(USUAL_DISTANCE_M);
            (distance * height_px / height_m, distance)
        }
    };
    let middle_px = DVec2::from(track.size_px) * 0.5;
    let level = aim(track.view) + track.view.toward_camera(track.bearing_rad) * distance_m;
    let position = level + DVec3::Y * USUAL_HEIGHT_M;
    let fall = ANKLE_HEIGHT * stature_m - USUAL_HEIGHT_M;
    let off = ankle - middle_px;
    Ok(Camera {
        view: track.view,
        position,
        // what is right of the middle has the axis to its left
        yaw_rad: track.view.bearing_rad(position, DVec3::ZERO) + (off.x / focal_px).atan(),
        pitch_rad: (fall / distance_m).atan() + (off.y / focal_px).atan(),
        roll_rad: 0.0,
        focal_px,
        middle_px,
    })
}

fn median(points: &[DVec2]) -> Option<DVec2> {
    let middle = |axis: usize| {
        let mut values: Vec<f64> = points.iter().map(|p| p[axis]).collect();
        values.sort_by(f64::total_cmp);
        values.get(values.len() / 2).copied()
    };
    Some(DVec2::new(middle(0)?, middle(1)?))
}

/// All unknowns before the fit.
pub(crate) fn state(problem: &Problem<'_>, cameras: Vec<Camera>) -> State {
    let frames = problem.times_s.len();
    let mut places = vec![[None; POINTS]; frames];
    for (frame, time_s) in problem.times_s.iter().enumerate() {
        for point in 0..POINTS {
            let rays: Vec<(usize, DVec3)> = cameras
                .iter()
                .enumerate()
                .filter_map(|(view, camera)| {
                    let time = time_s + problem.aligned_s[view];
                    let seen = track::at(&problem.views[view], point, time)?.seen;
                    Some((view, camera.ray(seen.pixel)))
                })
                .collect();
            places[frame][point] = match rays[..] {
                [(_, a), (_, b)] => Some(between(cameras[0].position, a, cameras[1].position, b)),
                [(view, ray)] => Some(at_usual_depth(
                    &cameras[view],
                    ray,
                    DVec3::from(USUAL[point]) * problem.stature_m,
                )),
                _ => None,
            };
        }
    }
    let mut poses = vec![Pose([DVec3::ZERO; POINTS]); frames];
    for point in 0..POINTS {
        let seen: Vec<(usize, DVec3)> = (0..frames)
            .filter_map(|f| Some((f, places[f][point]?)))
            .collect();
        for (frame, pose) in poses.iter_mut().enumerate() {
            pose.0[point] = filled(&seen, frame)
                .unwrap_or_else(|| DVec3::from(USUAL[point]) * problem.stature_m);
        }
    }
    let mut log_lengths = [0.0; LENGTHS];
    for (log, belief) in log_lengths.iter_mut().zip(&BELIEFS) {
        *log = (belief.share * problem.stature_m).ln();
    }
    State {
        poses,
        log_lengths,
        cameras,
        offset_s: 0.0,
    }
}

/// The middle of the shortest line between two rays.
fn between(p: DVec3, a: DVec3, q: DVec3, b: DVec3) -> DVec3 {
    let (a, b) = (a.normalize(), b.normalize());
    let (across, gap) = (a.dot(b), q - p);
    let square = 1.0 - across * across;
    let s = (gap.dot(a) - across * gap.dot(b)) / square;
    let t = (across * gap.dot(a) - gap.dot(b)) / square;
    0.5 * (p + a * s + q + b * t)
}

/// Where a ray is as deep in the world as a usual pose has the point.
fn at_usual_depth(camera: &Camera, ray: DVec3, usual: DVec3) -> DVec3 {
    let axis = match camera.view {
        View::FaceOn => 2,
        View::DownTheLine => 0,
    };
    camera.position + ray * ((usual[axis] - camera.position[axis]) / ray[axis])
}

/// A point's place in a frame from the frames around that show it.
fn filled(seen: &[(usize, DVec3)], frame: usize) -> Option<DVec3> {
    let after = seen.partition_point(|(f, _)| *f < frame);
    match (after.checked_sub(1).map(|i| seen[i]), seen.get(after)) {
        (_, Some((f, at))) if *f == frame => Some(*at),
        (Some((f, a)), Some((g, b))) => Some(a.lerp(*b, (frame - f) as f64 / (*g - f) as f64)),
        (Some((_, at)), None) | (None, Some(&(_, at))) => Some(at),
        (None, None) => None,
    }
}
