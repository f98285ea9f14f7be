//! From an analysis to what the bench draws.

use crate::pictures::club_at;
use crate::road::Travelled;
use lessonwright_analysis::club::ClubWay;
use lessonwright_analysis::{CleanTrack, Origin, SwingBody};
use lessonwright_body::{Point, Pose};
use lessonwright_model::body::JOINT_CENTRES;
use lessonwright_model::tracks::TRACKS_VERSION;
use lessonwright_model::{BodyTracks, ClubPlace, Joint, PixelPoint, SwingTracks, ViewTracks};

/// Where everything is in every frame.
pub fn tracks_of(travelled: &Travelled) -> SwingTracks {
    let mut order: Vec<usize> = (0..travelled.measured.views.len()).collect();
    order.sort_by_key(|clip| travelled.measured.views[*clip].view);
    let bodies = travelled.measured.bodies.iter();
    SwingTracks {
        version: TRACKS_VERSION,
        views: order.iter().map(|clip| view(travelled, *clip)).collect(),
        bodies: bodies
            .filter_map(|fitted| {
                let clip = order.iter().position(|clip| *clip == fitted.clip)?;
                Some(body(travelled, fitted, clip))
            })
            .collect(),
    }
}

fn view(travelled: &Travelled, clip: usize) -> ViewTracks {
    let measured = &travelled.measured;
    let (report, track) = (&measured.views[clip], &measured.tracks[clip]);
    let scale = measured.scales[clip].as_ref();
    ViewTracks {
        view: report.view,
        hand: report.hand,
        width_px: report.width_px,
        height_px: report.height_px,
        real_per_file: report.rate_hz / report.capture_rate_hz,
        span_px: track.span_px,
        px_per_m: scale.map(|scale| [scale.px_per_m, scale.rel_sd]),
        frames: track.frames.clone(),
        times_s: track.times_s.clone(),
        joints: each_joint(|joint| {
            (0..track.frames.len())
                .map(|at| place(track, joint, at))
                .collect()
        }),
        origins: each_joint(|joint| {
            (0..track.frames.len())
                .map(|at| origin(track, joint, at))
                .collect()
        }),
        club: track
            .frames
            .iter()
            .map(|frame| club(&measured.clubs[clip], *frame))
            .collect(),
        ball: report.ball,
        moments: measured
            .moments
            .iter()
            .filter(|moment| moment.view == report.view)
            .cloned()
            .collect(),
    }
}

fn each_joint<T>(of: impl Fn(Joint) -> T) -> std::collections::BTreeMap<Joint, T> {
    JOINT_CENTRES
        .iter()
        .map(|joint| (*joint, of(*joint)))
        .collect()
}

fn place(track: &CleanTrack, joint: Joint, at: usize) -> Option<[f64; 2]> {
    track.at(joint, at).map(|point| tenths(point.at))
}

fn origin(track: &CleanTrack, joint: Joint, at: usize) -> char {
    match track.at(joint, at).map(|point| point.origin) {
        Some(Origin::Seen) => 's',
        Some(Origin::Bridged) => 'b',
        Some(Origin::ByHand) => 'h',
        None => '-',
    }
}

fn club(way: &ClubWay, frame: usize) -> Option<ClubPlace> {
    let [grip, end] = club_at(way, frame)?;
    let seen = way.iter().find(|shaft| shaft.frame == frame);
    Some(ClubPlace {
        grip: tenths(grip),
        end: tenths(end),
        head: seen.is_some_and(|shaft| shaft.head.is_some()),
    })
}

fn body(travelled: &Travelled, fitted: &SwingBody, clip: usize) -> BodyTracks {
    let measured = &travelled.measured;
    let report = &measured.views[fitted.clip];
    let real_per_file = report.rate_hz / report.capture_rate_hz;
    let times_s = measured.tracks[fitted.clip].times_s.iter();
    BodyTracks {
        clip,
        from_both_views: fitted.cameras.len() > 1,
        size_rel_sd: fitted.size_rel_sd,
        points: Point::ALL
            .iter()
            .map(|point| point.key().to_owned())
            .collect(),
        poses: times_s
            .map(|file_s| fitted.motion.pose_at(file_s * real_per_file))
            .map(|pose| pose.as_ref().map(millimetres))
            .collect(),
    }
}

fn millimetres(pose: &Pose) -> Vec<[f64; 3]> {
    let rounded = |m: f64| (m * 1e3).round() / 1e3;
    pose.0
        .iter()
        .map(|point| point.to_array().map(rounded))
        .collect()
}

fn tenths(at: PixelPoint) -> [f64; 2] {
    [at.x, at.y].map(|px| (px * 10.0).round() / 10.0)
}
