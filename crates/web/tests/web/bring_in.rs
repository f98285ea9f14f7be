//! Clips on their way in, over real connections: the tus protocol, plain forms, links for phones, and what a phone can't reach.

use crate::client::{ask, head};
use crate::sample;
use lessonwright_store::{CameBy, PlayerId, Store};
use lessonwright_web::bring_in::{Doors, Intake, phone_router};
use lessonwright_web::{AppState, router, serve};
use std::net::SocketAddr;
use std::time::Duration;
use tokio::io::AsyncWriteExt;
use tokio::net::{TcpListener, TcpStream};

struct Studio {
    _folder: tempfile::TempDir,
    store: Store,
    /// The studio's own door.
    own: SocketAddr,
    /// The phones' door.
    phones: SocketAddr,
}

impl Studio {
    async fn start() -> Studio {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).await.unwrap();
        sample::fill(&store).await;
        let phones = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let phones_at = phones.local_addr().unwrap();
        let state = AppState {
            bring_in: Intake::with_doors(Doors {
                phones: Some(format!("http://{phones_at}")),
                ..Doors::default()
            }),
            ..sample::state()
        };
        let own = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let own_at = own.local_addr().unwrap();
        let pages = router(store.clone(), state.clone());
        tokio::spawn(serve(own, pages, std::future::pending()));
        let door = phone_router(store.clone(), state);
        tokio::spawn(serve(phones, door, std::future::pending()));
        Studio {
            _folder: folder,
            store,
            own: own_at,
            phones: phones_at,
        }
    }

    /// A link for a player, as the page makes it; its token.
    async fn link(&self, player: i64) -> String {
        let path = format!("/players/{player}/bring-in/phones/make");
        let page = ask(self.own, "POST", &path, &[], b"").await.body;
        assert!(page.contains("<svg class=\"square\""), "{page}");
        let (_, rest) = page.split_once("/from-phone/").unwrap();
        rest[..32].to_owned()
    }

    async fn begin(&self, bytes: &[u8]) -> String {
        let answer = ask(self.own, "POST", "/uploads", &begin(bytes.len(), 1), b"").await;
        assert_eq!(answer.status, 201, "{}", answer.body);
        answer.header("location").to_owned()
    }
}

/// `Upload-Metadata` of "swing.mp4" of player 1 or 2.
fn begin(length: usize, player: usize) -> Vec<(&'static str, String)> {
    let player = ["MQ==", "Mg=="][player - 1];
    vec![
        ("Tus-Resumable", "1.0.0".into()),
        ("Upload-Length", length.to_string()),
        (
            "Upload-Metadata",
            format!("filename c3dpbmcubXA0,player {player}"),
        ),
    ]
}

fn piece(at: usize) -> Vec<(&'static str, String)> {
    vec![
        ("Tus-Resumable", "1.0.0".into()),
        ("Upload-Offset", at.to_string()),
        ("Content-Type", "application/offset+octet-stream".into()),
    ]
}

fn film(length: usize) -> Vec<u8> {
    (0..length).map(|i| (i * 7 + i / 251) as u8).collect()
}

#[tokio::test]
async fn an_upload_goes_on_where_it_was_cut_off_and_the_bytes_are_exact() {
    let studio = Studio::start().await;
    let bytes = film(300_000);
    let path = studio.begin(&bytes).await;
    let options = ask(studio.own, "OPTIONS", "/uploads", &[], b"").await;
    assert_eq!(options.header("tus-version"), "1.0.0");

    // The first piece says that it has all, and the line is cut after a third.
    let mut stream = TcpStream::connect(studio.own).await.unwrap();
    let first = head(studio.own, "PATCH", &path, &piece(0), bytes.len());
    stream.write_all(first.as_bytes()).await.unwrap();
    stream.write_all(&bytes[..100_000]).await.unwrap();
    stream.flush().await.unwrap();
    tokio::time::sleep(Duration::from_millis(300)).await;
    drop(stream);
    tokio::time::sleep(Duration::from_millis(300)).await;

    let version = [("Tus-Resumable", "1.0.0".to_owned())];
    let there = ask(studio.own, "HEAD", &path, &version, b"").await;
    let offset: usize = there.header("upload-offset").parse().unwrap();
    assert_eq!(offset, 100_000);
    assert_eq!(there.header("upload-length"), "300000");
    assert_eq!(there.header("cache-control"), "no-store");
    let wrong = ask(studio.own, "PATCH", &path, &piece(7), &bytes[7..]).await;
    assert_eq!(wrong.status, 409);
    assert_eq!(studio.store.arrivals().await.unwrap().len(), 0);

    let rest = ask(studio.own, "PATCH", &path, &piece(offset), &bytes[offset..]).await;
    assert_eq!((rest.status, rest.header("upload-offset")), (204, "300000"));
    let arrivals = studio.store.arrivals().await.unwrap();
    assert_eq!(arrivals.len(), 1);
    assert_eq!(std::fs::read(&arrivals[0].path).unwrap(), bytes);
    assert_eq!(
        (arrivals[0].player, arrivals[0].came_by),
        (Some(PlayerId(1)), CameBy::Page)
    );
    assert_eq!(arrivals[0].name, "swing.mp4");

    // Whoever missed the answer asks, and does not send it again.
    let there = ask(studio.own, "HEAD", &path, &version, b"").await;
    assert_eq!(there.header("upload-offset"), "300000");
    let again = ask(studio.own, "PATCH", &path, &piece(300_000), b"").await;
    assert_eq!(again.status, 204);
    assert_eq!(studio.store.arrivals().await.unwrap().len(), 1);
}

