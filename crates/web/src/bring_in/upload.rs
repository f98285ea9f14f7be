//! Clips on their way in. Two ways: a plain multipart form, and pieces that go on where they were cut off: the tus resumable
//! upload protocol 1.0.0 (tus.io/protocols/resumable-upload: core, creation, expiration, termination, checksum with SHA-1; from
//! memory). A piece with a checksum is kept whole or not at all.

use super::random_key;
use crate::language::say;
use crate::routes::Studio;
use axum::body::Body;
use axum::extract::Multipart;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE, LOCATION};
use axum::http::{HeaderMap, HeaderName, HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use http_body_util::BodyExt;
use jiff::SignedDuration;
use lessonwright_language::t;
use lessonwright_model::View;
use lessonwright_store::{LinkId, PlayerId, StoreError, Upload};
use sha1::{Digest, Sha1};
use std::time::Duration;
use tokio::io::AsyncWriteExt;
use tokio::time::timeout;

/// Longest file, bytes: the longest clip that is opened (15 min) as a phone's 4K fits.
pub const MOST_BYTES: u64 = 8 << 30;
/// How long an upload that was cut off is kept to be gone on with.
const KEPT_FOR: SignedDuration = SignedDuration::from_hours(48);
/// A sender that is silent for so long has gone; what it sent stays.
const SILENT_FOR: Duration = Duration::from_secs(20);
/// The only version there is.
const VERSION: &str = "1.0.0";

/// What a request may bring in.
#[derive(Clone, Copy, Debug, Default)]
pub struct Scope {
    /// Whose clips, if not the request says so.
    pub player: Option<PlayerId>,
    /// The phone's link it comes by.
    pub link: Option<LinkId>,
}

/// Why bytes were not taken.
#[derive(Debug)]
pub enum Refusal {
    /// With a status and what to do.
    Because(StatusCode, String),
}

type Taken<T> = Result<T, Refusal>;

fn because<T>(status: StatusCode, what: impl Into<String>) -> Taken<T> {
    Err(Refusal::Because(status, what.into()))
}

impl From<StoreError> for Refusal {
    fn from(error: StoreError) -> Refusal {
        let status = match &error {
            StoreError::GuardianConsentMissing { .. } => StatusCode::FORBIDDEN,
            StoreError::NoPlayer(_) => StatusCode::NOT_FOUND,
            full if full.is_disk_full() => {
                return Refusal::Because(
                    StatusCode::INSUFFICIENT_STORAGE,
                    said("bring-in-disk-full"),
                );
            }
            _ => StatusCode::INTERNAL_SERVER_ERROR,
        };
        Refusal::Because(status, format!("{error}."))
    }
}

impl IntoResponse for Refusal {
    fn into_response(self) -> Response {
        let Refusal::Because(status, what) = self;
        tus((status, what).into_response())
    }
}

impl Refusal {
    pub fn says(self) -> String {
        let Refusal::Because(_, what) = self;
        what
    }
}

/// What the server speaks.
pub async fn options() -> Response {
    let headers = [
        ("tus-version", VERSION.to_owned()),
        (
            "tus-extension",
            "creation,expiration,termination,checksum".to_owned(),
        ),
        ("tus-checksum-algorithm", "sha1".to_owned()),
        ("tus-max-size", MOST_BYTES.to_string()),
    ];
    tus((
        StatusCode::NO_CONTENT,
        axum::response::AppendHeaders(headers),
    )
        .into_response())
}

/// Begins an upload; the answer says where it goes on: `base`/KEY.
pub async fn create(studio: &Studio, scope: Scope, base: &str, headers: &HeaderMap) -> Response {
    match begin(studio, scope, headers).await {
        Ok((key, ends)) => tus((
            StatusCode::CREATED,
            [(LOCATION, format!("{base}/{key}")), (EXPIRES, ends)],
        )
            .into_response()),
        Err(refusal) => refusal.into_response(),
    }
}

const EXPIRES: HeaderName = HeaderName::from_static("upload-expires");
const OFFSET: HeaderName = HeaderName::from_static("upload-offset");
const LENGTH: HeaderName = HeaderName::from_static("upload-length");

async fn begin(studio: &Studio, scope: Scope, headers: &HeaderMap) -> Taken<(String, String)> {
    check_version(headers)?;
    let Some(length) = number(headers, &LENGTH) else {
        return because(
            StatusCode::BAD_REQUEST,
            "Say how long the file is: Upload-Length.",
        );
    };
    if length > MOST_BYTES {
        return because(StatusCode::PAYLOAD_TOO_LARGE, too_large());
    }
    if length == 0 {
        return because(StatusCode::BAD_REQUEST, said("bring-in-empty-file-phone"));
    }
    let said = metadata(headers);
    let of = |name: &str| {
        said.iter()
            .find(|(known, _)| known == name)
            .map(|(_, text)| text.as_str())
    };
    let now = (studio.state.now)();
    let ends_at = now + KEPT_FOR;
    let upload = Upload {
        length,
        name: plain_name(of("filename").unwrap_or("clip.mp4")),
        player: scope
            .player
            .or_else(|| of("player")?.parse().ok().map(PlayerId))
            .map(|id| id.0),
        link: scope.link.map(|id| id.0),
        camera: of("camera").is_some(),
        view: of("view").and_then(view_said),
        ends_at,
        arrival: None,
    };
    studio.store.sweep_uploads(now).await?;
    let key = random_key();
    studio.store.begin_upload(&key, &upload).await?;
    // As HTTP writes dates (RFC 9110 5.6.7).
    Ok((
        key,
        ends_at.strftime("%a, %d %b %Y %H:%M:%S GMT").to_string(),
    ))
}

/// How far an upload is.
pub async fn offset(studio: &Studio, scope: Scope, key: &str) -> Response {
    match find(studio, scope, key).await {
        Ok((upload, offset)) => tus((
            [
                (OFFSET, offset.to_string()),
                (LENGTH, upload.length.to_string()),
                (CACHE_CONTROL, "no-store".to_owned()),
            ],
            (),
        )
            .into_response()),
        Err(refusal) => refusal.into_response(),
    }
}

/// Takes the next bytes of an upload; with the last of them it becomes an arrival.
pub async fn append(
    studio: &Studio,
    scope: Scope,
    key: &str,
    headers: &HeaderMap,
    body: Body,
) -> Response {
    match take(studio, scope, key, headers, body).await {
        Ok(offset) => tus((StatusCode::NO_CONTENT, [(OFFSET, offset.to_string())]).into_response()),
        Err(refusal) => refusal.into_response(),
    }
}

async fn take(
    studio: &Studio,
    scope: Scope,
    key: &str,
    headers: &HeaderMap,
    body: Body,
) -> Taken<u64> {
    check_version(headers)?;
    if headers.get(CONTENT_TYPE).map(HeaderValue::as_bytes)
        != Some(b"application/offset+octet-stream")
    {
        return because(
            StatusCode::UNSUPPORTED_MEDIA_TYPE,
            "Content-Type must be application/offset+octet-stream.",
        );
    }
    let intake = &studio.state.bring_in;
    let Some(_mine) = intake.write_to(key) else {
        return because(
            StatusCode::LOCKED,
            "Another request is still sending to this upload.",
        );
    };
    let (upload, at) = find(studio, scope, key).await?;
    if number(headers, &OFFSET) != Some(at) {
        return because(StatusCode::CONFLICT, format!("The upload goes on at {at}."));
    }
    if upload.arrival.is_some() {
        return Ok(at);
    }
    let (at, ended) = match checksum(headers)? {
        None => write(studio, key, at, upload.length, body, &mut |_| {}).await?,
        Some(said) => write_checked(studio, key, at, upload.length, body, said).await?,
    };
    if at == upload.length {
        studio
            .store
            .end_upload(key, &upload, (studio.state.now)())
            .await?;
        intake.ring();
    } else if !ended {
        return because(StatusCode::REQUEST_TIMEOUT, said("bring-in-connection-cut"));
    }
    Ok(at)
}

/// Writes a piece that says its SHA-1; takes it off again where another came.
async fn write_checked(
    studio: &Studio,
    key: &str,
    at: u64,
    length: u64,
    body: Body,
    said: Vec<u8>,
) -> Taken<(u64, bool)> {
    let mut sum = Sha1::new();
    let written = write(studio, key, at, length, body, &mut |bytes| {
        sum.update(bytes)
    })
    .await;
    match written {
        Ok((end, true)) if sum.finalize()[..] == said[..] => Ok((end, true)),
        written => {
            studio.store.cut_upload(key, at).await?;
            match written? {
                (_, true) => because(
                    mismatch(),
                    "The piece is not what was sent: it was damaged on its way. Send it again.",
                ),
                // Half a piece can't be checked.
                (_, false) => Ok((at, false)),
            }
        }
    }
}

/// "460 Checksum Mismatch", as the protocol calls it.
fn mismatch() -> StatusCode {
    StatusCode::from_u16(460).unwrap_or(StatusCode::BAD_REQUEST)
}

/// The bytes of a checksum, if the piece has one.
fn checksum(headers: &HeaderMap) -> Taken<Option<Vec<u8>>> {
    let Some(text) = headers.get("upload-checksum") else {
        return Ok(None);
    };
    let text = text.to_str().unwrap_or_default();
    let sum = match text.split_once(' ') {
        Some(("sha1", code)) => STANDARD.decode(code.trim()).ok(),
        _ => None,
    };
    match sum {
        Some(sum) => Ok(Some(sum)),
        None => because(
            StatusCode::BAD_REQUEST,
            "Upload-Checksum must be sha1 and the sum in Base64.",
        ),
    }
}

/// Writes what comes, up to `length`, and shows it to `seen`; where that leaves the upload, and whether the sender ended in order.
async fn write(
    studio: &Studio,
    key: &str,
    mut at: u64,
    length: u64,
    mut body: Body,
    seen: &mut (dyn FnMut(&[u8]) + Send),
) -> Taken<(u64, bool)> {
    let failed = |error| studio.store.upload_failed(key, error);
    let mut file = studio.store.upload_end(key).await?;
    let ended = loop {
        match timeout(SILENT_FOR, body.frame()).await {
            Ok(None) => break true,
            Ok(Some(Ok(frame))) => {
                let Ok(bytes) = frame.into_data() else {
                    continue;
                };
                if at + bytes.len() as u64 > length {
                    file.flush().await.map_err(failed)?;
                    return because(
                        StatusCode::BAD_REQUEST,
                        "More bytes came than the file has: begin again.",
                    );
                }
                file.write_all(&bytes).await.map_err(failed)?;
                seen(&bytes);
                at += bytes.len() as u64;
            }
            // Cut off or silent: what came is kept.
            Ok(Some(Err(_))) | Err(_) => break false,
        }
    };
    file.flush().await.map_err(failed)?;
    file.sync_data().await.map_err(failed)?;
    Ok((at, ended))
}

/// Gives an upload up.
pub async fn end(studio: &Studio, scope: Scope, key: &str) -> Response {
    let ended = async {
        find(studio, scope, key).await?;
        Ok::<(), Refusal>(studio.store.drop_upload(key).await?)
    };
    match ended.await {
        Ok(()) => tus(StatusCode::NO_CONTENT.into_response()),
        Err(refusal) => refusal.into_response(),
    }
}

/// An upload of this scope: a phone finds its own alone.
async fn find(studio: &Studio, scope: Scope, key: &str) -> Taken<(Upload, u64)> {
    match studio.store.upload(key).await? {
        Some((upload, at)) if upload.link == scope.link.map(|id| id.0) => Ok((upload, at)),
        _ => because(StatusCode::NOT_FOUND, said("bring-in-unknown-upload")),
    }
}

/// What a form brought.
#[derive(Default)]
pub struct Brought {
    /// How many clips are in.
    pub clips: usize,
    /// What was not taken: its name and why.
    pub refused: Vec<(String, String)>,
}

/// Takes the clips of a plain form: the fields `player` and `view`, if it has them, stand before the files.
pub async fn form(studio: &Studio, scope: Scope, mut form: Multipart) -> Brought {
    let mut brought = Brought::default();
    let (mut player, mut view) = (scope.player, None);
    loop {
        let field = match form.next_field().await {
            Ok(Some(field)) => field,
            Ok(None) => break,
            Err(error) => {
                let why = cut_off(&error.body_text());
                brought.refused.push((said("bring-in-last-clip"), why));
                break;
            }
        };
        match field.name() {
            Some("player") if scope.player.is_none() => {
                player = field
                    .text()
                    .await
                    .ok()
                    .and_then(|text| text.parse().ok())
                    .map(PlayerId);
            }
            Some("view") => view = field.text().await.ok().and_then(|text| view_said(&text)),
            Some(name @ ("clips" | "face_on" | "down_the_line")) => {
                let name_came = plain_name(field.file_name().unwrap_or_default());
                let said = view_said(name).or(view);
                let scope = Scope { player, ..scope };
                match whole(studio, scope, said, name_came.clone(), field).await {
                    Ok(true) => brought.clips += 1,
                    // The field was left empty.
                    Ok(false) => {}
                    Err(refusal) => brought.refused.push((name_came, refusal.says())),
                }
            }
            _ => {}
        }
    }
    studio.state.bring_in.ring();
    brought
}

/// One file of a form.
async fn whole(
    studio: &Studio,
    scope: Scope,
    view: Option<View>,
    name: String,
    mut field: axum::extract::multipart::Field<'_>,
) -> Taken<bool> {
    let key = random_key();
    let now = (studio.state.now)();
    let mut upload = Upload {
        length: MOST_BYTES,
        name,
        player: scope.player.map(|id| id.0),
        link: scope.link.map(|id| id.0),
        camera: false,
        view,
        ends_at: now + KEPT_FOR,
        arrival: None,
    };
    studio.store.begin_upload(&key, &upload).await?;
    let mut length = 0;
    let taken = async {
        let failed = |error| studio.store.upload_failed(&key, error);
        let mut file = studio.store.upload_end(&key).await?;
        loop {
            match field.chunk().await {
                Ok(Some(bytes)) => {
                    length += bytes.len() as u64;
                    if length > MOST_BYTES {
                        return because(StatusCode::PAYLOAD_TOO_LARGE, too_large());
                    }
                    file.write_all(&bytes).await.map_err(failed)?;
                }
                Ok(None) => break,
                Err(error) => {
                    let why = cut_off(&error.body_text());
                    return because(StatusCode::BAD_REQUEST, why);
                }
            }
        }
        file.flush().await.map_err(failed)?;
        if length == 0 && field.file_name().is_some_and(|name| !name.is_empty()) {
            return because(StatusCode::BAD_REQUEST, said("bring-in-empty-file"));
        }
        Ok(())
    };
    let taken = taken.await;
    if taken.is_ok() && length > 0 {
        upload.length = length;
        studio.store.end_upload(&key, &upload, now).await?;
    }
    studio.store.drop_upload(&key).await?;
    taken.map(|()| length > 0)
}

fn too_large() -> String {
    say().text(&t("bring-in-too-large").with("most", MOST_BYTES >> 30))
}

fn cut_off(why: &str) -> String {
    say().text(&t("bring-in-cut-off").with("why", why))
}

fn said(id: &'static str) -> String {
    say().text(&t(id))
}

/// A name without a folder and without what can't be shown; at most 120 characters.
fn plain_name(name: &str) -> String {
    let last = name.rsplit(['/', '\\']).next().unwrap_or_default();
    let shown: String = last.chars().filter(|c| !c.is_control()).collect();
    let count = shown.chars().count();
    // The extension stands at the end.
    let shown: String = shown.chars().skip(count.saturating_sub(120)).collect();
    match shown.trim() {
        "" => "clip.mp4".to_owned(),
        shown => shown.to_owned(),
    }
}

pub fn view_said(text: &str) -> Option<View> {
    match text {
        "face_on" => Some(View::FaceOn),
        "down_the_line" => Some(View::DownTheLine),
        _ => None,
    }
}

/// The pairs of `Upload-Metadata`: a name, a space, the text in Base64; commas between.
fn metadata(headers: &HeaderMap) -> Vec<(String, String)> {
    let text = headers.get("upload-metadata").and_then(|v| v.to_str().ok());
    let pairs = text.unwrap_or_default().split(',').filter_map(|pair| {
        let mut parts = pair.trim().splitn(2, ' ');
        let (name, code) = (parts.next()?, parts.next().unwrap_or_default());
        let text = String::from_utf8(STANDARD.decode(code.trim()).ok()?).ok()?;
        Some((name.to_owned(), text))
    });
    pairs.collect()
}

fn number(headers: &HeaderMap, name: &HeaderName) -> Option<u64> {
    headers.get(name)?.to_str().ok()?.parse().ok()
}

fn check_version(headers: &HeaderMap) -> Taken<()> {
    match headers.get("tus-resumable").map(HeaderValue::as_bytes) {
        Some(b"1.0.0") => Ok(()),
        _ => because(
            StatusCode::PRECONDITION_FAILED,
            "Tus-Resumable must be 1.0.0.",
        ),
    }
}

fn tus(mut response: Response) -> Response {
    let headers = response.headers_mut();
    headers.insert("tus-resumable", HeaderValue::from_static(VERSION));
    if response.status() == StatusCode::PRECONDITION_FAILED {
        let headers = response.headers_mut();
        headers.insert("tus-version", HeaderValue::from_static(VERSION));
    }
    response
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::in_english;
    use std::io;

    #[test]
    fn metadata_is_read_as_the_protocol_writes_it() {
        let mut headers = HeaderMap::new();
        // The example of the protocol's page (tus.io, Upload-Metadata; from memory).
        let text = "filename d29ybGRfZG9taW5hdGlvbl9wbGFuLnBkZg==,is_confidential";
        headers.insert("upload-metadata", HeaderValue::from_static(text));
        let expected = [
            ("filename", "world_domination_plan.pdf"),
            ("is_confidential", ""),
        ];
        let expected = expected.map(|(a, b)| (a.to_owned(), b.to_owned()));
        assert_eq!(metadata(&headers), expected);
    }

    #[test]
    fn a_full_disk_is_told_as_one() {
        for (kind, status) in [
            (io::ErrorKind::StorageFull, StatusCode::INSUFFICIENT_STORAGE),
            (
                io::ErrorKind::QuotaExceeded,
                StatusCode::INSUFFICIENT_STORAGE,
            ),
            (
                io::ErrorKind::PermissionDenied,
                StatusCode::INTERNAL_SERVER_ERROR,
            ),
        ] {
            let refusal = in_english(|| {
                Refusal::from(StoreError::File {
                    action: "write",
                    path: "clip".into(),
                    source: kind.into(),
                })
            });
            let Refusal::Because(found, _) = refusal;
            assert_eq!(found, status, "{kind:?}");
        }
    }

    #[test]
    fn names_lose_their_folders_and_stay_short() {
        for (name, expected) in [
            ("C:\\films\\IMG 1.MOV", "IMG 1.MOV"),
            ("../../etc/passwd", "passwd"),
            ("", "clip.mp4"),
            ("a\u{0}b\n.mp4", "ab.mp4"),
        ] {
            assert_eq!(plain_name(name), expected, "{name:?}");
        }
        assert!(plain_name(&("x".repeat(500) + ".mov")).ends_with("x.mov"));
    }
}
