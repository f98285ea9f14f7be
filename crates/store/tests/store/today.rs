//! What Today, the search and a player's record rest on.

use jiff::civil::{Date, date};
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};
use lessonwright_model::swing::SCHEMA_VERSION;
use lessonwright_model::{
    CauseGrade, Corrections, Hand, Language, Occasion, PlayerFacts, Priority, Ranking,
    SwingAnalysis,
};
use lessonwright_store::{
    Background, ByHand, DrillWords, Found, FoundKind, LessonId, LessonState, NewConsent, Planned,
    PlayerId, Purpose, Said, Store, StoreError, SwingId, SwingMark,
};
use sqlx::migrate::Migrator;
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{AssertSqlSafe, SqlitePool, migrate};
use std::collections::BTreeSet;
use std::path::Path;

/// 25 November 2026, 09:00 UTC.
const NOW_S: i64 = 1_795_597_200;

#[tokio::test]
async fn appointments_are_made_moved_and_cancelled_and_listed_by_time() {
    let (store, _folder) = studio().await;
    let tom = player(&store, "Tom Hallam").await;
    let nia = player(&store, "Nia Hart").await;
    let later = planned(tom, 26);
    let first = store.add_appointment(&later).await.unwrap();
    let second = store.add_appointment(&planned(nia, 2)).await.unwrap();
    store.add_appointment(&planned(nia, 24 * 9)).await.unwrap();
    let week = async || {
        let all = store
            .appointments_between(hours(0), hours(24 * 8))
            .await
            .unwrap();
        all.iter()
            .map(|one| (one.id, one.name.clone()))
            .collect::<Vec<_>>()
    };
    assert_eq!(
        week().await,
        [(second, "Nia Hart".into()), (first, "Tom Hallam".into())]
    );
    store
        .move_appointment(
            first,
            &Planned {
                starts_at: hours(1),
                ..later.clone()
            },
        )
        .await
        .unwrap();
    assert_eq!(week().await[0].0, first);
    store.cancel_appointment(second).await.unwrap();
    assert_eq!(week().await.len(), 1);
    assert_eq!(store.appointments_of(nia, hours(0)).await.unwrap().len(), 1);
    for (what, error, expected) in [
        (
            "gone",
            store.cancel_appointment(second).await.unwrap_err(),
            "no appointment",
        ),
        (
            "too short",
            store
                .add_appointment(&Planned {
                    minutes: 0,
                    ..later.clone()
                })
                .await
                .unwrap_err(),
            "length in minutes",
        ),
        (
            "nobody",
            store
                .add_appointment(&planned(PlayerId(99), 1))
                .await
                .unwrap_err(),
            "no player 99",
        ),
    ] {
        assert!(error.to_string().contains(expected), "{what}: {error}");
    }
    store.erase_player(tom).await.unwrap();
    assert!(week().await.is_empty());
}

#[tokio::test]
async fn a_swing_waits_until_its_latest_lesson_is_approved_then_to_be_sent() {
    let (store, _folder) = studio().await;
    let tom = player(&store, "Tom Hallam").await;
    let bare = store.add_swing(tom, None, hours(-3)).await.unwrap();
    let read = store.add_swing(tom, None, hours(-2)).await.unwrap();
    let analysis = store
        .add_analysis(read, &analysis("Turn more"), hours(-2))
        .await
        .unwrap();
    let lesson = store
        .add_lesson(analysis, b"page", hours(-1))
        .await
        .unwrap();
    let waiting = async || {
        let (lines, all) = store.swings_to_read(10).await.unwrap();
        assert_eq!(lines.len(), all);
        lines
            .iter()
            .map(|one| one.standing.swing)
            .collect::<Vec<SwingId>>()
    };
    assert_eq!(waiting().await, [bare, read]);
    store.note_sent_in(read).await.unwrap();
    let (both, _) = store.swings_to_read(2).await.unwrap();
    assert_eq!([both[0].sent_in, both[1].sent_in], [false, true]);
    let (one, all) = store.swings_to_read(1).await.unwrap();
    assert_eq!((one.len(), all, one[0].since), (1, 2, hours(-3)));
    store.set_aside(bare, Some(hours(0))).await.unwrap();
    assert_eq!(waiting().await, [read]);
    store.approve_lesson(lesson, hours(0)).await.unwrap();
    assert!(waiting().await.is_empty());
    let (send, _) = store.lessons_to_send(10).await.unwrap();
    assert_eq!(
        send[0].standing.lesson,
        Some((lesson, LessonState::Approved))
    );
    assert_eq!((send[0].since, send[0].sending_agreed), (hours(0), false));
    // Drafted again after a correction: the new draft waits, the old one is no longer to be sent.
    store
        .add_lesson(analysis, b"again", hours(1))
        .await
        .unwrap();
    assert_eq!(waiting().await, [read]);
    assert_eq!(store.lessons_to_send(10).await.unwrap().1, 0);
    store.set_aside(bare, None).await.unwrap();
    assert_eq!(waiting().await.len(), 2);
    let own = store.standings_of(tom).await.unwrap();
    assert_eq!(
        (own[0].title.as_deref(), own[1].analysed),
        (Some("Turn more"), false)
    );
}

