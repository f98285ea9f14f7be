//! Which measures lie outside their reference, and how far.
//!
//! The rule: a finding needs the whole 95 % interval outside the band; an interval that touches
//! the band is none. Strength is the distance from the band to the interval's nearer end, in band
//! half-widths, so an uncertain measure counts less. Formula, for an interval [l, u] and a band
//! [L, H]: strength = max(l − H, L − u) / ((H − L) / 2) when positive.

use crate::causes::{BodyFact, CauseTable, Outside};
use crate::targets::{Target, Targets};
use crate::wording::Filling;
use lessonwright_model::{Finding, Hand, Interval, Measure, MeasureName, MeasureState, MomentName};

/// A measure outside its band that the cause table has a name for.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Found<'a> {
    pub(crate) body: &'a BodyFact,
    pub(crate) target: &'a Target,
    pub(crate) measure: &'a Measure,
    pub(crate) value: f64,
    pub(crate) interval: Interval,
    pub(crate) strength: f64,
}

impl Found<'_> {
    /// The finding as it is shown.
    pub(crate) fn worded(&self, hand: Hand) -> Finding {
        Finding {
            key: self.body.key.clone(),
            says: self.words(hand).fill(&self.body.says),
            measure: self.measure.name,
            moment: self.measure.moment,
            against: self.measure.against,
            value: self.value,
            reference_low: self.target.low,
            reference_high: self.target.high,
            reference_source: self.target.cited(),
            strength: self.strength,
        }
    }

    /// Words with this finding's numbers.
    pub(crate) fn words(&self, hand: Hand) -> Filling {
        let band = (self.target.low, self.target.high);
        Filling::with_numbers(hand, self.measure.name, self.value, band)
    }

    /// The band's edge nearer to the value.
    pub(crate) fn near_edge(&self) -> f64 {
        match self.body.outside {
            Outside::Below => self.target.low,
            Outside::Above => self.target.high,
        }
    }
}

/// All findings, strongest first, each body fact once: of two measures of the same thing (two
/// views) the one with the narrower interval speaks, and the other is not asked.
pub(crate) fn find<'a>(
    measures: &'a [Measure],
    targets: &'a Targets,
    causes: &'a CauseTable,
) -> Vec<Found<'a>> {
    let mut found: Vec<Found<'a>> = causes
        .bodies()
        .iter()
        .filter_map(|body| {
            let (measure, value, interval) = surest(body, measures, targets)?;
            let target = targets.of(measure)?;
            let (outside, strength) = outside(interval, target)?;
            (outside == body.outside).then_some(Found {
                body,
                target,
                measure,
                value,
                interval,
                strength,
            })
        })
        .collect();
    found.sort_by(|a, b| b.strength.total_cmp(&a.strength));
    found
}

/// Whether a body fact's measure was taken at all, and could be compared.
pub(crate) fn was_measured(body: &BodyFact, measures: &[Measure]) -> bool {
    measures
        .iter()
        .any(|measure| shows(body, measure) && numbers(measure).is_some())
}

/// Whether a measure is the one a body fact is read from.
pub(crate) fn shows(body: &BodyFact, measure: &Measure) -> bool {
    measure.name == body.measure
        && same_moments(
            measure.name,
            (measure.moment, measure.against),
            (body.moment, body.against),
        )
}

/// A duration or a ratio of durations spans the swing: the moment at which it is noted down does
/// not matter. For all others it does.
pub(crate) fn same_moments(
    name: MeasureName,
    one: (MomentName, Option<MomentName>),
    other: (MomentName, Option<MomentName>),
) -> bool {
    name.is_timing() || one == other
}

/// On which side of the band the whole interval lies and how far; `None` where they touch.
fn outside(interval: Interval, target: &Target) -> Option<(Outside, f64)> {
    let (below, above) = (target.low - interval.high, interval.low - target.high);
    if below > 0.0 {
        Some((Outside::Below, below / target.half_width()))
    } else if above > 0.0 {
        Some((Outside::Above, above / target.half_width()))
    } else {
        None
    }
}

/// The measure of this body fact with the narrowest interval, of those that have a reference.
fn surest<'a>(
    body: &BodyFact,
    measures: &'a [Measure],
    targets: &Targets,
) -> Option<(&'a Measure, f64, Interval)> {
    measures
        .iter()
        .filter(|measure| shows(body, measure) && targets.of(measure).is_some())
        .filter_map(|measure| numbers(measure).map(|(value, interval)| (measure, value, interval)))
        .min_by(|(_, _, a), (_, _, b)| (a.high - a.low).total_cmp(&(b.high - b.low)))
}

/// Value and interval of a measured measure; `None` for one that is not, or whose numbers are not
/// finite or not in order.
fn numbers(measure: &Measure) -> Option<(f64, Interval)> {
    if measure.state != MeasureState::Measured {
        return None;
    }
    let (value, interval) = (measure.value?, measure.interval()?);
    let sound = interval.low.is_finite()
        && interval.high.is_finite()
        && interval.low <= value
        && value <= interval.high;
    sound.then_some((value, interval))
}
