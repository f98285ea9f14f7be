//! The follow-up's commands: `progress`, `overview`, `repeatability`, `mark`, `prescribe`.

mod say;

use crate::surroundings::Surroundings;
use crate::trade::Own;
use anyhow::{Context, Result, bail, ensure};
use clap::{Args, ValueEnum};
use jiff::civil::Date;
use jiff::tz::TimeZone;
use jiff::{Timestamp, Zoned};
use lessonwright_coaching::Care;
use lessonwright_coaching::follow::{Roster, due};
use lessonwright_language::Say;
use lessonwright_model::{Aim, Hand, MeasureName, MomentName, Occasion, Place};
use lessonwright_store::{ByHand, PlayerId, Store, SwingId, SwingMark, day_of};
use serde::de::DeserializeOwned;
use tokio::runtime::Runtime;

/// Whose follow-up.
#[derive(Args)]
pub struct ProgressArguments {
    /// The player's name
    pub player: String,
    /// As on this day [default: today]
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub on: Option<Date>,
}

/// The roster's follow-up.
#[derive(Args)]
pub struct OverviewArguments {
    /// As on this day [default: today]
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub on: Option<Date>,
}

/// How swings were made.
#[derive(Args)]
pub struct MarkArguments {
    /// The swings, by their numbers in the studio
    #[arg(required = true, value_name = "SWING")]
    pub swings: Vec<i64>,
    /// With the cue, a day later without it, or in another task; `unmarked` takes a mark off [default: as it is]
    #[arg(long = "as", value_enum, value_name = "KIND")]
    pub kind: Option<KindName>,
    /// The day whose session they belong to; `filmed` for the day they were filmed [default: as it is]
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub day: Option<String>,
}

#[derive(Clone, Copy, ValueEnum)]
pub enum KindName {
    Practice,
    Retention,
    Transfer,
    Unmarked,
}

/// A prescription put on record by hand, or one on record changed.
#[derive(Args)]
pub struct PrescribeArguments {
    /// The player's name
    pub player: String,
    /// The drill's key (`lessonwright drills list`)
    #[arg(long, required_unless_present = "number", value_name = "DRILL")]
    pub drill: Option<String>,
    /// The measure to change, as in `analyse --json`; leave it out where no camera shows it
    #[arg(long, requires_all = ["moment", "goal"], value_name = "MEASURE")]
    pub measure: Option<String>,
    /// When it is taken: impact, lead_arm_level_down …
    #[arg(long, value_name = "MOMENT")]
    pub moment: Option<String>,
    /// The moment it is held against
    #[arg(long, value_name = "MOMENT")]
    pub against: Option<String>,
    /// The number to reach, in the measure's unit and sign
    #[arg(
        long,
        requires = "measure",
        allow_negative_numbers = true,
        value_name = "NUMBER"
    )]
    pub goal: Option<f64>,
    /// The day it was given [default: today]
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub on: Option<Date>,
    /// Days to the next lesson [default: 14]
    #[arg(long, value_name = "DAYS")]
    pub next_in: Option<u32>,
    /// Change this prescription instead (`lessonwright progress` shows the numbers)
    #[arg(long, conflicts_with_all = ["drill", "measure", "on"], value_name = "N")]
    pub number: Option<i64>,
    /// End it today
    #[arg(long, requires = "number")]
    pub end: bool,
}

/// One player: is it working?
pub fn progress(
    around: &Surroundings,
    asked: &ProgressArguments,
    runtime: &Runtime,
) -> Result<String> {
    runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let player = named(&store, &asked.player).await?;
        let roster = everybody(&store).await?;
        let history = roster
            .player(player.0)
            .context("the player was erased meanwhile")?;
        let today = day_of(today(asked.on));
        let all = roster.progress(history, today);
        Ok(say::progress(history, due(history, today), &all))
    })
}

/// The roster.
pub fn overview(
    around: &Surroundings,
    asked: &OverviewArguments,
    runtime: &Runtime,
) -> Result<String> {
    runtime.block_on(async {
        let roster = everybody(&Store::open(&around.studio).await?).await?;
        let today = day_of(today(asked.on));
        let overview = roster.overview(today);
        Ok(say::overview(&overview, &roster.drill_effects(), today))
    })
}

/// How well each number repeats.
pub fn repeatability(around: &Surroundings, runtime: &Runtime) -> Result<String> {
    runtime.block_on(async {
        let roster = everybody(&Store::open(&around.studio).await?).await?;
        Ok(say::repeatability(&roster.repeatability()))
    })
}

