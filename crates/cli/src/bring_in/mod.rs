//! The work on clips that were brought in: each is opened at once, watched in its turn, and goes down the road with its
//! partner when the professional says so. One road at a time; what was seen is kept, so that a cut costs nothing.

mod command;
mod folder;
mod open;
mod phones;
mod work;

pub use command::{BringInArguments, bring_in};
pub use phones::{lan_base, serve_phones};

use crate::surroundings::Surroundings;
use lessonwright_model::{Cancel, Letter};
use lessonwright_store::Store;
use lessonwright_web::bring_in::Intake;
use std::sync::Arc;

/// What the work needs of the machine and the studio. Clones share everything.
#[derive(Clone)]
pub struct Workshop {
    around: Arc<Surroundings>,
    store: Store,
    intake: Arc<Intake>,
    /// What lessons say beside the analysis; the day is the day's.
    letter: Letter,
    /// Thrown when the studio closes.
    closing: Cancel,
}

impl Workshop {
    pub fn of(
        around: Arc<Surroundings>,
        store: Store,
        intake: Arc<Intake>,
        letter: Letter,
        closing: Cancel,
    ) -> Workshop {
        Workshop {
            around,
            store,
            intake,
            letter,
            closing,
        }
    }

    /// Stops what is under way; it goes on when the studio is next opened.
    pub fn close(&self) {
        self.closing.cancel();
        if let Some(under_way) = self.intake.under_way() {
            under_way.cancel.cancel();
        }
    }

    /// Works until the studio closes: opening, watching and the watched folder go on side by side.
    pub fn begin(&self) {
        tokio::spawn(self.clone().open_arrivals());
        tokio::spawn(self.clone().work_in_turn());
        if let Some(folder) = self.intake.doors.folder.clone() {
            tokio::spawn(self.clone().watch_folder(folder));
        }
    }
}
