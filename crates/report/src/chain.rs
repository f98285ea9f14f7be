//! The chain from body to ball as a small picture: a box a step, from top to bottom, its kind told by its shape,
//! the grade beside each arrow; at the end the ball's flight seen from behind, for the player's hand.
//!
//! Lengths are in the picture's own units, which are px at its natural size. It is drawn in the colour of the text
//! around it alone, so it is read in both schemes, on paper and without colour.

use crate::said::rendered;
use askama::Template;
use askama::filters::HtmlSafe;
use lessonwright_language::{Say, Text, filters, t};
use lessonwright_model::{BallPath, CauseGrade, ChainPart, ChainStep, Hand, Sideways};

/// Width of the picture.
const WIDTH: f64 = 340.0;
/// Height of a line of words.
const LINE: f64 = 19.0;
/// Free space above and below the words of a box.
const PADDING: f64 = 9.0;
/// Height of an arrow.
const ARROW: f64 = 26.0;
/// The most letters in a line: 300 px at 15 px a letter's height, half as wide as high. By eye.
const MOST_LETTERS: usize = 38;
/// Size of the square that a flight is drawn in.
const FLIGHT: f64 = 96.0;
/// How far aside a ball starts and how far it curves, of [`FLIGHT`]. By eye: told apart, not to scale.
const ASIDE: f64 = 0.22;

/// A chain ready to be drawn. Displays as inline SVG of class `chain-picture`.
#[derive(Clone, Debug, PartialEq, Template)]
#[template(path = "chain.html")]
pub struct ChainPicture {
    /// The chain in words, for those who can't see it.
    pub words: Text,
    /// From top to bottom.
    pub boxes: Vec<StepBox>,
    /// The flight, if it has a direction.
    pub flight: Option<FlightPath>,
    /// Height of the whole.
    pub height: f64,
}

/// One step.
#[derive(Clone, Debug, PartialEq)]
pub struct StepBox {
    /// "Body", "Club" or "Ball".
    pub kind: Text,
    /// The words, line by line.
    pub lines: Vec<String>,
    /// Its outline, an SVG path.
    pub outline: String,
    /// Its upper edge.
    pub top: f64,
    /// Its height.
    pub height: f64,
    /// The grade of the link that leads to it; none for the first, or where no evidence is claimed.
    pub grade: Option<CauseGrade>,
}

/// A ball's flight seen from behind it, away from the eye.
#[derive(Clone, Debug, PartialEq)]
pub struct FlightPath {
    /// Upper edge of its square.
    pub top: f64,
    /// From the ball to its end, an SVG path.
    pub path: String,
    /// Where it ends.
    pub end: (f64, f64),
}

impl HtmlSafe for ChainPicture {}

impl ChainPicture {
    /// The picture for a player of this hand; `None` for an empty chain.
    pub fn of(steps: &[ChainStep], hand: Hand) -> Option<ChainPicture> {
        let last = steps.last()?;
        let mut top = 1.0;
        let boxes: Vec<StepBox> = steps
            .iter()
            .map(|step| {
                let one = StepBox::of(step, top);
                top += one.height + ARROW;
                one
            })
            .collect();
        let bottom = top - ARROW + 1.0;
        let flight = last
            .ball
            .map(|ball| FlightPath::of(ball, hand, bottom + 6.0));
        let words = steps.iter().map(|step| Text::plain(&step.short));
        let words = words.reduce(|first, next| {
            t("lesson-chain-then")
                .with("first", first)
                .with("next", next)
        });
        Some(ChainPicture {
            words: words?,
            boxes,
            height: bottom + if flight.is_some() { FLIGHT + 12.0 } else { 0.0 },
            flight,
        })
    }
}

impl ChainPicture {
    /// The picture as a file of its own, for paper.
    pub(crate) fn alone(&self, say: Say) -> String {
        let opened = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" height=\"{:.0}\" color=\"#231f1a\" font-family=\"Source Sans 3\" ",
            self.height
        );
        rendered(self, say).replacen("<svg ", &opened, 1)
    }
}

