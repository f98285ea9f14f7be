//! What is asked, set and chosen for a player: answers before a prescription, the body and its goals, practice, what
//! measures are held against, clubs and model swings. Plain forms; after each the page again.

use crate::AppState;
use crate::by_hand::Asked;
use crate::error::{PageError, not_saved as form_not_saved};
use crate::pages::SettingsPage;
use crate::practice::practice_address;
use crate::routes::{Fields, Studio, player_address, shown};
use axum::Router;
use axum::extract::{Form, Path, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use jiff::Timestamp;
use lessonwright_coaching::ball::ClubKind;
use lessonwright_model::{
    BodyArea, Cleared, Pain, PlayerFacts, Practice, PracticePlace, ReferenceChoice, Screening,
    Season, Sex,
};
use lessonwright_store::{
    GuardianConsent, LessonState, Player, PlayerId, Store, StoreError, SwingId,
};

/// How many places that hurt can be filled in.
pub const PAIN_ROWS: usize = 4;

/// The page of a player's settings.
pub fn settings_address(id: PlayerId) -> String {
    format!("{}/settings", player_address(id))
}

/// Where a form of the page goes.
pub fn form_address(id: PlayerId, what: &str) -> String {
    format!("{}/{what}", settings_address(id))
}

pub fn routes() -> Router<Studio> {
    Router::new()
        .route("/players/{id}/settings", get(settings))
        .route("/players/{id}/settings/asked", post(keep_answers))
        .route("/players/{id}/settings/body", post(keep_body))
        .route("/players/{id}/settings/guardian", post(keep_guardian))
        .route("/players/{id}/settings/practice", post(keep_practice))
        .route("/players/{id}/settings/held", post(keep_reference))
        .route(
            "/players/{id}/settings/units",
            post(crate::own::keep_player_units),
        )
        .route("/players/{id}/settings/swings/{swing}", post(keep_swing))
}

async fn settings(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Query(fields): Query<Fields>,
) -> Result<Response, PageError> {
    let player = player(&studio.store, &id).await?;
    let saved = fields.get("saved").cloned();
    shown(&SettingsPage::of(&studio.store, &studio.state, player, saved.as_deref()).await?)
}

async fn keep_answers(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let player = player(&studio.store, &id).await?;
    let form = Filled(&fields);
    let read = form.answers((studio.state.now)());
    let age = form.age();
    let (answers, age_years) = match (read, age) {
        (Ok(answers), Ok(age)) => (answers, age),
        (Err(problem), _) | (_, Err(problem)) => return Ok(not_saved(player.id, problem)),
    };
    let facts = PlayerFacts {
        age_years: age_years.or(player.facts.age_years),
        // What it said is in the answers: the form had it filled in.
        health_note: None,
        screening: Some(answers),
        ..player.facts
    };
    if let Some(refused) = refused(&studio, player.id, &facts).await? {
        return Ok(refused);
    }
    draft_again(&studio.state, &studio.store, player.id).await?;
    Ok(saved(player.id, "asked"))
}

async fn keep_body(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let player = player(&studio.store, &id).await?;
    let form = Filled(&fields);
    let age_years = match form.age() {
        Ok(age) => age,
        Err(problem) => return Ok(not_saved(player.id, problem)),
    };
    let trade = &studio.state.trade;
    let facts = PlayerFacts {
        age_years,
        sex: Sex::of_key(form.text("sex")),
        limits: form.ticked("limit_", &trade.limits),
        goals: form.ticked("goal_", &trade.goals),
        ..player.facts
    };
    match refused(&studio, player.id, &facts).await? {
        Some(refused) => Ok(refused),
        None => Ok(saved(player.id, "body")),
    }
}

async fn keep_guardian(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let player = player(&studio.store, &id).await?;
    let guardian = Filled(&fields).text("guardian").to_owned();
    if guardian.is_empty() {
        return Ok(not_saved(
            player.id,
            "Who agreed? Fill in the guardian's name.".into(),
        ));
    }
    let consent = GuardianConsent {
        guardian,
        given_at: (studio.state.now)(),
    };
    studio
        .store
        .record_guardian_consent(player.id, &consent)
        .await?;
    Ok(saved(player.id, "body"))
}

async fn keep_practice(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let player = player(&studio.store, &id).await?;
    match Filled(&fields).practice() {
        Err(problem) => Ok(not_saved(player.id, problem)),
        Ok(practice) => {
            studio.store.keep_practice(player.id, &practice).await?;
            Ok(Redirect::to(&practice_address(player.id)).into_response())
        }
    }
}

async fn keep_reference(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let player = player(&studio.store, &id).await?;
    let choice = match Filled(&fields).reference() {
        Ok(choice) => choice,
        Err(problem) => return Ok(not_saved(player.id, problem)),
    };
    match studio.store.choose_reference(player.id, choice).await {
        Err(StoreError::NoSwing(_)) => {
            let problem = "That swing is not one of this player's.".into();
            return Ok(not_saved(player.id, problem));
        }
        done => done?,
    }
    draft_again(&studio.state, &studio.store, player.id).await?;
    Ok(saved(player.id, "held"))
}

async fn keep_swing(
    State(studio): State<Studio>,
    Path((id, swing)): Path<(String, String)>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let player = player(&studio.store, &id).await?;
    let missing = || PageError::Missing(format!("swing {swing}"));
    let swing_id = SwingId(swing.parse().map_err(|_| missing())?);
    let kept = studio.store.swing(swing_id).await?.ok_or_else(missing)?;
    if kept.player != player.id {
        return Err(missing());
    }
    let form = Filled(&fields);
    let club = ClubKind::of_key(form.text("club"));
    let model = !form.text("model").is_empty();
    if model && club.is_none() {
        let problem = "With which club was the model swing made? Clubs are never mixed.".into();
        return Ok(not_saved(player.id, problem));
    }
    studio
        .store
        .keep_club(swing_id, club.map(ClubKind::key))
        .await?;
    let since = model.then(|| (studio.state.now)());
    studio.store.mark_model(swing_id, since).await?;
    Ok(saved(player.id, "swings"))
}

async fn player(store: &Store, id: &str) -> Result<Player, PageError> {
    let missing = || PageError::Missing(format!("player {id}"));
    let id = PlayerId(id.parse().map_err(|_| missing())?);
    store.player(id).await?.ok_or_else(missing)
}

/// Keeps facts; a page that says why where they can't be.
async fn refused(
    studio: &Studio,
    id: PlayerId,
    facts: &PlayerFacts,
) -> Result<Option<Response>, PageError> {
    match studio.store.update_player(id, facts).await {
        Ok(()) => Ok(None),
        Err(StoreError::ImpossibleAnswers(problem)) => Ok(Some(not_saved(id, problem))),
        Err(error) => Err(error.into()),
    }
}

/// A lesson that waits for approval is drafted again by what is known now; the page need not wait for it.
async fn draft_again(state: &AppState, store: &Store, id: PlayerId) -> Result<(), PageError> {
    let swings = store.swings_of(id).await?;
    let Some(swing) = swings.first().map(|swing| swing.id) else {
        return Ok(());
    };
    let lessons = store.lessons_of_swing(swing).await?;
    let waits = lessons
        .first()
        .is_some_and(|l| l.state() == LessonState::Drafted);
    if waits && store.brief(swing).await?.is_some() {
        let judged = (state.correct)(swing, Asked::Again);
        tokio::spawn(async move {
            if let Err(reason) = judged.await {
                tracing::error!(%swing, "the lesson was not drafted again: {reason}");
            }
        });
    }
    Ok(())
}

fn saved(id: PlayerId, what: &str) -> Response {
    Redirect::to(&format!("{}?saved={what}#{what}", settings_address(id))).into_response()
}

fn not_saved(id: PlayerId, reason: String) -> Response {
    form_not_saved(reason, settings_address(id))
}

/// A form as it was filled in.
struct Filled<'a>(&'a Fields);

