//! What is filled in about a ball: choices and numbers as typed, and the ball they make.

use lessonwright_coaching::ball::{
    ClubKind, Curve, Kind, Measured, SeenBall, Start, read_quantity,
};
use lessonwright_language::{Text, t};
use lessonwright_model::Hand;
use serde::Deserialize;
use serde::de::IntoDeserializer;
use serde::de::value::{Error as NotOffered, StrDeserializer};
use std::collections::BTreeMap;

/// A field in which one of several is chosen: its name, the message that is its label, and value and message of each.
pub struct ChoiceField {
    pub name: &'static str,
    pub label: &'static str,
    pub offered: &'static [(&'static str, &'static str)],
}

/// A field in which a number is typed: its name, the message that is its label, and an example.
pub struct NumberField {
    pub name: &'static str,
    pub label: &'static str,
    pub example: &'static str,
}

const fn number(name: &'static str, label: &'static str, example: &'static str) -> NumberField {
    NumberField {
        name,
        label,
        example,
    }
}

/// Asked for when the player's hand is not on record.
pub const HAND: ChoiceField = ChoiceField {
    name: "hand",
    label: "ball-plays",
    offered: &[("right", "ball-plays-right"), ("left", "ball-plays-left")],
};

/// What the eye sees.
pub const SEEN: [ChoiceField; 6] = [
    ChoiceField {
        name: "club",
        label: "ball-club",
        offered: &[
            ("driver", "ball-driver"),
            ("fairway_wood", "ball-fairway-wood"),
            ("hybrid", "ball-hybrid"),
            ("long_iron", "ball-long-iron"),
            ("mid_iron", "ball-mid-iron"),
            ("short_iron", "ball-short-iron"),
            ("wedge", "ball-wedge"),
        ],
    },
    ChoiceField {
        name: "start",
        label: "ball-started",
        offered: &[
            ("left", "ball-to-left"),
            ("straight", "ball-straight"),
            ("right", "ball-to-right"),
        ],
    },
    ChoiceField {
        name: "curve",
        label: "ball-curved",
        offered: &[
            ("big left", "ball-far-left"),
            ("left", "ball-to-left"),
            ("slight left", "ball-little-left"),
            ("none", "ball-not-curved"),
            ("slight right", "ball-little-right"),
            ("right", "ball-to-right"),
            ("big right", "ball-far-right"),
        ],
    },
    ChoiceField {
        name: "height",
        label: "ball-height",
        offered: &[
            ("low", "ball-low"),
            ("usual", "ball-usual"),
            ("high", "ball-high"),
        ],
    },
    ChoiceField {
        name: "strike",
        label: "ball-mark",
        offered: &[
            ("centre", "ball-centre"),
            ("toe", "ball-toe"),
            ("heel", "ball-heel"),
            ("high", "ball-mark-high"),
            ("low", "ball-mark-low"),
        ],
    },
    ChoiceField {
        name: "spoilt",
        label: "ball-strike",
        offered: &[
            ("fat", "ball-fat"),
            ("thin", "ball-thin"),
            ("top", "ball-topped"),
            ("shank", "ball-shank"),
            ("sky", "ball-sky"),
        ],
    },
];

/// What may be estimated or measured.
pub const NUMBERS: [NumberField; 13] = [
    number("start_by", "ball-start-by", "3 R"),
    number("curve_by", "ball-curve-by", "12 m R"),
    number("carry", "ball-carry", "180 m"),
    number("ball_speed", "ball-ball-speed", "65 m/s"),
    number("launch_angle", "ball-launch-angle", "13"),
    number("start_direction", "ball-start-direction", "2.1 R"),
    number("spin", "ball-spin", "2700"),
    number("spin_axis", "ball-spin-axis", "8 R"),
    number("club_speed", "ball-club-speed", "45 m/s"),
    number("path", "ball-path", "3 L"),
    number("face", "ball-face", "1 R"),
    number("attack", "ball-attack", "-2"),
    number("dynamic_loft", "ball-dynamic-loft", "14"),
];

/// The fields of a request, by name.
#[derive(Clone, Debug, Default)]
pub struct BallForm(pub BTreeMap<String, String>);

impl BallForm {
    /// What is in a field; empty if nothing is.
    pub fn text(&self, name: &str) -> &str {
        self.0.get(name).map_or("", |text| text.trim())
    }

    /// The hand on record, or else the one filled in.
    pub fn hand(&self, known: Option<Hand>) -> Option<Hand> {
        known.or_else(|| offered("hand", self.text("hand")).ok().flatten())
    }

    /// The kind of club, and the ball; or what is wrong, field by field.
    pub fn ball(&self) -> Result<(Option<ClubKind>, SeenBall), Vec<Text>> {
        let mut wrong = Vec::new();
        let club = self.chosen("club", &mut wrong);
        let ball = SeenBall {
            start: self.said("start_by", "start", Start::read, &mut wrong),
            curve: self.said("curve_by", "curve", Curve::read, &mut wrong),
            height: self.chosen("height", &mut wrong),
            carry_m: self.quantity("carry", Kind::Length, &mut wrong),
            strike: self.chosen("strike", &mut wrong),
            spoilt: self.chosen("spoilt", &mut wrong),
            measured: self.measured(&mut wrong),
        };
        if wrong.is_empty() {
            Ok((club, ball))
        } else {
            Err(wrong)
        }
    }

