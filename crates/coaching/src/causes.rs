//! The cause table: body fact → club fact → ball flight, every link with a grade and a source.
//!
//! It is data (`data/causes.toml`), read by people as well. Body facts also lead to other body
//! facts; those links have no cycle and never run back in time, so "upstream" is well defined.

use crate::data_error::DataError;
use crate::flight::Flight;
use crate::wording::{Placeholders, check_template};
use lessonwright_model::{CauseGrade, MeasureName, MomentName};
use serde::Deserialize;
use std::collections::BTreeSet;

const STANDARD: &str = include_str!("../data/causes.toml");

/// The whole table.
#[derive(Clone, Debug, PartialEq)]
pub struct CauseTable {
    bodies: Vec<BodyFact>,
    clubs: Vec<ClubFact>,
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

/// Something a measure outside its band says of the body.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BodyFact {
    /// Its key ("pelvis_stays_back").
    pub key: String,
    /// The measure that shows it.
    pub measure: MeasureName,
    /// When.
    pub moment: MomentName,
    /// Against which moment.
    pub against: Option<MomentName>,
    /// On which side of the band.
    pub outside: Outside,
    /// Chosen only when nothing else is found.
    #[serde(default)]
    pub last_resort: bool,
    /// Title of the priority, a template for the player's hand.
    pub title: String,
    /// For the player, a template with numbers.
    pub says: String,
    /// For the professional, a template with numbers.
    pub trade: String,
    /// What evidence would speak against it, a template.
    pub would_change_it: String,
    /// Keys of body facts that follow from it.
    pub leads_to: Vec<String>,
    /// Keys of its drills, best first.
    pub drills: Vec<String>,
    /// What it does to the club.
    #[serde(rename = "club")]
    pub clubs: Vec<ClubLink>,
}

/// A link from a body fact to a club fact.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ClubLink {
    /// Key of the club fact.
    pub club: String,
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
    /// One sentence, a template.
    pub says: String,
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

impl CauseTable {
    /// The project's table.
    ///
    /// # Panics
    /// Never with the embedded file, which a test reads.
    pub fn standard() -> CauseTable {
        CauseTable::parse("causes.toml", STANDARD)
            .unwrap_or_else(|error| panic!("the embedded causes are sound: {error}"))
    }