impl Filled<'_> {
    fn text(&self, name: &str) -> &str {
        self.0.get(name).map_or("", |text| text.trim())
    }

    fn number(&self, name: &str, what: &str) -> Result<Option<u32>, String> {
        let text = self.text(name);
        if text.is_empty() {
            return Ok(None);
        }
        let number = text.parse().ok();
        number
            .map(Some)
            .ok_or_else(|| format!("{what}: \"{text}\" is no whole number."))
    }

    fn age(&self) -> Result<Option<u32>, String> {
        const OLDEST_YEARS: u32 = 120;
        let age = self.number("age", "Age")?;
        match age {
            Some(age) if age > OLDEST_YEARS => Err(format!("Nobody is {age} years old.")),
            age => Ok(age),
        }
    }

    /// A question that has to be answered.
    fn yes(&self, name: &str, question: &str) -> Result<bool, String> {
        match self.text(name) {
            "yes" => Ok(true),
            "no" => Ok(false),
            _ => Err(format!("{question}: please answer yes or no.")),
        }
    }

    fn answers(&self, asked_at: Timestamp) -> Result<Screening, String> {
        let pains = self.pains()?;
        if self.yes("pain", "Pain")? == pains.is_empty() {
            return Err("Pain: say where and how much, or that there is none.".into());
        }
        let surgery = self.number("surgery_months", "Months since the surgery")?;
        if self.yes("surgery", "Surgery")? != surgery.is_some() {
            return Err("Surgery: say how many months ago, or that there was none.".into());
        }
        let answers = Screening {
            asked_at,
            pains,
            warning_signs: self.yes("warning_signs", "Warning signs")?,
            injury: self.yes("injury", "Injury")?,
            surgery_months_ago: surgery,
            balance_medicine: self.yes("balance_medicine", "Medicine")?,
            condition: self.yes("condition", "Heart, bones, pregnancy")?,
            other: self.text("other").into(),
            cleared: self.cleared()?,
        };
        answers.check().map(|()| answers)
    }

    fn pains(&self) -> Result<Vec<Pain>, String> {
        let mut pains = Vec::new();
        for row in 1..=PAIN_ROWS {
            let area = BodyArea::of_key(self.text(&format!("area{row}")));
            let strength = self.number(&format!("strength{row}"), "Pain")?;
            match (area, strength.and_then(|s| u8::try_from(s).ok())) {
                (None, None | Some(0)) => {}
                (Some(area), Some(strength)) if strength > 0 => pains.push(Pain { area, strength }),
                _ => return Err("Pain: give a place and how much from 1 to 10, or neither.".into()),
            }
        }
        Ok(pains)
    }

    fn cleared(&self) -> Result<Option<Cleared>, String> {
        match (self.text("cleared_by"), self.text("cleared_on")) {
            ("", "") => Ok(None),
            (by, on) => {
                let on = on
                    .parse()
                    .map_err(|_| "On which day did they agree?".to_string())?;
                Ok(Some(Cleared { by: by.into(), on }))
            }
        }
    }

    fn practice(&self) -> Result<Practice, String> {
        let day = |name: &str, what: &str| {
            let date = self.text(name).parse().ok();
            date.ok_or_else(|| format!("{what}: give a day."))
        };
        let practice = Practice {
            from: day("from", "First day")?,
            next_lesson: day("next_lesson", "Next lesson")?,
            days: (1..=7)
                .filter(|n| !self.text(&format!("day{n}")).is_empty())
                .collect(),
            minutes: self
                .number("minutes", "Minutes")?
                .ok_or("How many minutes a session?")?,
            place: PracticePlace::of_key(self.text("place")).ok_or("Where?")?,
            season: Season::of_key(self.text("season")).ok_or("Which season?")?,
            at: match self.text("at") {
                "" => None,
                text => Some(
                    text.parse()
                        .map_err(|_| format!("\"{text}\" is no time of day."))?,
                ),
            },
        };
        if practice.days.is_empty() {
            Err("Tick at least one day of the week.".into())
        } else if practice.next_lesson <= practice.from {
            Err("The next lesson must be after the first day.".into())
        } else {
            Ok(practice)
        }
    }

    fn reference(&self) -> Result<ReferenceChoice, String> {
        match self.text("against") {
            "standard" => Ok(ReferenceChoice::Standard),
            "own_address" => Ok(ReferenceChoice::OwnAddress),
            "published" => Ok(ReferenceChoice::Published),
            "models" => Ok(ReferenceChoice::Models),
            "own_swing" => {
                let swing = self
                    .text("swing")
                    .parse()
                    .map_err(|_| "Which swing?".to_string())?;
                Ok(ReferenceChoice::OwnSwing(swing))
            }
            _ => Err("Choose one.".into()),
        }
    }

    /// The keys that are ticked, of those on offer.
    fn ticked(&self, prefix: &str, offered: &[(String, String)]) -> Vec<String> {
        let keys = offered.iter().map(|(key, _)| key);
        keys.filter(|key| self.0.contains_key(&format!("{prefix}{key}")))
            .cloned()
            .collect()
    }
}
