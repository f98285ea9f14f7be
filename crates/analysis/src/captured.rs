//! A body that another system captured, on the same road as a fitted one.
//!
//! It is looked at by two far cameras that stand square, face-on and down the line: moments are found in these views as in any
//! clip's. Far off there is no perspective, so "level" and "lowest" in the picture are so in the world. Nothing is
//! fitted: the body of the measures is the captured one.

use crate::body_fit::SwingBody;
use crate::calibration::{BodySpread, Calibration, Seen};
use crate::combine::{Together, combine};
use crate::error::AnalysisError;
use crate::view::SwingView;
use crate::{ClipObservation, Measured, Settings, Way, measures, read};
use glam::{DVec2, DVec3};
use lessonwright_body::{self as body, Camera, Motion, POINTS, Point, Pose};
use lessonwright_model::body::LANDMARKS;
use lessonwright_model::{
    BodyFrame, BodyPart, CapturedBody, ClipFacts, Hand, Joint, Landmark, LandmarkTrack, Landmarks,
    PixelPoint, PlayerFacts, Side, View,
};

/// The pictures in which a captured body is seen, px, and how large: two metres by two and a half hold any swing.
pub const PICTURE_PX: [u32; 2] = [800, 1000];
/// Pixels in a metre at the player.
pub const PX_PER_M: f64 = 400.0;
/// The row of the ground at the player.
pub const GROUND_PX: f64 = 0.5 * PICTURE_PX[1] as f64 + HEIGHT_M * PX_PER_M;
/// Far enough that what is half a metre nearer looks 1 % larger.
const DISTANCE_M: f64 = 50.0;
/// Height of the picture's middle over the ground, and the body's middle before the ankles, m.
const HEIGHT_M: f64 = 1.1;
const BEFORE_ANKLES_M: f64 = 0.3;
/// Both ends of a line across the body are about this far apart, m: between the hips' 0.19 and the shoulders' 0.35.
const ACROSS_M: f64 = 0.26;
/// Between the ankles at address, m.
const STANCE_M: f64 = 0.45;

/// The camera that shows a captured body. A left-hander's picture is mirrored afterwards.
pub fn camera(view: View) -> Camera {
    let (view, position) = match view {
        View::FaceOn => (body::View::FaceOn, DVec3::new(0.0, HEIGHT_M, DISTANCE_M)),
        View::DownTheLine => (
            body::View::DownTheLine,
            DVec3::new(-DISTANCE_M, HEIGHT_M, BEFORE_ANKLES_M),
        ),
    };
    Camera {
        view,
        position,
        yaw_rad: 0.0,
        pitch_rad: 0.0,
        roll_rad: 0.0,
        focal_px: PX_PER_M * DISTANCE_M,
        middle_px: DVec2::new(f64::from(PICTURE_PX[0]), f64::from(PICTURE_PX[1])) * 0.5,
    }
}

/// The points of each instant, m.
pub fn poses(captured: &CapturedBody) -> Vec<Pose> {
    let pose = |points: &Vec<[f64; 3]>| {
        Pose(std::array::from_fn(|point| {
            let at = points.get(point).copied().unwrap_or([f64::NAN; 3]);
            DVec3::from(at) * 0.001
        }))
    };
    captured.poses_mm.iter().map(pose).collect()
}

/// Measures a captured swing. `clips` are its two films, face-on and down the line, one frame an instant.
///
/// # Errors
/// When the motion cannot be read as one swing; see [`AnalysisError`].
pub fn analyse_captured(
    captured: &CapturedBody,
    clips: [ClipFacts; 2],
    player: &PlayerFacts,
    settings: &Settings,
) -> Result<Measured, AnalysisError> {
    let poses = poses(captured);
    let views = [View::FaceOn, View::DownTheLine];
    let clips: Vec<ClipObservation> = clips
        .into_iter()
        .zip(views)
        .map(|(facts, view)| seen(&poses, captured.hand, facts, view))
        .collect();
    let player = PlayerFacts {
        stature_m: player.stature_m.or(Some(captured.stature_m)),
        ..player.clone()
    };
    let settings = Settings {
        calibration: Some(calibration(captured.point_sd_m)),
        checks: Way::Body,
        ..settings.clone()
    };
    let mut views = read(&clips, &player, &settings)?;
    combine(&mut views)?;
    for view in &mut views {
        view.warn_of_missing_moments();
        view.report.warnings.splice(..0, said(captured));
    }
    let body = swing_body(captured, poses, &views, &player);
    let bodies = [(Seen::Both, body)];
    let measures = measures::all(&views, Together::OneMotion, &bodies, settings.checks);
    let [(_, body)] = bodies;
    Ok(Measured {
        moments: views.iter().flat_map(SwingView::moments).collect(),
        measures,
        scales: views.iter().map(|v| v.scale.clone().ok()).collect(),
        bodies: body.into_iter().collect(),
        tracks: views.iter().map(|v| v.track.clone()).collect(),
        clubs: views.iter().map(|v| v.club.clone()).collect(),
        views: views.into_iter().map(|v| v.report).collect(),
    })
}

