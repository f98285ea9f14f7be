//! What is said to the professional: ranges in words, what can't be known, what may be asked.

use super::super::clubs::ClubKind;
use super::super::seen::{Curve, SeenBall, Spoilt, Start, Strike};
use super::ClubAngle;
use super::withheld::off_the_face;
use lessonwright_model::Hand;

/// The words for one of the angles.
pub(super) struct Words {
    name: &'static str,
    /// What it is counted from.
    line: &'static str,
    /// What it is called toward the trail side, and toward the lead side.
    sides: [&'static str; 2],
    of_what: &'static str,
}

pub(super) const FACE: Words = Words {
    name: "Face",
    line: "target line",
    sides: ["open", "closed"],
    of_what: " to the target",
};
pub(super) const PATH: Words = Words {
    name: "Path",
    line: "target line",
    sides: ["in to out", "out to in"],
    of_what: "",
};
pub(super) const FACE_TO_PATH: Words = Words {
    name: "Face against path",
    line: "path",
    sides: ["open", "closed"],
    of_what: " to the path",
};

/// From this width on, tenths of a degree say nothing, degrees.
const WHOLE_DEGREES_FROM: f64 = 4.0;

impl Words {
    /// The range as a sentence.
    pub(super) fn says(&self, angle: &ClubAngle, hand: Hand) -> String {
        let name = self.name;
        let (Some(value), Some(low), Some(high)) = (angle.value_deg, angle.low_deg, angle.high_deg)
        else {
            return format!("{name}: can't be said; {}.", angle.reason);
        };
        let called = self.called(value, low, high, hand);
        let digits = usize::from(high - low < WHOLE_DEGREES_FROM);
        let [value, low, high] = [value, low, high].map(|deg| directed(deg, digits));
        let value = match value.as_str() {
            "0°" => format!("on the {}", self.line),
            off => format!("{off} of the {}", self.line),
        };
        format!(
            "{name}: {value} ({low} to {high}), {called}{}.",
            self.of_what
        )
    }