#[tokio::test]
async fn no_lesson_is_sent_without_a_consent_in_force() {
    let (store, _folder) = studio().await;
    let tom = player(&store, "Tom Hallam").await;
    let lesson = approved_lesson(&store, tom).await;
    let refused = store.mark_lesson_sent(lesson, hours(1)).await.unwrap_err();
    assert!(
        matches!(refused, StoreError::SendingNotAgreed { .. }),
        "{refused}"
    );
    // What was agreed for another purpose is not enough.
    for purpose in [Purpose::Filming, Purpose::Teaching, Purpose::Showing] {
        agree(&store, tom, purpose, false).await.unwrap();
    }
    assert!(store.mark_lesson_sent(lesson, hours(1)).await.is_err());
    agree(&store, tom, Purpose::Sending, false).await.unwrap();
    store
        .withdraw_consent(tom, Purpose::Sending, day(26))
        .await
        .unwrap();
    assert!(store.mark_lesson_sent(lesson, hours(1)).await.is_err());
    agree(&store, tom, Purpose::Sending, false).await.unwrap();
    store.mark_lesson_sent(lesson, hours(2)).await.unwrap();
    let sent = store.lesson_summary(lesson).await.unwrap().unwrap();
    assert_eq!(sent.sent_at, Some(hours(2)));
    // What was withdrawn stays on record.
    let all = store.consents_of(tom).await.unwrap();
    assert_eq!(all.0.len(), 5);
    assert_eq!(all.0[1].withdrawn_on, Some(day(26)));
    assert_eq!(
        all.in_force(Purpose::Sending).unwrap().given.given_by,
        "Tom Hallam"
    );
}

#[tokio::test]
async fn a_minor_is_agreed_for_by_a_guardian_and_a_withdrawn_film_is_refused() {
    let (store, _folder) = studio().await;
    let facts = PlayerFacts {
        name: "Felix Oduya".into(),
        age_years: Some(15),
        ..PlayerFacts::default()
    };
    let felix = store.add_player(&facts, hours(0)).await.unwrap();
    assert!(agree(&store, felix, Purpose::Filming, false).await.is_err());
    assert!(store.add_swing(felix, None, hours(1)).await.is_err());
    agree(&store, felix, Purpose::Filming, true).await.unwrap();
    store.add_swing(felix, None, hours(1)).await.unwrap();
    store
        .withdraw_consent(felix, Purpose::Filming, day(26))
        .await
        .unwrap();
    let refused = store.add_swing(felix, None, hours(2)).await.unwrap_err();
    assert!(
        matches!(refused, StoreError::FilmingWithdrawn { .. }),
        "{refused}"
    );
    // A grown-up who was never asked may be filmed; one who withdrew may not.
    let tom = player(&store, "Tom Hallam").await;
    store.add_swing(tom, None, hours(1)).await.unwrap();
    agree(&store, tom, Purpose::Filming, false).await.unwrap();
    store
        .withdraw_consent(tom, Purpose::Filming, day(26))
        .await
        .unwrap();
    assert!(store.add_swing(tom, None, hours(2)).await.is_err());
}

