//! Trail elbow ahead: distance of the trail elbow from the mid-axillary line of the trunk (trail
//! shoulder to trail hip joint centre) at the elbow's height, as seen down the line; plus toward
//! the ball. See `docs/measures/trail_elbow_ahead.md`.

use super::{Asked, Clips, Reading, Withheld, bias, hidden, no_moment, report, scale_note};
use crate::calibration::{Bias, Seen};
use crate::parallax::magnification;
use crate::placement::off_line_rad;
use crate::view::SwingView;
use lessonwright_model::units::cm;
use lessonwright_model::{BodyPart, Measure, MeasureName, MomentName, PixelPoint, Side, View};

const MOMENT: MomentName = MomentName::LeadArmLevelDown;
/// Wider than this (half of the 95 % interval, cm) it says nothing: elbows lie within ±25 cm.
const WIDEST_CM: f64 = 25.0;
/// A camera turned by this (sd, radians) from the target line, 4°: 0.2–0.3 m beside the line at 4 m.
const YAW_SD_RAD: f64 = 0.07;
/// A trunk seen shorter than this share of the body's height gives no line.
const LEAST_TRUNK: f64 = 0.12;

/// The points, and how far along the target line they usually are from mid-hip at address, m: they
/// are nearer to the camera than the hips, which matters when the camera is not right behind them.
/// From the open capture. Taken from a face-on clip instead, they made the errors of 45 rendered
/// swings no smaller (3.6 cm against 3.5, 1 sd).
const PARTS: [(BodyPart, f64); 3] = [
    (BodyPart::Elbow, -0.32),
    (BodyPart::Shoulder, -0.14),
    (BodyPart::Hip, -0.11),
];

/// The distance at lead arm level on the way down.
pub(super) fn measure(clips: &Clips<'_>) -> Measure {
    let asked = Asked {
        name: MeasureName::TrailElbowAhead,
        moment: MOMENT,
        against: None,
    };
    match clips.down_the_line {
        Some(view) => report(
            asked,
            Some(View::DownTheLine),
            WIDEST_CM,
            ahead(view),
            bias(
                asked,
                Seen::DownTheLine,
                view,
                &view.error_left(&PARTS.map(|(part, _)| (part, Side::Trail)), MOMENT),
            ),
        ),
        None => {
            let why = "ahead of or behind the trunk is seen down the line only";
            let none = Bias { mean: 0.0, sd: 0.0 };
            report(
                asked,
                Some(View::FaceOn),
                WIDEST_CM,
                Err(Withheld::View(why.into())),
                none,
            )
        }
    }
}

fn ahead(view: &SwingView) -> Result<Reading, Withheld> {
    let scale = view
        .scale
        .as_ref()
        .map_err(|why| Withheld::Here(why.clone()))?;
    let timed = view.moments.get(&MOMENT).ok_or_else(|| no_moment(MOMENT))?;
    let at = |t: f64| -> Option<Result<f64, Withheld>> {
        let mut points = [PixelPoint::default(); 3];
        for (point, (part, nearer_m)) in points.iter_mut().zip(PARTS) {
            let seen = view.place(part, Side::Trail, t)?;
            let larger = magnification(scale.distance_m, -nearer_m);
            *point = level_with_hips(seen, larger, view);
        }
        Some(from_line(points, view.track.span_px))
    };
    let px =
        at(timed.time_s).ok_or_else(|| hidden("the trail elbow, shoulder or hip is", MOMENT))??;
    let value = cm(view.rightward() * px / scale.px_per_m);
    let sigma = |part| view.path(part, Side::Trail).sigma_px;
    // The line at the elbow is a mean of shoulder and hip; their noise counts about half each.
    let noise_px = sigma(BodyPart::Elbow)
        .hypot(0.7 * sigma(BodyPart::Shoulder))
        .hypot(0.7 * sigma(BodyPart::Hip));
    let around = |dt: f64| at(timed.time_s + dt).and_then(Result::ok).unwrap_or(px);
    // Seen from beside the line, the elbow's place along the target line leaks in.
    let [elbow_m, shoulder_m, hip_m] = PARTS.map(|p| p.1);
    let along_line_m = elbow_m - 0.5 * (shoulder_m + hip_m);
    let yaw_cm = cm(YAW_SD_RAD.hypot(off_line_rad(view)) * along_line_m);
    let timing_px = 0.5 * (around(timed.sd_s) - around(-timed.sd_s));
    Ok(Reading {
        value,
        sd: cm(noise_px.hypot(timing_px) / scale.px_per_m)
            .hypot(value * scale.rel_sd)
            .hypot(yaw_cm),
        note: scale_note(view),
    })
}

/// Where a point that looks `larger` times as far from the picture's middle would be seen if it
/// were as far from the camera as the hips.
fn level_with_hips(at: PixelPoint, larger: f64, view: &SwingView) -> PixelPoint {
    let middle = PixelPoint {
        x: 0.5 * f64::from(view.report.width_px),
        y: 0.5 * f64::from(view.report.height_px),
    };
    PixelPoint {
        x: middle.x + (at.x - middle.x) / larger,
        y: middle.y + (at.y - middle.y) / larger,
    }
}

/// Columns from the line through shoulder and hip to the elbow, at the elbow's row.
fn from_line([elbow, shoulder, hip]: [PixelPoint; 3], span_px: f64) -> Result<f64, Withheld> {
    if hip.y - shoulder.y < LEAST_TRUNK * span_px {
        return Err(Withheld::Here(
            "the trunk is seen too short for its middle line to be drawn".into(),
        ));
    }
    let along = (elbow.y - shoulder.y) / (hip.y - shoulder.y);
    Ok(elbow.x - (shoulder.x + along * (hip.x - shoulder.x)))
}
