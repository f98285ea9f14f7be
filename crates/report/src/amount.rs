//! Numbers as people read them: rounded, without a sign, in the player's unit of length.
//!
//! A sign becomes a direction that the template words ("toward the target"), since "−4.1" tells a
//! player nothing.

use askama::Template;
use askama::filters::HtmlSafe;
use lessonwright_language::{Text, t, words};
pub use lessonwright_model::Units;
use lessonwright_model::{MeasureName, Unit, units};

/// Which way a number points, after rounding to what is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// As the measure's plus.
    Plus,
    /// As the measure's minus.
    Minus,
    /// Rounds to nought.
    Nil,
}

/// A number without its sign, with its unit, and the same in the other unit of length. In a page it
/// is HTML text: "4.1 cm (1.6 in) toward the target".
#[derive(Clone, Debug, PartialEq, Template)]
#[template(path = "amount.html")]
pub struct Amount {
    /// The measure, for the wording of the direction.
    pub measure: MeasureName,
    /// Which way it points.
    pub direction: Direction,
    /// Digits in the first unit, without a sign.
    pub number: String,
    /// The first unit: "cm", "in", "°", "s", "%" or nothing for a ratio.
    pub unit: &'static str,
    /// Digits and unit in the other unit of length.
    pub other: Option<(String, &'static str)>,
}

impl Amount {
    /// A value in the measure's own unit (cm, degrees, seconds or a ratio).
    pub fn new(measure: MeasureName, value: f64, units: Units) -> Amount {
        let shown = Shown::of(measure.unit(), units);
        let number = digits(value.abs() * shown.factor, shown.decimals);
        if number.bytes().all(|b| matches!(b, b'0' | b'.')) {
            return Amount {
                measure,
                direction: Direction::Nil,
                number: "0".into(),
                unit: shown.unit,
                other: None,
            };
        }
        let other = (measure.unit() == Unit::Centimetre).then(|| {
            let shown = Shown::of(Unit::Centimetre, units.other());
            let number = digits(value.abs() * shown.factor, shown.decimals);
            (number, shown.unit)
        });
        Amount {
            measure,
            direction: if value > 0.0 {
                Direction::Plus
            } else {
                Direction::Minus
            },
            number,
            unit: shown.unit,
            other,
        }
    }
}

impl Amount {
    /// Number and unit: "4.1 cm", "15°", "2.1 to 1".
    pub fn figure(&self) -> Text {
        match self.unit {
            "" => Text::joined([Text::figure(&self.number), t("lesson-to-one")], NO_BREAK),
            unit => with_unit(&self.number, unit),
        }
    }

    /// The same in the other unit of length, in brackets.
    pub(crate) fn in_brackets(&self) -> Option<Text> {
        let (digits, unit) = self.other.as_ref()?;
        let brackets = [Text::plain("("), with_unit(digits, unit), Text::plain(")")];
        Some(Text::joined(brackets, ""))
    }

    /// Which way it points: "toward the target".
    pub(crate) fn way(&self) -> Option<Text> {
        way(self.measure, self.direction)
    }

    /// What follows number and unit.
    pub(crate) fn rest(&self) -> Text {
        Text::joined(self.in_brackets().into_iter().chain(self.way()), " ")
    }

    /// In full: "4.1 cm (1.6 in) toward the target".
    pub fn text(&self) -> Text {
        let rest = self.in_brackets().into_iter().chain(self.way());
        Text::joined([self.figure()].into_iter().chain(rest), " ")
    }

    /// Number, unit and way alone.
    pub(crate) fn without_the_other_unit(&self) -> Text {
        Text::joined([self.figure()].into_iter().chain(self.way()), " ")
    }

