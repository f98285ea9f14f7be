//! What was told of a swing's ball: kept whole, replaced, brought to another studio, and gone with the player.

use jiff::Timestamp;
use lessonwright_model::PlayerFacts;
use lessonwright_store::{PlayerId, Store, StoreError, SwingId};
use serde_json::{Value, json};

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

#[tokio::test]
async fn a_ball_is_kept_replaced_and_forgotten() {
    let (_folder, store, _, swing) = store_with_swing().await;
    assert_eq!(store.ball::<Value>(swing).await.unwrap(), None);
    let left = json!({"start": "left", "carry_m": 152.04761904761904});
    store
        .keep_ball(swing, &left, Some("pull"), at(1))
        .await
        .unwrap();
    let kept = store.ball::<Value>(swing).await.unwrap().unwrap();
    assert_eq!((kept.ball, kept.told_at), (left, at(1)));
    assert_eq!(store.ball_flight(swing).await.unwrap(), Some("pull".into()));
    store
        .keep_ball(swing, &json!({}), None, at(2))
        .await
        .unwrap();
    assert_eq!(store.ball_flight(swing).await.unwrap(), None);
    assert!(store.ball::<Value>(swing).await.unwrap().is_some());
    store.forget_ball(swing).await.unwrap();
    assert_eq!(store.ball::<Value>(swing).await.unwrap(), None);
    let nowhere = store.keep_ball(SwingId(99), &json!({}), None, at(3)).await;
    assert!(matches!(nowhere, Err(StoreError::NoSwing(_))));
}

#[tokio::test]
async fn a_ball_goes_with_its_swing_to_another_studio_and_with_its_player_out_of_it() {
    let (_folder, store, player, swing) = store_with_swing().await;
    let ball = json!({"start": "left"});
    store
        .keep_ball(swing, &ball, Some("pull"), at(1))
        .await
        .unwrap();
    let out = tempfile::tempdir().unwrap();
    store
        .write_records(&[player], out.path(), &|_| {})
        .await
        .unwrap();
    let (_other_folder, other, _, _) = store_with_swing().await;
    // Swings of another player come before.
    let brought = other.bring_records(out.path()).await.unwrap();
    let there = other.swings_of(brought.players[0].id).await.unwrap();
    let mut flights = Vec::new();
    for swing in there {
        flights.extend(other.ball_flight(swing.id).await.unwrap());
    }
    assert_eq!(flights, ["pull"]);
    store.erase_player(player).await.unwrap();
    assert_eq!(store.ball::<Value>(swing).await.unwrap(), None);
}
