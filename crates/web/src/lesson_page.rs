//! A lesson's page as it is served. What is sent is one file with its pictures inside; over a network the words are there sooner
//! if the pictures lie beside them, so here they do.

use axum::http::HeaderValue;
use axum::http::header::{CONTENT_SECURITY_POLICY, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use axum_extra::TypedHeader;
use axum_extra::headers::Range;
use axum_range::{KnownSize, Ranged};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use lessonwright_store::Lesson;
use std::io::Cursor;

/// The page shows its own pictures and does nothing else.
const POLICY: HeaderValue = HeaderValue::from_static(
    "default-src 'none'; style-src 'unsafe-inline'; img-src 'self'; media-src 'self'; \
     base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
);

/// What a page may hold. Nothing of it can carry a script.
const KINDS: [&str; 4] = ["image/jpeg", "image/png", "image/webp", "video/mp4"];

/// The range that was asked for; a browser plays a film from a server that keeps to it.
pub type Asked = Option<TypedHeader<Range>>;

/// The page of the lesson that lies at `address`.
pub fn served(lesson: &Lesson, address: &str) -> Response {
    let page = String::from_utf8_lossy(&lesson.page);
    let headers = [
        (
            CONTENT_TYPE,
            HeaderValue::from_static("text/html; charset=utf-8"),
        ),
        (CONTENT_SECURITY_POLICY, POLICY),
    ];
    (headers, pictures_beside(&page, address)).into_response()
}

/// The picture or film of a page with this number; none if it has no such.
pub fn picture(lesson: &Lesson, number: &str, asked: Asked) -> Option<Response> {
    let page = String::from_utf8_lossy(&lesson.page);
    let found = inside(&page).nth(number.parse().ok()?)?;
    let kind = KINDS.iter().find(|kind| **kind == found.kind)?;
    let bytes = STANDARD.decode(found.base64).ok()?;
    let length = bytes.len() as u64;
    let body = KnownSize::sized(Cursor::new(bytes), length);
    let ranged = Ranged::new(asked.map(|TypedHeader(range)| range), body);
    Some(([(CONTENT_TYPE, *kind)], ranged).into_response())
}

/// What a page holds inside itself (RFC 2397, "data:" addresses).
struct Inside<'a> {
    kind: &'a str,
    base64: &'a str,
    /// The whole address.
    data: &'a str,
}

/// In the order in which they stand in the page. A quotation mark in somebody's own words is escaped, so words are no picture.
fn inside(page: &str) -> impl Iterator<Item = Inside<'_>> {
    page.match_indices("=\"data:").filter_map(|(at, _)| {
        let data = page[at + 2..].split('"').next()?;
        let (kind, base64) = data.strip_prefix("data:")?.split_once(";base64,")?;
        KINDS
            .contains(&kind)
            .then_some(Inside { kind, base64, data })
    })
}

fn pictures_beside(page: &str, address: &str) -> String {
    let mut beside = String::new();
    let mut rest = page;
    for (number, picture) in inside(page).enumerate() {
        if let Some((before, after)) = rest.split_once(picture.data) {
            beside.push_str(before);
            beside.push_str(&format!("{address}/pictures/{number}"));
            rest = after;
        }
    }
    beside + rest
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE: &str = r#"<p>="data: in words</p><img src="data:image/png;base64,QUJD"><i style="x"></i><video src="data:video/mp4;base64,QUJDRA=="></video><a href="data:text/html;base64,QUJD">"#;

    #[test]
    fn pictures_lie_beside_the_page_and_nothing_else_is_taken_out() {
        assert_eq!(
            pictures_beside(PAGE, "/lessons/7"),
            r#"<p>="data: in words</p><img src="/lessons/7/pictures/0"><i style="x"></i><video src="/lessons/7/pictures/1"></video><a href="data:text/html;base64,QUJD">"#
        );
        let kinds: Vec<_> = inside(PAGE)
            .map(|found| (found.kind, found.base64))
            .collect();
        assert_eq!(kinds, [("image/png", "QUJD"), ("video/mp4", "QUJDRA==")]);
        assert_eq!(pictures_beside("", "/lessons/7"), "");
    }
}
