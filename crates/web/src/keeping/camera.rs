//! How to place the camera, drawn, and where it stood for the last swings.

use super::Here;
use crate::error::PageError;
use crate::pages::day;
use crate::routes::{shown, swing_address};
use askama::Template;
use axum::extract::State;
use axum::response::Response;
use lessonwright_language::{Say, Text, again, filters, t, words};
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
    far: Text,
    high: Text,
    last: Vec<Placed>,
}

/// Where the camera stood for one clip.
struct Placed {
    address: String,
    player: String,
    day: Text,
    view: View,
    /// What to move, in words; none if nothing is clearly off.
    move_it: Vec<String>,
    /// What was read from the picture.
    readings: Vec<Text>,
}

impl Placed {
    fn readings(&self) -> Text {
        Text::joined(self.readings.iter().cloned(), "; ")
    }
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
        let at = day(swing.filmed_at.unwrap_or(swing.added_at), state);
        last.extend(stored.analysis.views.iter().map(|view| Placed {
            address: swing_address(swing.id),
            player: player.clone(),
            day: at.clone(),
            view: view.view,
            move_it: move_it(view, state.say()),
            readings: readings(view),
        }));
    }
    let inches = state.units == Units::Inches;
    shown(&CameraPage {
        right: FilmPlan::of(Hand::Right, state.units),
        left: FilmPlan::of(Hand::Left, state.units),
        far: t(if inches {
            "camera-far-ft"
        } else {
            "camera-far-m"
        }),
        high: t(if inches {
            "camera-high-ft"
        } else {
            "camera-high-cm"
        }),
        last,
    })
}

fn move_it(view: &ViewReport, say: Say) -> Vec<String> {
    let about_place = |said: &&String| ABOUT_PLACE.iter().any(|begin| said.starts_with(begin));
    let sentence = |said: &String| {
        let said = say.text(&again(said));
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

fn readings(view: &ViewReport) -> Vec<Text> {
    let placed = &view.placement;
    // Messages: no side where it is nought to the eye, then plus and minus.
    let said = |reading: Option<Reading>, [nought, plus, minus]: [&'static str; 3]| {
        reading.map(|r| {
            let side = match r.value {
                value if value.abs() < 0.5 => nought,
                value if value < 0.0 => minus,
                _ => plus,
            };
            t(side)
                .with("angle", Text::decimal(r.value.abs(), 0))
                .with("plus-minus", Text::decimal(r.plus_minus, 0))
        })
    };
    let all = match view.view {
        View::DownTheLine => vec![
            said(
                placed.off_line_deg,
                [
                    "camera-off-line",
                    "camera-off-line-ball",
                    "camera-off-line-player",
                ],
            ),
            said(
                placed.looks_down_deg,
                ["camera-looks-down", "camera-looks-down", "camera-looks-up"],
            ),
        ],
        View::FaceOn => vec![said(
            placed.leans_deg,
            ["camera-leans", "camera-leans-down", "camera-leans-up"],
        )],
    };
    all.into_iter().flatten().collect()
}
