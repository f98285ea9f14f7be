//! A pose between two poses.

use crate::pose::{ClubPose, Hold, Pose};
use glam::{DMat3, DQuat, DVec3};

/// Share 0 gives the first pose, 1 the second. A foot that moves is lifted on its way.
pub(super) fn between(a: &Pose, b: &Pose, share: f64) -> Pose {
    let point = |a: DVec3, b: DVec3| a.lerp(b, share);
    let points = |a: [DVec3; 2], b: [DVec3; 2]| [point(a[0], b[0]), point(a[1], b[1])];
    let axis = |a: DVec3, b: DVec3| a.lerp(b, share).normalize_or(b);
    let frame = |a: DMat3, b: DMat3| {
        DMat3::from_quat(DQuat::from_mat3(&a).slerp(DQuat::from_mat3(&b), share))
    };
    let hold = |i: usize| Hold {
        along: axis(a.hold[i].along, b.hold[i].along),
        back: axis(a.hold[i].back, b.hold[i].back),
    };
    let lift = |i: usize| {
        const LIFT: f64 = 0.35;
        let way = (b.ankle[i] - a.ankle[i]).with_y(0.0).length();
        DVec3::Y * (LIFT * way * (std::f64::consts::PI * share).sin())
    };
    Pose {
        pelvis: point(a.pelvis, b.pelvis),
        pelvis_frame: frame(a.pelvis_frame, b.pelvis_frame),
        lumbar: point(a.lumbar, b.lumbar),
        waist: point(a.waist, b.waist),
        waist_frame: frame(a.waist_frame, b.waist_frame),
        neck: point(a.neck, b.neck),
        chest_frame: frame(a.chest_frame, b.chest_frame),
        head: point(a.head, b.head),
        head_frame: frame(a.head_frame, b.head_frame),
        shoulder: points(a.shoulder, b.shoulder),
        elbow: points(a.elbow, b.elbow),
        wrist: points(a.wrist, b.wrist),
        grip: points(a.grip, b.grip),
        hip: points(a.hip, b.hip),
        knee: [0, 1].map(|i| point(a.knee[i], b.knee[i]) + 0.5 * lift(i)),
        ankle: [0, 1].map(|i| point(a.ankle[i], b.ankle[i]) + lift(i)),
        foot_frame: [0, 1].map(|i| frame(a.foot_frame[i], b.foot_frame[i])),
        hold: [0, 1].map(hold),
        club: club(&a.club, &b.club, share),
    }
}

/// The club turned from one place to the other about the upper end of its grip.
fn club(a: &ClubPose, b: &ClubPose, share: f64) -> ClubPose {
    let axes = |c: &ClubPose| {
        let side = c.shaft.cross(c.face).normalize();
        DMat3::from_cols(c.shaft, c.face, side)
    };
    let (from, to) = (axes(a), axes(b));
    let turned = DMat3::from_quat(DQuat::from_mat3(&from).slerp(DQuat::from_mat3(&to), share));
    let butt = a.butt.lerp(b.butt, share);
    // What is fixed to the club, in its own axes.
    let carry = |v: DVec3| turned * (from.transpose() * v);
    ClubPose {
        butt,
        hosel: butt + carry(a.hosel - a.butt),
        shaft: carry(a.shaft),
        face: carry(a.face),
        toe: carry(a.toe),
        head: butt + carry(a.head - a.butt),
        sweet_spot: butt + carry(a.sweet_spot - a.butt),
    }
}
