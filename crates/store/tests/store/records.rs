//! Everything of players out and in again: the same rows and bytes, nothing overwritten, nothing twice.

use jiff::Timestamp;
use jiff::civil::date;
use lessonwright_model::swing::SCHEMA_VERSION;
use lessonwright_model::{
    Brief, ClipFacts, Corrections, Hand, Language, Occasion, PlayerFacts, Practice, PracticePlace,
    Ranking, RateSource, ReferenceChoice, Screening, Season, SwingAnalysis, View,
};
use lessonwright_store::{
    ByHand, CorrectionStep, FileKind, GuardianConsent, NewClip, PlayerId, RECORDS_FILE, Store,
    StoreError, SwingMark, TakenIn,
};
use serde_json::Value;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// Tables of which no row belongs to a player. A new table is either reached from players by its references, and so
/// goes out and comes in, or is named here.
const OF_NOBODY: [&str; 11] = [
    "erasures",
    "taken_files",
    "paces",
    // Made by triggers of other tables.
    "standings",
    "follow_changes",
    // Still on their way in.
    "arrivals",
    "phone_links",
    "swing_works",
    // On their way out, or not read yet.
    "mails",
    "unread_answers",
    // The studio's own.
    "studio_settings",
];

#[tokio::test]
async fn brought_into_an_empty_studio_everything_is_the_same_byte_by_byte() {
    let (one, two) = (Studio::new().await, Studio::new().await);
    one.with_two_players().await;
    let out = one.written(&[1, 2]).await;
    let brought = two.store.bring_records(out.path()).await.unwrap();
    assert!(
        brought
            .players
            .iter()
            .all(|player| player.new && player.name == player.called)
    );
    let again = two.written(&[1, 2]).await;
    let (before, after) = (bytes_in(out.path()), bytes_in(again.path()));
    assert!(before.len() > 6, "{:?}", before.keys());
    assert_eq!(
        before.keys().collect::<Vec<_>>(),
        after.keys().collect::<Vec<_>>()
    );
    for (name, bytes) in &before {
        assert!(after[name] == *bytes, "{} is not the same", name.display());
    }
    // As the rest of the program reads it.
    assert_eq!(
        two.store.players().await.unwrap(),
        one.store.players().await.unwrap()
    );
    for swing in one.store.swings_of(PlayerId(1)).await.unwrap() {
        assert_eq!(
            two.store.swing(swing.id).await.unwrap().as_ref(),
            Some(&swing)
        );
        assert_eq!(
            two.store.latest_analysis(swing.id).await.unwrap(),
            one.store.latest_analysis(swing.id).await.unwrap()
        );
        assert_eq!(
            two.store.brief(swing.id).await.unwrap(),
            one.store.brief(swing.id).await.unwrap()
        );
        assert_eq!(
            two.store.corrections_of(swing.id).await.unwrap(),
            one.store.corrections_of(swing.id).await.unwrap()
        );
        let mark = one.store.swing_mark(swing.id).await.unwrap();
        assert_eq!(two.store.swing_mark(swing.id).await.unwrap(), mark);
    }
}

#[tokio::test]
async fn every_table_goes_out_or_is_said_to_be_of_nobody() {
    let studio = Studio::new().await;
    let out = studio.written(&[]).await;
    let records = records(out.path());
    let file = studio.folder.path().join("lessonwright.db");
    let options = sqlx::sqlite::SqliteConnectOptions::new().filename(file);
    let pool = sqlx::SqlitePool::connect_with(options).await.unwrap();
    let tables: Vec<String> = sqlx::query_scalar(
        "SELECT name FROM sqlite_schema WHERE type = 'table' AND substr(name, 1, 1) <> '_' AND name <> 'sqlite_sequence'",
    )
    .fetch_all(&pool)
    .await
    .unwrap();
    pool.close().await;
    assert!(tables.len() >= 11, "{tables:?}");
    // Search is made by triggers too.
    for table in tables
        .into_iter()
        .filter(|name| !name.starts_with("search"))
    {
        let out = records["tables"].get(&table).is_some();
        assert_ne!(out, OF_NOBODY.contains(&table.as_str()), "{table}");
    }
}