/// Within which each point is taken to be right along each axis, 95 of 100 times, mm.
pub fn within_mm(captured: &CapturedBody) -> f64 {
    1000.0 * 1.96 * captured.point_sd_m
}

/// What every page says of such a swing.
fn said(captured: &CapturedBody) -> Vec<String> {
    let sd = match captured.point_sd_stated {
        true => "as stated",
        false => "common practice, no source",
    };
    let drawn = format!(
        "no film: drawn from the motion capture {}; its points are taken to be right within {:.0} mm ({sd})",
        captured.file,
        within_mm(captured)
    );
    let hands = "impact is timed from the hands, and there is no club: a capture of the body has neither sound nor ball";
    let mut all = vec![drawn, hands.to_owned()];
    all.extend(captured.notes.iter().cloned());
    all
}

/// The body in one view.
fn seen(poses: &[Pose], hand: Hand, facts: ClipFacts, view: View) -> ClipObservation {
    let camera = camera(view);
    let frames = poses.iter().zip(&facts.frame_times_s).enumerate();
    let frames = frames.map(|(frame, (pose, time_s))| BodyFrame {
        frame,
        time_s: *time_s,
        body: Some(landmarks(pose, &camera, hand)),
    });
    ClipObservation {
        track: LandmarkTrack {
            width_px: PICTURE_PX[0],
            height_px: PICTURE_PX[1],
            frames: frames.collect(),
        },
        facts,
        centres: None,
        club: None,
        strikes: Vec::new(),
        view: Some(view),
        hand: Some(hand),
    }
}

fn landmarks(pose: &Pose, camera: &Camera, hand: Hand) -> Landmarks {
    let mut points = vec![Landmark::default(); LANDMARKS];
    for point in Point::ALL {
        let at = camera.project(pose.at(point));
        let x = match hand {
            Hand::Right => at.x,
            Hand::Left => f64::from(PICTURE_PX[0]) - at.x,
        };
        points[joint(point, hand) as usize] = Landmark {
            at: PixelPoint { x, y: at.y },
            depth_px: 0.0,
            visibility: 1.0,
            spread: None,
        };
    }
    Landmarks {
        presence: 1.0,
        points,
        joint_centres: Vec::new(),
    }
}

fn joint(point: Point, hand: Hand) -> Joint {
    use BodyPart::{Ankle, Elbow, Heel, Hip, Knee, Shoulder, Toe, Wrist};
    const PARTS: [BodyPart; 8] = [Hip, Shoulder, Elbow, Wrist, Knee, Ankle, Heel, Toe];
    let number = point as usize;
    match PARTS.get(number / 2) {
        None => Joint::Nose,
        Some(part) if number.is_multiple_of(2) => Joint::of(*part, Side::Lead, hand),
        Some(part) => Joint::of(*part, Side::Trail, hand),
    }
}

fn swing_body(
    captured: &CapturedBody,
    poses: Vec<Pose>,
    views: &[SwingView],
    player: &PlayerFacts,
) -> Result<SwingBody, String> {
    debug_assert_eq!(POINTS, lessonwright_model::CAPTURED_POINTS.len());
    let face_on = &views[0];
    let rest_s = face_on
        .rest_s()
        .ok_or("no rest before the takeaway is captured: the body can't be placed")?;
    let times_s = (0..poses.len()).map(|i| i as f64 / captured.rate_hz);
    let motion = Motion {
        times_s: times_s.collect(),
        poses,
    };
    // A skeleton of another size than the player says how far its lengths may be off.
    let other_size = player
        .stature_m
        .map_or(0.0, |stated| (captured.stature_m / stated).ln().abs());
    Ok(SwingBody {
        seen: Seen::Both,
        clip: 0,
        address: motion.mean_over(rest_s.0, rest_s.1),
        motion,
        cameras: [View::FaceOn, View::DownTheLine].map(camera).to_vec(),
        size_rel_sd: other_size,
        stature_assumed: false,
    })
}

/// Errors of measures whose points are each off by so much along each axis.
fn calibration(point_sd_m: f64) -> Calibration {
    let mut calibration = Calibration::exact();
    // A change since address has the error of two instants, of which the slow half is the same in both; a line's turn
    // that of its two ends.
    calibration.otherwise.body = Some(BodySpread {
        cm: 100.0 * point_sd_m,
        deg: (std::f64::consts::SQRT_2 * point_sd_m / ACROSS_M).to_degrees(),
        s: 0.008,
        percent: 100.0 * point_sd_m / STANCE_M,
    });
    calibration
}
