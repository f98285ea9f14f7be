//! What is said to the professional: ranges in words, what can't be known, what may be asked.

use super::super::clubs::ClubKind;
use super::super::seen::{Curve, SeenBall, Spoilt, Start, Strike};
use super::ClubAngle;
use super::withheld::off_the_face;
use lessonwright_language::{Text, t};
use lessonwright_model::Hand;

/// The words for one of the angles: ids of messages.
pub(super) struct Words {
    name: &'static str,
    /// The sentence.
    says: &'static str,
    /// On what it is counted from, and off it by so much.
    on_line: &'static str,
    off_line: &'static str,
    /// What it is called toward the trail side, and toward the lead side.
    sides: [&'static str; 2],
}

pub(super) const FACE: Words = Words {
    name: "ball-col-face",
    says: "ball-says-face",
    on_line: "ball-on-target-line",
    off_line: "ball-off-target-line",
    sides: ["ball-open", "ball-closed"],
};
pub(super) const PATH: Words = Words {
    name: "ball-col-path",
    says: "ball-says-path",
    on_line: "ball-on-target-line",
    off_line: "ball-off-target-line",
    sides: ["ball-in-to-out", "ball-out-to-in"],
};
pub(super) const FACE_TO_PATH: Words = Words {
    name: "ball-col-face-to-path",
    says: "ball-says-face-to-path",
    on_line: "ball-on-path",
    off_line: "ball-off-path",
    sides: ["ball-open", "ball-closed"],
};

/// From this width on, tenths of a degree say nothing, degrees.
const WHOLE_DEGREES_FROM: f64 = 4.0;

impl Words {
    /// The range as a sentence.
    pub(super) fn says(&self, angle: &ClubAngle, hand: Hand) -> Text {
        let (Some(value), Some(low), Some(high)) = (angle.value_deg, angle.low_deg, angle.high_deg)
        else {
            let reason = angle.reason.clone().unwrap_or_else(|| Text::plain(""));
            return t("ball-says-nothing")
                .with("name", t(self.name))
                .with("reason", reason);
        };
        let called = self.called(value, low, high, hand);
        let digits = usize::from(high - low < WHOLE_DEGREES_FROM);
        let [value, low, high] = [value, low, high].map(|deg| directed(deg, digits));
        let value = match value {
            None => t(self.on_line),
            Some(off) => t(self.off_line).with("off", off),
        };
        let [low, high] = [low, high].map(|end| end.unwrap_or_else(|| Text::plain("0°")));
        t(self.says)
            .with("value", value)
            .with("low", low)
            .with("high", high)
            .with("called", called)
    }

    fn called(&self, value: f64, low: f64, high: f64, hand: Hand) -> Text {
        let [trail, lead] = self.sides.map(t);
        let [right, left] = match hand {
            Hand::Right => [trail, lead],
            Hand::Left => [lead, trail],
        };
        let likely = if value < 0.0 { &left } else { &right };
        if low > 0.0 || high < 0.0 {
            return likely.clone();
        }
        let either = match value.abs() < 0.1 * (high - low) {
            true => t("ball-either"),
            false => t("ball-likely").with("likely", likely),
        };
        either.with("one", right).with("other", left)
    }
}

/// "2° right", "1.3° left"; none where it is nothing.
fn directed(deg: f64, digits: usize) -> Option<Text> {
    let size = format!("{:.digits$}", deg.abs());
    let side = match deg < 0.0 {
        true => "ball-degrees-left",
        false => "ball-degrees-right",
    };
    (size.parse() != Ok(0.0)).then(|| t(side).with("size", Text::figure(size)))
}

/// What no number here can tell.
pub(super) fn unknown(own: &SeenBall, club: Option<ClubKind>) -> Vec<Text> {
    if off_the_face(own).is_some() {
        return vec![t("ball-unknown-off-the-face")];
    }
    let mut unknown = Vec::new();
    unknown.extend(strike(own, club).map(t));
    match own.spoilt {
        Some(Spoilt::Fat) => unknown.push(t("ball-unknown-fat")),
        Some(Spoilt::Thin) => unknown.push(t("ball-unknown-thin")),
        _ => {}
    }
    if club.is_none() {
        unknown.push(t("ball-unknown-club"));
    }
    if own.measured.launch_rad.is_none() {
        unknown.push(match club {
            None => t("ball-unknown-launch"),
            Some(club) => {
                let usual = club.usual().launch_deg;
                t("ball-unknown-launch-of")
                    .with("launch", Text::decimal(usual.mean, 0))
                    .with("spread", Text::decimal(1.96 * usual.sd, 0))
                    .with("club", club.text())
            }
        });
    }
    unknown.push(t("ball-unknown-wind"));
    unknown.push(t("ball-unknown-one"));
    unknown
}

fn strike(own: &SeenBall, club: Option<ClubKind>) -> Option<&'static str> {
    if own.measured.toward_toe_m.is_some() || !club.is_none_or(ClubKind::has_gear_effect) {
        return None;
    }
    match own.strike {
        Some(Strike::Toe) => Some("ball-unknown-toe"),
        Some(Strike::Heel) => Some("ball-unknown-heel"),
        Some(Strike::Centre) => None,
        Some(Strike::High | Strike::Low) => Some("ball-unknown-high-or-low"),
        None => Some("ball-unknown-strike"),
    }
}

/// Something not measured, and the same ball with an answer to it.
pub(super) struct Question {
    ask: &'static str,
    pub(super) answered: SeenBall,
    pub(super) club: Option<ClubKind>,
}

/// By what an answer would narrow face, path, and face against path: alone, and from what it is now.
const NARROWS: [[&str; 2]; 3] = [
    ["ball-settles-face", "ball-narrows-face"],
    ["ball-settles-path", "ball-narrows-path"],
    ["ball-settles-face-to-path", "ball-narrows-face-to-path"],
];

impl Question {
    /// `which`: face, path, face against path.
    pub(super) fn worded(&self, which: usize, now_deg: f64, then_deg: f64) -> Text {
        let [settles, narrows] = NARROWS[which];
        let half = |deg: f64| Text::decimal(0.5 * deg, 1);
        let text = match now_deg.is_finite() {
            true => t(narrows).with("now", half(now_deg)),
            false => t(settles),
        };
        text.with("ask", t(self.ask)).with("then", half(then_deg))
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
        ask("ball-ask-club", Some(ClubKind::MidIron), &|_| {});
    }
    if own.strike.is_none() && own.measured.toward_toe_m.is_none() {
        ask("ball-ask-mark", None, &|ball| {
            ball.strike = Some(Strike::Centre);
        });
    }
    if own.start_rad().is_none() {
        ask("ball-ask-start", None, &|ball| {
            ball.start = Some(Start::About(side_of(ball) * 0.07))
        });
    }
    if own.measured.axis_rad.is_none() && own.curve_m().is_none() {
        ask("ball-ask-curve", None, &|ball| {
            ball.curve = Some(Curve::About(match ball.curve {
                Some(Curve::To(way, _)) => way.sign() * 12.0,
                _ => 0.0,
            }));
        });
    }
    if own.measured.axis_rad.is_none() {
        ask("ball-ask-axis", None, &|ball| {
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
