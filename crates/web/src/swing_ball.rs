//! The ball of one swing: told once, kept with it, and counted in its lesson in place of the player's usual flight.

use crate::ball::BallForm;
use crate::by_hand::{Asked, answer};
use crate::drills::flights_words;
use crate::error::PageError;
use crate::pages::BallPage;
use crate::routes::{Fields, Studio, shown, swing_address};
use askama::Template;
use axum::Router;
use axum::extract::{Form, Path, Query, State};
use axum::response::Response;
use axum::routing::{get, post};
use jiff::Timestamp;
use lessonwright_coaching::ball::{SeenBall, ToldBall, infer};
use lessonwright_language::{Text, filters, t};
use lessonwright_store::{Player, StoredBall, SwingId};

pub fn routes() -> Router<Studio> {
    Router::new()
        .route("/swings/{id}/ball", get(told))
        .route("/swings/{id}/ball/keep", post(keep))
        .route("/swings/{id}/ball/forget", post(forget))
}

/// Where a swing's ball is told.
pub fn swing_ball_address(id: SwingId) -> String {
    format!("{}/ball", swing_address(id))
}

/// What a swing's page says of its ball.
#[derive(Template)]
#[template(path = "swing_ball_box.html")]
pub struct SwingBallBox {
    address: String,
    forget: String,
    /// None where none was told.
    kept: Option<KeptBall>,
}

struct KeptBall {
    flight: Option<Text>,
    says: Vec<Text>,
}

impl askama::filters::HtmlSafe for SwingBallBox {}

impl SwingBallBox {
    /// The reading takes 14 ms, off the threads that answer.
    pub async fn of(id: SwingId, stored: Option<StoredBall<ToldBall>>) -> SwingBallBox {
        let address = swing_ball_address(id);
        let read = move |stored: StoredBall<ToldBall>| {
            let told = stored.ball;
            let reading = infer(&told.ball, told.club, told.hand);
            KeptBall {
                flight: stored.flight.as_deref().map(flights_words),
                says: reading.angles().map(|angle| angle.says.clone()).to_vec(),
            }
        };
        let kept = match stored {
            None => None,
            Some(stored) => tokio::task::spawn_blocking(move || read(stored)).await.ok(),
        };
        SwingBallBox {
            forget: format!("{address}/forget"),
            address,
            kept,
        }
    }
}

async fn told(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Query(fields): Query<Fields>,
) -> Result<Response, PageError> {
    let (swing, player) = known(&studio, &id).await?;
    let filled = BallForm(fields);
    let page = BallPage::of_swing(&studio.store, &studio.state, player.id, swing, &filled).await?;
    shown(
        &page
            .ok_or_else(|| PageError::Missing(t("error-none-swing").with("key", id.to_string())))?,
    )
}

async fn keep(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let (swing, player) = known(&studio, &id).await?;
    let filled = BallForm(fields);
    let (Ok((club, ball)), Some(hand)) = (filled.ball(), filled.hand(player.facts.hand)) else {
        return Err(PageError::Missing(t("ball-none-readable")));
    };
    if ball == SeenBall::default() {
        return Err(PageError::Missing(t("ball-none-told")));
    }
    let flight = infer(&ball, club, hand).usual_flight();
    let told = ToldBall { hand, club, ball };
    let now = Timestamp::now();
    studio
        .store
        .keep_ball(swing, &told, flight.as_deref(), now)
        .await?;
    again(&studio, swing).await
}

async fn forget(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let (swing, _) = known(&studio, &id).await?;
    studio.store.forget_ball(swing).await?;
    again(&studio, swing).await
}

/// Judges the swing again by its ball, where it can be.
async fn again(studio: &Studio, swing: SwingId) -> Result<Response, PageError> {
    let back = format!("{}#ball", swing_address(swing));
    let analysed = studio.store.latest_analysis(swing).await?.is_some();
    if analysed && studio.store.brief(swing).await?.is_some() {
        return Ok(answer(&studio.state, swing, Asked::Again, back).await);
    }
    Ok(axum::response::IntoResponse::into_response(
        axum::response::Redirect::to(&back),
    ))
}

async fn known(studio: &Studio, id: &str) -> Result<(SwingId, Player), PageError> {
    let missing = || PageError::Missing(t("error-none-swing").with("key", id.to_string()));
    let swing = SwingId(id.parse().map_err(|_| missing())?);
    let stored = studio.store.swing(swing).await?.ok_or_else(missing)?;
    let player = studio.store.player(stored.player).await?;
    Ok((swing, player.ok_or_else(missing)?))
}
