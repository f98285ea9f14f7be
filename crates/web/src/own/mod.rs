//! What the professional sets for the whole studio: units, targets, causes, own drills, model swings. The tables lie in the
//! studio's folder and are read, checked and written by whoever serves the pages ([`OwnTrade`]); what is refused stays in its
//! form.

mod causes;
pub(crate) mod drills;
mod models;
mod shown;
mod targets;
mod units;

use crate::AppState;
use crate::error::PageError;
use crate::keeping::Answer;
use crate::language::say;
use crate::routes::{Studio, shown};
use askama::Template;
use axum::Router;
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use lessonwright_coaching::{CauseTable, LinkChanges, LinkKey, LinkWeight, Target, Targets};
use lessonwright_language::filters::told;
use lessonwright_language::{Text, t};
use lessonwright_model::Units;
use lessonwright_store::{LessonState, Store, SwingId};
use std::collections::BTreeMap;
pub(crate) use units::{PlayerUnits, keep_player_units};

/// Where everything that is set for the studio begins.
pub const SETTINGS_ADDRESS: &str = "/studio/settings";

const STYLE: &str = include_str!("../../templates/own/own.css");

/// A change to what the studio knows of golf.
#[derive(Clone, Debug, PartialEq)]
pub enum OwnChange {
    /// Another band for a measure, with the reason; the rest as in the target that is in use.
    Target {
        /// The target as it is now.
        now: Target,
        /// Lower edge, in the measure's unit.
        low: f64,
        /// Upper edge.
        high: f64,
        /// Why.
        reason: String,
    },
    /// The built-in band again.
    TargetBack(Target),
    /// Another weight for a link, with the reason.
    Link {
        /// Which.
        link: LinkKey,
        /// What it counts for.
        weight: LinkWeight,
        /// Why.
        reason: String,
    },
    /// The table's own weight again.
    LinkBack(LinkKey),
    /// A drill's page, with its pictures; those it had stay where none are given.
    Drill {
        /// Its key.
        key: String,
        /// The page.
        text: String,
        /// Stills, JPEG.
        stills: Option<Vec<u8>>,
        /// The drill moving, WebP.
        moving: Option<Vec<u8>>,
    },
    /// An own drill is used no more.
    DrillOut(String),
}

/// What the studio knows of golf, as it is now.
#[derive(Clone, Debug)]
pub struct InUse {
    /// The targets in use.
    pub targets: Targets,
    /// The professional's own among them.
    pub own_targets: Targets,
    /// The causes before single links were changed.
    pub causes: CauseTable,
    /// The changes to single links.
    pub changes: LinkChanges,
    /// The own drills: key and page.
    pub own_drills: BTreeMap<String, String>,
}

/// What a change makes of the last swings.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct WouldChange {
    /// How many swings were judged again, the last ones that were analysed.
    pub looked_at: usize,
    /// Those that come to something else.
    pub swings: Vec<JudgedAnew>,
}

/// A swing that a change judges otherwise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JudgedAnew {
    /// The swing.
    pub swing: SwingId,
    /// Whose it is.
    pub player: String,
    /// What is worked on first, before and after; none where nothing stands out.
    pub first: [Option<String>; 2],
    /// All that could be worked on, in order, before and after.
    pub order: [Vec<String>; 2],
}

/// Reads and changes what the studio knows of golf. An error is a sentence for the professional.
pub trait OwnTrade: Send + Sync {
    /// As it is now.
    fn in_use(&self) -> Result<InUse, String>;
    /// Checks a change and says what it makes of the last swings; changes nothing.
    fn would_change(&self, change: OwnChange) -> Answer<WouldChange>;
    /// Checks a change, keeps it, and has the pages show it.
    fn make(&self, change: OwnChange) -> Answer<()>;
    /// Has the pages show what was set in the store.
    fn shown_anew(&self) -> Answer<()>;
}

