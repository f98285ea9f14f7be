//! How to place the camera, drawn, and where it stood for the last swings.

use super::Here;
use crate::error::PageError;
use crate::pages::day;
use crate::routes::{shown, swing_address};
use askama::Template;
use axum::extract::State;
use axum::response::Response;
use lessonwright_language::filters;
use lessonwright_model::{Hand, Reading, View, ViewReport};
use lessonwright_report::{FilmPlan, Units};
use lessonwright_store::{PlayerId, Swing};

/// Swings looked at.
const LAST: usize = 6;

/// How the words on the camera's place begin that the analysis writes (`analysis`, `placement/words.rs`).
const ABOUT_PLACE: [&str; 3] = ["the camera stands", "the camera looks", "the picture leans"];

#[derive(Template)]
#[template(path = "camera.html")]
struct CameraPage {
    right: FilmPlan,
    left: FilmPlan,
    far: &'static str,
    high: &'static str,
    last: Vec<Placed>,
}

/// Where the camera stood for one clip.
struct Placed {
    address: String,
    title: String,
    view: String,
    /// What to move, in words; none if nothing is clearly off.
    move_it: Vec<String>,
    /// What was read from the picture.
    readings: Vec<String>,
}

pub async fn camera(State(here): State<Here>) -> Result<Response, PageError> {
    let (store, state) = (&here.studio.store, &here.studio.state);
    let mut swings: Vec<(Swing, String)> = Vec::new();
    for player in store.players().await? {
        let name = player.facts.name;
        let own = store.swings_of(PlayerId(player.id.0)).await?;
        swings.extend(
            own.into_iter()
                .take(LAST)
                .map(|swing| (swing, name.clone())),
        );
    }
    swings.sort_by_key(|(swing, _)| std::cmp::Reverse(swing.id));
    let mut last = Vec::new();
    for (swing, player) in swings.iter().take(LAST) {
        let Some(stored) = store.latest_analysis(swing.id).await? else {
            continue;
        };
        let at = state
            .say()
            .text(&day(swing.filmed_at.unwrap_or(swing.added_at), state));
        last.extend(stored.analysis.views.iter().map(|view| Placed {
            address: swing_address(swing.id),
            title: format!("{player}, {at}"),
            view: view.view.to_string(),
            move_it: move_it(view),
            readings: readings(view),
        }));
    }
    let inches = state.units == Units::Inches;
    shown(&CameraPage {
        right: FilmPlan::of(Hand::Right, state.units),
        left: FilmPlan::of(Hand::Left, state.units),
        far: if inches { "13 to 16 ft" } else { "4 to 5 m" },
        high: if inches { "about 3 ft" } else { "about 90 cm" },
        last,
    })
}

fn move_it(view: &ViewReport) -> Vec<String> {
    let about_place = |said: &&String| ABOUT_PLACE.iter().any(|begin| said.starts_with(begin));
    let sentence = |said: &String| {
        let mut chars = said.chars();
        let first = chars
            .next()
            .map(|first| first.to_uppercase().chain(chars).collect::<String>());
        format!("{}.", first.unwrap_or_default())
    };
    view.warnings
        .iter()
        .filter(about_place)
        .map(sentence)
        .collect()
}

fn readings(view: &ViewReport) -> Vec<String> {
    let placed = &view.placement;
    let said = |what: &str, reading: Option<Reading>, side: [&str; 2]| {
        reading.map(|r| {
            let side = side[usize::from(r.value < 0.0)];
            // No side where it is nought to the eye.
            let side = if r.value.abs() < 0.5 { "" } else { side };
            format!(
                "{what} {:.0}°{side} (± {:.0}°)",
                r.value.abs(),
                r.plus_minus
            )
        })
    };
    let all = match view.view {
        View::DownTheLine => vec![
            said(
                "off the line of the hands",
                placed.off_line_deg,
                [" to the ball's side", " to the player's side"],
            ),
            said("looks down on the feet", placed.looks_down_deg, ["", " up"]),
        ],
        View::FaceOn => vec![said(
            "the picture leans",
            placed.leans_deg,
            [" down on the target's side", " up on the target's side"],
        )],
    };
    all.into_iter().flatten().collect()
}