#[tokio::test]
async fn others_stay_as_they_are_and_the_same_twice_adds_nothing() {
    let (one, two) = (Studio::new().await, Studio::new().await);
    one.with_two_players().await;
    // Somebody else of the same name, with a swing, so that no key fits.
    let namesake = two
        .store
        .add_player(&facts("Tobias Wren"), at(500))
        .await
        .unwrap();
    two.swing(namesake, 510, "namesake").await;
    let before = two.written(&[namesake.0]).await;
    let out = one.written(&[1]).await;

    let brought = two.store.bring_records(out.path()).await.unwrap();
    let player = &brought.players[0];
    assert_eq!(
        (player.called.as_str(), player.name.as_str()),
        ("Tobias Wren", "Tobias Wren (2)")
    );
    assert!(brought.there.is_empty(), "{:?}", brought.there);
    let after = two.written(&[namesake.0]).await;
    assert!(
        bytes_in(before.path()) == bytes_in(after.path()),
        "the namesake is as before"
    );
    let came = two.written(&[player.id.0]).await;
    let (mut from, mut to) = (canonical(out.path()), canonical(came.path()));
    assert_eq!(to["tables"]["players"][0]["name"].take(), "Tobias Wren (2)");
    from["tables"]["players"][0]["name"].take();
    assert_eq!(from, to, "all keys given anew lead to the same rows");
    let chosen = two
        .store
        .player(player.id)
        .await
        .unwrap()
        .unwrap()
        .reference;
    let swings = two.store.swings_of(player.id).await.unwrap();
    assert_eq!(
        chosen,
        ReferenceChoice::OwnSwing(swings[1].id.0),
        "their own first swing, not a stranger's"
    );
    let lesson = two.store.lessons_of_player(player.id).await.unwrap()[0].id;
    let paper = two
        .store
        .lesson_file(lesson, FileKind::Paper)
        .await
        .unwrap()
        .unwrap();
    assert_eq!(paper, b"%PDF-1.7 Tobias Wren 2");

    // Changed here since; ours is kept.
    two.store.approve_lesson(lesson, at(900)).await.unwrap();
    let ours = two.written(&[player.id.0]).await;
    let again = two.store.bring_records(out.path()).await.unwrap();
    assert!(again.added.is_empty(), "{:?}", again.added);
    assert!(!again.players[0].new);
    let now = two.written(&[player.id.0]).await;
    assert!(
        bytes_in(ours.path()) == bytes_in(now.path()),
        "the second time changes nothing"
    );
    // Back where it came from: it is all there.
    let home = one.store.bring_records(out.path()).await.unwrap();
    assert!(home.added.is_empty(), "{:?}", home.added);
}

#[tokio::test]
async fn what_is_newer_there_is_added_to_what_is_here() {
    let (one, two) = (Studio::new().await, Studio::new().await);
    one.with_two_players().await;
    two.store
        .bring_records(one.written(&[1]).await.path())
        .await
        .unwrap();
    one.swing(PlayerId(1), 300, "Tobias Wren").await;
    let brought = two
        .store
        .bring_records(one.written(&[1]).await.path())
        .await
        .unwrap();
    assert_eq!(brought.added["swings"], 1);
    assert_eq!(brought.there["swings"], 2);
    assert_eq!(two.store.swings_of(PlayerId(1)).await.unwrap().len(), 3);
}

#[tokio::test]
async fn swings_of_one_instant_stay_two() {
    let (one, two) = (Studio::new().await, Studio::new().await);
    let player = one
        .store
        .add_player(&facts("Ida Rask"), at(1))
        .await
        .unwrap();
    for _ in 0..2 {
        one.store.add_swing(player, None, at(2)).await.unwrap();
    }
    let out = one.written(&[1]).await;
    for expected in [2, 2] {
        two.store.bring_records(out.path()).await.unwrap();
        assert_eq!(
            two.store.swings_of(PlayerId(1)).await.unwrap().len(),
            expected
        );
    }
}

