//! Prescriptions and marks: what a lesson prescribes is on record when it is drafted and counts when it is approved.

use jiff::Timestamp;
use jiff::civil::date;
use jiff::tz::TimeZone;
use lessonwright_model::swing::SCHEMA_VERSION;
use lessonwright_model::{
    Aim, Corrections, Measure, MeasureName, MeasureState, MomentName, Occasion, Place, PlayerFacts,
    Prescription, Ranking, SwingAnalysis, Teaching,
};
use lessonwright_store::{
    ByHand, LessonId, PlayerId, Store, StoreError, SwingId, SwingMark, date_of, day_of,
};

const PLACE: Place = Place {
    measure: MeasureName::PelvisShift,
    moment: MomentName::LeadArmLevelDown,
    against: Some(MomentName::Top),
};

/// 25 November 2026, 23:30 UTC: the day after in Berlin.
fn late() -> Timestamp {
    "2026-11-25T23:30:00Z".parse().unwrap()
}

fn analysis(reach: Option<f64>) -> SwingAnalysis {
    SwingAnalysis {
        schema_version: SCHEMA_VERSION,
        program_version: "test".into(),
        corrections: Corrections::default(),
        teaching: Teaching::default(),
        views: vec![],
        moments: vec![],
        measures: vec![Measure {
            name: PLACE.measure,
            moment: PLACE.moment,
            against: PLACE.against,
            view: None,
            value: Some(-1.5),
            unit: PLACE.measure.unit(),
            low: Some(-3.0),
            high: Some(0.0),
            state: MeasureState::Measured,
            reason: String::new(),
        }],
        findings: vec![],
        priority: None,
        ranking: Ranking::default(),
        drills: vec![],
        prescription: Some(Prescription {
            drill: "bump_the_stick".into(),
            cue: String::new(),
            dose: String::new(),
            measure: reach.map(|_| PLACE.measure),
            moment: PLACE.moment,
            against: PLACE.against,
            reach,
            check: String::new(),
            cautions: vec![],
        }),
        notice: None,
    }
}

struct Kept {
    store: Store,
    player: PlayerId,
    swing: SwingId,
    lesson: LessonId,
    folder: tempfile::TempDir,
}

async fn kept(reach: Option<f64>) -> Kept {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).await.unwrap();
    let facts = PlayerFacts {
        name: "Tobias Wren".into(),
        ..PlayerFacts::default()
    };
    let player = store.add_player(&facts, late()).await.unwrap();
    let swing = store.add_swing(player, None, late()).await.unwrap();
    let id = store
        .add_analysis(swing, &analysis(reach), late())
        .await
        .unwrap();
    let lesson = store.add_lesson(id, b"page", late()).await.unwrap();
    Kept {
        store,
        player,
        swing,
        lesson,
        folder,
    }
}

#[tokio::test]
async fn a_prescription_counts_when_its_lesson_is_approved_on_that_day_in_the_studios_zone() {
    let kept = kept(Some(3.0)).await;
    let draft = kept
        .store
        .history(kept.player, &TimeZone::UTC)
        .await
        .unwrap();
    assert_eq!((draft.given.len(), draft.drafts), (0, 1));
    assert!(
        draft.swings[0].day_assumed,
        "nobody said when it was filmed"
    );
    kept.store
        .approve_lesson(kept.lesson, late())
        .await
        .unwrap();
    let berlin = TimeZone::get("Europe/Berlin").unwrap();
    for (zone, day) in [(TimeZone::UTC, 25), (berlin, 26)] {
        let history = kept.store.history(kept.player, &zone).await.unwrap();
        let given = &history.given[0];
        assert_eq!(date_of(given.day), date(2026, 11, day));
        assert_eq!(history.swings[0].day, given.day);
        let aim = Aim {
            place: PLACE,
            goal: 3.0,
            start: Some(-1.5),
        };
        assert_eq!((given.aim, given.swing), (Some(aim), Some(kept.swing.0)));
        assert_eq!(history.drafts, 0);
    }
}

#[tokio::test]
async fn a_lesson_drafted_again_replaces_the_prescription_when_it_is_approved() {
    let kept = kept(Some(3.0)).await;
    kept.store
        .approve_lesson(kept.lesson, late())
        .await
        .unwrap();
    let again = kept
        .store
        .add_analysis(kept.swing, &analysis(Some(4.0)), late())
        .await
        .unwrap();
    let second = kept.store.add_lesson(again, b"page", late()).await.unwrap();
    let goals = async |store: &Store| -> Vec<f64> {
        let history = store.history(kept.player, &TimeZone::UTC).await.unwrap();
        history
            .given
            .iter()
            .filter_map(|g| Some(g.aim?.goal))
            .collect()
    };
    assert_eq!(goals(&kept.store).await, [3.0], "a draft replaces nothing");
    kept.store.approve_lesson(second, late()).await.unwrap();
    assert_eq!(goals(&kept.store).await, [4.0]);
}

#[tokio::test]
async fn a_prescription_that_no_camera_shows_has_no_aim() {
    let kept = kept(None).await;
    kept.store
        .approve_lesson(kept.lesson, late())
        .await
        .unwrap();
    let history = kept
        .store
        .history(kept.player, &TimeZone::UTC)
        .await
        .unwrap();
    assert_eq!((history.given.len(), history.given[0].aim), (1, None));
}