impl StepBox {
    fn of(step: &ChainStep, top: f64) -> StepBox {
        let lines = wrapped(&step.short, MOST_LETTERS);
        let height = (lines.len() + 1) as f64 * LINE + 2.0 * PADDING;
        let (kind, outline) = match step.about {
            ChainPart::Body => (t("lesson-chain-body"), rounded(top, height)),
            ChainPart::Club => (t("lesson-chain-club"), cut(top, height)),
            ChainPart::Flight => (t("lesson-chain-ball"), doubled(top, height)),
        };
        StepBox {
            kind,
            lines,
            outline,
            top,
            height,
            grade: step.grade,
        }
    }

    /// The base line of each line of words.
    fn lines_at(&self) -> impl Iterator<Item = (f64, &String)> {
        let first = self.kind_at() + LINE;
        self.lines
            .iter()
            .enumerate()
            .map(move |(n, line)| (first + n as f64 * LINE, line))
    }

    fn kind_at(&self) -> f64 {
        self.top + PADDING + 0.75 * LINE
    }

    /// The arrow that leads here, an SVG path with its head.
    fn arrow(&self) -> String {
        let (from, to, x) = (self.top - ARROW + 2.0, self.top - 2.0, 0.5 * WIDTH);
        format!(
            "M{x:.1} {from:.1}V{to:.1}M{:.1} {:.1}L{x:.1} {to:.1}L{:.1} {:.1}",
            x - 6.0,
            to - 7.0,
            x + 6.0,
            to - 7.0
        )
    }

    fn arrow_words_at(&self) -> f64 {
        self.top - 0.5 * ARROW + 5.0
    }
}

impl FlightPath {
    fn of(ball: BallPath, hand: Hand, top: f64) -> FlightPath {
        // The lead side is left of the target line for a right-hander who looks along it.
        let right = |side: Sideways| match (side, hand) {
            (Sideways::Straight, _) => 0.0,
            (Sideways::Trail, Hand::Right) | (Sideways::Lead, Hand::Left) => ASIDE * FLIGHT,
            (Sideways::Lead, Hand::Right) | (Sideways::Trail, Hand::Left) => -ASIDE * FLIGHT,
        };
        let middle = 0.5 * WIDTH;
        let (ground, far) = (top + FLIGHT - 6.0, top + 8.0);
        // It starts along the line to `aim` and is carried aside by its curve.
        let aim = middle + right(ball.starts);
        let half_way = (0.5 * (middle + aim), 0.5 * (ground + far));
        let end = (aim + right(ball.curves), far);
        FlightPath {
            top,
            path: format!(
                "M{middle:.1} {ground:.1}Q{:.1} {:.1} {:.1} {:.1}",
                half_way.0, half_way.1, end.0, end.1
            ),
            end,
        }
    }

    /// The line to the target, an SVG path.
    fn target_line(&self) -> String {
        format!(
            "M{:.1} {:.1}V{:.1}",
            0.5 * WIDTH,
            self.ground(),
            self.top + 2.0
        )
    }

    fn ground(&self) -> f64 {
        self.top + FLIGHT - 6.0
    }
}

/// A box with round corners.
fn rounded(top: f64, height: f64) -> String {
    let (right, bottom, r) = (WIDTH - 1.0, top + height, 14.0);
    format!(
        "M{0:.1} {top:.1}H{1:.1}A{r} {r} 0 0 1 {right:.1} {2:.1}V{3:.1}A{r} {r} 0 0 1 {1:.1} {bottom:.1}H{0:.1}A{r} {r} 0 0 1 1.0 {3:.1}V{2:.1}A{r} {r} 0 0 1 {0:.1} {top:.1}Z",
        1.0 + r,
        right - r,
        top + r,
        bottom - r
    )
}

/// A box with its corners cut off.
fn cut(top: f64, height: f64) -> String {
    let (right, bottom, c) = (WIDTH - 1.0, top + height, 12.0);
    format!(
        "M{0:.1} {top:.1}H{1:.1}L{right:.1} {2:.1}V{3:.1}L{1:.1} {bottom:.1}H{0:.1}L1.0 {3:.1}V{2:.1}Z",
        1.0 + c,
        right - c,
        top + c,
        bottom - c
    )
}

