//! The cause network: body fact → club fact → ball flight, every link with a grade and a source.
//!
//! It is data (`data/causes.toml`, which explains its format), read by people as well, and a professional may
//! use their own. Body facts also lead to other body facts; those links have no cycle and never run
//! back in time, so "upstream" is well defined. What can't be is refused on loading ([`check`]).

mod check;

use crate::data_error::DataError;
use crate::findings::same_moments;
use crate::flight::Flight;
use lessonwright_model::{CauseGrade, MeasureName, MomentName};
use serde::Deserialize;

const STANDARD: &str = include_str!("../../data/causes.toml");

/// The `format` of a file this version reads.
const FORMAT: u32 = 2;

/// The whole network.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CauseTable {
    format: u32,
    edition: String,
    #[serde(rename = "limit", default)]
    limits: Vec<Named>,
    #[serde(rename = "goal", default)]
    goals: Vec<Named>,
    #[serde(rename = "body")]
    bodies: Vec<BodyFact>,
    #[serde(rename = "club")]
    clubs: Vec<ClubFact>,
}

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
                    "body {}: measure, outside, says and trade go together (against as well, where the measure \
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

impl CauseTable {
    /// The project's table.
    ///
    /// # Panics
    /// Never with the embedded file, which a test reads.
    pub fn standard() -> CauseTable {
        CauseTable::parse("causes.toml", STANDARD)
            .unwrap_or_else(|error| panic!("the embedded causes are sound: {error}"))
    }

    /// The standard file's text, to start an own one from.
    pub fn standard_toml() -> &'static str {
        STANDARD
    }

    /// Reads a cause table; `file` names it in errors.
    ///
    /// # Errors
    /// When the text is no such file or of another format, a key is used twice or leads nowhere, a text is empty
    /// or has an unknown placeholder, or body facts lead in a circle or back in time.
    pub fn parse(file: &str, text: &str) -> Result<CauseTable, DataError> {
        check::format(file, text)?;
        let table: CauseTable =
            toml::from_str(text).map_err(|error| DataError::syntax(file, error))?;
        check::table(&table)
            .map_err(|(place, problem)| DataError::content(file, place, problem))?;
        Ok(table)
    }

    /// Which edition it is, as its author calls it.
    pub fn edition(&self) -> &str {
        &self.edition
    }

    /// The limits of the body it knows.
    pub fn limits(&self) -> &[Named] {
        &self.limits
    }

    /// The goals it knows.
    pub fn goals(&self) -> &[Named] {
        &self.goals
    }

    /// The body facts, in the order of the file.
    pub fn bodies(&self) -> &[BodyFact] {
        &self.bodies
    }

    /// The club facts, in the order of the file.
    pub fn clubs(&self) -> &[ClubFact] {
        &self.clubs
    }

    /// The body fact with this key.
    pub fn body(&self, key: &str) -> Option<&BodyFact> {
        self.bodies.iter().find(|body| body.key == key)
    }

    /// The club fact with this key.
    pub fn club(&self, key: &str) -> Option<&ClubFact> {
        self.clubs.iter().find(|club| club.key == key)
    }

    /// The body fact's road to the flight that counts most, the first of equals; none if it has none.
    pub fn road<'a>(&'a self, body: &'a BodyFact, flight: Flight) -> Option<Road<'a>> {
        let roads = body.clubs.iter().filter_map(|link| {
            let club = self.club(&link.club)?;
            let flight = club.flights.iter().find(|to| to.flight == flight)?;
            Some(Road { link, club, flight })
        });
        roads.reduce(|best, next| {
            if next.counts() > best.counts() {
                next
            } else {
                best
            }
        })
    }

    /// Every flight a body fact can give, in the order of the file, each once.
    pub fn flights_of(&self, body: &BodyFact) -> Vec<Flight> {
        let mut flights = Vec::new();
        for club in body.clubs.iter().filter_map(|link| self.club(&link.club)) {
            for link in &club.flights {
                if !flights.contains(&link.flight) {
                    flights.push(link.flight);
                }
            }
        }
        flights
    }

    /// Whether a change of the body fact serves a goal: some club fact it leads to does.
    pub fn serves(&self, body: &BodyFact, goal: &str) -> bool {
        let clubs = body.clubs.iter().filter_map(|link| self.club(&link.club));
        let mut served = clubs.flat_map(|club| &club.serves);
        served.any(|served| served == goal)
    }

    /// Whether `from` leads to `to`, directly or through others.
    pub fn leads_to(&self, from: &str, to: &str) -> bool {
        self.body(from).is_some_and(|body| {
            body.leads_to
                .iter()
                .any(|next| next == to || self.leads_to(next, to))
        })
    }

    /// Says what is wrong with keys that somebody gave: facts seen, limits, goals.
    ///
    /// # Errors
    /// A sentence that names the first unknown key and all known ones.
    pub fn check_keys<'k>(
        &self,
        seen: impl IntoIterator<Item = &'k String>,
        limits: impl IntoIterator<Item = &'k String>,
        goals: impl IntoIterator<Item = &'k String>,
    ) -> Result<(), String> {
        let keys = |named: &[Named]| named.iter().map(|n| n.key.clone()).collect();
        let bodies: Vec<String> = self.bodies.iter().map(|b| b.key.clone()).collect();
        known("a fact that can be seen", seen, &bodies)?;
        known("a limit of the body", limits, &keys(&self.limits))?;
        known("a goal", goals, &keys(&self.goals))
    }
}

