//! The golfer among a recording's points: unit, axes, hand, target line and the stretch of the swing worked out from the body
//! itself, or as they were stated.

use super::asked::{Asked, Axis, Target};
use super::names::{self, ANKLE, Found, HIP, KNEE, PARTS, SHOULDER, TOE, WRIST};
use super::stretch::{LEAST_INSTANTS, SWING_S, bridge, fastest, stretch, tracks};
use super::{Recorded, RecordedError};
use glam::DVec3;
use lessonwright_model::{CAPTURED_POINTS, CapturedBody, Hand};

/// How far a joint centre of a marker capture lies off, m, along each axis (common practice, no source: skin and marker
/// placement; what the cameras of such a system add is a tenth of it).
pub const USUAL_POINT_SD_M: f64 = 0.010;
/// Thigh and shank of the stature (Drillis & Contini 1966), and the ankle's height.
const LEGS_OF_STATURE: f64 = 0.491;
const ANKLE_OF_STATURE: f64 = 0.039;
/// A player whose stature nobody stated, m.
const USUAL_STATURE_M: f64 = 1.72;
/// A body that differs by more than this factor from the player's stature is in another unit.
const SAME_STATURE: f64 = 1.35;
/// More instants a second than this are thinned.
const MOST_RATE_HZ: f64 = 125.0;
/// Units that captures come in, m.
const UNITS_M: [f64; 5] = [0.001, 0.01, 0.0254, 1.0, 0.3048];
/// The usual instant's head stands this upright over the feet at least (cosine).
const UPRIGHT: f64 = 0.8;

/// One instant: head, then each part of both sides; in the file's unit.
#[derive(Clone, Copy)]
struct Body {
    head: DVec3,
    pairs: [[DVec3; 8]; 2],
}

/// Finds the golfer.
///
/// # Errors
/// See [`RecordedError`]: what is missing or contradicts itself.
pub fn golfer(recorded: &Recorded, asked: &Asked) -> Result<CapturedBody, RecordedError> {
    let count = recorded.instants.len();
    if count < LEAST_INSTANTS {
        return Err(RecordedError::TooShort { instants: count });
    }
    let found = names::find(recorded)?;
    let mut notes = found.notes.clone();
    let stated_m = asked.unit_m.or(recorded.unit_m);
    // Rules from markers have millimetres in them; a C3D without a unit is in them.
    let mut tracks = tracks(recorded, &found, stated_m.unwrap_or(0.001));
    bridge(&mut tracks, recorded.rate_hz);
    let fastest = fastest(&tracks, recorded.rate_hz)
        .ok_or(RecordedError::NoSwing("the hands are never seen moving"))?;
    let stretch = stretch(&tracks, fastest, recorded.rate_hz)?;
    let start = stretch.start;
    let bodies: Vec<Body> = stretch.map(|i| body(&tracks, i)).collect();
    let fastest = fastest - start;

    let (unit_m, stature_m) = unit(&bodies, stated_m, asked)?;
    note_size(&mut notes, stature_m, asked, stated_m.is_none(), unit_m);
    let up = up(&bodies, asked.up)?;
    let address = address(&bodies, fastest, recorded.rate_hz, up, stature_m / unit_m)?;
    let hand = hand(
        &bodies,
        address,
        fastest,
        recorded.rate_hz,
        up,
        &found,
        asked,
    )?;
    let flip = !found.by_lead && hand == Hand::Left;
    let golf = axes(&bodies[address], up, hand, flip, &found, asked)?;
    let own = found.by_lead && asked.target == Target::WorkedOut;
    let origin = match own {
        true => DVec3::ZERO,
        false => {
            let ankles = middle(&bodies[address], ANKLE);
            ankles - up * (ANKLE_OF_STATURE * stature_m / unit_m)
        }
    };
    let every = (recorded.rate_hz / MOST_RATE_HZ).ceil().max(1.0) as usize;
    let poses_mm = bodies
        .iter()
        .step_by(every)
        .map(|body| {
            points(body, flip)
                .iter()
                .map(|at| {
                    let from = (*at - origin) * (unit_m * 1000.0);
                    golf.map(|axis| (from.dot(axis) * 10.0).round() / 10.0)
                })
                .collect()
        })
        .collect();
    Ok(CapturedBody {
        file: asked.file.clone(),
        hand,
        rate_hz: recorded.rate_hz / every as f64,
        point_sd_m: asked.point_sd_m.unwrap_or(USUAL_POINT_SD_M),
        point_sd_stated: asked.point_sd_m.is_some(),
        stature_m,
        poses_mm,
        notes,
    })
}

