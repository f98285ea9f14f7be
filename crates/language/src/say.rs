//! Texts into words.

use crate::catalogue::{Bundle, bundle};
use crate::text::{Kind, Message, Tag, escaped};
use crate::{Argument, Language, Text};
use askama::filters::HtmlSafe;
use askama::{FastWritable, Template, Values};
use fluent_bundle::{FluentArgs, FluentValue};
use std::any::Any;
use std::fmt;

/// Says texts in one language.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Say {
    /// The language.
    pub language: Language,
}

/// Why a text could not be said. The catalogue's tests keep it from happening.
#[derive(Debug, thiserror::Error)]
pub enum UnsaidError {
    /// No message has this id.
    #[error("no message \"{id}\" in {}", language.own_name())]
    NoMessage {
        /// The id.
        id: &'static str,
        /// The language.
        language: Language,
    },
    /// Something that the message needs was not given.
    #[error("the message \"{id}\" could not be filled in: {why}")]
    NotFilledIn {
        /// The id.
        id: &'static str,
        /// What is missing.
        why: String,
    },
}

/// For whom the words are written.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Script {
    /// A page: what is filled in is escaped, tags become elements.
    Html,
    /// Paper, films, messages, JSON: tags are left out.
    Plain,
}

impl Say {
    /// In this language.
    pub const fn new(language: Language) -> Say {
        Say { language }
    }

    /// A text as plain words.
    ///
    /// # Panics
    /// If the catalogue lacks the message or something is not filled in: the catalogue's tests hold that ids in
    /// the sources exist.
    pub fn text(self, text: &Text) -> String {
        match self.written(text, Script::Plain) {
            Ok(words) => words,
            Err(unsaid) => panic!("{unsaid}"),
        }
    }

    /// A text as HTML.
    ///
    /// # Errors
    /// If the catalogue lacks the message or something is not filled in.
    pub fn html(self, text: &Text) -> Result<String, UnsaidError> {
        self.written(text, Script::Html)
    }

    /// Lays out a page in this language.
    ///
    /// # Errors
    /// If the page can't be laid out or has a text that can't be said.
    pub fn render(self, page: &impl Template) -> askama::Result<String> {
        page.render_with_values(&self)
    }

    /// Digits with the language's decimal mark.
    pub fn figure(self, digits: &str) -> String {
        match self.language {
            Language::English => digits.to_owned(),
            Language::German => digits.replace('.', ","),
        }
    }

    fn written(self, text: &Text, script: Script) -> Result<String, UnsaidError> {
        match &text.0 {
            Kind::Message(message) => self.message(message, script),
            Kind::Plain(words) => Ok(as_written(words, script)),
            Kind::Figure(digits) => Ok(as_written(&self.figure(digits), script)),
            Kind::InEach(all) => {
                let mut pairs = Language::ALL.iter().zip(all);
                let mine = pairs.find(|(language, _)| **language == self.language);
                let (_, words) = mine.expect("every language is one of all");
                Ok(as_written(words, script))
            }
            Kind::Joined(texts, between) => {
                let said: Result<Vec<_>, _> = texts
                    .iter()
                    .map(|text| self.written(text, script))
                    .collect();
                Ok(said?.join(&as_written(between, script)))
            }
        }
    }

    fn message(self, message: &Message, script: Script) -> Result<String, UnsaidError> {
        let id = message.id;
        let bundle: &Bundle = bundle(self.language, script);
        let pattern = bundle
            .get_message(id)
            .and_then(|found| found.value())
            .ok_or(UnsaidError::NoMessage {
                id,
                language: self.language,
            })?;
        let mut filled = FluentArgs::new();
        for (name, value) in &message.arguments {
            filled.set(*name, self.argument(value, script)?);
        }
        let mut problems = Vec::new();
        let words = bundle.format_pattern(pattern, Some(&filled), &mut problems);
        if let Some(problem) = problems.first() {
            let why = problem.to_string();
            return Err(UnsaidError::NotFilledIn { id, why });
        }
        tagged(&words, &message.tags, script).map_err(|why| UnsaidError::NotFilledIn { id, why })
    }

    fn argument(
        self,
        value: &Argument,
        script: Script,
    ) -> Result<FluentValue<'static>, UnsaidError> {
        Ok(match value {
            Argument::Words(words) => FluentValue::from(as_written(words, script)),
            Argument::Count(count) => FluentValue::from(*count),
            Argument::Text(text) => FluentValue::from(self.written(text, script)?),
        })
    }
}

fn as_written(words: &str, script: Script) -> String {
    match script {
        Script::Html => escaped(words),
        Script::Plain => words.to_owned(),
    }
}

