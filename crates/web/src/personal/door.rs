//! The door for players: who is let in, what every answer carries, and what is said to who is not.

use super::limits::{Limits, What};
use crate::error::{PageError, page};
use crate::guard::put_headers;
use crate::language::in_language_of;
use crate::routes::Studio;
use askama::Template;
use axum::Router;
use axum::extract::{FromRequestParts, Request, State};
use axum::http::header::{HOST, HeaderName, ORIGIN, STRICT_TRANSPORT_SECURITY};
use axum::http::request::Parts;
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode};
use axum::middleware::{self, Next};
use axum::response::{IntoResponse, Response};
use lessonwright_language::{Text, filters, t};
use lessonwright_store::{LinkKind, Player, PlayerLink};
use std::net::IpAddr;
use std::sync::Arc;
use std::time::Instant;

/// Where players reach the door: `https://players.example`. What stands before it speaks TLS; the door itself is plain HTTP.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Address {
    origin: String,
    authority: String,
}

impl Address {
    /// Reads `https://players.example/` or `https://players.example:8443`.
    ///
    /// # Errors
    /// What is wrong, in words: plain HTTP is for addresses and names of the own network alone, and the door has no folders.
    pub fn parse(text: &str) -> Result<Address, String> {
        let wrong = || {
            format!(
                "\"{text}\": write where players find the door, as https://players.example/ and nothing after it"
            )
        };
        let text = text.trim();
        let (scheme, rest) = text.split_once("://").ok_or_else(wrong)?;
        let authority = rest.strip_suffix('/').unwrap_or(rest).to_ascii_lowercase();
        let plain = |c: char| c.is_ascii_alphanumeric() || ".-:[]".contains(c);
        if authority.is_empty() || !authority.chars().all(plain) {
            return Err(wrong());
        }
        match scheme {
            "https" => {}
            "http" if is_near(&authority) => {}
            "http" => {
                return Err(format!(
                    "\"{text}\": players send films and answers about health, so the way must be https"
                ));
            }
            _ => return Err(wrong()),
        }
        Ok(Address {
            origin: format!("{scheme}://{authority}"),
            authority,
        })
    }

    /// `https://players.example`.
    pub fn origin(&self) -> &str {
        &self.origin
    }

    fn is_https(&self) -> bool {
        self.origin.starts_with("https:")
    }
}

/// An address of the own machine or network, or a name that nobody outside has (RFC 6762).
fn is_near(authority: &str) -> bool {
    let name = match authority.rsplit_once(':') {
        Some((name, port)) if port.bytes().all(|b| b.is_ascii_digit()) => name,
        _ => authority,
    };
    match name.trim_start_matches('[').trim_end_matches(']').parse() {
        Ok(IpAddr::V4(address)) => address.is_loopback() || address.is_private(),
        Ok(IpAddr::V6(address)) => address.is_loopback() || address.is_unique_local(),
        Err(_) => name == "localhost" || name.ends_with(".local"),
    }
}

/// What the door's pages share.
#[derive(Clone)]
pub(crate) struct Door {
    pub studio: Studio,
    pub limits: Arc<Limits>,
}

impl Door {
    /// Whether whoever comes by this link may do that once more now.
    pub fn allows(&self, visit: &Visit, what: What) -> bool {
        self.limits.allows(visit.link.id, what, Instant::now())
    }
}

/// Somebody with a living link.
#[derive(Clone)]
pub(crate) struct Visit {
    pub token: String,
    pub link: PlayerLink,
    pub player: Player,
}

impl FromRequestParts<Door> for Visit {
    type Rejection = Response;

    async fn from_request_parts(parts: &mut Parts, door: &Door) -> Result<Visit, Response> {
        let Some(visit) = parts.extensions.get::<Visit>().cloned() else {
            return Err(ended(door).await);
        };
        if !door.allows(&visit, What::Request) {
            return Err(too_much());
        }
        Ok(visit)
    }
}

/// Looks up whose link is in the address, and answers in that player's language; else in the studio's.
pub(crate) async fn in_the_players_language(
    State(door): State<Door>,
    mut request: Request,
    next: Next,
) -> Response {
    let path = request.uri().path();
    let token = path.strip_prefix("/for/").unwrap_or_default();
    let token = token.split('/').next().unwrap_or_default();
    let visit = match visit(&door, token).await {
        Ok(visit) => visit,
        Err(error) => return Trouble(error).into_response(),
    };
    let Some(visit) = visit else {
        return next.run(request).await;
    };
    let language = visit.player.facts.language;
    let language = language.unwrap_or_else(|| door.studio.state.spoken.language());
    request.extensions_mut().insert(visit);
    in_language_of(language, next.run(request)).await
}

async fn visit(door: &Door, token: &str) -> Result<Option<Visit>, PageError> {
    if token.is_empty() {
        return Ok(None);
    }
    let (store, now) = (&door.studio.store, (door.studio.state.now)());
    let Some(link) = store.link(LinkKind::Personal, token, now).await? else {
        return Ok(None);
    };
    let player = store.player(link.player).await?;
    Ok(player.map(|player| Visit {
        token: token.to_owned(),
        link,
        player,
    }))
}

/// Says one thing to who is at the door.
#[derive(Template)]
#[template(path = "personal_said.html")]
struct Said {
    title: Text,
    text: Text,
}

/// The same for a token that never was, one that ended and any other address: nobody learns which.
pub(crate) async fn ended(door: &Door) -> Response {
    door.limits.slow().await;
    let said = Said {
        title: t("personal-opens-nothing"),
        text: t("personal-opens-nothing-note"),
    };
    page(StatusCode::NOT_FOUND, &said)
}

