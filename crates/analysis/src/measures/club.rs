//! What the shaft's direction says: lean and wrist set face-on, slope down the line; and which way the ball starts. See
//! `docs/measures/shaft_lean.md`, `shaft_slope.md`, `wrist_set.md` and `ball_start.md`.

use super::{Asked, Clips, Reading, Withheld, no_moment, report};
use crate::calibration::{Bias, Seen};
use crate::club::{ShaftAt, shaft_at, shaft_at_ball};
use crate::moments::Timed;
use crate::view::SwingView;
use lessonwright_math::angle::difference;
use lessonwright_model::{BodyPart, Measure, MeasureName, MomentName, Side, View};

/// Wider than this (half of the 95 % interval, degrees) an angle says nothing.
const WIDEST_DEG: f64 = 30.0;
/// Error of the lead forearm's direction in the picture (sd, radians): joint centres a centimetre off
/// at the ends of a quarter of a metre.
const FOREARM_SD_RAD: f64 = 0.06;

/// At impact the rows that show the shaft are exposed up to 4 ms from the middle of the picture, while it turns by 2° a
/// millisecond (sd, radians): counted where it is not read with the head at the ball.
const ROWS_SD_RAD: f64 = 0.12;

const LEAN: [MomentName; 2] = [MomentName::Address, MomentName::Impact];
const SLOPE: [MomentName; 3] = [
    MomentName::Address,
    MomentName::LeadArmLevelBack,
    MomentName::LeadArmLevelDown,
];
const WRIST: [MomentName; 4] = [
    MomentName::LeadArmLevelBack,
    MomentName::LeadArmLevelDown,
    MomentName::ShaftLevelDown,
    MomentName::Impact,
];

/// An angle and its standard deviation, radians.
type Angle = (f64, f64);

/// All measures of club and ball.
pub(super) fn measures(clips: &Clips<'_>) -> Vec<Measure> {
    let lean = LEAN.map(|moment| asked(MeasureName::ShaftLean, moment));
    let wrist = WRIST.map(|moment| asked(MeasureName::WristSet, moment));
    let slope = SLOPE.map(|moment| asked(MeasureName::ShaftSlope, moment));
    let steepening = asked(MeasureName::ShaftSteepening, MomentName::LeadArmLevelDown);
    let mut all = Vec::new();
    for asked in lean {
        all.push(measured(asked, clips.face_on, View::FaceOn, lean_rad));
    }
    for asked in wrist {
        all.push(measured(asked, clips.face_on, View::FaceOn, wrist_set_rad));
    }
    for asked in slope {
        all.push(measured(
            asked,
            clips.down_the_line,
            View::DownTheLine,
            slope_rad,
        ));
    }
    all.push(measured(
        steepening,
        clips.down_the_line,
        View::DownTheLine,
        steepening_rad,
    ));
    all.push(measured(
        asked(MeasureName::BallStart, MomentName::Impact),
        clips.down_the_line,
        View::DownTheLine,
        ball_start_rad,
    ));
    all
}

fn asked(name: MeasureName, moment: MomentName) -> Asked {
    Asked {
        name,
        moment,
        against: None,
    }
}

fn measured(
    asked: Asked,
    view: Option<&SwingView>,
    needs: View,
    angle: fn(&SwingView, MomentName) -> Result<Angle, Withheld>,
) -> Measure {
    let Some(view) = view else {
        let other = match needs {
            View::FaceOn => View::DownTheLine,
            View::DownTheLine => View::FaceOn,
        };
        let why = format!("{} is seen {needs} only", asked.name.plain());
        let none = Bias { mean: 0.0, sd: 0.0 };
        return report(
            asked,
            Some(other),
            WIDEST_DEG,
            Err(Withheld::View(why)),
            none,
        );
    };
    let seen = match needs {
        View::FaceOn => Seen::FaceOn,
        View::DownTheLine => Seen::DownTheLine,
    };
    let reading = angle(view, asked.moment).map(|(angle, sd)| Reading {
        value: angle.to_degrees(),
        sd: sd.to_degrees(),
        note: String::new(),
    });
    let bias = view.calibration.club(asked.name, asked.moment, seen);
    report(asked, Some(needs), WIDEST_DEG, reading, bias)
}

/// The shaft at a moment: direction in a picture whose right is toward the target (face-on) or
/// toward the ball (down the line).
fn shaft_rad(view: &SwingView, name: MomentName) -> Result<Angle, Withheld> {
    let timed = view.moments.get(&name).ok_or_else(|| no_moment(name))?;
    let at_impact = name == MomentName::Impact && view.view == View::FaceOn;
    let struck = at_impact.then(|| struck_shaft(view, *timed)).flatten();
    let late_sd = match struck {
        None if at_impact => ROWS_SD_RAD,
        _ => 0.0,
    };
    let shaft = struck
        .or_else(|| shaft_at(&view.club, timed.time_s))
        .ok_or_else(|| Withheld::Here(format!("the shaft was not seen at {}", name.plain())))?;
    let (sin, cos) = shaft.angle_rad.sin_cos();
    let sd = shaft
        .sd_rad
        .hypot(shaft.rate_rad_s * timed.sd_s)
        .hypot(late_sd);
    Ok((sin.atan2(view.rightward() * cos), sd))
}

/// The shaft with its head at the ball, where that and the address are seen.
fn struck_shaft(view: &SwingView, impact: Timed) -> Option<ShaftAt> {
    let address = view.moments.get(&MomentName::Address)?;
    shaft_at_ball(&view.club, view.report.ball?, address.time_s, impact)
}

/// From upright, plus with the hands ahead of the head.
fn lean_rad(view: &SwingView, name: MomentName) -> Result<Angle, Withheld> {
    let (angle, sd) = shaft_rad(view, name)?;
    Ok(((-angle.cos()).atan2(angle.sin()), sd))
}

/// The line's angle to the ground on the ball's side, 0 to π.
fn slope_rad(view: &SwingView, name: MomentName) -> Result<Angle, Withheld> {
    let (angle, sd) = shaft_rad(view, name)?;
    Ok((angle.rem_euclid(std::f64::consts::PI), sd))
}

/// Against the way back, with the lead arm level.
fn steepening_rad(view: &SwingView, down: MomentName) -> Result<Angle, Withheld> {
    let (down, down_sd) = slope_rad(view, down)?;
    let (back, back_sd) = slope_rad(view, MomentName::LeadArmLevelBack)?;
    Ok((down - back, down_sd.hypot(back_sd)))
}

/// From upright in the picture, plus toward the ball's side.
fn ball_start_rad(view: &SwingView, _impact: MomentName) -> Result<Angle, Withheld> {
    let start = view.ball_start.clone().map_err(Withheld::Here)?;
    let (sin, cos) = start.angle_rad.sin_cos();
    Ok(((view.rightward() * cos).atan2(-sin), start.sd_rad))
}

fn wrist_set_rad(view: &SwingView, name: MomentName) -> Result<Angle, Withheld> {
    let (angle, sd) = shaft_rad(view, name)?;
    let time_s = view.moments[&name].time_s;
    let place = |part| view.place(part, Side::Lead, time_s);
    let (Some(elbow), Some(wrist)) = (place(BodyPart::Elbow), place(BodyPart::Wrist)) else {
        let why = format!(
            "the lead forearm is hidden or not found at {}",
            name.plain()
        );
        return Err(Withheld::Here(why));
    };
    let forearm = (wrist.y - elbow.y).atan2(view.rightward() * (wrist.x - elbow.x));
    let set = difference(angle, forearm);
    Ok((set.abs(), sd.hypot(FOREARM_SD_RAD)))
}
