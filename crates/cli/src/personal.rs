//! What one player's swings are held against: the studio's targets, or what was chosen for the player, read from the
//! store.

use crate::lesson::reference;
use crate::trade::Own;
use anyhow::Result;
use jiff::tz::TimeZone;
use lessonwright_coaching::ball::ClubKind;
use lessonwright_coaching::{Against, Like, Model, OwnSwing, targets_for};
use lessonwright_model::{Language, Measure, ReferenceChoice};
use lessonwright_store::{ModelSwing, Player, Store, SwingId};
use lessonwright_web::{FindReference, ReferenceOf};
use std::sync::Arc;

/// What a swing of this player, with this club, is judged by. A swing is not held against itself, nor against models
/// that it is one of: those stay with the studio's targets.
pub async fn own_for(
    own: Own,
    store: &Store,
    player: &Player,
    club: Option<&str>,
    swing: Option<SwingId>,
) -> Result<Own> {
    let like = like(player, club);
    let models: Vec<ModelSwing>;
    let model_views: Vec<Model<'_>>;
    let own_analysis;
    let against = match player.reference {
        ReferenceChoice::Standard => Against::Standard,
        ReferenceChoice::OwnAddress => Against::OwnAddress,
        ReferenceChoice::Published => Against::Published,
        ReferenceChoice::OwnSwing(key) if swing == Some(SwingId(key)) => Against::Standard,
        ReferenceChoice::OwnSwing(key) => {
            let chosen = store.swing(SwingId(key)).await?;
            own_analysis = store.latest_analysis(SwingId(key)).await?;
            match (&chosen, &own_analysis) {
                (Some(chosen), Some(stored)) => Against::OwnSwing(OwnSwing {
                    day: day(chosen.filmed_at.unwrap_or(chosen.added_at)),
                    club: chosen.club.as_deref().and_then(ClubKind::of_key),
                    measures: &stored.analysis.measures,
                }),
                _ => Against::Standard,
            }
        }
        ReferenceChoice::Models => {
            models = store.model_swings().await?;
            let others = models.iter().filter(|model| Some(model.swing.id) != swing);
            model_views = others.map(view).collect();
            Against::Models(&model_views)
        }
    };
    Ok(Own {
        targets: targets_for(own.targets, &against, &like),
        language: language_of(store, player).await?,
        ..own
    })
}

/// The language of what a player gets: the player's, else the studio's.
pub async fn language_of(store: &Store, player: &Player) -> Result<Language> {
    Ok(match player.facts.language {
        Some(language) => language,
        None => store.studio_language().await?.unwrap_or_default(),
    })
}

/// For the pages: the bands that a swing is held against.
pub fn references(own: Own, store: Store) -> ReferenceOf {
    Arc::new(move |swing: SwingId| {
        let (own, store) = (own.clone(), store.clone());
        Box::pin(async move {
            let own = match held(own.clone(), &store, swing).await {
                Ok(held) => held,
                Err(error) => {
                    tracing::error!(%swing, "the player's own references were not found: {error:#}");
                    own
                }
            };
            let find = move |measure: &Measure| reference(measure, &own.targets, &own.causes);
            Arc::new(find) as FindReference
        })
    })
}

async fn held(own: Own, store: &Store, id: SwingId) -> Result<Own> {
    let Some(swing) = store.swing(id).await? else {
        return Ok(own);
    };
    match store.player(swing.player).await? {
        Some(player) => own_for(own, store, &player, swing.club.as_deref(), Some(id)).await,
        None => Ok(own),
    }
}

fn view(model: &ModelSwing) -> Model<'_> {
    Model {
        like: like(&model.player, model.swing.club.as_deref()),
        player: model.player.id.0,
        measures: &model.analysis.measures,
    }
}

fn like(player: &Player, club: Option<&str>) -> Like {
    Like {
        club: club.and_then(ClubKind::of_key),
        sex: player.facts.sex,
        age_years: player.facts.age_years,
        hand: player.facts.hand,
    }
}

fn day(at: jiff::Timestamp) -> String {
    at.to_zoned(TimeZone::system())
        .strftime("%-d %B %Y")
        .to_string()
}
