//! A player's personal link over real connections: who is let in, what goes in, what comes out, and what never does.

use crate::client::{Answer, ask};
use crate::sample;
use jiff::{SignedDuration, Timestamp};
use lessonwright_language::Language;
use lessonwright_store::{
    FileKind, LessonId, LinkKind, MailKind, NewConsent, PlayerId, Purpose, Store,
};
use lessonwright_web::bring_in::{Doors, Intake};
use lessonwright_web::personal::{Address, personal_router};
use lessonwright_web::{AppState, router, serve};
use std::net::SocketAddr;
use std::time::{Duration, Instant};
use tokio::net::TcpListener;

const TOBIAS: PlayerId = PlayerId(1);
const NIA: PlayerId = PlayerId(2);
const TOKEN: &str = "0123456789abcdef0123456789abcdef";

struct Studio {
    _folder: tempfile::TempDir,
    store: Store,
    own: SocketAddr,
    door: SocketAddr,
}

impl Studio {
    async fn start() -> Studio {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).await.unwrap();
        sample::fill(&store).await;
        let door = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let door_at = door.local_addr().unwrap();
        let address = Address::parse(&format!("http://{door_at}/")).unwrap();
        let state = AppState {
            bring_in: Intake::with_doors(Doors {
                players: Some(address.origin().to_owned()),
                mail_after: Some(SignedDuration::from_secs(60)),
                ..Doors::default()
            }),
            ..sample::state()
        };
        let own = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let own_at = own.local_addr().unwrap();
        let pages = router(store.clone(), state.clone());
        tokio::spawn(serve(own, pages, std::future::pending()));
        let pages = personal_router(store.clone(), state, address);
        tokio::spawn(serve(door, pages, std::future::pending()));
        Studio {
            _folder: folder,
            store,
            own: own_at,
            door: door_at,
        }
    }

    async fn link(&self, player: PlayerId, token: &str, ends: Timestamp) {
        let kind = LinkKind::Personal;
        let made = sample::now() - SignedDuration::from_hours(1);
        self.store
            .add_link(kind, player, token, made, ends)
            .await
            .unwrap();
    }

    async fn with_link(player: PlayerId) -> Studio {
        let studio = Studio::start().await;
        let ends = sample::now() + SignedDuration::from_hours(24);
        studio.link(player, TOKEN, ends).await;
        studio
    }

    async fn get(&self, path: &str) -> Answer {
        ask(self.door, "GET", path, &[], b"").await
    }

    async fn post(&self, path: &str, form: &str) -> Answer {
        ask(self.door, "POST", path, &[], form.as_bytes()).await
    }

    async fn agree(&self, player: PlayerId, by_guardian: bool) {
        let consent = NewConsent {
            purpose: Purpose::Sending,
            given_by: "Ada Okonedo".into(),
            by_guardian,
            given_on: jiff::civil::date(2026, 11, 1),
        };
        self.store.record_consent(player, &consent).await.unwrap();
    }
}

fn page() -> String {
    format!("/for/{TOKEN}")
}

#[tokio::test]
async fn a_token_that_is_wrong_ended_or_a_phones_is_answered_alike_and_slowly() {
    let studio = Studio::with_link(TOBIAS).await;
    let now = sample::now();
    let (ended, phones) = ("e".repeat(32), "f".repeat(32));
    studio.link(TOBIAS, &ended, now).await;
    let later = now + SignedDuration::from_hours(1);
    studio
        .store
        .add_link(LinkKind::Phone, TOBIAS, &phones, now, later)
        .await
        .unwrap();
    assert_eq!(studio.get(&page()).await.status, 200);
    let mut answers = Vec::new();
    for path in [
        format!("/for/{}", "0".repeat(32)),
        format!("/for/{ended}"),
        format!("/for/{phones}"),
        format!("/for/{ended}/lessons/1"),
        "/for/".into(),
        "/".into(),
        "/players/1".into(),
        "/lessons/1".into(),
    ] {
        let began = Instant::now();
        let answer = studio.get(&path).await;
        assert_eq!(answer.status, 404, "{path}");
        assert!(
            began.elapsed() > Duration::from_millis(500),
            "{path}: {:?}",
            began.elapsed()
        );
        answers.push(answer.body);
    }
    assert!(answers.iter().all(|body| *body == answers[0]));
    assert!(!answers[0].contains("/players"), "no way into the studio");
    let ends = studio
        .store
        .end_links(LinkKind::Personal, TOBIAS, now)
        .await;
    ends.unwrap();
    assert_eq!(studio.get(&page()).await.status, 404, "withdrawn");
}