#[tokio::test]
async fn what_is_damaged_or_not_ours_is_refused_and_nothing_comes_in() {
    type Spoil = fn(&Path);
    let cases: [(&str, &str, Spoil); 8] = [
        ("a clip cut short", "is damaged", |folder| {
            fs::write(folder.join("swings/1/face_on.mov"), "fil").unwrap();
        }),
        ("a clip gone", "read the clip", |folder| {
            fs::remove_file(folder.join("swings/1/face_on.mov")).unwrap();
        }),
        ("a later version", "later version", |folder| {
            change(folder, |r| r["version"] = 2.into())
        }),
        ("later tables", "later version", |folder| {
            change(folder, |r| r["schema"] = 99_999.into())
        }),
        (
            "a way out of the folder",
            "does not lie in the folder",
            |folder| {
                change(folder, |r| {
                    r["files"][0]["path"] = "../lessonwright.db".into()
                });
            },
        ),
        ("a table of nobody", "no table", |folder| {
            change(folder, |r| {
                r["tables"]["erasures"] = serde_json::json!([{"swing_id": 1}])
            });
        }),
        (
            "an analysis that can't be read",
            "can't be brought in",
            |folder| {
                change(folder, |r| {
                    r["tables"]["analyses"][0]["analysis"] = "{}".into()
                });
            },
        ),
        ("a swing of nobody", "leads to no row", |folder| {
            change(folder, |r| {
                r["tables"]["swings"][0]["player_id"] = 77.into()
            });
        }),
    ];
    let (one, two) = (Studio::new().await, Studio::new().await);
    one.with_two_players().await;
    for (what, expected, spoil) in cases {
        let out = one.written(&[1]).await;
        spoil(out.path());
        let error = two.store.bring_records(out.path()).await.unwrap_err();
        let said = error.to_string();
        assert!(said.contains(expected), "{what}: {said}");
        assert_eq!(two.store.players().await.unwrap(), [], "{what}");
        let left = bytes_in(two.folder.path()).into_keys();
        let left = left.filter(|name| !name.to_string_lossy().starts_with("lessonwright.db"));
        assert_eq!(left.collect::<Vec<_>>(), Vec::<PathBuf>::new(), "{what}");
    }
}

#[tokio::test]
async fn a_minor_without_consent_stays_out() {
    let (one, two) = (Studio::new().await, Studio::new().await);
    one.with_two_players().await;
    let out = one.written(&[2]).await;
    change(out.path(), |records| {
        records["tables"]["players"][0]["guardian"] = Value::Null;
        records["tables"]["players"][0]["guardian_consent_at"] = Value::Null;
    });
    let error = two.store.bring_records(out.path()).await.unwrap_err();
    assert!(
        matches!(error, StoreError::GuardianConsentMissing { .. }),
        "{error}"
    );
    assert_eq!(two.store.players().await.unwrap(), []);
}

#[tokio::test]
async fn a_bundle_is_on_record_once_finds_its_player_in_another_studio_and_never_a_stranger() {
    let (one, two) = (Studio::new().await, Studio::new().await);
    one.with_two_players().await;
    two.store
        .add_player(&facts("Somebody"), at(99))
        .await
        .unwrap();
    let code = one.store.player(PlayerId(1)).await.unwrap().unwrap().code();
    let taken = TakenIn {
        sha256: "ab".repeat(32),
        answers: "{}".into(),
        taken_at: at(700),
    };
    assert!(one.store.keep_taken_in(PlayerId(1), &taken).await.unwrap());
    assert!(
        !one.store.keep_taken_in(PlayerId(1), &taken).await.unwrap(),
        "the same twice"
    );
    assert_eq!(two.store.player_of_code(&code).await.unwrap(), None);
    two.store
        .bring_records(one.written(&[1]).await.path())
        .await
        .unwrap();
    let found = two.store.player_of_code(&code).await.unwrap().unwrap();
    assert_eq!(found.facts.name, "Tobias Wren");
    assert_eq!(two.store.taken_in_of(found.id).await.unwrap(), [taken]);
    // One from a third studio, added at the very same instant: a film could be either's.
    let three = Studio::new().await;
    let twin = three.store.add_player(&facts("Twin"), at(1)).await.unwrap();
    two.store
        .bring_records(three.written(&[twin.0]).await.path())
        .await
        .unwrap();
    assert_eq!(two.store.player_of_code(&code).await.unwrap(), None);
}

#[tokio::test]
async fn players_added_at_one_instant_have_codes_of_their_own() {
    let studio = Studio::new().await;
    let names = ["Tobias Wren", "Nia Okonedo-Hart", "Per Ålund"];
    for name in names {
        studio.store.add_player(&facts(name), at(1)).await.unwrap();
    }
    for name in names {
        let player = studio.store.player_named(name).await.unwrap().unwrap();
        let found = studio.store.player_of_code(&player.code()).await.unwrap();
        assert_eq!(found.map(|one| one.facts.name).as_deref(), Some(name));
    }
}

