//! Answers before a prescription, practice, references: kept, replaced, and gone with the player.

use jiff::Timestamp;
use jiff::civil::Date;
use lessonwright_model::{
    BodyArea, Cleared, Pain, PlayerFacts, Practice, PracticePlace, ReferenceChoice, Screening,
    Season, Sex,
};
use lessonwright_store::{PlayerId, Store, StoreError, SwingId};

fn at(second: i64) -> Timestamp {
    Timestamp::from_second(1_795_597_200 + second).unwrap()
}

fn facts(name: &str) -> PlayerFacts {
    PlayerFacts {
        name: name.into(),
        age_years: Some(52),
        ..PlayerFacts::default()
    }
}

async fn store_with(name: &str) -> (tempfile::TempDir, Store, PlayerId) {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).await.unwrap();
    let player = store.add_player(&facts(name), at(0)).await.unwrap();
    (folder, store, player)
}

#[tokio::test]
async fn answers_are_kept_whole_and_replaced_by_later_ones() {
    let (_folder, store, id) = store_with("Wilma Tarn").await;
    assert_eq!(
        store.player(id).await.unwrap().unwrap().facts.screening,
        None
    );
    let told = Screening {
        pains: vec![Pain {
            area: BodyArea::LowBack,
            strength: 3,
        }],
        surgery_months_ago: Some(7),
        balance_medicine: true,
        other: "tires soon".into(),
        cleared: Some(Cleared {
            by: "Dr. Anselm Roe".into(),
            on: Date::constant(2026, 11, 20),
        }),
        ..Screening::nothing(at(5))
    };
    for answers in [told, Screening::nothing(at(9))] {
        let with = PlayerFacts {
            sex: Some(Sex::Female),
            screening: Some(answers),
            ..facts("Wilma Tarn")
        };
        store.update_player(id, &with).await.unwrap();
        assert_eq!(store.player(id).await.unwrap().unwrap().facts, with);
    }
}

#[tokio::test]
async fn answers_that_cannot_be_are_refused_and_nothing_changes() {
    let (_folder, store, id) = store_with("Wilma Tarn").await;
    let pain = Pain {
        area: BodyArea::Knee,
        strength: 11,
    };
    let wrong = PlayerFacts {
        screening: Some(Screening {
            pains: vec![pain],
            ..Screening::nothing(at(5))
        }),
        ..facts("Wilma Tarn")
    };
    let error = store.update_player(id, &wrong).await.unwrap_err();
    assert!(matches!(error, StoreError::ImpossibleAnswers(_)), "{error}");
    assert_eq!(
        store.player(id).await.unwrap().unwrap().facts,
        facts("Wilma Tarn")
    );
}

#[tokio::test]
async fn practice_is_kept_and_a_player_is_needed() {
    let (_folder, store, id) = store_with("Wilma Tarn").await;
    let practice = Practice {
        from: Date::constant(2026, 11, 27),
        next_lesson: Date::constant(2026, 12, 18),
        days: vec![1, 3, 6],
        minutes: 25,
        place: PracticePlace::Range,
        season: Season::Between,
        at: Some(jiff::civil::Time::constant(17, 30, 0, 0)),
    };
    store.keep_practice(id, &practice).await.unwrap();
    assert_eq!(
        store.player(id).await.unwrap().unwrap().practice,
        Some(practice.clone())
    );
    let nobody = store.keep_practice(PlayerId(99), &practice).await;
    assert!(matches!(nobody, Err(StoreError::NoPlayer(PlayerId(99)))));
}

#[tokio::test]
async fn only_an_own_swing_is_an_own_reference() {
    let (_folder, store, id) = store_with("Wilma Tarn").await;
    let other = store.add_player(&facts("Bo Lind"), at(0)).await.unwrap();
    let own = store.add_swing(id, None, at(1)).await.unwrap();
    let foreign = store.add_swing(other, None, at(1)).await.unwrap();
    let chosen = |store: &Store| {
        let store = store.clone();
        async move { store.player(id).await.unwrap().unwrap().reference }
    };
    assert_eq!(chosen(&store).await, ReferenceChoice::Standard);
    let choice = ReferenceChoice::OwnSwing(own.0);
    store.choose_reference(id, choice).await.unwrap();
    assert_eq!(chosen(&store).await, choice);
    for swing in [foreign, SwingId(99)] {
        let refused = store
            .choose_reference(id, ReferenceChoice::OwnSwing(swing.0))
            .await;
        assert!(matches!(refused, Err(StoreError::NoSwing(_))), "{swing}");
    }
    assert_eq!(chosen(&store).await, choice);
}

#[tokio::test]
async fn a_swing_has_a_club_and_can_be_a_model_and_cease_to_be() {
    let (_folder, store, id) = store_with("Wilma Tarn").await;
    let swing = store.add_swing(id, None, at(1)).await.unwrap();
    store.keep_club(swing, Some("mid_iron")).await.unwrap();
    store.mark_model(swing, Some(at(3))).await.unwrap();
    store.mark_model(swing, Some(at(8))).await.unwrap();
    let kept = store.swing(swing).await.unwrap().unwrap();
    assert_eq!(
        (kept.club.as_deref(), kept.model_since),
        (Some("mid_iron"), Some(at(3)))
    );
    // Without an analysis there is nothing to hold others against.
    assert!(store.model_swings().await.unwrap().is_empty());
    store.mark_model(swing, None).await.unwrap();
    store.keep_club(swing, None).await.unwrap();
    let kept = store.swing(swing).await.unwrap().unwrap();
    assert_eq!((kept.club, kept.model_since), (None, None));
    assert!(matches!(
        store.mark_model(SwingId(99), None).await,
        Err(StoreError::NoSwing(SwingId(99)))
    ));
}
