//! The player's own page.

use super::agreed::{Agreed, agreed, is_minor};
use super::answers::PLACES;
use super::door::Visit;
use super::lessons::Lessons;
use super::routes::personal_address;
use super::tray::{SentTray, professional};
use crate::bring_in::random_key;
use crate::bring_in::upload::Brought;
use crate::error::PageError;
use crate::pages::day;
use crate::routes::Studio;
use askama::Template;
use lessonwright_language::Text;
use lessonwright_model::{BodyArea, STRONGEST_PAIN};
use lessonwright_report::{CLUBS, FLIGHTS};

/// The page.
#[derive(Template)]
#[template(path = "personal.html")]
pub struct PersonalPage {
    at: String,
    academy: String,
    who: String,
    name: String,
    ends: Text,
    /// What was just done, or what is wrong.
    said: Option<&'static str>,
    problem: Option<String>,
    brought: Brought,
    lessons: Lessons,
    tray: SentTray,
    /// Why no clip may be sent.
    closed: Option<&'static str>,
    places: std::ops::RangeInclusive<usize>,
    areas: [BodyArea; 11],
    strengths: std::ops::RangeInclusive<u8>,
    flights: [(&'static str, &'static str); 9],
    clubs: [(&'static str, &'static str); 7],
    /// Names this form, so that sent twice it is kept once.
    form: String,
    is_minor: bool,
    agreed: Vec<Agreed>,
    /// Where the player is told, if there is a mail server: the address, or none yet.
    mail: Option<Option<String>>,
}

/// What happened just before the page is shown.
#[derive(Default)]
pub struct Before {
    /// A key of what was done.
    pub said: String,
    pub problem: Option<String>,
    pub brought: Brought,
}

impl PersonalPage {
    pub async fn of(
        studio: &Studio,
        visit: &Visit,
        before: Before,
    ) -> Result<PersonalPage, PageError> {
        let at = personal_address(&visit.token);
        let store = &studio.store;
        let allowed = store.check_film_allowed(visit.player.id).await;
        let mail = match studio.state.bring_in.doors.mail_after {
            Some(_) => {
                let known = store.mail_address(visit.player.id).await?;
                Some(known.map(|(address, _)| address))
            }
            None => None,
        };
        Ok(PersonalPage {
            academy: studio.state.academy.clone(),
            who: professional(studio),
            name: visit.player.facts.name.clone(),
            ends: day(visit.link.ends_at, &studio.state),
            said: said(&before.said),
            problem: before.problem,
            brought: before.brought,
            lessons: Lessons::of(studio, visit, &at).await?,
            tray: SentTray::of(studio, visit).await?,
            closed: allowed.is_err().then_some(match is_minor(visit) {
                true => "A guardian has to agree first that you are filmed. Your professional notes it.",
                false => "You took back that you are filmed. Agree again below if you want to send clips.",
            }),
            places: 1..=PLACES,
            areas: BodyArea::ALL,
            strengths: 1..=STRONGEST_PAIN,
            flights: FLIGHTS,
            clubs: CLUBS,
            form: random_key(),
            is_minor: is_minor(visit),
            agreed: agreed(studio, visit).await?,
            mail,
            at,
        })
    }

    fn has_no_lesson(&self) -> bool {
        matches!(&self.lessons, Lessons::Open(links) if links.is_empty())
    }
}

fn said(key: &str) -> Option<&'static str> {
    match key {
        "clips" => Some("Your clips have arrived. Now answer the questions, if you have not yet."),
        "answers" => Some("Your answers have arrived."),
        "agreed" => Some("That is noted."),
        "mail" => Some("That is noted. You can change it at any time."),
        _ => None,
    }
}
