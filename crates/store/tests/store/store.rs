//! What the studio relies on: nothing is lost, nothing stays of an erased player, a minor's film
//! needs consent.

use jiff::Timestamp;
use lessonwright_model::swing::SCHEMA_VERSION;
use lessonwright_model::{
    Brief, ClipFacts, Corrections, Hand, Language, MeasureName, PlayerFacts, Ranking, RateSource,
    SwingAnalysis, Teaching, View,
};
use lessonwright_store::{
    CorrectionStep, FileKind, GuardianConsent, LessonState, NewClip, NewConsent, PlayerId, Purpose,
    Store, StoreError, SwingId,
};
use std::path::Path;

#[tokio::test]
async fn everything_is_there_after_a_crash() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).await.unwrap();
    let player = store.add_player(&adult(), at(1)).await.unwrap();
    let swing = store.add_swing(player, Some(at(2)), at(3)).await.unwrap();
    let clip = store
        .add_clip(swing, &clip(folder.path(), View::FaceOn))
        .await
        .unwrap();
    let analysis = store.add_analysis(swing, &analysis(), at(4)).await.unwrap();
    let lesson = store
        .add_lesson(analysis, b"<!doctype html>", at(5))
        .await
        .unwrap();
    store.approve_lesson(lesson, at(6)).await.unwrap();
    // The process ends without a word: its files are copied as they lie on the disk, log included.
    let crashed = tempfile::tempdir().unwrap();
    copy_all(folder.path(), crashed.path());
    drop(store);

    let store = Store::open(crashed.path()).await.unwrap();
    let found = store.player_named("Tobias Wren").await.unwrap().unwrap();
    assert_eq!(
        (found.id, found.facts, found.added_at),
        (player, adult(), at(1))
    );
    let swings = store.swings_of(player).await.unwrap();
    assert_eq!(
        (swings.len(), swings[0].id, swings[0].filmed_at),
        (1, swing, Some(at(2)))
    );
    let clips = store.clips_of(swing).await.unwrap();
    assert_eq!((clips.len(), &clips[0].sha256), (1, &clip.sha256));
    assert_eq!(std::fs::read(&clips[0].path).unwrap(), b"film");
    let stored = store.latest_analysis(swing).await.unwrap().unwrap();
    assert_eq!(
        (stored.analysis, stored.computed_at),
        (self::analysis(), at(4))
    );
    let kept = store.lesson(lesson).await.unwrap().unwrap();
    assert_eq!(kept.page, b"<!doctype html>");
    assert_eq!(kept.summary.state(), LessonState::Approved);
    assert_eq!(
        store.lessons_of_player(player).await.unwrap(),
        [kept.summary]
    );
}

#[tokio::test]
async fn a_lessons_files_go_with_it_and_with_its_player() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).await.unwrap();
    let player = store.add_player(&adult(), at(1)).await.unwrap();
    let swing = store.add_swing(player, None, at(2)).await.unwrap();
    let analysis = store.add_analysis(swing, &analysis(), at(3)).await.unwrap();
    let lesson = store.add_lesson(analysis, b"page", at(4)).await.unwrap();
    assert_eq!(
        store.lesson_file(lesson, FileKind::Paper).await.unwrap(),
        None
    );
    for bytes in [b"draft", b"paper"] {
        store
            .keep_lesson_file(lesson, FileKind::Paper, bytes)
            .await
            .unwrap();
    }
    store
        .keep_lesson_file(lesson, FileKind::Film, b"film")
        .await
        .unwrap();
    let paper = store.lesson_file(lesson, FileKind::Paper).await.unwrap();
    assert_eq!(paper.as_deref(), Some(b"paper".as_slice()));
    let kinds = store.lesson_file_kinds(lesson).await.unwrap();
    assert_eq!(kinds, [FileKind::Paper, FileKind::Film]);
    let nobody = lessonwright_store::LessonId(99);
    let refused = store
        .keep_lesson_file(nobody, FileKind::Film, b"film")
        .await;
    assert!(matches!(refused, Err(StoreError::NoLesson(_))));
    store.erase_player(player).await.unwrap();
    assert_eq!(
        store.lesson_file(lesson, FileKind::Paper).await.unwrap(),
        None
    );
    assert!(!folder.path().join("media").join(swing.to_string()).exists());
}