#[tokio::test]
async fn notes_are_written_changed_and_deleted() {
    let (store, _folder) = studio().await;
    let tom = player(&store, "Tom Hallam").await;
    let first = store
        .add_note(tom, day(20), " Grip turned. ", hours(0))
        .await
        .unwrap();
    let second = store
        .add_note(tom, day(22), "Ball starts left.", hours(0))
        .await
        .unwrap();
    let notes = async || {
        let all = store.notes_of(tom).await.unwrap();
        all.into_iter()
            .map(|note| (note.noted_on, note.text))
            .collect::<Vec<_>>()
    };
    assert_eq!(notes().await[1], (day(20), "Grip turned.".into()));
    store
        .change_note(first, day(23), "Grip is right.", hours(1))
        .await
        .unwrap();
    assert_eq!(notes().await[0], (day(23), "Grip is right.".into()));
    assert!(store.add_note(tom, day(20), "  ", hours(0)).await.is_err());
    store.delete_note(second).await.unwrap();
    assert_eq!(notes().await.len(), 1);
    assert!(store.delete_note(second).await.is_err());
}

#[tokio::test]
async fn everything_is_found_by_beginnings_without_accents_and_with_a_slip() {
    let (store, _folder) = studio().await;
    let per = player(&store, "Pér Ålund").await;
    let soren = player(&store, "Søren Grønvold").await;
    let swing = store
        .add_swing(per, Some(hours(0)), hours(0))
        .await
        .unwrap();
    let kept = store
        .add_analysis(swing, &analysis("Clear the hips early"), hours(0))
        .await
        .unwrap();
    let lesson = store.add_lesson(kept, b"page", hours(0)).await.unwrap();
    store.keep_club(swing, Some("mid_iron")).await.unwrap();
    let note = store
        .add_note(soren, day(20), "Prefers the bunker.", hours(0))
        .await
        .unwrap();
    let told = Background {
        golf_so_far: "Handicap 18".into(),
        bag: "Persimmon driver".into(),
    };
    store.keep_background(soren, &told).await.unwrap();
    let drill = DrillWords {
        title: "Bump the stick".into(),
        texts: ["Slide against it".into(), "Dagegen schieben".into()],
    };
    store
        .offer_drills(std::slice::from_ref(&drill))
        .await
        .unwrap();
    use FoundKind::{Drill, Lesson, Note, Player, Swing};
    let per_all = vec![(Player, per.0), (Lesson, lesson.0), (Swing, swing.0)];
    for (words, expected) in [
        ("alu", per_all.clone()),
        ("Ålund per", per_all.clone()),
        // A letter changed, one missing, two changed about.
        ("alond", per_all.clone()),
        ("hpis", vec![(Lesson, lesson.0), (Swing, swing.0)]),
        ("soren", vec![(Player, soren.0), (Note, note.0)]),
        ("gronvold", vec![(Player, soren.0), (Note, note.0)]),
        ("iron", vec![(Swing, swing.0)]),
        ("bunker", vec![(Note, note.0)]),
        ("persimmon", vec![(Player, soren.0)]),
        ("bump", vec![(Drill, 0)]),
        ("lesson", vec![(Lesson, lesson.0)]),
        ("hips soren", vec![]),
        ("\" OR *", vec![]),
        ("", vec![]),
    ] {
        let found = store.search(words, 10).await.unwrap();
        let found: Vec<_> = found.iter().map(|one| (one.kind, one.key)).collect();
        assert_eq!(found, expected, "{words}");
    }
    // What changes is found as it is now, and offering drills again does not double them.
    store
        .update_player(per, &facts("Ivo Brandt"))
        .await
        .unwrap();
    store
        .change_note(note, day(20), "Prefers rough.", hours(1))
        .await
        .unwrap();
    store.offer_drills(&[drill]).await.unwrap();
    let count = async |words: &str| store.search(words, 10).await.unwrap().len();
    let counts = [
        count("alund").await,
        count("brandt").await,
        count("bunker").await,
        count("rough").await,
        count("bump").await,
    ];
    assert_eq!(counts, [0, 3, 0, 1, 1]);
}

