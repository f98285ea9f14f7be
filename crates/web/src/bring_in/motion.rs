//! Bringing in a motion capture of a player: its page, and the form that sends the file.

use super::player_bring_in_address;
use crate::error::{PageError, page};
use crate::keeping::receive;
use crate::named;
use crate::routes::{Studio, player_address, shown, swing_address};
use askama::Template;
use axum::Router;
use axum::extract::{DefaultBodyLimit, Multipart, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use lessonwright_exchange::recorded::Asked;
use lessonwright_language::{Text, filters, t};
use lessonwright_store::{Player, PlayerId};

/// Most bytes of a capture.
const MOST_BYTES: usize = 200 << 20;

/// Directions along a file's axes, as they are chosen.
const AXES: [&str; 6] = ["+x", "-x", "+y", "-y", "+z", "-z"];

/// Where a player's capture is brought in.
pub fn motion_address(id: PlayerId) -> String {
    format!("{}/motion", player_bring_in_address(id))
}

pub fn routes() -> Router<Studio> {
    Router::new().route(
        "/players/{id}/bring-in/motion",
        get(show)
            .post(take)
            .layer(DefaultBodyLimit::max(MOST_BYTES)),
    )
}

#[derive(Template)]
#[template(path = "bring_in_motion.html")]
struct MotionPage {
    name: String,
    player_page: String,
    back: String,
    form: String,
    /// Nothing can be scaled or checked against it.
    no_stature: bool,
    said: Said,
    /// Why the last try failed.
    problem: Option<Problem>,
}

/// What was filled in.
#[derive(Clone, Debug, Default)]
struct Said {
    up: String,
    target: String,
    unit: String,
    within_mm: String,
}

/// In the studio's language, or a cause in English.
enum Problem {
    Words(Text),
    Cause(String),
}

impl MotionPage {
    fn of(player: &Player, said: Said, problem: Option<Problem>) -> MotionPage {
        MotionPage {
            name: player.facts.name.clone(),
            player_page: player_address(player.id),
            back: player_bring_in_address(player.id),
            form: motion_address(player.id),
            no_stature: player.facts.stature_m.is_none(),
            said,
            problem,
        }
    }

    fn axes(&self) -> [&'static str; 6] {
        AXES
    }
}

async fn show(State(studio): State<Studio>, Path(id): Path<String>) -> Result<Response, PageError> {
    let player = named::player(&studio.store, &id).await?;
    shown(&MotionPage::of(&player, Said::default(), None))
}

/// Keeps the file while it is read; the swing's page is the answer.
async fn take(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    form: Multipart,
) -> Result<Response, PageError> {
    let player = named::player(&studio.store, &id).await?;
    let mut said = Said::default();
    let done = swing(&studio, &player, form, &mut said).await;
    Ok(match done {
        Ok(address) => Redirect::to(&address).into_response(),
        Err(problem) => page(
            StatusCode::UNPROCESSABLE_ENTITY,
            &MotionPage::of(&player, said, Some(problem)),
        ),
    })
}

/// The address of the swing that came of it.
async fn swing(
    studio: &Studio,
    player: &Player,
    form: Multipart,
    said: &mut Said,
) -> Result<String, Problem> {
    let keeping = &studio.state.keeping;
    let file = keeping.incoming().map_err(Problem::Cause)?;
    let received = receive(form, &file, |name, text| match name {
        "up" => said.up = text,
        "target" => said.target = text,
        "unit" => said.unit = text,
        "within" => said.within_mm = text,
        _ => {}
    })
    .await;
    let made = match received {
        Err(why) => Err(Problem::Cause(why)),
        Ok(None) => Err(Problem::Words(t("bring-in-motion-choose-first"))),
        Ok(Some(name)) => {
            let words = [&said.up, &said.target, &said.unit].map(String::as_str);
            match Asked::stated(words, &said.within_mm) {
                Err(why) => Err(Problem::Cause(why)),
                Ok(asked) => {
                    let asked = Asked {
                        file: name,
                        ..asked
                    };
                    let made = keeping.bring_motion(player.id, file.clone(), asked).await;
                    made.map_err(Problem::Cause)
                }
            }
        }
    };
    let _ = tokio::fs::remove_file(&file).await;
    made.map(swing_address)
}
