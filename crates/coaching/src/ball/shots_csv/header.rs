//! Columns by what their names mean, whoever wrote them: "Ball Speed (mph)", "ball_speed_m_s",
//! "BallSpeed [km/h]".

use super::super::quantity::{Kind, Unit};
use serde::Serialize;

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
#[expect(missing_docs, reason = "named by what they hold")]
pub enum Column {
    Club,
    BallSpeed,
    LaunchAngle,
    StartDirection,
    Spin,
    BackSpin,
    SideSpin,
    SpinAxis,
    Carry,
    Side,
    Apex,
    ClubSpeed,
    Path,
    Face,
    FaceToPath,
    Attack,
    DynamicLoft,
    TowardToe,
}

impl Column {
    /// What its numbers are numbers of; None for words.
    pub fn kind(self) -> Option<Kind> {
        Some(match self {
            Column::Club => return None,
            Column::BallSpeed | Column::ClubSpeed => Kind::Speed,
            Column::Carry | Column::Side | Column::Apex | Column::TowardToe => Kind::Length,
            Column::Spin | Column::BackSpin | Column::SideSpin => Kind::Spin,
            _ => Kind::Angle,
        })
    }

    /// What no shot goes beyond, in SI: outside it a unit or a column is wrong.
    pub(super) fn believable(self) -> (f64, f64) {
        let degrees = |low: f64, high: f64| (low.to_radians(), high.to_radians());
        let rpm = |low: f64, high: f64| (low * Unit::Rpm.si(), high * Unit::Rpm.si());
        match self {
            Column::Club => (f64::NEG_INFINITY, f64::INFINITY),
            Column::BallSpeed => (5.0, 105.0),
            Column::ClubSpeed => (5.0, 75.0),
            Column::Carry => (0.0, 400.0),
            Column::Side => (-200.0, 200.0),
            Column::Apex => (0.0, 120.0),
            Column::TowardToe => (-0.08, 0.08),
            Column::Spin | Column::BackSpin | Column::SideSpin => rpm(-16_000.0, 16_000.0),
            Column::SpinAxis => degrees(-90.0, 90.0),
            Column::LaunchAngle => degrees(-30.0, 80.0),
            Column::DynamicLoft => degrees(-15.0, 85.0),
            Column::Attack => degrees(-30.0, 30.0),
            Column::StartDirection | Column::Path | Column::Face | Column::FaceToPath => {
                degrees(-60.0, 60.0)
            }
        }
    }

    /// Which column a name means, and the unit it states.
    pub(super) fn read(name: &str) -> Option<(Column, Option<Unit>)> {
        let (words, unit) = words_and_unit(name);
        let column = by_meaning(&words)?;
        Some((
            column,
            unit.filter(|unit| Some(unit.kind()) == column.kind()),
        ))
    }
}

/// The first rule that fits; the order matters where a word is in several names.
fn by_meaning(words: &[String]) -> Option<Column> {
    let has = |any: &[&str]| words.iter().any(|word| any.contains(&word.as_str()));
    let sideways = [
        "side",
        "lateral",
        "horizontal",
        "offline",
        "sideways",
        "azimuth",
    ];
    if has(&[
        "total",
        "time",
        "roll",
        "run",
        "smash",
        "lie",
        "normalised",
        "normalized",
    ]) && !has(&["spin"])
    {
        return None;
    }
    Some(if has(&["speed", "velocity"]) {
        match () {
            () if has(&["club", "head", "clubhead"]) => Column::ClubSpeed,
            () if has(&["ball"]) => Column::BallSpeed,
            () => return None,
        }
    } else if has(&["toe", "heel"]) || has(&["strike", "impact"]) && has(&sideways) {
        Column::TowardToe
    } else if has(&["loft"]) {
        return (has(&["dynamic"]) && !has(&["spin"])).then_some(Column::DynamicLoft);
    } else if has(&["spin", "backspin", "sidespin", "axis"]) {
        match () {
            () if has(&["axis", "tilt"]) => Column::SpinAxis,
            () if has(&["back", "backspin"]) => Column::BackSpin,
            () if has(&["side", "sidespin"]) => Column::SideSpin,
            () => Column::Spin,
        }
    } else if has(&["face"]) {
        if has(&["path"]) {
            Column::FaceToPath
        } else {
            Column::Face
        }
    } else if has(&["path"]) {
        Column::Path
    } else if has(&["attack", "aoa"]) {
        Column::Attack
    } else if has(&["carry"]) {
        if has(&sideways) || has(&["deviation"]) {
            Column::Side
        } else {
            Column::Carry
        }
    } else if has(&["launch", "start", "direction", "azimuth"]) && !has(&["swing", "club"]) {
        if has(&["direction", "line"]) || has(&sideways) {
            Column::StartDirection
        } else if has(&["launch"]) {
            Column::LaunchAngle
        } else {
            return None;
        }
    } else if has(&["apex", "height", "peak"]) {
        Column::Apex
    } else if has(&sideways) || has(&["deviation"]) {
        Column::Side
    } else if has(&["club"]) && words.len() <= 2 {
        Column::Club
    } else {
        return None;
    })
}

