//! The golfer among a recording's points: unit, axes, hand, target line and the stretch of the swing worked out from the body
//! itself, or as they were stated.

use super::names::{self, ANKLE, Found, HIP, KNEE, PARTS, SHOULDER, Source, TOE, WRIST};
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
/// Fewest instants of a swing.
const LEAST_INSTANTS: usize = 24;
/// Longest gap that is bridged, s: by then a hand has gone round a bend.
const LONGEST_GAP_S: f64 = 0.1;
/// What is kept before and after the fastest hands, s: the way back, the address, the finish.
const BEFORE_S: f64 = 3.5;
const AFTER_S: f64 = 2.5;
/// Address lies at least this long before the fastest hands, s.
const SWING_S: f64 = 0.5;
/// More instants a second than this are thinned.
const MOST_RATE_HZ: f64 = 125.0;
/// Units that captures come in, m.
const UNITS_M: [f64; 5] = [0.001, 0.01, 0.0254, 1.0, 0.3048];
/// The usual instant's head stands this upright over the feet at least (cosine).
const UPRIGHT: f64 = 0.8;

/// A direction along the file's axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axis(pub DVec3);

/// Where the target is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Target {
    /// Along the feet; along the file's own x where it is one of our exports.
    #[default]
    WorkedOut,
    /// Along the line of the ankles at address.
    Stance,
    /// Along an axis of the file.
    Along(Axis),
}

/// What was stated of a capture; everything left out is worked out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Asked {
    /// The file's name.
    pub file: String,
    /// The player's hand.
    pub hand: Option<Hand>,
    /// The player's stature, m.
    pub stature_m: Option<f64>,
    /// Up.
    pub up: Option<Axis>,
    /// Toward the target.
    pub target: Target,
    /// Metres in the file's unit.
    pub unit_m: Option<f64>,
    /// Standard deviation of a point along each axis, m.
    pub point_sd_m: Option<f64>,
}

/// One instant: head, then each part of both sides; in the file's unit.
#[derive(Clone, Copy)]
struct Body {
    head: DVec3,
    pairs: [[DVec3; 8]; 2],
}

impl Asked {
    /// From words as they are typed or chosen; empty ones are worked out. `within_mm` is how far a point may lie off 95 of
    /// 100 times.
    ///
    /// # Errors
    /// Says which word is none that is known.
    pub fn stated([up, target, unit]: [&str; 3], within_mm: &str) -> Result<Asked, String> {
        let axis = |text: &str| (!text.is_empty()).then(|| text.parse()).transpose();
        let unit_m = match unit {
            "" => None,
            "mm" => Some(0.001),
            "cm" => Some(0.01),
            "in" => Some(0.0254),
            "ft" => Some(0.3048),
            "m" => Some(1.0),
            other => return Err(format!("\"{other}\" is no unit: one of mm, cm, m, in, ft")),
        };
        let within: Option<f64> = match within_mm.trim() {
            "" => None,
            text => {
                let number = text.replace(',', ".").parse().ok();
                let usable = number.filter(|mm| (0.1..=200.0).contains(mm));
                Some(usable.ok_or(format!("\"{text}\" mm: a number from 0.1 to 200"))?)
            }
        };
        Ok(Asked {
            up: axis(up)?,
            target: match target {
                "" => Target::WorkedOut,
                "stance" => Target::Stance,
                other => Target::Along(other.parse()?),
            },
            unit_m,
            point_sd_m: within.map(|mm| mm / 1960.0),
            ..Asked::default()
        })
    }
}

impl std::str::FromStr for Axis {
    type Err = String;

    /// "+x", "-z", "y".
    fn from_str(text: &str) -> Result<Axis, String> {
        let (sign, name) = match text.trim().split_at_checked(1) {
            Some(("-", name)) => (-1.0, name),
            Some(("+", name)) => (1.0, name),
            _ => (1.0, text.trim()),
        };
        let axis = match name {
            "x" | "X" => DVec3::X,
            "y" | "Y" => DVec3::Y,
            "z" | "Z" => DVec3::Z,
            _ => {
                return Err(format!(
                    "\"{text}\" is no axis: one of +x, -x, +y, -y, +z, -z"
                ));
            }
        };
        Ok(Axis(sign * axis))
    }
}

impl std::fmt::Display for Axis {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let place = self.0.abs().max_position();
        let sign = if self.0[place] < 0.0 { '-' } else { '+' };
        write!(f, "{sign}{}", ['x', 'y', 'z'][place])
    }
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

