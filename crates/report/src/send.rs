//! The page "film and send": one file that the player keeps on the phone. It works offline and from a file, takes one or
//! two clips and some answers, and makes the one file that goes back (`docs/hand-over.md`).

use crate::ReportError;
use crate::amount::Units;
use crate::film_plan::FilmPlan;
use askama::Template;
use lessonwright_model::{BodyArea, Hand};

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
}

/// Ball flights offered; the value is the word of the coaching's cause table.
pub const FLIGHTS: [(&str, &str); 9] = [
    ("straight", "straight"),
    ("slice", "bends far away from me (slice)"),
    ("hook", "bends far back to me (hook)"),
    ("push", "starts out away from me (push)"),
    ("pull", "starts across me (pull)"),
    ("fat", "ground before the ball (fat)"),
    ("thin", "low, off the bottom of the club (thin)"),
    ("topped", "rolls along the ground (topped)"),
    ("shank", "shoots off the neck of the club (shank)"),
];

/// Clubs offered; the value is the key that the store keeps.
pub const CLUBS: [(&str, &str); 7] = [
    ("driver", "driver"),
    ("fairway_wood", "fairway wood"),
    ("hybrid", "hybrid"),
    ("long_iron", "long iron"),
    ("mid_iron", "mid iron (5 to 7)"),
    ("short_iron", "short iron (8, 9)"),
    ("wedge", "wedge"),
];

#[derive(Template)]
#[template(path = "send/send.html")]
struct SendPage<'a> {
    about: &'a SendFor,
    /// What the script needs to know, JSON that may stand in a script element.
    json: String,
    plan: FilmPlan,
    areas: [BodyArea; 11],
    flights: [(&'static str, &'static str); 9],
    clubs: [(&'static str, &'static str); 7],
    style: &'static str,
    pack: &'static str,
    script: &'static str,
}

/// The page as one HTML file that needs nothing else.
///
/// # Errors
/// If the page can't be laid out.
pub fn send_page(about: &SendFor) -> Result<String, ReportError> {
    let json = serde_json::json!({ "player": about.code, "lesson": about.lesson });
    let page = SendPage {
        about,
        // "</script>" can't end it early.
        json: json.to_string().replace('<', "\\u003c"),
        plan: FilmPlan::of(about.hand.unwrap_or(Hand::Right), about.units),
        areas: BodyArea::ALL,
        flights: FLIGHTS,
        clubs: CLUBS,
        style: include_str!("../templates/send/send.css"),
        pack: include_str!("../templates/send/pack.js"),
        script: include_str!("../templates/send/send.js"),
    };
    Ok(page.render()?)
}
