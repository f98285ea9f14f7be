//! A drill's station seen from above, drawn to scale as the player who faces the ball sees it: the ball above the feet,
//! the target on the left for a right-hander and on the right for a left-hander.

use crate::plain::plain;
use crate::said::rendered;
use askama::Template;
use askama::filters::HtmlSafe;
use lessonwright_language::{Say, Text, filters, t};
use lessonwright_model::{Feet, Hand, Layout, PracticePlan, ThingKind};

/// px for a centimetre.
const SCALE: f64 = 1.7;
/// Around all that is drawn, px.
const MARGIN: f64 = 30.0;
/// For the arrow to the target above all, px.
const HEAD: f64 = 34.0;
/// The middle of a foot from the ball's line, cm: toes 56, a foot's length of 28.
const FEET_CM: f64 = -70.0;
/// The middle of a foot from the middle of the stance, cm.
const APART_CM: f64 = 19.0;
const TOGETHER_CM: f64 = 6.5;
/// How far a number stands from its thing, px.
const LABEL: f64 = 17.0;

/// The drawing's colours on white paper; those of the page are in its style sheet.
const ON_PAPER: &str = "\
    .stick{stroke:#231f1a;stroke-width:4}.line{stroke:#231f1a;stroke-width:2.5;stroke-dasharray:7 5}\
    .wall{stroke:#231f1a;stroke-width:9}.area{fill:#f6e3d6;stroke:#9c3d10;stroke-width:3}.point{fill:#9c3d10}\
    .foot{fill:#d5e3ea;stroke:#1d4e6b;stroke-width:2}.ball{fill:#fff;stroke:#231f1a;stroke-width:3}\
    .place{fill:none;stroke:#231f1a;stroke-width:2;stroke-dasharray:3 3}\
    .arrow{fill:none;stroke:#231f1a;stroke-width:2.5}.dot{fill:#fff;stroke:#231f1a;stroke-width:1.5}\
    text{font-family:'Source Sans 3';font-weight:600;font-size:15px;fill:#231f1a}";

/// The drawing. Displays as HTML.
#[derive(Debug, Template)]
#[template(path = "station.html")]
pub struct StationPlan<'a> {
    width: f64,
    height: f64,
    target_is_left: bool,
    arrow: String,
    word_x: f64,
    word_anchor: &'static str,
    feet: [[f64; 2]; 2],
    ball: Option<[f64; 2]>,
    /// Where a ball would lie.
    place: [f64; 2],
    drawn: Vec<Drawn<'a>>,
}

impl HtmlSafe for StationPlan<'_> {}

#[derive(Debug)]
struct Drawn<'a> {
    shape: Shape,
    label: [f64; 2],
    says: &'a str,
}

