//! Why a text can't be read as shots.

use super::MOST_SHOTS;
use serde::Serialize;

/// Text that can't be read as shots: what, where, and what to do.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, thiserror::Error)]
#[serde(rename_all = "snake_case")]
pub enum ShotsError {
    /// Nothing but blanks.
    #[error("there is no text: paste the rows with their header, or name a file that has some")]
    Empty,
    /// No line names two columns.
    #[error(
        "no header found: one line must name what the columns hold, such as \"ball speed (m/s)\", \
         \"launch angle\", \"start direction\", \"spin axis\", \"carry (m)\"; the first line reads \
         \"{first_line}\""
    )]
    NoHeader {
        /// What stands there instead.
        first_line: String,
    },
    /// A header without shots.
    #[error("there is a header in line {line} but no shot under it: copy the rows as well")]
    NoShots {
        /// Of the header.
        line: u64,
    },
    /// More rows than anybody hits.
    #[error("more than {MOST_SHOTS} shots: cut the text in parts")]
    TooMany,
    /// A quote that is not closed, or the like.
    #[error("line {line} is no row of a table: {problem}")]
    Malformed {
        /// Where.
        line: u64,
        /// What the reader says.
        problem: String,
    },
    /// A cell that can't be read.
    #[error("line {line}, column \"{column}\": {problem}")]
    Cell {
        /// Where.
        line: u64,
        /// Its name in the text.
        column: String,
        /// What is wrong and what to do.
        problem: String,
    },
}