/// More came by one link than is taken.
pub(crate) fn too_much() -> Response {
    let said = Said {
        title: t("personal-a-lot"),
        text: t("personal-a-lot-note"),
    };
    page(StatusCode::TOO_MANY_REQUESTS, &said)
}

/// What went wrong inside is for the log, not for who is at the door.
pub(crate) struct Trouble(pub PageError);

impl<E: Into<PageError>> From<E> for Trouble {
    fn from(error: E) -> Trouble {
        Trouble(error.into())
    }
}

impl IntoResponse for Trouble {
    fn into_response(self) -> Response {
        let missing = matches!(self.0, PageError::Missing(_));
        let (status, said) = if missing {
            let said = Said {
                title: t("personal-not-here"),
                text: t("personal-not-here-note"),
            };
            (StatusCode::NOT_FOUND, said)
        } else {
            tracing::error!("a player's page could not be made: {}", self.0);
            let said = Said {
                title: t("personal-went-wrong"),
                text: t("personal-went-wrong-note"),
            };
            (StatusCode::INTERNAL_SERVER_ERROR, said)
        };
        page(status, &said)
    }
}

/// Puts the guards around the door's pages.
pub(crate) fn guarded(router: Router, address: Address) -> Router {
    router.layer(middleware::from_fn_with_state(Arc::new(address), guard))
}

async fn guard(State(address): State<Arc<Address>>, request: Request, next: Next) -> Response {
    let mut response = match refusal(request.method(), request.headers(), &address) {
        Some((status, said)) => page(status, &said),
        None => next.run(request).await,
    };
    let headers = response.headers_mut();
    put_headers(headers, "no-referrer");
    let robots = HeaderName::from_static("x-robots-tag");
    headers.insert(
        robots,
        HeaderValue::from_static("noindex, nofollow, noarchive"),
    );
    if address.is_https() {
        // Two years, as such lists ask for (RFC 6797; the length from memory).
        let value = HeaderValue::from_static("max-age=63072000");
        headers.insert(STRICT_TRANSPORT_SECURITY, value);
    }
    response
}

/// Why a request is refused: it asks for another host, or another site's page sent it. A page without a referrer sends its
/// forms with the origin "null" (Fetch, "append a request `Origin` header"); there the browser's own word on the site counts,
/// and the token, which no other site knows.
fn refusal(method: &Method, headers: &HeaderMap, address: &Address) -> Option<(StatusCode, Said)> {
    let text = |name: HeaderName| {
        let value = headers.get(name)?;
        value.to_str().ok().map(str::to_ascii_lowercase)
    };
    if text(HOST).as_deref() != Some(&address.authority) {
        let said = Said {
            title: t("personal-other-name"),
            text: t("personal-other-name-note"),
        };
        return Some((StatusCode::MISDIRECTED_REQUEST, said));
    }
    let origin = text(ORIGIN);
    let is_own = origin
        .as_deref()
        .is_none_or(|origin| origin == "null" || origin == address.origin);
    let site = text(HeaderName::from_static("sec-fetch-site"));
    let is_same = site.as_deref().is_none_or(|site| site == "same-origin");
    let is_harmless = method.is_safe() || (is_own && is_same);
    if !is_harmless {
        let said = Said {
            title: t("personal-elsewhere"),
            text: t("personal-elsewhere-note"),
        };
        return Some((StatusCode::FORBIDDEN, said));
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_is_https_unless_it_is_near() {
        for (text, origin) in [
            ("https://players.example/", Some("https://players.example")),
            (
                "https://Players.Example:8443",
                Some("https://players.example:8443"),
            ),
            ("http://127.0.0.1:8473/", Some("http://127.0.0.1:8473")),
            ("http://192.168.1.9", Some("http://192.168.1.9")),
            ("http://studio.local", Some("http://studio.local")),
            ("http://players.example/", None),
            ("http://203.0.113.7/", None),
            ("https://players.example/folder", None),
            ("https://me@players.example", None),
            ("players.example", None),
            ("ftp://players.example", None),
            ("https:///", None),
        ] {
            let parsed = Address::parse(text);
            assert_eq!(
                parsed.as_ref().ok().map(Address::origin),
                origin,
                "{text}: {parsed:?}"
            );
        }
    }

    #[test]
    fn what_another_site_sends_is_refused() {
        let address = Address::parse("https://players.example").unwrap();
        let host = ("host", "players.example");
        for (method, more, refused) in [
            (Method::GET, vec![host], None),
            (Method::GET, vec![("host", "PLAYERS.example")], None),
            (Method::GET, vec![("host", "127.0.0.1:8473")], Some(421)),
            (Method::GET, vec![], Some(421)),
            (
                Method::POST,
                vec![host, ("origin", "https://players.example")],
                None,
            ),
            (
                Method::POST,
                vec![host, ("origin", "null"), ("sec-fetch-site", "same-origin")],
                None,
            ),
            (
                Method::POST,
                vec![host, ("origin", "null"), ("sec-fetch-site", "cross-site")],
                Some(403),
            ),
            (
                Method::POST,
                vec![host, ("origin", "https://elsewhere.example")],
                Some(403),
            ),
            (
                Method::PATCH,
                vec![host, ("origin", "http://players.example")],
                Some(403),
            ),
        ] {
            let mut headers = HeaderMap::new();
            for (name, value) in &more {
                headers.insert(
                    HeaderName::from_static(name),
                    HeaderValue::from_static(value),
                );
            }
            let found = refusal(&method, &headers, &address).map(|(status, _)| status.as_u16());
            assert_eq!(found, refused, "{method} {more:?}");
        }
    }
}
