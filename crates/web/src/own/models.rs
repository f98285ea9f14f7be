//! The page of model swings: which there are, and any swing made one, with its club.

use super::{kept, page_or_refused};
use crate::error::PageError;
use crate::routes::{Fields, Studio, player_address, swing_address};
use crate::wording;
use askama::Template;
use axum::extract::{Form, Query, State};
use axum::response::Response;
use lessonwright_coaching::FEWEST_MODELS;
use lessonwright_coaching::ball::ClubKind;
use lessonwright_language::{Text, filters, t, when, words};
use lessonwright_model::Sex;
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
    few: Vec<(Text, usize)>,
    fewest: usize,
    newest: Vec<Newest>,
    clubs: Vec<(&'static str, Text)>,
    number: String,
    club: String,
    kept: bool,
    why: Option<Text>,
}

struct Model {
    number: i64,
    player: String,
    player_address: String,
    address: String,
    club: Text,
    like: Text,
}

struct Newest {
    number: i64,
    player: String,
    address: String,
    day: Text,
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

async fn asked(studio: &Studio, fields: &Fields) -> Result<Result<(), Text>, PageError> {
    let said = |name: &str| fields.get(name).map_or("", |text| text.trim());
    let Ok(number) = said("swing").parse().map(SwingId) else {
        return Ok(Err(t("own-models-no-number").with("text", said("swing"))));
    };
    let Some(swing) = studio.store.swing(number).await? else {
        return Ok(Err(
            t("own-models-no-swing").with("number", number.to_string())
        ));
    };
    if said("do") == "remove" {
        studio.store.mark_model(number, None).await?;
        return Ok(Ok(()));
    }
    let club = ClubKind::of_key(said("club")).map(ClubKind::key);
    if club.is_none() && swing.club.is_none() {
        return Ok(Err(t("own-models-no-club")));
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
    why: Option<Text>,
    kept: bool,
) -> Result<ModelsPage, PageError> {
    let models = studio.store.model_swings().await?;
    let newest = studio.store.swings_of_others(PlayerId(0), NEWEST).await?;
    let newest_line = |line: RosterLine| {
        let standing = line.latest?;
        Some(Newest {
            number: standing.swing.0,
            player: line.player.facts.name,
            address: swing_address(standing.swing),
            day: when::date(wording::date_at(standing.made_at, &studio.state)),
        })
    };
    let said = |name: &str| typed.get(name).cloned().unwrap_or_default();
    Ok(ModelsPage {
        few: few(&models),
        models: models.iter().map(Model::of).collect(),
        fewest: FEWEST_MODELS,
        newest: newest.into_iter().filter_map(newest_line).collect(),
        clubs: ClubKind::ALL.map(|club| (club.key(), club.text())).into(),
        number: said("swing"),
        club: said("club"),
        kept,
        why,
    })
}

impl Model {
    fn of(model: &ModelSwing) -> Model {
        let facts = &model.player.facts;
        let age = |age| t("own-model-age").with("age", age);
        let like = [
            facts.sex.map_or(t("own-model-no-sex"), sex_words),
            facts.age_years.map_or(t("own-model-no-age"), age),
            facts.hand.map_or(t("own-model-no-hand"), words::hand),
        ];
        Model {
            number: model.swing.id.0,
            player: facts.name.clone(),
            player_address: player_address(model.player.id),
            address: swing_address(model.swing.id),
            club: club_words(model.swing.club.as_deref()),
            like: Text::joined(like, ", "),
        }
    }
}

fn club_words(key: Option<&str>) -> Text {
    key.and_then(ClubKind::of_key)
        .map_or(t("own-model-no-club"), ClubKind::text)
}

fn sex_words(sex: Sex) -> Text {
    t(match sex {
        Sex::Female => "settings-sex-female",
        Sex::Male => "settings-sex-male",
    })
}

/// Clubs with some models, but fewer than make a band.
fn few(models: &[ModelSwing]) -> Vec<(Text, usize)> {
    let of = |club: ClubKind| {
        let same = models
            .iter()
            .filter(|model| model.swing.club.as_deref() == Some(club.key()));
        (club.text(), same.count())
    };
    let counted = ClubKind::ALL.map(of).into_iter();
    counted
        .filter(|(_, many)| (1..FEWEST_MODELS).contains(many))
        .collect()
}
