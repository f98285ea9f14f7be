//! The messages, embedded in the binary.

use crate::Language;
use crate::say::Script;
use fluent_bundle::{FluentResource, concurrent::FluentBundle};
use std::borrow::Cow;
use std::sync::LazyLock;

/// The messages of one language.
pub(crate) type Bundle = FluentBundle<FluentResource>;

macro_rules! files {
    ($($name:literal),* $(,)?) => {
        /// The files of messages: name, English, German.
        pub const FILES: &[(&str, &str, &str)] = &[$((
            $name,
            include_str!(concat!("../text/en/", $name, ".ftl")),
            include_str!(concat!("../text/de/", $name, ".ftl")),
        )),*];
    };
}

files![
    "analysis", "ball", "bench", "bring-in", "camera", "card", "coaching", "desk", "drills",
    "error", "film", "find", "follow", "judged", "keeping", "lesson", "letter", "own", "page",
    "paper", "personal", "phone", "player", "practice", "progress", "roster", "send", "settings",
    "swing", "today", "trouble", "when", "word",
];

pub(crate) fn bundle(language: Language, script: Script) -> &'static Bundle {
    static ENGLISH: LazyLock<[Bundle; 2]> = LazyLock::new(|| both(Language::English));
    static GERMAN: LazyLock<[Bundle; 2]> = LazyLock::new(|| both(Language::German));
    let [html, plain] = match language {
        Language::English => &*ENGLISH,
        Language::German => &*GERMAN,
    };
    match script {
        Script::Html => html,
        Script::Plain => plain,
    }
}

fn both(language: Language) -> [Bundle; 2] {
    let mut html = made(language);
    html.set_transform(Some(for_html));
    [html, made(language)]
}

fn made(language: Language) -> Bundle {
    let tag = language.tag().parse().expect("our tags are well formed");
    let mut bundle = FluentBundle::new_concurrent(vec![tag]);
    bundle.set_use_isolating(false);
    for (name, english, german) in FILES {
        let source = match language {
            Language::English => *english,
            Language::German => *german,
        };
        let resource = FluentResource::try_new(source.to_owned())
            .unwrap_or_else(|(_, errors)| panic!("{name}.ftl in {}: {errors:?}", language.tag()));
        bundle
            .add_resource(resource)
            .unwrap_or_else(|errors| panic!("{name}.ftl in {}: {errors:?}", language.tag()));
    }
    bundle
}

/// The catalogue's own words for HTML; its tags stay, and apostrophes, since attributes are in double quotes.
fn for_html(words: &str) -> Cow<'_, str> {
    if words.contains(['&', '"', '\u{a0}']) {
        let escaped = words.replace('&', "&#38;").replace('"', "&#34;");
        Cow::Owned(escaped.replace('\u{a0}', "&nbsp;"))
    } else {
        Cow::Borrowed(words)
    }
}
