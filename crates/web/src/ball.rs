//! What is filled in about a ball: choices and numbers as typed, and the ball they make.

use lessonwright_coaching::ball::{
    ClubKind, Curve, Kind, Measured, SeenBall, Start, read_quantity,
};
use lessonwright_model::Hand;
use serde::Deserialize;
use serde::de::IntoDeserializer;
use serde::de::value::{Error as NotOffered, StrDeserializer};
use std::collections::BTreeMap;

/// A field in which one of several is chosen: its name, its label, and value and words of each.
pub struct ChoiceField {
    pub name: &'static str,
    pub label: &'static str,
    pub offered: &'static [(&'static str, &'static str)],
}

/// A field in which a number is typed: its name, its label, and an example.
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
    label: "Plays",
    offered: &[("right", "right-handed"), ("left", "left-handed")],
};

/// What the eye sees.
pub const SEEN: [ChoiceField; 6] = [
    ChoiceField {
        name: "club",
        label: "Club",
        offered: &[
            ("driver", "driver"),
            ("fairway_wood", "fairway wood"),
            ("hybrid", "hybrid"),
            ("long_iron", "iron 1 to 5"),
            ("mid_iron", "iron 6 or 7"),
            ("short_iron", "iron 8 or 9"),
            ("wedge", "wedge"),
        ],
    },
    ChoiceField {
        name: "start",
        label: "Started",
        offered: &[
            ("left", "left"),
            ("straight", "straight"),
            ("right", "right"),
        ],
    },
    ChoiceField {
        name: "curve",
        label: "Curved",
        offered: &[
            ("big left", "far left"),
            ("left", "left"),
            ("slight left", "a little left"),
            ("none", "not"),
            ("slight right", "a little right"),
            ("right", "right"),
            ("big right", "far right"),
        ],
    },
    ChoiceField {
        name: "height",
        label: "Height, for the club",
        offered: &[("low", "low"), ("usual", "usual"), ("high", "high")],
    },
    ChoiceField {
        name: "strike",
        label: "Mark on the face",
        offered: &[
            ("centre", "middle"),
            ("toe", "toward the toe"),
            ("heel", "toward the heel"),
            ("high", "high"),
            ("low", "low"),
        ],
    },
    ChoiceField {
        name: "spoilt",
        label: "Strike",
        offered: &[
            ("fat", "fat"),
            ("thin", "thin"),
            ("top", "topped"),
            ("shank", "shank"),
            ("sky", "sky"),
        ],
    },
];

/// What may be estimated or measured.
pub const NUMBERS: [NumberField; 13] = [
    number("start_by", "Started by, estimated", "3 R"),
    number(
        "curve_by",
        "Landed beside its start line, estimated",
        "12 m R",
    ),
    number("carry", "Carry", "180 m"),
    number("ball_speed", "Ball speed", "65 m/s"),
    number("launch_angle", "Launch angle, °", "13"),
    number("start_direction", "Start direction, measured, °", "2.1 R"),
    number("spin", "Spin, rpm", "2700"),
    number("spin_axis", "Spin axis, °", "8 R"),
    number("club_speed", "Club speed", "45 m/s"),
    number("path", "Path, °", "3 L"),
    number("face", "Face, °", "1 R"),
    number("attack", "Attack angle, °", "-2"),
    number("dynamic_loft", "Dynamic loft, °", "14"),
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
    pub fn ball(&self) -> Result<(Option<ClubKind>, SeenBall), Vec<String>> {
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

    fn measured(&self, wrong: &mut Vec<String>) -> Measured {
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

    fn chosen<T: for<'a> Deserialize<'a>>(&self, name: &str, wrong: &mut Vec<String>) -> Option<T> {
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
        wrong: &mut Vec<String>,
    ) -> Option<T> {
        let name = [estimate, word]
            .into_iter()
            .find(|name| !self.text(name).is_empty())?;
        read(self.text(name))
            .map_err(|problem| wrong.push(format!("{}: {problem}", label(name))))
            .ok()
    }

    fn quantity(&self, name: &str, kind: Kind, wrong: &mut Vec<String>) -> Option<f64> {
        let text = self.text(name);
        if text.is_empty() {
            return None;
        }
        read_quantity(text, kind)
            .map_err(|problem| wrong.push(format!("{}: {problem}", label(name))))
            .ok()
    }
}

/// A field's label.
fn label(name: &str) -> &str {
    let number = NUMBERS.iter().find(|field| field.name == name);
    let choice = SEEN.iter().find(|field| field.name == name);
    number
        .map(|field| field.label)
        .or(choice.map(|field| field.label))
        .unwrap_or(name)
}

fn offered<T: for<'a> Deserialize<'a>>(name: &str, text: &str) -> Result<Option<T>, String> {
    if text.is_empty() {
        return Ok(None);
    }
    let chosen: StrDeserializer<'_, NotOffered> = text.into_deserializer();
    T::deserialize(chosen)
        .map(Some)
        .map_err(|_| format!("{}: \"{text}\" is not on offer.", label(name)))
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
        let said = wrong.join(" ");
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
