//! Words with numbers, for a player's hand: fills `{lead}`, `{trail}`, `{value}`, `{band}`.
//!
//! Lengths are said in centimetres and inches, turns in whole degrees, ratios to one decimal.
//! Signs become words ("toward the target", "behind"), so that nobody has to know them.

use lessonwright_model::{Hand, MeasureName, Unit, units};

/// The words and numbers that fill a template.
pub(crate) struct Filling {
    lead: &'static str,
    trail: &'static str,
    value: Option<String>,
    band: Option<String>,
}

impl Filling {
    /// Words for a hand, without numbers.
    pub(crate) fn of(hand: Hand) -> Filling {
        let (lead, trail) = match hand {
            Hand::Right => ("left", "right"),
            Hand::Left => ("right", "left"),
        };
        Filling {
            lead,
            trail,
            value: None,
            band: None,
        }
    }

    /// Words for a hand with a measured value and its reference band, in the measure's unit.
    pub(crate) fn with_numbers(
        hand: Hand,
        name: MeasureName,
        value: f64,
        band: (f64, f64),
    ) -> Filling {
        Filling {
            value: Some(directed(name, value)),
            band: Some(range(name, band.0, band.1)),
            ..Filling::of(hand)
        }
    }

    /// The template with every placeholder replaced. A placeholder that [`check_template`]
    /// refuses, or a number that was not given, stays as it is.
    pub(crate) fn fill(&self, template: &str) -> String {
        let mut text = template
            .replace("{lead}", self.lead)
            .replace("{trail}", self.trail)
            .replace("{Lead}", &capital(self.lead))
            .replace("{Trail}", &capital(self.trail));
        if let Some(value) = &self.value {
            text = text.replace("{value}", value);
        }
        if let Some(band) = &self.band {
            text = text.replace("{band}", band);
        }
        text
    }
}

/// Which placeholders a template may have.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Placeholders {
    /// Sides only.
    Sides,
    /// Sides, the measured value and the band.
    SidesAndNumbers,
}

/// What is wrong with a template, if anything.
pub(crate) fn check_template(template: &str, allowed: Placeholders) -> Result<(), String> {
    if template.trim().is_empty() {
        return Err("the text is empty".into());
    }
    let mut rest = template;
    while let Some(open) = rest.find(['{', '}']) {
        let tail = &rest[open..];
        let Some(close) = tail.find('}').filter(|&at| at > 0) else {
            return Err(format!("a brace without its partner in \"{template}\""));
        };
        let name = &tail[1..close];
        let known = match name {
            "lead" | "trail" | "Lead" | "Trail" => true,
            "value" | "band" => allowed == Placeholders::SidesAndNumbers,
            _ => false,
        };
        if !known {
            return Err(format!(
                "{{{name}}} is no known placeholder; use {{lead}}, {{trail}}, {{Lead}}, {{Trail}}{}",
                match allowed {
                    Placeholders::Sides => "",
                    Placeholders::SidesAndNumbers => ", {value} or {band}",
                }
            ));
        }
        rest = &tail[close + 1..];
    }
    Ok(())
}

/// A number with its direction in words: "4.0 cm (1.6 in) behind", "12° more closed".
pub(crate) fn directed(name: MeasureName, value: f64) -> String {
    let size = amount(name, value.abs());
    // A value that rounds to nothing has no direction worth saying a minus for.
    let minus = value < 0.0 && size != amount(name, 0.0);
    match (name, minus) {
        (MeasureName::TrailElbowAhead, false) => format!("{size} in front of"),
        (MeasureName::TrailElbowAhead, true) => format!("{size} behind"),
        _ => {
            let word = name.directions()[usize::from(minus)];
            format!("{size} {word}").trim_end().to_owned()
        }
    }
}

/// A plain signed number: "−1.2 cm (−0.5 in)", "15°", "2.1".
pub(crate) fn amount(name: MeasureName, value: f64) -> String {
    match name.unit() {
        Unit::Centimetre => format!(
            "{} cm ({} in)",
            number(value, 1),
            number(units::inches(value), 1)
        ),
        Unit::Degree => format!("{}°", number(value, 0)),
        Unit::Second => format!("{} s", number(value, 2)),
        Unit::One => number(value, 1),
        Unit::Percent => format!("{} %", number(value, 0)),
    }
}

/// A band or interval: "2.5 to 10.7 cm (1.0 to 4.2 in)", "−10 to 10°".
pub(crate) fn range(name: MeasureName, low: f64, high: f64) -> String {
    let pair = |scale: fn(f64) -> f64, digits| {
        format!(
            "{} to {}",
            number(scale(low), digits),
            number(scale(high), digits)
        )
    };
    match name.unit() {
        Unit::Centimetre => format!("{} cm ({} in)", pair(|x| x, 1), pair(units::inches, 1)),
        Unit::Degree => format!("{}°", pair(|x| x, 0)),
        Unit::Second => format!("{} s", pair(|x| x, 2)),
        Unit::One => pair(|x| x, 1),
        Unit::Percent => format!("{} %", pair(|x| x, 0)),
    }
}

/// Names joined as in a sentence: "a, b and c".
pub(crate) fn listed(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// With the true minus sign, and no minus before a zero.
fn number(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    match text.strip_prefix('-') {
        Some(size) if size.chars().all(|c| matches!(c, '0' | '.')) => size.to_string(),
        Some(size) => format!("−{size}"),
        None => text,
    }
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// A template as professionals say it, whatever the hand.
pub fn sides_as_said(template: &str) -> String {
    let said = [
        ("{lead}", "lead"),
        ("{trail}", "trail"),
        ("{Lead}", "Lead"),
        ("{Trail}", "Trail"),
    ];
    said.iter().fold(template.to_owned(), |text, (side, word)| {
        text.replace(side, word)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_said_in_both_units() {
        // 2 in = 5.08 cm exactly (international inch of 1959).
        assert_eq!(amount(MeasureName::PelvisShift, 5.08), "5.1 cm (2.0 in)");
        assert_eq!(
            range(MeasureName::PelvisShift, -2.54, 10.16),
            "−2.5 to 10.2 cm (−1.0 to 4.0 in)"
        );
    }

    #[test]
    fn signs_become_words() {
        let cases = [
            (
                MeasureName::PelvisShift,
                -1.0,
                "1.0 cm (0.4 in) away from the target",
            ),
            (
                MeasureName::PelvisShift,
                -0.01,
                "0.0 cm (0.0 in) toward the target",
            ),
            (MeasureName::KneeLineTurn, -12.4, "12° more closed"),
            (MeasureName::KneeLineTurn, 12.6, "13° more open"),
            (MeasureName::TrailElbowAhead, -4.0, "4.0 cm (1.6 in) behind"),
            (MeasureName::TempoRatio, 2.14, "2.1"),
        ];
        for (name, value, says) in cases {
            assert_eq!(directed(name, value), says);
        }
    }

    #[test]
    fn sides_follow_the_hand() {
        let template = "{Lead} arm, {trail} elbow";
        assert_eq!(
            Filling::of(Hand::Right).fill(template),
            "Left arm, right elbow"
        );
        assert_eq!(
            Filling::of(Hand::Left).fill(template),
            "Right arm, left elbow"
        );
    }

    #[test]
    fn a_wrong_placeholder_is_refused() {
        assert!(check_template("{lead} {value}", Placeholders::SidesAndNumbers).is_ok());
        for bad in [
            "",
            "  ",
            "{led} arm",
            "{lead arm",
            "lead} arm",
            "{lead} {value}",
        ] {
            assert!(check_template(bad, Placeholders::Sides).is_err(), "{bad}");
        }
    }
}
