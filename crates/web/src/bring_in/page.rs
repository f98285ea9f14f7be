//! The page on which clips are brought in, of one player or all, and the one that films.

use super::motion::motion_address;
use super::routes::{camera_address, form_address, phones_address, tray_address, uploads_address};
use super::square::square_code;
use super::tray::Tray;
use super::upload::Brought;
use crate::AppState;
use crate::error::PageError;
use crate::pages::minute;
use crate::routes::{Fields, player_address};
use crate::script_words::{FILMING, SENDING, script_words};
use askama::Template;
use lessonwright_language::{Text, filters, words};
use lessonwright_model::View;
use lessonwright_store::{LinkKind, Player, PlayerId, Store};

/// Bring in clips.
#[derive(Template)]
#[template(path = "bring_in.html")]
pub struct BringInPage {
    form: String,
    uploads: String,
    tray_address: String,
    /// The player's name and page, on the player's own page.
    player: Option<(i64, String, String)>,
    players: Vec<(i64, String)>,
    camera: Option<String>,
    motion: Option<String>,
    /// The watched folder.
    folder: Option<String>,
    phones: Phones,
    brought: usize,
    refused: Vec<(String, String)>,
    problem: Option<String>,
    tray: Tray,
    /// For the scripts: JSON.
    script_words: String,
}

/// A phone's way in.
enum Phones {
    /// The studio was not opened for phones.
    Closed,
    /// Where a link for a player is made: on the player's own page.
    Ask,
    /// A link can be made; how many live.
    Open {
        make: String,
        living: Vec<Text>,
        end: String,
    },
    /// One was just made.
    Made {
        address: String,
        square: String,
        ends: Text,
        end: String,
    },
}

/// What happened just before the page is shown.
#[derive(Default)]
pub struct Before {
    pub brought: Brought,
    pub problem: Option<String>,
    /// The address of a phone's link just made, and until when.
    pub link: Option<(String, Text)>,
}

impl BringInPage {
    pub async fn of(
        store: &Store,
        state: &AppState,
        player: Option<Player>,
        before: Before,
    ) -> Result<BringInPage, PageError> {
        let id = player.as_ref().map(|player| player.id);
        let players = store.players().await?;
        let back = super::page_address(id);
        Ok(BringInPage {
            form: form_address(id),
            uploads: uploads_address(),
            tray_address: tray_address(id),
            camera: id.map(camera_address),
            motion: id.map(motion_address),
            folder: state
                .bring_in
                .doors
                .folder
                .as_ref()
                .map(|folder| folder.display().to_string()),
            phones: phones(store, state, id, before.link).await?,
            brought: before.brought.clips,
            refused: before.brought.refused,
            problem: before.problem,
            tray: Tray::of(store, state, id, back).await?,
            script_words: script_words(&[SENDING]),
            player: player.map(|p| (p.id.0, p.facts.name, player_address(p.id))),
            players: players
                .into_iter()
                .map(|p| (p.id.0, p.facts.name))
                .collect(),
        })
    }
}

async fn phones(
    store: &Store,
    state: &AppState,
    player: Option<PlayerId>,
    made: Option<(String, Text)>,
) -> Result<Phones, PageError> {
    if state.bring_in.doors.phones.is_none() {
        return Ok(Phones::Closed);
    }
    let Some(player) = player else {
        return Ok(Phones::Ask);
    };
    let end = phones_address(player, "end");
    if let Some((address, ends)) = made {
        return Ok(Phones::Made {
            square: square_code(&address).unwrap_or_default(),
            address,
            ends,
            end,
        });
    }
    let living = store
        .links_of(LinkKind::Phone, player, (state.now)())
        .await?;
    Ok(Phones::Open {
        make: phones_address(player, "make"),
        living: living
            .iter()
            .map(|link| minute(link.ends_at, state))
            .collect(),
        end,
    })
}

/// Films a player's swings with cameras of this machine.
#[derive(Template)]
#[template(path = "bring_in_camera.html")]
pub struct CameraPage {
    pub player: i64,
    pub name: String,
    pub player_page: String,
    pub back: String,
    pub uploads: String,
    /// For the scripts: JSON.
    pub script_words: String,
}

impl CameraPage {
    pub fn of(player: &Player) -> CameraPage {
        CameraPage {
            player: player.id.0,
            name: player.facts.name.clone(),
            player_page: player_address(player.id),
            back: super::player_bring_in_address(player.id),
            uploads: uploads_address(),
            script_words: script_words(&[SENDING, FILMING]),
        }
    }
}

/// The fields that say where to go back to: pages of this kind alone.
pub fn back(fields: &Fields) -> String {
    let asked = fields.get("back").map(String::as_str).unwrap_or_default();
    let player = asked
        .strip_prefix("/players/")
        .and_then(|rest| rest.strip_suffix("/bring-in"))
        .and_then(|id| id.parse().ok())
        .map(PlayerId);
    super::page_address(player)
}
