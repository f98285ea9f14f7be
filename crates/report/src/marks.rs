//! What is drawn over a picture as plain shapes with colours and widths, for paper and film. On the page the
//! same shapes get theirs from the style sheet, where lines keep their width whatever the picture's size.

use crate::overlay::{Overlay, Stroke};
use lessonwright_model::PixelPoint;

/// One shape over a picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// Where, px of the picture.
    pub shape: Shape,
    /// Red, green, blue, and how little shows through, 0 to 255.
    pub colour: [u8; 4],
    /// Width of its line, px of the picture; none for a filled shape.
    pub width: Option<f64>,
    /// Lengths of dash and gap, px of the picture.
    pub dash: Option<[f64; 2]>,
}

/// The shapes there are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape {
    /// A line with round ends.
    Line(PixelPoint, PixelPoint),
    /// A circle: its centre and radius.
    Circle(PixelPoint, f64),
    /// A triangle.
    Triangle([PixelPoint; 3]),
}

const FIGURE: [u8; 4] = [255, 255, 255, 205];
const CLUB: [u8; 4] = [255, 255, 255, 240];
const CASING: [u8; 4] = [20, 17, 13, 180];
const BEFORE: [u8; 4] = [255, 255, 255, 255];
const NOW: [u8; 4] = [255, 207, 63, 255];

/// What lines are as wide as the page draws them on: a picture of a pair on a phone, px.
const PAGE_PICTURE: f64 = 240.0;

/// The shapes over a picture of this width, from the lowest to the topmost.
pub fn marks(drawn: &Overlay, width_px: f64) -> Vec<Mark> {
    let pen = Pen {
        unit: width_px / PAGE_PICTURE,
    };
    let mut marks = Vec::new();
    for stroke in &drawn.figure {
        marks.push(pen.line(*stroke, FIGURE, 1.6, None));
    }
    marks.extend(drawn.club.map(|stroke| pen.line(stroke, CLUB, 2.2, None)));
    for at in &drawn.joints {
        marks.push(pen.filled(Shape::Circle(*at, 2.0 * pen.unit), CLUB));
    }
    let mut cased = |stroke: Option<Stroke>, colour, width, dash| {
        let Some(stroke) = stroke else { return };
        marks.push(pen.line(stroke, CASING, 5.5, None));
        marks.push(pen.line(stroke, colour, width, dash));
    };
    cased(drawn.trunk_side, NOW, 2.0, Some([1.0, 5.0]));
    cased(drawn.before, BEFORE, 2.6, Some([5.0, 5.0]));
    cased(drawn.now, NOW, 3.0, None);
    cased(drawn.shift, NOW, 3.0, None);
    cased(drawn.elbow, NOW, 3.0, None);
    if let Some(shift) = drawn.shift {
        marks.push(pen.filled(head(shift, 7.0 * pen.unit), NOW));
    }
    if let Some(elbow) = drawn.elbow {
        let ring = Shape::Circle(elbow.to, 5.0 * pen.unit);
        marks.push(Mark {
            shape: ring,
            ..pen.line(elbow, NOW, 2.5, None)
        });
    }
    marks
}

struct Pen {
    /// Pixels of the picture in one of the page's.
    unit: f64,
}

impl Pen {
    fn line(&self, stroke: Stroke, colour: [u8; 4], width: f64, dash: Option<[f64; 2]>) -> Mark {
        Mark {
            shape: Shape::Line(stroke.from, stroke.to),
            colour,
            width: Some(width * self.unit),
            dash: dash.map(|lengths| lengths.map(|l| l * self.unit)),
        }
    }

    fn filled(&self, shape: Shape, colour: [u8; 4]) -> Mark {
        Mark {
            shape,
            colour,
            width: None,
            dash: None,
        }
    }
}

/// The head of a level arrow.
fn head(arrow: Stroke, length: f64) -> Shape {
    let tip = PixelPoint {
        x: arrow.to.x + 0.4 * length * (arrow.to.x - arrow.from.x).signum(),
        ..arrow.to
    };
    let base = tip.x - length * (arrow.to.x - arrow.from.x).signum();
    let corner = |side: f64| PixelPoint {
        x: base,
        y: tip.y + side * 0.55 * length,
    };
    Shape::Triangle([tip, corner(-1.0), corner(1.0)])
}
