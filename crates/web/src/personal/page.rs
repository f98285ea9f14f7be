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
use crate::script_words::{SENDING, script_words};
use askama::Template;
use lessonwright_language::{Text, filters, t, words};
use lessonwright_model::{BodyArea, STRONGEST_PAIN, View};
use lessonwright_report::{CLUBS, FLIGHTS};

/// The page.
#[derive(Template)]
#[template(path = "personal.html")]
pub struct PersonalPage {
    at: String,
    academy: String,
    who: Text,
    name: String,
    ends: Text,
    /// What was just done, or what is wrong.
    said: Option<Text>,
    problem: Option<Text>,
    brought: Brought,
    lessons: Lessons,
    tray: SentTray,
    /// Why no clip may be sent.
    closed: Option<Text>,
    places: std::ops::RangeInclusive<usize>,
    areas: [(&'static str, Text); 11],
    strengths: std::ops::RangeInclusive<u8>,
    flights: [(&'static str, Text); 9],
    clubs: [(&'static str, Text); 7],
    /// Names this form, so that sent twice it is kept once.
    form: String,
    is_minor: bool,
    agreed: Vec<Agreed>,
    /// Where the player is told, if there is a mail server: the address, or none yet.
    mail: Option<Option<String>>,
    /// For the scripts: JSON.
    script_words: String,
}

/// What happened just before the page is shown.
#[derive(Default)]
pub struct Before {
    /// A key of what was done.
    pub said: String,
    pub problem: Option<Text>,
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
            closed: allowed.is_err().then(|| {
                t(match is_minor(visit) {
                    true => "personal-closed-minor",
                    false => "personal-closed",
                })
            }),
            places: 1..=PLACES,
            areas: BodyArea::ALL.map(|area| (area.key(), words::area(area))),
            strengths: 1..=STRONGEST_PAIN,
            flights: FLIGHTS.map(|(key, id)| (key, t(id))),
            clubs: CLUBS.map(|(key, id)| (key, t(id))),
            form: random_key(),
            is_minor: is_minor(visit),
            agreed: agreed(studio, visit).await?,
            mail,
            script_words: script_words(&[SENDING]),
            at,
        })
    }

    /// Where films are sent, view by view: the field, the view, and where the phone stands.
    fn views(&self) -> [(&'static str, Text, Text); 2] {
        [
            ("face_on", View::FaceOn, "personal-face-on"),
            ("down_the_line", View::DownTheLine, "personal-down-the-line"),
        ]
        .map(|(field, view, place)| (field, words::view_title(view), t(place)))
    }

    fn has_no_lesson(&self) -> bool {
        matches!(&self.lessons, Lessons::Open(links) if links.is_empty())
    }
}

fn said(key: &str) -> Option<Text> {
    Some(t(match key {
        "clips" => "personal-done-clips",
        "answers" => "personal-done-answers",
        "agreed" => "personal-done-agreed",
        "mail" => "personal-done-mail",
        _ => return None,
    }))
}
