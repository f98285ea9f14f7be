//! The studio: pages served to the professional.
//!
//! [`router`] answers, [`serve`] listens. Pages work before scripts load; only
//! the swing bench ([`mod@bench`]) and the search field have any. The studio is
//! for one professional on one machine or one home network: it has no log-in, so by default it
//! listens on the loopback address alone ([`DEFAULT_ADDRESS`]), answers only to names that a page
//! of another site can't take on, and refuses a POST that one of its own pages did not send.

mod alive;
mod ball;
pub mod bench;
pub mod bring_in;
mod by_hand;
mod desk;
mod diary;
mod drills;
mod error;
mod find;
mod follow;
mod follow_cache;
mod follow_pages;
mod follow_wait;
mod found_by;
mod guard;
pub mod keeping;
mod language;
mod lesson_files;
mod lesson_page;
mod letter;
mod look;
mod named;
pub mod own;
mod pages;
pub mod personal;
mod player_record;
mod practice;
mod routes;
mod script_words;
mod served;
mod settings;
mod swing_ball;
mod today;
mod trade;
mod typed;
mod wording;

pub use by_hand::Asked;
pub use desk::Drafts;
pub use follow_wait::keep_ready as keep_progress_ready;
pub use found_by::offer_to_search;
pub use language::Spoken;
pub use letter::{LetterFiles, LetterOf};
pub use served::Pages;
pub use trade::{Others, Prescribing, Tickable, Trade, TradeIn};

use axum::Router;
use jiff::{Timestamp, tz::TimeZone};
use lessonwright_language::Say;
use lessonwright_model::Measure;
use lessonwright_report::{Reference, Units};
use lessonwright_store::{Player, Store, StoreError, SwingId};
use std::future::Future;
use std::io;
use std::net::{Ipv4Addr, SocketAddr};
use std::pin::Pin;
use std::sync::Arc;
use tokio::net::TcpListener;

/// Where the studio listens unless told otherwise: this machine alone, since players' films are
/// nobody else's business. The port is an unassigned
/// one (IANA service names and port numbers, from memory).
pub const DEFAULT_ADDRESS: SocketAddr =
    SocketAddr::new(std::net::IpAddr::V4(Ipv4Addr::LOCALHOST), 8471);

/// Finds the band a measure is held against, if there is one.
pub type FindReference = Arc<dyn Fn(&Measure) -> Option<Reference> + Send + Sync>;

/// Finds what a swing's measures are held against, as it was chosen for its player.
pub type ReferenceOf =
    Arc<dyn Fn(SwingId) -> Pin<Box<dyn Future<Output = FindReference> + Send>> + Send + Sync>;

/// Changes what is corrected by hand in a swing and has it analysed again; what it says when it can't is
/// for the professional.
pub type Correct = Arc<
    dyn Fn(SwingId, Asked) -> Pin<Box<dyn Future<Output = Result<(), String>> + Send>>
        + Send
        + Sync,
>;

/// What the pages need beside the store. Cheap to clone.
#[derive(Clone)]
pub struct AppState {
    /// The studio or academy.
    pub academy: String,
    /// The professional.
    pub coach: String,
    /// The unit of length shown first.
    pub units: Units,
    /// The language of its pages.
    pub spoken: Spoken,
    /// For dates and times.
    pub time_zone: TimeZone,
    /// What time it is.
    pub now: Arc<dyn Fn() -> Timestamp + Send + Sync>,
    /// The band a measure is held against, if there is one.
    pub reference: FindReference,
    /// The same for one swing, as it was chosen for its player.
    pub reference_of: ReferenceOf,
    /// What prescriptions and plans are made by.
    pub prescribing: Arc<Prescribing>,
    /// The words of the cause table that the pages offer and show.
    pub trade: TradeIn,
    /// Analyses a swing again under corrections by hand.
    pub correct: Correct,
    /// Drafts of lessons that failed.
    pub drafts: Drafts,
    /// Writes a player's progress letter.
    pub letter: LetterOf,
    /// Frames and tracks for the swing bench.
    pub bench: Arc<dyn bench::BenchSource>,
    /// Backup, exports, erasing, and taking in what players sent.
    pub keeping: Arc<dyn keeping::Keeping>,
    /// Shared with who works on the clips that are brought in.
    pub bring_in: Arc<bring_in::Intake>,
    /// What the professional sets for the whole studio.
    pub own: Arc<dyn own::OwnTrade>,
    /// What outlives pages that are made anew.
    pub lasting: Lasting,
}

/// What is kept between pages, also where they are made anew. Clones share it.
#[derive(Clone, Default)]
pub struct Lasting {
    follow: follow_cache::FollowCache,
    backup: keeping::BackupNote,
    disk: keeping::Disk,
}

impl AppState {
    /// With the unit of length that comes first for whose swing it is.
    async fn for_swing(&self, store: &Store, swing: SwingId) -> Result<AppState, StoreError> {
        let player = match store.swing(swing).await? {
            Some(swing) => store.player(swing.player).await?,
            None => None,
        };
        Ok(match player {
            Some(player) => self.for_player(&player),
            None => self.clone(),
        })
    }

    /// With the unit of length that comes first for this player.
    fn for_player(&self, player: &Player) -> AppState {
        AppState {
            units: player.units.unwrap_or(self.units),
            ..self.clone()
        }
    }

    /// The words of the cause table in the language of the page.
    pub(crate) fn trade(&self) -> Arc<Trade> {
        (self.trade)(language::say().language)
    }

    /// Says texts in the studio's language, where no page lays them out: JSON, names of files.
    pub fn say(&self) -> Say {
        Say::new(self.spoken.language())
    }

    /// With the bands that this swing is held against.
    async fn held_for(&self, swing: SwingId) -> AppState {
        AppState {
            reference: (self.reference_of)(swing).await,
            ..self.clone()
        }
    }
}

/// All pages over a store.
pub fn router(store: Store, state: AppState) -> Router {
    let spoken = state.spoken.clone();
    language::spoken(guard::guarded(routes::routes(store, state)), spoken)
}

/// Answers on `listener` until `shutdown` ends, then lets requests under way end.
///
/// # Errors
/// If the listener fails.
pub async fn serve(
    listener: TcpListener,
    router: Router,
    shutdown: impl Future<Output = ()> + Send + 'static,
) -> io::Result<()> {
    axum::serve(listener, router)
        .with_graceful_shutdown(shutdown)
        .await
}