fn body(tracks: &[Vec<Option<DVec3>>], i: usize) -> Body {
    let at =
        |point: usize| tracks[point][i].expect("every point is known in the stretch that is kept");
    Body {
        head: at(0),
        pairs: [0, 1].map(|side| std::array::from_fn(|part| at(1 + side * PARTS.len() + part))),
    }
}

fn middle(body: &Body, part: usize) -> DVec3 {
    body.pairs[0][part].midpoint(body.pairs[1][part])
}

/// Metres in the file's unit, and the stature that the legs speak for.
fn unit(
    bodies: &[Body],
    stated_m: Option<f64>,
    asked: &Asked,
) -> Result<(f64, f64), RecordedError> {
    let mut legs: Vec<f64> = bodies
        .iter()
        .flat_map(|body| body.pairs)
        .map(|side| side[HIP].distance(side[KNEE]) + side[KNEE].distance(side[ANKLE]))
        .collect();
    legs.sort_by(f64::total_cmp);
    let stature = legs[legs.len() / 2] / LEGS_OF_STATURE;
    let wanted_m = asked.stature_m.unwrap_or(USUAL_STATURE_M);
    let off = |unit_m: f64| (stature * unit_m / wanted_m).ln().abs();
    match stated_m {
        Some(unit_m) if (0.9..2.5).contains(&(stature * unit_m)) => Ok((unit_m, stature * unit_m)),
        Some(unit_m) => Err(RecordedError::WrongUnit {
            stature_m: stature * unit_m,
        }),
        None => {
            let nearest = UNITS_M
                .into_iter()
                .min_by(|a, b| off(*a).total_cmp(&off(*b)));
            nearest
                .filter(|unit_m| off(*unit_m) < SAME_STATURE.ln())
                .map(|unit_m| (unit_m, stature * unit_m))
                .ok_or(RecordedError::NoUnit {
                    stature_cm: stature,
                })
        }
    }
}

fn note_size(
    notes: &mut Vec<String>,
    stature_m: f64,
    asked: &Asked,
    worked_out: bool,
    unit_m: f64,
) {
    if worked_out {
        let unit = match unit_m {
            0.001 => "millimetres",
            0.01 => "centimetres",
            0.0254 => "inches",
            1.0 => "metres",
            _ => "feet",
        };
        notes.push(format!(
            "the file names no unit: by the body's height it is in {unit}"
        ));
    }
    if let Some(stated_m) = asked.stature_m
        && (stature_m / stated_m - 1.0).abs() > 0.06
    {
        notes.push(format!(
            "the legs are those of a player of {:.0} cm, not {:.0}: lengths are as the capture has them, with a wider ±",
            100.0 * stature_m,
            100.0 * stated_m
        ));
    }
}

/// Up: as stated, or the axis along which heads stand over feet.
fn up(bodies: &[Body], stated: Option<Axis>) -> Result<DVec3, RecordedError> {
    let sum: DVec3 = bodies
        .iter()
        .map(|body| (body.head - middle(body, ANKLE)).normalize_or_zero())
        .sum();
    let upright = sum / bodies.len() as f64;
    let axis = stated.unwrap_or_else(|| {
        let place = upright.abs().max_position();
        Axis(DVec3::AXES[place] * upright[place].signum())
    });
    match upright.dot(axis.0) > UPRIGHT {
        true => Ok(axis.0),
        false => Err(RecordedError::NotUpright {
            axis: axis.to_string(),
        }),
    }
}