/// A plain box with a second outline inside.
fn doubled(top: f64, height: f64) -> String {
    let rectangle = |in_by: f64| {
        format!(
            "M{0:.1} {1:.1}H{2:.1}V{3:.1}H{0:.1}Z",
            1.0 + in_by,
            top + in_by,
            WIDTH - 1.0 - in_by,
            top + height - in_by
        )
    };
    rectangle(0.0) + &rectangle(4.0)
}

/// Words in lines of at most so many letters; a longer word has a line of its own.
fn wrapped(text: &str, most: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= most => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.into()),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    fn step(about: ChainPart, short: &str, ball: Option<(Sideways, Sideways)>) -> ChainStep {
        ChainStep {
            about,
            short: short.into(),
            says: format!("{short}."),
            grade: (about != ChainPart::Body).then_some(CauseGrade::D),
            source: String::new(),
            ball: ball.map(|(starts, curves)| BallPath { starts, curves }),
        }
    }

    fn slice() -> [ChainStep; 3] {
        [
            step(
                ChainPart::Body,
                "hips stay back as the arms start down & wait",
                None,
            ),
            step(ChainPart::Club, "path from outside to inside", None),
            step(
                ChainPart::Flight,
                "slice",
                Some((Sideways::Straight, Sideways::Trail)),
            ),
        ]
    }

    #[test]
    fn every_step_and_grade_is_in_the_picture_and_in_its_words() {
        let picture = ChainPicture::of(&slice(), Hand::Right).unwrap();
        let svg = rendered(&picture, Say::default());
        for text in [
            "Body",
            "Club",
            "Ball",
            "path from outside to inside",
            "grade D",
            "role=\"img\"",
        ] {
            assert!(svg.contains(text), "{text}: {svg}");
        }
        assert!(svg.contains("arms start down &#38; wait"), "{svg}");
        assert!(svg.contains("inside, then slice\""), "{svg}");
        assert_eq!(svg.matches("<path").count(), 3 + 2 + 2, "{svg}");
        assert!(ChainPicture::of(&[], Hand::Right).is_none());
    }

    #[test]
    fn it_needs_no_colour_style_or_address_of_its_own() {
        let picture = ChainPicture::of(&slice(), Hand::Left).unwrap();
        let svg = rendered(&picture, Say::default());
        for bad in [" style=", "#", "rgb", "http", "<script", "NaN"] {
            assert!(!svg.replace("&#38;", "").contains(bad), "{bad}: {svg}");
        }
        assert!(svg.contains("currentColor"));
    }

    #[test]
    fn a_left_handers_ball_flies_to_the_other_side() {
        let end = |hand| {
            ChainPicture::of(&slice(), hand)
                .unwrap()
                .flight
                .unwrap()
                .end
                .0
        };
        let (right, left) = (end(Hand::Right), end(Hand::Left));
        assert!(right > 0.5 * WIDTH && left < 0.5 * WIDTH);
        assert!((right + left - WIDTH).abs() < 1e-9);
        let words = |hand| ChainPicture::of(&slice(), hand).unwrap().words;
        assert_eq!(words(Hand::Right), words(Hand::Left));
    }

    #[test]
    fn a_pull_slice_starts_on_one_side_and_ends_nearer_to_the_line() {
        let path = |starts, curves| {
            let ball = BallPath { starts, curves };
            FlightPath::of(ball, Hand::Right, 0.0).end.0 - 0.5 * WIDTH
        };
        use Sideways::{Lead, Straight, Trail};
        assert!(path(Lead, Straight) < 0.0);
        assert!(path(Lead, Trail).abs() < 1e-9 && path(Lead, Lead) < path(Lead, Straight));
        assert!(path(Straight, Straight).abs() < 1e-9);
    }

    #[test]
    fn long_words_are_broken_into_lines_inside_the_box() {
        let text = "grip turned too far away from the target and held very tightly indeed";
        let lines = wrapped(text, MOST_LETTERS);
        assert!(lines.len() == 2 && lines.iter().all(|line| line.len() <= MOST_LETTERS));
        assert_eq!(lines.join(" "), text);
    }
}
