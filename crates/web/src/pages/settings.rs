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
use lessonwright_language::{Text, filters, t, words};
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
    saved: Option<Text>,
    /// Why nothing may be prescribed.
    refusal: Option<Text>,
    /// Why less is prescribed.
    lowered: Vec<String>,
    asked: Asked,
    age: String,
    sexes: Vec<Pick>,
    limits: Vec<Pick>,
    goals: Vec<Pick>,
    /// For a minor: who agreed and when, if anybody did.
    guardian: Option<Option<(String, Text)>>,
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
    pub reason: Text,
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
    says: Text,
    picked: bool,
}

/// The questions and the last answers.
struct Asked {
    /// The day, and what was told, a line each.
    last: Option<(Text, Text)>,
    again_after_days: u32,
    rows: Vec<usize>,
    /// Key and words.
    areas: Vec<(&'static str, Text)>,
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
    day: Text,
    number: i64,
    clubs: Vec<Pick>,
    model: bool,
}

const DAYS: [&str; 7] = [
    "when-monday",
    "when-tuesday",
    "when-wednesday",
    "when-thursday",
    "when-friday",
    "when-saturday",
    "when-sunday",
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
            .said()
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
                [
                    (Sex::Female.key(), t("settings-sex-female")),
                    (Sex::Male.key(), t("settings-sex-male")),
                ],
                facts.sex.map(Sex::key),
            ),
            limits: keys(&state.trade().limits, &facts.limits),
            goals: keys(&state.trade().goals, &facts.goals),
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
            areas: BodyArea::ALL
                .map(|area| (area.key(), words::area(area)))
                .into(),
            strengths: (1..=STRONGEST_PAIN).collect(),
            other: facts
                .health_note
                .clone()
                .or_else(|| answers.map(|answers| answers.other.clone()))
                .unwrap_or_default(),
        }
    }
}

/// What was told, one thing after another.
fn told(answers: &Screening) -> Text {
    let pains = answers.pains.iter().map(|pain| {
        t("settings-told-pain")
            .with("where", words::area(pain.area))
            .with("strength", pain.strength)
            .with("strongest", STRONGEST_PAIN)
    });
    let signs = [
        (answers.warning_signs, "settings-told-signs"),
        (answers.injury, "settings-told-injury"),
        (answers.balance_medicine, "settings-told-medicine"),
        (answers.condition, "settings-told-condition"),
    ];
    let signs = signs
        .into_iter()
        .filter(|(told, _)| *told)
        .map(|(_, says)| t(says));
    let surgery = answers
        .surgery_months_ago
        .map(|months| t("settings-told-surgery").with("months", months));
    let other = (!answers.other.is_empty()).then(|| Text::plain(&answers.other));
    let cleared = answers.cleared.as_ref().map(|c| {
        t("settings-told-cleared")
            .with("who", &c.by)
            .with("day", c.on.to_string())
    });
    let mut lines: Vec<Text> = pains.chain(signs).chain(surgery).chain(other).collect();
    if lines.is_empty() {
        lines.push(t("settings-told-nothing"));
    }
    lines.extend(cleared);
    Text::joined(lines, "; ")
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
            says: t(DAYS[usize::from(n) - 1]),
            picked: days(&n),
        };
        PracticeFields {
            from: running.map_or(today, |kept| kept.from).to_string(),
            next_lesson: running.map_or(next, |kept| kept.next_lesson).to_string(),
            days: (1..=7).map(day).collect(),
            minutes: kept.map_or(USUAL_MINUTES, |kept| kept.minutes),
            places: picks(
                PracticePlace::ALL.map(|p| (p.key(), words::place(p))),
                kept.map(|kept| kept.place.key()),
            ),
            seasons: picks(
                Season::ALL.map(|s| (s.key(), words::season(s))),
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
                ClubKind::ALL.map(|c| (c.key(), c.text())),
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
        ("standard", t("settings-against-standard")),
        ("own_address", t("settings-against-own-address")),
        ("published", t("settings-against-published")),
        ("own_swing", t("settings-against-own-swing")),
        ("models", t("settings-against-models")),
    ];
    picks(offered, Some(key))
}

fn own_swings(swings: &[Swing], now: ReferenceChoice, state: &AppState) -> Vec<Pick> {
    let pick = |swing: &Swing| Pick {
        key: swing.id.to_string(),
        says: t("settings-swing-of")
            .with("n", swing.id.to_string())
            .with("day", day(swing.filmed_at.unwrap_or(swing.added_at), state)),
        picked: now == ReferenceChoice::OwnSwing(swing.id.0),
    };
    swings.iter().map(pick).collect()
}

fn picks<const N: usize>(offered: [(&'static str, Text); N], now: Option<&str>) -> Vec<Pick> {
    let pick = |(key, says): (&'static str, Text)| Pick {
        key: key.into(),
        says,
        picked: now == Some(key),
    };
    offered.map(pick).into()
}

fn keys(offered: &[(String, String)], now: &[String]) -> Vec<Pick> {
    let pick = |(key, says): &(String, String)| Pick {
        key: key.clone(),
        says: Text::plain(says),
        picked: now.contains(key),
    };
    offered.iter().map(pick).collect()
}

/// What was saved, in words; nothing for what no form saves.
fn said(what: &str) -> Option<Text> {
    Some(t(match what {
        "asked" => "settings-saved-asked",
        "body" | "units" => "settings-saved-body",
        "held" => "settings-saved-held",
        "swings" => "settings-saved-swings",
        _ => return None,
    }))
}
