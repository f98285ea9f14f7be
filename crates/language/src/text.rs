//! A sentence before a language is known.

use crate::{Argument, Language};
use std::fmt;

/// A sentence that [`crate::Say`] can say in every language.
///
/// It is no `String` on purpose: to display one without a language is an error, never English by accident.
#[derive(Clone, Debug, PartialEq)]
pub struct Text(pub(crate) Kind);

#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Kind {
    Message(Message),
    Plain(String),
    Figure(String),
    Joined(Vec<Text>, &'static str),
    /// In the order of [`Language::ALL`].
    InEach([String; Language::ALL.len()]),
}

/// A message of the catalogue with what is filled in.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Message {
    pub id: &'static str,
    pub arguments: Vec<(&'static str, Argument)>,
    pub tags: Vec<Tag>,
}

/// What `<name>…</name>` of a message becomes on a page.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Tag {
    pub name: &'static str,
    /// "span class=\"soft\""; the element is its first word.
    pub element: String,
}

/// The message with this id.
pub fn t(id: &'static str) -> Text {
    Text(Kind::Message(Message {
        id,
        arguments: Vec::new(),
        tags: Vec::new(),
    }))
}

impl Text {
    /// Words that no catalogue has, the same in every language: names, keys, what somebody wrote.
    pub fn plain(words: impl Into<String>) -> Text {
        Text(Kind::Plain(words.into()))
    }

    /// A number as written in English ("+1.5"): every language puts its own decimal mark.
    pub fn figure(digits: impl Into<String>) -> Text {
        Text(Kind::Figure(digits.into()))
    }

    /// A number with so many decimals.
    pub fn decimal(value: f64, decimals: usize) -> Text {
        Text::figure(format!("{value:.decimals$}"))
    }

    /// What has words of its own in every language, outside of the catalogue.
    pub fn in_each(words: impl Fn(Language) -> String) -> Text {
        Text(Kind::InEach(Language::ALL.map(words)))
    }

    /// Texts one after another with something between that is the same in every language: "; ".
    pub fn joined(texts: impl IntoIterator<Item = Text>, between: &'static str) -> Text {
        Text(Kind::Joined(texts.into_iter().collect(), between))
    }

    /// Fills in `{ $name }`.
    ///
    /// # Panics
    /// If the text is no message.
    #[must_use]
    pub fn with(mut self, name: &'static str, value: impl Into<Argument>) -> Text {
        self.message().arguments.push((name, value.into()));
        self
    }

    /// Makes `<name>words</name>` of the message a link to an address.
    ///
    /// # Panics
    /// If the text is no message.
    #[must_use]
    pub fn link(self, name: &'static str, address: impl fmt::Display) -> Text {
        let address = escaped(&address.to_string());
        self.tag(name, format!("a href=\"{address}\""))
    }

    /// Makes `<name>words</name>` of the message an element: "span class=\"soft\"". What comes from outside must
    /// have been escaped.
    ///
    /// # Panics
    /// If the text is no message.
    #[must_use]
    pub fn tag(mut self, name: &'static str, element: impl Into<String>) -> Text {
        let element = element.into();
        self.message().tags.push(Tag { name, element });
        self
    }

    fn message(&mut self) -> &mut Message {
        match &mut self.0 {
            Kind::Message(message) => message,
            other => panic!("only a message has places to fill in, not {other:?}"),
        }
    }
}

/// Fails always: a text has no words before a language is known. Askama asks for it, and then uses
/// [`askama::FastWritable`], which knows the language.
impl fmt::Display for Text {
    fn fmt(&self, _: &mut fmt::Formatter<'_>) -> fmt::Result {
        Err(fmt::Error)
    }
}

/// For HTML text and attributes, as Askama writes it.
pub(crate) fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for letter in words.chars() {
        match letter {
            '&' => out.push_str("&#38;"),
            '<' => out.push_str("&#60;"),
            '>' => out.push_str("&#62;"),
            '"' => out.push_str("&#34;"),
            '\'' => out.push_str("&#39;"),
            '\u{a0}' => out.push_str("&nbsp;"),
            letter => out.push(letter),
        }
    }
    out
}
