//! Clips that came, the queue and links for phones: nothing is lost, nothing is taken twice, and all goes with the player.

use jiff::Timestamp;
use lessonwright_model::{PlayerFacts, View};
use lessonwright_store::{
    ArrivalId, ArrivalState, CameBy, LinkKind, NewArrival, PlayerId, Store, StoreError, Upload,
    WorkState,
};
use std::path::Path;

fn at(second: i64) -> Timestamp {
    Timestamp::from_second(1_795_597_200 + second).unwrap()
}

struct Studio {
    folder: tempfile::TempDir,
    store: Store,
    player: PlayerId,
}

impl Studio {
    async fn with_player(age_years: u32) -> Studio {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).await.unwrap();
        let facts = PlayerFacts {
            name: "Wilma Tarn".into(),
            age_years: Some(age_years),
            ..PlayerFacts::default()
        };
        let player = store.add_player(&facts, at(0)).await.unwrap();
        Studio {
            folder,
            store,
            player,
        }
    }

    async fn bring(&self, bytes: &str) -> Result<ArrivalId, StoreError> {
        let file = self.folder.path().join("as-it-came.mov");
        std::fs::write(&file, bytes).unwrap();
        let new = NewArrival {
            player: Some(self.player),
            link: None,
            name: "IMG_0001.MOV".into(),
            came_by: CameBy::Page,
            view: Some(View::FaceOn),
        };
        self.store.add_arrival(&file, &new, at(1)).await
    }

    fn files(&self) -> usize {
        let folder = self.folder.path().join("arrivals");
        std::fs::read_dir(folder).map_or(0, Iterator::count)
    }
}

#[tokio::test]
async fn a_clip_is_on_the_queue_once_and_leaves_the_tray_when_its_swing_is_there() {
    let studio = Studio::with_player(52).await;
    let store = &studio.store;
    let clip = studio.bring("abc").await.unwrap();
    let kept = store.arrival(clip).await.unwrap().unwrap();
    assert_eq!((kept.bytes, kept.view()), (3, Some(View::FaceOn)));
    assert_eq!(std::fs::read(&kept.path).unwrap(), b"abc");
    let work = store.add_work(studio.player, &[clip], at(2)).await.unwrap();
    let twice = store.add_work(studio.player, &[clip], at(3)).await;
    assert!(
        matches!(twice, Err(StoreError::ArrivalTaken(_))),
        "{twice:?}"
    );
    assert_eq!(
        store.works().await.unwrap().len(),
        1,
        "a refusal leaves nothing behind"
    );
    store
        .move_work(work, WorkState::UnderWay, None)
        .await
        .unwrap();

    // The studio is closed and opened again.
    let again = Store::open(studio.folder.path()).await.unwrap();
    again.wait_again().await.unwrap();
    let works = again.works().await.unwrap();
    assert_eq!(works[0].state, WorkState::Waiting);
    assert_eq!(works[0].arrivals[0].id, clip);
    assert_eq!(studio.files(), 1);

    let swing = store.add_swing(studio.player, None, at(4)).await.unwrap();
    store.end_work(work, swing).await.unwrap();
    assert_eq!(store.arrivals().await.unwrap(), []);
    assert_eq!(store.works().await.unwrap()[0].swing, Some(swing));
    assert_eq!(studio.files(), 0);
}

#[tokio::test]
async fn a_swing_taken_off_the_queue_frees_its_clips() {
    let studio = Studio::with_player(52).await;
    let clip = studio.bring("abc").await.unwrap();
    let work = studio
        .store
        .add_work(studio.player, &[clip], at(2))
        .await
        .unwrap();
    studio.store.remove_work(work).await.unwrap();
    let free = studio.store.arrival(clip).await.unwrap().unwrap();
    assert_eq!((free.work, free.state), (None, ArrivalState::Arrived));
}

#[tokio::test]
async fn no_clip_of_a_minor_is_taken_in_without_a_guardian() {
    let studio = Studio::with_player(12).await;
    let refused = studio.bring("abc").await;
    assert!(
        matches!(refused, Err(StoreError::GuardianConsentMissing { .. })),
        "{refused:?}"
    );
    assert_eq!(studio.files(), 0);
    let link = studio
        .store
        .add_link(LinkKind::Phone, studio.player, "a", at(0), at(9))
        .await;
    assert!(link.is_err());
}

#[tokio::test]
async fn clips_of_an_erased_player_go_from_the_disk() {
    let studio = Studio::with_player(52).await;
    studio.bring("abc").await.unwrap();
    assert_eq!(studio.files(), 1);
    studio.store.erase_player(studio.player).await.unwrap();
    assert_eq!(studio.store.arrivals().await.unwrap(), []);
    assert_eq!(studio.files(), 0);
}

#[tokio::test]
async fn a_link_lives_until_it_ends_and_its_token_is_nowhere() {
    let studio = Studio::with_player(52).await;
    let store = &studio.store;
    let token = "0123456789abcdef0123456789abcdef";
    store
        .add_link(LinkKind::Phone, studio.player, token, at(0), at(7200))
        .await
        .unwrap();
    for (second, lives) in [(0, true), (7199, true), (7200, false), (90_000, false)] {
        let found = store
            .link(LinkKind::Phone, token, at(second))
            .await
            .unwrap();
        assert_eq!(found.is_some(), lives, "{second} s");
    }
    for (kind, other) in [(LinkKind::Phone, "another"), (LinkKind::Personal, token)] {
        assert_eq!(store.link(kind, other, at(1)).await.unwrap(), None);
    }
    store
        .end_links(LinkKind::Personal, studio.player, at(50))
        .await
        .unwrap();
    assert!(
        store
            .link(LinkKind::Phone, token, at(59))
            .await
            .unwrap()
            .is_some()
    );
    store
        .end_links(LinkKind::Phone, studio.player, at(60))
        .await
        .unwrap();
    assert_eq!(
        store.link(LinkKind::Phone, token, at(61)).await.unwrap(),
        None
    );
    for name in ["lessonwright.db", "lessonwright.db-wal"] {
        let bytes = std::fs::read(studio.folder.path().join(name)).unwrap_or_default();
        let text = String::from_utf8_lossy(&bytes);
        assert!(!text.contains(token), "{name} holds the token");
    }
}

#[tokio::test]
async fn uploads_that_were_given_up_are_cleared_away_and_others_stay() {
    let studio = Studio::with_player(52).await;
    let store = &studio.store;
    let upload = |ends_at| Upload {
        length: 3,
        name: "a.mp4".into(),
        player: Some(studio.player.0),
        link: None,
        camera: false,
        view: None,
        ends_at,
        arrival: None,
    };
    store.begin_upload("aa", &upload(at(10))).await.unwrap();
    store.begin_upload("bb", &upload(at(20))).await.unwrap();
    assert_eq!(
        store.upload("../bb").await.unwrap(),
        None,
        "a key is no path"
    );
    store.sweep_uploads(at(10)).await.unwrap();
    assert_eq!(store.upload("aa").await.unwrap(), None);
    assert!(store.upload("bb").await.unwrap().is_some());
    let left = std::fs::read_dir(studio.folder.path().join("uploads")).unwrap();
    assert_eq!(left.count(), 2);
}

#[tokio::test]
async fn what_was_taken_from_a_folder_is_remembered() {
    let studio = Studio::with_player(52).await;
    let sha256 = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
    assert!(!studio.store.was_taken(sha256).await.unwrap());
    studio.store.note_taken(sha256, at(0)).await.unwrap();
    let again = Store::open(Path::new(studio.folder.path())).await.unwrap();
    assert!(again.was_taken(sha256).await.unwrap());
}