fn known<'k>(
    what: &str,
    given: impl IntoIterator<Item = &'k String>,
    keys: &Vec<String>,
) -> Result<(), String> {
    match given.into_iter().find(|given| !keys.contains(given)) {
        None => Ok(()),
        Some(given) => Err(format!(
            "\"{given}\" is not {what} in the cause table; choose from: {}",
            keys.join(", ")
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    /// Every row of the teaching table (reference-values H).
    const TAUGHT: [Flight; 15] = [
        Flight::Slice,
        Flight::Hook,
        Flight::Pull,
        Flight::PullSlice,
        Flight::PullHook,
        Flight::Push,
        Flight::PushSlice,
        Flight::PushHook,
        Flight::Fat,
        Flight::Thin,
        Flight::Top,
        Flight::Shank,
        Flight::Toe,
        Flight::Sky,
        Flight::High,
    ];

    fn with_a_road(table: &CauseTable, flight: Flight) -> Vec<&BodyFact> {
        let has = |body: &&BodyFact| table.road(body, flight).is_some();
        table.bodies().iter().filter(has).collect()
    }

    #[test]
    fn every_flight_of_the_teaching_table_has_several_causes() {
        let table = CauseTable::standard();
        for flight in TAUGHT {
            assert!(with_a_road(&table, flight).len() >= 2, "{flight:?}");
        }
        assert!(!with_a_road(&table, Flight::Low).is_empty());
    }

    #[test]
    fn a_wanted_flight_has_no_cause_to_look_for() {
        let table = CauseTable::standard();
        for flight in [Flight::Straight, Flight::Fade, Flight::Draw] {
            assert!(with_a_road(&table, flight).is_empty(), "{flight:?}");
        }
    }

    #[test]
    fn links_are_graded_as_the_reference_grades_them() {
        // Reference-values H: face and path to start and curve A; weight shift, separation and straight lead
        // arm to ball speed B; body to path and face D.
        let table = CauseTable::standard();
        for body in table.bodies() {
            for link in &body.clubs {
                let speed = link.club == "speed_lost";
                assert_eq!(
                    speed,
                    link.grade != CauseGrade::D,
                    "{} → {}",
                    body.key,
                    link.club
                );
            }
        }
        for key in [
            "path_out_to_in",
            "path_in_to_out",
            "face_open",
            "face_closed",
        ] {
            let club = table.club(key).unwrap();
            assert!(club.flights.len() >= 4);
            for link in &club.flights {
                assert_eq!(link.grade, CauseGrade::A, "{key} → {:?}", link.flight);
            }
        }
        for key in [
            "pelvis_stays_back",
            "chest_opens_early",
            "lead_arm_bends",
            "mass_back_at_impact",
        ] {
            let body = table.body(key).unwrap();
            let speed = body.clubs.iter().find(|link| link.club == "speed_lost");
            assert_eq!(speed.map(|link| link.grade), Some(CauseGrade::B), "{key}");
        }
    }

    #[test]
    fn face_and_path_give_the_nine_flights() {
        // The D-plane (Jorgensen 1999; reference-values H): the ball starts with the face, between face and
        // path, and curves to the side of the path on which the face looks.
        let table = CauseTable::standard();
        let gives = |club: &str, flight| {
            table
                .club(club)
                .unwrap()
                .flights
                .iter()
                .any(|to| to.flight == flight)
        };
        let curve_trail = [Flight::Slice, Flight::PullSlice, Flight::PushSlice];
        let curve_lead = [Flight::Hook, Flight::PullHook, Flight::PushHook];
        for (flight, other) in curve_trail.into_iter().zip(curve_lead) {
            assert!(
                gives("face_open", flight) && !gives("face_closed", flight),
                "{flight:?}"
            );
            assert!(
                gives("face_closed", other) && !gives("face_open", other),
                "{other:?}"
            );
        }
        for flight in [Flight::Pull, Flight::PullSlice, Flight::PullHook] {
            assert!(gives("path_out_to_in", flight) && !gives("path_in_to_out", flight));
        }
        for flight in [Flight::Push, Flight::PushSlice, Flight::PushHook] {
            assert!(gives("path_in_to_out", flight) && !gives("path_out_to_in", flight));
        }
    }

    #[test]
    fn nothing_rests_on_how_far_anyone_turns_back() {
        // McTeigue et al. 1994 (reference-values A1): turn at the top does not separate skill.
        for body in CauseTable::standard().bodies() {
            let turn = body.shown.as_ref().is_some_and(|shown| {
                matches!(
                    shown.measure,
                    MeasureName::PelvisTurn | MeasureName::ChestTurn
                )
            });
            assert!(!(turn && body.moment == MomentName::Top), "{}", body.key);
        }
    }

    #[test]
    fn upstream_runs_through_several_links() {
        let table = CauseTable::standard();
        assert!(table.leads_to("pelvis_sways_away", "elbow_behind"));
        assert!(table.leads_to("posture_slumped", "hands_over"));
        assert!(!table.leads_to("elbow_behind", "pelvis_stays_back"));
    }

    #[test]
    fn every_club_fact_and_limit_and_goal_is_used() {
        let table = CauseTable::standard();
        let linked: BTreeSet<&str> = table
            .bodies()
            .iter()
            .flat_map(|b| &b.clubs)
            .map(|l| l.club.as_str())
            .collect();
        let clubs: BTreeSet<&str> = table.clubs().iter().map(|c| c.key.as_str()).collect();
        assert_eq!(linked, clubs);
        for limit in table.limits() {
            assert!(
                table
                    .bodies()
                    .iter()
                    .any(|b| b.lowered_by.contains(&limit.key)),
                "{}",
                limit.key
            );
        }
        for goal in table.goals() {
            assert!(
                table.bodies().iter().any(|b| table.serves(b, &goal.key)),
                "{}",
                goal.key
            );
        }
    }
}
