//! `plan`: a player's practice until the next lesson, as text, as a card and as a calendar file.

use crate::personal::language_of;
use crate::player::named;
use crate::surroundings::Surroundings;
use crate::trade::Own;
use anyhow::{Context, Result};
use clap::Args;
use jiff::Timestamp;
use lessonwright_coaching::{Retold, plan};
use lessonwright_language::Say;
use lessonwright_model::{Block, Language, PracticePlan, Session};
use lessonwright_report::{CardFor, calendar, practice_card};
use lessonwright_store::{Player, Store};
use std::path::PathBuf;
use tokio::runtime::Runtime;

#[derive(Args)]
pub struct PlanArguments {
    /// The player's name; place, days, minutes and dates are those of `lessonwright player practice`
    pub player: String,
    /// Also write a card to print (HTML, one sheet of A4)
    #[arg(long, value_name = "FILE")]
    pub card: Option<PathBuf>,
    /// Also write a calendar file (iCalendar)
    #[arg(long, value_name = "FILE")]
    pub ics: Option<PathBuf>,
    /// The academy's name on the card
    #[arg(long, default_value = "")]
    pub academy: String,
    /// The professional's name on the card
    #[arg(long, default_value = "")]
    pub coach: String,
}

/// Plan, print, write.
pub fn run(around: &Surroundings, arguments: &PlanArguments, runtime: &Runtime) -> Result<()> {
    let own = Own::load(&around.studio)?;
    let (player, plan, say) = runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let player = named(&store, &arguments.player).await?;
        let language = language_of(&store, &player).await?;
        let plan = planned(&store, &player, &own, language).await?;
        anyhow::Ok((player, plan, Say::new(language)))
    })?;
    if let Some(file) = &arguments.card {
        let card_for = CardFor {
            academy: &arguments.academy,
            coach: &arguments.coach,
            player: &player.facts.name,
        };
        write(file, &practice_card(&plan, &card_for, say)?)?;
    }
    if let Some(file) = &arguments.ics {
        write(
            file,
            &calendar(&plan, &format!("player-{}", player.id), say),
        )?;
    }
    crate::print(&text(&plan))
}

async fn planned(
    store: &Store,
    player: &Player,
    own: &Own,
    language: Language,
) -> Result<PracticePlan> {
    let name = &player.facts.name;
    let practice = player.practice.as_ref().with_context(|| {
        format!("how does {name} practise? say it with `lessonwright player practice`")
    })?;
    let swings = store.swings_of(player.id).await?;
    let swing = swings
        .first()
        .with_context(|| format!("{name} has no swing in the studio"))?;
    let stored = store.latest_analysis(swing.id).await?;
    let stored = stored.with_context(|| format!("swing {} was never analysed", swing.id))?;
    let english = own.clone();
    let own = own.clone().in_language(language);
    let said = Retold::of(&english.words(), &own.words()).analysis(&stored.analysis);
    let rules = own.plan_rules();
    Ok(plan(
        &said,
        &player.facts,
        practice,
        &rules,
        Timestamp::now(),
    )?)
}

fn write(file: &PathBuf, text: &str) -> Result<()> {
    std::fs::write(file, text).with_context(|| format!("writing {}", file.display()))
}

fn text(plan: &PracticePlan) -> String {
    let list = |title: &str, lines: &[String]| match lines {
        [] => String::new(),
        lines => format!("\n{title}\n  {}\n", lines.join("\n  ")),
    };
    let sessions: String = plan.sessions.iter().map(session).collect();
    format!(
        "{}: {}\nCue: {}\n     or, if it works better: {}\n{} sessions {}, {} swings, {} balls, until {}\n{sessions}\nThe \
         check\n  {}\n{}{}",
        plan.title,
        plan.drill_title,
        plan.cue,
        plan.cue_inward,
        plan.sessions.len(),
        plan.practice.place.plain(),
        plan.swings(),
        plan.balls(),
        plan.practice.next_lesson,
        plan.check,
        list("Less than usual, because", &plan.lowered),
        list("Take care", &plan.cautions),
    )
}

fn session(session: &Session) -> String {
    let blocks: String = session.blocks.iter().map(block).collect();
    let day = session.date.strftime("%a %-d %b");
    format!("\n{day}, {} min\n{blocks}", session.minutes())
}

fn block(block: &Block) -> String {
    let amount = match (block.rounds, block.swings) {
        (_, 0) => String::new(),
        (1, swings) => format!(" {swings}"),
        (rounds, swings) => format!(" {rounds} × {swings}, rest {} s", block.rest_s),
    };
    format!(
        "  {}{amount}: {} {}\n",
        block.kind.title(),
        block.says,
        block.look
    )
}
