//! What asks a served studio as a browser would, over a real connection.

use lessonwright_store::Store;
use lessonwright_web::{AppState, router, serve};
use std::net::SocketAddr;
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::{TcpListener, TcpStream};

/// A studio that is open, in a folder of its own.
pub struct Served {
    pub store: Store,
    pub address: SocketAddr,
    folder: tempfile::TempDir,
}

/// What came back.
pub struct Answer {
    pub status: u16,
    head: String,
    pub body: String,
}

impl Answer {
    /// A header's value; empty where it is not there.
    pub fn header(&self, name: &str) -> &str {
        let mut lines = self.head.lines();
        let line = lines.find_map(|line| {
            let (key, value) = line.split_once(": ")?;
            key.eq_ignore_ascii_case(name).then_some(value)
        });
        line.unwrap_or_default()
    }
}

impl Served {
    /// Opens the sample with this state.
    pub async fn with(state: AppState) -> Served {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).await.unwrap();
        crate::sample::fill(&store).await;
        let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let address = listener.local_addr().unwrap();
        let pages = router(store.clone(), state);
        tokio::spawn(serve(listener, pages, std::future::pending()));
        Served {
            store,
            address,
            folder,
        }
    }

    /// The studio's folder.
    pub fn folder(&self) -> &std::path::Path {
        self.folder.path()
    }

    pub async fn get(&self, path: &str) -> Answer {
        self.ask(&format!("GET {path}"), &[], "").await
    }

    pub async fn post(&self, path: &str, form: &str) -> Answer {
        self.ask(&format!("POST {path}"), &[], form).await
    }

    /// A form with files in it; the boundary is "b".
    pub async fn multipart(&self, path: &str, body: &str) -> Answer {
        self.send(
            &format!("POST {path}"),
            "multipart/form-data; boundary=b",
            &[],
            body,
        )
        .await
    }

    /// With headers of its own.
    pub async fn ask(&self, what: &str, headers: &[(&str, &str)], form: &str) -> Answer {
        self.send(what, "application/x-www-form-urlencoded", headers, form)
            .await
    }

    async fn send(&self, what: &str, kind: &str, headers: &[(&str, &str)], form: &str) -> Answer {
        let mut stream = TcpStream::connect(self.address).await.unwrap();
        let host = self.address;
        let more: String = headers
            .iter()
            .map(|(name, value)| format!("{name}: {value}\r\n"))
            .collect();
        let request = format!(
            "{what} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nConnection: close\r\n{more}\
             Content-Type: {kind}\r\nContent-Length: {}\r\n\r\n{form}",
            form.len()
        );
        stream.write_all(request.as_bytes()).await.unwrap();
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).await.unwrap();
        let answer = String::from_utf8(answer).unwrap();
        let (head, body) = answer.split_once("\r\n\r\n").unwrap();
        Answer {
            status: head[9..12].parse().unwrap(),
            head: head.to_owned(),
            body: body.to_owned(),
        }
    }
}