struct Studio {
    folder: TempDir,
    store: Store,
}

impl Studio {
    async fn new() -> Studio {
        let folder = TempDir::new().unwrap();
        let store = Store::open(folder.path()).await.unwrap();
        Studio { folder, store }
    }

    /// A left-hander of whom everything is known, and a minor.
    async fn with_two_players(&self) {
        let player = self
            .store
            .add_player(&facts("Tobias Wren"), at(1))
            .await
            .unwrap();
        let first = self.swing(player, 10, "Tobias Wren").await;
        self.swing(player, 20, "Tobias Wren").await;
        self.store.keep_practice(player, &practice()).await.unwrap();
        let own = ReferenceChoice::OwnSwing(first);
        self.store.choose_reference(player, own).await.unwrap();
        let by_hand = ByHand {
            drill: "step_through".into(),
            title: "Step through".into(),
            aim: None,
            given_on: date(2026, 11, 20),
            next_in_days: Some(14),
        };
        self.store.prescribe(player, &by_hand).await.unwrap();
        let minor = PlayerFacts {
            age_years: Some(15),
            screening: None,
            ..facts("Nia Okonedo-Hart")
        };
        let minor = self.store.add_player(&minor, at(2)).await.unwrap();
        let consent = GuardianConsent {
            guardian: "Ada Okonedo".into(),
            given_at: at(3),
        };
        self.store
            .record_guardian_consent(minor, &consent)
            .await
            .unwrap();
        self.swing(minor, 30, "Nia Okonedo-Hart").await;
    }

    async fn swing(&self, player: PlayerId, second: i64, name: &str) -> i64 {
        let store = &self.store;
        let swing = store
            .add_swing(player, Some(at(second)), at(second + 1))
            .await
            .unwrap();
        for view in [View::FaceOn, View::DownTheLine] {
            store
                .add_clip(swing, &clip(self.folder.path(), view))
                .await
                .unwrap();
        }
        fs::remove_file(self.folder.path().join("IMG_0042.MOV")).unwrap();
        let brief = Brief {
            camera_distance_m: Some(4.1),
            ..Brief::default()
        };
        store.keep_brief(swing, &brief).await.unwrap();
        let first = store
            .add_analysis(swing, &analysis(), at(second + 2))
            .await
            .unwrap();
        let stature = Corrections {
            stature_m: Some(1.8),
            ..Corrections::default()
        };
        let step = CorrectionStep::Add(stature);
        store
            .keep_corrected(swing, &step, &analysis(), at(second + 3))
            .await
            .unwrap();
        let mark = SwingMark {
            occasion: Some(Occasion::Retention),
            session_on: Some(date(2026, 11, 24)),
        };
        store.mark_swing(swing, mark).await.unwrap();
        store.keep_club(swing, Some("mid_iron")).await.unwrap();
        let page = format!("<h1>{name}</h1>").into_bytes();
        let lesson = store
            .add_lesson(first, &page, at(second + 4))
            .await
            .unwrap();
        let paper = format!("%PDF-1.7 {name} {lesson}").into_bytes();
        store
            .keep_lesson_file(lesson, FileKind::Paper, &paper)
            .await
            .unwrap();
        let frames = store.frames_folder(swing);
        fs::create_dir_all(&frames).unwrap();
        fs::write(frames.join("face_on-1.strip"), "made again").unwrap();
        swing.0
    }

    async fn written(&self, players: &[i64]) -> TempDir {
        let out = TempDir::new().unwrap();
        let players: Vec<PlayerId> = players.iter().copied().map(PlayerId).collect();
        self.store
            .write_records(&players, out.path(), &|_| ())
            .await
            .unwrap();
        out
    }
}

fn at(second: i64) -> Timestamp {
    Timestamp::from_second(1_795_000_000 + second).unwrap()
}

