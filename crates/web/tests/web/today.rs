//! Today, the search, a player's record and before and after, over a real connection: plain forms, no scripts.

use crate::client::Served;
use crate::sample;
use lessonwright_model::{Hand, PlayerFacts};
use lessonwright_store::{LessonId, LessonState, NoteId, PlayerId};
use lessonwright_web::offer_to_search;

#[tokio::test]
async fn who_comes_is_written_down_moved_and_cancelled() {
    let studio = Served::start().await;
    let today = studio.get("/").await;
    assert!(today.body.contains("Nobody in the next seven days."));
    let form =
        "player=tobias&day=2026-11-26&time=14:30&minutes=60&place=Mat+2&purpose=Third+lesson";
    let answer = studio.post("/appointments", form).await;
    assert_eq!(
        (answer.status, answer.location()),
        (303, "/"),
        "{}",
        answer.body
    );
    let today = studio.get("/").await;
    let coming = between(&today.body, "Who is coming", "</section>");
    for text in [
        "tomorrow",
        "14:30",
        "60 min",
        "Tobias Wren",
        "Third lesson",
        "Mat 2",
    ] {
        assert!(coming.contains(text), "{text}: {coming}");
    }
    let moved = "day=2026-11-27&time=09:00&minutes=45&place=&purpose=Third+lesson&on_page_of=1";
    let answer = studio.post("/appointments/1", moved).await;
    assert_eq!(
        (answer.status, answer.location()),
        (303, "/players/1#diary")
    );
    let own = studio.get("/players/1").await;
    assert!(own.body.contains("Friday 27 November 2026"));
    studio.post("/appointments/1", "what=cancel").await;
    assert!(
        studio
            .get("/")
            .await
            .body
            .contains("Nobody in the next seven days.")
    );
    for (form, says) in [
        (
            "player=Nobody&day=2026-11-26&time=14:30",
            "Nobody on the roster",
        ),
        ("player=Tobias+Wren&day=&time=14:30", "On which day?"),
        (
            "player=Tobias+Wren&day=2026-11-26&time=noon",
            "At what time?",
        ),
        (
            "player=Tobias+Wren&day=2026-11-26&time=14:30&minutes=two",
            "no number of minutes",
        ),
        (
            "player=Tobias+Wren&day=2026-11-26&time=14:30&minutes=1",
            "length in minutes",
        ),
    ] {
        let answer = studio.post("/appointments", form).await;
        assert_eq!(answer.status, 422, "{form}");
        assert!(answer.body.contains(says), "{says}: {}", answer.body);
    }
    assert_eq!(
        studio.post("/appointments/1", "what=cancel").await.status,
        404
    );
}

#[tokio::test]
async fn a_lesson_goes_from_the_list_to_be_read_to_the_list_to_be_sent_and_off_it() {
    let studio = Served::start().await;
    let list = async |title: &str| {
        let page = studio.get("/").await.body;
        between(&page, title, "</section>").to_owned()
    };
    assert!(list("Waiting for you").await.contains("Tobias Wren"));
    studio
        .store
        .approve_lesson(LessonId(2), sample::now())
        .await
        .unwrap();
    assert!(!list("Waiting for you").await.contains("href=\"/swings/2\""));
    let send = list("Lessons to send").await;
    assert!(
        send.contains("Has not agreed to be sent lessons: Tobias Wren"),
        "{send}"
    );
    let refused = studio.post("/lessons/2/sent", "").await;
    assert_eq!(refused.status, 422);
    assert!(
        refused.body.contains("Tobias Wren has not agreed"),
        "{}",
        refused.body
    );
    let agreed = "purpose=sending&given_by=Tobias+Wren&given_on=2026-11-25";
    assert_eq!(studio.post("/players/1/consent", agreed).await.status, 303);
    assert!(
        list("Lessons to send")
            .await
            .contains("action=\"/lessons/2/sent\"")
    );
    let sent = studio.post("/lessons/2/sent", "").await;
    assert_eq!((sent.status, sent.location()), (303, "/swings/2"));
    let lesson = studio
        .store
        .lesson_summary(LessonId(2))
        .await
        .unwrap()
        .unwrap();
    assert_eq!(
        (lesson.state(), lesson.sent_at),
        (LessonState::Sent, Some(sample::now()))
    );
    assert!(!list("Lessons to send").await.contains("Tobias"));
    assert!(
        studio
            .get("/swings/2")
            .await
            .body
            .contains("sent 25 November 2026, 09:00")
    );
}

