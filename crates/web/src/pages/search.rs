//! What was found, kind by kind.

use crate::AppState;
use crate::drills::drill_address;
use crate::error::PageError;
use crate::routes::{lesson_address, player_address, swing_address};
use askama::Template;
use lessonwright_coaching::Care;
use lessonwright_language::{Text, filters, t};
use lessonwright_model::Hand;
use lessonwright_store::{Found, FoundKind, LessonId, PlayerId, Store, SwingId};

/// The page of a search.
#[derive(Template)]
#[template(path = "search.html")]
pub struct SearchPage {
    asked: String,
    groups: Vec<Group>,
}

/// What goes below the field while it is typed in.
#[derive(Template)]
#[template(path = "search_part.html")]
pub struct SearchPart {
    asked: String,
    groups: Vec<Group>,
}

/// What was found of one kind.
struct Group {
    title: Text,
    lines: Vec<FoundLine>,
}

struct FoundLine {
    address: String,
    title: String,
    /// Words, and whether they are what was looked for.
    excerpt: Vec<(bool, String)>,
}

/// Of each kind so many are shown on the page.
const MOST: usize = 20;

/// And below the field.
const MOST_BELOW: usize = 5;

impl SearchPage {
    pub async fn of(store: &Store, state: &AppState, asked: &str) -> Result<SearchPage, PageError> {
        Ok(SearchPage {
            groups: groups(store, state, asked, MOST).await?,
            asked: asked.to_owned(),
        })
    }
}

impl SearchPart {
    pub async fn of(store: &Store, state: &AppState, asked: &str) -> Result<SearchPart, PageError> {
        Ok(SearchPart {
            groups: groups(store, state, asked, MOST_BELOW).await?,
            asked: asked.to_owned(),
        })
    }
}

async fn groups(
    store: &Store,
    state: &AppState,
    asked: &str,
    most: usize,
) -> Result<Vec<Group>, PageError> {
    let found = store.search(asked, most).await?;
    let group = |kind: FoundKind| Group {
        title: t(match kind {
            FoundKind::Player => "find-players",
            FoundKind::Lesson => "find-lessons",
            FoundKind::Swing => "find-swings",
            FoundKind::Note => "find-notes",
            FoundKind::Drill => "find-drills",
        }),
        lines: found
            .iter()
            .filter(|found| found.kind == kind)
            .filter_map(|found| FoundLine::of(found, state))
            .collect(),
    };
    let groups = FoundKind::ALL.into_iter().map(group);
    Ok(groups.filter(|group| !group.lines.is_empty()).collect())
}

impl FoundLine {
    /// None for a drill that is no longer in the book.
    fn of(found: &Found, state: &AppState) -> Option<FoundLine> {
        let mut title = found.title.clone();
        let address = match found.kind {
            FoundKind::Player => player_address(PlayerId(found.key)),
            FoundKind::Lesson => lesson_address(LessonId(found.key)),
            FoundKind::Swing => swing_address(SwingId(found.key)),
            FoundKind::Note => format!("{}#notes", player_address(PlayerId(found.player?))),
            FoundKind::Drill => {
                let place = usize::try_from(found.key).ok()?;
                let page = state.prescribing.said().book.pages().nth(place)?;
                title = page.worded(Hand::Right, &Care::Full).title;
                drill_address(page.key())
            }
        };
        Some(FoundLine {
            address,
            title,
            excerpt: marked(&found.excerpt),
        })
    }
}

/// Cuts an excerpt at its marks.
fn marked(excerpt: &str) -> Vec<(bool, String)> {
    let [open, close] = Found::MARKS;
    let mut parts = Vec::new();
    for (at, piece) in excerpt.split(open).enumerate() {
        match piece.split_once(close) {
            Some((found, rest)) if at > 0 => {
                parts.push((true, found.to_owned()));
                parts.push((false, rest.to_owned()));
            }
            _ => parts.push((false, piece.to_owned())),
        }
    }
    parts.retain(|(_, words)| !words.is_empty());
    parts
}

#[cfg(test)]
mod tests {
    use super::marked;

    #[test]
    fn an_excerpt_is_cut_at_what_was_found() {
        let parts = |text: &str| -> Vec<(bool, String)> { marked(text) };
        let part = |found, words: &str| (found, words.to_owned());
        assert_eq!(
            parts("a \u{2}slice\u{3} of \u{2}it\u{3}"),
            [
                part(false, "a "),
                part(true, "slice"),
                part(false, " of "),
                part(true, "it")
            ]
        );
        assert_eq!(parts("nothing"), [part(false, "nothing")]);
    }
}
