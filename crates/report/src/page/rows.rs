//! Measures held against their ranges, row by row.

use super::outcome::goal_of;
use super::places::target_left;
use crate::amount::{Amount, Direction, Spread, way};
use crate::chart::Chart;
use crate::content::{LessonContent, reference_for};
use crate::said::{capital, filters};
use crate::verdict::Verdict;
use crate::when::{Title, When};
use askama::Template;
use askama::filters::HtmlSafe;
use lessonwright_language::{Text, again, t};
use lessonwright_model::{Measure, MeasureName, MomentName};

/// One of the three checks.
pub(crate) struct Check<'a> {
    pub(crate) name: MeasureName,
    pub(crate) rows: Vec<Row<'a>>,
}

/// One measure held against its band.
#[derive(Template)]
#[template(path = "row.html")]
pub(crate) struct Row<'a> {
    pub(crate) measure: &'a Measure,
    pub(crate) verdict: Verdict,
    pub(crate) amount: Option<Amount>,
    pub(crate) spread: Option<Spread>,
    pub(crate) band: Option<Band<'a>>,
    pub(crate) chart: Option<Chart>,
}

pub(crate) struct Band<'a> {
    pub(crate) low: Option<Amount>,
    pub(crate) high: Option<Amount>,
    pub(crate) source: &'a str,
}

impl Band<'_> {
    /// "between 2.5 cm and 10.7 cm (4.2 in) toward the target", "0 cm or more toward the target".
    fn text(&self) -> Text {
        match (&self.low, &self.high) {
            (Some(low), Some(high)) => {
                let low = match low.direction == high.direction {
                    true => low.figure(),
                    false => low.without_the_other_unit(),
                };
                t("lesson-range-between")
                    .with("low", low)
                    .with("high", high.text())
            }
            (Some(low), None) => from(low, Direction::Plus),
            (None, Some(high)) => from(high, Direction::Minus),
            (None, None) => t("lesson-range-any"),
        }
    }
}

/// A range that is open on the side of `open`: "0 cm or more toward the target".
fn from(edge: &Amount, open: Direction) -> Text {
    match edge.direction == Direction::Nil {
        true => {
            let more = t("lesson-or-more").with("edge", edge.figure());
            Text::joined([more].into_iter().chain(way(edge.measure, open)), " ")
        }
        false if edge.direction == open => t("lesson-or-more").with("edge", edge.text()),
        false => t("lesson-no-more-than").with("edge", edge.text()),
    }
}

impl HtmlSafe for Row<'_> {}

const CHECKS: [MeasureName; 3] = [
    MeasureName::PelvisShift,
    MeasureName::KneeLineTurn,
    MeasureName::TrailElbowAhead,
];

/// Tempo, below the checks.
const TEMPO: [MeasureName; 3] = [
    MeasureName::BackswingTime,
    MeasureName::DownswingTime,
    MeasureName::TempoRatio,
];

/// When a lesson looks at the checks. The studio's page of the swing has all moments.
pub(crate) const LOOKED_AT: [MomentName; 3] = [
    MomentName::Top,
    MomentName::LeadArmLevelDown,
    MomentName::Impact,
];

impl Check<'_> {
    pub(crate) fn title(&self) -> Title {
        Title(self.name)
    }

    /// What it is.
    pub(crate) fn about(&self) -> Text {
        match self.name {
            MeasureName::PelvisShift => t("lesson-about-pelvis-shift"),
            MeasureName::KneeLineTurn => t("lesson-about-knee-line-turn"),
            MeasureName::TrailElbowAhead => t("lesson-about-trail-elbow"),
            _ => Text::plain(""),
        }
    }

    pub(crate) fn is_measured(&self) -> bool {
        self.rows.iter().any(|row| row.verdict.is_measured())
    }
}

impl Row<'_> {
    /// Why there is no number, or what limits it.
    fn reason(&self) -> Text {
        again(&self.measure.reason)
    }

    pub(crate) fn when(&self) -> When {
        When::of(self.measure)
    }
}

/// The three checks.
pub(crate) fn checks(content: &LessonContent) -> Vec<Check<'_>> {
    let check = |name: &MeasureName| Check {
        name: *name,
        rows: rows(content, *name),
    };
    CHECKS.iter().map(check).collect()
}

/// The numbers of the checks at a moment, against address: measure and amount.
pub(crate) fn captions_at(content: &LessonContent, moment: MomentName) -> Vec<String> {
    let measures = content.analysis.measures.iter().filter(|m| {
        CHECKS.contains(&m.name)
            && m.moment == moment
            && m.against.is_none_or(|a| a == MomentName::Address)
    });
    measures
        .filter_map(|m| {
            let number = t("lesson-number-of")
                .with("measure", Title(m.name).text())
                .with("amount", amount_of(content, m)?.text());
            Some(capital(&content.say.text(&number)))
        })
        .collect()
}

/// Tempo, below the checks.
pub(crate) fn tempo(content: &LessonContent) -> Vec<Row<'_>> {
    TEMPO.iter().flat_map(|name| rows(content, *name)).collect()
}

fn rows<'a>(content: &'a LessonContent, name: MeasureName) -> Vec<Row<'a>> {
    let mirrored = name == MeasureName::PelvisShift && target_left(content);
    content
        .analysis
        .measures
        .iter()
        .filter(|measure| measure.name == name && LOOKED_AT.contains(&measure.moment))
        .map(|measure| row(content, measure, mirrored))
        .collect()
}

fn row<'a>(content: &'a LessonContent, measure: &'a Measure, mirrored: bool) -> Row<'a> {
    let reference = reference_for(
        &content.references,
        measure.name,
        measure.moment,
        measure.against,
    );
    let amount = |value| Amount::new(measure.name, value, content.units);
    let reach = goal_of(content).filter(|g| {
        (g.measure, g.moment, g.against) == (Some(measure.name), measure.moment, measure.against)
    });
    Row {
        measure,
        verdict: Verdict::of(measure, reference),
        amount: measure.value.map(amount),
        spread: spread(content, measure),
        band: reference.map(|reference| Band {
            low: Some(reference.low).filter(|v| v.is_finite()).map(amount),
            high: Some(reference.high).filter(|v| v.is_finite()).map(amount),
            source: &reference.source,
        }),
        chart: Chart::new(
            measure,
            reference,
            reach.and_then(|p| p.reach),
            content.units,
            mirrored,
        ),
    }
}

pub(crate) fn spread(content: &LessonContent, measure: &Measure) -> Option<Spread> {
    let interval = measure.interval()?;
    let (low, high) = (interval.low, interval.high);
    Some(Spread::new(
        measure.name,
        measure.value?,
        low,
        high,
        content.units,
    ))
}

pub(crate) fn amount_of(content: &LessonContent, measure: &Measure) -> Option<Amount> {
    Some(Amount::new(measure.name, measure.value?, content.units))
}