#[tokio::test]
async fn a_swing_that_needs_no_lesson_is_set_aside_and_put_back() {
    let studio = Served::start().await;
    let waiting = async || {
        let page = studio.get("/").await.body;
        between(&page, "Waiting for you", "</section>").contains("/swings/2/aside")
    };
    assert!(waiting().await);
    assert_eq!(studio.post("/swings/2/aside", "").await.location(), "/");
    assert!(!waiting().await);
    assert_eq!(
        studio.post("/swings/2/aside", "back=yes").await.location(),
        "/swings/2"
    );
    assert!(waiting().await);
    assert_eq!(studio.post("/swings/99/aside", "").await.status, 404);
}

#[tokio::test]
async fn a_players_record_is_kept_by_forms() {
    let studio = Served::start().await;
    let facts = "name=Tobias+Wren&hand=left&stature_cm=181%2C5&usual_flight=hook&golf_so_far=Plays+since+2019\
                 &bag=Seven+irons";
    assert_eq!(studio.post("/players/1/facts", facts).await.status, 303);
    let kept = studio
        .store
        .player(PlayerId(1))
        .await
        .unwrap()
        .unwrap()
        .facts;
    assert_eq!((kept.hand, kept.stature_m), (Some(Hand::Left), Some(1.815)));
    // What this form does not ask stays.
    assert!(kept.screening.is_some());
    studio
        .post("/players/1/notes", "text=Grip+%3Cb%3E&noted_on=2026-11-20")
        .await;
    let page = studio.get("/players/1").await.body;
    for text in [
        "Plays since 2019",
        "Seven irons",
        "Grip &#60;b&#62;",
        "20 November 2026",
    ] {
        assert!(page.contains(text), "{text}");
    }
    studio
        .post("/players/1/notes/1", "text=Better&noted_on=2026-11-21")
        .await;
    let note = studio.store.note(NoteId(1)).await.unwrap().unwrap();
    assert_eq!(note.text, "Better");
    // Another player's page can't reach it.
    assert_eq!(
        studio
            .post("/players/2/notes/1", "what=delete")
            .await
            .status,
        404
    );
    studio.post("/players/1/notes/1", "what=delete&text=").await;
    assert_eq!(studio.store.note(NoteId(1)).await.unwrap(), None);
    for (path, form, says) in [
        ("/players/1/facts", "name=&stature_cm=", "a name"),
        (
            "/players/1/facts",
            "name=Tobias+Wren&stature_cm=tall",
            "no number",
        ),
        (
            "/players/1/facts",
            "name=Tobias+Wren&stature_cm=900",
            "Stature",
        ),
        (
            "/players/1/facts",
            "name=Tobias+Wren&usual_flight=wobble",
            "no ball flight",
        ),
        ("/players/1/facts", "name=Nia+Okonedo-Hart", "already"),
        ("/players/1/notes", "text=+", "no words"),
        (
            "/players/1/consent",
            "purpose=sending&given_on=2027-01-01",
            "still to come",
        ),
        (
            "/players/2/consent",
            "purpose=sending&given_by=",
            "guardian",
        ),
        (
            "/players/2/consent",
            "purpose=sending&given_by=Nia+Okonedo-Hart",
            "alone",
        ),
        ("/players", "name=Tobias+Wren", "already"),
    ] {
        let answer = studio.post(path, form).await;
        assert_eq!(answer.status, 422, "{path} {form}: {}", answer.body);
        assert!(answer.body.contains(says), "{says}: {}", answer.body);
    }
}

#[tokio::test]
async fn consents_stand_apart_and_are_withdrawn_with_a_day() {
    let studio = Served::start().await;
    for purpose in ["teaching", "showing"] {
        let form = format!("purpose={purpose}&given_by=Tobias+Wren&given_on=2026-11-02");
        studio.post("/players/1/consent", &form).await;
    }
    studio
        .post("/players/1/consent", "purpose=showing&what=withdraw")
        .await;
    let page = studio.get("/players/1").await.body;
    let consents = between(&page, "id=\"consents\"", "</section>");
    for text in [
        "Tobias Wren 2 November 2026</p>",
        "withdrawn on 25 November 2026 (was: Tobias Wren 2 November 2026)",
        "not on record: no lesson is sent",
    ] {
        assert!(consents.contains(text), "{text}: {consents}");
    }
    assert_eq!(
        studio
            .post("/players/1/consent", "purpose=selling")
            .await
            .status,
        404
    );
}