    /// Reads a cause table; `file` names it in errors.
    ///
    /// # Errors
    /// When the text is no such file, a key is used twice or leads nowhere, a text is empty or has
    /// an unknown placeholder, or body facts lead in a circle or back in time.
    pub fn parse(file: &str, text: &str) -> Result<CauseTable, DataError> {
        #[derive(Deserialize)]
        #[serde(deny_unknown_fields)]
        struct File {
            body: Vec<BodyFact>,
            club: Vec<ClubFact>,
        }
        let File {
            body: bodies,
            club: clubs,
        } = toml::from_str(text).map_err(|error| DataError::syntax(file, error))?;
        let table = CauseTable { bodies, clubs };
        table
            .check()
            .map_err(|(place, problem)| DataError::content(file, place, problem))?;
        Ok(table)
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

    /// The body fact's first road to the flight, if it has one.
    pub fn road<'a>(&'a self, body: &'a BodyFact, flight: Flight) -> Option<Road<'a>> {
        body.clubs.iter().find_map(|link| {
            let club = self.club(&link.club)?;
            let flight = club.flights.iter().find(|to| to.flight == flight)?;
            Some(Road { link, club, flight })
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

    /// Whether `from` leads to `to`, directly or through others.
    pub fn leads_to(&self, from: &str, to: &str) -> bool {
        self.body(from).is_some_and(|body| {
            body.leads_to
                .iter()
                .any(|next| next == to || self.leads_to(next, to))
        })
    }

    fn check(&self) -> Result<(), (String, String)> {
        self.check_keys()?;
        for body in &self.bodies {
            self.check_body(body)
                .map_err(|problem| (format!("body {}", body.key), problem))?;
        }
        for club in &self.clubs {
            let texts = std::iter::once(&club.says).chain(club.flights.iter().map(|to| &to.says));
            for text in texts {
                check_template(text, Placeholders::Sides)
                    .map_err(|problem| (format!("club {}", club.key), problem))?;
            }
        }
        Ok(())
    }

    fn check_keys(&self) -> Result<(), (String, String)> {
        let keys = self
            .bodies
            .iter()
            .map(|b| &b.key)
            .chain(self.clubs.iter().map(|c| &c.key));
        let mut seen = BTreeSet::new();
        for key in keys {
            if !seen.insert(key) {
                return Err((key.clone(), "this key is used twice: rename one".into()));
            }
        }
        Ok(())
    }

    fn check_body(&self, body: &BodyFact) -> Result<(), String> {
        check_template(&body.title, Placeholders::Sides)?;
        check_template(&body.would_change_it, Placeholders::Sides)?;
        check_template(&body.says, Placeholders::SidesAndNumbers)?;
        check_template(&body.trade, Placeholders::SidesAndNumbers)?;
        if body.clubs.is_empty() {
            return Err("say what it does to the club".into());
        }
        for link in &body.clubs {
            if self.club(&link.club).is_none() {
                return Err(format!("there is no club fact \"{}\"", link.club));
            }
            if link.source.trim().is_empty() {
                return Err(format!("the link to {} has no source", link.club));
            }
        }
        for key in &body.leads_to {
            let Some(next) = self.body(key) else {
                return Err(format!("there is no body fact \"{key}\""));
            };
            if next.moment < body.moment {
                return Err(format!("leads to {key}, which is earlier in the swing"));
            }
        }
        if self.comes_back_to(&body.key, &body.key, self.bodies.len()) {
            return Err("leads in a circle back to itself: take one leads_to out".into());
        }
        Ok(())
    }

    /// Like [`CauseTable::leads_to`], but sure to end on a table that is not yet checked.
    fn comes_back_to(&self, from: &str, to: &str, steps: usize) -> bool {
        steps > 0
            && self.body(from).is_some_and(|body| {
                body.leads_to
                    .iter()
                    .any(|next| next == to || self.comes_back_to(next, to, steps - 1))
            })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rows of the teaching table (reference-values H) whose causes these measures could show;
    /// shank, toe, heel and low have none that shift, knee line, elbow or tempo can see.
    const VISIBLE: [Flight; 12] = [
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
        Flight::High,
    ];

    #[test]
    fn every_visible_flight_of_the_teaching_table_has_a_cause() {
        let table = CauseTable::standard();
        for flight in VISIBLE {
            assert!(
                table
                    .bodies()
                    .iter()
                    .any(|body| table.road(body, flight).is_some()),
                "{flight:?}"
            );
        }
    }

    #[test]
    fn what_these_measures_cannot_see_has_no_cause() {
        let table = CauseTable::standard();
        for flight in [Flight::Shank, Flight::Toe, Flight::Heel, Flight::Low] {
            assert!(
                table
                    .bodies()
                    .iter()
                    .all(|body| table.road(body, flight).is_none())
            );
        }
    }

    #[test]
    fn heel_shank_and_toe_have_their_place_among_the_club_facts() {
        // Reference values H: shank and heel are the same way off the middle, toe the other.
        let table = CauseTable::standard();
        let of = |key: &str| -> Vec<Flight> {
            let club = table.club(key).unwrap();
            club.flights.iter().map(|link| link.flight).collect()
        };
        assert_eq!(of("strike_heel"), [Flight::Heel, Flight::Shank]);
        assert_eq!(of("strike_toe"), [Flight::Toe]);
    }

    #[test]
    fn physics_is_graded_a_and_teaching_consensus_d() {
        // The grading of reference-values H: face and path to start and curve A, body to path D.
        let table = CauseTable::standard();
        for body in table.bodies() {
            for link in &body.clubs {
                assert_eq!(link.grade, CauseGrade::D, "{} → {}", body.key, link.club);
            }
        }
        for key in ["path_out_to_in", "path_in_to_out"] {
            let club = table.club(key).unwrap();
            let curved = club.flights.iter().filter(|to| to.flight != Flight::Sky);
            assert!(curved.clone().count() >= 3);
            for link in curved {
                assert_eq!(link.grade, CauseGrade::A, "{key} → {:?}", link.flight);
            }
        }
    }

    #[test]
    fn upstream_runs_through_several_links() {
        let table = CauseTable::standard();
        assert!(table.leads_to("pelvis_sways_away", "elbow_behind"));
        assert!(!table.leads_to("elbow_behind", "pelvis_stays_back"));
    }

    #[test]
    fn a_bad_table_says_what_and_where() {
        let circle = STANDARD.replacen("leads_to = []", "leads_to = [\"elbow_behind\"]", 1);
        let cases = [
            (circle, "circle"),
            (
                STANDARD.replace("leads_to = [\"elbow_behind\"]", "leads_to = [\"nobody\"]"),
                "nobody",
            ),
            (
                STANDARD.replace(
                    "leads_to = []\ndrills = [\"three_beats_back\"]",
                    "leads_to = [\"elbow_behind\"]\ndrills = []",
                ),
                "earlier",
            ),
            (
                STANDARD.replace("key = \"strike_varies\"", "key = \"varies\""),
                "strike_varies",
            ),
            (
                STANDARD.replace("key = \"loft_added\"", "key = \"path_in_to_out\""),
                "twice",
            ),
            (STANDARD.replace("moved {value}", "moved {valeu}"), "valeu"),
            (STANDARD.replace("grade = \"D\"", "grade = \"E\""), "line"),
        ];
        for (text, says) in cases {
            let error = CauseTable::parse("own.toml", &text)
                .unwrap_err()
                .to_string();
            assert!(
                error.contains("own.toml") && error.contains(says),
                "{says}: {error}"
            );
        }
    }
}