#[tokio::test]
async fn a_search_finds_and_shows_the_words_of_the_languages_that_are_spoken() {
    let (store, _folder) = studio().await;
    let per = player(&store, "Per Ålund").await;
    let swing = store.add_swing(per, None, hours(-3)).await.unwrap();
    store.keep_club(swing, Some("mid_iron")).await.unwrap();
    let kept = store
        .add_analysis(swing, &analysis("Move your hips less"), hours(-3))
        .await
        .unwrap();
    let lesson = store.add_lesson(kept, b"page", hours(0)).await.unwrap();
    let note = store
        .add_note(per, day(20), "Hips tire.", hours(0))
        .await
        .unwrap();
    let words = [
        ("swing", "Schwung"),
        ("lesson", "Lektion"),
        ("mid_iron", "mittleres Eisen"),
        ("left", "Linkshänder"),
        ("pull", "Pull nach links"),
        ("high, short flight", "hoch und kurz"),
        ("Move your hips less", "Die Hüfte weniger bewegen"),
    ];
    store.offer_words(&in_german(&words)).await.unwrap();
    let mut told = facts("Per Ålund");
    told.usual_flight = Some("pull, high, short flight".into());
    told.hand = Some(Hand::Left);
    store.update_player(per, &told).await.unwrap();

    use FoundKind::{Lesson, Note, Player, Swing};
    let found = async |words: &str| -> Vec<(FoundKind, i64, String)> {
        let found = store.search(words, 10).await.unwrap();
        let shown = |text: String| {
            text.replace(Found::MARKS[0], "[")
                .replace(Found::MARKS[1], "]")
        };
        let one = |one: Found| (one.kind, one.key, shown(one.excerpt));
        found.into_iter().map(one).collect()
    };
    // English alone is spoken: no German word is found, nor shown.
    assert_eq!(found("hüfte").await, []);
    assert_eq!(found("hips").await.len(), 3);

    // A player who is spoken to in German: found by both, shown in the studio's language.
    told.language = Some(Language::German);
    store.update_player(per, &told).await.unwrap();
    let both = found("huft").await;
    assert_eq!(both.len(), 2);
    assert_eq!(
        both[1].2,
        "swing 1 · 2026-11-25 · mid iron · Move your hips less"
    );

    store
        .choose_studio_language(Language::German)
        .await
        .unwrap();
    let in_words = [
        (
            Lesson,
            lesson.0,
            "Lektion 1 · 25.11.2026 · Die [Hüfte] weniger bewegen".to_owned(),
        ),
        (
            Swing,
            swing.0,
            "Schwung 1 · 25.11.2026 · mittleres Eisen · Die [Hüfte] weniger bewegen".to_owned(),
        ),
    ];
    assert_eq!(found("hüft").await, in_words);
    // A slip away.
    assert_eq!(found("hütfe").await.len(), 2);
    let note_shown = (Note, note.0, "20.11.2026 · [Hips] tire.".to_owned());
    assert_eq!(found("hips").await, [note_shown]);
    let of_per = |excerpt: &str| [(Player, per.0, excerpt.to_owned())];
    assert_eq!(
        found("linkshänder").await,
        of_per("[Linkshänder] · hoch und kurz, Pull nach links")
    );
    let page = store.roster("kurz", 0, 10).await.unwrap();
    assert_eq!((page.players, page.lines[0].player.id), (1, per));
    assert_eq!(store.roster("?!", 0, 10).await.unwrap().players, 1);

    // Words that change are found as they are now, those that no longer have any as they are kept.
    store
        .offer_words(&in_german(&[(
            "Move your hips less",
            "Das Becken ruhig halten",
        )]))
        .await
        .unwrap();
    assert_eq!(found("hüfte").await, []);
    let now = found("becken").await;
    assert_eq!(
        now[1].2,
        "swing 1 · 25.11.2026 · mid iron · Das [Becken] ruhig halten"
    );
}

