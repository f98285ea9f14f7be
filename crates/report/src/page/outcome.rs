//! What the page is about: the one thing, its drill and the number to reach.

use super::places::{hand_in, view_of};
use super::rows::{Check, amount_of, spread};
use super::shots::{Shot, Strip};
use crate::amount::{Amount, Spread};
use crate::chain::ChainPicture;
use crate::content::LessonContent;
use crate::when::When;
use lessonwright_model::{
    ChainStep, Drill, Measure, MeasureName, MomentName, Prescription, Priority, View,
};

/// What the page is about.
pub(crate) enum Outcome<'a> {
    OneThing(Box<OneThing<'a>>),
    NothingToChange,
    TooLittleMeasured,
}

pub(crate) struct OneThing<'a> {
    pub(crate) priority: &'a Priority,
    /// What was found, in a sentence.
    pub(crate) says: Option<&'a str>,
    /// Before and at the moment of the finding, if both are there.
    pub(crate) pair: Vec<Shot>,
    pub(crate) goal: Option<Goal<'a>>,
    pub(crate) drill: Option<&'a Drill>,
    /// The ball flight that it explains, drawn.
    pub(crate) flight: Option<ChainPicture>,
}

pub(crate) struct Goal<'a> {
    pub(crate) prescription: &'a Prescription,
    /// None where no camera shows what is to change.
    pub(crate) number: Option<NumberToReach>,
}

pub(crate) struct NumberToReach {
    pub(crate) measure: MeasureName,
    pub(crate) now: Option<(Amount, Option<Spread>)>,
    pub(crate) reach: Amount,
    pub(crate) when: When,
}

impl<'a> OneThing<'a> {
    pub(crate) fn has_number(&self) -> bool {
        self.goal.as_ref().is_some_and(|goal| goal.number.is_some())
    }

    /// Why this comes first, without what was said above already.
    pub(crate) fn reasons(&self) -> impl Iterator<Item = &'a String> {
        let said = self.says;
        let chain = self.priority.chain.iter();
        chain.skip_while(move |link| Some(link.as_str()) == said)
    }
}

impl<'a> Outcome<'a> {
    /// With a priority, that; without one it depends on whether anything was measured.
    pub(crate) fn of(
        content: &'a LessonContent,
        checks: &[Check<'a>],
        strips: &[Strip],
    ) -> Outcome<'a> {
        match &content.analysis.priority {
            Some(priority) => Outcome::OneThing(Box::new(one_thing(content, priority, strips))),
            None if checks.iter().any(Check::is_measured) => Outcome::NothingToChange,
            None => Outcome::TooLittleMeasured,
        }
    }

    pub(crate) fn goal(&self) -> Option<&Goal<'a>> {
        match self {
            Outcome::OneThing(one) => one.goal.as_ref(),
            Outcome::NothingToChange | Outcome::TooLittleMeasured => None,
        }
    }

    pub(crate) fn number(&self) -> Option<&NumberToReach> {
        self.goal().and_then(|goal| goal.number.as_ref())
    }

    /// The cautions that come with the prescription.
    pub(crate) fn cautions(&self) -> &'a [String] {
        self.goal().map_or(&[], |goal| &goal.prescription.cautions)
    }
}

pub(crate) fn one_thing<'a>(
    content: &'a LessonContent,
    priority: &'a Priority,
    strips: &[Strip],
) -> OneThing<'a> {
    let analysis = &content.analysis;
    let finding = analysis.findings.iter().find(|f| f.key == priority.finding);
    let measure = finding.and_then(|f| measure_at(content, f.measure, f.moment, f.against));
    let goal = goal_of(content).map(|prescription| Goal {
        prescription,
        number: number_to_reach(content, prescription),
    });
    OneThing {
        priority,
        says: finding.map(|f| f.says.as_str()),
        pair: measure.map(|m| pair(m, strips)).unwrap_or_default(),
        drill: goal
            .as_ref()
            .and_then(|goal| drill_of(content, goal.prescription)),
        goal,
        flight: flight(content, priority),
    }
}

/// The last step of the priority's chain, if it is a flight with a direction.
fn flight(content: &LessonContent, priority: &Priority) -> Option<ChainPicture> {
    let mut candidates = content.analysis.ranking.candidates.iter();
    let chain = &candidates.find(|c| c.key == priority.finding)?.chain;
    let last = chain.last().filter(|step| step.ball.is_some())?;
    let alone = ChainStep {
        grade: None,
        ..last.clone()
    };
    ChainPicture::of(&[alone], hand_in(content, View::FaceOn))
}

pub(crate) fn number_to_reach(
    content: &LessonContent,
    goal: &Prescription,
) -> Option<NumberToReach> {
    let (measure, reach) = (goal.measure?, goal.reach?);
    Some(NumberToReach {
        measure,
        now: measure_at(content, measure, goal.moment, goal.against)
            .and_then(|m| Some((amount_of(content, m)?, spread(content, m)))),
        when: When::new(measure, goal.moment, goal.against),
        reach: Amount::new(measure, reach, content.units),
    })
}

pub(crate) fn measure_at(
    content: &LessonContent,
    name: MeasureName,
    moment: MomentName,
    against: Option<MomentName>,
) -> Option<&Measure> {
    let is = |m: &&Measure| (m.name, m.moment, m.against) == (name, moment, against);
    content.analysis.measures.iter().find(is)
}

/// The number to reach, where there is a priority that it serves.
pub(crate) fn goal_of(content: &LessonContent) -> Option<&Prescription> {
    let analysis = &content.analysis;
    analysis
        .prescription
        .as_ref()
        .filter(|_| analysis.priority.is_some())
}

pub(crate) fn drill_of<'a>(content: &'a LessonContent, goal: &Prescription) -> Option<&'a Drill> {
    content
        .analysis
        .drills
        .iter()
        .find(|drill| drill.key == goal.drill)
}

/// The picture at the moment that the measure is held against (address, unless it says otherwise)
/// beside the one at the measure's own, in the view that shows it, with that measure's lines alone.
pub(crate) fn pair(measure: &Measure, strips: &[Strip]) -> Vec<Shot> {
    let strip = match measure.view {
        Some(view) => strips.iter().find(|s| s.view == view),
        None => strips.iter().find(|s| s.view == view_of(measure.name)),
    };
    let shot = |moment| {
        let shots = strip.map(|s| s.shots.as_slice()).unwrap_or_default();
        let shot = shots.iter().find(|s| s.moment == moment);
        shot.map(|shot| shot.about(measure.name))
    };
    let before = measure.against.unwrap_or(MomentName::Address);
    match (shot(before), shot(measure.moment)) {
        (Some(before), Some(now)) => vec![before, now],
        _ => Vec::new(),
    }
}
