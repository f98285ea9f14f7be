//! What a cause table is made of: facts of body and club, and graded links between them.

use crate::data_error::OURS;
use crate::findings::same_moments;
use crate::flight::Flight;
use lessonwright_model::{CauseGrade, MeasureName, MomentName};
use serde::Deserialize;

/// A limit of the body or a goal of the player.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Named {
    /// Its key ("balance").
    pub key: String,
    /// In words, a template.
    pub says: String,
}

/// Which side of the band a body fact lies on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Outside {
    /// The whole interval is below the band.
    Below,
    /// The whole interval is above it.
    Above,
}

/// How often a teacher would name a link. Common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Often {
    /// Among the first to be named.
    Often,
    /// Now and then.
    Sometimes,
}

/// Something a measure outside its band, or the professional's eye, says of the body or its set-up.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(try_from = "Written")]
pub struct BodyFact {
    /// Its key ("pelvis_stays_back").
    pub key: String,
    /// What shows it; none where only an eye can.
    pub shown: Option<Shown>,
    /// When it is seen.
    pub moment: MomentName,
    /// Chosen only when nothing else is found.
    pub last_resort: bool,
    /// A few words, a template.
    pub short: String,
    /// Title of the priority, a template for the player's hand.
    pub title: String,
    /// For the player, where the professional saw it; a template.
    pub seen: String,
    /// What evidence would speak against it, a template.
    pub would_change_it: String,
    /// Keys of body facts that follow from it.
    pub leads_to: Vec<String>,
    /// Keys of its drills, best first.
    pub drills: Vec<String>,
    /// Limits of the body that make it a lesser choice.
    pub lowered_by: Vec<String>,
    /// Limits of the body that leave it no choice.
    pub excluded_by: Vec<String>,
    /// What it does to the club.
    pub clubs: Vec<ClubLink>,
}

/// The measure that shows a body fact.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// The measure.
    pub measure: MeasureName,
    /// Against which moment.
    pub against: Option<MomentName>,
    /// On which side of the band.
    pub outside: Outside,
    /// For the player, a template with numbers.
    pub says: String,
    /// For the professional, a template with numbers.
    pub trade: String,
}

/// A body fact as the file has it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    key: String,
    measure: Option<MeasureName>,
    moment: MomentName,
    against: Option<MomentName>,
    outside: Option<Outside>,
    #[serde(default)]
    last_resort: bool,
    short: String,
    title: String,
    says: Option<String>,
    trade: Option<String>,
    seen: String,
    would_change_it: String,
    leads_to: Vec<String>,
    drills: Vec<String>,
    #[serde(default)]
    lowered_by: Vec<String>,
    #[serde(default)]
    excluded_by: Vec<String>,
    #[serde(rename = "club", default)]
    clubs: Vec<ClubLink>,
}

impl TryFrom<Written> for BodyFact {
    type Error = String;

    fn try_from(written: Written) -> Result<BodyFact, String> {
        let shown = match (
            written.measure,
            written.outside,
            written.says,
            written.trade,
        ) {
            (Some(measure), Some(outside), Some(says), Some(trade)) => Some(Shown {
                measure,
                against: written.against,
                outside,
                says,
                trade,
            }),
            (None, None, None, None) if written.against.is_none() => None,
            _ => {
                return Err(format!(
                    "{OURS}body {}: measure, outside, says and trade go together (against as well, where the measure \
                     needs it): give all of them, or none where only an eye can see it",
                    written.key
                ));
            }
        };
        Ok(BodyFact {
            key: written.key,
            shown,
            moment: written.moment,
            last_resort: written.last_resort,
            short: written.short,
            title: written.title,
            seen: written.seen,
            would_change_it: written.would_change_it,
            leads_to: written.leads_to,
            drills: written.drills,
            lowered_by: written.lowered_by,
            excluded_by: written.excluded_by,
            clubs: written.clubs,
        })
    }
}

/// A link from a body fact to a club fact.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ClubLink {
    /// Key of the club fact.
    pub club: String,
    /// How often it is named.
    pub how: Often,
    /// How good the evidence is.
    pub grade: CauseGrade,
    /// Whose evidence.
    pub source: String,
}

/// What the club does.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ClubFact {
    /// Its key ("path_out_to_in").
    pub key: String,
    /// A few words, a template.
    pub short: String,
    /// One sentence, a template.
    pub says: String,
    /// Keys of the goals that a change here serves.
    #[serde(default)]
    pub serves: Vec<String>,
    /// The ball flights it gives.
    #[serde(rename = "flight", default)]
    pub flights: Vec<FlightLink>,
}

/// A link from a club fact to a ball flight.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FlightLink {
    /// The flight.
    pub flight: Flight,
    /// How often it is named.
    pub how: Often,
    /// One sentence, a template.
    pub says: String,
    /// How good the evidence is.
    pub grade: CauseGrade,
}

/// A body fact's road to a ball flight.
#[derive(Clone, Copy, Debug)]
pub struct Road<'a> {
    /// The link to the club.
    pub link: &'a ClubLink,
    /// The club fact.
    pub club: &'a ClubFact,
    /// The link to the flight.
    pub flight: &'a FlightLink,
}

impl Often {
    /// What it counts for: whole, or half. Our choice.
    pub(crate) fn counts(self) -> f64 {
        match self {
            Often::Often => 1.0,
            Often::Sometimes => 0.5,
        }
    }
}

/// What a link's grade counts for. Our choice: nine tenths for each step down, since teaching consensus is most
/// of what there is.
pub(crate) fn counts(grade: CauseGrade) -> f64 {
    match grade {
        CauseGrade::A => 1.0,
        CauseGrade::B => 0.9,
        CauseGrade::C => 0.8,
        CauseGrade::D => 0.7,
    }
}

impl Road<'_> {
    /// The weaker of the two links' grades.
    pub fn grade(&self) -> CauseGrade {
        self.link.grade.max(self.flight.grade)
    }

    /// What the road counts for: its grade's, times how often each of its links is named.
    pub fn counts(&self) -> f64 {
        counts(self.grade()) * self.link.how.counts() * self.flight.how.counts()
    }
}

impl BodyFact {
    /// Whether a measure of this name at these moments is the one that shows it, on whatever side.
    pub fn is_shown_by(
        &self,
        measure: MeasureName,
        moment: MomentName,
        against: Option<MomentName>,
    ) -> bool {
        let at = (moment, against);
        let is =
            |s: &Shown| measure == s.measure && same_moments(measure, at, (self.moment, s.against));
        self.shown.as_ref().is_some_and(is)
    }
}
