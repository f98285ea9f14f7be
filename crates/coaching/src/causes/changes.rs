//! A professional's changes to single links of the network: one turned off, or counted for more or less, each with the
//! reason. They lie over the table, so that the rest of it stays as this version has it.
//!
//! ```text
//! [[link]]
//! body = "late_hips"            # body fact and club fact, or club fact and flight
//! club = "path_out_to_in"
//! how = "off"                   # off, sometimes, often
//! reason = "…"
//! ```

use super::{CauseTable, Often, check};
use crate::data_error::{self, DataError, OURS};
use crate::flight::Flight;
use serde::Deserialize;

/// Changes to links, each link once.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LinkChanges(Vec<LinkChange>);

/// What a professional makes of one link.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(try_from = "Written")]
pub struct LinkChange {
    /// Which link.
    pub link: LinkKey,
    /// What it counts for now.
    pub weight: LinkWeight,
    /// Why.
    pub reason: String,
}

/// A link of the network.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LinkKey {
    /// From a body fact to a club fact, by their keys.
    Club {
        /// The body fact.
        body: String,
        /// The club fact.
        club: String,
    },
    /// From a club fact to a flight.
    Flight {
        /// The club fact.
        club: String,
        /// The flight.
        flight: Flight,
    },
}

/// What a link counts for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LinkWeight {
    /// Nothing: it is left out.
    Off,
    /// Half.
    Sometimes,
    /// Whole.
    Often,
}

/// A change as the file has it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    body: Option<String>,
    club: String,
    flight: Option<Flight>,
    how: LinkWeight,
    reason: String,
}

impl TryFrom<Written> for LinkChange {
    type Error = String;

    fn try_from(written: Written) -> Result<LinkChange, String> {
        let link = match (written.body, written.club, written.flight) {
            (Some(body), club, None) => LinkKey::Club { body, club },
            (None, club, Some(flight)) => LinkKey::Flight { club, flight },
            _ => return Err(format!("{OURS}name body and club, or club and flight")),
        };
        Ok(LinkChange {
            link,
            weight: written.how,
            reason: written.reason,
        })
    }
}

impl LinkWeight {
    /// All of them, the least first.
    pub const ALL: [LinkWeight; 3] = [LinkWeight::Off, LinkWeight::Sometimes, LinkWeight::Often];

    /// Its key in the file.
    pub fn key(self) -> &'static str {
        match self {
            LinkWeight::Off => "off",
            LinkWeight::Sometimes => "sometimes",
            LinkWeight::Often => "often",
        }
    }

    /// The weight of this key.
    pub fn of_key(key: &str) -> Option<LinkWeight> {
        LinkWeight::ALL
            .into_iter()
            .find(|weight| weight.key() == key)
    }
}

impl From<Often> for LinkWeight {
    fn from(how: Often) -> LinkWeight {
        match how {
            Often::Often => LinkWeight::Often,
            Often::Sometimes => LinkWeight::Sometimes,
        }
    }
}

impl LinkChanges {
    /// Reads a file of changes; `file` names it in errors.
    ///
    /// # Errors
    /// When the text is no such file, a reason is missing, or a link is changed twice.
    pub fn parse(file: &str, text: &str) -> Result<LinkChanges, DataError> {
        #[derive(Deserialize)]
        #[serde(deny_unknown_fields)]
        struct File {
            #[serde(default)]
            link: Vec<LinkChange>,
        }
        let File { link: changes } = data_error::read(file, text)?;
        for (index, change) in changes.iter().enumerate() {
            let fault = |problem: &str| DataError::content(file, change.link.place(), problem);
            if change.reason.trim().is_empty() {
                return Err(fault(
                    "say why (reason): you will want to know it next year",
                ));
            }
            if changes[..index]
                .iter()
                .any(|other| other.link == change.link)
            {
                return Err(fault("it is changed twice: keep one"));
            }
        }
        Ok(LinkChanges(changes))
    }

    /// All, in the order of the file.
    pub fn iter(&self) -> impl Iterator<Item = &LinkChange> {
        self.0.iter()
    }

    /// The change of this link, if there is one.
    pub fn of(&self, link: &LinkKey) -> Option<&LinkChange> {
        self.0.iter().find(|change| change.link == *link)
    }
}

impl LinkKey {
    fn place(&self) -> String {
        match self {
            LinkKey::Club { body, club } => format!("link {body} to {club}"),
            LinkKey::Flight { club, flight } => format!("link {club} to {}", flight.plain()),
        }
    }
}

impl CauseTable {
    /// What a link counts for in this table; none if there is no such link.
    pub fn weight(&self, link: &LinkKey) -> Option<LinkWeight> {
        let how = match link {
            LinkKey::Club { body, club } => {
                let mut links = self.body(body)?.clubs.iter();
                links.find(|link| link.club == *club)?.how
            }
            LinkKey::Flight { club, flight } => {
                let mut links = self.club(club)?.flights.iter();
                links.find(|link| link.flight == *flight)?.how
            }
        };
        Some(how.into())
    }

