//! Pelvis shift: how far the mid-point of the hip joint centres has moved along the target line,
//! plus toward the target; face-on. See `docs/measures/pelvis_shift.md`.

use super::{Asked, Clips, Reading, Withheld, bias, hidden, no_moment, report, scale_note};
use crate::calibration::Seen;
use crate::view::SwingView;
use lessonwright_math::Left;
use lessonwright_model::units::cm;
use lessonwright_model::{BodyPart, Measure, MeasureName, MomentName, Side, View};

/// Wider than this (half of the 95 % interval, cm) a shift says nothing: pelvises move 5–20 cm.
const WIDEST_CM: f64 = 15.0;
/// A camera turned by this (sd, radians) from square lets motion toward the ball leak in: filmed
/// by eye along a mat's edge, 3°.
const YAW_SD_RAD: f64 = 0.052;
/// Typical motion of the pelvis toward or from the ball between two moments, cm (rendered swings
/// and the open capture: up to 5).
const ALONG_BALL_CM: f64 = 4.0;

const ASKED: [(MomentName, MomentName); 6] = [
    (MomentName::LeadArmLevelBack, MomentName::Address),
    (MomentName::Top, MomentName::Address),
    (MomentName::LeadArmLevelDown, MomentName::Address),
    (MomentName::Impact, MomentName::Address),
    (MomentName::Finish, MomentName::Address),
    (MomentName::LeadArmLevelDown, MomentName::Top),
];

/// The shift at each moment it is asked for.
pub(super) fn measures(clips: &Clips<'_>) -> Vec<Measure> {
    ASKED
        .iter()
        .map(|&(moment, against)| {
            let asked = Asked {
                name: MeasureName::PelvisShift,
                moment,
                against: Some(against),
            };
            match clips.face_on {
                Some(view) => report(
                    asked,
                    Some(View::FaceOn),
                    WIDEST_CM,
                    shift(view, moment, against),
                    bias(
                        asked,
                        Seen::FaceOn,
                        view,
                        &hips_left(view, &[moment, against]),
                    ),
                ),
                None => {
                    let why = "movement along the target line is seen face-on only";
                    report(
                        asked,
                        Some(View::DownTheLine),
                        WIDEST_CM,
                        Err(Withheld::View(why.into())),
                        crate::calibration::Bias { mean: 0.0, sd: 0.0 },
                    )
                }
            }
        })
        .collect()
}

fn hips_left(view: &SwingView, moments: &[MomentName]) -> Vec<Left> {
    let hips = [Side::Lead, Side::Trail].map(|side| (BodyPart::Hip, side));
    let at = |&name: &MomentName| view.error_left(&hips, name);
    moments.iter().flat_map(at).collect()
}

fn shift(view: &SwingView, moment: MomentName, against: MomentName) -> Result<Reading, Withheld> {
    let scale = view
        .scale
        .as_ref()
        .map_err(|why| Withheld::Here(why.clone()))?;
    let there = mid_hip(view, moment)?;
    let before = mid_hip(view, against)?;
    let value = cm(view.rightward() * (there.x_px - before.x_px) / scale.px_per_m);
    let noise = cm(there.sd_px.hypot(before.sd_px) / scale.px_per_m);
    let yaw = YAW_SD_RAD * ALONG_BALL_CM;
    Ok(Reading {
        value,
        sd: noise.hypot(value * scale.rel_sd).hypot(yaw),
        note: scale_note(view),
    })
}

/// Column of the mid-hip with its standard deviation from noise and timing.
struct MidHip {
    x_px: f64,
    sd_px: f64,
}

fn mid_hip(view: &SwingView, name: MomentName) -> Result<MidHip, Withheld> {
    let timed = view.moments.get(&name).ok_or_else(|| no_moment(name))?;
    let hips = || hidden("a hip is", name);
    let lead = view
        .place_at(BodyPart::Hip, Side::Lead, name)
        .ok_or_else(hips)?;
    let trail = view
        .place_at(BodyPart::Hip, Side::Trail, name)
        .ok_or_else(hips)?;
    let paths = [Side::Lead, Side::Trail].map(|s| view.path(BodyPart::Hip, s));
    let speed = paths
        .iter()
        .filter_map(|p| p.velocity(timed.time_s))
        .map(|v| 0.5 * v.x)
        .sum::<f64>();
    let noise = 0.5 * paths[0].sigma_px.hypot(paths[1].sigma_px);
    // At address the hips rest: their place is a median over the rest, and timing costs nothing.
    let timing = if name == MomentName::Address {
        0.0
    } else {
        speed * timed.sd_s
    };
    Ok(MidHip {
        x_px: lead.midpoint(trail).x,
        sd_px: noise.hypot(timing),
    })
}