    fn called(&self, value: f64, low: f64, high: f64, hand: Hand) -> String {
        let [trail, lead] = self.sides;
        let [right, left] = match hand {
            Hand::Right => [trail, lead],
            Hand::Left => [lead, trail],
        };
        let likely = if value < 0.0 { left } else { right };
        if low > 0.0 || high < 0.0 {
            likely.to_owned()
        } else if value.abs() < 0.1 * (high - low) {
            format!("{right} or {left}")
        } else {
            format!("{right} or {left}, more likely {likely}")
        }
    }
}

/// "2° right", "1.3° left".
fn directed(deg: f64, digits: usize) -> String {
    let size = format!("{:.digits$}", deg.abs());
    if size.parse() == Ok(0.0) {
        "0°".into()
    } else {
        format!("{size}° {}", if deg < 0.0 { "left" } else { "right" })
    }
}

/// What no number here can tell.
pub(super) fn unknown(own: &SeenBall, club: Option<ClubKind>) -> Vec<String> {
    let mut unknown = Vec::new();
    if off_the_face(own).is_some() {
        unknown.push(
            "A ball that did not come off the face says nothing of face and path: hit another."
                .into(),
        );
        return unknown;
    }
    unknown.extend(strike(own, club));
    match own.spoilt {
        Some(Spoilt::Fat) => unknown.push(
            "Turf before the ball may have turned the face: this is the face that met the ball, not \
             the one that was swung."
                .into(),
        ),
        Some(Spoilt::Thin) => unknown.push(
            "A thin strike spins and climbs unlike the club's usual: the ranges are a little too \
             narrow."
                .into(),
        ),
        _ => {}
    }
    if club.is_none() {
        unknown
            .push("The club was not told: every kind from driver to wedge is allowed for.".into());
    }
    if own.measured.launch_rad.is_none() {
        unknown.push(format!(
            "The launch angle was not measured: {} is assumed.",
            club.map_or_else(
                || "what is usual with each club".to_owned(),
                |club| {
                    let usual = club.usual().launch_deg;
                    format!(
                        "{:.0}° ± {:.0}°, the usual of a {club},",
                        usual.mean,
                        1.96 * usual.sd
                    )
                }
            )
        ));
    }
    unknown.push(
        "Wind across the line and a ball above or below the feet start and curve it too: none is \
         assumed."
            .into(),
    );
    unknown.push("One ball is one strike: what the player usually does needs several.".into());
    unknown
}

fn strike(own: &SeenBall, club: Option<ClubKind>) -> Option<String> {
    if own.measured.toward_toe_m.is_some() || !club.is_none_or(ClubKind::has_gear_effect) {
        return None;
    }
    match own.strike {
        Some(Strike::Toe) => Some(
            "Struck toward the toe, a wood's face turns and slides under the ball and curves it to \
             the lead side by itself: the ranges allow for that and are wide. Read face and path \
             from a ball struck in the middle."
                .into(),
        ),
        Some(Strike::Heel) => Some(
            "Struck toward the heel, a wood's face turns and slides under the ball and curves it to \
             the trail side by itself: the ranges allow for that and are wide. Read face and path \
             from a ball struck in the middle."
                .into(),
        ),
        Some(Strike::Centre) => None,
        Some(Strike::High | Strike::Low) => Some(
            "Struck high or low on a wood's face, the ball spins and climbs otherwise: its height \
             says nothing of the loft. How far toward toe or heel was not told."
                .into(),
        ),
        None => Some(
            "Where on the face it was struck was not told. A strike 1 cm off the middle of a wood \
             changes start and curve as about two degrees of face and path do: look at the mark \
             before changing either."
                .into(),
        ),
    }
}

/// Something not measured, and the same ball with an answer to it.
pub(super) struct Question {
    ask: &'static str,
    pub(super) answered: SeenBall,
    pub(super) club: Option<ClubKind>,
}

impl Question {
    /// `which`: face, path, face against path.
    pub(super) fn worded(&self, which: usize, now_deg: f64, then_deg: f64) -> String {
        let name = ["face", "path", "face against path"][which];
        if now_deg.is_finite() {
            format!(
                "{}: {name} to about ±{:.1}° instead of ±{:.1}°.",
                self.ask,
                0.5 * then_deg,
                0.5 * now_deg
            )
        } else {
            format!("{}: {name} to about ±{:.1}°.", self.ask, 0.5 * then_deg)
        }
    }
}

/// What may be asked of this ball.
pub(super) fn questions(own: &SeenBall, club: Option<ClubKind>) -> Vec<Question> {
    let mut questions = Vec::new();
    let mut ask = |ask, club, answered: &dyn Fn(&mut SeenBall)| {
        let mut ball = own.clone();
        answered(&mut ball);
        questions.push(Question {
            ask,
            answered: ball,
            club,
        });
    };
    if club.is_none() {
        ask("Say the club", Some(ClubKind::MidIron), &|_| {});
    }
    if own.strike.is_none() && own.measured.toward_toe_m.is_none() {
        ask("Look at the mark on the face", None, &|ball| {
            ball.strike = Some(Strike::Centre);
        });
    }
    if own.start_rad().is_none() {
        ask(
            "Put a stick on the target line some metres ahead and say by how many degrees the ball \
             passed it",
            None,
            &|ball| ball.start = Some(Start::About(side_of(ball) * 0.07)),
        );
    }
    if own.measured.axis_rad.is_none() && own.curve_m().is_none() {
        ask(
            "Say by how many metres it landed beside its start line, and the carry",
            None,
            &|ball| {
                ball.curve = Some(Curve::About(match ball.curve {
                    Some(Curve::To(way, _)) => way.sign() * 12.0,
                    _ => 0.0,
                }));
            },
        );
    }
    if own.measured.axis_rad.is_none() {
        ask("Measure the spin axis", None, &|ball| {
            ball.measured.axis_rad = Some(match ball.curve {
                Some(Curve::To(way, _)) => way.sign() * 0.15,
                _ => 0.0,
            });
        });
    }
    questions
}

fn side_of(own: &SeenBall) -> f64 {
    match own.start {
        Some(Start::To(way)) => way.sign(),
        _ => 0.0,
    }
}
