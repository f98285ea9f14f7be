//! A practice plan for the player: a part of a page, a card to print, a calendar file. Values in, bytes out.
//!
//! [`plan_part`] is HTML for a page that has [`PLAN_STYLE`] among its styles; [`practice_card`] is a whole page that
//! fills one sheet of A4 (or, printed at half its size, A5); [`calendar`] follows RFC 5545.

mod calendar;
mod station;

pub use calendar::calendar;
pub use station::StationPlan;

use crate::ReportError;
use askama::Template;
use jiff::civil::Date;
use lessonwright_language::{Language, Say, Text, filters, t, when, words};
use lessonwright_model::{Block, BlockKind, PracticePlan, Session};

/// How a plan's part looks. Colours are those of the page around it.
pub const PLAN_STYLE: &str = include_str!("../templates/practice.css");

/// A plan as part of a page. Its headings are of the third level.
///
/// # Errors
/// If the template can't be filled in.
pub fn plan_part(plan: &PracticePlan, say: Say) -> Result<String, ReportError> {
    let part = PlanPart {
        stages: stages(plan),
        station: StationPlan::of(plan),
        until: day(plan.practice.next_lesson),
        plan,
    };
    Ok(say.render(&part)?)
}

/// Whose card it is.
#[derive(Clone, Copy, Debug)]
pub struct CardFor<'a> {
    /// The studio or academy; may be empty.
    pub academy: &'a str,
    /// The professional; may be empty.
    pub coach: &'a str,
    /// The player, as the professional calls them.
    pub player: &'a str,
}

/// A plan on one sheet, as one HTML file that needs nothing else.
///
/// # Errors
/// If the template can't be filled in.
pub fn practice_card(
    plan: &PracticePlan,
    card_for: &CardFor<'_>,
    say: Say,
) -> Result<String, ReportError> {
    let rows = plan.sessions.iter().map(|session| Row::of(session, say));
    let rows: Vec<Row> = rows.collect();
    let card = Card {
        until: day(plan.practice.next_lesson),
        halves: halves(rows),
        rungs: rungs(plan),
        station: StationPlan::of(plan),
        plan,
        card_for,
    };
    Ok(say.render(&card)?)
}

#[derive(Template)]
#[template(path = "practice_part.html")]
struct PlanPart<'a> {
    plan: &'a PracticePlan,
    stages: Vec<Stage<'a>>,
    station: Option<StationPlan<'a>>,
    until: Text,
}

/// Days that follow one another and are alike.
struct Stage<'a> {
    days: Vec<Text>,
    session: &'a Session,
}

#[derive(Template)]
#[template(path = "practice_card.html")]
struct Card<'a> {
    plan: &'a PracticePlan,
    card_for: &'a CardFor<'a>,
    until: Text,
    halves: Vec<Vec<Row>>,
    /// What the drill's steps are, each once.
    rungs: Vec<String>,
    station: Option<StationPlan<'a>>,
}

/// A session in a few words.
struct Row {
    day: Text,
    check: bool,
    drill: String,
    mixed: String,
    played: String,
    minutes: u32,
}

impl Row {
    fn of(session: &Session, say: Say) -> Row {
        let of = |kind| session.blocks.iter().find(|block| block.kind == kind);
        let count = |kind| {
            of(kind)
                .map(|block| block.all_swings().to_string())
                .unwrap_or_default()
        };
        Row {
            day: short_day(session.date),
            check: session.is_check(),
            drill: of(BlockKind::Drill)
                .map(|block| short_drill(block, say))
                .unwrap_or_default(),
            mixed: count(BlockKind::Mixed),
            played: count(BlockKind::AsPlayed),
            minutes: session.minutes(),
        }
    }
}

/// "2 × 8, slow"; in German a step may be a noun and keeps its capital.
fn short_drill(block: &Block, say: Say) -> String {
    let rung = rung(block).and_then(|text| text.split(':').next());
    let step = match (rung, say.language) {
        (None, _) => say.text(&t("card-as-shown")),
        (Some(rung), Language::English) => rung.to_lowercase(),
        (Some(rung), Language::German) => rung.to_owned(),
    };
    format!("{} × {}, {step}", block.rounds, block.swings)
}

