//! Where things lie on the small scale under a measure: band, interval, value and ticks, as
//! percentages of the scale's width from its left end.

use crate::amount::{Shown, Units};
use crate::content::Reference;
use askama::Template;
use askama::filters::HtmlSafe;
use lessonwright_language::{Text, filters, words};
use lessonwright_model::{Measure, MeasureName};

/// A scale ready to be drawn. Displays as inline SVG of class `chart` with classes on its parts; its
/// lettering keeps its size whatever the width.
#[derive(Clone, Debug, PartialEq, Template)]
#[template(path = "chart.html")]
pub struct Chart {
    /// The measure, for the wording of the two ends.
    pub measure: MeasureName,
    /// True if plus is to the left, so that the scale runs as the picture does.
    pub mirrored: bool,
    /// Round numbers, from left to right.
    pub ticks: Vec<Tick>,
    /// The reference band: left end and width, %.
    pub band: Option<(f64, f64)>,
    /// The 95 % interval: left end and width, %.
    pub interval: (f64, f64),
    /// The value, %.
    pub value: f64,
    /// The number to reach, %.
    pub reach: Option<f64>,
}

/// A round number on the scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Tick {
    /// Where, %.
    pub at: f64,
    /// Digits without a sign; the ends of the scale say which way is which.
    pub label: String,
    /// True at nought.
    pub origin: bool,
}

impl HtmlSafe for Chart {}

/// Share of the drawn range left free at each end, so that no mark touches the edge. By eye.
const FREE_END: f64 = 0.08;

/// The most ticks that stay readable at phone width with a text of 13 px. By eye.
const MOST_TICKS: f64 = 6.0;

impl Chart {
    /// What plus and minus mean, where the measure has both.
    fn ends(&self) -> Option<[Text; 2]> {
        Some([
            words::way(self.measure, true)?,
            words::way(self.measure, false)?,
        ])
    }

    /// The scale of a measure that has a number; `None` if it has none. It shows nought, the band
    /// and the whole interval, whatever their size.
    pub fn new(
        measure: &Measure,
        reference: Option<&Reference>,
        reach: Option<f64>,
        units: Units,
        mirrored: bool,
    ) -> Option<Chart> {
        let value = measure.value?;
        let interval = measure.interval()?;
        let shown = Shown::of(measure.name.unit(), units);
        let marks = [Some(0.0), Some(interval.low), Some(interval.high), reach]
            .into_iter()
            .chain(reference.map(|r| Some(r.low)))
            .chain(reference.map(|r| Some(r.high)))
            .flatten()
            .filter(|v| v.is_finite())
            .map(|v| v * shown.factor);
        let (low, high) = marks.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| {
            (low.min(v), high.max(v))
        });
        // Ten steps of the last digit shown keep a measure of nought drawable.
        let span = (high - low).max(10f64.powi(1 - shown.decimals as i32));
        let (low, high) = (low - FREE_END * span, low + (1.0 + FREE_END) * span);
        let scale = Scale {
            low,
            high,
            mirrored,
        };
        let at = |v: f64| scale.percent(v * shown.factor);
        Some(Chart {
            measure: measure.name,
            mirrored,
            ticks: scale.ticks(),
            band: reference.map(|r| left_and_width(at(r.low), at(r.high))),
            interval: left_and_width(at(interval.low), at(interval.high)),
            value: at(value),
            reach: reach.map(at),
        })
    }
}

struct Scale {
    low: f64,
    high: f64,
    mirrored: bool,
}

impl Scale {
    /// Clamped, so that a band open at one end reaches the edge.
    fn percent(&self, v: f64) -> f64 {
        let share = ((v - self.low) / (self.high - self.low)).clamp(0.0, 1.0);
        100.0 * if self.mirrored { 1.0 - share } else { share }
    }

    fn ticks(&self) -> Vec<Tick> {
        let step = round_step((self.high - self.low) / MOST_TICKS);
        let decimals = (-step.log10().floor()).max(0.0) as usize;
        let first = (self.low / step).ceil() as i64;
        let last = (self.high / step).floor() as i64;
        let mut ticks: Vec<Tick> = (first..=last)
            .map(|i| Tick {
                at: self.percent(i as f64 * step),
                label: format!("{:.decimals$}", (i as f64 * step).abs()),
                origin: i == 0,
            })
            .collect();
        if self.mirrored {
            ticks.reverse();
        }
        ticks
    }
}

/// The smallest of 1, 2, 5 × 10ⁿ that is at least `least`.
pub(crate) fn round_step(least: f64) -> f64 {
    let power = 10f64.powf(least.log10().floor());
    [1.0, 2.0, 5.0]
        .into_iter()
        .map(|m| m * power)
        .find(|step| *step >= least)
        .unwrap_or(10.0 * power)
}

fn left_and_width(a: f64, b: f64) -> (f64, f64) {
    (a.min(b), (a - b).abs())
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_model::{MeasureState, MomentName, Unit};

    #[test]
    fn everything_lies_on_the_scale_in_order() {
        for units in [Units::Centimetres, Units::Inches] {
            let chart = chart(units, false);
            let (band_left, band_width) = chart.band.unwrap();
            let (left, width) = chart.interval;
            let origin = chart.ticks.iter().find(|t| t.origin).unwrap().at;
            assert!(0.0 < left && left < chart.value && chart.value < left + width);
            assert!(left + width < origin, "the interval is below nought");
            assert!(origin < band_left && band_left + band_width < 100.0);
            assert!(chart.ticks.len() >= 3 && chart.ticks.len() <= 7);
            assert!(chart.ticks.windows(2).all(|t| t[0].at < t[1].at));
        }
    }

    #[test]
    fn a_mirrored_scale_is_the_mirror_image() {
        let (plain, mirrored) = (
            chart(Units::Centimetres, false),
            chart(Units::Centimetres, true),
        );
        assert!((plain.value + mirrored.value - 100.0).abs() < 1e-9);
        let (left, width) = plain.interval;
        assert!((mirrored.interval.0 - (100.0 - left - width)).abs() < 1e-9);
        assert!(mirrored.ticks.windows(2).all(|t| t[0].at < t[1].at));
    }

    #[test]
    fn the_step_is_round() {
        for (least, step) in [(0.11, 0.2), (0.9, 1.0), (1.0, 1.0), (3.0, 5.0), (7.0, 10.0)] {
            assert!((round_step(least) - step).abs() < 1e-12, "{least}");
        }
    }

    #[test]
    fn an_open_band_reaches_the_edge() {
        let open = Reference {
            high: f64::INFINITY,
            ..band()
        };
        let chart = Chart::new(&measure(), Some(&open), None, Units::Centimetres, false).unwrap();
        let (left, width) = chart.band.unwrap();
        assert!((left + width - 100.0).abs() < 1e-9);
    }

    fn chart(units: Units, mirrored: bool) -> Chart {
        Chart::new(&measure(), Some(&band()), None, units, mirrored).unwrap()
    }

    fn band() -> Reference {
        Reference {
            measure: MeasureName::PelvisShift,
            moment: MomentName::LeadArmLevelDown,
            against: Some(MomentName::Address),
            low: 2.0,
            high: 9.0,
            source: String::new(),
        }
    }

    fn measure() -> Measure {
        Measure {
            name: MeasureName::PelvisShift,
            moment: MomentName::LeadArmLevelDown,
            against: Some(MomentName::Address),
            view: None,
            value: Some(-3.0),
            unit: Unit::Centimetre,
            low: Some(-4.2),
            high: Some(-1.9),
            state: MeasureState::Measured,
            reason: String::new(),
        }
    }
}
