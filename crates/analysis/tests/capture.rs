//! The open capture of a golf swing, seen by a virtual camera, against its published figures.

mod common;

use common::*;
use lessonwright_analysis::{Measured, Settings, Way, analyse};
use lessonwright_model::*;

const END_S: f64 = 401.0 / 120.0;

fn seen(capture: &Capture, views: &[View], rate_hz: f64) -> Measured {
    let clips: Vec<_> = views
        .iter()
        .map(|&view| {
            let film = Film {
                rate_hz,
                ..Film::of(view, 0.0, END_S)
            };
            film.shoot(&|t| capture.pose(t))
        })
        .collect();
    analyse(&clips, &player(capture.stature_m()), &exact()).expect("a readable swing")
}

#[test]
fn moments_of_the_capture_fall_where_its_events_file_has_them() {
    let Some(capture) = Capture::load() else {
        return;
    };
    // Frames at 120/s from cmu_golf_swing_events.json. Tolerances, frames: the file gives whole
    // frames; address by a threshold of its own (±3); the top by reversal (the hands
    // nearly stand still for eight frames, so definitions in space and in the picture differ by
    // 2–4); level arm seen with perspective against space (±3); impact is a proxy between hands
    // nearest address (280) and hands lowest (284), ±4 as stated there. The file's finish, 362, is the rest
    // of the hands; the shoulders arrive earlier, by our definition applied to its joints. They do so
    // slowly, and each view misses one direction of it: ±6.
    let arrive_s = shoulders_arrive(&|t| capture.pose(t), capture.stature_m(), 362.0 / 120.0);
    let expected = [
        (MomentName::Address, 89.0, 4.0),
        (MomentName::LeadArmLevelBack, 151.0, 3.0),
        (MomentName::Top, 210.0, 3.0),
        (MomentName::LeadArmLevelDown, 263.0, 3.0),
        (MomentName::Impact, 282.0, 4.0),
        (MomentName::Finish, 120.0 * arrive_s, 6.0),
    ];
    let mut wrong = Vec::new();
    for views in [&[View::FaceOn][..], &[View::FaceOn, View::DownTheLine]] {
        for rate_hz in [30.0, 60.0, 120.0, 240.0] {
            let measured = seen(&capture, views, rate_hz);
            for (name, frame, tolerance) in expected {
                let at = time_of(&measured.moments, View::FaceOn, name).map(|t| t * 120.0);
                println!("{views:?} {rate_hz}/s {name:?}: {at:.1?} against {frame}");
                // Half a frame of the film more: 2 frames of 120/s at 30/s.
                let allowed = tolerance + 0.5 * 120.0 / rate_hz - 0.5;
                if at.is_none_or(|at| (at - frame).abs() > allowed) {
                    wrong.push(format!(
                        "{views:?} {rate_hz}/s {name:?} at {at:?}, not {frame}"
                    ));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn pelvis_shift_of_the_capture_is_the_published_one() {
    let Some(capture) = Capture::load() else {
        return;
    };
    // cm along the target line, zero at address (data README): top −17.8, lead arm level −4.2,
    // impact +4.5 to +6.1. Tolerances: 3 % scale (0.5 cm at the top), perspective of a pelvis that
    // moves 5 cm in depth 0.2 m off the axis (0.3 cm), and the moment's timing times the pelvis's
    // speed (lead arm level: 30 cm/s times 2 frames of 120/s, 0.5 cm).
    let expected = [
        (MomentName::Top, MomentName::Address, -17.8, 1.0),
        (MomentName::LeadArmLevelDown, MomentName::Address, -4.2, 1.2),
        (MomentName::Impact, MomentName::Address, 5.3, 1.5),
        (MomentName::LeadArmLevelDown, MomentName::Top, 13.6, 1.5),
    ];
    for rate_hz in [30.0, 60.0, 120.0] {
        let measured = seen(&capture, &[View::FaceOn], rate_hz);
        for (moment, against, shift_cm, tolerance_cm) in expected {
            let m = measure(
                &measured.measures,
                MeasureName::PelvisShift,
                moment,
                Some(against),
            );
            let value = m
                .value
                .unwrap_or_else(|| panic!("{moment:?}: {}", m.reason));
            println!(
                "{rate_hz}/s {moment:?}: {value:.2} against {shift_cm} ({:?} {:?})",
                m.low, m.high
            );
            assert!(
                (value - shift_cm).abs() <= tolerance_cm,
                "{moment:?}: {value:.2} cm"
            );
        }
    }
}

#[test]
fn knee_turn_and_elbow_of_the_capture_agree_with_its_joints_in_space() {
    let Some(capture) = Capture::load() else {
        return;
    };
    let measured = seen(&capture, &[View::FaceOn, View::DownTheLine], 120.0);
    let at = |name| time_of(&measured.moments, View::FaceOn, name).expect("found");
    let open_deg = |t: f64| {
        let (lead, trail) = (
            capture.place(Joint::LeftKnee, t),
            capture.place(Joint::RightKnee, t),
        );
        (trail.ball - lead.ball)
            .atan2(lead.target - trail.target)
            .to_degrees()
    };
    let turn = open_deg(at(MomentName::LeadArmLevelDown)) - open_deg(at(MomentName::Address));
    let m = measure(
        &measured.measures,
        MeasureName::KneeLineTurn,
        MomentName::LeadArmLevelDown,
        Some(MomentName::Address),
    );
    println!("knee line turn {:?} against {turn:.1}", m.value);
    // Points are exact: what is left is perspective with an estimated distance (1°) and scale.
    assert!(
        (m.value.expect("measured") - turn).abs() < 2.0,
        "{m:?} against {turn}"
    );

    let t = at(MomentName::LeadArmLevelDown);
    let (shoulder, hip, elbow) = (
        capture.place(Joint::RightShoulder, t),
        capture.place(Joint::RightHip, t),
        capture.place(Joint::RightElbow, t),
    );
    let along = (elbow.up - shoulder.up) / (hip.up - shoulder.up);
    let ahead_cm = 100.0 * (elbow.ball - shoulder.ball - along * (hip.ball - shoulder.ball));
    let m = measure(
        &measured.measures,
        MeasureName::TrailElbowAhead,
        MomentName::LeadArmLevelDown,
        None,
    );
    println!("trail elbow {:?} against {ahead_cm:.1}", m.value);
    // Parallax: the elbow is up to 0.3 m nearer than the hips at 4 m (8 %, reference values F),
    // and 0.3 m beside the axis a depth of 0.1 m between joints shifts them by 0.8 cm.
    assert!(
        (m.value.expect("measured") - ahead_cm).abs() < 2.0,
        "{m:?} against {ahead_cm}"
    );
}

#[test]
fn measures_of_the_fitted_body_agree_with_the_captures_joints_in_space() {
    let Some(capture) = Capture::load() else {
        return;
    };
    let clips = [View::FaceOn, View::DownTheLine].map(|view| {
        let film = Film::of(view, 0.0, END_S);
        film.shoot(&|t| capture.pose(t))
    });
    let settings = Settings {
        checks: Way::Body,
        ..exact()
    };
    let measured = analyse(&clips, &player(capture.stature_m()), &settings).expect("a swing");
    let at = |name| time_of(&measured.moments, View::FaceOn, name).expect("found");
    let points = |joint: [Joint; 2], t: f64| joint.map(|j| capture.place(j, t));
    let middle = |joint, t| {
        let [a, b] = points(joint, t);
        [a.target + b.target, a.up + b.up, a.ball + b.ball].map(|sum| 50.0 * sum)
    };
    let open = |joint, t| {
        let [lead, trail] = points(joint, t);
        (trail.ball - lead.ball)
            .atan2(lead.target - trail.target)
            .to_degrees()
    };
    let rise = |joint, t| {
        let [lead, trail] = points(joint, t);
        let level = (lead.target - trail.target).hypot(lead.ball - trail.ball);
        (lead.up - trail.up).atan2(level).to_degrees()
    };
    let hips = [Joint::LeftHip, Joint::RightHip];
    let shoulders = [Joint::LeftShoulder, Joint::RightShoulder];
    let knees = [Joint::LeftKnee, Joint::RightKnee];
    let nose = [Joint::Nose, Joint::Nose];
    let ankles = [Joint::LeftAnkle, Joint::RightAnkle];
    // Inner angle of three points by the law of cosines.
    let bend = |[a, b, c]: [Joint; 3], t: f64| {
        let far = |p: Joint, q: Joint| {
            let (p, q) = (capture.place(p, t), capture.place(q, t));
            (p.target - q.target)
                .hypot(p.up - q.up)
                .hypot(p.ball - q.ball)
        };
        let (x, y, z) = (far(a, b), far(b, c), far(a, c));
        180.0
            - ((x * x + y * y - z * z) / (2.0 * x * y))
                .acos()
                .to_degrees()
    };
    let lead_knee = [Joint::LeftHip, Joint::LeftKnee, Joint::LeftAnkle];
    let trail_elbow = [Joint::RightShoulder, Joint::RightElbow, Joint::RightWrist];
    use MeasureName as N;
    let truth = |name: MeasureName, t: f64| match name {
        N::PelvisShift => middle(hips, t)[0],
        N::PelvisTowardBall => middle(hips, t)[2],
        N::PelvisTurn => open(hips, t),
        N::PelvisSideBend => rise(hips, t),
        N::ChestTurn => open(shoulders, t),
        N::ChestSideBend => rise(shoulders, t),
        N::KneeLineTurn => open(knees, t),
        N::HeadShift => middle(nose, t)[0],
        N::HeadRise => middle(nose, t)[1],
        N::HeadTowardBall => middle(nose, t)[2],
        N::LeadKneeFlexion => bend(lead_knee, t),
        N::TrailElbowFlexion => bend(trail_elbow, t),
        N::StanceWidth => {
            let [lead, trail] = points(ankles, t);
            100.0 * (lead.target - trail.target).hypot(lead.ball - trail.ball)
        }
        _ => f64::NAN,
    };
    // Exact points, cameras unknown. What is left: the fit's errors with exact points (docs/decisions/006: turns
    // within 2°, lengths within 1 cm, of bodies with the proportions it knows; the capture's differ) and
    // the stature, which is that of its legs.
    let allowed = |m: &Measure| match (m.name, m.unit) {
        // The whole of its 45 cm scales with the stature.
        (N::StanceWidth, _) => 3.5,
        (_, Unit::Centimetre) => 1.5,
        _ => 4.0,
    };
    let mut wrong = Vec::new();
    let mut compared = 0;
    // Nothing of the club is in the capture.
    let of_body = |m: &&Measure| m.name.part() != Part::Club;
    for m in measured.measures.iter().filter(of_body) {
        let before = m.against.map_or(0.0, |a| truth(m.name, at(a)));
        let truly = truth(m.name, at(m.moment)) - before;
        if truly.is_nan() {
            continue;
        }
        let value = m
            .value
            .unwrap_or_else(|| panic!("{:?}: {}", m.name, m.reason));
        println!("{:?} {:?}: {value:.1} against {truly:.1}", m.name, m.moment);
        compared += 1;
        if (value - truly).abs() > allowed(m) {
            wrong.push(format!(
                "{:?} {:?}: {value:.1}, not {truly:.1}",
                m.name, m.moment
            ));
        }
    }
    assert!(compared > 30, "{compared}");
    assert!(wrong.is_empty(), "{wrong:#?}");
}
