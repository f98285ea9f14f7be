//! The page "film and send": one file that the player keeps on the phone. It works offline and from a file, takes one or
//! two clips and some answers, and makes the one file that goes back (`docs/hand-over.md`).

use crate::ReportError;
use crate::amount::Units;
use crate::film_plan::FilmPlan;
use askama::Template;
use lessonwright_language::{Say, Text, filters, t, words};
use lessonwright_model::{BodyArea, Hand};
use std::collections::BTreeMap;

/// For whom the page is.
#[derive(Clone, Debug, PartialEq)]
pub struct SendFor {
    /// The academy; empty if it has no name.
    pub academy: String,
    /// The professional; empty if unknown.
    pub coach: String,
    /// The player's name.
    pub player: String,
    /// The player's code, by which the bundle finds back.
    pub code: String,
    /// The lesson it answers.
    pub lesson: Option<i64>,
    /// The hand the player plays; right where it is not known.
    pub hand: Option<Hand>,
    /// The unit of length that comes first.
    pub units: Units,
    /// The player's language.
    pub say: Say,
}

/// Ball flights offered; the value is the word of the coaching's cause table.
pub const FLIGHTS: [(&str, &str); 9] = [
    ("straight", "send-flight-straight"),
    ("slice", "send-flight-slice"),
    ("hook", "send-flight-hook"),
    ("push", "send-flight-push"),
    ("pull", "send-flight-pull"),
    ("fat", "send-flight-fat"),
    ("thin", "send-flight-thin"),
    ("topped", "send-flight-topped"),
    ("shank", "send-flight-shank"),
];

/// Clubs offered; the value is the key that the store keeps.
pub const CLUBS: [(&str, &str); 7] = [
    ("driver", "send-club-driver"),
    ("fairway_wood", "send-club-fairway-wood"),
    ("hybrid", "send-club-hybrid"),
    ("long_iron", "send-club-long-iron"),
    ("mid_iron", "send-club-mid-iron"),
    ("short_iron", "send-club-short-iron"),
    ("wedge", "send-club-wedge"),
];

/// What the script says, by the names it knows.
const SCRIPT: [(&str, &str); 9] = [
    ("no_film", "send-no-film"),
    ("too_long", "send-too-long"),
    ("same_twice", "send-same-twice"),
    ("say_pain", "send-say-pain"),
    ("say_where", "send-say-where"),
    ("unreadable", "send-unreadable"),
    ("not_shared", "send-not-shared"),
    ("size", "send-size"),
    ("decimal_mark", "send-decimal-mark"),
];

#[derive(Template)]
#[template(path = "send/send.html")]
struct SendPage<'a> {
    about: &'a SendFor,
    /// What the script needs to know, JSON that may stand in a script element.
    json: String,
    plan: FilmPlan,
    areas: Vec<(&'static str, Text)>,
    flights: [(&'static str, Text); 9],
    clubs: [(&'static str, Text); 7],
    style: &'static str,
    pack: &'static str,
    script: &'static str,
}

/// The page as one HTML file that needs nothing else.
///
/// # Errors
/// If the page can't be laid out.
pub fn send_page(about: &SendFor) -> Result<String, ReportError> {
    let said: BTreeMap<_, _> = SCRIPT
        .iter()
        .map(|(name, id)| (*name, about.say.text(&t(id))))
        .collect();
    let json = serde_json::json!({ "player": about.code, "lesson": about.lesson, "words": said });
    let page = SendPage {
        about,
        // "</script>" can't end it early.
        json: json.to_string().replace('<', "\\u003c"),
        plan: FilmPlan::of(about.hand.unwrap_or(Hand::Right), about.units),
        areas: BodyArea::ALL
            .map(|area| (area.key(), words::area(area)))
            .to_vec(),
        flights: FLIGHTS.map(|(key, id)| (key, t(id))),
        clubs: CLUBS.map(|(key, id)| (key, t(id))),
        style: include_str!("../templates/send/send.css"),
        pack: include_str!("../templates/send/pack.js"),
        script: include_str!("../templates/send/send.js"),
    };
    Ok(about.say.render(&page)?)
}