#[tokio::test]
async fn opening_again_changes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    for n in 1..=3 {
        let store = Store::open(folder.path()).await.unwrap();
        let facts = PlayerFacts {
            name: format!("Player {n}"),
            ..PlayerFacts::default()
        };
        store.add_player(&facts, at(n)).await.unwrap();
        assert_eq!(store.players().await.unwrap().len(), n as usize);
        store.close().await;
    }
}

#[tokio::test]
async fn a_minor_is_not_kept_on_film_without_a_guardians_consent() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).await.unwrap();
    let child = |age| PlayerFacts {
        name: format!("Player of {age}"),
        age_years: Some(age),
        ..PlayerFacts::default()
    };
    let grown = store.add_player(&child(18), at(1)).await.unwrap();
    store.add_swing(grown, None, at(2)).await.unwrap();

    let player = store.add_player(&child(17), at(1)).await.unwrap();
    let error = store.add_swing(player, None, at(2)).await.unwrap_err();
    let text = error.to_string();
    assert!(
        text.contains("Player of 17 is 17") && text.contains("guardian's consent"),
        "{text}"
    );
    assert!(store.swings_of(player).await.unwrap().is_empty());

    let consent = GuardianConsent {
        guardian: "Ada Wren".into(),
        given_at: at(3),
    };
    store
        .record_guardian_consent(player, &consent)
        .await
        .unwrap();
    let swing = store.add_swing(player, None, at(4)).await.unwrap();
    store
        .add_clip(swing, &clip(folder.path(), View::FaceOn))
        .await
        .unwrap();
    let kept = store.player(player).await.unwrap().unwrap();
    assert_eq!(kept.guardian_consent, Some(consent));
}

#[tokio::test]
async fn a_player_who_turns_out_to_be_a_minor_gets_no_further_film() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).await.unwrap();
    let player = store.add_player(&adult(), at(1)).await.unwrap();
    let swing = store.add_swing(player, None, at(2)).await.unwrap();
    let minor = PlayerFacts {
        age_years: Some(12),
        ..adult()
    };
    store.update_player(player, &minor).await.unwrap();
    let error = store
        .add_clip(swing, &clip(folder.path(), View::FaceOn))
        .await
        .unwrap_err();
    assert!(matches!(
        error,
        StoreError::GuardianConsentMissing { age_years: 12, .. }
    ));
    assert!(files(&folder.path().join("media")).is_empty());
}

#[tokio::test]
async fn nothing_of_an_erased_player_stays_on_the_disk() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).await.unwrap();
    let other = PlayerFacts {
        name: "Nia Okonedo-Hart".into(),
        ..PlayerFacts::default()
    };
    let other = store.add_player(&other, at(1)).await.unwrap();
    let kept = with_lesson(&store, other, folder.path()).await;
    let player = store.add_player(&adult(), at(1)).await.unwrap();
    with_lesson(&store, player, folder.path()).await;
    assert!(holds(folder.path(), "Tobias Wren"));

    store.erase_player(player).await.unwrap();

    assert_eq!(store.player(player).await.unwrap(), None);
    assert!(
        !holds(folder.path(), "Tobias Wren"),
        "a trace of the name is left"
    );
    assert_eq!(
        files(&folder.path().join("media")).len(),
        1,
        "the other player's film"
    );
    assert_eq!(store.clips_of(kept).await.unwrap().len(), 1);
    assert_eq!(store.lessons_of_player(other).await.unwrap().len(), 1);
    let error = store.erase_player(player).await.unwrap_err();
    assert!(matches!(error, StoreError::NoPlayer(_)));
}

