//! Practice until the next lesson: on which days, in which blocks, with how many balls and swings, which cue, which
//! rest, and when to film. Pure: same input, same plan.
//!
//! [`plan`] reads what the player can do ([`Practice`]), what was prescribed, and what may be prescribed today
//! ([`Screened`]). Its numbers are data (`data/practice.toml`, with the sources of motor learning and their doubts).
//! Days are chosen in `days`, blocks in `blocks`.

mod blocks;
mod days;
mod rules;

pub use rules::PracticeRules;

use crate::book::{DrillBook, DrillPage};
use crate::care::{Care, Dose, cautions};
use crate::screening::{Screened, ScreeningRules};
use crate::stations::Stations;
use blocks::Builder;
use jiff::Timestamp;
use lessonwright_language::{Say, Text, t};
use lessonwright_model::{
    Drill, Hand, PlayerFacts, Practice, PracticePlan, Prescription, Session, SwingAnalysis,
};
use std::fmt;

/// How a drill's page says that it has no caution of its own.
const NO_CAUTION: [&str; 2] = ["None ", "Keine "];

/// Fewest minutes a session: a warm-up and one round.
const FEWEST_MINUTES: u32 = 10;
/// Most minutes a session: half a day on the course.
const MOST_MINUTES: u32 = 300;

/// Why there is no plan, and what to do.
#[derive(Clone, Debug, PartialEq)]
pub enum PlanError {
    /// The screening forbids it, or has to be asked first.
    Refused(Text),
    /// The lesson prescribes nothing.
    NothingPrescribed,
    /// The drill is not for what was told since.
    NotForPlayer(String),
    /// The drill's page is gone.
    DrillGone(String),
    /// The next lesson is not after the first day.
    NoTime,
    /// The next lesson is too far away.
    TooFar(u32),
    /// None of the days chosen is left.
    NoDay,
    /// Minutes out of range.
    Minutes(u32),
}

impl PlanError {
    /// In words for the professional.
    pub fn says(&self) -> Text {
        match self {
            PlanError::Refused(why) => why.clone(),
            PlanError::NothingPrescribed => t("judged-no-plan-nothing"),
            PlanError::NotForPlayer(drill) => t("judged-no-plan-not-for").with("drill", drill),
            PlanError::DrillGone(drill) => t("judged-no-plan-gone").with("drill", drill),
            PlanError::NoTime => t("judged-no-plan-time"),
            PlanError::TooFar(weeks) => t("judged-no-plan-far").with("weeks", weeks),
            PlanError::NoDay => t("judged-no-plan-day"),
            PlanError::Minutes(minutes) => t("judged-no-plan-minutes")
                .with("fewest", FEWEST_MINUTES)
                .with("most", MOST_MINUTES)
                .with("minutes", minutes),
        }
    }
}

/// The command line speaks English.
impl fmt::Display for PlanError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&Say::default().text(&self.says()))
    }
}

impl std::error::Error for PlanError {}

/// What is planned by.
#[derive(Clone, Copy, Debug)]
pub struct PlanRules<'a> {
    /// How practice is built.
    pub practice: &'a PracticeRules,
    /// What may be prescribed to whom.
    pub screening: &'a ScreeningRules,
    /// The drills, for their doses.
    pub book: &'a DrillBook,
    /// How their stations lie on the ground.
    pub stations: &'a Stations,
}

