//! What the professional keeps of a player: facts, consents and notes. Plain forms on the player's page.

use crate::AppState;
use crate::error::{PageError, not_saved, refused};
use crate::named;
use crate::routes::{Fields, Studio, player_address};
use crate::typed::decimal;
use crate::wording::today;
use axum::Router;
use axum::extract::{Form, Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::post;
use jiff::civil::Date;
use lessonwright_coaching::Told;
use lessonwright_language::{Text, t};
use lessonwright_model::{Hand, Language, PlayerFacts, units};
use lessonwright_store::{Background, NewConsent, NoteId, OF_AGE_YEARS, Player, PlayerId, Purpose};

/// Where players are taken in.
pub const ROSTER_ADDRESS: &str = "/players";

/// Where a form of a player's page goes: facts, consent or notes.
pub fn record_address(id: PlayerId, what: &str) -> String {
    format!("{}/{what}", player_address(id))
}

/// Where a note is changed or deleted.
pub fn note_address(player: PlayerId, id: NoteId) -> String {
    format!("{}/{id}", record_address(player, "notes"))
}

/// The consents on a player's page.
pub fn consents_address(id: PlayerId) -> String {
    format!("{}#consents", player_address(id))
}

pub fn routes() -> Router<Studio> {
    Router::new()
        .route(ROSTER_ADDRESS, post(take_in))
        .route("/players/{id}/facts", post(keep_facts))
        .route("/players/{id}/consent", post(keep_consent))
        .route("/players/{id}/notes", post(add_note))
        .route("/players/{id}/notes/{note}", post(change_note))
}

async fn take_in(
    State(studio): State<Studio>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let facts = PlayerFacts {
        name: said(&fields, "name").to_owned(),
        hand: hand(&fields),
        ..PlayerFacts::default()
    };
    match studio.store.add_player(&facts, (studio.state.now)()).await {
        Ok(id) => Ok(Redirect::to(&player_address(id)).into_response()),
        Err(error) => refused(error, ROSTER_ADDRESS.into()),
    }
}

async fn keep_facts(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let player = named::player(&studio.store, &id).await?;
    let back = player_address(player.id);
    let facts = match facts(&fields, &player.facts) {
        Ok(facts) => facts,
        Err(problem) => return Ok(not_saved(problem, back)),
    };
    if let Err(error) = studio.store.update_player(player.id, &facts).await {
        return refused(error, back);
    }
    let told = Background {
        golf_so_far: said(&fields, "golf_so_far").to_owned(),
        bag: said(&fields, "bag").to_owned(),
    };
    studio.store.keep_background(player.id, &told).await?;
    Ok(Redirect::to(&back).into_response())
}

fn facts(fields: &Fields, known: &PlayerFacts) -> Result<PlayerFacts, Text> {
    let stature_m = match said(fields, "stature_cm") {
        "" => None,
        text => {
            let cm = decimal(text).ok_or_else(|| t("error-no-stature").with("text", text))?;
            Some(cm / units::cm(1.0))
        }
    };
    let flight = said(fields, "usual_flight");
    if let Told::Unclear(_) = Told::read(Some(flight)) {
        return Err(t("error-no-flight").with("text", flight));
    }
    Ok(PlayerFacts {
        name: said(fields, "name").to_owned(),
        hand: hand(fields),
        stature_m,
        usual_flight: (!flight.is_empty()).then(|| flight.to_owned()),
        language: Language::of_tag(said(fields, "language")),
        ..known.clone()
    })
}

fn hand(fields: &Fields) -> Option<Hand> {
    match said(fields, "hand") {
        "right" => Some(Hand::Right),
        "left" => Some(Hand::Left),
        _ => None,
    }
}

/// Puts a consent on record, or with `what=withdraw` notes that it was withdrawn today.
async fn keep_consent(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let player = named::player(&studio.store, &id).await?;
    let back = consents_address(player.id);
    let asked = || PageError::Missing(t("error-none-consent-like"));
    let purpose = Purpose::of_key(said(&fields, "purpose")).ok_or_else(asked)?;
    let done = match said(&fields, "what") {
        "withdraw" => {
            let on = today(&studio.state);
            studio.store.withdraw_consent(player.id, purpose, on).await
        }
        _ => {
            let consent = match consent(&fields, purpose, &player, &studio.state) {
                Ok(consent) => consent,
                Err(problem) => return Ok(not_saved(problem, back)),
            };
            studio
                .store
                .record_consent(player.id, &consent)
                .await
                .map(drop)
        }
    };
    match done {
        Ok(()) => Ok(Redirect::to(&back).into_response()),
        Err(error) => refused(error, back),
    }
}

/// Who is of age agrees alone unless somebody else is named; for a minor somebody must be.
fn consent(
    fields: &Fields,
    purpose: Purpose,
    player: &Player,
    state: &AppState,
) -> Result<NewConsent, Text> {
    let by = said(fields, "given_by");
    let is_minor = player.facts.age_years.is_some_and(|age| age < OF_AGE_YEARS);
    if by.is_empty() && is_minor {
        return Err(t("error-minor-guardian"));
    }
    if is_minor && by == player.facts.name {
        return Err(t("error-minor-alone"));
    }
    let given_on = match said(fields, "given_on") {
        "" => today(state),
        text => text.parse().map_err(|_| t("error-which-day-agreed"))?,
    };
    if given_on > today(state) {
        return Err(t("error-day-to-come"));
    }
    Ok(NewConsent {
        purpose,
        given_by: match by {
            "" => player.facts.name.clone(),
            by => by.to_owned(),
        },
        by_guardian: is_minor,
        given_on,
    })
}

async fn add_note(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let player = named::player(&studio.store, &id).await?;
    let back = format!("{}#notes", player_address(player.id));
    let day = match day(&fields, &studio.state) {
        Ok(day) => day,
        Err(problem) => return Ok(not_saved(problem, back)),
    };
    let at = (studio.state.now)();
    match studio
        .store
        .add_note(player.id, day, said(&fields, "text"), at)
        .await
    {
        Ok(_) => Ok(Redirect::to(&back).into_response()),
        Err(error) => refused(error, back),
    }
}

/// Changes a note, or with `what=delete` deletes it.
async fn change_note(
    State(studio): State<Studio>,
    Path((id, note)): Path<(String, String)>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let player = named::player(&studio.store, &id).await?;
    let back = format!("{}#notes", player_address(player.id));
    let missing = || PageError::Missing(t("error-none-note").with("key", note.to_string()));
    let key = NoteId(note.parse().map_err(|_| missing())?);
    let known = studio
        .store
        .note(key)
        .await?
        .filter(|note| note.player == player.id);
    known.ok_or_else(missing)?;
    let done = match said(&fields, "what") {
        "delete" => studio.store.delete_note(key).await,
        _ => match day(&fields, &studio.state) {
            Err(problem) => return Ok(not_saved(problem, back)),
            Ok(day) => {
                let at = (studio.state.now)();
                studio
                    .store
                    .change_note(key, day, said(&fields, "text"), at)
                    .await
            }
        },
    };
    match done {
        Ok(()) => Ok(Redirect::to(&back).into_response()),
        Err(error) => refused(error, back),
    }
}

fn day(fields: &Fields, state: &AppState) -> Result<Date, Text> {
    match said(fields, "noted_on") {
        "" => Ok(today(state)),
        text => text
            .parse()
            .map_err(|_| t("error-no-day").with("text", text)),
    }
}

fn said<'a>(fields: &'a Fields, name: &str) -> &'a str {
    fields.get(name).map_or("", |text| text.trim())
}