#[tokio::test]
async fn a_damaged_piece_is_refused_and_sent_again() {
    let studio = Studio::start().await;
    let bytes = b"0123456789";
    let path = studio.begin(bytes).await;
    let options = ask(studio.own, "OPTIONS", "/uploads", &[], b"").await;
    assert_eq!(options.header("tus-checksum-algorithm"), "sha1");
    let summed = |at: usize, sum: &str| {
        let mut headers = piece(at);
        headers.push(("Upload-Checksum", sum.to_owned()));
        headers
    };
    // coreutils: printf 01234 | sha1sum | xxd -r -p | base64; the same of 56789.
    let (first, second) = (
        "sha1 EZBKTot39iQuLSiHBQI62tAKkxA=",
        "sha1 8iMdKHHmkKKZVwT3ope9e8ZL5yA=",
    );
    let kept = ask(studio.own, "PATCH", &path, &summed(0, first), b"01234").await;
    assert_eq!((kept.status, kept.header("upload-offset")), (204, "5"));
    let damaged = ask(studio.own, "PATCH", &path, &summed(5, second), b"56x89").await;
    assert_eq!(damaged.status, 460, "{}", damaged.body);
    let version = [("Tus-Resumable", "1.0.0".to_owned())];
    let there = ask(studio.own, "HEAD", &path, &version, b"").await;
    assert_eq!(there.header("upload-offset"), "5");
    // Cut off in the middle it can't be checked: nothing of it stays.
    let mut stream = TcpStream::connect(studio.own).await.unwrap();
    let cut = head(studio.own, "PATCH", &path, &summed(5, second), 5);
    stream.write_all(cut.as_bytes()).await.unwrap();
    stream.write_all(b"567").await.unwrap();
    stream.flush().await.unwrap();
    tokio::time::sleep(Duration::from_millis(200)).await;
    drop(stream);
    tokio::time::sleep(Duration::from_millis(300)).await;
    let there = ask(studio.own, "HEAD", &path, &version, b"").await;
    assert_eq!(there.header("upload-offset"), "5");
    let unknown = ask(studio.own, "PATCH", &path, &summed(5, "md5 AAAA"), b"56789").await;
    assert_eq!(unknown.status, 400);
    let again = ask(studio.own, "PATCH", &path, &summed(5, second), b"56789").await;
    assert_eq!(again.status, 204);
    let arrivals = studio.store.arrivals().await.unwrap();
    assert_eq!(std::fs::read(&arrivals[0].path).unwrap(), bytes);
}

