//! What is asked, set and chosen for a player.

use super::day;
use crate::AppState;
use crate::error::PageError;
use crate::own::PlayerUnits;
use crate::practice::practice_address;
use crate::routes::player_address;
use crate::settings::{PAIN_ROWS, form_address};
use askama::Template;
use jiff::ToSpan;
use jiff::civil::Date;
use lessonwright_coaching::FEWEST_MODELS;
use lessonwright_coaching::ball::ClubKind;
use lessonwright_model::{
    BodyArea, PracticePlace, ReferenceChoice, STRONGEST_PAIN, Screening, Season, Sex,
};
use lessonwright_store::{OF_AGE_YEARS, Player, Store, Swing};

/// The page.
#[derive(Template)]
#[template(path = "settings.html")]
pub struct SettingsPage {
    player: String,
    player_address: String,
    plan: String,
    /// What was saved last.
    saved: Option<&'static str>,
    /// Why nothing may be prescribed.
    refusal: Option<String>,
    /// Why less is prescribed.
    lowered: Vec<String>,
    asked: Asked,
    age: String,
    sexes: Vec<Pick>,
    limits: Vec<Pick>,
    goals: Vec<Pick>,
    /// For a minor: who agreed and when, if anybody did.
    guardian: Option<Option<(String, String)>>,
    practice: PracticeFields,
    held: Held,
    swings: Vec<SwingFields>,
    units: PlayerUnits,
    forms: Forms,
}

/// Something that can't be saved.
#[derive(Template)]
#[template(path = "not_saved.html")]
pub struct NotSaved {
    /// Why, and what to do.
    pub reason: String,
    /// The page with the form.
    pub back: String,
}

struct Forms {
    asked: String,
    body: String,
    guardian: String,
    practice: String,
    held: String,
}

/// One of several to pick.
struct Pick {
    key: String,
    says: String,
    picked: bool,
}

/// The questions and the last answers.
struct Asked {
    /// The day, and what was told, a line each.
    last: Option<(String, Vec<String>)>,
    again_after_days: u32,
    rows: Vec<usize>,
    areas: [BodyArea; BodyArea::ALL.len()],
    strengths: Vec<u8>,
    /// What a note on record says.
    other: String,
}

struct PracticeFields {
    from: String,
    next_lesson: String,
    days: Vec<Pick>,
    minutes: u32,
    places: Vec<Pick>,
    seasons: Vec<Pick>,
    at: String,
}

struct Held {
    choices: Vec<Pick>,
    /// For the choice of an own swing.
    swings: Vec<Pick>,
    models: usize,
    fewest: usize,
}

struct SwingFields {
    form: String,
    day: String,
    number: i64,
    clubs: Vec<Pick>,
    model: bool,
}

const DAYS: [&str; 7] = [
    "Monday",
    "Tuesday",
    "Wednesday",
    "Thursday",
    "Friday",
    "Saturday",
    "Sunday",
];

/// What is filled in until it was said once. Common practice, no source.
const USUAL_MINUTES: u32 = 20;
const USUAL_WEEKS: i64 = 3;

impl SettingsPage {
    pub async fn of(
        store: &Store,
        state: &AppState,
        player: Player,
        saved: Option<&str>,
    ) -> Result<SettingsPage, PageError> {
        let id = player.id;
        let swings = store.swings_of(id).await?;
        let screened = state
            .prescribing
            .screening
            .screen(&player.facts, (state.now)());
        let facts = &player.facts;
        let form = |what| form_address(id, what);
        let today = (state.now)().to_zoned(state.time_zone.clone()).date();
        Ok(SettingsPage {
            player_address: player_address(id),
            plan: practice_address(id),
            saved: saved.and_then(said),
            refusal: screened.refusal(),
            lowered: screened.lowered,
            asked: Asked::of(&player, state),
            age: facts
                .age_years
                .map(|age| age.to_string())
                .unwrap_or_default(),
            sexes: picks(
                [Sex::Female, Sex::Male].map(|sex| (sex.key(), sex.key())),
                facts.sex.map(Sex::key),
            ),
            limits: keys(&state.trade.limits, &facts.limits),
            goals: keys(&state.trade.goals, &facts.goals),
            guardian: facts
                .age_years
                .is_some_and(|age| age < OF_AGE_YEARS)
                .then(|| {
                    let consent = player.guardian_consent.as_ref();
                    consent.map(|consent| (consent.guardian.clone(), day(consent.given_at, state)))
                }),
            practice: PracticeFields::of(&player, today),
            held: Held {
                choices: choices(player.reference),
                swings: own_swings(&swings, player.reference, state),
                models: store.model_swings().await?.len(),
                fewest: FEWEST_MODELS,
            },
            swings: swings
                .iter()
                .map(|swing| SwingFields::of(&player, swing, state))
                .collect(),
            units: PlayerUnits::of(&player),
            forms: Forms {
                asked: form("asked"),
                body: form("body"),
                guardian: form("guardian"),
                practice: form("practice"),
                held: form("held"),
            },
            player: player.facts.name,
        })
    }
}

impl Asked {
    fn of(player: &Player, state: &AppState) -> Asked {
        let facts = &player.facts;
        let answers = facts.screening.as_ref();
        Asked {
            last: answers.map(|answers| (day(answers.asked_at, state), told(answers))),
            again_after_days: state.prescribing.screening.ask_again_after_days(),
            rows: (1..=PAIN_ROWS).collect(),
            areas: BodyArea::ALL,
            strengths: (1..=STRONGEST_PAIN).collect(),
            other: facts
                .health_note
                .clone()
                .or_else(|| answers.map(|answers| answers.other.clone()))
                .unwrap_or_default(),
        }
    }
}

