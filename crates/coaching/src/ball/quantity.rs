//! Numbers as people and devices write them: "71,5 m/s", "160 mph", "3.2 L", "2,650 rpm".

use serde::Serialize;

/// What a number is a number of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// m/s inside.
    Speed,
    /// m inside.
    Length,
    /// rad inside.
    Angle,
    /// rad/s inside.
    Spin,
}

/// A unit, with what it is worth inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[expect(missing_docs, reason = "units by their names")]
pub enum Unit {
    #[serde(rename = "m/s")]
    MetrePerSecond,
    #[serde(rename = "km/h")]
    KilometrePerHour,
    #[serde(rename = "mph")]
    MilePerHour,
    #[serde(rename = "ft/s")]
    FootPerSecond,
    #[serde(rename = "m")]
    Metre,
    #[serde(rename = "yd")]
    Yard,
    #[serde(rename = "ft")]
    Foot,
    #[serde(rename = "in")]
    Inch,
    #[serde(rename = "cm")]
    Centimetre,
    #[serde(rename = "mm")]
    Millimetre,
    #[serde(rename = "°")]
    Degree,
    #[serde(rename = "rpm")]
    Rpm,
}

/// Metres in a foot: exact, international foot of 1959.
const FOOT_M: f64 = 0.3048;

impl Unit {
    /// A unit by its usual names.
    pub fn read(text: &str) -> Option<Unit> {
        let name: String = text
            .to_lowercase()
            .chars()
            .filter(|c| !c.is_whitespace() && *c != '.')
            .collect();
        Some(match name.as_str() {
            "m/s" | "mps" | "ms" | "m·s⁻¹" | "metres/s" | "meters/s" => Unit::MetrePerSecond,
            "km/h" | "kmh" | "kph" => Unit::KilometrePerHour,
            "mph" | "mi/h" | "miles/h" => Unit::MilePerHour,
            "ft/s" | "fps" => Unit::FootPerSecond,
            "m" | "metre" | "metres" | "meter" | "meters" | "mtr" => Unit::Metre,
            "y" | "yd" | "yds" | "yard" | "yards" => Unit::Yard,
            "ft" | "feet" | "foot" | "'" => Unit::Foot,
            "in" | "inch" | "inches" | "\"" => Unit::Inch,
            "cm" => Unit::Centimetre,
            "mm" => Unit::Millimetre,
            "°" | "deg" | "degs" | "degree" | "degrees" => Unit::Degree,
            "rpm" | "r/min" | "rev/min" | "1/min" => Unit::Rpm,
            _ => return None,
        })
    }

    /// What it measures.
    pub fn kind(self) -> Kind {
        match self {
            Unit::MetrePerSecond
            | Unit::KilometrePerHour
            | Unit::MilePerHour
            | Unit::FootPerSecond => Kind::Speed,
            Unit::Degree => Kind::Angle,
            Unit::Rpm => Kind::Spin,
            _ => Kind::Length,
        }
    }

    /// SI (m, m/s, rad, rad/s) in one of it.
    pub fn si(self) -> f64 {
        match self {
            Unit::MetrePerSecond | Unit::Metre => 1.0,
            Unit::KilometrePerHour => 1.0 / 3.6,
            Unit::MilePerHour => 5280.0 * FOOT_M / 3600.0,
            Unit::FootPerSecond | Unit::Foot => FOOT_M,
            Unit::Yard => 3.0 * FOOT_M,
            Unit::Inch => FOOT_M / 12.0,
            Unit::Centimetre => 0.01,
            Unit::Millimetre => 0.001,
            Unit::Degree => std::f64::consts::PI / 180.0,
            Unit::Rpm => std::f64::consts::TAU / 60.0,
        }
    }
}

/// What a comma in a number is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Comma {
    Decimal,
    Thousands,
}

impl Comma {
    /// By the cells of a table: a comma that no thousands could have makes all of them decimal.
    /// Undecided, it parts thousands where it also parts cells, and decimals elsewhere.
    pub(super) fn of<'a>(mut cells: impl Iterator<Item = &'a str>, parts_cells: bool) -> Comma {
        let decimal = cells.any(is_plainly_decimal);
        if decimal || !parts_cells {
            Comma::Decimal
        } else {
            Comma::Thousands
        }
    }
}

