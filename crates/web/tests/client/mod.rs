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
    pub head: String,
    pub bytes: Vec<u8>,
    /// The same as text, as far as it is.
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

    /// Where it leads.
    pub fn location(&self) -> &str {
        self.header("location")
    }
}

impl Served {
    /// Opens the sample.
    pub async fn start() -> Served {
        Served::with(crate::sample::state()).await
    }

    /// Opens the sample with this state.
    pub async fn with(state: AppState) -> Served {
        let studio = Served::empty(state).await;
        crate::sample::fill(&studio.store).await;
        studio
    }

    /// Opens a studio with nobody in it.
    pub async fn empty(state: AppState) -> Served {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).await.unwrap();
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
        let kind = ("Content-Type", "multipart/form-data; boundary=b");
        self.ask(&format!("POST {path}"), &[kind], body).await
    }

    /// With headers of its own.
    pub async fn ask(&self, what: &str, headers: &[(&str, &str)], form: &str) -> Answer {
        let (method, path) = what.split_once(' ').unwrap();
        let headers: Vec<(&str, String)> = headers
            .iter()
            .map(|(name, value)| (*name, (*value).to_owned()))
            .collect();
        ask(self.address, method, path, &headers, form.as_bytes()).await
    }
}

/// A request as the form of a page from there sends it; `headers` stand in place of those of the same
/// name, one without a value for none.
pub async fn ask(
    at: SocketAddr,
    method: &str,
    path: &str,
    headers: &[(&str, String)],
    body: &[u8],
) -> Answer {
    let mut stream = TcpStream::connect(at).await.unwrap();
    let head = head(at, method, path, headers, body.len());
    stream.write_all(head.as_bytes()).await.unwrap();
    // A server that refuses by the head alone may close before the body is written.
    let _ = stream.write_all(body).await;
    let mut bytes = Vec::new();
    let _ = stream.read_to_end(&mut bytes).await;
    let end = bytes.windows(4).position(|four| four == b"\r\n\r\n");
    let body = bytes.split_off(end.unwrap() + 4);
    let head = String::from_utf8(bytes).unwrap();
    Answer {
        status: head[9..12].parse().unwrap(),
        body: String::from_utf8_lossy(&body).into_owned(),
        bytes: body,
        head,
    }
}

/// What such a request begins with. HTTP/1.0 (RFC 1945): an answer's body is not chunked and ends with the connection.
pub fn head(
    at: SocketAddr,
    method: &str,
    path: &str,
    headers: &[(&str, String)],
    length: usize,
) -> String {
    let own = [
        ("Host", at.to_string()),
        ("Origin", format!("http://{at}")),
        ("Content-Type", "application/x-www-form-urlencoded".into()),
        ("Content-Length", length.to_string()),
    ];
    let own = own
        .iter()
        .filter(|(name, _)| headers.iter().all(|(other, _)| other != name));
    let lines: String = own
        .chain(headers)
        .filter(|(_, value)| !value.is_empty())
        .map(|(name, value)| format!("{name}: {value}\r\n"))
        .collect();
    format!("{method} {path} HTTP/1.0\r\n{lines}\r\n")
}