fn facts(name: &str) -> PlayerFacts {
    PlayerFacts {
        name: name.into(),
        hand: Some(Hand::Left),
        // 0.1 + 0.2: its shortest form has 17 digits.
        stature_m: Some(1.5 + (0.1 + 0.2)),
        age_years: Some(34),
        usual_flight: Some("slice".into()),
        health_note: Some(String::new()),
        language: Some(Language::German),
        limits: vec!["balance".into()],
        goals: vec!["distance".into()],
        sex: None,
        screening: Some(Screening::nothing(at(0))),
    }
}

fn practice() -> Practice {
    Practice {
        from: date(2026, 11, 26),
        next_lesson: date(2026, 12, 10),
        days: vec![],
        minutes: 30,
        at: None,
        place: PracticePlace::Range,
        season: Season::Between,
    }
}

fn clip(folder: &Path, view: View) -> NewClip {
    let file = folder.join("IMG_0042.MOV");
    fs::write(&file, format!("film {view}")).unwrap();
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

fn analysis() -> SwingAnalysis {
    SwingAnalysis {
        schema_version: SCHEMA_VERSION,
        program_version: "0.1.0".into(),
        corrections: Corrections::default(),
        teaching: Default::default(),
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

fn records(folder: &Path) -> Value {
    serde_json::from_slice(&fs::read(folder.join(RECORDS_FILE)).unwrap()).unwrap()
}

fn change(folder: &Path, change: impl FnOnce(&mut Value)) {
    let mut all = records(folder);
    change(&mut all);
    fs::write(folder.join(RECORDS_FILE), all.to_string()).unwrap();
}

/// The records with each key replaced by its place in its table, wherever it is named.
fn canonical(folder: &Path) -> Value {
    let mut all = records(folder);
    let mut places: BTreeMap<String, BTreeMap<i64, usize>> = BTreeMap::new();
    for (table, rows) in all["tables"].as_object().unwrap() {
        let keys = rows
            .as_array()
            .unwrap()
            .iter()
            .filter_map(|row| row["id"].as_i64());
        places.insert(
            table.clone(),
            keys.enumerate().map(|(place, key)| (key, place)).collect(),
        );
    }
    let place = |table: &str, key: i64| Value::from(format!("{table} {}", places[table][&key]));
    let path = |text: &str| {
        let mut parts: Vec<String> = text.split('/').map(str::to_owned).collect();
        if parts[0] == "swings" {
            parts[1] = place("swings", parts[1].parse().unwrap()).to_string();
        }
        let last = parts.pop().unwrap();
        let last = match last
            .strip_prefix("lesson-")
            .and_then(|rest| rest.split_once('.'))
        {
            Some((key, ending)) => format!("{}.{ending}", place("lessons", key.parse().unwrap())),
            None => last,
        };
        format!("{}/{last}", parts.join("/"))
    };
    for (table, rows) in all["tables"].as_object_mut().unwrap() {
        for row in rows.as_array_mut().unwrap() {
            for (column, value) in row.as_object_mut().unwrap() {
                let to = match column.as_str() {
                    "id" => table.clone(),
                    "analysis_id" => "analyses".into(),
                    column => column
                        .strip_suffix("_id")
                        .map(|to| format!("{to}s"))
                        .unwrap_or_default(),
                };
                if let (true, Some(key)) = (places.contains_key(&to), value.as_i64()) {
                    *value = place(&to, key);
                }
                match column.as_str() {
                    "page" => value["file"] = path(value["file"].as_str().unwrap()).into(),
                    "path" => *value = path(value.as_str().unwrap()).into(),
                    "reference" if !value.is_null() => {
                        let chosen: Value = serde_json::from_str(value.as_str().unwrap()).unwrap();
                        *value = place("swings", chosen["own_swing"].as_i64().unwrap());
                    }
                    _ => {}
                }
            }
        }
    }
    for file in all["files"].as_array_mut().unwrap() {
        file["path"] = path(file["path"].as_str().unwrap()).into();
    }
    all
}

/// Every file below a folder, by its path.
fn bytes_in(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    fn walk(root: &Path, folder: &Path, all: &mut BTreeMap<PathBuf, Vec<u8>>) {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            match path.is_dir() {
                true => walk(root, &path, all),
                false => {
                    let name = path.strip_prefix(root).unwrap().to_owned();
                    all.insert(name, fs::read(&path).unwrap());
                }
            }
        }
    }
    let mut all = BTreeMap::new();
    walk(folder, folder, &mut all);
    all
}
