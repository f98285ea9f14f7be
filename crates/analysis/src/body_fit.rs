//! The views of a swing handed to `body`: one moving body in the world for one motion.
//!
//! What is handed over are the joint centres that cleaning has kept, with the spreads that their source states,
//! mirrored for a left-hander, in real seconds, from the rest at address to the finish. A body alone
//! cannot tell where the target is: both cameras are taken to stand about square.

use crate::calibration::Seen;
use crate::clean::Origin;
use crate::combine::Together;
use crate::moments::Moments;
use crate::scale::stature;
use crate::view::SwingView;
use glam::DVec2;
use lessonwright_body as body;
use lessonwright_body::{Camera, Motion, Options, POINTS, Point, Pose, SeenPose, ViewTrack};
use lessonwright_model::{BodyPart, Joint, MomentName, PlayerFacts, Side, View};

/// Film before address and after the finish that is fitted too, s: the ends of a fit are loose.
const BEFORE_S: f64 = 0.05;
const AFTER_S: f64 = 0.10;
/// Without a finish, the fit goes on this long after impact, s.
const FOLLOW_THROUGH_S: f64 = 0.35;
/// Both cameras are set up square by eye, neither better than the other.
const BEARING_SD_RAD: f64 = 0.087;
/// A rest that is only known by its end lasts at least this long, s.
const REST_S: f64 = 0.10;
/// Multiplies the spreads of joint centres. Their errors hang together over many frames, which makes
/// their count too strong; `body` allows for that where it weighs what it knows of player and camera.
const TIMES_SPREAD: f64 = 1.0;
/// No joint is known better than this, m.
const LEAST_SD_M: f64 = 0.004;
/// Fast joints, blurred in the picture, jump from frame to frame more than the fit smooths. For the others
/// the filter's cut-off flattens the turn at the top (25 tuning swings: 90 % of shifts from the top within
/// 0.8 cm raw, 1.0 filtered; hands' heights within 2.6 cm raw, 2.4 filtered, half of them within 1.6 and 0.7).
const SMOOTHED: [Point; 4] = [
    Point::LeadElbow,
    Point::TrailElbow,
    Point::LeadWrist,
    Point::TrailWrist,
];
/// Deviations where the source states none, m, in the order of [`Point`]: those of landmarks
/// (feasibility note), of which exact points have their share too.
const UNSTATED_SD_M: [f64; POINTS] = [
    0.015, 0.015, 0.018, 0.018, 0.02, 0.02, 0.02, 0.02, 0.01, 0.01, 0.008, 0.008, 0.01, 0.01,
    0.012, 0.012, 0.012,
];

/// The body of a swing.
#[derive(Clone, Debug, PartialEq)]
pub struct SwingBody {
    /// From which views.
    pub seen: Seen,
    /// Which clip's clock it is on, from 0.
    pub clip: usize,
    /// The moving body; real seconds from that clip's first frame. World axes: x toward the target, y
    /// up, z toward the ball; m; the origin on the ground midway between the ankles at address.
    pub motion: Motion,
    /// The cameras, face-on first. A left-hander's picture is mirrored.
    pub cameras: Vec<Camera>,
    /// The body at address: the mean over the rest.
    pub address: Pose,
    /// What the fit's size rests on: relative standard deviation of the stature.
    pub size_rel_sd: f64,
    /// True if the stature was not given but assumed.
    pub stature_assumed: bool,
}

/// One body from both views of one motion; else one from each clip. A fit that fails says why.
pub fn fit_all(
    views: &[SwingView],
    together: Together,
    player: &PlayerFacts,
    camera_distance_m: Option<f64>,
) -> Vec<(Seen, Result<SwingBody, String>)> {
    let mut order: Vec<usize> = (0..views.len()).collect();
    order.sort_by_key(|i| views[*i].view);
    let groups: Vec<Vec<usize>> = match together {
        Together::OneMotion => vec![order],
        Together::Single | Together::Apart => order.into_iter().map(|i| vec![i]).collect(),
    };
    groups
        .into_iter()
        .map(|clips| {
            let seen = match clips[..] {
                [only] if views[only].view == View::FaceOn => Seen::FaceOn,
                [_] => Seen::DownTheLine,
                _ => Seen::Both,
            };
            let fitted = fit(views, &clips, seen, player, camera_distance_m);
            (seen, fitted)
        })
        .collect()
}

fn fit(
    views: &[SwingView],
    clips: &[usize],
    seen: Seen,
    player: &PlayerFacts,
    camera_distance_m: Option<f64>,
) -> Result<SwingBody, String> {
    let (stature_m, stature_sd_m, stature_assumed) = stature(player)?;
    let tracks = clips
        .iter()
        .map(|clip| track(&views[*clip], stature_m, camera_distance_m))
        .collect::<Result<Vec<_>, _>>()?;
    let fitted = body::fit(&tracks, &Options::of_stature(stature_m))
        .map_err(|error| format!("no body could be fitted: {error}"))?;
    Ok(SwingBody {
        seen,
        clip: clips[0],
        address: fitted
            .motion
            .mean_over(tracks[0].address_s, tracks[0].takeaway_s),
        motion: fitted.motion,
        cameras: fitted.cameras,
        size_rel_sd: stature_sd_m / stature_m,
        stature_assumed,
    })
}

