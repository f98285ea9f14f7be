//! Words for a page's own scripts: a block of JSON in the page, id to words, which `scripts/words.js` reads. Where a
//! message has `{ $name }`, the block has `{name}`, and the script fills it in.

use crate::language::say;
use axum::http::header::CONTENT_TYPE;
use axum::response::IntoResponse;
use lessonwright_language::{Say, t};
use std::collections::BTreeMap;

/// What whatever asks the studio for pictures says (`bench/strip.js`).
pub const STRIP: &[&str] = &[
    "bench-s-no-answer",
    "bench-s-answered",
    "bench-s-broke",
    "bench-s-unknown-form",
    "bench-s-not-whole",
    "bench-s-frame",
];

/// What the other scripts of the bench say.
pub const BENCH: &[&str] = &[
    "bench-s-stills-stay",
    "bench-s-failed",
    "bench-s-apart",
    "bench-s-on-way",
    "bench-s-all-the-same",
    "bench-s-try-again",
    "bench-s-trying",
    "bench-s-pause",
    "bench-s-other-page",
    "bench-s-at",
    "bench-s-at-before",
    "bench-s-computed",
    "bench-s-computed-one",
    "bench-s-unchanged",
    "bench-s-before",
    "bench-s-frame-of",
    "bench-s-frame-at",
    "bench-s-frame-after",
    "bench-s-before-impact",
    "bench-s-after-impact",
    "bench-s-by-hand",
    "bench-s-damaged",
    "bench-s-coming",
    "bench-s-in-picture",
    "bench-s-from-level",
    "bench-s-stroke",
    "bench-s-no-scale",
    "bench-s-mirrored",
    "bench-s-go-to",
    "bench-s-moves",
    "bench-s-placed",
    "bench-s-mark",
    "bench-s-body-front",
    "bench-s-body-line",
    "bench-s-body-behind",
    "bench-s-body-target",
    "bench-s-body-above",
    "bench-s-body-hint",
    "bench-s-body-label",
    "bench-s-body-none",
    "bench-s-body-both",
    "bench-s-body-one",
    "bench-s-body-around",
    "bench-s-target",
    "bench-play",
    "bench-s-tool-ruler",
    "bench-s-tool-angle",
    "bench-s-tool-line",
    "bench-s-tool-pen",
    "word-view-face-on",
    "word-view-down-the-line",
    "word-moment-address",
    "word-moment-shaft-level-back",
    "word-moment-lead-arm-level-back",
    "word-moment-top",
    "word-moment-lead-arm-level-down",
    "word-moment-shaft-level-down",
    "word-moment-impact",
    "word-moment-finish",
    "word-joint-nose",
    "word-joint-left-shoulder",
    "word-joint-right-shoulder",
    "word-joint-left-elbow",
    "word-joint-right-elbow",
    "word-joint-left-wrist",
    "word-joint-right-wrist",
    "word-joint-left-hip",
    "word-joint-right-hip",
    "word-joint-left-knee",
    "word-joint-right-knee",
    "word-joint-left-ankle",
    "word-joint-right-ankle",
    "word-joint-left-heel",
    "word-joint-right-heel",
    "word-joint-left-toe",
    "word-joint-right-toe",
];

/// What the lesson desk's scripts say.
pub const DESK: &[&str] = &[
    "desk-s-keeping",
    "desk-s-kept",
    "desk-s-not-kept",
    "desk-s-swing",
    "desk-s-rail",
    "desk-s-play",
    "desk-s-stop",
    "desk-s-record",
    "desk-s-again",
    "desk-s-no-pictures",
    "desk-s-making-of",
    "desk-s-making",
    "desk-s-fetching",
    "desk-s-no-microphone",
    "desk-s-stop-keep",
    "desk-s-recording",
    "desk-s-keeping-voice",
    "desk-s-voice-not-kept",
    "desk-s-voice-again",
    "desk-s-view",
    "desk-s-not-shown",
    "desk-s-take-again",
    "desk-s-talk",
];

/// What sending clips says, on the page, by a phone and by a camera.
pub const SENDING: &[&str] = &[
    "bring-in-s-waits",
    "bring-in-s-sent-of",
    "bring-in-s-stop",
    "bring-in-s-on-way",
    "bring-in-s-cut",
    "bring-in-s-in",
    "bring-in-s-stopped",
    "bring-in-s-not-back",
    "bring-in-s-refused",
    "bring-in-s-again",
    "bring-in-s-unknown",
    "bring-in-s-not-taken",
];

/// What the page that films says.
pub const FILMING: &[&str] = &[
    "bring-in-s-one-side",
    "bring-in-s-one-camera",
    "bring-in-s-nothing",
    "bring-in-s-listening",
    "bring-in-s-not-allowed",
    "bring-in-s-gone",
    "bring-in-s-not-found",
    "bring-in-s-not-started",
    "bring-in-s-heard",
    "bring-in-s-by-hand",
    "bring-in-s-own-machine",
    "bring-in-s-camera",
    "bring-in-no-camera",
];

/// What the page of a player's link says.
pub const LINK: &[&str] = &["personal-s-copied", "personal-s-copy-now"];

