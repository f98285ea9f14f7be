//! Progress of a large roster takes seconds to work out, once after every change. It is worked out beside the pages: as soon as
//! the studio opens and when something changed ([`keep_ready`]), and with it who is due and what lies on the disk; a page that
//! is asked for meanwhile says so and shows itself.

use crate::AppState;
use crate::error::PageError;
use crate::follow_pages::RosterFollowUp;
use crate::keeping;
use crate::language::in_this_language;
use crate::routes::{Studio, shown};
use askama::Template;
use axum::response::Response;
use lessonwright_language::filters;
use lessonwright_model::Units;
use lessonwright_store::{Store, StoreError};
use std::future::Future;
use std::time::Duration;
use tokio::time::{sleep, timeout};

/// A page that takes longer says that it is being worked out.
const PATIENCE: Duration = Duration::from_millis(400);

/// With so many players it takes longer than anybody waits, and the page says so at once.
const MANY_PLAYERS: i64 = 500;
const LITTLE_PATIENCE: Duration = Duration::from_millis(30);

/// With so few players everything is worked out at once.
const FEW_PLAYERS: i64 = 100;

/// Whether something changed is asked so often.
const LOOK_EVERY: Duration = Duration::from_secs(2);

#[derive(Template)]
#[template(path = "follow_wait.html")]
struct WaitPage {
    players: i64,
}

/// The page that `work` makes, or one that waits for it. The work goes on either way, and what it found is kept.
pub async fn soon<T, F>(
    studio: &Studio,
    work: F,
    page: impl FnOnce(T) -> Result<Response, PageError>,
) -> Result<Response, PageError>
where
    T: Send + 'static,
    F: Future<Output = Result<T, PageError>> + Send + 'static,
{
    let (players, ..) = studio.store.follow_stamp().await?;
    if players <= FEW_PLAYERS {
        return page(work.await?);
    }
    let patience = match players < MANY_PLAYERS {
        true => PATIENCE,
        false => LITTLE_PATIENCE,
    };
    match timeout(patience, tokio::spawn(in_this_language(work))).await {
        Err(_) => shown(&WaitPage { players }),
        Ok(Ok(done)) => page(done?),
        Ok(Err(failed)) => std::panic::resume_unwind(failed.into_panic()),
    }
}

/// Counts what lies on the disk, and works out who is due and everybody's progress, now and after every change, as long as it
/// is let run.
pub async fn keep_ready(store: Store, state: AppState) {
    let mut known = None;
    loop {
        match set_now(&store).await {
            Ok(now) if known != Some(now) => {
                let state = AppState {
                    units: now.1,
                    ..state.clone()
                };
                let studio = Studio::new(store.clone(), state);
                if let Err(error) = make_ready(&studio, known.is_none()).await {
                    tracing::error!("pages were not worked out ahead: {error}");
                }
                known = Some(now);
            }
            Ok(_) => {}
            // A studio that is busy, or closing: the pages work it out themselves.
            Err(error) => tracing::warn!("whether progress changed is not known: {error}"),
        }
        sleep(LOOK_EVERY).await;
    }
}

/// In the order in which a studio that was just opened is looked at.
async fn make_ready(studio: &Studio, is_opening: bool) -> Result<(), PageError> {
    studio.follow.dues(&studio.store, &studio.state).await?;
    if is_opening {
        keeping::known(studio).await?;
    }
    RosterFollowUp::of(studio).await.map(drop)
}

/// What the pages of progress rest on.
async fn set_now(store: &Store) -> Result<((i64, i64, i64), Units), StoreError> {
    let units = store.studio_units().await?.unwrap_or_default();
    Ok((store.follow_stamp().await?, units))
}
