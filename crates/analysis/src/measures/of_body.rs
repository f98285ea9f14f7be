//! The measures that are read from the fitted body: one table of what, when and from which views.
//!
//! Functions of a pose are those of `body` and give metres, radians or shares; a measure held against
//! another moment is the difference of two. How wide the ± is comes from the calibration; a measure
//! whose error is not in it is withheld. See `docs/measures`.

use super::{Asked, Reading, Withheld, hands, no_moment, report, sequence};
use crate::body_fit::SwingBody;
use crate::by_hand::bias_left;
use crate::calibration::{Bias, Calibration, Seen};
use crate::moments::{Moments, Timed};
use crate::view::SwingView;
use lessonwright_body::measures::{self as read, Side};
use lessonwright_body::{Point, Pose, mass};
use lessonwright_math::Left;
use lessonwright_math::angle::difference;
use lessonwright_model::{BodyPart, Measure, MeasureName, MomentName, Unit, View};

/// Moments, each with the one it is held against.
type At = &'static [(MomentName, Option<MomentName>)];
/// The views that support a measure.
type From = &'static [Seen];

/// A measure with the moments it is taken at.
struct Kind {
    name: MeasureName,
    at: At,
    from: From,
    value: Value,
}

/// Where the number comes from.
enum Value {
    /// One pose, or the difference of two.
    Pose(fn(&Pose) -> f64),
    /// The whole motion.
    Motion(fn(&Swing<'_>) -> Result<f64, Withheld>),
}

/// A fitted swing with its moments on the fit's clock.
pub(super) struct Swing<'a> {
    pub(super) body: &'a SwingBody,
    pub(super) moments: &'a Moments,
}

use MomentName::{Address, Finish, Impact, LeadArmLevelBack, LeadArmLevelDown, Top};

/// Only both views of one motion give it.
const BOTH: From = &[Seen::Both];
/// The face-on picture's plane gives it as well.
const FACE_ON: From = &[Seen::Both, Seen::FaceOn];
/// The picture's plane down the line gives it as well.
const LINE: From = &[Seen::Both, Seen::DownTheLine];
/// Up and down is in both pictures' planes.
const EITHER: From = &[Seen::Both, Seen::FaceOn, Seen::DownTheLine];

const FROM_ADDRESS: At = &[
    (Top, Some(Address)),
    (LeadArmLevelDown, Some(Address)),
    (Impact, Some(Address)),
];
const SHIFTS: At = &[
    (LeadArmLevelBack, Some(Address)),
    (Top, Some(Address)),
    (LeadArmLevelDown, Some(Address)),
    (Impact, Some(Address)),
    (Finish, Some(Address)),
    (LeadArmLevelDown, Some(Top)),
];
const DOWN_FROM_ADDRESS: At = &[(LeadArmLevelDown, Some(Address))];
const DOWN_FROM_BACK: At = &[(LeadArmLevelDown, Some(LeadArmLevelBack))];
const ALL: At = &[
    (Address, None),
    (Top, None),
    (LeadArmLevelDown, None),
    (Impact, None),
];
const MOVING: At = &[(Top, None), (LeadArmLevelDown, None), (Impact, None)];
const AT_ADDRESS: At = &[(Address, None)];
const DOWN: At = &[(LeadArmLevelDown, None)];
/// Where the chest is turned far it hides its bend from a single view.
const NEAR_SQUARE: At = &[(Address, None), (LeadArmLevelDown, None), (Impact, None)];
const AT_TOP: At = &[(Top, None)];
const ENDS: At = &[(Address, None), (Impact, None)];
const BETWEEN: At = &[(Top, None), (LeadArmLevelDown, None)];
const AT_IMPACT: At = &[(Impact, None)];

/// All of them.
fn kinds() -> [Kind; 30] {
    use MeasureName as N;
    [
        pose(N::PelvisShift, SHIFTS, FACE_ON, |p| p.mid_hip().x),
        pose(N::PelvisTowardBall, FROM_ADDRESS, LINE, |p| p.mid_hip().z),
        pose(N::PelvisTurn, FROM_ADDRESS, BOTH, read::pelvis_turn_rad),
        pose(N::PelvisSideBend, ALL, BOTH, read::pelvis_side_bend_rad),
        pose(N::ChestTurn, FROM_ADDRESS, BOTH, read::chest_turn_rad),
        pose(
            N::ChestSideBend,
            NEAR_SQUARE,
            FACE_ON,
            read::chest_side_bend_rad,
        ),
        pose(N::ChestSideBend, AT_TOP, BOTH, read::chest_side_bend_rad),
        pose(
            N::ChestForwardBend,
            ENDS,
            LINE,
            read::chest_forward_bend_rad,
        ),
        pose(
            N::ChestForwardBend,
            BETWEEN,
            BOTH,
            read::chest_forward_bend_rad,
        ),
        pose(N::HeadShift, FROM_ADDRESS, FACE_ON, |p| p.at(Point::Nose).x),
        pose(N::HeadRise, FROM_ADDRESS, EITHER, |p| p.at(Point::Nose).y),
        pose(N::HeadTowardBall, FROM_ADDRESS, LINE, |p| {
            p.at(Point::Nose).z
        }),
        pose(N::LeadElbowFlexion, MOVING, BOTH, |p| {
            read::elbow_flexion_rad(p, Side::Lead)
        }),
        pose(N::TrailElbowFlexion, MOVING, BOTH, |p| {
            read::elbow_flexion_rad(p, Side::Trail)
        }),
        pose(N::TrailElbowAhead, DOWN, BOTH, |p| {
            read::trail_elbow_ahead_m(p).unwrap_or(f64::NAN)
        }),
        pose(N::HandDepth, DOWN_FROM_BACK, LINE, read::hand_depth_m),
        pose(N::HandHeight, DOWN_FROM_BACK, EITHER, read::hand_height_m),
        motion(N::HandsOverWayBack, DOWN, LINE, hands::over_way_back_m),
        pose(
            N::KneeLineTurn,
            DOWN_FROM_ADDRESS,
            BOTH,
            read::knee_line_turn_rad,
        ),
        pose(N::LeadKneeFlexion, ALL, BOTH, |p| {
            read::knee_flexion_rad(p, Side::Lead)
        }),
        pose(N::TrailKneeFlexion, ALL, BOTH, |p| {
            read::knee_flexion_rad(p, Side::Trail)
        }),
        pose(N::TrailKneeTowardBall, FROM_ADDRESS, LINE, |p| {
            p.at(Point::TrailKnee).z
        }),
        pose(N::StanceWidth, AT_ADDRESS, FACE_ON, read::stance_width_m),
        pose(N::MassOverFeet, ALL, FACE_ON, |p| {
            mass::mass_over_feet(p, &mass::ADULTS)
        }),
        motion(N::PelvisPeak, AT_IMPACT, BOTH, sequence::pelvis),
        motion(N::ChestPeak, AT_IMPACT, BOTH, sequence::chest),
        motion(N::LeadArmPeak, AT_IMPACT, BOTH, sequence::lead_arm),
        motion(N::HandsPeak, AT_IMPACT, BOTH, sequence::hands),
        motion(
            N::ChestAfterPelvis,
            AT_IMPACT,
            BOTH,
            sequence::chest_after_pelvis,
        ),
        motion(
            N::LeadArmAfterChest,
            AT_IMPACT,
            BOTH,
            sequence::lead_arm_after_chest,
        ),
    ]
}

fn pose(name: MeasureName, at: At, from: From, value: fn(&Pose) -> f64) -> Kind {
    let value = Value::Pose(value);
    Kind {
        name,
        at,
        from,
        value,
    }
}

fn motion(
    name: MeasureName,
    at: At,
    from: From,
    value: fn(&Swing<'_>) -> Result<f64, Withheld>,
) -> Kind {
    let value = Value::Motion(value);
    Kind {
        name,
        at,
        from,
        value,
    }
}

/// Every measure of the table.
pub(super) fn measures(
    views: &[SwingView],
    bodies: &[(Seen, Result<SwingBody, String>)],
) -> Vec<Measure> {
    let calibration = &views[0].calibration;
    let kinds = kinds();
    let asked = kinds
        .iter()
        .flat_map(|k| k.at.iter().map(move |at| (k, *at)));
    asked
        .map(|(kind, (moment, against))| {
            let asked = Asked {
                name: kind.name,
                moment,
                against,
            };
            let source = kind
                .from
                .iter()
                .find_map(|seen| bodies.iter().find(|(from, _)| from == seen));
            let (reading, bias) = match source {
                None => (Err(needs(kind.from)), Bias { mean: 0.0, sd: 0.0 }),
                Some((_, body)) => reading(kind, asked, body, views, calibration),
            };
            let seen = source
                .or(bodies.first())
                .map_or(Seen::Both, |(seen, _)| *seen);
            report(
                asked,
                view_of(seen),
                widest(kind.name.unit()),
                reading,
                bias,
            )
        })
        .collect()
}

fn reading(
    kind: &Kind,
    asked: Asked,
    body: &Result<SwingBody, String>,
    views: &[SwingView],
    calibration: &Calibration,
) -> (Result<Reading, Withheld>, Bias) {
    let none = Bias { mean: 0.0, sd: 0.0 };
    let body = match body {
        Ok(body) => body,
        Err(why) => return (Err(Withheld::Here(why.clone())), none),
    };
    let moments = (asked.moment, asked.against);
    let Some(bias) = calibration.body_measure(kind.name, moments, body.seen) else {
        let why = "these views do not show it well enough";
        return (Err(Withheld::Here(why.into())), none);
    };
    let exact = Calibration::exact().body_measure(kind.name, moments, body.seen);
    let bias = bias_left(
        bias,
        exact.unwrap_or(none),
        &errors_left(asked, body, views),
    );
    let swing = Swing {
        body,
        moments: &views[body.clip].moments,
    };
    let reading = match kind.value {
        Value::Pose(value) => of_poses(&swing, asked, value),
        Value::Motion(value) => of_motion(&swing, asked, value),
    };
    (
        reading.map(|r| at_the_edge(r, kind.name.unit(), body)),
        bias,
    )
}

/// What is left of the network's error in the joints that a measure rests on first of all, after some were
/// placed by hand.
fn errors_left(asked: Asked, body: &SwingBody, views: &[SwingView]) -> Vec<Left> {
    use BodyPart::{Ankle, Elbow, Hip, Knee, Shoulder, Wrist};
    use MeasureName as N;
    use lessonwright_model::Side::{Lead, Trail};
    let both = |part| vec![(part, Lead), (part, Trail)];
    let joints = match asked.name {
        N::PelvisShift | N::PelvisTowardBall | N::PelvisTurn | N::PelvisSideBend => both(Hip),
        N::ChestTurn | N::ChestSideBend => both(Shoulder),
        N::ChestForwardBend => [both(Hip), both(Shoulder)].concat(),
        N::KneeLineTurn => both(Knee),
        N::LeadKneeFlexion => vec![(Hip, Lead), (Knee, Lead), (Ankle, Lead)],
        N::TrailKneeFlexion => vec![(Hip, Trail), (Knee, Trail), (Ankle, Trail)],
        N::TrailKneeTowardBall => vec![(Knee, Trail)],
        N::LeadElbowFlexion => vec![(Shoulder, Lead), (Elbow, Lead), (Wrist, Lead)],
        N::TrailElbowFlexion => vec![(Shoulder, Trail), (Elbow, Trail), (Wrist, Trail)],
        N::TrailElbowAhead => vec![(Shoulder, Trail), (Hip, Trail), (Elbow, Trail)],
        N::StanceWidth => both(Ankle),
        _ => Vec::new(),
    };
    let views: Vec<&SwingView> = match view_of(body.seen) {
        Some(only) => views.iter().filter(|v| v.view == only).collect(),
        None => views.iter().collect(),
    };
    let moments = std::iter::once(asked.moment).chain(asked.against);
    moments
        .flat_map(|name| views.iter().map(move |view| (view, name)))
        .flat_map(|(view, name)| view.error_left(&joints, name))
        .collect()
}

/// A value at a moment, or its change since another.
fn of_poses(swing: &Swing<'_>, asked: Asked, value: fn(&Pose) -> f64) -> Result<Reading, Withheld> {
    let now = of_pose(swing, asked.moment, value)?;
    let Some(against) = asked.against else {
        return Ok(now);
    };
    let before = of_pose(swing, against, value)?;
    let change = match asked.name.unit() {
        Unit::Degree => difference(now.value, before.value),
        _ => now.value - before.value,
    };
    Ok(Reading {
        value: change,
        sd: now.sd.hypot(before.sd),
        note: String::new(),
    })
}

/// A value at a moment; its deviation is what the moment's own does to it.
fn of_pose(
    swing: &Swing<'_>,
    name: MomentName,
    value: fn(&Pose) -> f64,
) -> Result<Reading, Withheld> {
    let Timed { time_s, sd_s } = swing.moment(name)?;
    let at = |t: f64| swing.body.motion.pose_at(t).as_ref().map(value);
    let (here, slope_sd) = match name {
        Address => (value(&swing.body.address), 0.0),
        _ => {
            let here = at(time_s).unwrap_or(f64::NAN);
            let (later, sooner) = (at(time_s + sd_s), at(time_s - sd_s));
            // An angle's halves may lie on either side of ±π.
            let change = difference(later.unwrap_or(here), sooner.unwrap_or(here));
            (here, 0.5 * change)
        }
    };
    if here.is_nan() {
        let why = format!("the fitted body does not show it at {}", name.plain());
        return Err(Withheld::Here(why));
    }
    Ok(Reading {
        value: here,
        sd: slope_sd,
        note: String::new(),
    })
}

fn of_motion(
    swing: &Swing<'_>,
    asked: Asked,
    value: fn(&Swing<'_>) -> Result<f64, Withheld>,
) -> Result<Reading, Withheld> {
    let timing = match asked.name.unit() {
        Unit::Second => swing.moment(asked.moment)?.sd_s,
        _ => 0.0,
    };
    Ok(Reading {
        value: value(swing)?,
        sd: timing,
        note: String::new(),
    })
}

/// In the unit that is shown, with what the body's size leaves open.
fn at_the_edge(reading: Reading, unit: Unit, body: &SwingBody) -> Reading {
    let factor = match unit {
        Unit::Centimetre | Unit::Percent => 100.0,
        Unit::Degree => 1f64.to_degrees(),
        Unit::Second | Unit::One => 1.0,
    };
    let (value, mut sd) = (factor * reading.value, factor * reading.sd);
    let mut note = reading.note;
    if unit == Unit::Centimetre {
        sd = sd.hypot(value * body.size_rel_sd);
        if body.stature_assumed {
            note = "stature not given: an adult's is assumed, which widens the ±".into();
        }
    }
    Reading { value, sd, note }
}

impl Swing<'_> {
    /// When a moment is, on the fit's clock.
    pub(super) fn moment(&self, name: MomentName) -> Result<Timed, Withheld> {
        self.moments
            .get(&name)
            .copied()
            .ok_or_else(|| no_moment(name))
    }

    /// The body at a time of the fit's clock.
    pub(super) fn pose(&self, time_s: f64) -> Result<Pose, Withheld> {
        let pose = self.body.motion.pose_at(time_s);
        pose.ok_or_else(|| Withheld::Here("the film does not show the body long enough".into()))
    }
}

/// Half of the 95 % interval that says nothing any more: pelvises and heads move 5–20 cm, bodies turn
/// and bend by 20–90 degrees, the peaks of a downswing lie in its last quarter of a second, and mass moves by a
/// third of the stance.
fn widest(unit: Unit) -> f64 {
    match unit {
        Unit::Centimetre => 15.0,
        Unit::Degree => 30.0,
        Unit::Second => 0.12,
        Unit::Percent => 30.0,
        Unit::One => f64::INFINITY,
    }
}

fn view_of(seen: Seen) -> Option<View> {
    match seen {
        Seen::FaceOn => Some(View::FaceOn),
        Seen::DownTheLine => Some(View::DownTheLine),
        Seen::Both => None,
    }
}

/// Which views it takes, in words.
fn needs(from: From) -> Withheld {
    let alone = from.iter().find(|seen| **seen != Seen::Both);
    let why = match alone {
        None => "it takes both views of one swing, face-on and down the line",
        Some(Seen::FaceOn) => "it is seen face-on, or in both views of one swing",
        Some(_) => "it is seen down the line, or in both views of one swing",
    };
    Withheld::View(why.into())
}