/// What scripts fill in, and what stands for it in the block.
const FILLED_IN: [(&str, &str); 25] = [
    ("at", "{at}"),
    ("count", "{count}"),
    ("done", "{done}"),
    ("error", "{error}"),
    ("frame", "{frame}"),
    ("last", "{last}"),
    ("moment", "{moment}"),
    ("name", "{name}"),
    ("number", "{number}"),
    ("of", "{of}"),
    ("percent", "{percent}"),
    ("place", "{place}"),
    ("px", "{px}"),
    ("reading", "{reading}"),
    ("seconds", "{seconds}"),
    ("side", "{side}"),
    ("status", "{status}"),
    ("time", "{time}"),
    ("title", "{title}"),
    ("tool", "{tool}"),
    ("turned", "{turned}"),
    ("up", "{up}"),
    ("view", "{view}"),
    ("what", "{what}"),
    ("why", "{why}"),
];

/// The block's JSON, in the language of the request under way. Meant for `<script type="application/json">`.
pub fn script_words(lists: &[&[&'static str]]) -> String {
    block(say(), lists)
}

fn block(say: Say, lists: &[&[&'static str]]) -> String {
    let words: BTreeMap<&str, String> = lists
        .concat()
        .into_iter()
        .map(|id| {
            let filled = FILLED_IN
                .iter()
                .fold(t(id), |text, (name, stands)| text.with(name, *stands));
            (id, say.text(&filled))
        })
        .collect();
    // An end tag would end the block.
    serde_json::json!(words).to_string().replace('<', "\\u003c")
}

/// The module that reads the block.
pub async fn module() -> impl IntoResponse {
    (
        [(CONTENT_TYPE, "text/javascript; charset=utf-8")],
        include_str!("../scripts/words.js"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_language::Language;
    use std::collections::BTreeSet;
    use std::fs;
    use std::path::Path;

    /// The scripts that a page loads, and the lists in its block.
    const PAGES: [(&[&str], &[&[&str]]); 5] = [
        (
            &[
                "bench/body.js",
                "bench/by-hand.js",
                "bench/clock.js",
                "bench/handles.js",
                "bench/main.js",
                "bench/marks.js",
                "bench/other.js",
                "bench/panel.js",
                "bench/strip.js",
                "bench/travel.js",
            ],
            &[STRIP, BENCH],
        ),
        (
            &["desk/desk.js", "desk/speak.js", "bench/strip.js"],
            &[STRIP, DESK],
        ),
        (&["bring_in/drop.js", "bring_in/pieces.js"], &[SENDING]),
        (
            &[
                "bring_in/camera.js",
                "bring_in/drop.js",
                "bring_in/pieces.js",
            ],
            &[SENDING, FILMING],
        ),
        (&["personal/copy.js"], &[LINK]),
    ];

    /// What a script says: whole ids, and the beginnings of those that it puts together.
    fn said(script: &str) -> (BTreeSet<String>, BTreeSet<String>) {
        let (mut ids, mut beginnings) = (BTreeSet::new(), BTreeSet::new());
        for piece in script.split(['"', '`']).skip(1) {
            let is_of_id = |c: char| c.is_ascii_lowercase() || c == '-';
            let rest = piece.trim_start_matches(is_of_id);
            let id = &piece[..piece.len() - rest.len()];
            if !["bench-", "desk-s-", "bring-in-", "personal-s-", "word-"]
                .iter()
                .any(|page| id.starts_with(page))
            {
                continue;
            }
            match rest {
                "" => ids.insert(id.to_owned()),
                _ if rest.starts_with("${") => beginnings.insert(id.to_owned()),
                _ => false,
            };
        }
        (ids, beginnings)
    }

    #[test]
    fn scripts_find_their_words_and_need_them_all() {
        for (scripts, lists) in PAGES {
            let (mut ids, mut beginnings) = (BTreeSet::new(), BTreeSet::new());
            for script in scripts {
                let at = Path::new(env!("CARGO_MANIFEST_DIR"))
                    .join("scripts")
                    .join(script);
                let (more_ids, more_beginnings) = said(&fs::read_to_string(at).expect("a script"));
                ids.extend(more_ids);
                beginnings.extend(more_beginnings);
            }
            assert!(!ids.is_empty(), "{scripts:?}");
            let given: BTreeSet<String> = lists.concat().into_iter().map(str::to_owned).collect();
            let missing: Vec<_> = ids.difference(&given).collect();
            assert!(missing.is_empty(), "{scripts:?} say {missing:?}");
            for beginning in &beginnings {
                assert!(
                    given.iter().any(|id| id.starts_with(beginning)),
                    "{beginning}"
                );
            }
            for id in &given {
                let put_together = beginnings.iter().any(|begin| id.starts_with(begin));
                assert!(
                    put_together || ids.contains(id),
                    "no script of {scripts:?} says {id}"
                );
            }
        }
    }

    #[test]
    fn a_block_has_every_word_in_every_language_and_no_tag() {
        for language in Language::ALL {
            for (_, lists) in PAGES {
                let block = block(Say::new(language), lists);
                let words: BTreeMap<String, String> =
                    serde_json::from_str(&block).expect("an object of words");
                assert_eq!(words.len(), lists.concat().len());
                assert!(!block.contains('<'));
            }
        }
        let german = block(Say::new(Language::German), &[SENDING]);
        assert!(german.contains("{name}: ist da."), "{german}");
    }
}
