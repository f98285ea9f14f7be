//! The chain from a fact to the ball's flight, in sentences with grades and sources.

use crate::causes::{BodyFact, CauseTable, Road};
use crate::findings::Found;
use crate::flight::Flight;
use crate::rank::{Entry, Ranked};
use crate::wording::{Filling, listed};
use lessonwright_language::{Language, Say, t};
use lessonwright_model::{BallPath, CauseGrade, ChainPart, ChainStep, Hand, Sideways};

/// How a fact reaches a flight that is complained of: through which facts that were found downstream, by which
/// road of the last of them.
struct Way<'r, 'a> {
    facts: Vec<&'r Entry<'a>>,
    flight: Flight,
    road: Road<'a>,
}

/// The flight that an entry explains, if it explains one.
pub(crate) fn explains(ranked: &Ranked<'_>, entry: &Entry<'_>) -> Option<Flight> {
    way(ranked, entry).map(|way| way.flight)
}

/// Body fact → (facts downstream of it) → club fact → flight, and the weakest grade. Without a flight to explain, the
/// first club fact and what the player should see if the proposal holds.
pub(crate) fn chain(
    ranked: &Ranked<'_>,
    entry: &Entry<'_>,
    causes: &CauseTable,
    hand: Hand,
) -> (Vec<ChainStep>, CauseGrade) {
    let steps = match way(ranked, entry) {
        Some(way) => to_the_flight(&way, hand, causes.language()),
        None => without_a_flight(entry, causes, hand),
    };
    let grade = steps.iter().filter_map(|step| step.grade).max();
    (steps, grade.unwrap_or(CauseGrade::D))
}

/// An entry's own road to the first flight it has one for, else that of the fact downstream from which it got
/// the most weight.
fn way<'r, 'a>(ranked: &'r Ranked<'a>, entry: &'r Entry<'a>) -> Option<Way<'r, 'a>> {
    let own = entry
        .roads
        .iter()
        .find_map(|(flight, road)| Some((*flight, (*road)?)));
    if let Some((flight, road)) = own {
        return Some(Way {
            facts: vec![entry],
            flight,
            road,
        });
    }
    let mut received = entry.received.clone();
    received.sort_by(|a, b| b.1.total_cmp(&a.1));
    received.iter().find_map(|(key, _)| {
        let mut way = way(ranked, ranked.entry(key)?)?;
        way.facts.insert(0, entry);
        Some(way)
    })
}

fn to_the_flight(way: &Way<'_, '_>, hand: Hand, language: Language) -> Vec<ChainStep> {
    let words = Filling::of(hand);
    let mut steps: Vec<ChainStep> = Vec::new();
    let from_body = Say::new(language).text(&t("judged-source-body"));
    for entry in &way.facts {
        let link = (!steps.is_empty()).then_some((CauseGrade::D, from_body.as_str()));
        steps.push(body_step(&entry.found, link, hand, language));
    }
    let road = &way.road;
    steps.push(ChainStep {
        about: ChainPart::Club,
        short: words.fill(&road.club.short),
        says: words.fill(&road.club.says),
        grade: Some(road.link.grade),
        source: road.link.source.clone(),
        ball: None,
    });
    steps.push(ChainStep {
        about: ChainPart::Flight,
        short: Say::new(language).text(&way.flight.text()),
        says: words.fill(&road.flight.says),
        grade: Some(road.flight.grade),
        source: String::new(),
        ball: ball_path(way.flight),
    });
    steps
}

fn body_step(
    found: &Found<'_>,
    link: Option<(CauseGrade, &str)>,
    hand: Hand,
    language: Language,
) -> ChainStep {
    ChainStep {
        about: ChainPart::Body,
        short: Filling::of(hand).fill(&found.body.short),
        says: found.says(hand, language),
        grade: link.map(|(grade, _)| grade),
        source: link.map_or_else(String::new, |(_, source)| source.into()),
        ball: None,
    }
}

fn without_a_flight(entry: &Entry<'_>, causes: &CauseTable, hand: Hand) -> Vec<ChainStep> {
    let body = entry.found.body;
    let words = Filling::of(hand);
    let mut steps = vec![body_step(&entry.found, None, hand, causes.language())];
    if let Some(link) = body.clubs.first()
        && let Some(club) = causes.club(&link.club)
    {
        steps.push(ChainStep {
            about: ChainPart::Club,
            short: words.fill(&club.short),
            says: words.fill(&club.says),
            grade: Some(link.grade),
            source: link.source.clone(),
            ball: None,
        });
    }
    steps.extend(closing(entry, body, causes));
    steps
}

/// Which flights go with it, or that it does not explain the one complained of.
fn closing(entry: &Entry<'_>, body: &BodyFact, causes: &CauseTable) -> Option<ChainStep> {
    let say = Say::new(causes.language());
    let typical = causes.flights_of(body);
    let complaints: Vec<Flight> = entry.roads.iter().map(|(flight, _)| *flight).collect();
    let (short, says) = if !complaints.is_empty() {
        let told = listed(&names(&complaints, say), say);
        (
            say.text(&t("coaching-not-the-flight").with("flights", &told)),
            say.text(&t("coaching-does-not-explain").with("flights", &told)),
        )
    } else if !typical.is_empty() {
        (
            listed(&names(&typical[..1], say), say),
            say.text(&t("coaching-goes-with").with("flights", listed(&names(&typical, say), say))),
        )
    } else {
        return None;
    };
    Some(ChainStep {
        about: ChainPart::Flight,
        short,
        says,
        grade: None,
        source: String::new(),
        ball: None,
    })
}

/// The nine flights by start and curve (reference-values H); none for a strike.
fn ball_path(flight: Flight) -> Option<BallPath> {
    use Sideways::{Lead, Straight, Trail};
    let (starts, curves) = match flight {
        Flight::PullHook => (Lead, Lead),
        Flight::Pull => (Lead, Straight),
        Flight::PullSlice => (Lead, Trail),
        Flight::Hook | Flight::Draw => (Straight, Lead),
        Flight::Straight => (Straight, Straight),
        Flight::Slice | Flight::Fade => (Straight, Trail),
        Flight::PushHook => (Trail, Lead),
        Flight::Push => (Trail, Straight),
        Flight::PushSlice => (Trail, Trail),
        _ => return None,
    };
    Some(BallPath { starts, curves })
}

pub(crate) fn names(flights: &[Flight], say: Say) -> Vec<String> {
    flights
        .iter()
        .map(|flight| say.text(&flight.text()))
        .collect()
}
