//! What is wrong with a data file a professional may have edited, where, and what to do.

/// A target, cause or drill file that can't be used.
#[derive(Debug, thiserror::Error)]
pub enum DataError {
    /// The file is not well formed, or has an unknown or missing key.
    #[error("{file}: {source}")]
    Syntax {
        /// Which file.
        file: String,
        /// What the TOML reader says, with line and column.
        source: Box<toml::de::Error>,
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
    pub(crate) fn syntax(file: &str, source: toml::de::Error) -> DataError {
        DataError::Syntax {
            file: file.into(),
            source: Box::new(source),
        }
    }

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
}