/// A studio of the version before the search knew languages.
#[tokio::test]
async fn an_older_studio_is_found_in_words_of_both_languages() {
    let folder = tempfile::tempdir().unwrap();
    let older = migrate!("./migrations");
    let older = older.iter().filter(|one| one.version < 17).cloned();
    let file = SqliteConnectOptions::new()
        .filename(folder.path().join("lessonwright.db"))
        .create_if_missing(true);
    let database = SqlitePool::connect_with(file).await.unwrap();
    Migrator::with_migrations(older.collect())
        .run(&database)
        .await
        .unwrap();
    let title = "Turn more";
    let analysis = serde_json::to_string(&analysis(title)).unwrap();
    for statement in [
        "INSERT INTO players (name, hand, added_at) VALUES ('Per Ålund', 'left', '2026-11-20T09:00:00Z')",
        "INSERT INTO swings (player_id, added_at) VALUES (1, '2026-11-20T09:00:00Z')",
        &format!(
            "INSERT INTO analyses (swing_id, schema_version, program_version, analysis, computed_at)
             VALUES (1, 1, '0', '{analysis}', '2026-11-20T09:00:00Z')"
        ),
        "INSERT INTO lessons (analysis_id, page, drafted_at) VALUES (1, x'00', '2026-11-20T09:00:00Z')",
        "INSERT INTO notes (player_id, noted_on, text, changed_at)
         VALUES (1, '2026-11-20', 'Turn later.', '2026-11-20T09:00:00Z')",
    ] {
        let statement = AssertSqlSafe(statement.to_owned());
        sqlx::query(statement).execute(&database).await.unwrap();
    }
    database.close().await;
    let store = Store::open(folder.path()).await.unwrap();
    let count = async |words: &str| store.search(words, 10).await.unwrap().len();
    assert_eq!([count("turn").await, count("per").await], [3, 4]);
    store
        .choose_studio_language(Language::German)
        .await
        .unwrap();
    let words = in_german(&[(title, "Mehr drehen")]);
    store.offer_words(&words).await.unwrap();
    assert_eq!([count("drehen").await, count("per").await], [2, 4]);
}

#[tokio::test]
async fn the_more_of_a_name_is_meant_the_higher_it_stands() {
    let (store, _folder) = studio().await;
    let other = player(&store, "Hollis Wren").await;
    let told = Background {
        golf_so_far: "Plays with Hallam on Sundays".into(),
        bag: String::new(),
    };
    store.keep_background(other, &told).await.unwrap();
    let meant = player(&store, "Tom Hallam").await;
    let found = store.search("hallam", 10).await.unwrap();
    assert_eq!([found[0].key, found[1].key], [meant.0, other.0]);
}

#[tokio::test]
async fn an_erased_player_is_in_no_index_and_on_no_page_of_the_file() {
    let (store, folder) = studio().await;
    let gone = player(&store, "Zyxquorin Vantabel").await;
    approved_lesson(&store, gone).await;
    store
        .add_note(gone, day(20), "Gabbronite.", hours(0))
        .await
        .unwrap();
    agree(&store, gone, Purpose::Sending, false).await.unwrap();
    store.add_appointment(&planned(gone, 5)).await.unwrap();
    // The index is written anew in between.
    for word in ["Schwung", "Durchschwung"] {
        let words = in_german(&[("swing", word)]);
        store.offer_words(&words).await.unwrap();
        assert_eq!(store.search("zyxquorin", 5).await.unwrap().len(), 4);
    }
    // The index folds letters to small ones.
    let words = ["Zyxquorin", "zyxquorin", "gabbronite"];
    for word in words {
        assert!(holds(folder.path(), word), "{word} is there before");
    }
    store.erase_player(gone).await.unwrap();
    for word in words {
        assert!(!holds(folder.path(), word), "{word} is left");
    }
    assert!(store.search("zyxquorin", 5).await.unwrap().is_empty());
}

#[tokio::test]
async fn the_roster_comes_in_pages_and_by_words() {
    let (store, _folder) = studio().await;
    for name in ["cleo Fenn", "Anna Fenn", "Bram Tallis"] {
        player(&store, name).await;
    }
    let names = async |named: &str, skip, most| {
        let page = store.roster(named, skip, most).await.unwrap();
        let names = page.lines.into_iter().map(|line| line.player.facts.name);
        (names.collect::<Vec<_>>(), page.players)
    };
    assert_eq!(
        names("", 0, 2).await,
        (vec!["Anna Fenn".into(), "Bram Tallis".into()], 3)
    );
    assert_eq!(names("", 2, 2).await, (vec!["cleo Fenn".into()], 3));
    assert_eq!(
        names("fen", 0, 9).await,
        (vec!["Anna Fenn".into(), "cleo Fenn".into()], 2)
    );
    let swing = store.add_swing(PlayerId(2), None, hours(0)).await.unwrap();
    let page = store.roster("anna", 0, 9).await.unwrap();
    assert_eq!(page.lines[0].latest.as_ref().unwrap().swing, swing);
}