/// "BallSpeed [mph]" → ["ball", "speed"], mph.
fn words_and_unit(name: &str) -> (Vec<String>, Option<Unit>) {
    let mut unit = None;
    let mut bare = String::new();
    let mut rest = name;
    while let Some(open) = rest.find(['(', '[']) {
        let tail = &rest[open + 1..];
        let close = tail.find([')', ']']).unwrap_or(tail.len());
        unit = unit.or(Unit::read(&tail[..close]));
        bare.push_str(&rest[..open]);
        bare.push(' ');
        rest = tail.get(close + 1..).unwrap_or("");
    }
    bare.push_str(rest);
    let mut words: Vec<String> = split_words(&bare);
    if unit.is_none() {
        unit = trailing_unit(&mut words);
    }
    (words, unit)
}

/// A unit at the end of a name, in one word or two ("m", "m s", "km h").
fn trailing_unit(words: &mut Vec<String>) -> Option<Unit> {
    for count in [2, 1] {
        let Some(at) = words.len().checked_sub(count).filter(|at| *at > 0) else {
            continue;
        };
        if let Some(unit) = Unit::read(&words[at..].join("/")) {
            words.truncate(at);
            return Some(unit);
        }
    }
    None
}

/// Lower-case words of "BallSpeed", "ball_speed", "Ball-speed".
fn split_words(text: &str) -> Vec<String> {
    let mut spaced = String::new();
    let mut lower_before = false;
    for c in text.chars() {
        if c.is_uppercase() && lower_before {
            spaced.push(' ');
        }
        lower_before = c.is_lowercase();
        spaced.push(c);
    }
    spaced
        .to_lowercase()
        .split(|c: char| !(c.is_alphanumeric() || c == '°' || c == '/'))
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_read_by_their_meaning() {
        let cases = [
            (
                "Ball Speed (mph)",
                Some((Column::BallSpeed, Some(Unit::MilePerHour))),
            ),
            (
                "ball_speed_m_s",
                Some((Column::BallSpeed, Some(Unit::MetrePerSecond))),
            ),
            (
                "BallSpeed [km/h]",
                Some((Column::BallSpeed, Some(Unit::KilometrePerHour))),
            ),
            ("Clubhead speed", Some((Column::ClubSpeed, None))),
            ("Launch Angle", Some((Column::LaunchAngle, None))),
            (
                "launch_deg",
                Some((Column::LaunchAngle, Some(Unit::Degree))),
            ),
            (
                "Launch direction (deg)",
                Some((Column::StartDirection, Some(Unit::Degree))),
            ),
            ("Horizontal launch", Some((Column::StartDirection, None))),
            ("DirectionAngle", Some((Column::StartDirection, None))),
            ("Spin Rate [rpm]", Some((Column::Spin, Some(Unit::Rpm)))),
            ("Total spin", Some((Column::Spin, None))),
            ("SpinBack", Some((Column::BackSpin, None))),
            ("Side spin", Some((Column::SideSpin, None))),
            ("Spin axis, °", Some((Column::SpinAxis, Some(Unit::Degree)))),
            ("Carry (yd)", Some((Column::Carry, Some(Unit::Yard)))),
            ("carry side m", Some((Column::Side, Some(Unit::Metre)))),
            ("Max height [ft]", Some((Column::Apex, Some(Unit::Foot)))),
            ("Angle of attack", Some((Column::Attack, None))),
            ("Club path", Some((Column::Path, None))),
            ("Face angle", Some((Column::Face, None))),
            ("Face to path", Some((Column::FaceToPath, None))),
            ("Dynamic loft", Some((Column::DynamicLoft, None))),
            (
                "Strike toward toe (mm)",
                Some((Column::TowardToe, Some(Unit::Millimetre))),
            ),
            ("ClubType", Some((Column::Club, None))),
            ("Spin loft", None),
            ("Total distance", None),
            ("Smash factor", None),
            ("Flight time", None),
            ("Date", None),
        ];
        for (name, means) in cases {
            assert_eq!(Column::read(name), means, "{name:?}");
        }
    }
}
