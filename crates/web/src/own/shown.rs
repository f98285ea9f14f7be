//! What a change would make of the last swings, in words.

use super::{JudgedAnew, WouldChange};
use crate::routes::swing_address;
use lessonwright_language::{Text, t};

/// For the page.
pub struct Preview {
    pub looked_at: usize,
    pub swings: Vec<PreviewLine>,
}

/// One swing that comes to something else.
pub struct PreviewLine {
    pub address: String,
    pub player: String,
    pub number: i64,
    pub before: Text,
    pub after: Text,
}

impl Preview {
    pub fn of(would: &WouldChange) -> Preview {
        Preview {
            looked_at: would.looked_at,
            swings: would.swings.iter().map(PreviewLine::of).collect(),
        }
    }

    /// How many swings come to something else.
    pub fn result(&self) -> Text {
        let text = match (self.looked_at, self.swings.len()) {
            (0, _) => return t("own-preview-no-swing"),
            (_, 0) => t("own-preview-nothing"),
            (_, some) => t("own-preview-some").with("n", some),
        };
        text.with("looked-at", self.looked_at)
    }
}

impl PreviewLine {
    fn of(judged: &JudgedAnew) -> PreviewLine {
        let same_first = judged.first[0] == judged.first[1];
        let [before, after] = [0, 1].map(|at| match same_first {
            // What is worked on first stays: then the order under it says what is another.
            true => in_order(&judged.order[at]),
            false => first(judged.first[at].as_ref()),
        });
        PreviewLine {
            address: swing_address(judged.swing),
            player: judged.player.clone(),
            number: judged.swing.0,
            before,
            after,
        }
    }
}

fn first(title: Option<&String>) -> Text {
    title.map_or(t("own-preview-stands-out"), Text::plain)
}

fn in_order(titles: &[String]) -> Text {
    let texts = titles.iter().map(Text::plain);
    let after = |titles: Text, title: Text| {
        t("own-preview-after")
            .with("titles", titles)
            .with("title", title)
    };
    texts.reduce(after).unwrap_or(t("own-preview-to-work-on"))
}
