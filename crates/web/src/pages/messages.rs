//! Pages that say why there is no page.

use askama::Template;
use lessonwright_language::{Text, filters};

/// There is no such thing.
#[derive(Template)]
#[template(path = "missing.html")]
pub struct Missing {
    /// What was asked for ("player 7").
    pub what: Text,
}

/// Something failed.
#[derive(Template)]
#[template(path = "failed.html")]
pub struct Failed {
    /// What failed, and why, outermost first.
    pub causes: Vec<Text>,
}

/// The request may not be answered.
#[derive(Template)]
#[template(path = "refused.html")]
pub struct Refused {
    /// Why, and what to do.
    pub reason: Text,
}

/// A correction that can't be.
#[derive(Template)]
#[template(path = "not_corrected.html")]
pub struct NotCorrected {
    /// Why, and what to do.
    pub reason: Text,
    /// The swing's page.
    pub back: String,
}