/// Plans the practice of what a swing's analysis prescribes, for a player as known `now`.
///
/// # Errors
/// When nothing may be prescribed or nothing is, the drill is not for the player any more, or no session fits.
pub fn plan(
    analysis: &SwingAnalysis,
    player: &PlayerFacts,
    practice: &Practice,
    rules: &PlanRules<'_>,
    now: Timestamp,
) -> Result<PracticePlan, PlanError> {
    let screened = rules.screening.screen(player, now);
    if let Some(why) = screened.refusal() {
        return Err(PlanError::Refused(why));
    }
    check(practice, rules.practice)?;
    let (prescription, drill) = prescribed(analysis)?;
    let hand = analysis
        .views
        .first()
        .map(|view| view.hand)
        .or(player.hand)
        .unwrap_or(Hand::Right);
    let page = page(drill, player, &screened, rules.book)?;
    let dose = match screened.care {
        Care::Full => page.dose().clone(),
        _ => page.dose().lowered(),
    };
    let is_lowered = screened.care != Care::Full;
    let dates = days::choose(practice, dose.days_a_week, is_lowered);
    let dates = if dates.is_empty() {
        return Err(PlanError::NoDay);
    } else {
        dates
    };
    let checks = days::checks(&dates, practice.from, rules.practice.check_every_days);
    let builder = Builder {
        rules: rules.practice,
        practice,
        drill,
        dose: &dose,
        age_years: player.age_years,
        most_swings: most_swings(rules.practice, player, &screened, practice, &dates),
    };
    let sessions = dates.iter().enumerate().map(|(index, date)| Session {
        number: index + 1,
        date: *date,
        blocks: builder.blocks(index, dates.len(), checks[index]),
    });
    Ok(PracticePlan {
        title: analysis
            .priority
            .as_ref()
            .map_or_else(String::new, |p| p.title.clone()),
        drill: drill.key.clone(),
        drill_title: drill.title.clone(),
        practice: practice.clone(),
        cue: prescription.cue.clone(),
        cue_inward: drill.cue_inward.clone(),
        station: drill.station.clone(),
        layout: rules.stations.of(&drill.key, hand),
        hand,
        checkpoint: drill.checkpoint.clone(),
        check: prescription.check.clone(),
        sessions: sessions.collect(),
        lowered: lowered(&screened, practice, rules.practice.say()),
        cautions: all_cautions(player, &screened, drill, rules.practice.say()),
        why: rules.practice.reasons(player.age_years),
        edition: rules.practice.edition().into(),
    })
}

fn check(practice: &Practice, rules: &PracticeRules) -> Result<(), PlanError> {
    if !(FEWEST_MINUTES..=MOST_MINUTES).contains(&practice.minutes) {
        return Err(PlanError::Minutes(practice.minutes));
    }
    let days = days::between(practice.from, practice.next_lesson);
    if days <= 0 {
        Err(PlanError::NoTime)
    } else if days > i64::from(rules.most_weeks) * 7 {
        Err(PlanError::TooFar(rules.most_weeks))
    } else {
        Ok(())
    }
}

fn prescribed(analysis: &SwingAnalysis) -> Result<(&Prescription, &Drill), PlanError> {
    let prescription = analysis.prescription.as_ref();
    let prescription = prescription.ok_or(PlanError::NothingPrescribed)?;
    let is = |drill: &&Drill| drill.key == prescription.drill;
    let drill = analysis.drills.iter().find(is);
    Ok((prescription, drill.ok_or(PlanError::NothingPrescribed)?))
}

fn page<'a>(
    drill: &Drill,
    player: &PlayerFacts,
    screened: &Screened,
    book: &'a DrillBook,
) -> Result<&'a DrillPage, PlanError> {
    let page = book.page(&drill.key);
    let page = page.ok_or_else(|| PlanError::DrillGone(drill.title.clone()))?;
    if page.is_not_with(&player.limits) || page.is_not_with(&screened.limits) {
        return Err(PlanError::NotForPlayer(drill.title.clone()));
    }
    Ok(page)
}

/// Most swings of a session: the day's, or the week's shared among as many sessions as fall into any seven days,
/// whichever is less.
fn most_swings(
    rules: &PracticeRules,
    player: &PlayerFacts,
    screened: &Screened,
    practice: &Practice,
    dates: &[jiff::civil::Date],
) -> u32 {
    let most = rules.most(
        player.age_years,
        screened.care != Care::Full,
        practice.season,
    );
    most.swings_a_day
        .min(most.swings_a_week / days::most_in_a_week(dates))
}

/// Why there is less than could be.
fn lowered(screened: &Screened, practice: &Practice, say: Say) -> Vec<String> {
    use lessonwright_model::Season;
    let season = match practice.season {
        Season::Playing => Some(t("coaching-season-playing")),
        Season::Returning => Some(t("coaching-season-returning")),
        Season::Between => None,
    };
    let reasons = screened.lowered.iter().cloned();
    reasons.chain(season.map(|why| say.text(&why))).collect()
}

fn all_cautions(player: &PlayerFacts, screened: &Screened, drill: &Drill, say: Say) -> Vec<String> {
    // Why less is done is said beside the plan already.
    let mut all = cautions(player, screened, say);
    all.retain(|caution| !screened.lowered.contains(caution));
    all.extend(
        drill
            .cautions
            .iter()
            .filter(|own| !NO_CAUTION.iter().any(|none| own.starts_with(none)))
            .cloned(),
    );
    all
}

impl Dose {
    /// Seconds that a number of rounds of so many swings takes, with rests between.
    fn seconds(rounds: u32, swings: u32, swing_s: u32, rest_s: u32) -> u32 {
        rounds * swings * swing_s + rounds.saturating_sub(1) * rest_s
    }
}
