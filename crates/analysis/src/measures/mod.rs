//! The measures of this version, each with its ± and state.
//!
//! Definitions are in `docs/measures`. A measure's variance is the sum of landmark noise, slow
//! bias of the network ([`crate::calibration`]), scale, and the moment's timing times how fast the
//! measure changes there; intervals are ±1.96 standard deviations.

mod club;
mod hands;
mod knee_line_turn;
mod of_body;
mod pelvis_shift;
mod sequence;
mod tempo;
mod trail_elbow;

use crate::body_fit::SwingBody;
use crate::by_hand::bias_left;
use crate::calibration::{Bias, Calibration, Seen, Way};
use crate::combine::Together;
use crate::view::SwingView;
use lessonwright_math::{Left, SD_TO_95};
use lessonwright_model::{Measure, MeasureName, MeasureState, MomentName, Unit, View};

/// What a measure is asked at.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Asked {
    name: MeasureName,
    moment: MomentName,
    against: Option<MomentName>,
}

/// A value with its standard deviation, before the network's bias is dealt with.
#[derive(Clone, Debug, PartialEq)]
struct Reading {
    value: f64,
    sd: f64,
    /// What limits it, in plain words; empty when nothing needs saying.
    note: String,
}

/// Why there is no number.
#[derive(Clone, Debug, PartialEq)]
enum Withheld {
    /// Another view could show it.
    View(String),
    /// It could not be had here.
    Here(String),
}

/// The clips by view, and whether they show one motion.
#[derive(Clone, Copy, Debug)]
struct Clips<'a> {
    face_on: Option<&'a SwingView>,
    down_the_line: Option<&'a SwingView>,
    one_motion: bool,
}

/// Every measure of this version, part by part of the body. Those that the picture's plane gives as
/// well are taken the `way` that is asked for, where it is to be had.
pub fn all(
    views: &[SwingView],
    together: Together,
    bodies: &[(Seen, Result<SwingBody, String>)],
    way: Way,
) -> Vec<Measure> {
    let of = |view: View| views.iter().find(|v| v.view == view);
    let clips = Clips {
        face_on: of(View::FaceOn),
        down_the_line: of(View::DownTheLine),
        one_motion: together == Together::OneMotion,
    };
    let mut picture = pelvis_shift::measures(&clips);
    picture.push(knee_line_turn::measure(&clips));
    picture.push(trail_elbow::measure(&clips));
    // From one view the picture's plane may be all there is.
    let same =
        |a: &Measure, b: &Measure| (a.name, a.moment, a.against) == (b.name, b.moment, b.against);
    let mut measures = of_body::measures(views, bodies);
    measures.retain(|m| {
        let Some(also) = picture.iter().find(|p| same(p, m)) else {
            return true;
        };
        // One view alone is not better for being fitted.
        way == Way::Body && m.view.is_none() && agree(m, also)
    });
    picture.retain(|p| !measures.iter().any(|m| same(p, m)));
    measures.extend(picture);
    measures.extend(club::measures(&clips));
    measures.extend(tempo::measures(&clips));
    measures.sort_by_key(|m| (m.name, m.moment));
    measures
}

/// Whether the fitted body gives a measure, and no other than the picture where that gives it too: in one of a hundred tuning
/// swings the body put the trail elbow half a metre off, where the picture is never off by more than 7 cm.
fn agree(body: &Measure, picture: &Measure) -> bool {
    const FAR_CM: f64 = 10.0;
    let Some(value) = body.value else {
        return false;
    };
    let apart = picture.value.map_or(0.0, |other| (value - other).abs());
    body.unit != Unit::Centimetre || apart <= FAR_CM
}

/// Puts a reading, or why there is none, into the contract's form.
fn report(
    asked: Asked,
    view: Option<View>,
    widest: f64,
    reading: Result<Reading, Withheld>,
    bias: Bias,
) -> Measure {
    let empty = |state: MeasureState, reason: String| Measure {
        name: asked.name,
        moment: asked.moment,
        against: asked.against,
        view,
        value: None,
        unit: asked.name.unit(),
        low: None,
        high: None,
        state,
        reason,
    };
    let reading = match reading {
        Ok(reading) => reading,
        Err(Withheld::View(why)) => return empty(MeasureState::NotMeasurableFromThisView, why),
        Err(Withheld::Here(why)) => return empty(MeasureState::NotMeasured, why),
    };
    let value = reading.value - bias.mean;
    let half = SD_TO_95 * reading.sd.hypot(bias.sd);
    if !value.is_finite() || !half.is_finite() || half > widest {
        let half = match asked.name.unit() {
            Unit::Second => format!("{half:.2} s"),
            Unit::Centimetre => format!("{half:.0} cm"),
            Unit::Degree => format!("{half:.0}°"),
            Unit::Percent => format!("{half:.0} %"),
            Unit::One => format!("{half:.1}"),
        };
        let why = format!("too uncertain to say anything: ± {half}");
        return empty(MeasureState::NotMeasured, why);
    }
    Measure {
        value: Some(value),
        low: Some(value - half),
        high: Some(value + half),
        ..empty(MeasureState::Measured, reading.note)
    }
}

/// Bias of a measure, less by what is known of it where joints it rests on were placed by hand.
fn bias(asked: Asked, seen: Seen, view: &SwingView, left: &[Left]) -> Bias {
    let of = |calibration: &Calibration| {
        calibration.measure(asked.name, asked.moment, asked.against, seen)
    };
    bias_left(of(&view.calibration), of(&Calibration::exact()), left)
}

/// Withheld because a moment was not found.
fn no_moment(name: MomentName) -> Withheld {
    Withheld::Here(format!("{} was not found in this clip", name.plain()))
}

/// Withheld because points are missing.
fn hidden(what: &str, name: MomentName) -> Withheld {
    Withheld::Here(format!("{what} hidden or not found at {}", name.plain()))
}

/// What to say of a scale that rests on an assumed stature.
fn scale_note(view: &SwingView) -> String {
    match &view.scale {
        Ok(scale) if scale.stature_assumed => {
            "stature not given: an adult's is assumed, which widens the ±".into()
        }
        _ => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_body_far_from_the_picture_is_not_believed() {
        let asked = Asked {
            name: MeasureName::TrailElbowAhead,
            moment: MomentName::LeadArmLevelDown,
            against: None,
        };
        let told = |value: f64| {
            let reading = Reading {
                value,
                sd: 1.0,
                note: String::new(),
            };
            report(asked, None, 25.0, Ok(reading), Bias { mean: 0.0, sd: 0.0 })
        };
        assert!(agree(&told(3.0), &told(9.0)));
        assert!(!agree(&told(46.0), &told(3.0)));
    }
}
