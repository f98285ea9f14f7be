//! Where to put the phone, drawn: the place from above and the phone on its stand from the side.
//!
//! From above the target lies to the right of a right-hander's drawing and to the left of a left-hander's, so
//! that the player always faces down the page. Lengths are the drawing's own units, px at its natural size; not to
//! scale. Colours are fixed, since it is drawn on white paper and on the page alike.

use crate::amount::Units;
use askama::Template;
use askama::filters::HtmlSafe;
use lessonwright_language::{Text, filters, t};
use lessonwright_model::Hand;

/// Width of the drawing.
const WIDTH: f64 = 340.0;

/// The drawing. Displays as SVG that stands alone or in a page.
#[derive(Clone, Debug, PartialEq, Eq, Template)]
#[template(path = "film_plan.svg", escape = "html")]
pub struct FilmPlan {
    hand: Hand,
    units: Units,
}

impl HtmlSafe for FilmPlan {}

impl FilmPlan {
    /// For a player of this hand.
    pub fn of(hand: Hand, units: Units) -> FilmPlan {
        FilmPlan { hand, units }
    }

    /// The drawing in words, for those who can't see it.
    pub fn words(&self) -> Text {
        t("film-plan").with("distance", self.distance())
    }

    /// How far, in the player's unit; as `coaching` says it.
    fn distance(&self) -> Text {
        match self.units {
            Units::Centimetres => t("film-distance-metres"),
            Units::Inches => t("film-distance-feet"),
        }
    }

    /// A place of the right-hander's drawing in this one.
    fn x(&self, x: f64) -> f64 {
        match self.hand {
            Hand::Right => x,
            Hand::Left => WIDTH - x,
        }
    }

    /// Where words begin that begin at their left end in the right-hander's drawing.
    fn anchor(&self) -> &'static str {
        match self.hand {
            Hand::Right => "start",
            Hand::Left => "end",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::said::rendered;
    use lessonwright_language::Say;

    #[test]
    fn a_left_handers_drawing_is_the_mirror_image() {
        let right = FilmPlan::of(Hand::Right, Units::Centimetres);
        let left = FilmPlan::of(Hand::Left, Units::Centimetres);
        assert_eq!(right.x(40.0) + left.x(40.0), WIDTH);
        let (right, left) = (
            rendered(&right, Say::default()),
            rendered(&left, Say::default()),
        );
        assert_ne!(right, left);
        assert_eq!(
            right.matches("<path").count(),
            left.matches("<path").count()
        );
    }
}