#[tokio::test]
async fn every_answer_keeps_the_address_to_itself() {
    let studio = Studio::with_link(TOBIAS).await;
    for path in [page(), "/for/wrong".into(), "/personal/personal.css".into()] {
        let head = studio.get(&path).await.head.to_lowercase();
        for header in [
            "referrer-policy: no-referrer",
            "x-robots-tag: noindex",
            "content-security-policy: default-src 'self'",
            "x-frame-options: deny",
            "cache-control: no-store",
        ] {
            assert!(head.contains(header), "{path}: {header} in {head}");
        }
    }
    assert!(
        studio
            .get("/robots.txt")
            .await
            .body
            .contains("Disallow: /\n")
    );
    let other = ask(studio.own, "GET", &page(), &[], b"").await;
    assert_eq!(
        other.status, 404,
        "the studio's own door has no player's page"
    );
}

#[tokio::test]
async fn a_lesson_is_there_once_it_is_approved_and_agreed_to_and_no_sooner() {
    // Nia, 15, has one lesson, approved; Tobias has two, drafts.
    let studio = Studio::with_link(NIA).await;
    let other = "a".repeat(32);
    let ends = sample::now() + SignedDuration::from_hours(1);
    studio.link(TOBIAS, &other, ends).await;
    let lesson = studio.store.lessons_of_player(NIA).await.unwrap()[0].id;
    let draft = studio.store.lessons_of_player(TOBIAS).await.unwrap()[0].id;
    for kind in [FileKind::Paper, FileKind::Film] {
        studio
            .store
            .keep_lesson_file(lesson, kind, b"bytes")
            .await
            .unwrap();
    }
    let files = |token: &str, id: LessonId| {
        ["", "/pictures/0", "/lesson.pdf", "/film.mp4"]
            .map(|file| format!("/for/{token}/lessons/{id}{file}"))
    };
    let shown = studio.get(&page()).await.body;
    assert!(shown.contains("A lesson is ready. Agree first"), "{shown}");
    assert!(!shown.contains("/lessons/"));
    for path in files(TOKEN, lesson) {
        assert_eq!(studio.get(&path).await.status, 404, "not agreed: {path}");
    }
    assert_eq!(
        studio
            .store
            .lesson_summary(lesson)
            .await
            .unwrap()
            .unwrap()
            .sent_at,
        None
    );
    studio.agree(NIA, true).await;
    assert!(
        studio
            .get(&page())
            .await
            .body
            .contains(&files(TOKEN, lesson)[0])
    );
    for path in files(TOKEN, lesson) {
        assert_eq!(studio.get(&path).await.status, 200, "{path}");
    }
    let policy = studio
        .get(&files(TOKEN, lesson)[0])
        .await
        .head
        .to_lowercase();
    assert!(
        policy.contains("content-security-policy: default-src 'none'"),
        "{policy}"
    );
    let sent = studio.store.lesson_summary(lesson).await.unwrap().unwrap();
    assert_eq!(sent.sent_at, Some(sample::now()), "opened is sent");
    studio.agree(TOBIAS, false).await;
    for path in files(&other, draft)
        .iter()
        .chain(&files(&other, lesson))
        .chain(&files(TOKEN, draft))
    {
        assert_eq!(
            studio.get(path).await.status,
            404,
            "a draft or another's: {path}"
        );
    }
    let shown = studio.get(&format!("/for/{other}")).await.body;
    assert!(
        !shown.contains("/lessons/") && shown.contains("None yet"),
        "{shown}"
    );
}