pub(crate) fn routes() -> Router<Studio> {
    Router::new()
        .route(SETTINGS_ADDRESS, get(units::page))
        .route(units::ADDRESS, post(units::keep))
        .route(targets::ADDRESS, get(targets::page).post(targets::change))
        .route(causes::ADDRESS, get(causes::page).post(causes::change))
        .route(drills::ADDRESS, get(drills::page))
        .route(drills::EDIT_ADDRESS, get(drills::edit))
        .merge(drills::taking_in())
        .route(drills::OUT_ADDRESS, post(drills::leave_out))
        .route(models::ADDRESS, get(models::page).post(models::change))
        .route(AGAIN_ADDRESS, post(judge_again))
        .route("/studio/settings.css", get(style))
}

/// Where waiting lessons are drafted again by what was set.
pub(crate) const AGAIN_ADDRESS: &str = "/studio/settings/again";

async fn style() -> impl IntoResponse {
    ([(CONTENT_TYPE, "text/css; charset=utf-8")], STYLE)
}

/// The newest swings whose lessons wait for approval, at most so many.
const MOST_AGAIN: usize = 50;

/// Swings whose lesson is drafted and waits, so that a change can still reach it.
async fn waiting(store: &Store) -> Result<Vec<SwingId>, PageError> {
    let (waiting, _) = store.swings_to_read(MOST_AGAIN).await?;
    let drafted = waiting.into_iter().filter(|waiting| {
        let lesson = waiting.standing.lesson.as_ref();
        lesson.is_some_and(|(_, state)| *state == LessonState::Drafted)
    });
    Ok(drafted.map(|waiting| waiting.standing.swing).collect())
}

/// Judges the swings that wait again, one after the other; the page need not wait for it.
async fn judge_again(
    axum::extract::State(studio): axum::extract::State<Studio>,
) -> Result<Redirect, PageError> {
    let swings = waiting(&studio.store).await?;
    let correct = studio.state.correct.clone();
    tokio::spawn(async move {
        for swing in swings {
            if let Err(reason) = correct(swing, crate::Asked::Again).await {
                tracing::error!(%swing, "the lesson was not drafted again: {reason}");
            }
        }
    });
    Ok(Redirect::to("/"))
}

/// What is in use, or a page that says why it can't be read.
fn in_use(state: &AppState) -> Result<InUse, PageError> {
    state.own.in_use().map_err(PageError::Trade)
}

/// A form again, with what was typed in it and why it was not kept.
fn refused(page: &impl Template) -> Result<Response, PageError> {
    Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(say().render(page)?)).into_response())
}

/// Back to a page that says that it was kept.
fn kept(address: &str, what: &str) -> Response {
    Redirect::to(&format!("{address}?kept={what}#kept")).into_response()
}

/// What a form shows that was not kept: why not, or what the change would make of the last swings.
#[derive(Default)]
struct Come {
    why: Option<Text>,
    preview: Option<shown::Preview>,
}

/// Looks at what a change would make, or keeps it: then there is nothing more to show.
async fn tried(own: &dyn OwnTrade, change: Result<OwnChange, Text>, is_look: bool) -> Option<Come> {
    let mut come = Come::default();
    match change {
        Err(why) => come.why = Some(why),
        Ok(change) if is_look => match own.would_change(change).await {
            Ok(would) => come.preview = Some(shown::Preview::of(&would)),
            Err(why) => come.why = Some(told(&why)),
        },
        Ok(change) => match own.make(change).await {
            Ok(()) => return None,
            Err(why) => come.why = Some(told(&why)),
        },
    }
    Some(come)
}

/// The same page with what the form should show.
fn page_or_refused(page: &impl Template, why: Option<&Text>) -> Result<Response, PageError> {
    match why {
        Some(_) => refused(page),
        None => shown(page),
    }
}

/// Both units, one of them picked.
fn offered_units(now: Option<Units>) -> Vec<(&'static str, Text, bool)> {
    let words = |units: Units| {
        t(match units {
            Units::Centimetres => "own-unit-cm",
            Units::Inches => "own-unit-in",
        })
    };
    let offer = |units: Units| (units.key(), words(units), now == Some(units));
    Units::ALL.map(offer).into()
}
