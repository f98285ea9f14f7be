//! A drill's pictures as a part of a page: three stills and, folded away, the moving figure.

use askama::Template;
use askama::filters::HtmlSafe;
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use lessonwright_language::{Say, filters, t};
use lessonwright_model::{DrillFigure, Hand};

/// Between two stills, as a share of their side.
const GAP: f64 = 0.03;

/// The pictures of a drill for a hand. Rendered, it is HTML that needs [`FIGURE_STYLE`] and nothing else.
#[derive(Template)]
#[template(path = "drill_figure.html")]
pub struct FigurePart<'a> {
    title: &'a str,
    hand: Hand,
    figure: &'a DrillFigure,
    /// Side of a still, px; the picture's width where it is not three stills.
    side: usize,
}

/// The same without HTML around it.
#[derive(Template)]
#[template(path = "drill_figure.svg", escape = "html")]
struct FigureAlone<'a, 'b> {
    part: &'b FigurePart<'a>,
    wide: f64,
    high: usize,
}

/// How [`FigurePart`] looks.
pub const FIGURE_STYLE: &str = include_str!("../templates/drill_figure.css");

impl HtmlSafe for FigurePart<'_> {}

impl<'a> FigurePart<'a> {
    /// The pictures of a drill of that title.
    pub fn new(title: &'a str, hand: Hand, figure: &'a DrillFigure) -> FigurePart<'a> {
        let [width, height] = figure.size_px;
        FigurePart {
            title,
            hand,
            figure,
            side: if figure.is_strip() { height } else { width },
        }
    }

    /// The stills as a drawing that stands alone (SVG), and the same in words. A picture of the professional's own is shown as
    /// it is.
    pub(crate) fn alone(&self, say: Say) -> Result<[String; 2], askama::Error> {
        let [width, height] = self.figure.size_px;
        let (wide, words) = match self.figure.is_strip() {
            true => (self.width(), "lesson-doing"),
            false => (width as f64, "lesson-doing-one"),
        };
        let words = say.text(&t(words).with("title", self.title));
        let drawing = FigureAlone {
            part: self,
            wide,
            high: height,
        };
        Ok([drawing.render()?, words])
    }

    fn mirrored(&self) -> bool {
        self.figure.is_strip() && self.hand == Hand::Left
    }

    /// How wide the drawing of all three stills is.
    fn width(&self) -> f64 {
        (2.0 * (1.0 + GAP) * self.side as f64).round() + self.side as f64
    }

    /// The three stills: number, where each begins in the drawing, and what brings its part of the strip there.
    fn places(&self) -> [(usize, f64, String); 3] {
        [0, 1, 2].map(|i| {
            let carried = if self.mirrored() {
                format!("translate({} 0) scale(-1 1)", (i + 1) * self.side)
            } else {
                format!("translate(-{} 0)", i * self.side)
            };
            let left = (i as f64 * (1.0 + GAP) * self.side as f64).round();
            (i + 1, left, carried)
        })
    }

    fn stills(&self) -> String {
        STANDARD.encode(&self.figure.stills)
    }

    fn moving(&self) -> Option<String> {
        self.figure.moving.as_ref().map(|m| STANDARD.encode(m))
    }
}
