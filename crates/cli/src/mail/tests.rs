//! E-mails against a mail server of our own on the loopback address, which speaks SMTP as RFC 5321 has it (from memory): what
//! it is told, and what happens when it says no, not now, or nothing.

use super::*;
use jiff::civil::date;
use lessonwright_model::PlayerFacts;
use lessonwright_store::{NewConsent, PlayerId};
use std::sync::{Arc, Mutex};
use tempfile::TempDir;
use tokio::io::{AsyncBufReadExt, AsyncWriteExt, BufReader};
use tokio::net::TcpListener;

/// Letters that a server took, as they came.
type Letters = Arc<Mutex<Vec<String>>>;

struct Studio {
    _folder: TempDir,
    postman: Postman,
    letters: Letters,
    player: PlayerId,
}

fn at(second: i64) -> Timestamp {
    Timestamp::from_second(1_795_597_200 + second).unwrap()
}

impl Studio {
    /// With a server that answers RCPT TO with these, one after the other, then with 250.
    async fn with(answers: &[&'static str]) -> Studio {
        let folder = tempfile::tempdir().unwrap();
        let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let port = listener.local_addr().unwrap().port();
        let letters = Letters::default();
        tokio::spawn(serve(listener, answers.to_vec(), Arc::clone(&letters)));
        let text = format!(
            "host = \"127.0.0.1\"\nport = {port}\nsecurity = \"none\"\nfrom = \"studio@mail.example\"\n\
             to = \"imke@mail.example\"\nmost_an_hour = 3"
        );
        std::fs::write(folder.path().join("mail.toml"), text).unwrap();
        let store = Store::open(folder.path()).await.unwrap();
        let facts = PlayerFacts {
            name: "Mara Lind".into(),
            health_note: Some("bad knee".into()),
            age_years: Some(40),
            ..PlayerFacts::default()
        };
        let player = store.add_player(&facts, at(0)).await.unwrap();
        let settings = MailSettings::load(folder.path()).unwrap().unwrap();
        Studio {
            _folder: folder,
            postman: Postman {
                store,
                settings,
                academy: "Harrow Lane".into(),
                coach: "Imke Brandt".into(),
            },
            letters,
            player,
        }
    }

    async fn ask(&self, kind: MailKind, second: i64) {
        let now = at(second);
        let store = &self.postman.store;
        store
            .ask_for_mail(self.player, kind, now, now)
            .await
            .unwrap();
    }

    async fn sent_at(&self, second: i64) -> Vec<Mail> {
        self.postman.send_due(at(second)).await.unwrap();
        self.postman.store.mails().await.unwrap()
    }

    fn letters(&self) -> Vec<String> {
        self.letters.lock().unwrap().clone()
    }
}

async fn serve(listener: TcpListener, answers: Vec<&'static str>, letters: Letters) {
    let mut answers = answers.into_iter();
    while let Ok((stream, _)) = listener.accept().await {
        let (read, mut write) = stream.into_split();
        let mut lines = BufReader::new(read).lines();
        write.write_all(b"220 mail.example\r\n").await.unwrap();
        let mut letter: Option<String> = None;
        while let Ok(Some(line)) = lines.next_line().await {
            if let Some(text) = &mut letter {
                if line != "." {
                    *text += (line + "\n").as_str();
                    continue;
                }
                letters.lock().unwrap().push(std::mem::take(text));
                letter = None;
            }
            let answer = match line.split([' ', ':']).next().unwrap() {
                "EHLO" => "250 mail.example",
                "RCPT" => answers.next().unwrap_or("250 ok"),
                "DATA" => {
                    letter = Some(String::new());
                    "354 go on"
                }
                "QUIT" => "221 bye",
                _ => "250 ok",
            };
            let sent = write.write_all(format!("{answer}\r\n").as_bytes()).await;
            if sent.is_err() || answer.starts_with("221") {
                break;
            }
        }
    }
}

#[tokio::test]
async fn the_professional_is_told_once_and_of_nothing_about_health() {
    let studio = Studio::with(&[]).await;
    studio.ask(MailKind::SentIn, 0).await;
    studio.ask(MailKind::SentIn, 1).await;
    let mails = studio.sent_at(2).await;
    assert_eq!(
        (mails.len(), mails[0].state),
        (1, MailState::Sent),
        "{mails:?}"
    );
    let letters = studio.letters();
    assert_eq!(letters.len(), 1);
    for part in [
        "From: studio@mail.example",
        "To: imke@mail.example",
        "Subject: Mara Lind sent something",
        "Message-ID:",
        "Date:",
    ] {
        assert!(letters[0].contains(part), "{part} in {}", letters[0]);
    }
    assert!(!letters[0].contains("knee"));
    studio.sent_at(3).await;
    assert_eq!(studio.letters().len(), 1, "not twice");
}

#[tokio::test]
async fn what_is_refused_for_now_is_tried_again_later_and_later() {
    let studio = Studio::with(&["451 busy", "451 busy"]).await;
    studio.ask(MailKind::SentIn, 0).await;
    for (second, tries, next) in [(0, 1, 60), (30, 1, 60), (60, 2, 180), (179, 2, 180)] {
        let mail = studio.sent_at(second).await.remove(0);
        assert_eq!(
            (mail.tries, mail.next_at),
            (tries, at(next)),
            "{second} s: {mail:?}"
        );
        assert!(
            mail.trouble
                .as_deref()
                .is_some_and(|why| why.contains("busy"))
        );
    }
    let mail = studio.sent_at(180).await.remove(0);
    assert_eq!((mail.state, mail.trouble), (MailState::Sent, None));
}

#[tokio::test]
async fn what_is_refused_for_good_or_for_five_days_is_given_up() {
    let studio = Studio::with(&["550 no such person", "451 busy"]).await;
    studio.ask(MailKind::SentIn, 0).await;
    assert_eq!(studio.sent_at(0).await[0].state, MailState::GivenUp);
    studio.ask(MailKind::SentIn, 10).await;
    let late = studio.sent_at(10 + 5 * 86_400 + 1).await;
    assert_eq!(late[1].state, MailState::GivenUp, "{late:?}");
    assert_eq!(studio.letters(), [""; 0]);
}

#[tokio::test]
async fn a_server_that_is_not_there_stops_nothing() {
    let mut studio = Studio::with(&[]).await;
    // A port that was free a moment ago.
    let gone = TcpListener::bind("127.0.0.1:0").await.unwrap();
    let text = format!(
        "host = \"127.0.0.1\"\nport = {}\nsecurity = \"none\"\nfrom = \"a@mail.example\"\nto = \"b@mail.example\"",
        gone.local_addr().unwrap().port()
    );
    drop(gone);
    std::fs::write(studio._folder.path().join("mail.toml"), text).unwrap();
    studio.postman.settings = MailSettings::load(studio._folder.path()).unwrap().unwrap();
    studio.ask(MailKind::SentIn, 0).await;
    let mail = studio.sent_at(0).await.remove(0);
    assert_eq!((mail.state, mail.tries), (MailState::Waiting, 1));
}

#[tokio::test]
async fn no_more_go_out_in_an_hour_than_is_set() {
    let studio = Studio::with(&[]).await;
    for second in 0..6 {
        studio.ask(MailKind::SentIn, 10 * second).await;
        studio.sent_at(10 * second).await;
    }
    assert_eq!(studio.letters().len(), 3);
    studio.sent_at(3700).await;
    assert_eq!(studio.letters().len(), 4, "what waited is one");
}

#[tokio::test]
async fn a_player_is_told_of_a_lesson_only_while_all_is_agreed_to() {
    let studio = Studio::with(&[]).await;
    let store = &studio.postman.store;
    let told = async |second| {
        studio.ask(MailKind::LessonReady, second).await;
        studio.sent_at(second).await.pop().unwrap().state
    };
    assert_eq!(told(0).await, MailState::GivenUp, "nothing agreed");
    let on = date(2026, 11, 1);
    let address = Some(("mara@mail.example", on));
    store
        .keep_mail_address(studio.player, address)
        .await
        .unwrap();
    assert_eq!(told(1).await, MailState::GivenUp, "not to be sent lessons");
    let consent = NewConsent {
        purpose: Purpose::Sending,
        given_by: "Mara Lind".into(),
        by_guardian: false,
        given_on: on,
    };
    store.record_consent(studio.player, &consent).await.unwrap();
    assert_eq!(told(2).await, MailState::GivenUp, "no link");
    let (kind, token) = (LinkKind::Personal, "t0k3n");
    store
        .add_link(kind, studio.player, token, at(0), at(90))
        .await
        .unwrap();
    assert_eq!(told(3).await, MailState::Sent);
    assert_eq!(told(91).await, MailState::GivenUp, "the link ended");
    let letters = studio.letters();
    assert_eq!(letters.len(), 1);
    assert!(
        letters[0].contains("To: mara@mail.example"),
        "{}",
        letters[0]
    );
    assert!(!letters[0].contains(token) && !letters[0].contains("Mara"));
}

#[tokio::test]
async fn each_gets_the_e_mail_in_the_own_language() {
    let studio = Studio::with(&[]).await;
    let store = &studio.postman.store;
    store
        .choose_studio_language(Language::German)
        .await
        .unwrap();
    studio.ask(MailKind::SentIn, 0).await;
    studio.sent_at(0).await;
    let mut facts = store.player(studio.player).await.unwrap().unwrap().facts;
    let on = date(2026, 11, 1);
    let consent = NewConsent {
        purpose: Purpose::Sending,
        given_by: "Mara Lind".into(),
        by_guardian: false,
        given_on: on,
    };
    store.record_consent(studio.player, &consent).await.unwrap();
    let address = Some(("mara@mail.example", on));
    store
        .keep_mail_address(studio.player, address)
        .await
        .unwrap();
    store
        .add_link(LinkKind::Personal, studio.player, "t0k3n", at(0), at(90))
        .await
        .unwrap();
    studio.ask(MailKind::LessonReady, 1).await;
    studio.sent_at(1).await;
    facts.language = Some(Language::English);
    store.update_player(studio.player, &facts).await.unwrap();
    studio.ask(MailKind::LessonReady, 2).await;
    studio.sent_at(2).await;
    for (letter, parts) in studio.letters().iter().zip([
        [
            "Subject: Mara Lind hat etwas geschickt",
            "Link etwas geschickt.",
        ],
        [
            "Subject: Ihre Lektion ist da",
            "Eine Lektion von Imke Brandt",
        ],
        ["Subject: Your lesson is there", "A lesson from Imke Brandt"],
    ]) {
        for part in parts {
            assert!(letter.contains(part), "{part} in {letter}");
        }
    }
    assert_eq!(studio.letters().len(), 3);
}
