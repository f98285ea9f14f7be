//! Knee line turn: turn of the line through the knees seen from above, against address, plus when
//! more open to the target. See `docs/measures/knee_line_turn.md`.
//!
//! From both views: along the target from face-on, toward the ball from down the line. From down
//! the line alone: toward the ball over an assumed distance between the knees. Perspective is
//! taken out with the camera's distance: the nearer knee looks farther from the picture's middle.

use super::{
    self as measures, Asked, Clips, Reading, Withheld, hidden, no_moment, report, scale_note,
};
use crate::calibration::Seen;
use crate::parallax::magnification;
use crate::scale::Scale;
use crate::view::SwingView;
use lessonwright_math::Left;
use lessonwright_math::angle::difference;
use lessonwright_model::{BodyPart, Measure, MeasureName, MomentName, Side, View};

const MOMENT: MomentName = MomentName::LeadArmLevelDown;
const AGAINST: MomentName = MomentName::Address;
/// Wider than this (half of the 95 % interval, degrees) a turn says nothing: knee lines turn
/// 0–40 degrees.
const WIDEST_DEG: f64 = 45.0;
/// Distance between the knees of a golfer, as a share of the nose-to-ankle height (0.80 of the
/// stature), and its relative spread: 0.33 m for a stature of 1.71 m in the open capture, 0.36–0.42
/// in rendered swings.
const KNEES_APART: f64 = 0.27;
const KNEES_APART_REL_SD: f64 = 0.15;
/// A knee line nearer than this to the line of sight has no direction, m.
const LEAST_APART_M: f64 = 0.12;

/// The turn at lead arm level on the way down.
pub(super) fn measure(clips: &Clips<'_>) -> Measure {
    let asked = Asked {
        name: MeasureName::KneeLineTurn,
        moment: MOMENT,
        against: Some(AGAINST),
    };
    let bias = |views: &[&SwingView], seen: Seen| {
        let left: Vec<Left> = views.iter().flat_map(|view| knees_left(view)).collect();
        measures::bias(asked, seen, views[0], &left)
    };
    match (clips.face_on, clips.down_the_line) {
        (Some(face), Some(line)) if clips.one_motion => report(
            asked,
            None,
            WIDEST_DEG,
            from_both(face, line),
            bias(&[line, face], Seen::Both),
        ),
        (_, Some(line)) => report(
            asked,
            Some(View::DownTheLine),
            WIDEST_DEG,
            from_down_the_line(line),
            bias(&[line], Seen::DownTheLine),
        ),
        (Some(face), None) => {
            let why =
                "turn near square is seen down the line; face-on it hardly changes the picture";
            report(
                asked,
                Some(View::FaceOn),
                WIDEST_DEG,
                Err(Withheld::View(why.into())),
                bias(&[face], Seen::FaceOn),
            )
        }
        (None, None) => unreachable!("there is at least one clip"),
    }
}

fn knees_left(view: &SwingView) -> Vec<Left> {
    let knees = [Side::Lead, Side::Trail].map(|side| (BodyPart::Knee, side));
    [MOMENT, AGAINST]
        .iter()
        .flat_map(|&name| view.error_left(&knees, name))
        .collect()
}

/// A distance with its standard deviation, m.
#[derive(Clone, Copy)]
struct Distance {
    m: f64,
    sd_m: f64,
}

fn from_both(face: &SwingView, line: &SwingView) -> Result<Reading, Withheld> {
    let turn = |name: MomentName| {
        let toward_target = knees_apart(face, name, 0.0)?;
        let toward_ball = knees_apart(line, name, toward_target.m)?;
        // Once more, now with the depth that the other view gives.
        let toward_target = knees_apart(face, name, -toward_ball.m)?;
        open_angle(toward_target, toward_ball)
    };
    difference_from_address(turn(MOMENT)?, turn(AGAINST)?, line)
}

fn from_down_the_line(line: &SwingView) -> Result<Reading, Withheld> {
    let scale = scale_of(line)?;
    let apart_m = KNEES_APART * line.track.span_px / scale.px_per_m;
    let turn = |name: MomentName| {
        let toward_ball = knees_apart(line, name, apart_m)?;
        let square = (apart_m * apart_m - toward_ball.m * toward_ball.m)
            .max(0.0)
            .sqrt();
        let toward_target = Distance {
            m: square,
            sd_m: KNEES_APART_REL_SD * apart_m,
        };
        open_angle(toward_target, toward_ball)
    };
    let mut reading = difference_from_address(turn(MOMENT)?, turn(AGAINST)?, line)?;
    let note = "from down the line alone: the distance between the knees is assumed; a face-on clip of the same swing narrows the ±";
    reading.note = [reading.note.as_str(), note]
        .iter()
        .filter(|s| !s.is_empty())
        .copied()
        .collect::<Vec<_>>()
        .join("; ");
    Ok(reading)
}

