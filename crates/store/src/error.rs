//! Why the store refused or failed.

use crate::arrivals::ArrivalId;
use crate::rows::{AnalysisId, LessonId, PlayerId, SwingId};
use lessonwright_model::View;
use std::path::PathBuf;

/// What went wrong, with what, and what to do.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// A file could not be read, written or removed.
    #[error("could not {action} {path}: check the folder's rights and the free space", path = path.display())]
    File {
        /// What was attempted ("copy the clip to").
        action: &'static str,
        /// On which file or folder.
        path: PathBuf,
        /// The system's answer.
        source: std::io::Error,
    },
    /// The database refused.
    #[error("the database failed while trying to {action}")]
    Database {
        /// What was attempted.
        action: &'static str,
        /// The database's answer.
        source: sqlx::Error,
    },
    /// The tables could not be brought up to date.
    #[error("could not bring the database {path} up to date", path = path.display())]
    Migration {
        /// The database's file.
        path: PathBuf,
        /// The reason.
        source: sqlx::migrate::MigrateError,
    },
    /// The database was last used by a later version.
    #[error(
        "the database {path} was made by a later version of lessonwright: install that version",
        path = path.display()
    )]
    TooNew {
        /// The database's file.
        path: PathBuf,
    },
    /// A minor's film without consent.
    #[error(
        "{player} is {age_years}: a film of a player under {limit} is kept only with a guardian's \
         consent on record. Record the guardian's name and consent, then add the film again",
        limit = crate::OF_AGE_YEARS
    )]
    GuardianConsentMissing {
        /// The player's name.
        player: String,
        /// Their age, years.
        age_years: u32,
    },
    /// Another player has this name.
    #[error("there is a player called \"{0}\" already: add something to the name")]
    NameTaken(String),
    /// A name without letters.
    #[error("a player needs a name")]
    NameEmpty,
    /// A number that nobody has.
    #[error("{what} can't be {value}: check it")]
    Impossible {
        /// Which fact ("stature in metres").
        what: &'static str,
        /// What was given.
        value: f64,
    },
    /// Answers before a prescription that can't be.
    #[error("the answers were not kept: {0}")]
    ImpossibleAnswers(String),
    /// No such player.
    #[error("there is no player {0}")]
    NoPlayer(PlayerId),
    /// No such swing.
    #[error("there is no swing {0}")]
    NoSwing(SwingId),
    /// No change to take back.
    #[error("nothing is corrected by hand in swing {0}: there is no change to take back")]
    NothingCorrected(SwingId),
    /// A clip that is not free.
    #[error("clip {0} is part of a swing already, or not this player's: open the page again")]
    ArrivalTaken(ArrivalId),
    /// No such analysis.
    #[error("there is no analysis {0}")]
    NoAnalysis(AnalysisId),
    /// No such lesson.
    #[error("there is no lesson {0}")]
    NoLesson(LessonId),
    /// No such prescription.
    #[error("there is no prescription {0}")]
    NoPrescription(i64),
    /// A swing has one clip a view.
    #[error("swing {swing} has a {view} clip already: add this one to a new swing")]
    ClipThere {
        /// The swing.
        swing: SwingId,
        /// The view.
        view: View,
    },
    /// A lesson goes out only when the professional has approved it.
    #[error("lesson {0} is not approved yet: approve it before it is sent")]
    NotApproved(LessonId),
    /// Records that can't be brought in.
    #[error("{file} can't be brought in: {0}", file = crate::RECORDS_FILE)]
    BadRecords(String),
    /// A backup that can't be made or restored: the whole sentence.
    #[error("{0}")]
    Backup(String),
    /// A lesson goes out only to a player who agreed to that.
    #[error(
        "{player} has not agreed to be sent anything, or has withdrawn it: record the consent to sending, then \
         send lesson {lesson}"
    )]
    SendingNotAgreed {
        /// The player's name.
        player: String,
        /// The lesson.
        lesson: LessonId,
    },
    /// A film of a player who withdrew the consent to be filmed.
    #[error(
        "{player} has withdrawn the consent to be filmed: record a new one, then add the film again"
    )]
    FilmingWithdrawn {
        /// The player's name.
        player: String,
    },
    /// Something that needs words.
    #[error("{0}: write something")]
    Empty(&'static str),
    /// No such appointment, note or consent.
    #[error("there is no {what} {key}")]
    Nothing {
        /// What was asked for ("note").
        what: &'static str,
        /// Its key.
        key: i64,
    },
    /// What is stored can't be read back.
    #[error("{what} in the database can't be read: it may be from another version of lessonwright")]
    Unreadable {
        /// Which value ("analysis 7").
        what: String,
        /// Why.
        source: Box<dyn std::error::Error + Send + Sync>,
    },
}

impl StoreError {
    /// Whether there was no room on the disk.
    pub fn is_disk_full(&self) -> bool {
        match self {
            StoreError::File { source, .. } => matches!(
                source.kind(),
                std::io::ErrorKind::StorageFull | std::io::ErrorKind::QuotaExceeded
            ),
            _ => self.primary_code() == Some(SQLITE_FULL),
        }
    }

    /// Whether another program was writing for longer than is waited.
    pub fn is_busy(&self) -> bool {
        let code = self.primary_code();
        let waited_in_vain = matches!(
            self,
            StoreError::Database {
                source: sqlx::Error::PoolTimedOut,
                ..
            }
        );
        waited_in_vain || code == Some(SQLITE_BUSY) || code == Some(SQLITE_LOCKED)
    }

    /// SQLite's result code without what extends it (its low byte; sqlite.org/rescode.html, from memory).
    fn primary_code(&self) -> Option<u32> {
        let StoreError::Database { source, .. } = self else {
            return None;
        };
        let code = source.as_database_error()?.code()?.parse::<u32>();
        code.ok().map(|code| code & 0xff)
    }
}

/// Result codes of SQLite.
const SQLITE_BUSY: u32 = 5;
const SQLITE_LOCKED: u32 = 6;
const SQLITE_FULL: u32 = 13;

/// Names the attempt when a query fails.
pub(crate) fn during(action: &'static str) -> impl Fn(sqlx::Error) -> StoreError {
    move |source| StoreError::Database { action, source }
}
