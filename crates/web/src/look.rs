//! How the pages look: as the device does, light, dark, or for bright sun. Kept in a cookie, so that every page has it
//! before a script loads; the colours are a style sheet of their own, made for the cookie that asks. Paper is always light.

use crate::routes::Studio;
use axum::Router;
use axum::extract::Form;
use axum::http::header::{CONTENT_TYPE, COOKIE, HOST, REFERER, SET_COOKIE};
use axum::http::{HeaderMap, Uri};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use std::collections::BTreeMap;

const LIGHT: &str = include_str!("../templates/look/light.css");
const DARK: &str = include_str!("../templates/look/dark.css");
const SUN: &str = include_str!("../templates/look/sun.css");
const FORCED: &str = include_str!("../templates/look/forced.css");
const CONTROL: &str = include_str!("../templates/look/look.css");
const SCRIPT: &str = include_str!("../scripts/look/look.js");

/// The cookie's name.
const COOKIE_NAME: &str = "lessonwright-look";

/// A year, s.
const KEPT_S: u32 = 365 * 24 * 3600;

/// How the pages look.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Look {
    /// As the device asks for.
    #[default]
    Device,
    /// Light, for a room.
    Light,
    /// Dark, for a dark room.
    Dark,
    /// Black on white, for bright sun.
    Sun,
}

impl Look {
    const ALL: [Look; 4] = [Look::Device, Look::Light, Look::Dark, Look::Sun];

    fn key(self) -> &'static str {
        match self {
            Look::Device => "device",
            Look::Light => "light",
            Look::Dark => "dark",
            Look::Sun => "sun",
        }
    }

    fn of_key(key: &str) -> Option<Look> {
        Look::ALL.into_iter().find(|look| look.key() == key)
    }

    /// As the request's cookie has it.
    fn of(headers: &HeaderMap) -> Look {
        let cookies = headers.get(COOKIE).and_then(|value| value.to_str().ok());
        let mut pairs = cookies.unwrap_or_default().split(';');
        let kept = pairs.find_map(|pair| {
            let (name, value) = pair.trim().split_once('=')?;
            (name == COOKIE_NAME).then(|| Look::of_key(value)).flatten()
        });
        kept.unwrap_or_default()
    }

    /// Its colours, over those that any page begins with; the control says which it is.
    fn style(self) -> String {
        let colours = match self {
            Look::Device => device_colours(),
            Look::Light => on_screen("screen", LIGHT),
            Look::Dark => on_screen("screen", DARK),
            Look::Sun => on_screen("screen", SUN),
        };
        let now = format!(
            ".look [value=\"{}\"] .now {{ display: inline; }}",
            self.key()
        );
        [&colours, CONTROL, FORCED, &now].join("\n")
    }
}

pub fn routes() -> Router<Studio> {
    Router::new()
        .route("/look", post(keep))
        .route("/look.css", get(style))
        .route("/look.js", get(script))
}

/// The colours as a device asks for them: light, or dark, or with more contrast; on paper light.
pub fn device_colours() -> String {
    let sun = on_screen(
        "screen and (prefers-contrast: more) and (prefers-color-scheme: light)",
        SUN,
    );
    let dark = on_screen("screen and (prefers-color-scheme: dark)", DARK);
    format!("{LIGHT}{dark}{sun}")
}

fn on_screen(media: &str, style: &str) -> String {
    format!("@media {media} {{\n{style}}}\n")
}

async fn style(headers: HeaderMap) -> impl IntoResponse {
    let style = Look::of(&headers).style();
    ([(CONTENT_TYPE, "text/css; charset=utf-8")], style)
}

async fn script() -> impl IntoResponse {
    ([(CONTENT_TYPE, "text/javascript; charset=utf-8")], SCRIPT)
}

/// Keeps what was chosen, and back to the page it was chosen on.
async fn keep(headers: HeaderMap, Form(fields): Form<BTreeMap<String, String>>) -> Response {
    let look = fields
        .get("as")
        .and_then(|key| Look::of_key(key))
        .unwrap_or_default();
    let cookie = format!(
        "{COOKIE_NAME}={}; Path=/; Max-Age={KEPT_S}; SameSite=Lax; HttpOnly",
        look.key()
    );
    ([(SET_COOKIE, cookie)], Redirect::to(&came_from(&headers))).into_response()
}

/// The studio's own page that the request came from; Today where it came from none.
fn came_from(headers: &HeaderMap) -> String {
    let text = |name| headers.get(name).and_then(|value| value.to_str().ok());
    let page = text(REFERER).and_then(|page: &str| page.parse::<Uri>().ok());
    let own = page.filter(|page| page.authority().map(|host| host.as_str()) == text(HOST));
    let path = own.and_then(|page| Some(page.path_and_query()?.to_string()));
    // "//host" would be another site.
    path.filter(|path| !path.starts_with("//"))
        .unwrap_or_else(|| "/".into())
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::http::HeaderValue;

    #[test]
    fn the_cookie_says_how_the_pages_look_and_anything_else_is_the_device() {
        for (cookie, look) in [
            ("lessonwright-look=dark", Look::Dark),
            ("other=1; lessonwright-look=sun; more=2", Look::Sun),
            ("lessonwright-look=neon", Look::Device),
            ("x-lessonwright-look=dark", Look::Device),
            ("", Look::Device),
        ] {
            let headers = HeaderMap::from_iter([(COOKIE, HeaderValue::from_static(cookie))]);
            assert_eq!(Look::of(&headers), look, "{cookie}");
        }
    }

    #[test]
    fn the_way_back_is_a_page_of_the_studio() {
        for (referer, back) in [
            ("http://127.0.0.1:8471/players/3?x=1", "/players/3?x=1"),
            ("http://elsewhere.example/players/3", "/"),
            ("http://127.0.0.1:8471//elsewhere.example/", "/"),
            ("nonsense", "/"),
        ] {
            let headers = HeaderMap::from_iter([
                (HOST, HeaderValue::from_static("127.0.0.1:8471")),
                (REFERER, HeaderValue::from_static(referer)),
            ]);
            assert_eq!(came_from(&headers), back, "{referer}");
        }
    }

    #[test]
    fn paper_is_light_whatever_is_chosen() {
        // Outside of "@media screen" no look changes a colour.
        for look in Look::ALL {
            let whole = device_colours() + &look.style();
            let everywhere: Vec<&str> = whole.split("@media").collect();
            assert!(everywhere[0].contains("--paper: #f8f3e8"), "{look:?}");
            for part in &everywhere[1..] {
                let screen = part.trim_start().starts_with("screen");
                let forced = part.trim_start().starts_with("(forced-colors");
                assert!(
                    screen || forced || !part.contains("--paper:"),
                    "{look:?}: {part}"
                );
            }
        }
    }
}