#[tokio::test]
async fn a_key_is_not_used_again_after_an_erasure() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).await.unwrap();
    let first = store.add_player(&adult(), at(1)).await.unwrap();
    let swing = store.add_swing(first, None, at(1)).await.unwrap();
    store.erase_player(first).await.unwrap();
    let second = store.add_player(&adult(), at(2)).await.unwrap();
    assert!(second > first);
    assert!(store.add_swing(second, None, at(2)).await.unwrap() > swing);
}

#[tokio::test]
async fn what_can_not_be_is_refused_with_a_reason() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).await.unwrap();
    let player = store.add_player(&adult(), at(1)).await.unwrap();
    let swing = store.add_swing(player, None, at(1)).await.unwrap();
    let film = clip(folder.path(), View::FaceOn);
    store.add_clip(swing, &film).await.unwrap();
    let gone = NewClip {
        file: folder.path().join("gone.mp4"),
        view: View::DownTheLine,
        ..film.clone()
    };
    let nameless = PlayerFacts::default();
    let giant = PlayerFacts {
        stature_m: Some(178.0),
        name: "In centimetres".into(),
        ..PlayerFacts::default()
    };
    let analysis = store.add_analysis(swing, &analysis(), at(1)).await.unwrap();
    let lesson = store.add_lesson(analysis, b"page", at(1)).await.unwrap();
    for (what, error, expected) in [
        (
            "name taken",
            store.add_player(&adult(), at(2)).await.unwrap_err(),
            "Tobias Wren",
        ),
        (
            "no name",
            store.add_player(&nameless, at(2)).await.unwrap_err(),
            "needs a name",
        ),
        (
            "stature",
            store.add_player(&giant, at(2)).await.unwrap_err(),
            "178",
        ),
        (
            "second clip",
            store.add_clip(swing, &film).await.unwrap_err(),
            "face-on clip already",
        ),
        (
            "no file",
            store.add_clip(swing, &gone).await.unwrap_err(),
            "gone.mp4",
        ),
        (
            "no swing",
            store.add_clip(SwingId(99), &film).await.unwrap_err(),
            "no swing 99",
        ),
        (
            "unapproved",
            store.mark_lesson_sent(lesson, at(2)).await.unwrap_err(),
            "approve",
        ),
    ] {
        assert!(error.to_string().contains(expected), "{what}: {error}");
    }
    assert_eq!(
        files(&folder.path().join("media")).len(),
        1,
        "no part is left over"
    );
}

#[tokio::test]
async fn a_lesson_goes_from_drafted_to_approved_to_sent() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).await.unwrap();
    let player = store.add_player(&adult(), at(1)).await.unwrap();
    let swing = with_lesson(&store, player, folder.path()).await;
    let state = async || store.lessons_of_swing(swing).await.unwrap().remove(0);
    let lesson = state().await;
    assert_eq!(lesson.state(), LessonState::Drafted);
    store.approve_lesson(lesson.id, at(10)).await.unwrap();
    store.approve_lesson(lesson.id, at(11)).await.unwrap();
    assert_eq!(
        (state().await.state(), state().await.approved_at),
        (LessonState::Approved, Some(at(10)))
    );
    let sending = NewConsent {
        purpose: Purpose::Sending,
        given_by: "Tobias Wren".into(),
        by_guardian: false,
        given_on: jiff::civil::date(2026, 11, 25),
    };
    store.record_consent(player, &sending).await.unwrap();
    store.mark_lesson_sent(lesson.id, at(12)).await.unwrap();
    assert_eq!(state().await.state(), LessonState::Sent);
}

#[tokio::test]
async fn two_programs_can_use_one_store() {
    let folder = tempfile::tempdir().unwrap();
    let one = Store::open(folder.path()).await.unwrap();
    let two = Store::open(folder.path()).await.unwrap();
    for n in 0..20 {
        let facts = |who| PlayerFacts {
            name: format!("{who} {n}"),
            ..PlayerFacts::default()
        };
        let (a, b) = (facts("one"), facts("two"));
        let (a, b) = tokio::join!(one.add_player(&a, at(n)), two.add_player(&b, at(n)));
        a.unwrap();
        b.unwrap();
    }
    assert_eq!(one.players().await.unwrap().len(), 40);
}

