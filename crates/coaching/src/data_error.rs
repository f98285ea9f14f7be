//! What is wrong with a data file a professional may have edited, where, and what to do.

use serde::de::DeserializeOwned;

/// A target, cause or drill file that can't be used.
#[derive(Debug, thiserror::Error)]
pub enum DataError {
    /// The file is not well formed, or has an unknown or missing key. The TOML reader's own words are not passed on: they
    /// are in one language.
    #[error("{file}, line {line}: {problem}")]
    Syntax {
        /// Which file.
        file: String,
        /// Which line of it, from 1.
        line: usize,
        /// The line, what is wrong, and what to do.
        problem: String,
    },
    /// The file reads well but says something that can't be right.
    #[error("{file}, {place}: {problem}")]
    Content {
        /// Which file.
        file: String,
        /// Which entry of it.
        place: String,
        /// What is wrong and what to do.
        problem: String,
    },
}

impl DataError {
    pub(crate) fn content(
        file: &str,
        place: impl Into<String>,
        problem: impl Into<String>,
    ) -> DataError {
        DataError::Content {
            file: file.into(),
            place: place.into(),
            problem: problem.into(),
        }
    }

    fn syntax(file: &str, lines_before: usize, toml: &str, error: &toml::de::Error) -> DataError {
        let at = error.span().map_or(0, |span| span.start.min(toml.len()));
        let before = toml.get(..at).unwrap_or_default();
        // At the end of the text the line before it is meant.
        let before = match toml[before.len()..].trim().is_empty() {
            true => toml.trim_end(),
            false => before,
        };
        let index = before.matches('\n').count();
        let line = toml.lines().nth(index).unwrap_or_default().trim();
        DataError::Syntax {
            file: file.into(),
            line: lines_before + index + 1,
            problem: problem(line, error.message()),
        }
    }
}

/// So begins what our own reading says of an entry, to be told from what the TOML reader says.
pub(crate) const OURS: &str = "ours: ";

/// Reads TOML.
pub(crate) fn read<T: DeserializeOwned>(file: &str, toml: &str) -> Result<T, DataError> {
    read_below(file, 0, toml)
}

/// The same, with so many lines of the file above it.
pub(crate) fn read_below<T: DeserializeOwned>(
    file: &str,
    lines_before: usize,
    toml: &str,
) -> Result<T, DataError> {
    toml::from_str(toml).map_err(|error| DataError::syntax(file, lines_before, toml, &error))
}

/// What is wrong with a line, by how the reader's messages begin (serde's; toml 1 passes them on as they are).
fn problem(line: &str, message: &str) -> String {
    let after = |start: &str| message.strip_prefix(start);
    // "`lowest`, expected one of `measure`, `low`": what stands there, and what could.
    let pair = |rest: &str| -> Option<(String, String)> {
        let (there, known) = rest.split_once(", expected ")?;
        let known = known.strip_prefix("one of ").unwrap_or(known);
        Some((there.to_owned(), known.replace(" or ", ", ")))
    };
    if let Some(ours) = after(OURS) {
        return ours.to_owned();
    }
    if let Some(key) = after("missing field ") {
        return match line {
            "" => format!("the key {key} is missing: add it"),
            line => {
                format!("the key {key} is missing in the entry that begins with \"{line}\": add it")
            }
        };
    }
    if let Some((key, known)) = after("unknown field ").and_then(pair) {
        return format!(
            "the line \"{line}\" has the key {key}, which is not known here: choose from {known}"
        );
    }
    if let Some((word, known)) = after("unknown variant ").and_then(pair) {
        return format!(
            "the line \"{line}\" has the word {word}, which is not known here: choose from {known}"
        );
    }
    if message.starts_with("duplicate key") {
        return format!("the line \"{line}\" says again what was said above: keep one");
    }
    let wanted = after("invalid type: ").and_then(|rest| rest.split_once(", expected "));
    match wanted.map(|(_, wanted)| wanted) {
        Some("f64" | "u8" | "u32" | "usize") => {
            format!("in the line \"{line}\" a number has to stand, without quotation marks")
        }
        Some("a string") => {
            format!("in the line \"{line}\" a text has to stand, between quotation marks")
        }
        Some("a sequence") => {
            format!("in the line \"{line}\" a list has to stand, between square brackets")
        }
        _ => format!(
            "the line \"{line}\" can't be read: look for a missing quotation mark, bracket or equals sign, and how other \
             entries are written"
        ),
    }
}
