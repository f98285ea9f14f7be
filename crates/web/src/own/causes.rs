//! The page of the cause network: every link with the grade of its evidence, and forms to count one for more, less or nothing.

use super::shown::Preview;
use super::{Come, InUse, OwnChange, in_use, kept, page_or_refused, tried, waiting};
use crate::error::PageError;
use crate::language::say;
use crate::routes::{Fields, Studio};
use askama::Template;
use axum::extract::{Form, Query, State};
use axum::response::Response;
use lessonwright_coaching::{Flight, LinkKey, LinkWeight, sides_as_said_in};
use lessonwright_language::{Text, filters, t};
use lessonwright_model::CauseGrade;

/// The page.
pub const ADDRESS: &str = "/studio/causes";

#[derive(Template)]
#[template(path = "own/causes.html")]
struct CausesPage {
    edition: String,
    grades: Vec<(String, Text)>,
    bodies: Vec<Fact>,
    clubs: Vec<Fact>,
    changed: usize,
    kept: bool,
    waiting: usize,
}

/// A fact with where its links lead.
struct Fact {
    key: String,
    says: String,
    links: Vec<LinkRow>,
    open: bool,
    changed: usize,
}

/// One link.
struct LinkRow {
    key: String,
    leads: Leads,
    grade: String,
    grade_says: Text,
    /// What the table says it counts for.
    table: Text,
    /// The professional's change.
    change: Option<(Text, String)>,
    weights: Vec<(&'static str, Text, bool)>,
    reason: String,
    why: Option<Text>,
    preview: Option<Preview>,
}

/// Where a link leads.
struct Leads {
    to: Text,
    /// "leads to …".
    says: Text,
    source: String,
    /// Whose evidence it is, the tables have in English only.
    is_english: bool,
}

/// What one link's form came to.
struct Answered {
    key: String,
    weight: LinkWeight,
    reason: String,
    come: Come,
}

pub async fn page(
    State(studio): State<Studio>,
    Query(fields): Query<Fields>,
) -> Result<Response, PageError> {
    let page = made(&studio, None, fields.contains_key("kept")).await?;
    page_or_refused(&page, None)
}

/// Shows what a change makes of the last swings, keeps it, or takes it back.
pub async fn change(
    State(studio): State<Studio>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let said = |name: &str| fields.get(name).map_or("", |text| text.trim()).to_owned();
    let key = said("link");
    let missing = || PageError::Missing(t("own-none-link").with("key", key.to_string()));
    let link = link_of(&key).ok_or_else(missing)?;
    let table_has = in_use(&studio.state)?.causes.weight(&link);
    table_has.ok_or_else(missing)?;
    let asked = said("do");
    let mut answered = Answered {
        weight: LinkWeight::of_key(&said("weight")).unwrap_or(LinkWeight::Often),
        reason: said("reason"),
        come: Come::default(),
        key,
    };
    let change = match asked.as_str() {
        "back" => Ok(OwnChange::LinkBack(link)),
        _ if answered.reason.is_empty() => Err(t("own-link-say-why")),
        _ => Ok(OwnChange::Link {
            link,
            weight: answered.weight,
            reason: answered.reason.clone(),
        }),
    };
    let Some(come) = tried(&*studio.state.own, change, asked == "look").await else {
        return Ok(kept(ADDRESS, "link"));
    };
    let why = come.why.clone();
    answered.come = come;
    page_or_refused(&made(&studio, Some(answered), false).await?, why.as_ref())
}

async fn made(
    studio: &Studio,
    answered: Option<Answered>,
    kept: bool,
) -> Result<CausesPage, PageError> {
    let mut trade = in_use(&studio.state)?;
    trade.causes = trade.causes.in_language(say().language);
    let mut facts = [bodies(&trade), clubs(&trade)];
    if let Some(answered) = answered {
        for fact in facts.iter_mut().flatten() {
            fact.answer(&answered);
        }
        if let Some(row) = facts
            .iter_mut()
            .flatten()
            .flat_map(|fact| &mut fact.links)
            .find(|row| row.key == answered.key)
        {
            row.preview = answered.come.preview;
        }
    }
    let [bodies, clubs] = facts;
    Ok(CausesPage {
        edition: trade.causes.edition().to_owned(),
        grades: GRADES
            .map(|grade| (format!("{grade:?}"), grade_words(grade)))
            .into(),
        bodies,
        clubs,
        changed: trade.changes.iter().count(),
        kept,
        waiting: waiting(&studio.store).await?.len(),
    })
}

fn bodies(trade: &InUse) -> Vec<Fact> {
    let facts = trade.causes.bodies().iter().map(|body| {
        let links = body.clubs.iter().map(|link| {
            let key = LinkKey::Club {
                body: body.key.clone(),
                club: link.club.clone(),
            };
            let to = trade
                .causes
                .club(&link.club)
                .map_or(&link.club, |club| &club.short);
            let to = Text::plain(said(trade, to));
            let leads = Leads {
                says: t("own-link-leads").with("to", &to),
                to,
                source: link.source.clone(),
                is_english: true,
            };
            LinkRow::of(key, leads, link.grade, trade)
        });
        Fact::of(&body.key, said(trade, &body.short), links.collect())
    });
    facts.collect()
}

fn clubs(trade: &InUse) -> Vec<Fact> {
    let facts = trade.causes.clubs().iter().map(|club| {
        let links = club.flights.iter().map(|link| {
            let key = LinkKey::Flight {
                club: club.key.clone(),
                flight: link.flight,
            };
            let leads = Leads {
                says: t("own-link-gives").with("to", link.flight.text()),
                to: link.flight.text(),
                source: said(trade, &link.says),
                is_english: false,
            };
            LinkRow::of(key, leads, link.grade, trade)
        });
        Fact::of(&club.key, said(trade, &club.short), links.collect())
    });
    facts.collect()
}

fn said(trade: &InUse, template: &str) -> String {
    sides_as_said_in(trade.causes.language(), template)
}

impl Fact {
    fn of(key: &str, says: String, links: Vec<LinkRow>) -> Fact {
        Fact {
            key: key.into(),
            says,
            changed: links.iter().filter(|link| link.change.is_some()).count(),
            open: false,
            links,
        }
    }