/// As the first version wrote it: three checks and tempo, none of the measures of the fitted body.
const FIRST_ANALYSIS: &str = r#"{"schema_version":1,"program_version":"0.1.0","views":[],"moments":[],
"measures":[
{"name":"pelvis_shift","moment":"top","against":"address","view":"face_on","value":-1.2,"unit":"cm","low":-3.1,"high":0.7,"state":"measured","reason":""},
{"name":"knee_line_turn","moment":"lead_arm_level_down","against":"address","view":null,"value":null,"unit":"deg","low":null,"high":null,"state":"not_measured","reason":"a knee is hidden"},
{"name":"tempo_ratio","moment":"impact","against":"address","view":null,"value":3.1,"unit":"1","low":2.7,"high":3.5,"state":"measured","reason":""}],
"findings":[],"priority":null,"drills":[],"prescription":null,"notice":null}"#;

#[tokio::test]
async fn an_analysis_of_the_first_version_is_still_read() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).await.unwrap();
    let player = store.add_player(&adult(), at(1)).await.unwrap();
    let swing = store.add_swing(player, None, at(2)).await.unwrap();
    store.add_analysis(swing, &analysis(), at(3)).await.unwrap();
    drop(store);
    let file = folder.path().join("lessonwright.db");
    let options = sqlx::sqlite::SqliteConnectOptions::new().filename(file);
    let pool = sqlx::SqlitePool::connect_with(options).await.unwrap();
    let changed = sqlx::query("UPDATE analyses SET analysis = ?").bind(FIRST_ANALYSIS);
    changed.execute(&pool).await.unwrap();
    pool.close().await;

    let store = Store::open(folder.path()).await.unwrap();
    let stored = store.latest_analysis(swing).await.unwrap().unwrap();
    let names: Vec<MeasureName> = stored.analysis.measures.iter().map(|m| m.name).collect();
    use MeasureName::{KneeLineTurn, PelvisShift, TempoRatio};
    assert_eq!(names, [PelvisShift, KneeLineTurn, TempoRatio]);
    assert_eq!(stored.analysis.measures[0].value, Some(-1.2));
}

async fn with_lesson(store: &Store, player: PlayerId, folder: &Path) -> SwingId {
    let name = store.player(player).await.unwrap().unwrap().facts.name;
    let swing = store.add_swing(player, None, at(2)).await.unwrap();
    store
        .add_clip(swing, &clip(folder, View::FaceOn))
        .await
        .unwrap();
    let id = store.add_analysis(swing, &analysis(), at(3)).await.unwrap();
    // Long enough to spill over many pages of the database.
    let page = format!("<h1>{name}</h1>").repeat(4000);
    store.add_lesson(id, page.as_bytes(), at(4)).await.unwrap();
    swing
}

fn at(second: i64) -> Timestamp {
    Timestamp::from_second(1_795_000_000 + second).unwrap()
}

fn adult() -> PlayerFacts {
    PlayerFacts {
        name: "Tobias Wren".into(),
        hand: Some(Hand::Left),
        stature_m: Some(1.78),
        age_years: Some(34),
        usual_flight: Some("slice".into()),
        health_note: Some(String::new()),
        language: Some(Language::German),
        limits: vec!["balance".into(), "trunk_turn".into()],
        goals: vec!["distance".into()],
        sex: None,
        screening: None,
    }
}

fn clip(folder: &Path, view: View) -> NewClip {
    let file = folder.join("IMG_0042.MOV");
    std::fs::write(&file, "film").unwrap();
    NewClip {
        view,
        file,
        facts: ClipFacts {
            name: "IMG_0042.MOV".into(),
            codec: "hevc".into(),
            bit_depth: 8,
            width_px: 1080,
            height_px: 1920,
            rotation_deg: 90,
            frame_times_s: vec![0.0, 1.0 / 60.0],
            rate_hz: 60.0,
            variable_rate: false,
            capture_rate_hz: 60.0,
            capture_rate_source: RateSource::Container,
            duration_s: 2.0 / 60.0,
            has_sound: true,
        },
    }
}