/// Notes how swings were made.
pub fn mark(around: &Surroundings, asked: &MarkArguments, runtime: &Runtime) -> Result<String> {
    ensure!(
        asked.kind.is_some() || asked.day.is_some(),
        "say how the swings were made (--as) or to which day they belong (--day)"
    );
    let day = match asked.day.as_deref() {
        None => None,
        Some("filmed") => Some(None),
        Some(text) => {
            let date: Date = text
                .parse()
                .with_context(|| format!("\"{text}\" is no day like 2026-11-25"))?;
            Some(Some(date))
        }
    };
    runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let mut lines = String::new();
        for key in &asked.swings {
            let id = SwingId(*key);
            let mut mark: SwingMark = store.swing_mark(id).await?;
            if let Some(kind) = asked.kind {
                mark.occasion = kind.occasion();
            }
            if let Some(day) = day {
                mark.session_on = day;
            }
            store.mark_swing(id, mark).await?;
            lines += &say::mark(*key, mark);
        }
        Ok(lines)
    })
}

/// Puts a prescription on record, or changes one.
pub fn prescribe(
    around: &Surroundings,
    asked: &PrescribeArguments,
    runtime: &Runtime,
) -> Result<String> {
    runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let player = named(&store, &asked.player).await?;
        match asked.number {
            Some(number) => change(&store, player, number, asked).await,
            None => add(around, &store, player, asked).await,
        }
    })
}

async fn change(
    store: &Store,
    player: PlayerId,
    number: i64,
    asked: &PrescribeArguments,
) -> Result<String> {
    let history = store.history(player, &TimeZone::system()).await?;
    ensure!(
        history.given.iter().any(|given| given.id == number),
        "{} has no prescription {number}",
        history.name
    );
    ensure!(
        asked.end || asked.next_in.is_some(),
        "say what to change: --next-in DAYS or --end"
    );
    if asked.next_in.is_some() {
        store.set_next_lesson(number, asked.next_in).await?;
    }
    if asked.end {
        store.end_prescription(number, Some(today(None))).await?;
    }
    Ok(format!("Prescription {number} is changed.\n"))
}

async fn add(
    around: &Surroundings,
    store: &Store,
    player: PlayerId,
    asked: &PrescribeArguments,
) -> Result<String> {
    let key = asked.drill.as_deref().unwrap_or_default();
    let own = Own::load(&around.studio)?;
    let drill = own.book.page(key).with_context(|| {
        format!("the drill book has no \"{key}\": see `lessonwright drills list`")
    })?;
    let given_on = today(asked.on);
    let place = match (&asked.measure, &asked.moment) {
        (Some(measure), Some(moment)) => Some(Place {
            measure: word::<MeasureName>(measure, "measure")?,
            moment: word::<MomentName>(moment, "moment")?,
            against: match &asked.against {
                Some(against) => Some(word::<MomentName>(against, "moment")?),
                None => None,
            },
        }),
        _ => None,
    };
    let history = store.history(player, &TimeZone::system()).await?;
    // The level it starts from, as the latest swing by then shows it.
    let start = place.and_then(|place| {
        let by_then = history.swings.iter().filter(|s| s.day <= day_of(given_on));
        by_then.rev().find_map(|s| Some(s.taken(place)?.value))
    });
    let facts = store.player(player).await?.map(|player| player.facts);
    let facts = facts.with_context(|| format!("{} is no longer in the studio", history.name))?;
    if let Some(why) = own.screening.screen(&facts, Timestamp::now()).refusal() {
        bail!("nothing can be prescribed: {}", Say::default().text(&why));
    }
    let hand = facts.hand.unwrap_or(Hand::Right);
    let by_hand = ByHand {
        drill: key.to_owned(),
        title: drill.worded(hand, &Care::Full).title,
        aim: place
            .zip(asked.goal)
            .map(|(place, goal)| Aim { place, goal, start }),
        given_on,
        next_in_days: asked.next_in,
    };
    let number = store.prescribe(player, &by_hand).await?;
    Ok(format!(
        "Prescription {number} is on record: {}, {}.\n",
        by_hand.title, history.name
    ))
}

impl KindName {
    /// None for what is not marked.
    pub fn occasion(self) -> Option<Occasion> {
        match self {
            KindName::Practice => Some(Occasion::Practice),
            KindName::Retention => Some(Occasion::Retention),
            KindName::Transfer => Some(Occasion::Transfer),
            KindName::Unmarked => None,
        }
    }
}

async fn named(store: &Store, name: &str) -> Result<PlayerId> {
    let found = store.player_named(name).await?;
    Ok(found
        .with_context(|| format!("there is no player \"{name}\" in the studio"))?
        .id)
}

async fn everybody(store: &Store) -> Result<Roster> {
    Ok(Roster::of(store.histories(&TimeZone::system()).await?))
}

fn today(on: Option<Date>) -> Date {
    on.unwrap_or_else(|| Zoned::now().date())
}

/// A name of the JSON contract as typed.
fn word<T: DeserializeOwned>(text: &str, what: &str) -> Result<T> {
    serde_json::from_value(text.into())
        .with_context(|| format!("\"{text}\" is no {what}: see `lessonwright analyse --json`"))
}
