//! Bringing clips in: chosen or dropped on a page, sent by a phone on the same network, recorded by a camera; which of them
//! show one swing; the queue of work. The work itself is the caller's: [`Intake`] is what the pages and it share.
//!
//! Everything works without scripts; with them uploads go on where they were cut off (`upload`, the tus 1.0 protocol), and
//! the page keeps itself up to date.

pub(crate) mod files;
mod forms;
mod motion;
mod page;
mod phone;
mod routes;
pub(crate) mod square;
mod tray;
pub(crate) mod upload;

pub use phone::phone_router;
pub(crate) use routes::{page_address, player_bring_in_address, routes};

use jiff::SignedDuration;
use lessonwright_language::{Text, t};
use lessonwright_model::Cancel;
use lessonwright_store::{ArrivalId, WorkId};
use std::collections::HashSet;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Instant;
use tokio::sync::Notify;

/// A step of the work, in the order in which they come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Step {
    /// Where in the clip the swing is.
    Swings,
    /// The golfer's landmarks.
    Golfer,
    /// The club.
    Club,
    /// Moments and measures.
    Measures,
    /// The lesson's draft.
    Lesson,
}

impl Step {
    /// The steps on one clip.
    pub const OF_A_CLIP: [Step; 3] = [Step::Swings, Step::Golfer, Step::Club];
    /// The steps on a swing whose clips were watched.
    pub const OF_A_SWING: [Step; 2] = [Step::Measures, Step::Lesson];

    /// The key under which its pace is kept.
    pub fn key(self) -> &'static str {
        match self {
            Step::Swings => "swings",
            Step::Golfer => "golfer",
            Step::Club => "club",
            Step::Measures => "measures",
            Step::Lesson => "lesson",
        }
    }

    fn says(self) -> Text {
        t(match self {
            Step::Swings => "bring-in-step-swings",
            Step::Golfer => "bring-in-step-golfer",
            Step::Club => "bring-in-step-club",
            Step::Measures => "bring-in-step-measures",
            Step::Lesson => "bring-in-step-lesson",
        })
    }
}

/// What is worked on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Job {
    /// A clip is watched.
    Clip(ArrivalId),
    /// A swing goes down the road.
    Swing(WorkId),
}

/// The work under way.
#[derive(Clone, Debug)]
pub struct UnderWay {
    /// On what.
    pub job: Job,
    /// Which step.
    pub step: Step,
    /// How much of the step is done, 0 to 1.
    pub share: f64,
    /// When the step began.
    pub began: Instant,
    /// Stops it.
    pub cancel: Cancel,
}

/// Where phones of the local network and players from afar reach the studio, and where clips are looked for.
#[derive(Clone, Debug, Default)]
pub struct Doors {
    /// `http://192.168.1.20:8472`, if the studio lets phones in.
    pub phones: Option<String>,
    /// The watched folder.
    pub folder: Option<PathBuf>,
    /// Where players with a personal link come in: `https://players.example`.
    pub players: Option<String>,
    /// How long an e-mail to the professional waits for more to tell of; none where no mail server is set.
    pub mail_after: Option<SignedDuration>,
}

/// Shared by the pages, which bring clips in and say what is wanted, and by who does the work.
#[derive(Default)]
pub struct Intake {
    /// Told by the command line.
    pub doors: Doors,
    /// Rung when a clip arrived.
    pub arrived: Notify,
    /// Rung when there may be something on the queue.
    pub bell: Notify,
    under_way: Mutex<Option<UnderWay>>,
    /// Uploads that a request is writing to.
    writing: Mutex<HashSet<String>>,
}

impl Intake {
    /// With these doors open.
    pub fn with_doors(doors: Doors) -> Arc<Intake> {
        Arc::new(Intake {
            doors,
            ..Intake::default()
        })
    }

    /// There may be something to do.
    pub fn ring(&self) {
        self.arrived.notify_one();
        self.bell.notify_one();
    }

    /// Says what is worked on, or that nothing is.
    pub fn begin(&self, job: Option<(Job, Cancel)>) {
        *lock(&self.under_way) = job.map(|(job, cancel)| UnderWay {
            job,
            step: match job {
                Job::Clip(_) => Step::Swings,
                Job::Swing(_) => Step::Measures,
            },
            share: 0.0,
            began: Instant::now(),
            cancel,
        });
    }

    /// Says how far a step is.
    pub fn report(&self, step: Step, share: f64) {
        if let Some(under_way) = &mut *lock(&self.under_way) {
            if under_way.step != step {
                (under_way.step, under_way.began) = (step, Instant::now());
            }
            under_way.share = share.clamp(0.0, 1.0);
        }
    }

    /// What is worked on.
    pub fn under_way(&self) -> Option<UnderWay> {
        lock(&self.under_way).clone()
    }

    /// Stops the work on this, if it is what is worked on.
    pub fn stop(&self, job: Job) {
        if let Some(under_way) = self.under_way()
            && under_way.job == job
        {
            under_way.cancel.cancel();
        }
    }

    /// Lets one request at a time write to an upload; none while another does.
    fn write_to(self: &Arc<Self>, key: &str) -> Option<Writing> {
        let free = lock(&self.writing).insert(key.to_owned());
        free.then(|| Writing {
            intake: Arc::clone(self),
            key: key.to_owned(),
        })
    }
}

/// The right to write to an upload.
struct Writing {
    intake: Arc<Intake>,
    key: String,
}

impl Drop for Writing {
    fn drop(&mut self) {
        lock(&self.intake.writing).remove(&self.key);
    }
}

fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// A key that nobody can guess: 128 random bits in hexadecimal digits.
pub(crate) fn random_key() -> String {
    let mut bytes = [0; 16];
    getrandom::fill(&mut bytes).expect("the system has random numbers");
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
