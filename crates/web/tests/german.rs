//! The studio in German, over a real connection: none of the catalogue's English is left on them.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]
#![allow(dead_code, reason = "the sample serves other tests as well")]

mod sample;

use lessonwright_language::{FILES, Language};
use lessonwright_store::Store;
use lessonwright_web::bring_in::{Doors, Intake, phone_router};
use lessonwright_web::{AppState, Spoken, router, serve};
use std::net::SocketAddr;
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::{TcpListener, TcpStream};

/// Shorter words may well stand in names or in what is the same in both languages.
const TELLING: usize = 12;

const PAGES: [&str; 24] = [
    "/",
    "/players",
    "/players/1",
    "/players/2",
    "/players/1/settings",
    "/players/1/practice",
    "/players/1/before-after",
    "/search?for=slice",
    "/studio",
    "/studio/players/1/erase",
    "/swings/1",
    "/swings/2",
    "/swings/2/bench",
    "/swings/2/bench?with=3&how=over",
    "/swings/2/lesson",
    "/bring-in",
    "/players/1/bring-in",
    "/players/1/bring-in/camera",
    "/drills",
    "/players/1/ball?club=driver&start=left&curve=right",
    "/players/1/progress",
    "/progress",
    "/players/1/letter",
    "/studio/camera",
];

#[tokio::test]
async fn no_english_of_the_catalogue_is_left() {
    let studio = Studio::start().await;
    let english = english_sentences();
    assert!(english.len() > 300, "{}", english.len());
    let mut pages = Vec::new();
    for path in PAGES {
        pages.push((path, ask(studio.own, "GET", path).await));
    }
    let made = ask(studio.own, "POST", "/players/1/bring-in/phones/make").await;
    let link = made.split("/from-phone/").nth(1).unwrap();
    let token = link.split(['<', '"']).next().unwrap();
    for path in [format!("/from-phone/{token}"), "/from-phone/none".into()] {
        pages.push(("a phone's", ask(studio.phones, "GET", &path).await));
    }
    for (path, page) in &pages {
        // What an analysis wrote when it was made stays in its language.
        let page = page.replace("Move the lower body toward the target first", "");
        assert!(page.contains("<html lang=\"de\">"), "{path}: {page}");
        let left: Vec<&String> = english.iter().filter(|text| page.contains(*text)).collect();
        assert!(left.is_empty(), "{path}: {left:?}");
    }
}

/// The check would see one: the same pages in English are full of them.
#[tokio::test]
async fn english_pages_have_the_english_sentences() {
    let studio = Studio::start().await;
    studio.spoken.choose(Language::English);
    let english = english_sentences();
    for path in PAGES {
        let page = ask(studio.own, "GET", path).await;
        let found = english.iter().filter(|text| page.contains(*text)).count();
        assert!(found >= 3, "{path}: {found}");
    }
}

/// Whole messages of one line in which nothing is filled in, and which are another in German.
fn english_sentences() -> Vec<String> {
    let lines = |source: &'static str| {
        source
            .lines()
            .filter_map(|line| line.split_once(" = "))
            .filter(|(id, text)| !id.starts_with(' ') && !text.contains(['{', '<']))
    };
    let mut sentences = Vec::new();
    for (_, english, german) in FILES {
        let german: Vec<(&str, &str)> = lines(german).collect();
        for (id, text) in lines(english) {
            if text.len() >= TELLING && !german.contains(&(id, text)) {
                sentences.push(text.to_owned());
            }
        }
    }
    sentences
}

struct Studio {
    own: SocketAddr,
    phones: SocketAddr,
    spoken: Spoken,
    _folder: tempfile::TempDir,
}

impl Studio {
    async fn start() -> Studio {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).await.unwrap();
        sample::fill(&store).await;
        let phones = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let phones_at = phones.local_addr().unwrap();
        let spoken = Spoken::new(Language::German);
        let state = AppState {
            spoken: spoken.clone(),
            bring_in: Intake::with_doors(Doors {
                phones: Some(format!("http://{phones_at}")),
                folder: None,
            }),
            ..sample::state()
        };
        let own = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let own_at = own.local_addr().unwrap();
        let pages = router(store.clone(), state.clone());
        tokio::spawn(serve(own, pages, std::future::pending()));
        let door = phone_router(store, state);
        tokio::spawn(serve(phones, door, std::future::pending()));
        Studio {
            own: own_at,
            phones: phones_at,
            spoken,
            _folder: folder,
        }
    }
}

async fn ask(at: SocketAddr, method: &str, path: &str) -> String {
    let mut stream = TcpStream::connect(at).await.unwrap();
    let request = format!(
        "{method} {path} HTTP/1.1\r\nHost: {at}\r\nOrigin: http://{at}\r\nConnection: close\r\n\
         Content-Length: 0\r\n\r\n"
    );
    stream.write_all(request.as_bytes()).await.unwrap();
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).await.unwrap();
    String::from_utf8(answer).unwrap()
}