/// "71,5", "2650,123", "0,125", but not "2,650" nor "1,234.5".
fn is_plainly_decimal(cell: &str) -> bool {
    let Some((before, after)) = cell.split_once(',') else {
        return false;
    };
    let end = after
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, ',' | '.')))
        .unwrap_or(after.len());
    let after = &after[..end];
    let ahead = before.trim_start_matches(|c: char| !c.is_ascii_digit());
    let may_be_thousands = after.len() == 3 && (1..=3).contains(&ahead.len()) && ahead != "0";
    !after.is_empty() && after.chars().all(|c| c.is_ascii_digit()) && !may_be_thousands
}

/// One number as somebody typed it, in SI; + right, up or toward the toe. Angles without a unit are
/// degrees, spin is rpm.
///
/// # Errors
/// What is wrong with the text.
pub fn read_quantity(text: &str, kind: Kind) -> Result<f64, String> {
    let (unit, example) = match kind {
        Kind::Speed => (None, "70 m/s, 250 km/h or 157 mph"),
        Kind::Length => (None, "180 m, 197 yd or 12 mm"),
        Kind::Angle => (Some(Unit::Degree), "2.5 L"),
        Kind::Spin => (Some(Unit::Rpm), "2700"),
    };
    let comma = Comma::of(std::iter::once(text), kind == Kind::Spin);
    read(text, kind, unit, comma).map_err(|problem| format!("{problem}: write it as {example}"))
}

/// A number in SI, + right, up or toward the toe. `unit` is the column's; a unit in the text goes
/// before it.
///
/// # Errors
/// What is wrong with the text, to be put after its place.
pub(super) fn read(
    text: &str,
    kind: Kind,
    unit: Option<Unit>,
    comma: Comma,
) -> Result<f64, String> {
    let plain = text.replace('−', "-");
    let is_number = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+');
    let first = plain
        .find(is_number)
        .ok_or_else(|| format!("\"{text}\" is no number"))?;
    let rest = &plain[first..];
    let end = rest.find(|c| !is_number(c)).unwrap_or(rest.len());
    let (digits, after) = rest.split_at(end);
    let number = number(digits, comma).ok_or_else(|| format!("\"{text}\" is no number"))?;

    let mut side = 1.0;
    let mut stated = unit;
    for word in words(&plain[..first]).chain(words(after)) {
        match side_of(&word, kind) {
            Some(_) if number < 0.0 => {
                return Err(format!("\"{text}\" has both a minus and a side: keep one"));
            }
            Some(sign) => side = sign,
            None => {
                let unit = Unit::read(&word).ok_or_else(|| {
                    format!("\"{word}\" in \"{text}\" is neither a unit nor a side")
                })?;
                if unit.kind() != kind {
                    return Err(format!("\"{word}\" is no unit of it"));
                }
                stated = Some(unit);
            }
        }
    }
    let unit = stated.ok_or("no unit")?;
    Ok(side * number * unit.si())
}

/// Words between spaces and brackets; "m / s" stays one.
fn words(text: &str) -> impl Iterator<Item = String> + '_ {
    let joined = text.replace(" / ", "/");
    joined
        .split(|c: char| c.is_whitespace() || matches!(c, '(' | ')' | '[' | ']'))
        .flat_map(split_degrees)
        .filter(|word| !word.is_empty())
        .collect::<Vec<_>>()
        .into_iter()
}

/// "°L" → "°", "L".
fn split_degrees(word: &str) -> Vec<String> {
    match word.strip_prefix('°') {
        Some(side) if !side.is_empty() => vec!["°".into(), side.into()],
        _ => vec![word.into()],
    }
}