/// Elements that a message may name without being told what they are.
pub const ELEMENTS: [&str; 4] = ["strong", "em", "code", "kbd"];

/// Makes elements of a message's tags, or leaves them out. What was filled in has none: it is escaped.
fn tagged(words: &str, tags: &[Tag], script: Script) -> Result<String, String> {
    // Plain words may hold a "<" that was filled in; only known tags are taken out there.
    let mut out = words.to_owned();
    for tag in tags {
        let element = tag.element.as_str();
        let name = element.split(' ').next().unwrap_or(element);
        let (open, close) = match script {
            Script::Html => (format!("<{element}>"), format!("</{name}>")),
            Script::Plain => Default::default(),
        };
        let (from_open, from_close) = (format!("<{}>", tag.name), format!("</{}>", tag.name));
        if !out.contains(&from_open) {
            return Err(format!("it has no <{}>", tag.name));
        }
        out = out.replace(&from_open, &open).replace(&from_close, &close);
    }
    if script == Script::Plain {
        for element in ELEMENTS {
            out = out.replace(&format!("<{element}>"), "");
            out = out.replace(&format!("</{element}>"), "");
        }
    }
    Ok(out)
}

/// Templates find the language under this name.
const KEY: &str = "say";

impl Values for Say {
    fn get_value<'a>(&'a self, key: &str) -> Option<&'a dyn Any> {
        (key == KEY).then_some(self as &dyn Any)
    }
}

impl FastWritable for Text {
    fn write_into(&self, dest: &mut dyn fmt::Write, values: &dyn Values) -> askama::Result<()> {
        let say: &Say = askama::get_value(values, KEY)?;
        let words = say.html(self).map_err(askama::Error::custom)?;
        Ok(dest.write_str(&words)?)
    }
}

/// It escapes what is filled in itself.
impl HtmlSafe for Text {}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{t, when};
    use jiff::civil::date;

    const BOTH: [Say; 2] = [Say::new(Language::English), Say::new(Language::German)];

    #[derive(Template)]
    #[template(
        source = r#"{{ "when-hours"|t|with("n", hours) }}, {{ day }}, {{ name }}, {{ "page-language"|t }}"#,
        ext = "html"
    )]
    struct Page {
        hours: usize,
        day: Text,
        name: Text,
    }

    use crate::filters;

    #[test]
    fn a_page_is_laid_out_in_each_language() {
        let page = Page {
            hours: 1,
            day: when::date(date(2026, 11, 25)),
            name: Text::plain("O'Brien & <Sons>"),
        };
        let name = "O&#39;Brien &#38; &#60;Sons&#62;";
        let said = BOTH.map(|say| say.render(&page).expect("a page"));
        assert_eq!(
            said,
            [
                format!("1 hour, 25 November 2026, {name}, en"),
                format!("1 Stunde, 25. November 2026, {name}, de"),
            ]
        );
    }

    #[test]
    fn a_page_without_a_language_is_an_error() {
        let page = Page {
            hours: 1,
            day: Text::plain(""),
            name: Text::plain(""),
        };
        assert!(page.render().is_err());
    }

    #[test]
    fn numbers_have_the_decimal_mark_of_the_language() {
        let number = Text::decimal(-3.1449, 2);
        assert_eq!(BOTH.map(|say| say.text(&number)), ["-3.14", "-3,14"]);
    }

    #[test]
    fn what_is_not_there_or_not_filled_in_is_an_error() {
        for say in BOTH {
            assert!(say.html(&t("when-no-such-thing")).is_err());
            assert!(say.html(&t("when-hours")).is_err());
            let untagged = t("when-today").link("nowhere", "/");
            assert!(say.html(&untagged).is_err());
        }
    }

    #[test]
    fn tags_are_elements_on_a_page_and_nothing_in_plain_words() {
        let tags = [Tag {
            name: "plan",
            element: "a href=\"/plan?a=1&#38;b=2\"".into(),
        }];
        let words = "See <plan>the plan</plan>, <strong>now</strong>.";
        assert_eq!(
            tagged(words, &tags, Script::Html).expect("words"),
            "See <a href=\"/plan?a=1&#38;b=2\">the plan</a>, <strong>now</strong>."
        );
        assert_eq!(
            tagged(words, &tags, Script::Plain).expect("words"),
            "See the plan, now."
        );
    }

    #[test]
    fn the_catalogue_knows_which_language_it_is() {
        for say in BOTH {
            assert_eq!(say.text(&t("page-language")), say.language.tag());
        }
    }
}
