//! The page of model swings: which there are, and any swing made one, with its club.

use super::{kept, page_or_refused};
use crate::error::PageError;
use crate::routes::{Fields, Studio, player_address, swing_address};
use askama::Template;
use axum::extract::{Form, Query, State};
use axum::response::Response;
use jiff::Timestamp;
use lessonwright_coaching::FEWEST_MODELS;
use lessonwright_coaching::ball::ClubKind;
use lessonwright_language::filters;
use lessonwright_store::{ModelSwing, PlayerId, RosterLine, SwingId};

/// The page.
pub const ADDRESS: &str = "/studio/models";

/// The newest analysed swings that are offered.
const NEWEST: usize = 30;

#[derive(Template)]
#[template(path = "own/models.html")]
struct ModelsPage {
    models: Vec<Model>,
    /// Each kind of club with how many models there are of it, where there are too few for a band.
    few: Vec<(String, usize)>,
    fewest: usize,
    newest: Vec<Newest>,
    clubs: Vec<(&'static str, &'static str)>,
    number: String,
    club: String,
    kept: bool,
    why: Option<String>,
}

struct Model {
    number: i64,
    player: String,
    player_address: String,
    address: String,
    club: &'static str,
    like: String,
}

struct Newest {
    number: i64,
    player: String,
    address: String,
    day: String,
}

pub async fn page(
    State(studio): State<Studio>,
    Query(fields): Query<Fields>,
) -> Result<Response, PageError> {
    let page = made(&studio, &Fields::new(), None, fields.contains_key("kept")).await?;
    page_or_refused(&page, None)
}

/// Makes a swing a model, or no longer one.
pub async fn change(
    State(studio): State<Studio>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    match asked(&studio, &fields).await? {
        Ok(()) => Ok(kept(ADDRESS, "model")),
        Err(why) => {
            let page = made(&studio, &fields, Some(why.clone()), false).await?;
            page_or_refused(&page, Some(&why))
        }
    }
}

async fn asked(studio: &Studio, fields: &Fields) -> Result<Result<(), String>, PageError> {
    let said = |name: &str| fields.get(name).map_or("", |text| text.trim());
    let Ok(number) = said("swing").parse().map(SwingId) else {
        return Ok(Err(format!("\"{}\" is no swing's number.", said("swing"))));
    };
    let Some(swing) = studio.store.swing(number).await? else {
        return Ok(Err(format!("There is no swing {number} in the studio.")));
    };
    if said("do") == "remove" {
        studio.store.mark_model(number, None).await?;
        return Ok(Ok(()));
    }
    let club = ClubKind::of_key(said("club")).map(ClubKind::key);
    if club.is_none() && swing.club.is_none() {
        let why = "With which club was the model swing made? Clubs are never mixed.";
        return Ok(Err(why.into()));
    }
    if club.is_some() {
        studio.store.keep_club(number, club).await?;
    }
    let now = (studio.state.now)();
    studio.store.mark_model(number, Some(now)).await?;
    Ok(Ok(()))
}

async fn made(
    studio: &Studio,
    typed: &Fields,
    why: Option<String>,
    kept: bool,
) -> Result<ModelsPage, PageError> {
    let models = studio.store.model_swings().await?;
    let newest = studio.store.swings_of_others(PlayerId(0), NEWEST).await?;
    let day = |at: Timestamp| {
        let day = at.to_zoned(studio.state.time_zone.clone());
        day.strftime("%-d %B %Y").to_string()
    };
    let newest_line = |line: RosterLine| {
        let standing = line.latest?;
        Some(Newest {
            number: standing.swing.0,
            player: line.player.facts.name,
            address: swing_address(standing.swing),
            day: day(standing.made_at),
        })
    };
    let said = |name: &str| typed.get(name).cloned().unwrap_or_default();
    Ok(ModelsPage {
        few: few(&models),
        models: models.iter().map(Model::of).collect(),
        fewest: FEWEST_MODELS,
        newest: newest.into_iter().filter_map(newest_line).collect(),
        clubs: ClubKind::ALL.map(|club| (club.key(), club.plain())).into(),
        number: said("swing"),
        club: said("club"),
        kept,
        why,
    })
}

impl Model {
    fn of(model: &ModelSwing) -> Model {
        let facts = &model.player.facts;
        let age = facts.age_years.map(|age| format!("age {age}"));
        let like = [
            facts
                .sex
                .map_or("sex not said".into(), |sex| sex.key().to_owned()),
            age.unwrap_or_else(|| "age not said".into()),
            facts
                .hand
                .map_or("hand not said".into(), |hand| hand.to_string()),
        ];
        Model {
            number: model.swing.id.0,
            player: facts.name.clone(),
            player_address: player_address(model.player.id),
            address: swing_address(model.swing.id),
            club: club_words(model.swing.club.as_deref()),
            like: like.join(", "),
        }
    }
}

fn club_words(key: Option<&str>) -> &'static str {
    key.and_then(ClubKind::of_key)
        .map_or("club not said", ClubKind::plain)
}

/// Clubs with some models, but fewer than make a band.
fn few(models: &[ModelSwing]) -> Vec<(String, usize)> {
    let of = |club: ClubKind| {
        let same = models
            .iter()
            .filter(|model| model.swing.club.as_deref() == Some(club.key()));
        (club.plain().to_owned(), same.count())
    };
    let counted = ClubKind::ALL.map(of).into_iter();
    counted
        .filter(|(_, many)| (1..FEWEST_MODELS).contains(many))
        .collect()
}
