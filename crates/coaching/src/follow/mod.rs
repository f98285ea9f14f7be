//! Follow-up: whether a change is real, whether the drill is working, and what the roster shows.
//!
//! Values in, values out: [`Roster`] holds the histories of all players and answers for one of them
//! ([`Roster::progress`], [`Roster::trend`]) or for all ([`Roster::repeatability`], [`Roster::overview`],
//! [`Roster::drill_effects`]). It reads no clock: the day is passed in. Definitions, formulas, sources and limits:
//! `docs/follow-up.md`.

mod advice;
mod change;
mod drill_effects;
mod pool;
mod progress;
mod reliability;
mod roster;
mod series;
mod set_up;
mod trend;
mod variance;

pub use advice::{Advice, FEW_SESSIONS, Step, TRIAL_DAYS, percent, percent_text};
pub use change::{Change, Verdict, change, could_tell};
pub use drill_effects::{DrillEffect, Moved};
pub use pool::{Pooled, pool};
pub use progress::{Progress, Result};
pub use reliability::{Form, Shift, TwoWay, mdc95};
pub use roster::{Common, Due, Line, NEXT_LESSON_DAYS, Overview, Roster, due};
pub use series::{BEFORE_DAYS, Counted, Number, Series, sessions};
pub use set_up::{Population, Repeatability, Retest, SetUp};
pub use trend::{Trend, TrendSession};
pub use variance::{Grid, PRIOR_DF, Session, Variances, level, restricted};