fn side_of(word: &str, kind: Kind) -> Option<f64> {
    match (word.to_lowercase().as_str(), kind) {
        (_, Kind::Speed) => None,
        ("r" | "right", _) | ("toe" | "t", Kind::Length) | ("up", Kind::Angle) => Some(1.0),
        ("l" | "left", _) | ("heel" | "h", Kind::Length) | ("down", Kind::Angle) => Some(-1.0),
        _ => None,
    }
}

fn number(digits: &str, comma: Comma) -> Option<f64> {
    let plain = match comma {
        // The last of the two marks is the decimal one: "1,234.5", "1.234,5".
        _ if digits.contains(',') && digits.contains('.') => {
            if digits.rfind(',') > digits.rfind('.') {
                digits.replace('.', "").replace(',', ".")
            } else {
                digits.replace(',', "")
            }
        }
        Comma::Decimal if digits.matches(',').count() == 1 => digits.replace(',', "."),
        _ => digits.replace(',', ""),
    };
    plain.parse().ok().filter(|number: &f64| number.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_as_people_write_them() {
        // 1 mph = 0.44704 m/s, 1 yd = 0.9144 m: exact by definition (1959).
        let decimal = Comma::Decimal;
        let cases = [
            ("160 mph", Kind::Speed, None, decimal, 160.0 * 0.447_04),
            (
                "71,5",
                Kind::Speed,
                Some(Unit::MetrePerSecond),
                decimal,
                71.5,
            ),
            ("180km/h", Kind::Speed, None, decimal, 50.0),
            (
                "3.2 L",
                Kind::Angle,
                Some(Unit::Degree),
                decimal,
                -3.2_f64.to_radians(),
            ),
            (
                "L 3.2",
                Kind::Angle,
                Some(Unit::Degree),
                decimal,
                -3.2_f64.to_radians(),
            ),
            (
                "3.2° left",
                Kind::Angle,
                None,
                decimal,
                -3.2_f64.to_radians(),
            ),
            ("3,2°R", Kind::Angle, None, decimal, 3.2_f64.to_radians()),
            (
                "−1.5",
                Kind::Angle,
                Some(Unit::Degree),
                decimal,
                -1.5_f64.to_radians(),
            ),
            ("200 yd", Kind::Length, Some(Unit::Metre), decimal, 182.88),
            (
                "2,650 rpm",
                Kind::Spin,
                None,
                Comma::Thousands,
                2650.0 * Unit::Rpm.si(),
            ),
            (
                "1.234,5",
                Kind::Spin,
                Some(Unit::Rpm),
                decimal,
                1234.5 * Unit::Rpm.si(),
            ),
            (
                "1,234.5",
                Kind::Spin,
                Some(Unit::Rpm),
                decimal,
                1234.5 * Unit::Rpm.si(),
            ),
            ("7 mm heel", Kind::Length, None, decimal, -0.007),
        ];
        for (text, kind, unit, comma, si) in cases {
            let value = read(text, kind, unit, comma).unwrap();
            assert!(
                (value - si).abs() < 1e-9 * si.abs(),
                "{text}: {value}, not {si}"
            );
        }
    }

    #[test]
    fn what_is_no_number_is_told() {
        let cases = [
            ("fast", Kind::Speed, "no number"),
            ("160", Kind::Speed, "no unit"),
            ("160 mpg", Kind::Speed, "mpg"),
            ("160 yd", Kind::Speed, "no unit of it"),
            ("-3 L", Kind::Angle, "both"),
            ("1-2 mph", Kind::Speed, "no number"),
        ];
        for (text, kind, says) in cases {
            let problem = read(text, kind, None, Comma::Decimal).unwrap_err();
            assert!(problem.contains(says), "{text}: {problem}");
        }
    }

    #[test]
    fn a_tables_comma_is_told_by_its_cells() {
        let of = |cells: &[&str], parts_cells| Comma::of(cells.iter().copied(), parts_cells);
        assert_eq!(of(&["2,650", "71.5"], true), Comma::Thousands);
        assert_eq!(of(&["71,5", "2,650"], true), Comma::Decimal);
        assert_eq!(of(&["2650,123"], false), Comma::Decimal);
        assert_eq!(of(&["0,125"], true), Comma::Decimal);
    }
}