/// An angle with its standard deviation, radians.
#[derive(Clone, Copy)]
struct Angle {
    rad: f64,
    sd_rad: f64,
}

/// Seen from above, the line from trail to lead knee; open is the lead knee farther from the ball.
fn open_angle(toward_target: Distance, toward_ball: Distance) -> Result<Angle, Withheld> {
    let apart = toward_target.m.hypot(toward_ball.m);
    if apart < LEAST_APART_M {
        return Err(Withheld::Here(
            "the knees are seen too close together to give a direction".into(),
        ));
    }
    let across = (toward_target.m * toward_ball.sd_m).hypot(toward_ball.m * toward_target.sd_m);
    Ok(Angle {
        rad: (-toward_ball.m).atan2(toward_target.m),
        sd_rad: across / (apart * apart),
    })
}

fn difference_from_address(
    at: Angle,
    before: Angle,
    line: &SwingView,
) -> Result<Reading, Withheld> {
    Ok(Reading {
        value: difference(at.rad, before.rad).to_degrees(),
        sd: at.sd_rad.hypot(before.sd_rad).to_degrees(),
        note: scale_note(line),
    })
}

fn scale_of(view: &SwingView) -> Result<Scale, Withheld> {
    view.scale.clone().map_err(Withheld::Here)
}

/// From the trail to the lead knee along the picture's row: toward the target (face-on) or the
/// ball (down the line), m. `deeper_m` is how much farther the lead knee is from the camera.
fn knees_apart(view: &SwingView, name: MomentName, deeper_m: f64) -> Result<Distance, Withheld> {
    let scale = scale_of(view)?;
    let timed = view.moments.get(&name).ok_or_else(|| no_moment(name))?;
    let middle_px = 0.5 * f64::from(view.report.width_px);
    let across = |side: Side, deeper_m: f64| {
        let place = view.place_at(BodyPart::Knee, side, name)?;
        let px_per_m = scale.px_per_m * magnification(scale.distance_m, -deeper_m);
        Some(view.rightward() * (place.x - middle_px) / px_per_m)
    };
    let knees = || hidden("a knee is", name);
    let lead = across(Side::Lead, 0.5 * deeper_m).ok_or_else(knees)?;
    let trail = across(Side::Trail, -0.5 * deeper_m).ok_or_else(knees)?;
    let paths = [Side::Lead, Side::Trail].map(|s| view.path(BodyPart::Knee, s));
    let speed = |i: usize| paths[i].velocity(timed.time_s).map_or(0.0, |v| v.x);
    let timing = if name == MomentName::Address {
        0.0
    } else {
        (speed(0) - speed(1)) * timed.sd_s
    };
    let noise = paths[0].sigma_px.hypot(paths[1].sigma_px);
    let m = lead - trail;
    Ok(Distance {
        m,
        sd_m: (noise.hypot(timing) / scale.px_per_m).hypot(m * scale.rel_sd),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn noise_of_two_ends_turns_a_line_as_published() {
        // Reference values T10: segment of 0.24, 0.30, 0.45 m with 20 mm of noise at each end.
        for (length_m, expected_deg) in [(0.24, 6.75), (0.30, 5.40), (0.45, 3.60)] {
            let sd_m = 0.020_f64.hypot(0.020);
            let exact = Distance { m: length_m, sd_m };
            let level = Distance { m: 0.0, sd_m };
            let got = open_angle(exact, level).map(|a| a.sd_rad.to_degrees());
            // Printed to two decimals.
            assert!((got.expect("long enough") - expected_deg).abs() < 0.006);
        }
    }

    #[test]
    fn the_lead_knee_farther_from_the_ball_is_open() {
        let far = |m: f64| Distance { m, sd_m: 0.0 };
        let turn = |target: f64, ball: f64| {
            open_angle(far(target), far(ball))
                .map(|a| a.rad.to_degrees())
                .expect("long enough")
        };
        assert!((turn(0.3, -0.3) - 45.0).abs() < 1e-12);
        assert!((turn(0.3, 0.3) + 45.0).abs() < 1e-12);
        assert!(open_angle(far(0.05), far(0.05)).is_err());
    }
}