#[tokio::test]
async fn answers_are_kept_once_and_what_hurts_is_before_the_professional() {
    let studio = Studio::with_link(TOBIAS).await;
    let form =
        "form=abc&pain=yes&area_1=knee&strength_1=4&flight=hook&club=wedge&feel=late%20hips&words=";
    let path = format!("{}/answers", page());
    for _ in 0..2 {
        let answer = studio.post(&path, form).await;
        assert_eq!(answer.status, 303, "{}", answer.body);
        assert!(answer.location().contains("?said=answers"));
    }
    assert_eq!(studio.store.taken_in_of(TOBIAS).await.unwrap().len(), 1);
    let facts = studio.store.player(TOBIAS).await.unwrap().unwrap().facts;
    assert_eq!(facts.usual_flight.as_deref(), Some("hook"));
    assert_eq!(facts.screening.unwrap().strongest(), 4);
    let today = ask(studio.own, "GET", "/", &[], b"").await.body;
    assert!(today.contains("answers: it hurts: knee 4 of 10"), "{today}");
    let own = ask(studio.own, "GET", "/players/1/link", &[], b"")
        .await
        .body;
    assert!(
        own.contains("late hips") && own.contains("talk to Tobias Wren"),
        "{own}"
    );
    let read = ask(studio.own, "POST", "/players/1/link/read", &[], b"").await;
    assert_eq!(read.status, 303);
    let today = ask(studio.own, "GET", "/", &[], b"").await.body;
    assert!(!today.contains("Sent by players"));
    let mails = studio.store.mails().await.unwrap();
    assert_eq!(mails.len(), 1, "one e-mail of both");
    assert_eq!(
        (mails[0].kind, mails[0].next_at),
        (
            MailKind::SentIn,
            sample::now() + SignedDuration::from_secs(60)
        )
    );
    let wrong = studio.post(&path, "form=d&pain=perhaps").await;
    assert_eq!(wrong.status, 422);
    assert!(wrong.body.contains("Does anything hurt? Choose yes or no."));
    let long = format!("form=d&pain=no&words={}", "x".repeat(70_000));
    assert_eq!(studio.post(&path, &long).await.status, 413);
    let headers = [("Origin", "https://elsewhere.example".to_owned())];
    let other = ask(studio.door, "POST", &path, &headers, b"form=e&pain=no").await;
    assert_eq!(other.status, 403);
}

#[tokio::test]
async fn a_player_is_spoken_to_in_the_own_language() {
    let studio = Studio::with_link(TOBIAS).await;
    let english = studio.get(&page()).await.body;
    assert!(english.contains("<html lang=\"en\">"), "{english}");
    assert!(english.contains("Your lessons") && english.contains("slice"));
    let mut facts = studio.store.player(TOBIAS).await.unwrap().unwrap().facts;
    facts.language = Some(Language::German);
    studio.store.update_player(TOBIAS, &facts).await.unwrap();
    let german = studio.get(&page()).await.body;
    for part in [
        "<html lang=\"de\">",
        "Ihre Lektionen",
        "Von vorn",
        "Fairwayholz",
        "{name}: ist da.",
        "Noch nichts.",
    ] {
        assert!(german.contains(part), "{part} in {german}");
    }
    assert_eq!(studio.get("/words.js").await.status, 200);
    let answers = format!("{}/answers", page());
    let wrong = studio.post(&answers, "form=d&pain=perhaps").await;
    assert_eq!(wrong.status, 422);
    assert!(
        wrong.body.contains("Wählen Sie Ja oder Nein"),
        "{}",
        wrong.body
    );
    let large = [
        ("Tus-Resumable", "1.0.0".to_owned()),
        ("Upload-Length", (1_u64 << 31).to_string()),
    ];
    let uploads = format!("{}/uploads", page());
    let large = ask(studio.door, "POST", &uploads, &large, b"").await;
    assert!(large.body.contains("Ein Video darf hier"), "{}", large.body);
    let studios = studio.get("/for/wrong").await.body;
    assert!(
        studios.contains("<html lang=\"en\">"),
        "nobody's: {studios}"
    );
    let own = ask(studio.own, "GET", "/players/1/link", &[], b"").await;
    assert!(own.body.contains("<html lang=\"en\">"), "{}", own.body);
}

#[tokio::test]
async fn clips_come_in_pieces_for_this_player_and_no_other() {
    let studio = Studio::with_link(TOBIAS).await;
    let begin = |length: String| {
        vec![
            ("Tus-Resumable", "1.0.0".to_owned()),
            ("Upload-Length", length),
            // "player 2", who is somebody else.
            (
                "Upload-Metadata",
                "filename c3dpbmcubXA0,player Mg==,view ZmFjZV9vbg==".to_owned(),
            ),
        ]
    };
    let uploads = format!("{}/uploads", page());
    let large = ask(
        studio.door,
        "POST",
        &uploads,
        &begin((1_u64 << 31).to_string()),
        b"",
    )
    .await;
    assert_eq!(large.status, 413, "{}", large.body);
    let begun = ask(studio.door, "POST", &uploads, &begin("6".into()), b"").await;
    assert_eq!(begun.status, 201, "{}", begun.body);
    let location = begun.location();
    for (at, bytes) in [(0, b"abc"), (3, b"def")] {
        let piece = [
            ("Tus-Resumable", "1.0.0".to_owned()),
            ("Upload-Offset", at.to_string()),
            ("Content-Type", "application/offset+octet-stream".to_owned()),
        ];
        let taken = ask(studio.door, "PATCH", location, &piece, bytes).await;
        assert_eq!(taken.status, 204, "{}", taken.body);
    }
    let clips = studio.store.arrivals_by_personal_link().await.unwrap();
    assert_eq!(clips.len(), 1);
    assert_eq!((clips[0].player, clips[0].bytes), (Some(TOBIAS), 6));
    assert_eq!(std::fs::read(&clips[0].path).unwrap(), b"abcdef");
    let shown = studio.get(&format!("{}/tray", page())).await.body;
    assert!(
        shown.contains("swing.mp4") && shown.contains("has arrived"),
        "{shown}"
    );
    let today = ask(studio.own, "GET", "/", &[], b"").await.body;
    assert!(
        today.contains("Sent by players") && today.contains("a clip"),
        "{today}"
    );
}

