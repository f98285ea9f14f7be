//! Commands that set what the pages of settings set, with the same checks: `targets`, `causes link`, `drills leave-out`,
//! `units`.

use crate::arguments::UnitName;
use crate::surroundings::Surroundings;
use crate::trade::{Folder, Own, changed, make, own_targets, preview};
use anyhow::{Context, Result, bail};
use clap::{Args, Subcommand};
use lessonwright_coaching::Target;
use lessonwright_language::Say;
use lessonwright_model::{Language, Units};
use lessonwright_store::Store;
use lessonwright_web::own::{OwnChange, WouldChange};
use std::fmt::Write;
use tokio::runtime::Runtime;

/// What is to be done with the targets.
#[derive(Subcommand)]
pub enum TargetsCommand {
    /// Every band with its number, its source and its doubt; own ones are marked
    List,
    /// Put a band of your own in the place of one
    Set {
        /// The band's number in `targets list`
        number: usize,
        /// Lower edge, in the measure's unit
        #[arg(long, allow_negative_numbers = true)]
        low: f64,
        /// Upper edge
        #[arg(long, allow_negative_numbers = true)]
        high: f64,
        /// Why: every finding says it
        #[arg(long)]
        reason: String,
        #[command(flatten)]
        look: Look,
    },
    /// The built-in band again
    Back {
        /// The band's number in `targets list`
        number: usize,
    },
}

/// Whether a change is only looked at.
#[derive(Args)]
pub struct Look {
    /// Say what it changes for the last swings, and keep nothing
    #[arg(long)]
    pub look: bool,
}

/// Which unit of length comes first.
#[derive(Args)]
pub struct UnitsArguments {
    /// The unit [default: say which it is]
    #[arg(value_enum)]
    unit: Option<UnitName>,
    /// For this player alone
    #[arg(long, value_name = "NAME")]
    player: Option<String>,
    /// As the studio has it, for the player
    #[arg(long, requires = "player", conflicts_with = "unit")]
    as_studio: bool,
}

pub fn targets(around: &Surroundings, what: &TargetsCommand, runtime: &Runtime) -> Result<String> {
    match what {
        TargetsCommand::List => list(around),
        TargetsCommand::Set {
            number,
            low,
            high,
            reason,
            look,
        } => {
            let change = OwnChange::Target {
                now: numbered(around, *number)?,
                low: *low,
                high: *high,
                reason: reason.clone(),
            };
            change_or_look(around, change, look, runtime)
        }
        TargetsCommand::Back { number } => {
            make(
                &around.studio,
                &OwnChange::TargetBack(numbered(around, *number)?),
            )?;
            Ok(KEPT.into())
        }
    }
}

const KEPT: &str = "Kept. It counts from the next analysis on; a studio that is open shows it when it is opened again.\n";

/// Makes a change, or says what it would change.
pub fn change_or_look(
    around: &Surroundings,
    change: OwnChange,
    look: &Look,
    runtime: &Runtime,
) -> Result<String> {
    if !look.look {
        make(&around.studio, &change)?;
        return Ok(KEPT.into());
    }
    let (_, then) = changed(&around.studio, &change)?;
    let would = runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let now = Own::load(&around.studio)?;
        preview(&store, now, then, Language::English).await
    })?;
    said(&would)
}

fn said(would: &WouldChange) -> Result<String> {
    let mut text = format!(
        "{} of the last {} swings come to something else. Nothing is kept.\n",
        would.swings.len(),
        would.looked_at
    );
    for judged in &would.swings {
        writeln!(text, "swing {}, {}", judged.swing, judged.player)?;
        for (when, at) in [("now", 0), ("then", 1)] {
            let first = judged.first[at].as_deref().unwrap_or("nothing stands out");
            writeln!(
                text,
                "  {when:4} {first}; in order: {}",
                judged.order[at].join(", ")
            )?;
        }
    }
    Ok(text)
}

fn list(around: &Surroundings) -> Result<String> {
    let own = own_targets(&Folder::at(&around.studio))?;
    let mut text = String::new();
    for (number, target) in Own::load(&around.studio)?.targets.iter().enumerate() {
        let mine = own.iter().any(|own| own.same_place(target));
        let against = target
            .against
            .map(|against| format!(" against {}", against.plain()));
        writeln!(
            text,
            "{:3} {}, {}{}: {}{}\n      {}",
            number + 1,
            target.measure.plain(),
            target.moment.plain(),
            against.unwrap_or_default(),
            Say::default().text(&target.words()),
            if mine { " (own)" } else { "" },
            target.cited(Language::English)
        )?;
    }
    Ok(text)
}

fn numbered(around: &Surroundings, number: usize) -> Result<Target> {
    let targets = Own::load(&around.studio)?.targets;
    let target = number.checked_sub(1).and_then(|at| targets.iter().nth(at));
    let target = target.cloned();
    target.with_context(|| {
        format!("there is no band {number}: `lessonwright targets list` shows them")
    })
}

/// The command `units`.
pub fn units(around: &Surroundings, asked: &UnitsArguments, runtime: &Runtime) -> Result<String> {
    runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let unit = asked.unit.map(Units::from);
        let Some(name) = &asked.player else {
            if let Some(unit) = unit {
                store.keep_studio_units(unit).await?;
            }
            let now = store.studio_units().await?.unwrap_or_default();
            return Ok(format!("The studio: {}\n", now.plain()));
        };
        let Some(player) = store.player_named(name).await? else {
            bail!("there is no player \"{name}\" in the studio");
        };
        if unit.is_some() || asked.as_studio {
            store.keep_player_units(player.id, unit).await?;
        }
        let now = store.units_for(player.id).await?;
        Ok(format!("{name}: {}\n", now.plain()))
    })
}
