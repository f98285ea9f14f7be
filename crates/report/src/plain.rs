//! The page's words without its markup, for paper and pictures. All wording is in the templates, which write
//! HTML; this takes that back.

use std::fmt::Display;

/// The text of a piece of HTML that our own templates wrote: tags dropped, entities read, white space as a
/// reader sees it.
pub fn plain(html: &impl Display) -> String {
    let html = html.to_string();
    let mut text = String::with_capacity(html.len());
    let mut in_tag = false;
    for letter in html.chars() {
        match letter {
            '<' => in_tag = true,
            '>' if in_tag => in_tag = false,
            _ if in_tag => {}
            _ => text.push(letter),
        }
    }
    // `&#38;` last, or "&#38;lt;" would be read twice.
    let entities = [
        ("&nbsp;", "\u{a0}"),
        ("&#60;", "<"),
        ("&#62;", ">"),
        ("&#34;", "\""),
        ("&#39;", "'"),
        ("&#38;", "&"),
    ];
    for (entity, letter) in entities {
        text = text.replace(entity, letter);
    }
    let words = text
        .split([' ', '\n', '\t'])
        .filter(|word| !word.is_empty());
    words.collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tags_go_and_entities_are_read_once() {
        assert_eq!(
            plain(&"<b>4.1&nbsp;cm</b>\n  (1.6&nbsp;in)"),
            "4.1\u{a0}cm (1.6\u{a0}in)"
        );
        assert_eq!(plain(&"a &#38;#60; b &#60; c"), "a &#60; b < c");
    }
}