#[tokio::test]
async fn what_the_protocol_forbids_is_refused_and_says_why() {
    let studio = Studio::start().await;
    let no_version = ask(studio.own, "POST", "/uploads", &begin(9, 1)[1..], b"").await;
    assert_eq!(no_version.status, 412);
    let none = ask(studio.own, "POST", "/uploads", &begin(0, 1), b"").await;
    assert_eq!(none.status, 400);
    assert!(none.body.contains("empty"), "{}", none.body);
    let huge = ask(studio.own, "POST", "/uploads", &begin(9 << 30, 1), b"").await;
    assert_eq!(huge.status, 413);
    assert!(huge.body.contains("cut the swing out"), "{}", huge.body);

    let path = studio.begin(b"0123456789").await;
    let mut kind = piece(0);
    kind[2].1 = "video/mp4".into();
    assert_eq!(
        ask(studio.own, "PATCH", &path, &kind, b"0123").await.status,
        415
    );
    let long = ask(studio.own, "PATCH", &path, &piece(0), b"0123456789abc").await;
    assert_eq!(long.status, 400);
    let version = [("Tus-Resumable", "1.0.0".to_owned())];
    assert_eq!(
        ask(studio.own, "DELETE", &path, &version, b"").await.status,
        204
    );
    assert_eq!(
        ask(studio.own, "HEAD", &path, &version, b"").await.status,
        404
    );
    assert_eq!(studio.store.arrivals().await.unwrap().len(), 0);
}

#[tokio::test]
async fn a_plain_form_brings_several_clips_in_and_names_those_it_does_not_take() {
    let studio = Studio::start().await;
    let mut body = Vec::new();
    for (name, bytes) in [
        ("face.mp4", film(5000)),
        ("none.mp4", Vec::new()),
        ("line.mp4", film(70_000)),
    ] {
        let part = format!(
            "--cut\r\nContent-Disposition: form-data; name=\"clips\"; filename=\"{name}\"\r\nContent-Type: video/mp4\r\n\r\n"
        );
        body.extend(part.as_bytes());
        body.extend(bytes);
        body.extend(b"\r\n");
    }
    body.extend(b"--cut--\r\n");
    let kind = [(
        "Content-Type",
        "multipart/form-data; boundary=cut".to_owned(),
    )];
    let page = ask(
        studio.own,
        "POST",
        "/players/2/bring-in/clips",
        &kind,
        &body,
    )
    .await;
    assert_eq!(page.status, 422);
    assert!(page.body.contains("2 of the clips are in"), "{}", page.body);
    assert!(
        page.body
            .contains("<strong>none.mp4:</strong> The file is empty"),
        "{}",
        page.body
    );
    let arrivals = studio.store.arrivals().await.unwrap();
    assert_eq!(arrivals.len(), 2);
    assert_eq!(std::fs::read(&arrivals[1].path).unwrap(), film(70_000));
    assert!(arrivals.iter().all(|a| a.player == Some(PlayerId(2))));
}

#[tokio::test]
async fn a_phone_reaches_its_own_page_and_nothing_else() {
    let studio = Studio::start().await;
    let token = studio.link(1).await;
    let own = ask(
        studio.phones,
        "GET",
        &format!("/from-phone/{token}"),
        &[],
        b"",
    )
    .await;
    assert_eq!(own.status, 200);
    assert!(own.body.contains("capture=\"environment\""), "{}", own.body);
    // Without a referrer a form is sent with the origin "null" (Fetch, "append a request `Origin` header"), which the door
    // refuses; with "same-origin" the token still goes to no other site.
    let referrer = "<meta name=\"referrer\" content=\"same-origin\">";
    assert!(own.body.contains(referrer), "{}", own.body);
    for path in [
        "/",
        "/players/1",
        "/players/1/settings",
        "/players/1/bring-in",
        "/swings/1",
        "/swings/1/bench",
        "/lessons/1",
        "/follow-up",
        "/bring-in",
        "/bring-in/tray",
        "/bring-in/pictures/1",
        "/uploads",
        "/from-phone/00000000000000000000000000000000",
        "/from-phone/",
    ] {
        let answer = ask(studio.phones, "GET", path, &[], b"").await;
        assert_eq!(answer.status, 404, "{path}");
        assert!(answer.body.contains("This link has ended"), "{path}");
    }
    let post = ask(studio.phones, "POST", "/uploads", &begin(9, 2), b"").await;
    assert_eq!(post.status, 404);
    let approve = ask(studio.phones, "POST", "/lessons/1/approve", &[], b"").await;
    assert_eq!(approve.status, 404);
}

