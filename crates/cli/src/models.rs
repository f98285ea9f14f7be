//! `models`: swings that others are held against, and the clubs of swings.

use crate::arguments::ClubName;
use crate::surroundings::Surroundings;
use anyhow::{Result, bail};
use clap::Subcommand;
use jiff::Timestamp;
use lessonwright_coaching::ball::ClubKind;
use lessonwright_store::{Store, SwingId};
use tokio::runtime::Runtime;

#[derive(Subcommand)]
pub enum ModelsCommand {
    /// List the model swings
    List,
    /// Make a swing a model; its club decides which swings are held against it
    Add {
        /// The swing's number in the studio
        swing: i64,
        /// The kind of club it was made with
        #[arg(long, value_enum)]
        club: Option<ClubName>,
    },
    /// A swing is a model no longer
    Remove {
        /// The swing's number in the studio
        swing: i64,
    },
    /// Note with what kind of club a swing was made
    Club {
        /// The swing's number in the studio
        swing: i64,
        /// The kind of club
        #[arg(value_enum)]
        club: ClubName,
    },
}

/// Do it and say so.
pub fn run(around: &Surroundings, what: &ModelsCommand, runtime: &Runtime) -> Result<()> {
    let said = runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        match what {
            ModelsCommand::List => list(&store).await,
            ModelsCommand::Add { swing, club } => add(&store, SwingId(*swing), *club).await,
            ModelsCommand::Remove { swing } => {
                store.mark_model(SwingId(*swing), None).await?;
                Ok(format!("Swing {swing} is no model.\n"))
            }
            ModelsCommand::Club { swing, club } => {
                store.keep_club(SwingId(*swing), Some(club.key())).await?;
                Ok(format!("Swing {swing}: {}.\n", plain(Some(club.key()))))
            }
        }
    })?;
    crate::print(&said)
}

async fn add(store: &Store, swing: SwingId, club: Option<ClubName>) -> Result<String> {
    if let Some(club) = club {
        store.keep_club(swing, Some(club.key())).await?;
    }
    let Some(kept) = store.swing(swing).await? else {
        bail!("there is no swing {swing} in the studio");
    };
    if kept.club.is_none() {
        bail!("with which club was swing {swing} made? say --club: clubs are never mixed");
    }
    store.mark_model(swing, Some(Timestamp::now())).await?;
    Ok(format!(
        "Swing {swing} is a model: {}.\n",
        plain(kept.club.as_deref())
    ))
}

async fn list(store: &Store) -> Result<String> {
    let models = store.model_swings().await?;
    if models.is_empty() {
        return Ok(
            "No model swings. `lessonwright models add SWING --club mid-iron` makes one.\n".into(),
        );
    }
    let line = |model: &lessonwright_store::ModelSwing| {
        let facts = &model.player.facts;
        let sex = facts.sex.map_or("sex not said", |sex| sex.key());
        let age = facts
            .age_years
            .map_or("age not said".into(), |age| format!("age {age}"));
        format!(
            "swing {}: {}, {sex}, {age}, {}\n",
            model.swing.id,
            facts.name,
            plain(model.swing.club.as_deref())
        )
    };
    Ok(models.iter().map(line).collect())
}

fn plain(club: Option<&str>) -> &'static str {
    club.and_then(ClubKind::of_key)
        .map_or("club not said", ClubKind::plain)
}