    /// A size without a direction: "1.8 cm (0.7 in)"; a ratio is its number alone.
    pub(crate) fn size(&self) -> Text {
        let figure = match self.unit {
            "" => Text::figure(&self.number),
            "%" => Text::joined([Text::figure(&self.number), Text::plain("%")], ""),
            unit => with_unit(&self.number, unit),
        };
        Text::joined([figure].into_iter().chain(self.in_brackets()), " ")
    }
}

/// A space at which no line ends.
const NO_BREAK: &str = "\u{a0}";

fn with_unit(digits: &str, unit: &str) -> Text {
    let (unit, between) = match unit {
        "°" => (Text::plain(unit), ""),
        "in" => (t("lesson-inch"), NO_BREAK),
        unit => (Text::plain(unit), NO_BREAK),
    };
    Text::joined([Text::figure(digits), unit], between)
}

/// The words of a direction, where a measure has one.
pub(crate) fn way(measure: MeasureName, direction: Direction) -> Option<Text> {
    match (measure, direction) {
        (
            MeasureName::PelvisPeak
            | MeasureName::ChestPeak
            | MeasureName::LeadArmPeak
            | MeasureName::HandsPeak,
            Direction::Nil,
        ) => Some(t("word-at-impact")),
        (_, Direction::Nil) => None,
        (MeasureName::KneeLineTurn, Direction::Plus) => Some(t("lesson-way-open")),
        (MeasureName::KneeLineTurn, Direction::Minus) => Some(t("lesson-way-closed")),
        (measure, direction) => words::way(measure, direction == Direction::Plus),
    }
}

/// A 95 % interval as people read it. In a page it is HTML text.
#[derive(Clone, Debug, PartialEq, Template)]
#[template(path = "spread.html")]
pub enum Spread {
    /// "± 1.2": both ends lie as far from the value, as far as rounding shows.
    PlusMinus(Amount),
    /// "between … and …".
    Between(Amount, Amount),
}

impl Spread {
    /// The interval around `value`, in the measure's own unit.
    pub fn new(measure: MeasureName, value: f64, low: f64, high: f64, units: Units) -> Spread {
        let below = Amount::new(measure, value - low, units);
        let above = Amount::new(measure, high - value, units);
        if below.number == above.number {
            Spread::PlusMinus(above)
        } else {
            Spread::Between(
                Amount::new(measure, low, units),
                Amount::new(measure, high, units),
            )
        }
    }
}

impl Spread {
    /// "± 1.2 cm", "between 0.3 cm away from the target and 2.0 cm toward the target".
    pub fn text(&self) -> Text {
        match self {
            Spread::PlusMinus(amount) => {
                let half = match amount.unit {
                    "" => Text::figure(&amount.number),
                    unit => with_unit(&amount.number, unit),
                };
                Text::joined([Text::plain("±"), half], NO_BREAK)
            }
            Spread::Between(low, high) => t("lesson-between")
                .with("low", low.without_the_other_unit())
                .with("high", high.without_the_other_unit()),
        }
    }
}

// Both are written by templates that escape what they are given.
impl HtmlSafe for Amount {}
impl HtmlSafe for Spread {}

/// How a unit is shown: what to multiply by, and how many decimals mean anything.
pub(crate) struct Shown {
    pub factor: f64,
    pub decimals: usize,
    pub unit: &'static str,
}

impl Shown {
    /// Decimals: measures from phone film are good to about 1 cm, a few degrees and some
    /// hundredths of a second; one digit below that keeps ± readable.
    pub fn of(unit: Unit, units: Units) -> Shown {
        let (factor, decimals, unit) = match (unit, units) {
            (Unit::Centimetre, Units::Centimetres) => (1.0, 1, "cm"),
            (Unit::Centimetre, Units::Inches) => (1.0 / units::CM_PER_INCH, 1, "in"),
            (Unit::Degree, _) => (1.0, 0, "°"),
            (Unit::Second, _) => (1.0, 2, "s"),
            (Unit::One, _) => (1.0, 1, ""),
            (Unit::Percent, _) => (1.0, 0, "%"),
        };
        Shown {
            factor,
            decimals,
            unit,
        }
    }
}

fn digits(value: f64, decimals: usize) -> String {
    format!("{value:.decimals$}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_is_said_in_both_units() {
        // 4.064 cm is 1.6 in by the definition of the inch.
        let cm = Amount::new(MeasureName::PelvisShift, -4.064, Units::Centimetres);
        assert_eq!((cm.number.as_str(), cm.unit), ("4.1", "cm"));
        assert_eq!(cm.other, Some(("1.6".into(), "in")));
        assert_eq!(cm.direction, Direction::Minus);
        let inches = Amount::new(MeasureName::PelvisShift, 4.064, Units::Inches);
        assert_eq!((inches.number.as_str(), inches.unit), ("1.6", "in"));
        assert_eq!(inches.other, Some(("4.1".into(), "cm")));
        assert_eq!(inches.direction, Direction::Plus);
    }

    #[test]
    fn what_rounds_to_nought_has_no_direction() {
        for value in [0.04, -0.04, 0.0, -0.0] {
            let amount = Amount::new(MeasureName::PelvisShift, value, Units::Centimetres);
            assert_eq!(amount.direction, Direction::Nil, "{value}");
            assert_eq!((amount.number.as_str(), amount.other), ("0", None));
        }
        let turn = Amount::new(MeasureName::KneeLineTurn, 0.4, Units::Centimetres);
        assert_eq!(turn.way(), None);
        assert_eq!((turn.direction, turn.other), (Direction::Nil, None));
        // A time before or after impact is at impact then.
        let hands = Amount::new(MeasureName::HandsPeak, -0.004, Units::Centimetres);
        assert_eq!(hands.way(), Some(t("word-at-impact")));
    }

    #[test]
    fn an_even_interval_is_plus_minus_and_a_skewed_one_is_between() {
        let even = Spread::new(MeasureName::PelvisShift, 1.0, -0.2, 2.2, Units::Centimetres);
        assert!(matches!(even, Spread::PlusMinus(a) if a.number == "1.2"));
        let skewed = Spread::new(MeasureName::PelvisShift, 1.0, -1.0, 2.0, Units::Centimetres);
        let Spread::Between(low, high) = skewed else {
            panic!("a skewed interval");
        };
        assert_eq!(low.direction, Direction::Minus);
        assert_eq!(high.number, "2.0");
    }
}
