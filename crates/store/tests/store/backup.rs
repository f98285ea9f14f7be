//! A backup made while the studio is in use, read again, and restored; what it refuses; what lies on the disk.

use jiff::Timestamp;
use lessonwright_model::{ClipFacts, PlayerFacts, RateSource, View};
use lessonwright_store::{NewClip, PlayerId, Store, SwingId, restore};
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use tempfile::TempDir;

#[tokio::test]
async fn what_is_restored_is_what_was_there() {
    let (store, folder) = studio().await;
    fs::create_dir_all(folder.path().join("drills")).unwrap();
    fs::write(folder.path().join("drills/own.md"), "# Own").unwrap();
    fs::write(folder.path().join("targets.toml"), "own").unwrap();
    fs::write(folder.path().join("network.onnx"), "fetched").unwrap();
    let file = folder.path().join("out.zip");
    let shares = Arc::new(Mutex::new(Vec::new()));
    let seen = Arc::clone(&shares);
    let done = store
        .back_up(&file, "0.1.0", at(100), move |share| {
            seen.lock().unwrap().push(share)
        })
        .await
        .unwrap();
    assert_eq!(
        (done.files, done.missing.len()),
        (5, 0),
        "database, two clips, drill, table"
    );
    let shares = shares.lock().unwrap().clone();
    assert!(
        shares.is_sorted() && shares.last() == Some(&1.0),
        "{shares:?}"
    );

    let new = TempDir::new().unwrap();
    let restored = restore(&file, new.path(), None, |_| ()).await.unwrap();
    assert_eq!(
        (restored.made_at, restored.files, restored.before),
        (at(100), 5, None)
    );
    let again = Store::open(new.path()).await.unwrap();
    assert_eq!(
        again.players().await.unwrap(),
        store.players().await.unwrap()
    );
    assert_eq!(film(&again, 1).await, "film 1");
    assert_eq!(
        fs::read_to_string(new.path().join("drills/own.md")).unwrap(),
        "# Own"
    );
    assert!(!new.path().join("network.onnx").exists());
    assert!(!new.path().join("media/1/frames").exists());
    assert!(fs::read_dir(new.path()).unwrap().all(|e| {
        !e.unwrap()
            .file_name()
            .to_string_lossy()
            .starts_with("restoring")
    }));
}

#[tokio::test]
async fn it_is_of_one_instant_while_others_write() {
    let (store, folder) = studio().await;
    let stop = Arc::new(AtomicBool::new(false));
    let (writer, stopped) = (store.clone(), Arc::clone(&stop));
    let writing = tokio::spawn(async move {
        let mut count = 0;
        while !stopped.load(Ordering::Relaxed) {
            count += 1;
            // Two rows that belong together.
            let facts = PlayerFacts {
                name: format!("Guest {count}"),
                ..PlayerFacts::default()
            };
            let player = writer.add_player(&facts, at(count)).await.unwrap();
            writer.add_swing(player, None, at(count)).await.unwrap();
        }
        count
    });
    for number in 0..3 {
        let file = folder.path().join(format!("{number}.zip"));
        store.back_up(&file, "0.1.0", at(1), |_| ()).await.unwrap();
        let new = TempDir::new().unwrap();
        restore(&file, new.path(), None, |_| ()).await.unwrap();
        let again = Store::open(new.path()).await.unwrap();
        let guests = again.players().await.unwrap().len() - 1;
        let mut swings = 0;
        for player in again.players().await.unwrap() {
            swings += again.swings_of(player.id).await.unwrap().len();
        }
        assert!(
            swings - 2 == guests || swings - 1 == guests,
            "{swings} swings of {guests} guests"
        );
    }
    stop.store(true, Ordering::Relaxed);
    assert!(writing.await.unwrap() > 10, "others wrote meanwhile");
}

#[tokio::test]
async fn a_damaged_or_strange_file_is_refused_and_nothing_changes() {
    let (store, folder) = studio().await;
    let file = folder.path().join("out.zip");
    store
        .back_up(&file, "0.1.0", at(100), |_| ())
        .await
        .unwrap();
    let whole = fs::read(&file).unwrap();
    let place = whole.windows(6).position(|w| w == b"film 1").unwrap();
    let mut flipped = whole.clone();
    flipped[place] ^= 1;
    let cases = [
        ("a bit flipped in a film", flipped),
        ("cut short", whole[..whole.len() / 2].to_vec()),
        ("no backup", b"film".to_vec()),
        ("nothing", vec![]),
    ];
    for (what, bytes) in cases {
        let damaged = folder.path().join("damaged.zip");
        fs::write(&damaged, bytes).unwrap();
        let new = TempDir::new().unwrap();
        let said = restore(&damaged, new.path(), None, |_| ())
            .await
            .unwrap_err()
            .to_string();
        assert!(said.contains("damaged.zip"), "{what}: {said}");
        assert_eq!(fs::read_dir(new.path()).unwrap().count(), 0, "{what}");
    }
}

