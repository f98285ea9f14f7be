//! A moment's picture with the figure over it, for where no script runs.

use askama::Template;
use askama::filters::HtmlSafe;
use lessonwright_language::{Text, t, words};
use lessonwright_model::{BodyPart, Joint, MomentName, PixelPoint, Side, View, ViewTracks};

/// A still. Displays as HTML.
#[derive(Template)]
#[template(path = "bench_still.html")]
pub struct Still {
    view: View,
    moment: MomentName,
    /// Whose, where it is not this swing.
    whose: Option<Text>,
    frame: usize,
    time_s: f64,
    plus_minus_s: f64,
    by_hand: bool,
    picture: String,
    width_px: u32,
    height_px: u32,
    strokes: Vec<Stroke>,
}

/// A straight stroke, px.
struct Stroke {
    class: &'static str,
    from: PixelPoint,
    to: PixelPoint,
}

impl HtmlSafe for Still {}

const LIMBS: [(BodyPart, BodyPart); 6] = [
    (BodyPart::Shoulder, BodyPart::Elbow),
    (BodyPart::Elbow, BodyPart::Wrist),
    (BodyPart::Shoulder, BodyPart::Hip),
    (BodyPart::Hip, BodyPart::Knee),
    (BodyPart::Knee, BodyPart::Ankle),
    (BodyPart::Ankle, BodyPart::Toe),
];

impl Still {
    /// A moment's still, if it was found in this view.
    pub fn of(
        view: &ViewTracks,
        moment: MomentName,
        whose: Option<Text>,
        address: impl Fn(usize) -> String,
    ) -> Option<Still> {
        let found = view.moments.iter().find(|found| found.name == moment)?;
        Some(Still {
            view: view.view,
            moment,
            whose,
            frame: found.frame,
            time_s: found.time_s,
            plus_minus_s: found.plus_minus_s,
            by_hand: found.by_hand,
            picture: address(found.frame),
            width_px: view.width_px,
            height_px: view.height_px,
            strokes: strokes(view, found.frame),
        })
    }

    /// What the picture shows.
    fn label(&self) -> Text {
        let label = t("bench-still-label")
            .with("moment", words::moment(self.moment))
            .with("view", words::view(self.view))
            .with("frame", self.frame.to_string());
        Text::joined(self.whose.iter().cloned().chain([label]), ", ")
    }

    fn caption(&self) -> Text {
        let caption = t("bench-still")
            .with("view", words::view(self.view))
            .with("frame", self.frame.to_string())
            .with("time", Text::decimal(self.time_s, 3))
            .with("plus-minus", Text::decimal(self.plus_minus_s, 3));
        let by_hand = self.by_hand.then(|| t("bench-still-by-hand"));
        let whose = self.whose.iter().cloned();
        Text::joined(whose.chain([caption]).chain(by_hand), ", ")
    }
}

fn strokes(view: &ViewTracks, frame: usize) -> Vec<Stroke> {
    let at = |part, side| view.joint_in(Joint::of(part, side, view.hand), frame);
    let stroke = |class, from: Option<PixelPoint>, to: Option<PixelPoint>| {
        Some(Stroke {
            class,
            from: from?,
            to: to?,
        })
    };
    let across = [BodyPart::Shoulder, BodyPart::Hip]
        .map(|part| stroke("figure", at(part, Side::Lead), at(part, Side::Trail)));
    let along = [Side::Lead, Side::Trail]
        .into_iter()
        .flat_map(|side| LIMBS.map(|(a, b)| stroke("figure", at(a, side), at(b, side))));
    let point = |[x, y]: [f64; 2]| Some(PixelPoint { x, y });
    let club = view
        .club_in(frame)
        .and_then(|club| stroke("club", point(club.grip), point(club.end)));
    across
        .into_iter()
        .chain(along)
        .flatten()
        .chain(club)
        .collect()
}
