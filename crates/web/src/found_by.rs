//! By which words the trade's tables are found: what the store keeps in English or by a key, as it is read in each language,
//! and the drills.

use lessonwright_coaching::ball::ClubKind;
use lessonwright_coaching::{Care, CauseTable, DrillBook, DrillPage, Flight};
use lessonwright_language::{Say, Text, t, words};
use lessonwright_model::{Drill, Hand, Language};
use lessonwright_store::{DrillWords, Said, Store, StoreError};
use std::collections::BTreeSet;

/// Has the search know these tables, given in English.
///
/// # Errors
/// If the database fails.
pub async fn offer_to_search(
    store: &Store,
    causes: &CauseTable,
    book: &DrillBook,
) -> Result<(), StoreError> {
    store.offer_words(&said(causes, book)).await?;
    store.offer_drills(&drills(book)).await
}

fn said(causes: &CauseTable, book: &DrillBook) -> BTreeSet<Said> {
    let mut all = BTreeSet::new();
    let written = titles(causes, book);
    for language in Language::ALL {
        let say = Say::new(language);
        let mut read = |written: &str, words: String| {
            // What reads as it is kept need not be said.
            if written != words {
                all.insert(Said {
                    language,
                    written: written.to_owned(),
                    words,
                });
            }
        };
        let spoken = titles(
            &causes.clone().in_language(language),
            &book.clone().in_language(language),
        );
        for (written, spoken) in written.iter().zip(spoken) {
            read(written, spoken);
        }
        for (written, text) in kept() {
            read(written, say.text(&text));
        }
    }
    all
}

/// Keys and words in which the store keeps what is not of the tables.
fn kept() -> impl Iterator<Item = (&'static str, Text)> {
    let clubs = ClubKind::ALL.map(|club| (club.key(), club.text()));
    let flights = Flight::ALL.map(|flight| (flight.plain(), flight.text()));
    let hands = [("right", Hand::Right), ("left", Hand::Left)];
    let hands = hands.map(|(key, hand)| (key, words::hand(hand)));
    let kinds = [("swing", t("find-swing")), ("lesson", t("find-lesson"))];
    clubs.into_iter().chain(flights).chain(hands).chain(kinds)
}

/// What priorities and prescriptions are called, for both hands.
fn titles(causes: &CauseTable, book: &DrillBook) -> Vec<String> {
    let of_hand = |hand| {
        let drills = book.pages().map(move |page| full(page, hand).title);
        causes.titles(hand).chain(drills).collect::<Vec<String>>()
    };
    [Hand::Right, Hand::Left]
        .into_iter()
        .flat_map(of_hand)
        .collect()
}

fn full(page: &DrillPage, hand: Hand) -> Drill {
    page.worded(hand, &Care::Full)
}

fn drills(book: &DrillBook) -> Vec<DrillWords> {
    let words = |page: &DrillPage| DrillWords {
        title: full(page, Hand::Right).title,
        texts: Language::ALL.map(|language| text(page, language)),
    };
    book.pages().map(words).collect()
}

/// All that is read on a drill's page; in another language its title behind that, of which the index has the English one.
fn text(page: &DrillPage, language: Language) -> String {
    let drill = full(&page.in_language(language), Hand::Right);
    let title = (language != Language::English).then_some(drill.title);
    let said = [drill.changes, drill.cue_outward, drill.cue_inward];
    let lists = [drill.set_up, drill.steps, drill.watch_for];
    let all = said
        .into_iter()
        .chain(lists.into_iter().flatten())
        .chain(title);
    all.collect::<Vec<String>>().join(" ")
}