/// Each point over time: the head, then the parts of both sides.
fn tracks(recorded: &Recorded, found: &Found, unit_m: f64) -> Vec<Vec<Option<DVec3>>> {
    let of = |source: &Source| -> Vec<Option<DVec3>> {
        let place = |points: &Vec<Option<DVec3>>| source.place(points, unit_m);
        recorded.instants.iter().map(place).collect()
    };
    let mut all = vec![of(&found.head)];
    for side in &found.pairs {
        let first = all.len();
        all.extend(side.iter().map(of));
        for (part, source) in side.iter().enumerate() {
            if *source == Source::BehindAnkle {
                let (ankle, toe) = (&all[first + ANKLE], &all[first + TOE]);
                let behind = ankle
                    .iter()
                    .zip(toe)
                    .map(|(ankle, toe)| Some((*ankle)? - 0.3 * ((*toe)? - (*ankle)?)));
                all[first + part] = behind.collect();
            }
        }
    }
    all
}

/// Short gaps, on the line between their ends.
fn bridge(tracks: &mut [Vec<Option<DVec3>>], rate_hz: f64) {
    let longest = (LONGEST_GAP_S * rate_hz) as usize;
    for track in tracks {
        let mut last: Option<(usize, DVec3)> = None;
        for i in 0..track.len() {
            let Some(here) = track[i] else { continue };
            if let Some((before, from)) = last
                && (2..=longest + 1).contains(&(i - before))
            {
                for (k, gap) in track[before..i].iter_mut().enumerate().skip(1) {
                    *gap = Some(from.lerp(here, k as f64 / (i - before) as f64));
                }
            }
            last = Some((i, here));
        }
    }
}

/// Middle of the wrists.
fn hands_at(tracks: &[Vec<Option<DVec3>>], i: usize) -> Option<DVec3> {
    let wrist = |side: usize| tracks[1 + side * PARTS.len() + WRIST][i];
    Some(wrist(0)?.midpoint(wrist(1)?))
}

/// The instant of the fastest hands, over 50 ms.
fn fastest(tracks: &[Vec<Option<DVec3>>], rate_hz: f64) -> Option<usize> {
    let half = ((0.025 * rate_hz).round() as usize).max(1);
    let count = tracks[0].len();
    (half..count.saturating_sub(half))
        .filter_map(|i| {
            let way = hands_at(tracks, i + half)? - hands_at(tracks, i - half)?;
            Some((i, way.length()))
        })
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(i, _)| i)
}

/// What is kept: all around the fastest hands in which every point is known.
fn stretch(
    tracks: &[Vec<Option<DVec3>>],
    fastest: usize,
    rate_hz: f64,
) -> Result<std::ops::Range<usize>, RecordedError> {
    let count = tracks[0].len();
    let steps = |time_s: f64| (time_s * rate_hz) as usize;
    let from = fastest.saturating_sub(steps(BEFORE_S));
    let to = (fastest + steps(AFTER_S)).min(count - 1);
    let lost = |i: &usize| tracks.iter().any(|track| track[*i].is_none());
    let first = (from..=fastest)
        .rev()
        .find(lost)
        .map_or(from, |lost| lost + 1);
    let end = (fastest..=to).find(lost).unwrap_or(to + 1);
    // A point lost on the way down, or just before it.
    let late = first > from && fastest - first.min(fastest) < steps(2.0 * SWING_S);
    if late || end <= fastest {
        let at = if end <= fastest { fastest } else { first - 1 };
        let point = tracks.iter().position(|track| track[at].is_none());
        let point = point.map_or("body", |point| match point {
            0 => "head",
            other => PARTS[(other - 1) % PARTS.len()],
        });
        let time_s = at as f64 / rate_hz;
        return Err(RecordedError::Lost { point, time_s });
    }
    match end - first < LEAST_INSTANTS {
        true => Err(RecordedError::TooShort {
            instants: end - first,
        }),
        false => Ok(first..end),
    }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_short_gap_is_bridged_on_the_line_between_its_ends_and_a_long_one_stays() {
        let rate_hz = 50.0;
        let longest = (LONGEST_GAP_S * rate_hz) as usize;
        let at = |i: usize| DVec3::new(i as f64, 2.0 * i as f64, 1.0);
        for (gap, bridged) in [(1, true), (longest, true), (longest + 1, false)] {
            let known = |i: usize| (!(3..3 + gap).contains(&i)).then(|| at(i));
            let mut tracks = [(0..gap + 6).map(known).collect::<Vec<_>>()];
            bridge(&mut tracks, rate_hz);
            for (i, here) in tracks[0].iter().enumerate() {
                let expected = (bridged || known(i).is_some()).then(|| at(i));
                assert!(
                    match (here, expected) {
                        (Some(here), Some(expected)) => (*here - expected).length() < 1e-12,
                        (here, expected) => *here == expected,
                    },
                    "gap of {gap}, instant {i}: {here:?}"
                );
            }
        }
    }
}