    /// With what was typed into one of its links.
    fn answer(&mut self, answered: &Answered) {
        if let Some(row) = self.links.iter_mut().find(|row| row.key == answered.key) {
            self.open = true;
            row.weights = weights(answered.weight);
            row.reason.clone_from(&answered.reason);
            row.why.clone_from(&answered.come.why);
        }
    }
}

impl LinkRow {
    fn of(link: LinkKey, leads: Leads, grade: CauseGrade, trade: &InUse) -> LinkRow {
        let table = trade.causes.weight(&link).unwrap_or(LinkWeight::Off);
        let change = trade.changes.of(&link);
        LinkRow {
            key: key_of(&link),
            leads,
            grade: format!("{grade:?}"),
            grade_says: grade_words(grade),
            table: weight_words(table),
            weights: weights(change.map_or(table, |change| change.weight)),
            reason: change
                .map(|change| change.reason.clone())
                .unwrap_or_default(),
            change: change.map(|change| (weight_words(change.weight), change.reason.clone())),
            why: None,
            preview: None,
        }
    }
}

fn weights(now: LinkWeight) -> Vec<(&'static str, Text, bool)> {
    let offer = |weight: LinkWeight| (weight.key(), weight_words(weight), weight == now);
    LinkWeight::ALL.map(offer).into()
}

fn weight_words(weight: LinkWeight) -> Text {
    t(match weight {
        LinkWeight::Off => "own-weight-off",
        LinkWeight::Sometimes => "own-weight-sometimes",
        LinkWeight::Often => "own-weight-often",
    })
}

const GRADES: [CauseGrade; 4] = [CauseGrade::A, CauseGrade::B, CauseGrade::C, CauseGrade::D];

fn grade_words(grade: CauseGrade) -> Text {
    t(match grade {
        CauseGrade::A => "own-grade-a",
        CauseGrade::B => "own-grade-b",
        CauseGrade::C => "own-grade-c",
        CauseGrade::D => "own-grade-d",
    })
}

/// "body>club" or "club>>flight".
fn key_of(link: &LinkKey) -> String {
    match link {
        LinkKey::Club { body, club } => format!("{body}>{club}"),
        LinkKey::Flight { club, flight } => format!("{club}>>{}", flight.plain()),
    }
}

fn link_of(key: &str) -> Option<LinkKey> {
    if let Some((club, flight)) = key.split_once(">>") {
        let flight = Flight::ALL
            .into_iter()
            .find(|known| known.plain() == flight)?;
        let club = club.into();
        return Some(LinkKey::Flight { club, flight });
    }
    let (body, club) = key.split_once('>')?;
    Some(LinkKey::Club {
        body: body.into(),
        club: club.into(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_coaching::CauseTable;

    #[test]
    fn every_link_of_the_table_is_found_again_by_its_key() {
        let table = CauseTable::standard();
        let to_clubs = table.bodies().iter().flat_map(|body| {
            let link = |club: &String| LinkKey::Club {
                body: body.key.clone(),
                club: club.clone(),
            };
            body.clubs.iter().map(move |to| link(&to.club))
        });
        let to_flights = table.clubs().iter().flat_map(|club| {
            let link = |flight| LinkKey::Flight {
                club: club.key.clone(),
                flight,
            };
            club.flights.iter().map(move |to| link(to.flight))
        });
        let links: Vec<LinkKey> = to_clubs.chain(to_flights).collect();
        assert!(links.len() > 100, "{}", links.len());
        for link in links {
            assert_eq!(link_of(&key_of(&link)), Some(link.clone()), "{link:?}");
        }
    }
}