#[tokio::test]
async fn a_phone_brings_clips_of_its_player_alone_until_its_link_ends() {
    let studio = Studio::start().await;
    let (first, second) = (studio.link(1).await, studio.link(2).await);
    // It says player 2; its link is player 1's.
    let uploads = format!("/from-phone/{first}/uploads");
    let begun = ask(studio.phones, "POST", &uploads, &begin(4, 2), b"").await;
    assert_eq!(begun.status, 201, "{}", begun.body);
    let path = begun.header("location").to_owned();
    let key = path.rsplit('/').next().unwrap();

    // By another link, or by the studio's own door without one, it can't be found.
    let version = [("Tus-Resumable", "1.0.0".to_owned())];
    let by_other = format!("/from-phone/{second}/uploads/{key}");
    assert_eq!(
        ask(studio.phones, "HEAD", &by_other, &version, b"")
            .await
            .status,
        404
    );
    assert_eq!(
        ask(studio.phones, "PATCH", &by_other, &piece(0), b"film")
            .await
            .status,
        404
    );
    let by_own = format!("/uploads/{key}");
    assert_eq!(
        ask(studio.own, "HEAD", &by_own, &version, b"").await.status,
        404
    );

    assert_eq!(
        ask(studio.phones, "PATCH", &path, &piece(0), b"film")
            .await
            .status,
        204
    );
    let arrivals = studio.store.arrivals().await.unwrap();
    assert_eq!(
        (arrivals[0].player, arrivals[0].came_by),
        (Some(PlayerId(1)), CameBy::Phone)
    );
    let sent = ask(
        studio.phones,
        "GET",
        &format!("/from-phone/{first}"),
        &[],
        b"",
    )
    .await
    .body;
    assert!(sent.contains("swing.mp4"), "{sent}");
    let others = ask(
        studio.phones,
        "GET",
        &format!("/from-phone/{second}"),
        &[],
        b"",
    )
    .await
    .body;
    assert!(!others.contains("swing.mp4"), "{others}");

    ask(
        studio.own,
        "POST",
        "/players/1/bring-in/phones/end",
        &[],
        b"",
    )
    .await;
    let ended = ask(
        studio.phones,
        "GET",
        &format!("/from-phone/{first}"),
        &[],
        b"",
    )
    .await;
    assert_eq!(ended.status, 404);
    let refused = ask(studio.phones, "POST", &uploads, &begin(4, 1), b"").await;
    assert_eq!(refused.status, 404);
    let lives = ask(
        studio.phones,
        "GET",
        &format!("/from-phone/{second}"),
        &[],
        b"",
    )
    .await;
    assert_eq!(lives.status, 200);
}

#[tokio::test]
async fn an_upload_from_another_sites_page_is_refused() {
    let studio = Studio::start().await;
    let mut headers = begin(4, 1);
    headers.push(("Origin", "http://elsewhere.example".into()));
    let answer = ask(studio.own, "POST", "/uploads", &headers, b"").await;
    assert_eq!(answer.status, 403, "{}", answer.body);
}

#[tokio::test]
async fn the_page_for_motion_captures_says_what_is_missing_and_what_went_wrong() {
    let studio = Studio::start().await;
    let address = "/players/2/bring-in/motion";
    let way = ask(studio.own, "GET", "/players/2/bring-in", &[], b"").await;
    assert!(way.body.contains(&format!("href=\"{address}\"")));
    let page = ask(studio.own, "GET", address, &[], b"").await;
    assert_eq!(page.status, 200);
    assert!(page.body.contains("accept=\".bvh,.c3d\""), "{}", page.body);
    let kind = [(
        "Content-Type",
        "multipart/form-data; boundary=cut".to_owned(),
    )];
    let part = |head: &str, text: &str| {
        format!("--cut\r\nContent-Disposition: form-data; {head}\r\n\r\n{text}\r\n")
    };
    let chosen = "name=\"file\"; filename=\"swing.bvh\"";
    // The sample makes no swing: it says what it was given.
    for (parts, said) in [
        (
            part("name=\"file\"; filename=\"\"", ""),
            "Choose a file first.",
        ),
        (
            part("name=\"up\"", "+z") + &part(chosen, "HIERARCHY"),
            "9 bytes of swing.bvh for player 2, up +z",
        ),
        (
            part("name=\"within\"", "much") + &part(chosen, "HIERARCHY"),
            "a number from 0.1 to 200",
        ),
    ] {
        let body = format!("{parts}--cut--\r\n");
        let answer = ask(studio.own, "POST", address, &kind, body.as_bytes()).await;
        assert_eq!(answer.status, 422);
        assert!(answer.body.contains(said), "{}", answer.body);
    }
    let nobody = ask(studio.own, "GET", "/players/99/bring-in/motion", &[], b"").await;
    assert_eq!(nobody.status, 404);
}
