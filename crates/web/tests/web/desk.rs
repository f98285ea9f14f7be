//! The lesson desk over a real connection: plain forms, what is kept, what may be approved and handed over.

use crate::client::Served;
use crate::sample;
use lessonwright_model::{DoseChoice, PriorityChoice};
use lessonwright_store::{LessonId, SwingId};

/// Tobias Wren's swing with one thing to work on.
const DESK: &str = "/swings/2/lesson";
const SWING: SwingId = SwingId(2);

#[tokio::test]
async fn what_is_taught_is_kept_and_the_lesson_waits_for_its_draft() {
    let studio = Served::start().await;
    let page = studio.get(DESK).await;
    assert_eq!(page.status, 200);
    assert!(page.body.contains("data-draft=\"ready\"") && page.body.contains("value=\"nothing\""));
    let form = "work_on=nothing&why=He+hurts+today&drill=&dose=half";
    let answer = studio.post(&format!("{DESK}/teaching"), form).await;
    assert_eq!(answer.status, 303);
    assert_eq!(answer.location(), "/swings/2/lesson#what");
    let kept = studio.store.choices(SWING).await.unwrap().choices.teaching;
    let why = "He hurts today".to_owned();
    assert_eq!(kept.priority, PriorityChoice::Nothing { why });
    assert_eq!(kept.dose, DoseChoice::Half);
    let page = studio.get(DESK).await;
    assert!(
        page.body.contains("value=\"He hurts today\"")
            && page.body.contains("data-draft=\"under_way\"")
    );
    // Not with an older draft, nor handed over.
    let answer = studio.post(&format!("{DESK}/approve"), "").await;
    assert_eq!(answer.status, 409);
    assert!(answer.body.contains("being drafted"));
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
    let studio = Served::start().await;
    let usual = "note=&show%3Aface_on%3Aaddress=yes&show%3Aface_on%3Atop=yes&words%3Aface_on%3Atop=Look+at+%3Cthis%3E";
    studio.post(&format!("{DESK}/words"), usual).await;
    let kept = studio.store.choices(SWING).await.unwrap().choices;
    let pictures = kept.pictures.unwrap();
    assert_eq!(pictures.len(), 2);
    assert_eq!(pictures[1].caption, "Look at <this>");
    assert_eq!(kept.note.as_deref(), Some(""));
    let page = studio.get(DESK).await;
    assert!(page.body.contains("Look at &#60;this&#62;") && !page.body.contains("Look at <this>"));
}

#[tokio::test]
async fn a_failed_draft_is_said_with_what_to_do() {
    let state = sample::state();
    let drafts = state.drafts.clone();
    let studio = Served::with(state).await;
    studio.post(&format!("{DESK}/words"), "note=Hello").await;
    drafts.note(SWING, Some("The disk is full.".to_owned()));
    let page = studio.get(DESK).await;
    for words in ["The disk is full.", "Try again", "What you chose is kept"] {
        assert!(page.body.contains(words), "{words}");
    }
    assert!(
        studio
            .get(&format!("{DESK}/state"))
            .await
            .body
            .contains("\"state\":\"failed\"")
    );
}

#[tokio::test]
async fn the_preview_is_framed_by_the_studio_alone_and_stays_without_scripts() {
    let studio = Served::start().await;
    let framed = studio.get(&format!("{DESK}/preview")).await;
    let policy = "frame-ancestors 'self'; sandbox";
    assert!(
        framed.head.contains(policy) && framed.head.contains("x-frame-options: SAMEORIGIN"),
        "{}",
        framed.head
    );
    assert!(framed.head.contains("default-src 'none'"));
    let lesson = studio.get("/lessons/2").await;
    assert!(
        lesson.head.contains("frame-ancestors 'none'")
            && lesson.head.contains("x-frame-options: DENY")
    );
}

#[tokio::test]
async fn an_approved_lesson_is_handed_over_in_one_file() {
    let studio = Served::start().await;
    let answer = studio.post(&format!("{DESK}/approve"), "").await;
    assert_eq!(answer.status, 303, "{}", answer.body);
    let zip = studio.get(&format!("{DESK}/all.zip")).await;
    assert_eq!(zip.header("content-type"), "application/zip");
    // PKWARE APPNOTE 4.3.7: a local file header, here with the name after it.
    assert!(
        zip.body.contains("PK\u{3}\u{4}")
            && zip
                .body
                .contains("Tobias Wren 24 November 2026/lesson.html")
    );
}

#[tokio::test]
async fn what_is_no_recording_and_who_is_not_there_are_refused() {
    let studio = Served::start().await;
    let body = "--b\r\nContent-Disposition: form-data; name=\"voice\"; filename=\"v.webm\"\r\n\r\n\r\n--b--\r\n";
    let answer = studio.multipart(&format!("{DESK}/voice"), body).await;
    assert_eq!(answer.status, 400);
    let body = body.replace("\r\n\r\n\r\n", "\r\n\r\nsound\r\n");
    let answer = studio.multipart(&format!("{DESK}/voice"), &body).await;
    assert_eq!(answer.status, 303, "{}", answer.body);
    let heard = studio.get(&format!("{DESK}/voice")).await;
    let found = (&heard.body[..], heard.header("content-type"));
    assert_eq!(found, ("sound", "audio/webm"));
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
    let studio = Served::start().await;
    assert_eq!(studio.get("/players/1/letter").await.status, 200);
    for path in [
        "/players/1/letter/page?note=Hi",
        "/players/1/letter/letter.pdf?note=Hi",
    ] {
        let answer = studio.get(path).await;
        assert_eq!(answer.status, 409);
        assert!(
            answer.body.contains("nothing to write about")
                && answer.body.contains(">Hi</textarea>")
        );
    }
    assert_eq!(studio.get("/players/99/letter").await.status, 404);
}