    fn measured(&self, wrong: &mut Vec<Text>) -> Measured {
        let mut read = |name, kind| self.quantity(name, kind, wrong);
        Measured {
            ball_speed_m_s: read("ball_speed", Kind::Speed),
            launch_rad: read("launch_angle", Kind::Angle),
            start_rad: read("start_direction", Kind::Angle),
            spin_rad_s: read("spin", Kind::Spin),
            axis_rad: read("spin_axis", Kind::Angle),
            club_speed_m_s: read("club_speed", Kind::Speed),
            path_rad: read("path", Kind::Angle),
            face_rad: read("face", Kind::Angle),
            attack_rad: read("attack", Kind::Angle),
            loft_rad: read("dynamic_loft", Kind::Angle),
            ..Measured::default()
        }
    }

    fn chosen<T: for<'a> Deserialize<'a>>(&self, name: &str, wrong: &mut Vec<Text>) -> Option<T> {
        offered(name, self.text(name)).unwrap_or_else(|problem| {
            wrong.push(problem);
            None
        })
    }

    /// The estimate if there is one, else the word.
    fn said<T>(
        &self,
        estimate: &str,
        word: &str,
        read: impl Fn(&str) -> Result<T, String>,
        wrong: &mut Vec<Text>,
    ) -> Option<T> {
        let name = [estimate, word]
            .into_iter()
            .find(|name| !self.text(name).is_empty())?;
        read(self.text(name))
            .map_err(|problem| wrong.push(in_field(name, problem)))
            .ok()
    }

    fn quantity(&self, name: &str, kind: Kind, wrong: &mut Vec<Text>) -> Option<f64> {
        let text = self.text(name);
        if text.is_empty() {
            return None;
        }
        read_quantity(text, kind)
            .map_err(|problem| wrong.push(in_field(name, problem)))
            .ok()
    }
}

/// A field's label.
fn label(name: &str) -> Text {
    let number = NUMBERS.iter().find(|field| field.name == name);
    let choice = SEEN.iter().chain([&HAND]).find(|field| field.name == name);
    number
        .map(|field| field.label)
        .or(choice.map(|field| field.label))
        .map_or_else(|| Text::plain(name), t)
}

/// What is wrong in a field.
fn in_field(name: &str, why: String) -> Text {
    t("ball-field-wrong")
        .with("field", label(name))
        .with("why", why)
}

fn offered<T: for<'a> Deserialize<'a>>(name: &str, text: &str) -> Result<Option<T>, Text> {
    if text.is_empty() {
        return Ok(None);
    }
    let chosen: StrDeserializer<'_, NotOffered> = text.into_deserializer();
    T::deserialize(chosen).map(Some).map_err(|_| {
        t("ball-not-on-offer")
            .with("field", label(name))
            .with("typed", text)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_coaching::ball::{Bend, Height, Spoilt, Strike, Way};

    fn filled(fields: &[(&str, &str)]) -> BallForm {
        let pairs = fields.iter().map(|(k, v)| ((*k).into(), (*v).into()));
        BallForm(pairs.collect())
    }

    #[test]
    fn everything_on_offer_is_understood() {
        for field in SEEN {
            for (value, _) in field.offered {
                let read = filled(&[(field.name, value)]).ball();
                let (club, ball) = read.unwrap();
                assert!(
                    club.is_some() || ball != SeenBall::default(),
                    "{}: {value}",
                    field.name
                );
            }
        }
        for field in NUMBERS {
            let (_, ball) = filled(&[(field.name, field.example)]).ball().unwrap();
            assert!(ball != SeenBall::default(), "{}", field.name);
        }
        for (value, _) in HAND.offered {
            assert!(filled(&[("hand", value)]).hand(None).is_some());
        }
    }

    #[test]
    fn fields_make_a_ball() {
        let (club, ball) = filled(&[
            ("club", "driver"),
            ("start", "left"),
            ("start_by", ""),
            ("curve", "slight right"),
            ("height", "high"),
            ("strike", "heel"),
            ("spoilt", "thin"),
            ("carry", " 200 yd "),
        ])
        .ball()
        .unwrap();
        assert_eq!(club, Some(ClubKind::Driver));
        assert_eq!(ball.start, Some(Start::To(Way::Left)));
        assert_eq!(ball.curve, Some(Curve::To(Way::Right, Bend::Slight)));
        assert_eq!(ball.height, Some(Height::High));
        assert_eq!(ball.strike, Some(Strike::Heel));
        assert_eq!(ball.spoilt, Some(Spoilt::Thin));
        assert!((ball.carry_m.unwrap() - 182.88).abs() < 1e-9);
    }

    #[test]
    fn an_estimate_goes_before_the_word() {
        let both = filled(&[("start", "left"), ("start_by", "3 R")]);
        let (_, ball) = both.ball().unwrap();
        assert!(matches!(ball.start, Some(Start::About(rad)) if rad > 0.0));
    }

    #[test]
    fn all_that_is_wrong_is_told_at_once() {
        let wrong = filled(&[("carry", "180"), ("path", "fast"), ("strike", "nose")])
            .ball()
            .unwrap_err();
        let say = lessonwright_language::Say::default();
        let said: Vec<String> = wrong.iter().map(|one| say.text(one)).collect();
        let said = said.join(" ");
        assert_eq!(wrong.len(), 3);
        for text in [
            "Carry: ",
            "no unit",
            "Path, °: ",
            "\"nose\" is not on offer",
        ] {
            assert!(said.contains(text), "{text}: {said}");
        }
    }
}