#[tokio::test]
async fn an_adult_agrees_and_takes_back_here_and_a_minor_does_not_agree_alone() {
    let studio = Studio::with_link(NIA).await;
    let path = format!("{}/agreed", page());
    let minor = studio.post(&path, "purpose=sending&what=agree").await;
    assert_eq!(minor.status, 422);
    assert!(minor.body.contains("A guardian agrees"), "{}", minor.body);
    let told = studio
        .post(
            &format!("{}/mail", page()),
            "address=nia@mail.example&agree=yes",
        )
        .await;
    assert_eq!(told.status, 422);
    let other = "b".repeat(32);
    let ends = sample::now() + SignedDuration::from_hours(1);
    studio.link(TOBIAS, &other, ends).await;
    let path = format!("/for/{other}/agreed");
    let in_force = async |purpose| {
        let consents = studio.store.consents_of(TOBIAS).await.unwrap();
        consents.in_force(purpose).is_some()
    };
    studio.post(&path, "purpose=sending&what=agree").await;
    assert!(in_force(Purpose::Sending).await);
    studio.post(&path, "purpose=sending&what=withdraw").await;
    assert!(!in_force(Purpose::Sending).await);
    assert_eq!(
        studio
            .post(&path, "purpose=showing&what=agree")
            .await
            .status,
        422
    );
    for what in ["agree", "withdraw"] {
        studio
            .post(&path, &format!("purpose=filming&what={what}"))
            .await;
    }
    let shown = studio.get(&format!("/for/{other}")).await.body;
    assert!(
        shown.contains("You took back that you are filmed"),
        "{shown}"
    );
    let mail = format!("/for/{other}/mail");
    assert_eq!(
        studio
            .post(&mail, "address=tobias@mail.example")
            .await
            .status,
        422,
        "not ticked"
    );
    studio
        .post(&mail, "address=tobias@mail.example&agree=yes")
        .await;
    let known = studio.store.mail_address(TOBIAS).await.unwrap();
    assert_eq!(known.unwrap().0, "tobias@mail.example");
    let lesson = studio.store.lessons_of_player(TOBIAS).await.unwrap()[0].id;
    studio
        .store
        .approve_lesson(lesson, sample::now())
        .await
        .unwrap();
    let kinds: Vec<MailKind> = studio
        .store
        .mails()
        .await
        .unwrap()
        .iter()
        .map(|m| m.kind)
        .collect();
    assert_eq!(kinds, [MailKind::LessonReady]);
    studio.post(&mail, "stop=yes").await;
    assert_eq!(studio.store.mail_address(TOBIAS).await.unwrap(), None);
    assert_eq!(
        studio.store.mails().await.unwrap(),
        [],
        "what waits goes nowhere"
    );
}

#[tokio::test]
async fn the_professional_makes_and_withdraws_a_link_whose_token_is_nowhere() {
    let studio = Studio::start().await;
    let made = ask(studio.own, "POST", "/players/1/link/make", &[], b"days=30").await;
    let (_, rest) = made.body.split_once("/for/").unwrap();
    let token = &rest[..32];
    assert!(made.body.contains("<svg class=\"square\""));
    assert_eq!(studio.get(&format!("/for/{token}")).await.status, 200);
    let again = ask(studio.own, "GET", "/players/1/link", &[], b"")
        .await
        .body;
    assert!(
        !again.contains(token) && again.contains("A link lives until 25 December 2026"),
        "{again}"
    );
    ask(studio.own, "POST", "/players/1/link/end", &[], b"").await;
    assert_eq!(studio.get(&format!("/for/{token}")).await.status, 404);
    for days in ["0", "401", "many", ""] {
        let form = format!("days={days}");
        let refused = ask(
            studio.own,
            "POST",
            "/players/1/link/make",
            &[],
            form.as_bytes(),
        )
        .await;
        assert_eq!(refused.status, 422, "{days}");
    }
}