/// What was told, a line each.
fn told(answers: &Screening) -> Vec<String> {
    let pains = answers.pains.iter().map(|pain| {
        format!(
            "pain: {}, {} of {STRONGEST_PAIN}",
            pain.area.plain(),
            pain.strength
        )
    });
    let signs = [
        (answers.warning_signs, "warning signs"),
        (answers.injury, "an injury that has not healed"),
        (answers.balance_medicine, "medicine that affects balance"),
        (
            answers.condition,
            "heart, brittle bones, pregnancy or the like",
        ),
    ];
    let signs = signs
        .into_iter()
        .filter(|(told, _)| *told)
        .map(|(_, says)| says.to_string());
    let surgery = answers
        .surgery_months_ago
        .map(|months| format!("surgery {months} months before"));
    let other = (!answers.other.is_empty()).then(|| answers.other.clone());
    let cleared = answers
        .cleared
        .as_ref()
        .map(|c| format!("{} agreed on {}", c.by, c.on));
    let mut lines: Vec<String> = pains.chain(signs).chain(surgery).chain(other).collect();
    if lines.is_empty() {
        lines.push("nothing".into());
    }
    lines.extend(cleared);
    lines
}

impl PracticeFields {
    fn of(player: &Player, today: Date) -> PracticeFields {
        let kept = player.practice.as_ref();
        // A plan that is over is begun anew from today.
        let running = kept.filter(|kept| kept.next_lesson > today);
        let next = today.saturating_add(USUAL_WEEKS.weeks());
        let days = |n: &u8| kept.is_none_or(|kept| kept.days.contains(n));
        let day = |n: u8| Pick {
            key: n.to_string(),
            says: DAYS[usize::from(n) - 1].into(),
            picked: days(&n),
        };
        PracticeFields {
            from: running.map_or(today, |kept| kept.from).to_string(),
            next_lesson: running.map_or(next, |kept| kept.next_lesson).to_string(),
            days: (1..=7).map(day).collect(),
            minutes: kept.map_or(USUAL_MINUTES, |kept| kept.minutes),
            places: picks(
                PracticePlace::ALL.map(|p| (p.key(), p.plain())),
                kept.map(|kept| kept.place.key()),
            ),
            seasons: picks(
                Season::ALL.map(|s| (s.key(), s.plain())),
                kept.map(|kept| kept.season.key()),
            ),
            at: kept
                .and_then(|kept| kept.at)
                .map(|at| at.strftime("%H:%M").to_string())
                .unwrap_or_default(),
        }
    }
}

impl SwingFields {
    fn of(player: &Player, swing: &Swing, state: &AppState) -> SwingFields {
        SwingFields {
            form: form_address(player.id, &format!("swings/{}", swing.id)),
            day: day(swing.filmed_at.unwrap_or(swing.added_at), state),
            number: swing.id.0,
            clubs: picks(
                ClubKind::ALL.map(|c| (c.key(), c.plain())),
                swing.club.as_deref(),
            ),
            model: swing.model_since.is_some(),
        }
    }
}

fn choices(now: ReferenceChoice) -> Vec<Pick> {
    let key = match now {
        ReferenceChoice::Standard => "standard",
        ReferenceChoice::OwnAddress => "own_address",
        ReferenceChoice::Published => "published",
        ReferenceChoice::OwnSwing(_) => "own_swing",
        ReferenceChoice::Models => "models",
    };
    let offered = [
        (
            "standard",
            "All bands of the studio: own address, agreement among teachers, published figures",
        ),
        (
            "own_address",
            "Own address only; what has no such band is not judged",
        ),
        (
            "published",
            "Published figures only; what has none is not judged",
        ),
        (
            "own_swing",
            "An own swing, chosen below; what it has no number for stays with the studio's bands",
        ),
        (
            "models",
            "Your model swings of this player's like; what they are too few for stays with the studio's bands",
        ),
    ];
    picks(offered, Some(key))
}

fn own_swings(swings: &[Swing], now: ReferenceChoice, state: &AppState) -> Vec<Pick> {
    let pick = |swing: &Swing| Pick {
        key: swing.id.to_string(),
        says: format!(
            "swing {} of {}",
            swing.id,
            day(swing.filmed_at.unwrap_or(swing.added_at), state)
        ),
        picked: now == ReferenceChoice::OwnSwing(swing.id.0),
    };
    swings.iter().map(pick).collect()
}

fn picks<const N: usize>(
    offered: [(&'static str, &'static str); N],
    now: Option<&str>,
) -> Vec<Pick> {
    let pick = |(key, says): (&'static str, &'static str)| Pick {
        key: key.into(),
        says: says.into(),
        picked: now == Some(key),
    };
    offered.map(pick).into()
}

fn keys(offered: &[(String, String)], now: &[String]) -> Vec<Pick> {
    let pick = |(key, says): &(String, String)| Pick {
        key: key.clone(),
        says: says.clone(),
        picked: now.contains(key),
    };
    offered.iter().map(pick).collect()
}

/// What was saved, in words; nothing for what no form saves.
fn said(what: &str) -> Option<&'static str> {
    match what {
        "asked" => Some(
            "The answers are kept. A lesson that waits for you is drafted again by them, in a moment.",
        ),
        "body" | "units" => Some("Kept."),
        "held" => {
            Some("Kept: from the next analysis on. A lesson that waits for you is drafted again.")
        }
        "swings" => Some("The swing is noted."),
        _ => None,
    }
}
