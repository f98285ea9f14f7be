//! Players, swings, analyses and lessons in a database, and the copies of their clips on disk.
//!
//! A [`Store`] is one folder: `lessonwright.db` (SQLite, write-ahead log, fully synchronous) and
//! `media/<swing>/<view>.<ext>`, with pictures made from them in `media/<swing>/frames` and the files of its lessons. Instants are
//! passed in; the store reads no clock. What a function
//! has returned from is on the disk.

mod backup;
mod error;
mod frames;
mod media;
mod rows;
mod storage;
mod store;

mod analyses;
mod appointments;
mod arrivals;
mod balls;
mod choices;
mod clips;
mod consents;
mod corrections;
mod follow_up;
mod language;
mod lesson_files;
mod lessons;
mod mails;
mod notes;
mod phone_links;
mod players;
mod practice;
mod records;
mod search;
mod sent_answers;
mod standings;
mod swings;
mod taken_in;
mod units;
mod uploads;
mod works;

pub use appointments::{Appointment, AppointmentId, Planned};
pub use arrivals::{Arrival, ArrivalId, ArrivalState, CameBy, LinkId, NewArrival};
pub use backup::{BackedUp, Restored, restore};
pub use balls::StoredBall;
pub use choices::StoredChoices;
pub use consents::{Consent, ConsentId, Consents, NewConsent, Purpose};
pub use corrections::CorrectionStep;
pub use error::StoreError;
pub use follow_up::{ByHand, SwingMark, date_of, day_of};
pub use lesson_files::FileKind;
pub use lessonwright_model::PlayerFacts;
pub use mails::{Mail, MailId, MailKind, MailState};
pub use notes::{Note, NoteId};
pub use phone_links::{LinkKind, PlayerLink};
pub use players::Background;
pub use records::{Brought, BroughtPlayer, RECORDS_FILE};
pub use rows::{
    AnalysisId, Clip, ClipId, GuardianConsent, Lesson, LessonId, LessonState, LessonSummary,
    ModelSwing, NewClip, Player, PlayerId, StoredAnalysis, Swing, SwingId,
};
pub use search::{DrillWords, Found, FoundKind, Said};
pub use sent_answers::Unread;
pub use standings::{RosterLine, RosterPage, Standing, Waiting};
pub use storage::{LANDMARKS_FOLDER, PlayerStorage, Storage};
pub use store::Store;
pub use taken_in::TakenIn;
pub use uploads::Upload;
pub use works::{Work, WorkId, WorkState};

/// Players younger than this need a guardian's consent before a film of them is kept, years. The
/// age of majority in most countries; where it is higher, the professional's own rules come first.
pub const OF_AGE_YEARS: u32 = 18;
