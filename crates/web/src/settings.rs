//! What is asked, set and chosen for a player: answers before a prescription, the body and its goals, practice, what
//! measures are held against, clubs and model swings. Plain forms; after each the page again.

use crate::AppState;
use crate::by_hand::Asked;
use crate::error::{PageError, answers as why, not_saved as form_not_saved};
use crate::named;
use crate::pages::SettingsPage;
use crate::practice::practice_address;
use crate::routes::{Fields, Studio, player_address, shown};
use axum::Router;
use axum::extract::{Form, Path, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use jiff::Timestamp;
use lessonwright_coaching::ball::ClubKind;
use lessonwright_language::{Text, t};
use lessonwright_model::{
    BodyArea, Cleared, Pain, PlayerFacts, Practice, PracticePlace, ReferenceChoice, Screening,
    Season, Sex,
};
use lessonwright_store::{GuardianConsent, LessonState, PlayerId, Store, StoreError, SwingId};

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
    let player = named::player(&studio.store, &id).await?;
    let saved = fields.get("saved").cloned();
    shown(&SettingsPage::of(&studio.store, &studio.state, player, saved.as_deref()).await?)
}

async fn keep_answers(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let player = named::player(&studio.store, &id).await?;
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
    let player = named::player(&studio.store, &id).await?;
    let form = Filled(&fields);
    let age_years = match form.age() {
        Ok(age) => age,
        Err(problem) => return Ok(not_saved(player.id, problem)),
    };
    let trade = studio.state.trade();
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
    let player = named::player(&studio.store, &id).await?;
    let guardian = Filled(&fields).text("guardian").to_owned();
    if guardian.is_empty() {
        return Ok(not_saved(player.id, t("error-guardian-name")));
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
    let player = named::player(&studio.store, &id).await?;
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
    let player = named::player(&studio.store, &id).await?;
    let choice = match Filled(&fields).reference() {
        Ok(choice) => choice,
        Err(problem) => return Ok(not_saved(player.id, problem)),
    };
    match studio.store.choose_reference(player.id, choice).await {
        Err(StoreError::NoSwing(_)) => {
            let problem = t("error-not-own-swing");
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
    let player = named::player(&studio.store, &id).await?;
    let missing = || PageError::Missing(t("error-none-swing").with("key", swing.to_string()));
    let swing_id = SwingId(swing.parse().map_err(|_| missing())?);
    let kept = studio.store.swing(swing_id).await?.ok_or_else(missing)?;
    if kept.player != player.id {
        return Err(missing());
    }
    let form = Filled(&fields);
    let club = ClubKind::of_key(form.text("club"));
    let model = !form.text("model").is_empty();
    if model && club.is_none() {
        let problem = t("error-model-club");
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

/// Keeps facts; a page that says why where they can't be.
async fn refused(
    studio: &Studio,
    id: PlayerId,
    facts: &PlayerFacts,
) -> Result<Option<Response>, PageError> {
    match studio.store.update_player(id, facts).await {
        Ok(()) => Ok(None),
        Err(StoreError::ImpossibleAnswers(error)) => Ok(Some(not_saved(id, why(error)))),
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

fn not_saved(id: PlayerId, reason: Text) -> Response {
    form_not_saved(reason, settings_address(id))
}

/// A form as it was filled in.
struct Filled<'a>(&'a Fields);

impl Filled<'_> {
    fn text(&self, name: &str) -> &str {
        self.0.get(name).map_or("", |text| text.trim())
    }

    /// A whole number, if there is one; what is said where it is none has a place for the text.
    fn number(&self, name: &str, otherwise: &'static str) -> Result<Option<u32>, Text> {
        let text = self.text(name);
        if text.is_empty() {
            return Ok(None);
        }
        let number = text.parse().ok();
        number
            .map(Some)
            .ok_or_else(|| t(otherwise).with("text", text))
    }

    fn age(&self) -> Result<Option<u32>, Text> {
        const OLDEST_YEARS: u32 = 120;
        let age = self.number("age", "error-no-whole-number-age")?;
        match age {
            Some(age) if age > OLDEST_YEARS => Err(t("error-too-old").with("age", age)),
            age => Ok(age),
        }
    }

    /// A question that has to be answered.
    fn yes(&self, name: &str, otherwise: &'static str) -> Result<bool, Text> {
        match self.text(name) {
            "yes" => Ok(true),
            "no" => Ok(false),
            _ => Err(t(otherwise)),
        }
    }

    fn answers(&self, asked_at: Timestamp) -> Result<Screening, Text> {
        let pains = self.pains()?;
        if self.yes("pain", "error-answer-pain")? == pains.is_empty() {
            return Err(t("error-say-pain"));
        }
        let surgery = self.number("surgery_months", "error-no-whole-number-surgery")?;
        if self.yes("surgery", "error-answer-surgery")? != surgery.is_some() {
            return Err(t("error-say-surgery"));
        }
        let answers = Screening {
            asked_at,
            pains,
            warning_signs: self.yes("warning_signs", "error-answer-warning-signs")?,
            injury: self.yes("injury", "error-answer-injury")?,
            surgery_months_ago: surgery,
            balance_medicine: self.yes("balance_medicine", "error-answer-medicine")?,
            condition: self.yes("condition", "error-answer-condition")?,
            other: self.text("other").into(),
            cleared: self.cleared()?,
        };
        match answers.check() {
            Ok(()) => Ok(answers),
            Err(error) => Err(why(error)),
        }
    }

    fn pains(&self) -> Result<Vec<Pain>, Text> {
        let mut pains = Vec::new();
        for row in 1..=PAIN_ROWS {
            let area = BodyArea::of_key(self.text(&format!("area{row}")));
            let strength = self.number(&format!("strength{row}"), "error-no-whole-number-pain")?;
            match (area, strength.and_then(|s| u8::try_from(s).ok())) {
                (None, None | Some(0)) => {}
                (Some(area), Some(strength)) if strength > 0 => pains.push(Pain { area, strength }),
                _ => return Err(t("error-pain-pair")),
            }
        }
        Ok(pains)
    }

    fn cleared(&self) -> Result<Option<Cleared>, Text> {
        match (self.text("cleared_by"), self.text("cleared_on")) {
            ("", "") => Ok(None),
            (by, on) => {
                let on = on.parse().map_err(|_| t("error-which-day-agreed"))?;
                Ok(Some(Cleared { by: by.into(), on }))
            }
        }
    }

    fn practice(&self) -> Result<Practice, Text> {
        let day = |name: &str, otherwise: &'static str| {
            let date = self.text(name).parse().ok();
            date.ok_or_else(|| t(otherwise))
        };
        let practice = Practice {
            from: day("from", "error-day-first")?,
            next_lesson: day("next_lesson", "error-day-next")?,
            days: (1..=7)
                .filter(|n| !self.text(&format!("day{n}")).is_empty())
                .collect(),
            minutes: self
                .number("minutes", "error-no-whole-number-minutes")?
                .ok_or_else(|| t("error-minutes-a-session"))?,
            place: PracticePlace::of_key(self.text("place")).ok_or_else(|| t("error-where"))?,
            season: Season::of_key(self.text("season")).ok_or_else(|| t("error-which-season"))?,
            at: match self.text("at") {
                "" => None,
                text => Some(
                    text.parse()
                        .map_err(|_| t("error-no-time").with("text", text))?,
                ),
            },
        };
        if practice.days.is_empty() {
            Err(t("error-tick-a-day"))
        } else if practice.next_lesson <= practice.from {
            Err(t("error-next-after-first"))
        } else {
            Ok(practice)
        }
    }

    fn reference(&self) -> Result<ReferenceChoice, Text> {
        match self.text("against") {
            "standard" => Ok(ReferenceChoice::Standard),
            "own_address" => Ok(ReferenceChoice::OwnAddress),
            "published" => Ok(ReferenceChoice::Published),
            "models" => Ok(ReferenceChoice::Models),
            "own_swing" => {
                let swing = self
                    .text("swing")
                    .parse()
                    .map_err(|_| t("error-which-swing"))?;
                Ok(ReferenceChoice::OwnSwing(swing))
            }
            _ => Err(t("error-choose-one")),
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
