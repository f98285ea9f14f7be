//! The lesson desk over a real connection: plain forms, what is kept, what may be approved and handed over.

use crate::sample;
use lessonwright_model::{DoseChoice, PriorityChoice};
use lessonwright_store::{LessonId, Store, SwingId};
use lessonwright_web::{Drafts, router, serve};
use std::net::SocketAddr;
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::{TcpListener, TcpStream};

/// Tobias Wren's swing with one thing to work on.
const DESK: &str = "/swings/2/lesson";
const SWING: SwingId = SwingId(2);

#[tokio::test]
async fn what_is_taught_is_kept_and_the_lesson_waits_for_its_draft() {
    let studio = Studio::start().await;
    let page = studio.get(DESK).await;
    assert_eq!(page.status, 200);
    assert!(page.text.contains("data-draft=\"ready\"") && page.text.contains("value=\"nothing\""));
    let form = "work_on=nothing&why=He+hurts+today&drill=&dose=half";
    let answer = studio.post(&format!("{DESK}/teaching"), form).await;
    assert_eq!(answer.status, 303);
    assert!(
        answer.text.contains("location: /swings/2/lesson#what"),
        "{}",
        answer.text
    );
    let kept = studio.store.choices(SWING).await.unwrap().choices.teaching;
    let why = "He hurts today".to_owned();
    assert_eq!(kept.priority, PriorityChoice::Nothing { why });
    assert_eq!(kept.dose, DoseChoice::Half);
    let page = studio.get(DESK).await;
    assert!(
        page.text.contains("value=\"He hurts today\"")
            && page.text.contains("data-draft=\"under_way\"")
    );
    // Not with an older draft, nor handed over.
    let answer = studio.post(&format!("{DESK}/approve"), "").await;
    assert_eq!(answer.status, 409);
    assert!(answer.text.contains("being drafted"));
    assert!(
        studio
            .store
            .lesson_summary(LessonId(2))
            .await
            .unwrap()
            .unwrap()
            .approved_at
            .is_none()
    );
    assert_eq!(studio.get(&format!("{DESK}/all.zip")).await.status, 404);
}

#[tokio::test]
async fn words_and_pictures_are_kept_and_the_usual_ones_are_no_choice() {
    let studio = Studio::start().await;
    let usual = "note=&show%3Aface_on%3Aaddress=yes&show%3Aface_on%3Atop=yes&words%3Aface_on%3Atop=Look+at+%3Cthis%3E";
    studio.post(&format!("{DESK}/words"), usual).await;
    let kept = studio.store.choices(SWING).await.unwrap().choices;
    let pictures = kept.pictures.unwrap();
    assert_eq!(pictures.len(), 2);
    assert_eq!(pictures[1].caption, "Look at <this>");
    assert_eq!(kept.note.as_deref(), Some(""));
    let page = studio.get(DESK).await;
    assert!(page.text.contains("Look at &#60;this&#62;") && !page.text.contains("Look at <this>"));
}

#[tokio::test]
async fn a_failed_draft_is_said_with_what_to_do() {
    let studio = Studio::start().await;
    studio.post(&format!("{DESK}/words"), "note=Hello").await;
    studio
        .drafts
        .note(SWING, Some("The disk is full.".to_owned()));
    let page = studio.get(DESK).await;
    for words in ["The disk is full.", "Try again", "What you chose is kept"] {
        assert!(page.text.contains(words), "{words}");
    }
    assert!(
        studio
            .get(&format!("{DESK}/state"))
            .await
            .text
            .contains("\"state\":\"failed\"")
    );
}

#[tokio::test]
async fn the_preview_is_framed_by_the_studio_alone_and_stays_without_scripts() {
    let studio = Studio::start().await;
    let framed = studio.get(&format!("{DESK}/preview")).await;
    let policy = "frame-ancestors 'self'; sandbox";
    assert!(
        framed.text.contains(policy) && framed.text.contains("x-frame-options: SAMEORIGIN"),
        "{}",
        framed.text
    );
    assert!(framed.text.contains("default-src 'none'"));
    let lesson = studio.get("/lessons/2").await;
    assert!(
        lesson.text.contains("frame-ancestors 'none'")
            && lesson.text.contains("x-frame-options: DENY")
    );
}

