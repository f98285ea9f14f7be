//! What was chosen and said for a lesson: kept whole, replaced, and gone with the player.

use jiff::Timestamp;
use lessonwright_model::{
    Choices, ChosenPicture, DoseChoice, MomentName, PlayerFacts, PriorityChoice, Scrub, ScrubPoint,
    Teaching, View,
};
use lessonwright_store::{PlayerId, Store, StoreError, StoredChoices, SwingId};

fn at(second: i64) -> Timestamp {
    Timestamp::from_second(1_795_597_200 + second).unwrap()
}

async fn store_with_swing() -> (tempfile::TempDir, Store, PlayerId, SwingId) {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).await.unwrap();
    let facts = PlayerFacts {
        name: "Wilma Tarn".into(),
        age_years: Some(52),
        ..PlayerFacts::default()
    };
    let player = store.add_player(&facts, at(0)).await.unwrap();
    let swing = store.add_swing(player, None, at(0)).await.unwrap();
    (folder, store, player, swing)
}

fn chosen() -> Choices {
    Choices {
        teaching: Teaching {
            priority: PriorityChoice::Other {
                fact: "late_hips".into(),
                why: "\"he\" said so".into(),
            },
            drill: Some("bump_the_stick".into()),
            dose: DoseChoice::Half,
        },
        pictures: Some(vec![ChosenPicture {
            view: View::FaceOn,
            moment: MomentName::Top,
            caption: "Ellenbogen – hier".into(),
        }]),
        note: Some("One thing.".into()),
    }
}

#[tokio::test]
async fn choices_are_kept_whole_and_the_voice_stays_when_they_change() {
    let (_folder, store, _, swing) = store_with_swing().await;
    assert_eq!(
        store.choices(swing).await.unwrap(),
        StoredChoices::default()
    );
    store.keep_choices(swing, &chosen(), at(1)).await.unwrap();
    let scrub = Scrub {
        view: View::DownTheLine,
        points: vec![ScrubPoint {
            at_s: 0.5,
            frame: 93,
        }],
    };
    store
        .keep_voice(swing, b"sound", "webm", Some(&scrub), at(2))
        .await
        .unwrap();
    let other = Choices {
        note: None,
        ..chosen()
    };
    store.keep_choices(swing, &other, at(3)).await.unwrap();
    let kept = store.choices(swing).await.unwrap();
    assert_eq!(kept.choices, other);
    assert_eq!(kept.scrub, Some(scrub));
    assert_eq!(kept.changed_at, Some(at(3)));
    assert_eq!(store.voice(swing).await.unwrap().unwrap().1, b"sound");
}

#[tokio::test]
async fn a_voice_taken_again_leaves_no_file_of_the_one_before() {
    let (folder, store, player, swing) = store_with_swing().await;
    store
        .keep_voice(swing, b"first", "webm", None, at(1))
        .await
        .unwrap();
    store
        .keep_voice(swing, b"second", "m4a/../x", None, at(2))
        .await
        .unwrap();
    let files = || {
        std::fs::read_dir(folder.path().join(format!("media/{swing}")))
            .unwrap()
            .count()
    };
    assert_eq!(store.voice(swing).await.unwrap().unwrap().1, b"second");
    assert_eq!(files(), 1);
    store.forget_voice(swing, at(3)).await.unwrap();
    assert_eq!((store.voice(swing).await.unwrap(), files()), (None, 0));
    assert_eq!(store.choices(swing).await.unwrap().changed_at, Some(at(3)));
    // Nothing is left of it with the player.
    store
        .keep_voice(swing, b"third", "ogg", None, at(4))
        .await
        .unwrap();
    store.erase_player(player).await.unwrap();
    assert!(!folder.path().join(format!("media/{swing}")).exists());
    assert_eq!(
        store.choices(swing).await.unwrap(),
        StoredChoices::default()
    );
}

#[tokio::test]
async fn nothing_is_kept_for_a_swing_that_is_not_there() {
    let (folder, store, _, _) = store_with_swing().await;
    let none = SwingId(99);
    let kept = store.keep_choices(none, &chosen(), at(1)).await;
    assert!(matches!(kept, Err(StoreError::NoSwing(id)) if id == none));
    assert!(
        store
            .keep_voice(none, b"x", "ogg", None, at(1))
            .await
            .is_err()
    );
    assert!(!folder.path().join("media/99").exists());
}