    /// The table with these changes; `file` names them in errors.
    ///
    /// # Errors
    /// When a link is not in the table, or one that is turned off was a body fact's last.
    pub fn changed_by(
        mut self,
        file: &str,
        changes: &LinkChanges,
    ) -> Result<CauseTable, DataError> {
        for change in changes.iter() {
            if self.weight(&change.link).is_none() {
                let problem = "there is no such link in the table any more: take the change out";
                return Err(DataError::content(file, change.link.place(), problem));
            }
            self.change(change);
        }
        check::table(&self).map_err(|(place, problem)| match problem.starts_with("say what it does") {
            true => {
                let only = "its last link was turned off, and a body fact without one explains nothing: keep one, or \
                            count it as sometimes";
                DataError::content(file, place, only)
            }
            false => DataError::content(file, place, problem),
        })?;
        Ok(self)
    }

    fn change(&mut self, change: &LinkChange) {
        let how = match change.weight {
            LinkWeight::Off => None,
            LinkWeight::Sometimes => Some(Often::Sometimes),
            LinkWeight::Often => Some(Often::Often),
        };
        match &change.link {
            LinkKey::Club { body, club } => {
                for fact in self.bodies.iter_mut().filter(|fact| fact.key == *body) {
                    put(
                        &mut fact.clubs,
                        |link| link.club == *club,
                        how,
                        |link, how| link.how = how,
                    );
                }
            }
            LinkKey::Flight { club, flight } => {
                for fact in self.clubs.iter_mut().filter(|fact| fact.key == *club) {
                    put(
                        &mut fact.flights,
                        |link| link.flight == *flight,
                        how,
                        |link, how| link.how = how,
                    );
                }
            }
        }
    }
}

/// Takes the links that are meant out, or gives them another weight.
fn put<L>(
    links: &mut Vec<L>,
    meant: impl Fn(&L) -> bool,
    how: Option<Often>,
    set: impl Fn(&mut L, Often),
) {
    match how {
        None => links.retain(|link| !meant(link)),
        Some(how) => links
            .iter_mut()
            .filter(|link| meant(link))
            .for_each(|link| set(link, how)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn changed(text: &str) -> Result<CauseTable, String> {
        let changes = LinkChanges::parse("links.toml", text).map_err(|error| error.to_string())?;
        let table = CauseTable::standard().changed_by("links.toml", &changes);
        table.map_err(|error| error.to_string())
    }

    fn link(ends: &str, how: &str) -> String {
        format!("[[link]]\n{ends}\nhow = \"{how}\"\nreason = \"I don't see it on my mat\"\n")
    }

    const BALL_TO_PATH: &str = "body = \"ball_forward\"\nclub = \"path_out_to_in\"";

    fn ball_to_path() -> LinkKey {
        LinkKey::Club {
            body: "ball_forward".into(),
            club: "path_out_to_in".into(),
        }
    }

    #[test]
    fn a_link_counts_for_what_the_professional_says_and_the_rest_stays() {
        let standard = CauseTable::standard();
        assert_eq!(
            standard.weight(&ball_to_path()),
            Some(LinkWeight::Sometimes)
        );
        let often = changed(&link(BALL_TO_PATH, "often")).unwrap();
        assert_eq!(often.weight(&ball_to_path()), Some(LinkWeight::Often));
        let off = changed(&link(BALL_TO_PATH, "off")).unwrap();
        assert_eq!(off.weight(&ball_to_path()), None);
        let others = |table: &CauseTable| {
            let bodies = table
                .bodies()
                .iter()
                .filter(|body| body.key != "ball_forward");
            bodies.cloned().collect::<Vec<_>>()
        };
        assert_eq!(others(&off), others(&standard));
        // Without the link the ball's place no longer explains a slice; with it, it does.
        let explains = |table: &CauseTable| {
            table
                .road(table.body("ball_forward").unwrap(), Flight::Slice)
                .is_some()
        };
        assert!(explains(&standard) && !explains(&off));
    }

    #[test]
    fn a_link_to_a_flight_is_changed_in_the_same_way() {
        let standard = CauseTable::standard();
        let club = standard.club("path_out_to_in").unwrap();
        let to = &club.flights[0];
        let key = serde_json::to_string(&to.flight).unwrap();
        let ends = format!("club = \"path_out_to_in\"\nflight = {key}");
        let off = changed(&link(&ends, "off")).unwrap();
        let same = LinkKey::Flight {
            club: club.key.clone(),
            flight: to.flight,
        };
        assert!(standard.weight(&same).is_some() && off.weight(&same).is_none());
    }

    #[test]
    fn what_can_not_be_says_where_and_what_to_do() {
        let only = "body = \"stands_close\"\nclub = \"strike_heel\"";
        for (text, says) in [
            (
                link("body = \"nobody\"\nclub = \"strike_heel\"", "off"),
                "take the change out",
            ),
            (link(only, "off"), "last link"),
            (
                link("club = \"strike_heel\"", "off"),
                "body and club, or club and flight",
            ),
            (link(only, "never"), "never"),
            (
                link(BALL_TO_PATH, "off").replace("I don't see it on my mat", " "),
                "reason",
            ),
            (
                link(BALL_TO_PATH, "off") + &link(BALL_TO_PATH, "often"),
                "twice",
            ),
        ] {
            let error = changed(&text).unwrap_err();
            assert!(
                error.contains("links.toml") && error.contains(says),
                "{says}: {error}"
            );
        }
    }
}
