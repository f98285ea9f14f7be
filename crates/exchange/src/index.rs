//! The page that says what lies in an export, for the person it is about.

use askama::Template;

/// What lies in an export.
#[derive(Clone, Debug, Default, PartialEq, Template)]
#[template(path = "index.html")]
pub struct Index {
    /// The academy; empty if it has no name.
    pub academy: String,
    /// "26 November 2026".
    pub written_on: String,
    /// The players in it.
    pub players: Vec<IndexPlayer>,
}

/// A player in an export.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct IndexPlayer {
    /// The name.
    pub name: String,
    /// What is known: what it is, and what it says.
    pub facts: Vec<(String, String)>,
    /// Swings, the first first.
    pub swings: Vec<IndexSwing>,
}

/// A swing in an export.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct IndexSwing {
    /// "Swing 3, 25 November 2026".
    pub title: String,
    /// What it came to, in a line.
    pub upshot: String,
    /// Files: path in the folder, and what it is.
    pub files: Vec<(String, String)>,
}

/// The page, which needs nothing else and works offline.
///
/// # Errors
/// If the page can't be laid out.
pub fn index_page(index: &Index) -> Result<String, askama::Error> {
    index.render()
}
