//! The languages in which the product speaks.

use serde::{Deserialize, Serialize};

/// A language that is complete: every page, paper and film is in it.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize,
)]
pub enum Language {
    /// English, the language in which everything is written first.
    #[default]
    #[serde(rename = "en")]
    English,
    /// German, with "Sie".
    #[serde(rename = "de")]
    German,
}

impl Language {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Language; 2] = [Language::English, Language::German];

    /// Its tag (BCP 47): "en", "de".
    pub const fn tag(self) -> &'static str {
        match self {
            Language::English => "en",
            Language::German => "de",
        }
    }

    /// The language of a tag.
    pub fn of_tag(tag: &str) -> Option<Language> {
        Language::ALL
            .into_iter()
            .find(|language| language.tag() == tag)
    }

    /// Its own name for itself: who does not read the other languages finds it.
    pub const fn own_name(self) -> &'static str {
        match self {
            Language::English => "English",
            Language::German => "Deutsch",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tag_is_read_back() {
        for language in Language::ALL {
            assert_eq!(Language::of_tag(language.tag()), Some(language));
        }
        assert_eq!(Language::of_tag("xx"), None);
    }
}
