//! An invented studio with four invented players.

#[path = "../../../report/tests/sample/mod.rs"]
pub mod lessons;

pub mod bench;
pub mod keeping;
pub mod own;

use jiff::{Timestamp, tz::TimeZone};
use lessonwright_coaching::{DrillBook, Figures, PracticeRules, ScreeningRules, Stations};
use lessonwright_language::t;
use lessonwright_model::{
    Brief, Change, Corrections, Hand, Measure, PlayerFacts, Screening, SwingAnalysis,
};
use lessonwright_report::{Units, lesson_page, reference_for};
use lessonwright_store::{GuardianConsent, PlayerId, Store, SwingId};
use lessonwright_web::{
    AppState, Asked, Drafts, FindReference, Lasting, Others, Prescribing, Spoken, Tickable, Trade,
};
use std::sync::{Arc, LazyLock};

/// 25 November 2026, 09:00 UTC.
pub fn now() -> Timestamp {
    Timestamp::from_second(1_795_597_200).unwrap()
}

pub fn state() -> AppState {
    let references = lessons::references();
    let reference =
        move |m: &Measure| reference_for(&references, m.name, m.moment, m.against).cloned();
    AppState {
        academy: "Harrow Lane Golf Studio".into(),
        coach: "Imke Brandt".into(),
        units: Units::Centimetres,
        spoken: Spoken::default(),
        time_zone: TimeZone::UTC,
        now: Arc::new(now),
        reference_of: {
            let reference: FindReference = Arc::new(reference.clone());
            Arc::new(move |_| {
                let reference = Arc::clone(&reference);
                Box::pin(async move { reference })
            })
        },
        reference: Arc::new(reference),
        prescribing: Arc::new(Prescribing {
            causes: lessonwright_coaching::CauseTable::standard(),
            screening: ScreeningRules::standard(),
            practice: PracticeRules::standard(),
            book: DrillBook::standard(),
            stations: Stations::standard(),
            figures: Figures::standard(),
            others: Others::default(),
        }),
        trade: {
            let trade = Arc::new(Trade {
                tickable: vec![
                    Tickable {
                        part: t("swing-part-set-up"),
                        key: "grip_weak".into(),
                        says: "grip turned too far to the target".into(),
                    },
                    Tickable {
                        part: t("swing-part-down"),
                        key: "hands_over".into(),
                        says: "hands come down outside their way back".into(),
                    },
                ],
                limits: vec![("balance".into(), "balance is unsure".into())],
                goals: vec![("distance".into(), "more distance".into())],
            });
            Arc::new(move |_| Arc::clone(&trade))
        },
        drafts: Drafts::default(),
        letter: Arc::new(|_, _| {
            Box::pin(async { Err("There is nothing to write about.".to_owned()) })
        }),
        bench: Arc::new(bench::SampleBench),
        keeping: Arc::new(keeping::SampleKeeping),
        bring_in: Arc::default(),
        own: Arc::new(own::SampleOwn::default()),
        lasting: Lasting::default(),
        correct: Arc::new(|_, asked| Box::pin(async move { corrected(asked) })),
    }
}

/// Nothing is computed in the sample; what can't be is refused as it would be.
fn corrected(asked: Asked) -> Result<(), String> {
    let mut corrections = Corrections::default();
    if let Asked::Make(Change::Stature(stature_m)) = asked {
        corrections.stature_m = stature_m;
    }
    corrections.check().map_err(|error| format!("{error}."))
}

/// Fills an empty store: players 1 to 4 in this order, swings 1 to 5.
pub async fn fill(store: &Store) {
    // Drawing and encoding the pictures takes long, so all tests share the pages.
    static LESSONS: LazyLock<[(SwingAnalysis, String); 4]> = LazyLock::new(|| {
        [
            lessons::lesson(),
            lessons::nothing_to_change(),
            lessons::left_handed(),
            lessons::too_little(),
        ]
        .map(|content| {
            let page = lesson_page(&content).unwrap();
            (content.analysis, page)
        })
    });
    let [one_thing, nothing, left_handed, too_little] = &*LESSONS;
    let tobias = add(store, "Tobias Wren", Hand::Right, 34).await;
    swing(store, tobias, 21, nothing).await;
    swing(store, tobias, 1, one_thing).await;
    let nia = add(store, "Nia Okonedo-Hart", Hand::Left, 15).await;
    let consent = GuardianConsent {
        guardian: "Ada Okonedo".into(),
        given_at: now(),
    };
    store.record_guardian_consent(nia, &consent).await.unwrap();
    let again = swing(store, nia, 3, left_handed).await;
    store.keep_brief(again, &Brief::default()).await.unwrap();
    let lesson = store.lessons_of_player(nia).await.unwrap().remove(0);
    store.approve_lesson(lesson.id, now()).await.unwrap();
    let per = add(store, "Per Ålund", Hand::Right, 71).await;
    swing(store, per, 9, too_little).await;
    store.add_swing(per, None, now()).await.unwrap();
    add(store, "Quill & Daughters <\"guest\">", Hand::Right, 40).await;
}

async fn add(store: &Store, name: &str, hand: Hand, age_years: u32) -> PlayerId {
    let facts = PlayerFacts {
        name: name.into(),
        hand: Some(hand),
        stature_m: Some(1.78),
        age_years: Some(age_years),
        usual_flight: Some("slice".into()),
        health_note: Some(String::new()),
        limits: vec!["balance".into()],
        goals: vec![],
        sex: None,
        language: None,
        // Before the first of their lessons was drafted, and not too long ago.
        screening: Some(Screening::nothing(
            now() - jiff::SignedDuration::from_hours(24 * 60),
        )),
    };
    store.add_player(&facts, now()).await.unwrap()
}

async fn swing(
    store: &Store,
    player: PlayerId,
    days_ago: i64,
    (analysis, page): &(SwingAnalysis, String),
) -> SwingId {
    let at = now() - jiff::SignedDuration::from_hours(24 * days_ago);
    let swing = store.add_swing(player, Some(at), at).await.unwrap();
    let analysis = store.add_analysis(swing, analysis, at).await.unwrap();
    store
        .add_lesson(analysis, page.as_bytes(), at)
        .await
        .unwrap();
    swing
}
