//! What may be said of a measure held against its band.

use crate::content::Reference;
use askama::Template;
use askama::filters::HtmlSafe;
use lessonwright_language::filters;
use lessonwright_model::{Interval, Measure, MeasureState};

/// The state of a measure, as told by a shape and words before a colour. Displays as HTML: a small
/// drawing and its words, in a `span` of class `verdict` and of the state's own class.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Template)]
#[template(path = "verdict.html")]
pub enum Verdict {
    /// The whole 95 % interval lies in the band.
    Inside,
    /// The whole 95 % interval lies outside the band.
    Outside,
    /// The interval reaches across an edge of the band: can't tell.
    CannotTell,
    /// Measured, but there is no band to hold it against.
    NoReference,
    /// There is no number, since the camera stood where it can't be seen.
    OtherViewNeeded,
    /// There is no number.
    Withheld,
}

impl HtmlSafe for Verdict {}

impl Verdict {
    /// True if there is a number.
    pub fn is_measured(self) -> bool {
        !matches!(self, Verdict::OtherViewNeeded | Verdict::Withheld)
    }

    /// Holds a measure against a band. The ends of the band belong to it.
    pub fn of(measure: &Measure, reference: Option<&Reference>) -> Verdict {
        let (Some(_), Some(Interval { low, high })) = (measure.value, measure.interval()) else {
            return match measure.state {
                MeasureState::NotMeasurableFromThisView => Verdict::OtherViewNeeded,
                MeasureState::Measured | MeasureState::NotMeasured => Verdict::Withheld,
            };
        };
        let Some(band) = reference else {
            return Verdict::NoReference;
        };
        if high < band.low || low > band.high {
            Verdict::Outside
        } else if low >= band.low && high <= band.high {
            Verdict::Inside
        } else {
            Verdict::CannotTell
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_model::{MeasureName, MomentName, Unit};

    #[test]
    fn a_verdict_needs_the_whole_interval() {
        let band = Reference {
            measure: MeasureName::PelvisShift,
            moment: MomentName::Impact,
            against: Some(MomentName::Address),
            low: 2.0,
            high: 10.0,
            source: String::new(),
        };
        for (low, high, expected) in [
            (3.0, 5.0, Verdict::Inside),
            (2.0, 10.0, Verdict::Inside),
            (-3.0, 1.9, Verdict::Outside),
            (10.1, 12.0, Verdict::Outside),
            (1.0, 3.0, Verdict::CannotTell),
            (9.0, 11.0, Verdict::CannotTell),
            (0.0, 20.0, Verdict::CannotTell),
        ] {
            let measure = measured(low, high);
            assert_eq!(
                Verdict::of(&measure, Some(&band)),
                expected,
                "{low}..{high}"
            );
        }
        assert_eq!(Verdict::of(&measured(0.0, 1.0), None), Verdict::NoReference);
    }

    #[test]
    fn no_number_is_withheld_whatever_the_band() {
        for (state, expected) in [
            (MeasureState::NotMeasured, Verdict::Withheld),
            (
                MeasureState::NotMeasurableFromThisView,
                Verdict::OtherViewNeeded,
            ),
        ] {
            let measure = Measure {
                value: None,
                low: None,
                high: None,
                state,
                ..measured(0.0, 1.0)
            };
            assert_eq!(Verdict::of(&measure, None), expected);
        }
    }

    fn measured(low: f64, high: f64) -> Measure {
        Measure {
            name: MeasureName::PelvisShift,
            moment: MomentName::Impact,
            against: Some(MomentName::Address),
            view: None,
            value: Some(0.5 * (low + high)),
            unit: Unit::Centimetre,
            low: Some(low),
            high: Some(high),
            state: MeasureState::Measured,
            reason: String::new(),
        }
    }
}
