//! Asking, practice and references by command: what the studio's page does, with the same answers.

use crate::common::{NOTHING, run};
use jiff::Timestamp;
use lessonwright_model::{PlayerFacts, ReferenceChoice, Sex};
use lessonwright_store::{PlayerId, Store, SwingId};
use std::path::Path;
use tokio::runtime::Runtime;

#[test]
fn every_question_has_to_be_answered_and_the_answers_decide() {
    let studio = studio();
    let at = studio.path();
    assert!(
        run(at, &["player", "show", "Wilma Tarn"])
            .unwrap()
            .contains("not to be approved")
    );
    let missing = run(at, &["player", "screen", "Wilma Tarn", "--pain", "none"]).unwrap_err();
    for question in [
        "--warning-signs",
        "--injury",
        "--surgery",
        "--balance-medicine",
        "--condition",
    ] {
        assert!(missing.contains(question), "{question}: {missing}");
    }
    let screen = |more: &[&str]| {
        let mut words = vec!["player", "screen", "Wilma Tarn"];
        words.extend(NOTHING);
        words.extend(more);
        run(at, &words)
    };
    assert!(screen(&[]).unwrap().contains("may be approved"));
    let cleared = [
        "--cleared-by",
        "Dr. Anselm Roe",
        "--cleared-on",
        "2026-11-01",
    ];
    let replaced = |from: &str, to: &str, more: &[&str]| {
        let mut words = vec!["player", "screen", "Wilma Tarn"];
        let at_question = NOTHING.iter().position(|word| *word == from).unwrap();
        let mut told = NOTHING;
        told[at_question + 1] = to;
        words.extend(told);
        words.extend(more);
        run(at, &words)
    };
    let hurts = replaced("--pain", "knee=4", &[]).unwrap();
    assert!(
        hurts.contains("not to be approved. Pain of 4 to 6"),
        "{hurts}"
    );
    let hurts = replaced("--pain", "knee=4", &cleared).unwrap();
    assert!(
        hurts.contains("may be approved") && hurts.contains("less: Pain of 4 to 6"),
        "{hurts}"
    );
    for (question, told, says) in [
        ("--pain", "knee=12", "from 0 to 10"),
        ("--pain", "toe=2", "no area"),
        ("--surgery", "recently", "months ago"),
    ] {
        let error = replaced(question, told, &[]).unwrap_err();
        assert!(error.contains(says), "{says}: {error}");
    }
    assert!(
        run(at, &["player", "show", "Nobody"])
            .unwrap_err()
            .contains("no player called")
    );
}

#[test]
fn facts_are_set_one_by_one_and_unknown_words_refused() {
    let studio = studio();
    let at = studio.path();
    run(
        at,
        &[
            "player",
            "set",
            "Wilma Tarn",
            "--sex",
            "female",
            "--limit",
            "balance",
        ],
    )
    .unwrap();
    run(
        at,
        &[
            "player",
            "set",
            "Wilma Tarn",
            "--goal",
            "distance",
            "--age",
            "53",
        ],
    )
    .unwrap();
    let facts = player(at).facts;
    assert_eq!((facts.sex, facts.age_years), (Some(Sex::Female), Some(53)));
    assert_eq!(
        (facts.limits, facts.goals),
        (vec!["balance".to_string()], vec!["distance".to_string()])
    );
    let error = run(at, &["player", "set", "Wilma Tarn", "--limit", "balence"]).unwrap_err();
    assert!(error.contains("balence"), "{error}");
    run(at, &["player", "set", "Wilma Tarn", "--limit", "none"]).unwrap();
    assert!(player(at).facts.limits.is_empty());
}

#[test]
fn practice_references_and_models_are_kept_or_refused_with_a_reason() {
    let studio = studio();
    let at = studio.path();
    let practice = [
        "player",
        "practice",
        "Wilma Tarn",
        "--from",
        "2026-11-27",
        "--next-lesson",
        "2026-12-18",
        "--days",
        "mon,wed,sat",
        "--minutes",
        "25",
        "--place",
        "mat",
        "--season",
        "between",
        "--at",
        "17:30",
    ];
    run(at, &practice).unwrap();
    let kept = player(at).practice.unwrap();
    assert_eq!((kept.days, kept.minutes), (vec![1, 3, 6], 25));
    let error = run(
        at,
        &practice.map(|word| {
            if word == "2026-12-18" {
                "2026-11-27"
            } else {
                word
            }
        }),
    );
    assert!(error.unwrap_err().contains("must be after"));
    let error = run(at, &["plan", "Wilma Tarn"]).unwrap_err();
    assert!(error.contains("never analysed"), "{error}");
    run(
        at,
        &[
            "player",
            "reference",
            "Wilma Tarn",
            "own-swing",
            "--swing",
            "1",
        ],
    )
    .unwrap();
    assert_eq!(player(at).reference, ReferenceChoice::OwnSwing(1));
    assert!(run(at, &["player", "reference", "Wilma Tarn", "own-swing"]).is_err());
    let error = run(
        at,
        &[
            "player",
            "reference",
            "Wilma Tarn",
            "own-swing",
            "--swing",
            "9",
        ],
    );
    assert!(error.unwrap_err().contains("no swing 9"));
    let error = run(at, &["models", "add", "1"]).unwrap_err();
    assert!(error.contains("with which club"), "{error}");
    run(at, &["models", "add", "1", "--club", "mid-iron"]).unwrap();
    assert!(swing_is_model(at));
    run(at, &["models", "remove", "1"]).unwrap();
    assert!(!swing_is_model(at));
}

/// A studio with one player who has one swing, not analysed.
fn studio() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    Runtime::new().unwrap().block_on(async {
        let store = Store::open(folder.path()).await.unwrap();
        let facts = PlayerFacts {
            name: "Wilma Tarn".into(),
            age_years: Some(52),
            ..PlayerFacts::default()
        };
        let id = store
            .add_player(&facts, Timestamp::UNIX_EPOCH)
            .await
            .unwrap();
        store
            .add_swing(id, None, Timestamp::UNIX_EPOCH)
            .await
            .unwrap();
        store.close().await;
    });
    folder
}

fn player(studio: &Path) -> lessonwright_store::Player {
    Runtime::new().unwrap().block_on(async {
        let store = Store::open(studio).await.unwrap();
        store.player(PlayerId(1)).await.unwrap().unwrap()
    })
}

fn swing_is_model(studio: &Path) -> bool {
    Runtime::new().unwrap().block_on(async {
        let store = Store::open(studio).await.unwrap();
        store
            .swing(SwingId(1))
            .await
            .unwrap()
            .unwrap()
            .model_since
            .is_some()
    })
}
