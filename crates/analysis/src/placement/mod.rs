//! Does the camera stand where it should? Read from feet and hands at address, since nothing else in
//! the picture is known to lie along the target line.
//!
//! [`reading`] does the geometry, `words` says what to move. Absolute yaw is not observable from a body:
//! the line through the feet stands in for the target line, and players stand open or closed by some
//! degrees, which is in the ±. What each view can't tell is in `docs/placement.md`.

pub mod reading;
mod words;

use crate::scale::{USUAL_DISTANCE_M, USUAL_DISTANCE_SD_M};
use crate::view::SwingView;
use lessonwright_model::{BodyPart, MomentName, PixelPoint, Side, View};
use reading::{AtAddress, Known, Share, down_the_line, face_on};

/// Nose to mid-ankle at address, m, of an adult of the usual stature, where there is no scale.
const USUAL_SPAN_M: f64 = 1.28;
/// Ankle to ankle at address over nose to ankle: means of 0.245 of the stature (0.195 for a wedge to 0.31
/// for a driver, `lessonwright_stage`; common practice, no source) over 0.75.
const USUAL_STANCE: Share = Share {
    mean: 0.327,
    rel_sd: 0.14,
};
/// Where face-on shows the stance, it is known so well: two ankles and two body heights, each to 1 cm.
const SEEN_STANCE_REL_SD: f64 = 0.05;

/// Reads each camera's place into its report, and says what to move.
pub fn check(views: &mut [SwingView]) {
    let seen_stance = views
        .iter()
        .find(|view| view.view == View::FaceOn)
        .and_then(|view| Some(at_address(view)?.stance_across()));
    let stance = seen_stance.map_or(USUAL_STANCE, |mean| Share {
        mean,
        rel_sd: SEEN_STANCE_REL_SD,
    });
    for view in views {
        let Some(seen) = at_address(view) else {
            continue;
        };
        let known = known(view, stance);
        let placement = match view.view {
            View::FaceOn => face_on(&seen),
            View::DownTheLine => down_the_line(&seen, &known),
        };
        let distance_m = known.distance.mean * span_m(view);
        let warnings = words::warnings(&placement, distance_m, view.hand);
        view.report.warnings.extend(warnings);
        view.report.placement = placement;
    }
}

/// How far a camera clearly stands off its line, radians; 0 where that is in doubt. Until it is moved, what
/// rests on the line is that much less certain.
pub fn off_line_rad(view: &SwingView) -> f64 {
    let off = view.report.placement.off_line_deg;
    off.filter(|r| r.is_outside(0.0, 0.0))
        .map_or(0.0, |r| r.value.abs().to_radians())
}

fn known(view: &SwingView, stance: Share) -> Known {
    let (distance_m, sd_m) = view
        .scale
        .as_ref()
        .map_or((USUAL_DISTANCE_M, USUAL_DISTANCE_SD_M), |scale| {
            (scale.distance_m, scale.distance_sd_m)
        });
    Known {
        stance,
        distance: Share {
            mean: distance_m / span_m(view),
            rel_sd: sd_m / distance_m,
        },
    }
}

fn span_m(view: &SwingView) -> f64 {
    let scale = view.scale.as_ref();
    scale.map_or(USUAL_SPAN_M, |scale| view.track.span_px / scale.px_per_m)
}

/// Ankles and hands at address, in body heights; none where one of them is hidden.
fn at_address(view: &SwingView) -> Option<AtAddress> {
    let place = |part, side| -> Option<[f64; 2]> {
        let PixelPoint { x, y } = view.place_at(part, side, MomentName::Address)?;
        let span_px = view.track.span_px;
        Some([view.rightward() * x / span_px, y / span_px])
    };
    view.moments.get(&MomentName::Address)?;
    let both = |part| Some([place(part, Side::Lead)?, place(part, Side::Trail)?]);
    Some(AtAddress {
        ankles: both(BodyPart::Ankle)?,
        wrists: both(BodyPart::Wrist)?,
    })
}
