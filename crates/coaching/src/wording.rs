//! Words with numbers, for a player's hand: fills `{lead}`, `{trail}`, `{value}`, `{band}`.
//!
//! Lengths are said in centimetres and inches, turns in whole degrees, ratios to one decimal.
//! Signs become words ("toward the target", "behind"), so that nobody has to know them.

use lessonwright_language::{Language, Say, Text, t, words};
use lessonwright_model::{Hand, MeasureName, Unit, units};

/// The words and numbers that fill a template.
pub(crate) struct Filling {
    lead: Side,
    trail: Side,
    value: Option<String>,
    band: Option<String>,
}

/// A side's word. German inflects it, so a template has the ending behind the placeholder and gets the stem: "{lead}e
/// Hüfte", "nach {trail}s". One without an ending is English.
#[derive(Clone, Copy)]
struct Side {
    english: &'static str,
    german_stem: &'static str,
}

const LEFT: Side = Side {
    english: "left",
    german_stem: "link",
};

const RIGHT: Side = Side {
    english: "right",
    german_stem: "recht",
};

impl Side {
    fn in_language(self, language: Language) -> &'static str {
        match language {
            Language::English => self.english,
            Language::German => self.german_stem,
        }
    }

    fn fill(self, template: &str, place: &str, written: fn(&str) -> String) -> String {
        let mut parts = template.split(place);
        let mut text = parts.next().unwrap_or_default().to_owned();
        for part in parts {
            let inflected = part.starts_with(|c: char| c.is_ascii_lowercase());
            let word = if inflected {
                self.german_stem
            } else {
                self.english
            };
            text.push_str(&written(word));
            text.push_str(part);
        }
        text
    }
}

impl Filling {
    /// Words for a hand, without numbers.
    pub(crate) fn of(hand: Hand) -> Filling {
        let (lead, trail) = match hand {
            Hand::Right => (LEFT, RIGHT),
            Hand::Left => (RIGHT, LEFT),
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
        language: Language,
        name: MeasureName,
        value: f64,
        band: (f64, f64),
    ) -> Filling {
        let say = Say::new(language);
        Filling {
            value: Some(say.text(&directed(name, value))),
            band: Some(say.text(&range(name, band.0, band.1))),
            ..Filling::of(hand)
        }
    }

    /// A sentence of the catalogue that names the trail side.
    pub(crate) fn trail(&self, text: Text, language: Language) -> Text {
        text.with("trail", self.trail.in_language(language))
    }

    /// The template with every placeholder replaced. A placeholder that [`check_template`]
    /// refuses, or a number that was not given, stays as it is.
    pub(crate) fn fill(&self, template: &str) -> String {
        let mut text = template.to_owned();
        for (side, places) in [
            (self.lead, ["{lead}", "{Lead}"]),
            (self.trail, ["{trail}", "{Trail}"]),
        ] {
            text = side.fill(&text, places[0], str::to_owned);
            text = side.fill(&text, places[1], capital);
        }
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
                "{{{name}}} is no known placeholder: choose from {{lead}}, {{trail}}, {{Lead}}, {{Trail}}{}",
                match allowed {
                    Placeholders::Sides => "",
                    Placeholders::SidesAndNumbers => ", {value}, {band}",
                }
            ));
        }
        rest = &tail[close + 1..];
    }
    Ok(())
}

/// A number with its direction in words: "4.0 cm (1.6 in) behind", "12° more closed".
pub(crate) fn directed(name: MeasureName, value: f64) -> Text {
    let size = amount(name, value.abs());
    // A value that rounds to nothing has no direction worth saying a minus for.
    let minus = value < 0.0 && size != amount(name, 0.0);
    match name {
        MeasureName::TrailElbowAhead if minus => t("coaching-behind").with("amount", size),
        MeasureName::TrailElbowAhead => t("coaching-in-front").with("amount", size),
        _ => match words::way(name, !minus) {
            Some(way) => Text::joined([size, way], " "),
            None => size,
        },
    }
}

/// A plain signed number: "−1.2 cm (−0.5 in)", "15°", "2.1".
pub(crate) fn amount(name: MeasureName, value: f64) -> Text {
    in_unit(name, |factor, digits| {
        Text::figure(number(factor * value, digits))
    })
}

/// A band or interval: "2.5 to 10.7 cm (1.0 to 4.2 in)", "−10 to 10°".
pub(crate) fn range(name: MeasureName, low: f64, high: f64) -> Text {
    in_unit(name, |factor, digits| {
        t("coaching-band")
            .with("low", Text::figure(number(factor * low, digits)))
            .with("high", Text::figure(number(factor * high, digits)))
    })
}

/// What is said of a number in a measure's unit; `said` is given what to multiply by and how many decimals.
fn in_unit(name: MeasureName, said: impl Fn(f64, usize) -> Text) -> Text {
    let followed = |digits, unit: &str| Text::joined([said(1.0, digits), Text::plain(unit)], "");
    match name.unit() {
        Unit::Centimetre => t("coaching-length")
            .with("cm", said(1.0, 1))
            .with("inches", said(1.0 / units::CM_PER_INCH, 1)),
        Unit::Degree => followed(0, "°"),
        Unit::Second => followed(2, " s"),
        Unit::One => said(1.0, 1),
        Unit::Percent => followed(0, " %"),
    }
}

/// Names joined as in a sentence: "a, b and c".
pub(crate) fn listed(items: &[String], say: Say) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => say.text(
            &t("coaching-and")
                .with("first", first.join(", "))
                .with("last", last),
        ),
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

/// The same in a language. German inflects the words, so there the sides are a right-hander's.
pub fn sides_as_said_in(language: Language, template: &str) -> String {
    match language {
        Language::English => sides_as_said(template),
        Language::German => Filling::of(Hand::Right).fill(template),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_said_in_both_units() {
        // 2 in = 5.08 cm exactly (international inch of 1959).
        let say = |text| Language::ALL.map(|language| Say::new(language).text(&text));
        assert_eq!(
            say(amount(MeasureName::PelvisShift, 5.08)),
            ["5.1 cm (2.0 in)", "5,1 cm (2,0 Zoll)"]
        );
        assert_eq!(
            say(range(MeasureName::PelvisShift, -2.54, 10.16)),
            [
                "−2.5 to 10.2 cm (−1.0 to 4.0 in)",
                "−2,5 bis 10,2 cm (−1,0 bis 4,0 Zoll)"
            ]
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
            assert_eq!(Say::default().text(&directed(name, value)), says);
        }
    }

    #[test]
    fn sides_follow_the_hand() {
        for (template, right, left) in [
            (
                "{Lead} arm, {trail} elbow",
                "Left arm, right elbow",
                "Right arm, left elbow",
            ),
            (
                "{Lead}er Arm, nach {trail}s",
                "Linker Arm, nach rechts",
                "Rechter Arm, nach links",
            ),
        ] {
            assert_eq!(Filling::of(Hand::Right).fill(template), right);
            assert_eq!(Filling::of(Hand::Left).fill(template), left);
        }
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
