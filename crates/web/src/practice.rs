//! A player's practice plan: a page, a card to print, a calendar file; and whether a lesson may be approved.

use crate::AppState;
use crate::error::{PageError, page, said};
use crate::named;
use crate::pages::{NotApproved, NotPlanned, PracticePage};
use crate::routes::{LESSON_POLICY, Studio, player_address, shown, swing_address};
use crate::settings::settings_address;
use axum::Router;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_SECURITY_POLICY, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use lessonwright_coaching::{PlanRules, plan};
use lessonwright_language::{Say, Text, t};
use lessonwright_model::{Language, PlayerFacts, PracticePlan};
use lessonwright_report::{CardFor, ReportError, calendar, plan_part, practice_card};
use lessonwright_store::{LessonSummary, Player, PlayerId, Store, StoreError};

/// The page of a player's plan.
pub fn practice_address(id: PlayerId) -> String {
    format!("{}/practice", player_address(id))
}

pub fn routes() -> Router<Studio> {
    Router::new()
        .route("/players/{id}/practice", get(plan_page))
        .route("/players/{id}/practice/card", get(card))
        .route("/players/{id}/practice/calendar.ics", get(calendar_file))
}

/// A player with a plan, or why there is none.
struct Planned {
    player: Player,
    plan: Result<PracticePlan, Text>,
    /// The player's language, which the plan is said in.
    say: Say,
}

async fn plan_page(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let Planned { player, plan, say } = planned(&studio, &id).await?;
    let plan = match plan {
        Ok(plan) => plan,
        Err(why) => return Ok(not_planned(&player, why)),
    };
    let address = practice_address(player.id);
    shown(&PracticePage {
        player_address: player_address(player.id),
        settings: settings_address(player.id),
        card: format!("{address}/card"),
        calendar: format!("{address}/calendar.ics"),
        title: plan.title.clone(),
        part: plan_part(&plan, say).map_err(laid_out)?,
        player: player.facts.name,
    })
}

/// A page carries its style inside and needs nothing else, like a lesson.
async fn card(State(studio): State<Studio>, Path(id): Path<String>) -> Result<Response, PageError> {
    let Planned { player, plan, say } = planned(&studio, &id).await?;
    let plan = match plan {
        Ok(plan) => plan,
        Err(why) => return Ok(not_planned(&player, why)),
    };
    let card_for = CardFor {
        academy: &studio.state.academy,
        coach: &studio.state.coach,
        player: &player.facts.name,
    };
    let headers = [
        (CONTENT_TYPE, "text/html; charset=utf-8"),
        (CONTENT_SECURITY_POLICY, LESSON_POLICY),
    ];
    Ok((
        headers,
        practice_card(&plan, &card_for, say).map_err(laid_out)?,
    )
        .into_response())
}

async fn calendar_file(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let Planned { player, plan, say } = planned(&studio, &id).await?;
    Ok(match plan {
        Err(why) => not_planned(&player, why),
        Ok(plan) => {
            let headers = [
                (CONTENT_TYPE, "text/calendar; charset=utf-8"),
                (CONTENT_DISPOSITION, "attachment; filename=\"practice.ics\""),
            ];
            (
                headers,
                calendar(&plan, &format!("player-{}", player.id), say),
            )
                .into_response()
        }
    })
}

fn not_planned(player: &Player, why: Text) -> Response {
    let shown = NotPlanned {
        player: player.facts.name.clone(),
        player_address: player_address(player.id),
        settings: settings_address(player.id),
        why,
    };
    page(StatusCode::CONFLICT, &shown)
}

async fn planned(studio: &Studio, id: &str) -> Result<Planned, PageError> {
    let player = named::player(&studio.store, id).await?;
    let language = player.facts.language;
    let language = language.unwrap_or_else(|| studio.state.spoken.language());
    let plan = plan_of(&studio.store, &studio.state, &player, language).await?;
    let say = Say::new(language);
    Ok(Planned { player, plan, say })
}

/// The plan of what the player's latest swing prescribes.
async fn plan_of(
    store: &Store,
    state: &AppState,
    player: &Player,
    language: Language,
) -> Result<Result<PracticePlan, Text>, PageError> {
    let Some(practice) = &player.practice else {
        return Ok(Err(t("practice-page-not-said")));
    };
    let swings = store.swings_of(player.id).await?;
    let stored = match swings.first() {
        Some(swing) => store.latest_analysis(swing.id).await?,
        None => None,
    };
    let Some(stored) = stored else {
        return Ok(Err(t("practice-page-no-swing")));
    };
    let by = state.prescribing.in_language(language);
    let rules = PlanRules {
        practice: &by.practice,
        screening: &by.screening,
        book: &by.book,
        stations: &by.stations,
    };
    let said = state.prescribing.analysis(stored.analysis, language);
    let plan = plan(&said, &player.facts, practice, &rules, (state.now)());
    // The command line ends the sentence itself.
    let sentence = |said| Text::joined([said, Text::plain("")], ".");
    Ok(plan.map_err(|error| sentence(error.says())))
}

/// Why a lesson may not be approved, if it may not: its exercise is not for this player, has not been asked for, or was
/// chosen by older answers; or the player is a minor without a guardian's consent.
pub async fn refusal(
    studio: &Studio,
    lesson: &LessonSummary,
) -> Result<Option<NotApproved>, PageError> {
    let missing =
        || PageError::Missing(t("error-none-player").with("key", lesson.player.to_string()));
    let player = studio
        .store
        .player(lesson.player)
        .await?
        .ok_or_else(missing)?;
    let why = match studio.store.check_film_allowed(player.id).await {
        Err(missing @ StoreError::GuardianConsentMissing { .. }) => said(&missing),
        Err(error) => return Err(error.into()),
        Ok(()) => exercise_refused(studio, lesson, &player.facts).await?,
    };
    Ok(why.map(|why| NotApproved {
        why,
        player: player.facts.name.clone(),
        settings: settings_address(player.id),
        back: swing_address(lesson.swing),
        again: format!("{}/again", swing_address(lesson.swing)),
    }))
}

async fn exercise_refused(
    studio: &Studio,
    lesson: &LessonSummary,
    player: &PlayerFacts,
) -> Result<Option<Text>, PageError> {
    let stored = studio.store.latest_analysis(lesson.swing).await?;
    let stored = stored.filter(|stored| stored.id == lesson.analysis);
    // Of a lesson from an earlier analysis it is not known what it prescribes: it is taken to prescribe something.
    let prescribes = stored.as_ref().is_none_or(|stored| {
        stored.analysis.prescription.is_some() || !stored.analysis.drills.is_empty()
    });
    // Something to work on and no exercise for it: withheld by the answers of its day.
    let withheld = stored
        .as_ref()
        .is_some_and(|stored| stored.analysis.priority.is_some())
        && !prescribes;
    if !prescribes && !withheld {
        return Ok(None);
    }
    let screened = studio
        .state
        .prescribing
        .said()
        .screening
        .screen(player, (studio.state.now)());
    if let Some(why) = screened.refusal().filter(|_| prescribes) {
        return Ok(Some(why));
    }
    let drafted = stored.map_or(lesson.drafted_at, |stored| stored.computed_at);
    let newer = player
        .screening
        .as_ref()
        .is_some_and(|answers| answers.asked_at > drafted);
    Ok(newer.then(|| t("practice-page-newer")))
}

fn laid_out(error: ReportError) -> PageError {
    match error {
        ReportError::Template(error) => PageError::Template(error),
        // Nothing else can go wrong without pictures.
        other => PageError::Missing(Text::plain(other.to_string())),
    }
}