/// The lists' short way says the same as the follow-up's long one.
#[tokio::test]
async fn who_is_due_is_the_same_as_in_the_whole_history() {
    let (store, _folder) = studio().await;
    let zone = TimeZone::UTC;
    for name in ["Anna Fenn", "Bram Tallis", "Cleo Marsh", "Dora Quill"] {
        let id = player(&store, name).await;
        for days in [30_i64, 20, 10] {
            let swing = store
                .add_swing(id, Some(hours(-24 * days)), hours(0))
                .await
                .unwrap();
            store
                .add_analysis(swing, &analysis("Turn more"), hours(0))
                .await
                .unwrap();
            if (id.0, days) == (1, 10) {
                mark(&store, swing, Some(Occasion::Practice), None).await;
            }
            if (id.0, days) == (2, 30) {
                mark(&store, swing, None, Some(day(24))).await;
            }
        }
        // Not analysed: it does not count.
        store.add_swing(id, Some(hours(0)), hours(0)).await.unwrap();
        if id.0 != 4 {
            let given = ByHand {
                drill: "bump_the_stick".into(),
                title: "Bump the stick".into(),
                aim: None,
                given_on: day(1),
                next_in_days: Some(3),
            };
            let first = store.prescribe(id, &given).await.unwrap();
            if id.0 == 3 {
                store
                    .prescribe(
                        id,
                        &ByHand {
                            given_on: day(4),
                            ..given
                        },
                    )
                    .await
                    .unwrap();
                store.end_prescription(first, Some(day(4))).await.unwrap();
            }
        }
    }
    let short = store.dues(&zone).await.unwrap();
    assert_eq!(short.len(), 3);
    for light in &short {
        let whole = store.history(PlayerId(light.player), &zone).await.unwrap();
        let last = |history: &lessonwright_model::History| {
            let counted = history
                .swings
                .iter()
                .filter(|s| s.occasion != Some(Occasion::Practice));
            counted.map(|swing| swing.day).max()
        };
        assert_eq!(last(light), last(&whole), "{}", light.name);
        let in_force: Vec<_> = whole
            .given
            .into_iter()
            .filter(|g| g.ended.is_none())
            .collect();
        assert_eq!(light.given, in_force, "{}", light.name);
    }
}

/// Whatever changes a history raises the player's number, and nobody else's.
#[tokio::test]
async fn what_changes_a_history_is_counted() {
    let (store, _folder) = studio().await;
    let tom = player(&store, "Tom Hallam").await;
    let nia = player(&store, "Nia Hart").await;
    let mut last = 0;
    let mut stamps = std::collections::BTreeSet::new();
    let mut swing = SwingId(0);
    let mut lesson = LessonId(0);
    let mut given = 0;
    for what in [
        "analysis",
        "lesson",
        "approval",
        "mark",
        "prescription",
        "days",
        "end",
        "name",
    ] {
        match what {
            "analysis" => {
                swing = store.add_swing(tom, None, hours(0)).await.unwrap();
                store
                    .add_analysis(swing, &analysis("Turn more"), hours(0))
                    .await
                    .unwrap();
            }
            "lesson" => {
                let stored = store.latest_analysis(swing).await.unwrap().unwrap();
                lesson = store
                    .add_lesson(stored.id, b"page", hours(0))
                    .await
                    .unwrap();
            }
            "approval" => store.approve_lesson(lesson, hours(0)).await.unwrap(),
            "mark" => mark(&store, swing, Some(Occasion::Transfer), None).await,
            "prescription" => {
                let by_hand = ByHand {
                    drill: "own".into(),
                    title: "Own".into(),
                    aim: None,
                    given_on: day(1),
                    next_in_days: None,
                };
                given = store.prescribe(tom, &by_hand).await.unwrap();
            }
            "days" => drop(store.set_next_lesson(given, Some(9)).await.unwrap()),
            "end" => drop(store.end_prescription(given, Some(day(2))).await.unwrap()),
            _ => store
                .update_player(tom, &facts("Tom Hallam the elder"))
                .await
                .unwrap(),
        }
        let changes = store.follow_changes().await.unwrap();
        assert!(changes[&tom.0] > last, "{what}");
        assert_eq!(changes[&nia.0], 0, "{what}");
        last = changes[&tom.0];
        let stamp = store.follow_stamp().await.unwrap();
        assert!(stamps.insert(stamp), "{what}");
    }
    // Somebody erased and somebody new don't make up for one another.
    store.erase_player(nia).await.unwrap();
    player(&store, "Ivo Brandt").await;
    assert!(stamps.insert(store.follow_stamp().await.unwrap()));
}