#[tokio::test]
async fn corrections_pile_up_and_are_taken_back_one_by_one_and_no_analysis_is_lost() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).await.unwrap();
    let player = store.add_player(&adult(), at(1)).await.unwrap();
    let swing = store.add_swing(player, None, at(2)).await.unwrap();
    assert_eq!(store.brief(swing).await.unwrap(), None);
    let brief = Brief {
        swing_number: Some(2),
        ..Brief::default()
    };
    store.keep_brief(swing, &brief).await.unwrap();
    assert_eq!(store.brief(swing).await.unwrap(), Some(brief));
    let first = store.add_analysis(swing, &analysis(), at(3)).await.unwrap();
    store.add_lesson(first, b"first", at(3)).await.unwrap();
    let stature = |stature_m| Corrections {
        stature_m: Some(stature_m),
        ..Corrections::default()
    };
    let step = |step: CorrectionStep, seconds: i64| {
        let store = store.clone();
        async move {
            let (analysis, at) = (analysis(), at(seconds));
            store.keep_corrected(swing, &step, &analysis, at).await
        }
    };
    step(CorrectionStep::Add(stature(1.8)), 4).await.unwrap();
    let last = step(CorrectionStep::Add(stature(1.9)), 5).await.unwrap();
    assert_eq!(
        store.corrections_of(swing).await.unwrap(),
        [stature(1.9), stature(1.8)]
    );
    let latest = store.latest_analysis(swing).await.unwrap().unwrap();
    assert_eq!((latest.id, latest.computed_at), (last, at(5)));
    step(CorrectionStep::TakeBack, 6).await.unwrap();
    assert_eq!(store.corrections_of(swing).await.unwrap(), [stature(1.8)]);
    step(CorrectionStep::TakeBack, 7).await.unwrap();
    assert_eq!(store.corrections_of(swing).await.unwrap(), []);
    let refused = step(CorrectionStep::TakeBack, 8).await.unwrap_err();
    assert!(refused.to_string().contains("no change to take back"));
    // The refused step kept nothing, and the first lesson's analysis is there.
    let latest = store.latest_analysis(swing).await.unwrap().unwrap();
    assert_eq!(latest.computed_at, at(7));
    let lessons = store.lessons_of_swing(swing).await.unwrap();
    assert_eq!((lessons.len(), lessons[0].analysis), (1, first));
    store.erase_player(player).await.unwrap();
    assert_eq!(store.corrections_of(swing).await.unwrap(), []);
    assert_eq!(store.brief(swing).await.unwrap(), None);
}

fn analysis() -> SwingAnalysis {
    SwingAnalysis {
        schema_version: SCHEMA_VERSION,
        program_version: "0.1.0".into(),
        corrections: Corrections::default(),
        teaching: Teaching::default(),
        views: vec![],
        moments: vec![],
        measures: vec![],
        findings: vec![],
        priority: None,
        ranking: Ranking::default(),
        drills: vec![],
        prescription: None,
        notice: None,
    }
}

fn copy_all(from: &Path, to: &Path) {
    for file in files(from) {
        let target = to.join(file.strip_prefix(from).unwrap());
        std::fs::create_dir_all(target.parent().unwrap()).unwrap();
        std::fs::copy(file, target).unwrap();
    }
}

fn files(folder: &Path) -> Vec<std::path::PathBuf> {
    let Ok(entries) = std::fs::read_dir(folder) else {
        return vec![];
    };
    entries
        .flat_map(|entry| {
            let path = entry.unwrap().path();
            if path.is_dir() {
                files(&path)
            } else {
                vec![path]
            }
        })
        .collect()
}

fn holds(folder: &Path, text: &str) -> bool {
    let text = text.as_bytes();
    files(folder).iter().any(|file| {
        std::fs::read(file)
            .unwrap()
            .windows(text.len())
            .any(|w| w == text)
    })
}