#[tokio::test]
async fn a_studio_that_is_there_is_replaced_only_when_told_and_never_while_it_is_open() {
    let (store, folder) = studio().await;
    let file = folder.path().join("out.zip");
    store
        .back_up(&file, "0.1.0", at(100), |_| ())
        .await
        .unwrap();
    let said = store
        .back_up(&file, "0.1.0", at(101), |_| ())
        .await
        .unwrap_err()
        .to_string();
    assert!(said.contains("there already"), "{said}");

    let (other, there) = studio().await;
    other.add_player(&facts("Only Here"), at(7)).await.unwrap();
    let said = restore(&file, there.path(), None, |_| ())
        .await
        .unwrap_err()
        .to_string();
    assert!(said.contains("--replace"), "{said}");
    let said = restore(&file, there.path(), Some(at(200)), |_| ())
        .await
        .unwrap_err()
        .to_string();
    assert!(said.contains("open in another program"), "{said}");
    assert!(other.player_named("Only Here").await.unwrap().is_some());
    other.close().await;
    let restored = restore(&file, there.path(), Some(at(200)), |_| ())
        .await
        .unwrap();
    let now = Store::open(there.path()).await.unwrap();
    assert!(now.player_named("Only Here").await.unwrap().is_none());
    let before = Store::open(&restored.before.unwrap()).await.unwrap();
    assert!(before.player_named("Only Here").await.unwrap().is_some());
    assert_eq!(film(&before, 1).await, "film 1");
}

#[tokio::test]
async fn a_backup_of_later_tables_is_refused() {
    let (store, folder) = studio().await;
    let file = folder.path().join("out.zip");
    store
        .back_up(&file, "0.1.0", at(100), |_| ())
        .await
        .unwrap();
    let mut list = String::new();
    zip::ZipArchive::new(fs::File::open(&file).unwrap())
        .unwrap()
        .by_name("backup.json")
        .unwrap()
        .read_to_string(&mut list)
        .unwrap();
    let schema = serde_json::from_str::<serde_json::Value>(&list).unwrap()["schema"]
        .as_i64()
        .unwrap();
    assert!(schema >= 10);
    // The list is the last part; the same length keeps the file whole, and its check sum is set right by writing anew.
    let later = folder.path().join("later.zip");
    let mut zip = zip::ZipWriter::new(fs::File::create(&later).unwrap());
    zip.start_file(
        "backup.json",
        zip::write::SimpleFileOptions::default().compression_method(zip::CompressionMethod::Stored),
    )
    .unwrap();
    std::io::Write::write_all(
        &mut zip,
        list.replace(&format!("\"schema\": {schema}"), "\"schema\": 9999")
            .as_bytes(),
    )
    .unwrap();
    zip.finish().unwrap();
    let new = TempDir::new().unwrap();
    let said = restore(&later, new.path(), None, |_| ())
        .await
        .unwrap_err()
        .to_string();
    assert!(said.contains("later version"), "{said}");
}

#[tokio::test]
async fn storage_is_what_lies_on_the_disk_and_only_what_is_made_again_is_cleared() {
    let (store, folder) = studio().await;
    fs::create_dir_all(folder.path().join("landmarks")).unwrap();
    fs::write(folder.path().join("landmarks/a.json"), [0; 300]).unwrap();
    let storage = store.storage().await.unwrap();
    let player = &storage.players[0];
    assert_eq!(
        (player.swings, player.clips_bytes, player.pictures_bytes),
        (2, 12, 200)
    );
    assert_eq!(storage.landmarks_bytes, 300);
    assert_eq!(storage.bytes(), sum(folder.path()), "nothing is left out");
    assert_eq!(store.clear_pictures().await.unwrap(), 200);
    assert_eq!(store.clear_landmarks().await.unwrap(), 300);
    let storage = store.storage().await.unwrap();
    assert_eq!(
        (storage.again_bytes(), storage.players[0].clips_bytes),
        (0, 12)
    );
    assert_eq!(film(&store, 1).await, "film 1");
}

async fn studio() -> (Store, TempDir) {
    let folder = TempDir::new().unwrap();
    let store = Store::open(folder.path()).await.unwrap();
    let player = store
        .add_player(&facts("Tobias Wren"), at(1))
        .await
        .unwrap();
    for number in 1..=2 {
        swing(&store, folder.path(), player, number).await;
    }
    (store, folder)
}

async fn swing(store: &Store, folder: &Path, player: PlayerId, number: i64) {
    let swing = store.add_swing(player, None, at(number)).await.unwrap();
    let file = folder.join("came.mp4");
    fs::write(&file, format!("film {number}")).unwrap();
    store.add_clip(swing, &clip(file.clone())).await.unwrap();
    fs::remove_file(file).unwrap();
    let frames = store.frames_folder(swing);
    fs::create_dir_all(&frames).unwrap();
    fs::write(frames.join("face_on-1.strip"), [0; 100]).unwrap();
}

async fn film(store: &Store, swing: i64) -> String {
    let clips = store.clips_of(SwingId(swing)).await.unwrap();
    fs::read_to_string(&clips[0].path).unwrap()
}

fn sum(folder: &Path) -> u64 {
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap());
    entries
        .map(|e| {
            if e.path().is_dir() {
                sum(&e.path())
            } else {
                e.metadata().unwrap().len()
            }
        })
        .sum()
}

fn at(second: i64) -> Timestamp {
    Timestamp::from_second(1_795_000_000 + second).unwrap()
}

fn facts(name: &str) -> PlayerFacts {
    PlayerFacts {
        name: name.into(),
        age_years: Some(40),
        ..PlayerFacts::default()
    }
}

fn clip(file: PathBuf) -> NewClip {
    NewClip {
        view: View::FaceOn,
        file,
        facts: ClipFacts {
            name: "came.mp4".into(),
            codec: "h264".into(),
            bit_depth: 8,
            width_px: 1080,
            height_px: 1920,
            rotation_deg: 0,
            frame_times_s: vec![0.0, 1.0 / 60.0],
            rate_hz: 60.0,
            variable_rate: false,
            capture_rate_hz: 60.0,
            capture_rate_source: RateSource::Container,
            duration_s: 2.0 / 60.0,
            has_sound: false,
        },
    }
}
