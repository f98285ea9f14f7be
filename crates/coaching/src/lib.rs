//! References, findings, causes, drills and the one priority.
//!
//! [`coach`] takes the measures of a swing, what the professional saw and what is known of the player, and returns
//! findings, a ranked list of what could be worked on with its reasons, at most one priority, its drills and a
//! prescription. It is pure. What it knows of golf is data a professional can read and replace: [`Targets`],
//! [`CauseTable`], [`DrillBook`]. The rule of the ranking is written down in `rank`.
//!
//! Values are in each measure's unit at the edge: cm, degrees, s, ratio. It does not know how a
//! measure was computed, nor video, storage or pages.
//!
//! What may be prescribed to whom is decided by [`ScreeningRules`]; [`fn@plan`] makes the days until the next lesson of a
//! prescription. Both are data as well.

pub mod ball;
mod book;
mod care;
mod causes;
mod chain;
mod check;
mod coach;
mod data_error;
mod explain;
mod findings;
mod flight;
pub mod follow;
mod plan;
mod rank;
mod reference;
mod retold;
mod screening;
mod stations;
mod targets;
mod wording;

pub use book::{DrillBook, DrillPage, DrillWords, FigureError, Figures};
pub use care::{Care, Dose, MOST_SWINGS_A_SESSION};
pub use causes::{
    BodyFact, CauseTable, ClubFact, ClubLink, FlightLink, LinkChange, LinkChanges, LinkKey,
    LinkWeight, Named, Often, Outside, Road, Shown,
};
pub use coach::{Case, Coaching, Knowledge, coach, coach_as_chosen};
pub use data_error::DataError;
pub use flight::{Flight, Told};
pub use plan::{PlanError, PlanRules, PracticeRules, plan};
pub use reference::{Against, FEWEST_MODELS, Like, Model, OwnSwing, targets_for};
pub use retold::{Retold, Words};
pub use screening::{Ask, Screened, ScreeningRules};
pub use stations::Stations;
pub use targets::{Basis, Target, Targets};
pub use wording::{sides_as_said, sides_as_said_in};
