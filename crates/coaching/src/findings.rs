//! Which facts were found: measures outside their reference, and what the professional saw.
//!
//! The rule for a measure: a finding needs the whole 95 % interval outside the band; an interval that touches
//! the band is none. Strength is the distance from the band to the interval's nearer end, in band
//! half-widths, so an uncertain measure counts less. Formula, for an interval [l, u] and a band
//! [L, H]: strength = max(l − H, L − u) / ((H − L) / 2) when positive.

use crate::causes::{BodyFact, CauseTable, Outside, Shown};
use crate::targets::{Target, Targets};
use crate::wording::Filling;
use lessonwright_language::Language;
use lessonwright_model::{Finding, Hand, Interval, Measure, MeasureName, MeasureState, MomentName};
use std::collections::BTreeSet;

/// A body fact that was found: measured, seen, or both.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Found<'a> {
    pub(crate) body: &'a BodyFact,
    /// The measure outside its band; none where only the professional's eye says so.
    pub(crate) reading: Option<Reading<'a>>,
    /// The professional ticked it.
    pub(crate) seen: bool,
}

/// A measure outside its band.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Reading<'a> {
    pub(crate) shown: &'a Shown,
    pub(crate) target: &'a Target,
    pub(crate) measure: &'a Measure,
    pub(crate) value: f64,
    pub(crate) interval: Interval,
    pub(crate) strength: f64,
}

impl Found<'_> {
    /// One sentence for the player.
    pub(crate) fn says(&self, hand: Hand, language: Language) -> String {
        match &self.reading {
            Some(reading) => reading.words(hand, language).fill(&reading.shown.says),
            None => Filling::of(hand).fill(&self.body.seen),
        }
    }

    /// The finding as it is shown; none where nothing was measured.
    pub(crate) fn worded(&self, hand: Hand, language: Language) -> Option<Finding> {
        let reading = self.reading.as_ref()?;
        Some(Finding {
            key: self.body.key.clone(),
            says: self.says(hand, language),
            measure: reading.measure.name,
            moment: reading.measure.moment,
            against: reading.measure.against,
            value: reading.value,
            reference_low: reading.target.low,
            reference_high: reading.target.high,
            reference_source: reading.target.cited(language),
            strength: reading.strength,
        })
    }
}

impl Reading<'_> {
    /// Words with this reading's numbers.
    pub(crate) fn words(&self, hand: Hand, language: Language) -> Filling {
        let band = (self.target.low, self.target.high);
        Filling::with_numbers(hand, language, self.measure.name, self.value, band)
    }

    /// The band's edge nearer to the value.
    pub(crate) fn near_edge(&self) -> f64 {
        near_edge(self.shown, self.target)
    }
}

/// All facts found, in the order of the cause table. Of two measures of the same thing (two views) the one
/// with the narrower interval speaks, and the other is not asked.
pub(crate) fn find<'a>(
    measures: &'a [Measure],
    seen: &BTreeSet<String>,
    targets: &'a Targets,
    causes: &'a CauseTable,
) -> Vec<Found<'a>> {
    let found = causes.bodies().iter().map(|body| Found {
        body,
        reading: body
            .shown
            .as_ref()
            .and_then(|shown| read(body, shown, measures, targets)),
        seen: seen.contains(&body.key),
    });
    found
        .filter(|one| one.seen || one.reading.is_some())
        .collect()
}

fn read<'a>(
    body: &BodyFact,
    shown: &'a Shown,
    measures: &'a [Measure],
    targets: &'a Targets,
) -> Option<Reading<'a>> {
    let (measure, value, interval, target) = surest(body, measures, targets)?;
    let (outside, strength) = outside(interval, target)?;
    (outside == shown.outside).then_some(Reading {
        shown,
        target,
        measure,
        value,
        interval,
        strength,
    })
}

/// Body facts whose measure reads outside its band with a ± that reaches it: another film could show them.
pub(crate) fn unclear<'a>(
    measures: &'a [Measure],
    targets: &'a Targets,
    causes: &'a CauseTable,
) -> Vec<(&'a BodyFact, &'a Measure)> {
    let unclear = causes.bodies().iter().filter_map(|body| {
        let shown = body.shown.as_ref()?;
        let (measure, value, interval, target) = surest(body, measures, targets)?;
        let edge = near_edge(shown, target);
        let beyond = match shown.outside {
            Outside::Below => value < edge,
            Outside::Above => value > edge,
        };
        (beyond && outside(interval, target).is_none()).then_some((body, measure))
    });
    unclear.collect()
}

/// Whether a body fact's measure was taken at all, and could be compared.
pub(crate) fn was_measured(body: &BodyFact, measures: &[Measure]) -> bool {
    measures
        .iter()
        .any(|measure| shows(body, measure) && numbers(measure).is_some())
}

/// Whether a measure is the one a body fact is read from.
pub(crate) fn shows(body: &BodyFact, measure: &Measure) -> bool {
    body.is_shown_by(measure.name, measure.moment, measure.against)
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

fn near_edge(shown: &Shown, target: &Target) -> f64 {
    match shown.outside {
        Outside::Below => target.low,
        Outside::Above => target.high,
    }
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
    targets: &'a Targets,
) -> Option<(&'a Measure, f64, Interval, &'a Target)> {
    measures
        .iter()
        .filter(|measure| shows(body, measure))
        .filter_map(|measure| {
            let (value, interval) = numbers(measure)?;
            Some((measure, value, interval, targets.of(measure)?))
        })
        .min_by(|(_, _, a, _), (_, _, b, _)| (a.high - a.low).total_cmp(&(b.high - b.low)))
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