/// In px.
#[derive(Debug)]
enum Shape {
    Ends(&'static str, [f64; 2], [f64; 2]),
    /// The corner at the top left, and width and height.
    Area([f64; 2], [f64; 2]),
    Point([f64; 2], f64),
}

impl<'a> StationPlan<'a> {
    /// The station of a plan's drill; none if nothing lies on the ground.
    pub fn of(plan: &'a PracticePlan) -> Option<StationPlan<'a>> {
        plan.layout
            .as_ref()
            .map(|layout| StationPlan::new(layout, plan.hand))
    }

    /// The drawing alone as a file of its own, for paper, and the same in words.
    pub(crate) fn alone(&self, say: Say) -> [String; 2] {
        let html = rendered(self, say);
        let from = html.find("<svg").unwrap_or(0);
        let to = html
            .find("</svg>")
            .map_or(html.len(), |at| at + "</svg>".len());
        let drawing =
            html[from..to].replacen("<svg", "<svg xmlns=\"http://www.w3.org/2000/svg\"", 1);
        let words = drawing.split("aria-label=\"").nth(1);
        let words = words.and_then(|rest| rest.split('"').next()).unwrap_or("");
        [
            drawing.replacen('>', &format!("><style>{ON_PAPER}</style>"), 1),
            plain(&words),
        ]
    }

    /// The drawing in words.
    fn words(&self) -> Text {
        let station = match (self.ball.is_some(), self.target_is_left) {
            (true, true) => t("practice-station-ball-left"),
            (true, false) => t("practice-station-ball-right"),
            (false, true) => t("practice-station-place-left"),
            (false, false) => t("practice-station-place-right"),
        };
        let things = self.drawn.iter().enumerate();
        let things = things.map(|(at, thing)| format!("{}: {}. ", at + 1, thing.says));
        station.with("things", things.collect::<String>())
    }

    /// What lies where, in the order of the numbers in the drawing.
    pub(crate) fn things(&self) -> Vec<String> {
        self.drawn
            .iter()
            .map(|thing| thing.says.to_owned())
            .collect()
    }

    /// A layout for a hand.
    pub fn new(layout: &'a Layout, hand: Hand) -> StationPlan<'a> {
        // From above, facing the ball: the target is on the left of a right-hander.
        let side = if hand == Hand::Right { -1.0 } else { 1.0 };
        let stance = match layout.feet {
            Feet::Apart => APART_CM,
            Feet::Together => TOGETHER_CM,
        };
        let feet_cm = [[-stance, FEET_CM], [stance, FEET_CM]];
        let corners = corners(layout, &feet_cm).map(|[x, z]| [side * x, z]);
        let ([left, right], [bottom, top]) = bounds(corners);
        let px = |[x, z]: [f64; 2]| {
            [
                MARGIN + SCALE * (side * x - left),
                HEAD + MARGIN + SCALE * (top - z),
            ]
        };
        let width = 2.0 * MARGIN + SCALE * (right - left);
        let drawn = layout.things.iter().map(|thing| {
            let shape = match (thing.to, thing.size) {
                (Some(to), _) => Shape::Ends(class(thing.kind), px(thing.at), px(to)),
                (None, Some(size)) => {
                    let [w, h] = size.map(|extent| SCALE * extent);
                    let [x, y] = px(thing.at);
                    Shape::Area([x - w / 2.0, y - h / 2.0], [w, h])
                }
                (None, None) => Shape::Point(px(thing.at), radius(thing.kind)),
            };
            Drawn {
                label: shape.label(),
                shape,
                says: &thing.says,
            }
        });
        let (tail, tip) = match hand {
            Hand::Right => (MARGIN + 60.0, MARGIN),
            Hand::Left => (width - MARGIN - 60.0, width - MARGIN),
        };
        let back = tip - side * 9.0;
        StationPlan {
            target_is_left: hand == Hand::Right,
            arrow: format!("M{tail:.1} 30H{tip:.1}M{back:.1} 24L{tip:.1} 30L{back:.1} 36"),
            word_x: tip,
            word_anchor: if hand == Hand::Right { "start" } else { "end" },
            feet: feet_cm.map(px),
            ball: layout.ball.then(|| px([0.0, 0.0])),
            place: px([0.0, 0.0]),
            drawn: drawn.collect(),
            height: HEAD + 2.0 * MARGIN + SCALE * (top - bottom),
            width,
        }
    }
}

impl Shape {
    /// Where the number stands: beside the thing, on it where there is room.
    fn label(&self) -> [f64; 2] {
        match self {
            Shape::Ends(_, a, b) if (a[0] - b[0]).abs() < (a[1] - b[1]).abs() => {
                [a[0] + LABEL, (a[1] + b[1]) / 2.0]
            }
            // A third of the way, clear of what crosses in the middle.
            Shape::Ends(_, a, b) => [a[0] + (b[0] - a[0]) / 3.0, a[1] - LABEL],
            Shape::Area(corner, [w, h]) => [corner[0] + w / 2.0, corner[1] + h + LABEL],
            Shape::Point(at, _) => [at[0], at[1] - LABEL],
        }
    }
}

fn class(kind: ThingKind) -> &'static str {
    match kind {
        ThingKind::Wall => "wall",
        ThingKind::Line => "line",
        _ => "stick",
    }
}

fn radius(kind: ThingKind) -> f64 {
    match kind {
        ThingKind::Pole => 8.0,
        ThingKind::Coin => 5.0,
        _ => 3.5,
    }
}

/// All that has to be in the picture, cm: the ball's place, the feet to toe and heel, every thing.
fn corners(layout: &Layout, feet: &[[f64; 2]; 2]) -> std::vec::IntoIter<[f64; 2]> {
    const HALF_FOOT_CM: [f64; 2] = [5.0, 14.0];
    let around = |[x, z]: [f64; 2], [w, h]: [f64; 2]| [[x - w, z - h], [x + w, z + h]];
    let feet = feet.iter().flat_map(|foot| around(*foot, HALF_FOOT_CM));
    let things = layout.things.iter().flat_map(|thing| {
        let size = thing.size.unwrap_or([0.0; 2]).map(|extent| extent / 2.0);
        around(thing.at, size).into_iter().chain(thing.to)
    });
    let all: Vec<[f64; 2]> = std::iter::once([0.0, 0.0])
        .chain(feet)
        .chain(things)
        .collect();
    all.into_iter()
}

/// Least and most of each coordinate.
fn bounds(points: impl Iterator<Item = [f64; 2]>) -> ([f64; 2], [f64; 2]) {
    let none = [f64::INFINITY, f64::NEG_INFINITY];
    points.fold((none, none), |(x, z), point| {
        let wider = |[least, most]: [f64; 2], n: f64| [least.min(n), most.max(n)];
        (wider(x, point[0]), wider(z, point[1]))
    })
}