/// The step of the drill's ladder, without the drill's title.
fn rung(block: &Block) -> Option<&str> {
    block.says.split_once(". ").map(|(_, rung)| rung)
}

fn rungs(plan: &PracticePlan) -> Vec<String> {
    let blocks = plan.sessions.iter().flat_map(|session| &session.blocks);
    let drills = blocks.filter(|block| block.kind == BlockKind::Drill);
    let mut rungs: Vec<String> = drills.filter_map(rung).map(Into::into).collect();
    rungs.dedup();
    rungs
}

fn stages(plan: &PracticePlan) -> Vec<Stage<'_>> {
    plan.sessions
        .chunk_by(|one, next| one.blocks == next.blocks)
        .map(|alike| Stage {
            days: alike
                .iter()
                .map(|session| short_day(session.date))
                .collect(),
            session: &alike[0],
        })
        .collect()
}

/// More rows than this stand in two columns.
const ROWS_OF_A_COLUMN: usize = 14;

fn halves(mut rows: Vec<Row>) -> Vec<Vec<Row>> {
    if rows.len() <= ROWS_OF_A_COLUMN {
        return vec![rows];
    }
    let second = rows.split_off(rows.len().div_ceil(2));
    vec![rows, second]
}

/// "26 November 2026".
fn day(date: Date) -> Text {
    when::date(date)
}

/// "Thu 26 Nov".
fn short_day(date: Date) -> Text {
    when::weekday_short(date)
}

/// "1 minute 30 seconds", "45 seconds".
fn rest(seconds: u32) -> Text {
    let (minutes, seconds) = (seconds / 60, seconds % 60);
    let minutes = (minutes > 0).then(|| t("practice-rest-minutes").with("minutes", minutes));
    let seconds = (seconds > 0).then(|| t("practice-rest-seconds").with("seconds", seconds));
    Text::joined(minutes.into_iter().chain(seconds), " ")
}

/// "2 rounds of 8, rest 1 minute between", "20 balls", "3 balls"; none where nothing is counted.
fn amount(block: &Block) -> Option<Text> {
    let what = match (block.balls, block.swings) {
        (_, 0) => return None,
        (0, _) => t("practice-without-a-ball"),
        (balls, swings) if balls == swings => t("practice-balls"),
        _ => t("practice-some-with-a-ball"),
    };
    let amount = match block.rounds {
        1 => t("practice-amount"),
        rounds => t("practice-amount-in-rounds")
            .with("rounds", rounds)
            .with("rest", rest(block.rest_s)),
    };
    Some(amount.with("swings", block.swings).with("what", what))
}

/// What a block is.
fn title(block: &Block) -> Text {
    kind(block.kind)
}

fn kind(kind: BlockKind) -> Text {
    t(match kind {
        BlockKind::WarmUp => "practice-block-warm-up",
        BlockKind::Check => "practice-block-check",
        BlockKind::Drill => "practice-block-drill",
        BlockKind::Mixed => "practice-block-mixed",
        BlockKind::AsPlayed => "practice-block-as-played",
    })
}

impl PlanPart<'_> {
    /// How much in all, until when, where.
    fn sum(&self) -> Text {
        let sum = match self.plan.balls() {
            0 => t("practice-sum"),
            balls => t("practice-sum-with-balls").with("balls", balls),
        };
        sum.with("sessions", self.plan.sessions.len())
            .with("until", &self.until)
            .with("place", words::place(self.plan.practice.place))
            .with("swings", self.plan.swings())
    }
}

impl Card<'_> {
    fn sum(&self) -> Text {
        t("card-sum")
            .with("title", &self.plan.title)
            .with("sessions", self.plan.sessions.len())
            .with("place", words::place(self.plan.practice.place))
            .with("until", &self.until)
    }
}

/// Whole minutes, rounded up.
fn minutes(block: &Block) -> u32 {
    block.time_s.div_ceil(60)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rest_is_said_in_minutes_and_seconds() {
        for (seconds, says) in [
            (30, "30 seconds"),
            (60, "1 minute"),
            (90, "1 minute 30 seconds"),
        ] {
            assert_eq!(Say::default().text(&rest(seconds)), says);
        }
    }
}