#[tokio::test]
async fn a_search_leads_to_everything_and_says_when_there_is_nothing() {
    let studio = Served::start().await;
    studio
        .store
        .add_note(
            PlayerId(1),
            "2026-11-20".parse().unwrap(),
            "Tobias sways",
            sample::now(),
        )
        .await
        .unwrap();
    let trade = sample::state().prescribing;
    offer_to_search(&studio.store, &trade.causes, &trade.book)
        .await
        .unwrap();
    let page = studio.get("/search?for=tobi").await.body;
    for address in [
        "/players/1\"",
        "/swings/2\"",
        "/lessons/2\"",
        "/players/1#notes\"",
    ] {
        assert!(page.contains(&format!("href=\"{address}")), "{address}");
    }
    assert!(page.contains("<mark>Tobias</mark> sways"));
    let drill = studio.get("/search?for=bump+stick").await.body;
    assert!(drill.contains("href=\"/drills/bump_the_stick\""));
    assert!(
        studio
            .get("/drills/bump_the_stick")
            .await
            .body
            .contains("Watch for")
    );
    assert_eq!(studio.get("/drills/bump_the_stick").await.status, 200);
    assert!(
        studio
            .get("/search?for=xyzzy")
            .await
            .body
            .contains("Nothing has these words")
    );
    let hostile = studio.get("/search?for=%3Cscript%3E%22%27OR+NEAR(").await;
    assert_eq!(hostile.status, 200);
    assert!(!hostile.body.contains("<script>\""));
    let part = studio.get("/search?for=tobi&part=yes").await.body;
    assert!(part.contains("href=\"/players/1\"") && !part.contains("<html"));
}

#[tokio::test]
async fn a_german_studio_finds_and_reads_german_words() {
    let studio = Served::start().await;
    let trade = sample::state().prescribing;
    offer_to_search(&studio.store, &trade.causes, &trade.book)
        .await
        .unwrap();
    let nothing = studio.get("/search?for=unterk%C3%B6rper").await.body;
    assert!(nothing.contains("Nothing has these words"), "{nothing}");
    studio.post("/studio/language", "language=de").await;
    // A priority, which the analysis has in English.
    let page = studio.get("/search?for=unterk%C3%B6rper").await.body;
    for part in [
        "href=\"/swings/2\"",
        "Schwung 2 · 24.11.2026",
        "href=\"/lessons/2\"",
        "<mark>Unterkörper</mark>",
    ] {
        assert!(page.contains(part), "{part}: {page}");
    }
    for english in ["swing 2", "lesson 2", "lower body"] {
        assert!(!page.contains(english), "{english}: {page}");
    }
    // A drill, under its German name; what a player's facts say, also in the roster's filter.
    let drill = studio.get("/search?for=stab+ansto%C3%9Fen").await.body;
    assert!(
        drill.contains("<span class=\"title\">Den Stab anstoßen"),
        "{drill}"
    );
    let handed = studio.get("/players?named=linksh%C3%A4nder").await.body;
    assert!(handed.contains("Nia Okonedo-Hart") && !handed.contains("Tobias Wren"));
}

#[tokio::test]
async fn the_roster_is_turned_page_by_page_and_filtered() {
    let studio = Served::start().await;
    for number in 0..60 {
        let facts = PlayerFacts {
            name: format!("Zed {number:02}"),
            ..PlayerFacts::default()
        };
        studio
            .store
            .add_player(&facts, sample::now())
            .await
            .unwrap();
    }
    let first = studio.get("/players").await.body;
    assert!(first.contains("64 players, page 1 of 2") && !first.contains("Zed 59"));
    let second = studio.get("/players?page=2").await.body;
    assert!(second.contains("Zed 59") && !second.contains("Tobias"));
    // Beyond the last page is the last page.
    assert!(
        studio
            .get("/players?page=999")
            .await
            .body
            .contains("page 2 of 2")
    );
    let some = studio.get("/players?named=zed+0").await.body;
    assert!(some.contains("10 players") && some.contains("Zed 07") && !some.contains("Zed 10"));
    assert!(
        studio
            .get("/players?named=nobody")
            .await
            .body
            .contains("Nobody has")
    );
    let taken = studio.post("/players", "name=New+Person&hand=right").await;
    assert_eq!((taken.status, taken.location()), (303, "/players/65"));
}

#[tokio::test]
async fn two_swings_stand_side_by_side_at_the_same_moments() {
    let studio = Served::start().await;
    let page = studio.get("/players/1/before-after").await.body;
    for text in [
        "Before and after",
        "value=\"1\" selected=\"\"",
        "value=\"2\" selected=\"\"",
    ] {
        assert!(page.contains(text), "{text}");
    }
    let one = studio.get("/players/3/before-after").await;
    assert!(one.body.contains("held against itself"));
    assert_eq!(studio.get("/players/99/before-after").await.status, 404);
    assert_eq!(
        studio
            .get("/players/1/before-after?before=x&after=99&view=up")
            .await
            .status,
        200
    );
}

/// The text from one mark to another.
fn between<'a>(text: &'a str, from: &str, to: &str) -> &'a str {
    let start = text.find(from).unwrap_or_else(|| panic!("no {from}"));
    let rest = &text[start..];
    &rest[..rest.find(to).unwrap_or(rest.len())]
}
