//! A player's personal link: one page, from anywhere, behind a token that ends. There the player sends clips and answers, sees
//! in plain words how far they are, and finds the lessons that were approved. The pages are served at a door of their own
//! ([`personal_router`]) that has nothing of the studio; the professional makes and withdraws links on the player's page
//! *Personal link*.

mod agreed;
mod answers;
mod door;
mod lessons;
mod limits;
mod link_page;
mod page;
mod routes;
mod tray;

pub use answers::facts_with;
pub use door::Address;
pub(crate) use link_page::{Came, came};
pub use routes::{personal_address, personal_router};

use crate::routes::Studio;
use axum::Router;
use axum::routing::{get, post};
use jiff::SignedDuration;

/// How long a link lives unless told otherwise, days: a season's lessons.
pub const LINK_DAYS: i64 = 90;
/// The longest a link may live, days.
pub const MOST_LINK_DAYS: i64 = 400;

/// A token that nobody can guess.
pub fn new_token() -> String {
    crate::bring_in::random_key()
}

/// So many days.
pub fn days(days: i64) -> SignedDuration {
    SignedDuration::from_hours(24 * days)
}

/// The studio's own pages about links.
pub(crate) fn routes() -> Router<Studio> {
    Router::new()
        .route("/players/{id}/link", get(link_page::page))
        .route("/players/{id}/link/make", post(link_page::make))
        .route("/players/{id}/link/end", post(link_page::end))
        .route("/players/{id}/link/read", post(link_page::read))
        .route("/personal/{file}", get(routes::file))
}