#[tokio::test]
async fn an_approved_lesson_is_handed_over_in_one_file() {
    let studio = Studio::start().await;
    let answer = studio.post(&format!("{DESK}/approve"), "").await;
    assert_eq!(answer.status, 303, "{}", answer.text);
    let zip = studio.get(&format!("{DESK}/all.zip")).await;
    assert!(zip.text.contains("content-type: application/zip"));
    // PKWARE APPNOTE 4.3.7: a local file header, here with the name after it.
    assert!(
        zip.text.contains("PK\u{3}\u{4}")
            && zip
                .text
                .contains("Tobias Wren 24 November 2026/lesson.html")
    );
}

#[tokio::test]
async fn what_is_no_recording_and_who_is_not_there_are_refused() {
    let studio = Studio::start().await;
    let body = "--x\r\nContent-Disposition: form-data; name=\"voice\"; filename=\"v.webm\"\r\n\r\n\r\n--x--\r\n";
    let kind = "multipart/form-data; boundary=x";
    let answer = studio.send(&format!("{DESK}/voice"), kind, body).await;
    assert_eq!(answer.status, 400);
    let body = body.replace("\r\n\r\n\r\n", "\r\n\r\nsound\r\n");
    let answer = studio.send(&format!("{DESK}/voice"), kind, &body).await;
    assert_eq!(answer.status, 303, "{}", answer.text);
    let heard = studio.get(&format!("{DESK}/voice")).await;
    assert!(heard.text.ends_with("sound") && heard.text.contains("content-type: audio/webm"));
    studio.post(&format!("{DESK}/voice/forget"), "").await;
    assert_eq!(studio.get(&format!("{DESK}/voice")).await.status, 404);
    for path in [
        "/swings/99/lesson",
        "/swings/x/lesson",
        "/swings/5/lesson",
        "/desk/none.js",
    ] {
        assert_eq!(studio.get(path).await.status, 404, "{path}");
    }
}

#[tokio::test]
async fn a_letter_that_can_not_be_written_says_why() {
    let studio = Studio::start().await;
    assert_eq!(studio.get("/players/1/letter").await.status, 200);
    for path in [
        "/players/1/letter/page?note=Hi",
        "/players/1/letter/letter.pdf?note=Hi",
    ] {
        let answer = studio.get(path).await;
        assert_eq!(answer.status, 409);
        assert!(
            answer.text.contains("nothing to write about")
                && answer.text.contains(">Hi</textarea>")
        );
    }
    assert_eq!(studio.get("/players/99/letter").await.status, 404);
}

struct Answer {
    status: u16,
    /// Head and body.
    text: String,
}

struct Studio {
    store: Store,
    drafts: Drafts,
    address: SocketAddr,
    _folder: tempfile::TempDir,
}

impl Studio {
    async fn start() -> Studio {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).await.unwrap();
        sample::fill(&store).await;
        let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let address = listener.local_addr().unwrap();
        let state = sample::state();
        let drafts = state.drafts.clone();
        tokio::spawn(serve(
            listener,
            router(store.clone(), state),
            std::future::pending(),
        ));
        Studio {
            store,
            drafts,
            address,
            _folder: folder,
        }
    }

    async fn get(&self, path: &str) -> Answer {
        self.ask(&format!("GET {path}"), "", "").await
    }

    async fn post(&self, path: &str, form: &str) -> Answer {
        self.send(path, "application/x-www-form-urlencoded", form)
            .await
    }

    async fn send(&self, path: &str, kind: &str, body: &str) -> Answer {
        let headers = format!(
            "Origin: http://{}\r\nContent-Type: {kind}\r\n",
            self.address
        );
        self.ask(&format!("POST {path}"), &headers, body).await
    }

    async fn ask(&self, what: &str, headers: &str, body: &str) -> Answer {
        let mut stream = TcpStream::connect(self.address).await.unwrap();
        let request = format!(
            "{what} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n{headers}Content-Length: {}\r\n\r\n{body}",
            self.address,
            body.len()
        );
        stream.write_all(request.as_bytes()).await.unwrap();
        let mut bytes = Vec::new();
        stream.read_to_end(&mut bytes).await.unwrap();
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let status = text.split(' ').nth(1).unwrap().parse().unwrap();
        Answer { status, text }
    }
}