async fn studio() -> (Store, tempfile::TempDir) {
    let folder = tempfile::tempdir().unwrap();
    (Store::open(folder.path()).await.unwrap(), folder)
}

fn facts(name: &str) -> PlayerFacts {
    PlayerFacts {
        name: name.into(),
        ..PlayerFacts::default()
    }
}

async fn player(store: &Store, name: &str) -> PlayerId {
    store.add_player(&facts(name), hours(0)).await.unwrap()
}

fn in_german(words: &[(&str, &str)]) -> BTreeSet<Said> {
    let one = |(written, words): &(&str, &str)| Said {
        language: Language::German,
        written: (*written).into(),
        words: (*words).into(),
    };
    words.iter().map(one).collect()
}

async fn approved_lesson(store: &Store, player: PlayerId) -> LessonId {
    let swing = store.add_swing(player, None, hours(0)).await.unwrap();
    let kept = store
        .add_analysis(swing, &analysis("Turn more"), hours(0))
        .await
        .unwrap();
    let lesson = store.add_lesson(kept, b"page", hours(0)).await.unwrap();
    store.approve_lesson(lesson, hours(0)).await.unwrap();
    lesson
}

async fn agree(
    store: &Store,
    player: PlayerId,
    purpose: Purpose,
    by_guardian: bool,
) -> Result<(), StoreError> {
    let consent = NewConsent {
        purpose,
        given_by: if by_guardian {
            "Ada Oduya"
        } else {
            "Tom Hallam"
        }
        .into(),
        by_guardian,
        given_on: day(25),
    };
    store.record_consent(player, &consent).await.map(drop)
}

async fn mark(store: &Store, swing: SwingId, occasion: Option<Occasion>, session_on: Option<Date>) {
    let mark = SwingMark {
        occasion,
        session_on,
    };
    store.mark_swing(swing, mark).await.unwrap();
}

fn planned(player: PlayerId, in_hours: i64) -> Planned {
    Planned {
        player,
        starts_at: hours(in_hours),
        minutes: 45,
        place: "Mat 2".into(),
        purpose: "First lesson".into(),
    }
}

fn hours(from_now: i64) -> Timestamp {
    Timestamp::from_second(NOW_S).unwrap() + SignedDuration::from_hours(from_now)
}

fn day(of_november: i8) -> Date {
    date(2026, 11, of_november)
}

fn analysis(title: &str) -> SwingAnalysis {
    SwingAnalysis {
        teaching: Default::default(),
        schema_version: SCHEMA_VERSION,
        program_version: "0.1.0".into(),
        corrections: Corrections::default(),
        views: vec![],
        moments: vec![],
        measures: vec![],
        findings: vec![],
        priority: Some(Priority {
            finding: "own".into(),
            title: title.into(),
            chain: vec![],
            grade: CauseGrade::D,
            would_change_it: String::new(),
        }),
        ranking: Ranking::default(),
        drills: vec![],
        prescription: None,
        notice: None,
    }
}

fn holds(folder: &Path, text: &str) -> bool {
    std::fs::read_dir(folder).unwrap().any(|entry| {
        let path = entry.unwrap().path();
        match path.is_dir() {
            true => holds(&path, text),
            false => std::fs::read(&path)
                .unwrap()
                .windows(text.len())
                .any(|window| window == text.as_bytes()),
        }
    })
}
