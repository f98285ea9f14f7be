//! A player's practice plan, and what is shown where there is none or a lesson may not be approved.

use askama::Template;
use lessonwright_language::{Text, filters};

/// A plan.
#[derive(Template)]
#[template(path = "practice_page.html")]
pub struct PracticePage {
    pub player: String,
    pub player_address: String,
    pub settings: String,
    pub card: String,
    pub calendar: String,
    pub title: String,
    /// The plan as HTML.
    pub part: String,
}

/// No plan, and why.
#[derive(Template)]
#[template(path = "not_planned.html")]
pub struct NotPlanned {
    pub player: String,
    pub player_address: String,
    pub settings: String,
    pub why: Text,
}

/// A lesson that may not be approved.
#[derive(Template)]
#[template(path = "not_approved.html")]
pub struct NotApproved {
    pub why: Text,
    pub player: String,
    /// Where the questions are.
    pub settings: String,
    /// The swing's page.
    pub back: String,
    /// Where it is drafted again.
    pub again: String,
}
