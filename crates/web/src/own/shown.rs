//! What a change would make of the last swings, in words.

use super::{JudgedAnew, WouldChange};
use crate::routes::swing_address;

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
    pub before: String,
    pub after: String,
}

impl Preview {
    pub fn of(would: &WouldChange) -> Preview {
        Preview {
            looked_at: would.looked_at,
            swings: would.swings.iter().map(PreviewLine::of).collect(),
        }
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

fn first(title: Option<&String>) -> String {
    title
        .cloned()
        .unwrap_or_else(|| "nothing stands out".into())
}

fn in_order(titles: &[String]) -> String {
    match titles {
        [] => "nothing to work on".into(),
        titles => titles.join("; then "),
    }
}
