//! One number from session to session, as a picture: ± whiskers, the band that is not to be told from the level
//! before, the number to reach, the lessons. Across in percent of the width, down in px, so that lettering
//! keeps its size whatever the width.

use crate::amount::{Shown, Units};
use crate::chart::round_step;
use askama::Template;
use askama::filters::HtmlSafe;
use lessonwright_language::{Text, filters, t};
use lessonwright_model::{Interval, MeasureName};

/// How a session's swings were made, told by a shape. Displays as inline SVG.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Template)]
#[template(path = "trend_mark.html")]
pub enum TrendMark {
    /// A hollow diamond.
    Unmarked,
    /// A hollow square.
    Practice,
    /// A filled circle.
    Retention,
    /// A filled triangle.
    Transfer,
}

impl TrendMark {
    /// Its outline about the middle, px.
    fn path(self) -> &'static str {
        match self {
            TrendMark::Unmarked => "M0-8 8 0 0 8-8 0Z",
            TrendMark::Practice => "M-6-6H6V6H-6Z",
            TrendMark::Retention => "M-7 0a7 7 0 1 0 14 0a7 7 0 1 0-14 0Z",
            TrendMark::Transfer => "M0-8 8 6H-8Z",
        }
    }

    fn hollow(self) -> bool {
        matches!(self, TrendMark::Unmarked | TrendMark::Practice)
    }
}

/// What is drawn; numbers in the measure's own unit.
#[derive(Clone, Debug, PartialEq)]
pub struct TrendContent {
    /// The measure.
    pub measure: MeasureName,
    /// The unit of length.
    pub units: Units,
    /// Oldest first.
    pub points: Vec<TrendPoint>,
    /// What is not to be told from the level before.
    pub band: Option<Interval>,
    /// The number to reach.
    pub goal: Option<f64>,
    /// Days of lessons.
    pub lessons: Vec<i32>,
}

/// One session.
#[derive(Clone, Debug, PartialEq)]
pub struct TrendPoint {
    /// Its day, counted from any one.
    pub day: i32,
    /// The day as it is read ("4 Nov").
    pub label: String,
    /// Mean of the swings.
    pub mean: f64,
    /// Half of its 95 % interval.
    pub plus_minus: f64,
    /// Each swing.
    pub swings: Vec<f64>,
    /// How they were made.
    pub mark: TrendMark,
}

/// The picture. Displays as inline SVG of class `trend`; hidden from screen readers, which get the table
/// that belongs beside it.
#[derive(Clone, Debug, PartialEq, Template)]
#[template(path = "trend.html")]
pub struct TrendPicture {
    /// With a space before it where it is a word.
    unit: String,
    points: Vec<Point>,
    band: Option<(f64, f64)>,
    goal: Option<f64>,
    lessons: Vec<f64>,
    ticks: Vec<(f64, String)>,
    days: Vec<(f64, String)>,
}

#[derive(Clone, Debug, PartialEq)]
struct Point {
    at: f64,
    y: f64,
    low: f64,
    high: f64,
    swings: Vec<f64>,
    mark: TrendMark,
}

impl HtmlSafe for TrendMark {}
impl HtmlSafe for TrendPicture {}

/// Where the drawn range starts and ends: px from the top, percent from the left. By eye.
const TOP: f64 = 26.0;
const BOTTOM: f64 = 196.0;
const LEFT: f64 = 14.0;
const RIGHT: f64 = 96.0;
/// Least distance of two sessions, and of two days' lettering, percent of the width. By eye, for a phone.
const APART: f64 = 3.5;
const LETTERING: f64 = 24.0;
/// Share of the range left free above and below.
const FREE: f64 = 0.06;

impl TrendPicture {
    /// `None` without a session.
    pub fn new(content: &TrendContent) -> Option<TrendPicture> {
        content.points.first()?;
        let shown = Shown::of(content.measure.unit(), content.units);
        let (low, high) = range(content, &shown);
        let y = |v: f64| BOTTOM - (v * shown.factor - low) / (high - low) * (BOTTOM - TOP);
        let across = Across::of(content);
        let points: Vec<Point> = content
            .points
            .iter()
            .zip(across.points())
            .map(|(p, at)| Point {
                at,
                y: y(p.mean),
                low: y(p.mean - p.plus_minus),
                high: y(p.mean + p.plus_minus),
                swings: p.swings.iter().map(|v| y(*v)).collect(),
                mark: p.mark,
            })
            .collect();
        let mut days: Vec<(f64, String)> = Vec::new();
        for (point, drawn) in content.points.iter().zip(&points) {
            if days.last().is_none_or(|(at, _)| drawn.at - at >= LETTERING) {
                days.push((drawn.at, point.label.clone()));
            }
        }
        let step = round_step((high - low) / 5.0);
        let decimals = (-step.log10().floor()).max(0.0) as usize;
        let ticks = ((low / step).ceil() as i64..=(high / step).floor() as i64).map(|i| {
            let value = i as f64 * step;
            let label = format!("{value:.decimals$}").replace('-', "−");
            (y(value / shown.factor), label)
        });
        Some(TrendPicture {
            unit: match shown.unit {
                "°" | "" => shown.unit.into(),
                unit => format!(" {unit}"),
            },
            band: content.band.map(|b| (y(b.high), y(b.low) - y(b.high))),
            goal: content.goal.map(y),
            lessons: content.lessons.iter().map(|day| across.at(*day)).collect(),
            ticks: ticks.collect(),
            days,
            points,
        })
    }
}

