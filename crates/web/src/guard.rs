//! What every answer carries and every request must pass.
//!
//! A page of another site that the professional has open must not read the studio (by giving its
//! own name this machine's address) nor post to it.

use crate::error::page;
use crate::pages::Refused;
use axum::Router;
use axum::extract::Request;
use axum::http::header::{
    CACHE_CONTROL, CONTENT_SECURITY_POLICY, HOST, HeaderName, ORIGIN, REFERRER_POLICY,
    X_CONTENT_TYPE_OPTIONS, X_FRAME_OPTIONS,
};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode};
use axum::middleware::{self, Next};
use axum::response::Response;
use std::net::IpAddr;

/// Own style, own and inlined pictures, no scripts from anywhere but here, no frames.
const POLICY: &str = "default-src 'self'; img-src 'self' data:; object-src 'none'; \
                      base-uri 'none'; form-action 'self'; frame-ancestors 'none'";

/// Puts the guards around all routes.
pub fn guarded(router: Router) -> Router {
    router.layer(middleware::from_fn(guard))
}

async fn guard(request: Request, next: Next) -> Response {
    let mut response = match refusal(request.method(), request.headers()) {
        Some((status, reason)) => page(status, &Refused { reason }),
        None => next.run(request).await,
    };
    put_headers(response.headers_mut(), "same-origin");
    response
}

/// What every answer carries, where the page itself does not say otherwise.
pub(crate) fn put_headers(headers: &mut HeaderMap, referrer: &'static str) {
    for (name, value) in [
        (CONTENT_SECURITY_POLICY, POLICY),
        (X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (X_FRAME_OPTIONS, "DENY"),
        (REFERRER_POLICY, referrer),
        (
            HeaderName::from_static("cross-origin-resource-policy"),
            "same-origin",
        ),
        (CACHE_CONTROL, "no-store"),
    ] {
        headers
            .entry(name)
            .or_insert(HeaderValue::from_static(value));
    }
}

/// Why a request is refused, if it is.
fn refusal(method: &Method, headers: &HeaderMap) -> Option<(StatusCode, &'static str)> {
    let text = |name| {
        headers
            .get(name)
            .and_then(|v: &HeaderValue| v.to_str().ok())
    };
    let Some(host) = text(HOST).filter(|host| is_own_name(host)) else {
        let reason = "The studio answers to this machine's address or to a name ending in .local, \
                      not to the name you used.";
        return Some((StatusCode::MISDIRECTED_REQUEST, reason));
    };
    let origin_host = text(ORIGIN).and_then(|origin| Some(origin.split_once("://")?.1));
    if !method.is_safe() && origin_host != Some(host) {
        let reason = "This request did not come from one of the studio's own pages. Open the page \
                      again and press the button there.";
        return Some((StatusCode::FORBIDDEN, reason));
    }
    None
}

/// True for names that public DNS gives to nobody: an address, "localhost", or "….local" (RFC 6762).
fn is_own_name(host: &str) -> bool {
    let name = match host.rsplit_once(':') {
        Some((name, port)) if port.bytes().all(|b| b.is_ascii_digit()) => name,
        _ => host,
    };
    let address = name.trim_start_matches('[').trim_end_matches(']');
    let name = name.to_ascii_lowercase();
    address.parse::<IpAddr>().is_ok() || name == "localhost" || name.ends_with(".local")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_names_that_no_other_site_can_have_are_answered() {
        for (host, expected) in [
            ("127.0.0.1:8471", true),
            ("127.0.0.1", true),
            ("[::1]:8471", true),
            ("[::1]", true),
            ("localhost:8471", true),
            ("LOCALHOST", true),
            ("192.168.1.20:8471", true),
            ("studio.local:8471", true),
            ("studio.example:8471", false),
            ("localhost.example", false),
            ("127.0.0.1.example", false),
            ("local", false),
            ("", false),
        ] {
            assert_eq!(is_own_name(host), expected, "{host}");
        }
    }

    #[test]
    fn a_post_must_come_from_an_own_page() {
        let host = "127.0.0.1:8471";
        for (method, origin, refused) in [
            (Method::GET, None, false),
            (Method::HEAD, Some("http://elsewhere.example"), false),
            (Method::POST, Some("http://127.0.0.1:8471"), false),
            (Method::POST, Some("http://elsewhere.example"), true),
            (Method::POST, Some("http://127.0.0.1:8472"), true),
            (Method::POST, Some("null"), true),
            (Method::POST, None, true),
            (Method::DELETE, None, true),
        ] {
            let mut headers = HeaderMap::new();
            headers.insert(HOST, HeaderValue::from_static(host));
            if let Some(origin) = origin {
                headers.insert(ORIGIN, HeaderValue::from_static(origin));
            }
            let is = refusal(&method, &headers).is_some();
            assert_eq!(is, refused, "{method} {origin:?}");
        }
    }
}