#[tokio::test]
async fn a_swing_is_marked_and_put_into_another_session() {
    let kept = kept(Some(3.0)).await;
    let mark = SwingMark {
        occasion: Some(Occasion::Transfer),
        session_on: Some(date(2026, 11, 20)),
    };
    kept.store.mark_swing(kept.swing, mark).await.unwrap();
    assert_eq!(kept.store.swing_mark(kept.swing).await.unwrap(), mark);
    let swing = kept
        .store
        .history(kept.player, &TimeZone::UTC)
        .await
        .unwrap()
        .swings
        .remove(0);
    assert_eq!(date_of(swing.day), date(2026, 11, 20));
    // Only the day is known now, and it was said.
    assert_eq!((swing.at_s, swing.day_assumed), (None, false));
    assert_eq!(swing.occasion, Some(Occasion::Transfer));
    kept.store
        .mark_swing(kept.swing, SwingMark::default())
        .await
        .unwrap();
    assert_eq!(
        kept.store.swing_mark(kept.swing).await.unwrap(),
        SwingMark::default()
    );
    let refused = kept.store.mark_swing(SwingId(77), mark).await;
    assert!(matches!(refused, Err(StoreError::NoSwing(SwingId(77)))));
}

#[tokio::test]
async fn one_by_hand_counts_at_once_and_can_be_changed_and_ended() {
    let kept = kept(None).await;
    let by_hand = ByHand {
        drill: "elbow_off_the_wall".into(),
        title: "Elbow off the wall".into(),
        aim: Some(Aim {
            place: Place {
                measure: MeasureName::TrailElbowAhead,
                moment: MomentName::LeadArmLevelDown,
                against: None,
            },
            goal: 0.0,
            start: None,
        }),
        given_on: date(2026, 10, 1),
        next_in_days: Some(21),
    };
    let id = kept.store.prescribe(kept.player, &by_hand).await.unwrap();
    let given = async || {
        let history = kept
            .store
            .history(kept.player, &TimeZone::UTC)
            .await
            .unwrap();
        history.given[0].clone()
    };
    let one = given().await;
    assert_eq!((one.aim, one.day), (by_hand.aim, day_of(date(2026, 10, 1))));
    assert_eq!(
        (one.next_in_days, one.at_s, one.swing),
        (Some(21), None, None)
    );
    assert_eq!(
        kept.store.set_next_lesson(id, Some(7)).await.unwrap(),
        kept.player
    );
    kept.store
        .end_prescription(id, Some(date(2026, 11, 1)))
        .await
        .unwrap();
    let one = given().await;
    assert_eq!(one.next_in_days, Some(7));
    assert_eq!(one.ended, Some(day_of(date(2026, 11, 1))));
    kept.store.end_prescription(id, None).await.unwrap();
    assert_eq!(given().await.ended, None);
    for refused in [
        kept.store.set_next_lesson(id, Some(0)).await,
        kept.store.set_next_lesson(99, None).await,
        kept.store
            .prescribe(PlayerId(99), &by_hand)
            .await
            .map(PlayerId),
    ] {
        assert!(refused.is_err(), "{refused:?}");
    }
}

#[tokio::test]
async fn lessons_of_an_earlier_version_get_their_prescriptions_from_their_analyses() {
    let kept = kept(Some(3.0)).await;
    kept.store
        .approve_lesson(kept.lesson, late())
        .await
        .unwrap();
    let after = kept
        .store
        .history(kept.player, &TimeZone::UTC)
        .await
        .unwrap();
    // Back to what the version before left on the disk.
    let file = kept.folder.path().join("lessonwright.db");
    kept.store.close().await;
    let options = sqlx::sqlite::SqliteConnectOptions::new().filename(&file);
    let pool = sqlx::SqlitePool::connect_with(options).await.unwrap();
    for statement in [
        "DROP TABLE prescriptions",
        "DROP TABLE swing_marks",
        "DELETE FROM _sqlx_migrations WHERE version = 4",
    ] {
        sqlx::query(statement).execute(&pool).await.unwrap();
    }
    pool.close().await;
    let store = Store::open(kept.folder.path()).await.unwrap();
    let again = store.history(kept.player, &TimeZone::UTC).await.unwrap();
    assert_eq!(again.given, after.given);
}

#[tokio::test]
async fn an_erased_player_leaves_no_prescription_and_no_mark() {
    let kept = kept(Some(3.0)).await;
    let mark = SwingMark {
        occasion: Some(Occasion::Practice),
        session_on: None,
    };
    kept.store.mark_swing(kept.swing, mark).await.unwrap();
    kept.store.erase_player(kept.player).await.unwrap();
    kept.store.close().await;
    let file = kept.folder.path().join("lessonwright.db");
    let options = sqlx::sqlite::SqliteConnectOptions::new().filename(&file);
    let pool = sqlx::SqlitePool::connect_with(options).await.unwrap();
    for table in [
        "SELECT count(*) FROM prescriptions",
        "SELECT count(*) FROM swing_marks",
    ] {
        let left: i64 = sqlx::query_scalar(table).fetch_one(&pool).await.unwrap();
        assert_eq!(left, 0, "{table}");
    }
}