impl TrendPicture {
    fn unit(&self) -> Text {
        match self.unit.as_str() {
            " in" => Text::joined([Text::plain(""), t("lesson-inch")], " "),
            unit => Text::plain(unit),
        }
    }
}

/// Everything drawn lies within, in the unit shown.
fn range(content: &TrendContent, shown: &Shown) -> (f64, f64) {
    let of_points = content.points.iter().flat_map(|p| {
        let ends = [p.mean - p.plus_minus, p.mean + p.plus_minus];
        ends.into_iter().chain(p.swings.iter().copied())
    });
    let marks = of_points
        .chain(content.band.iter().flat_map(|b| [b.low, b.high]))
        .chain(content.goal)
        .filter(|v| v.is_finite());
    let (low, high) = marks.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| {
        (low.min(v * shown.factor), high.max(v * shown.factor))
    });
    let span = (high - low).max(10f64.powi(1 - shown.decimals as i32));
    (low - FREE * span, low + (1.0 + FREE) * span)
}

/// Where days lie across.
struct Across {
    /// Day and place of each session, in order.
    known: Vec<(i32, f64)>,
}

impl Across {
    /// True to time, but sessions never closer than [`APART`].
    fn of(content: &TrendContent) -> Across {
        let days: Vec<i32> = content.points.iter().map(|p| p.day).collect();
        let all = days.iter().chain(&content.lessons);
        let (first, last) = all.fold((i32::MAX, i32::MIN), |(a, b), d| (a.min(*d), b.max(*d)));
        let span = f64::from((last - first).max(1));
        let mut known: Vec<(i32, f64)> = Vec::new();
        for day in days {
            let true_to_time = LEFT + (RIGHT - LEFT) * f64::from(day - first) / span;
            let free = known.last().map_or(LEFT, |(_, at)| at + APART);
            known.push((day, true_to_time.max(free)));
        }
        let end = known.last().map_or(RIGHT, |(_, at)| *at);
        if end > RIGHT {
            for (_, at) in &mut known {
                *at = LEFT + (*at - LEFT) * (RIGHT - LEFT) / (end - LEFT);
            }
        }
        Across { known }
    }

    fn points(&self) -> impl Iterator<Item = f64> {
        self.known.iter().map(|(_, at)| *at)
    }

    /// A lesson: behind the last session up to its day, before the next.
    fn at(&self, day: i32) -> f64 {
        let before = self
            .known
            .iter()
            .rfind(|(d, _)| *d <= day)
            .map(|(_, at)| *at);
        let after = self.known.iter().find(|(d, _)| *d > day).map(|(_, at)| *at);
        match (before, after) {
            (Some(before), Some(after)) => (before + APART / 2.0).min(0.5 * (before + after)),
            (Some(before), None) => (before + APART / 2.0).min(RIGHT + 2.0),
            (None, Some(after)) => after - APART / 2.0,
            (None, None) => LEFT,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn content(days: &[i32]) -> TrendContent {
        let point = |(i, day): (usize, &i32)| TrendPoint {
            day: *day,
            label: format!("day {day}"),
            mean: i as f64,
            plus_minus: 1.0,
            swings: vec![i as f64 - 0.5, i as f64 + 0.5],
            mark: TrendMark::Retention,
        };
        TrendContent {
            measure: MeasureName::PelvisShift,
            units: Units::Centimetres,
            points: days.iter().enumerate().map(point).collect(),
            band: Some(Interval {
                low: -2.0,
                high: 2.0,
            }),
            goal: Some(6.0),
            lessons: vec![days[0]],
        }
    }

    #[test]
    fn sessions_are_in_order_apart_and_inside() {
        for days in [&[0, 1, 2, 90][..], &[5], &[0, 0, 0, 0], &[0, 30, 60]] {
            let picture = TrendPicture::new(&content(days)).unwrap();
            let at: Vec<f64> = picture.points.iter().map(|p| p.at).collect();
            assert!(
                at.iter().all(|x| (LEFT..=RIGHT + 1e-9).contains(x)),
                "{at:?}"
            );
            assert!(at.windows(2).all(|w| w[1] > w[0]), "{at:?}");
            for point in &picture.points {
                assert!(point.high < point.y && point.y < point.low);
                assert!(TOP <= point.high && point.low <= BOTTOM);
            }
            assert!(picture.ticks.len() >= 3, "{:?}", picture.ticks);
        }
    }

    #[test]
    fn more_is_higher_and_the_goal_is_where_its_number_is() {
        let picture = TrendPicture::new(&content(&[0, 10, 20])).unwrap();
        assert!(picture.points[2].y < picture.points[0].y);
        // The goal, 6, is as far above 2 as 2 is above -2.
        let (top, height) = picture.band.unwrap();
        assert!((picture.goal.unwrap() - (top - height)).abs() < 1e-9);
    }

    #[test]
    fn nothing_is_drawn_of_nothing() {
        let none = TrendContent {
            points: vec![],
            ..content(&[0])
        };
        assert_eq!(TrendPicture::new(&none), None);
    }

    #[test]
    fn each_way_of_making_a_swing_has_a_shape_of_its_own() {
        use TrendMark::{Practice, Retention, Transfer, Unmarked};
        let mut paths = [Unmarked, Practice, Retention, Transfer].map(TrendMark::path);
        paths.sort_unstable();
        assert!(paths.windows(2).all(|w| w[0] != w[1]));
    }
}