/// The stillest instant with the hands hanging before they are fastest.
fn address(
    bodies: &[Body],
    fastest: usize,
    rate_hz: f64,
    up: DVec3,
    stature: f64,
) -> Result<usize, RecordedError> {
    let half = ((0.1 * rate_hz) as usize).max(1);
    let end = fastest.saturating_sub((SWING_S * rate_hz) as usize);
    let hanging = |body: &Body| {
        let below = (middle(body, SHOULDER) - middle(body, WRIST)).dot(up);
        below > 0.2 * stature
    };
    let far = |i: usize| {
        let (a, b) = (
            &bodies[i.saturating_sub(half)],
            &bodies[(i + half).min(bodies.len() - 1)],
        );
        middle(a, WRIST).distance(middle(b, WRIST))
    };
    (0..end)
        .filter(|i| hanging(&bodies[*i]))
        .min_by(|a, b| far(*a).total_cmp(&far(*b)))
        .ok_or(RecordedError::NoSwing(
            "the hands never hang at rest before they are fastest. Record from before the takeaway",
        ))
}

/// As stated; else from the names and the toes, or from the side to which the hands go back.
fn hand(
    bodies: &[Body],
    address: usize,
    fastest: usize,
    rate_hz: f64,
    up: DVec3,
    found: &Found,
    asked: &Asked,
) -> Result<Hand, RecordedError> {
    let stood = &bodies[address];
    let across = stood.pairs[0][ANKLE] - stood.pairs[1][ANKLE];
    if found.by_lead {
        // Toward the target × up points to the ball for a right-hander.
        let ahead = middle(stood, TOE) - middle(stood, ANKLE);
        return Ok(match across.cross(up).dot(ahead) > 0.0 {
            true => Hand::Right,
            false => Hand::Left,
        });
    }
    if let Some(hand) = asked.hand {
        return Ok(hand);
    }
    let step = |time_s: f64| fastest.saturating_sub((time_s * rate_hz) as usize);
    let went = (step(0.9)..step(0.3))
        .map(|i| (middle(&bodies[i], WRIST) - middle(stood, WRIST)).dot(across))
        .sum::<f64>();
    match went {
        went if went < 0.0 => Ok(Hand::Right),
        went if went > 0.0 => Ok(Hand::Left),
        _ => Err(RecordedError::NoSwing(
            "the hands go to neither side. Say the player's hand",
        )),
    }
}

/// Toward the target, up, toward the ball, in the file's axes.
fn axes(
    stood: &Body,
    up: DVec3,
    hand: Hand,
    flip: bool,
    found: &Found,
    asked: &Asked,
) -> Result<[DVec3; 3], RecordedError> {
    let (lead, trail) = if flip { (1, 0) } else { (0, 1) };
    let feet = stood.pairs[lead][ANKLE] - stood.pairs[trail][ANKLE];
    let level = |way: DVec3| way.reject_from_normalized(up).try_normalize();
    let feet = level(feet).ok_or(RecordedError::NoSwing("the feet stand on one spot"))?;
    let target = match asked.target {
        Target::Along(axis) => level(axis.0).ok_or(RecordedError::Contradiction(
            "the target can't be up or down",
        ))?,
        // Of our exports x is toward the target, or away from it for a left-hander.
        Target::WorkedOut if found.by_lead && DVec3::X.dot(feet).abs() > 0.8 => {
            DVec3::X * DVec3::X.dot(feet).signum()
        }
        Target::WorkedOut | Target::Stance => feet,
    };
    // A stance is square to within some tens of degrees.
    if target.dot(feet) < 0.5 {
        return Err(RecordedError::Contradiction(
            "the lead foot is not the one nearer to the target",
        ));
    }
    let ball = match hand {
        Hand::Right => target.cross(up),
        Hand::Left => up.cross(target),
    };
    let ahead = middle(stood, TOE) - middle(stood, ANKLE);
    match ahead.dot(ball) > 0.0 {
        true => Ok([target, up, ball]),
        false => Err(RecordedError::Contradiction(
            "the toes point away from the ball",
        )),
    }
}

/// In the order of [`CAPTURED_POINTS`].
fn points(body: &Body, flip: bool) -> [DVec3; CAPTURED_POINTS.len()] {
    std::array::from_fn(|point| match point / 2 {
        part @ 0..8 => body.pairs[(point % 2) ^ usize::from(flip)][part],
        _ => body.head,
    })
}
