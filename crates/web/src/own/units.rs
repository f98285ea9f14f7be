//! The page that all settings of the studio begin on, with the unit of length; and a player's own unit.

use super::{in_use, kept, offered_units};
use crate::error::{PageError, not_saved};
use crate::named;
use crate::routes::{Fields, Studio, shown};
use crate::settings::settings_address;
use askama::Template;
use axum::extract::{Form, Path, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use lessonwright_coaching::DrillBook;
use lessonwright_language::{Text, filters, t};
use lessonwright_model::Units;
use lessonwright_store::Player;

/// Where the studio's unit is kept.
pub const ADDRESS: &str = "/studio/units";

#[derive(Template)]
#[template(path = "own/settings.html")]
struct SettingsStart {
    units: Vec<(&'static str, Text, bool)>,
    own_targets: usize,
    changed_links: usize,
    own_drills: usize,
    drills: usize,
    models: usize,
    kept: bool,
}

/// A player's own unit, on the player's page of settings.
pub struct PlayerUnits {
    pub address: String,
    pub units: Vec<(&'static str, Text, bool)>,
    pub as_studio: bool,
}

impl PlayerUnits {
    pub fn of(player: &Player) -> PlayerUnits {
        PlayerUnits {
            address: format!("{}/units", settings_address(player.id)),
            units: offered_units(player.units),
            as_studio: player.units.is_none(),
        }
    }
}

pub async fn page(
    State(studio): State<Studio>,
    Query(fields): Query<Fields>,
) -> Result<Response, PageError> {
    let trade = in_use(&studio.state)?;
    shown(&SettingsStart {
        units: offered_units(Some(studio.state.units)),
        own_targets: trade.own_targets.iter().count(),
        changed_links: trade.changes.iter().count(),
        own_drills: trade.own_drills.len(),
        drills: DrillBook::standard().pages().count(),
        models: studio.store.model_swings().await?.len(),
        kept: fields.contains_key("kept"),
    })
}

pub async fn keep(
    State(studio): State<Studio>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let key = fields.get("units").map_or("", String::as_str);
    let back = super::SETTINGS_ADDRESS;
    let Some(units) = Units::of_key(key) else {
        return Ok(not_saved(t("own-choose-units"), back.into()));
    };
    studio.store.keep_studio_units(units).await?;
    match studio.state.own.shown_anew().await {
        Ok(()) => Ok(kept(back, "units")),
        Err(why) => Ok(not_saved(Text::plain(why), back.into())),
    }
}

pub async fn keep_player_units(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let id = named::player(&studio.store, &id).await?.id;
    let units = fields.get("units").and_then(|key| Units::of_key(key));
    studio.store.keep_player_units(id, units).await?;
    let back = format!("{}?saved=units#units", settings_address(id));
    Ok(Redirect::to(&back).into_response())
}
