//! The cause network: body fact → club fact → ball flight, every link with a grade and a source.
//!
//! It is data (`data/causes.toml`, which explains its format), read by people as well, and a professional may
//! use their own. Body facts also lead to other body facts; those links have no cycle and never run
//! back in time, so "upstream" is well defined. What can't be is refused on loading ([`check`]).

mod changes;
mod check;
mod facts;
#[cfg(test)]
mod tests;
mod words;

pub use changes::{LinkChange, LinkChanges, LinkKey, LinkWeight};
pub use facts::{BodyFact, ClubFact, ClubLink, FlightLink, Named, Often, Outside, Road, Shown};

use crate::data_error::{self, DataError};
use crate::flight::Flight;
use crate::wording::Filling;
use lessonwright_language::Language;
use lessonwright_model::Hand;
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
    /// The language its words are in.
    #[serde(skip)]
    language: Language,
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
        let table: CauseTable = data_error::read(file, text)?;
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

    /// What body facts are called as priorities, to a player of this hand.
    pub fn titles(&self, hand: Hand) -> impl Iterator<Item = String> {
        let words = Filling::of(hand);
        self.bodies.iter().map(move |body| words.fill(&body.title))
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
        let keys =
            |named: &[Named]| -> Vec<String> { named.iter().map(|n| n.key.clone()).collect() };
        let bodies: Vec<String> = self.bodies.iter().map(|b| b.key.clone()).collect();
        known("a fact that can be seen", seen, &bodies)?;
        known("a limit of the body", limits, &keys(&self.limits))?;
        known("a goal", goals, &keys(&self.goals))
    }
}

fn known<'k>(
    what: &str,
    given: impl IntoIterator<Item = &'k String>,
    keys: &[String],
) -> Result<(), String> {
    match given.into_iter().find(|given| !keys.contains(given)) {
        None => Ok(()),
        Some(given) => Err(format!(
            "\"{given}\" is not {what} in the cause table; choose from: {}",
            keys.join(", ")
        )),
    }
}