/// One view as the fit takes it.
fn track(
    view: &SwingView,
    stature_m: f64,
    camera_distance_m: Option<f64>,
) -> Result<ViewTrack, String> {
    let at = |name| moment_s(&view.moments, name);
    // A clip that shows no rest of its own may have its address from the other view.
    let rest_s = view
        .rest_s()
        .or(at(MomentName::Address).map(|t| (t - REST_S, t)))
        .ok_or("no rest before the takeaway is seen: the body can't be placed")?;
    let impact_s = at(MomentName::Impact).ok_or("impact was not found")?;
    let from_s = rest_s.0 - BEFORE_S;
    let to_s = at(MomentName::Finish).map_or(impact_s + FOLLOW_THROUGH_S, |t| t + AFTER_S);
    let joints = Point::ALL.map(|point| joint(point, view));
    let (times_s, frames) = view
        .times_s()
        .into_iter()
        .enumerate()
        .filter(|(_, t)| (from_s..=to_s).contains(t))
        .map(|(frame, t)| (t, seen_pose(view, &joints, frame, stature_m)))
        .unzip();
    Ok(ViewTrack {
        view: match view.view {
            View::FaceOn => body::View::FaceOn,
            View::DownTheLine => body::View::DownTheLine,
        },
        size_px: [view.report.width_px, view.report.height_px].map(f64::from),
        times_s,
        frames,
        address_s: rest_s.0,
        takeaway_s: rest_s.1,
        impact_s,
        distance_m: camera_distance_m,
        focal_px: None,
        bearing_rad: 0.0,
        bearing_sd_rad: BEARING_SD_RAD,
    })
}

fn moment_s(moments: &Moments, name: MomentName) -> Option<f64> {
    moments.get(&name).map(|timed| timed.time_s)
}

/// What one frame shows, as a right-hander's picture.
fn seen_pose(view: &SwingView, joints: &[Joint; POINTS], frame: usize, stature_m: f64) -> SeenPose {
    // nose to ankles at address is 0.80 of the stature
    let px_per_m = view.track.span_px / (0.80 * stature_m);
    std::array::from_fn(|point| {
        let joint = joints[point];
        let cleaned = view.track.at(joint, frame)?;
        // Where the fit has nothing it bridges by what it knows of bodies.
        let raw = view.track.raw[joint as usize][frame];
        let seen = raw.filter(|_| cleaned.origin != Origin::Bridged)?;
        let seen = if SMOOTHED.contains(&Point::ALL[point]) {
            cleaned.at
        } else {
            seen
        };
        let stated = cleaned.spread_px.map(|px| TIMES_SPREAD * px);
        let sd_px = stated
            .unwrap_or(UNSTATED_SD_M[point] * px_per_m)
            .max(LEAST_SD_M * px_per_m)
            .hypot(cleaned.sigma_px);
        Some(body::Seen {
            pixel: DVec2::new(view.as_right_handed(seen.x), seen.y),
            sd_px,
            depth: None,
        })
    })
}

fn joint(point: Point, view: &SwingView) -> Joint {
    let of = |part, side| Joint::of(part, side, view.hand);
    match point {
        Point::LeadHip => of(BodyPart::Hip, Side::Lead),
        Point::TrailHip => of(BodyPart::Hip, Side::Trail),
        Point::LeadShoulder => of(BodyPart::Shoulder, Side::Lead),
        Point::TrailShoulder => of(BodyPart::Shoulder, Side::Trail),
        Point::LeadElbow => of(BodyPart::Elbow, Side::Lead),
        Point::TrailElbow => of(BodyPart::Elbow, Side::Trail),
        Point::LeadWrist => of(BodyPart::Wrist, Side::Lead),
        Point::TrailWrist => of(BodyPart::Wrist, Side::Trail),
        Point::LeadKnee => of(BodyPart::Knee, Side::Lead),
        Point::TrailKnee => of(BodyPart::Knee, Side::Trail),
        Point::LeadAnkle => of(BodyPart::Ankle, Side::Lead),
        Point::TrailAnkle => of(BodyPart::Ankle, Side::Trail),
        Point::LeadHeel => of(BodyPart::Heel, Side::Lead),
        Point::TrailHeel => of(BodyPart::Heel, Side::Trail),
        Point::LeadToe => of(BodyPart::Toe, Side::Lead),
        Point::TrailToe => of(BodyPart::Toe, Side::Trail),
        Point::Nose => Joint::Nose,
    }
}
