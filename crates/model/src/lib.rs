//! The words of the trade as types; every other crate speaks them.
//!
//! A *player* is taught. A *clip* is one recorded file, seen from one *view*. A *swing* is one
//! motion, seen in one clip or two. Its *moments* are instants; its *measures* are numbers with
//! their ± and a state. A *finding* is a measure outside its reference, a *drill* changes one.
//!
//! Everything about sides is said as [`Side::Lead`] (nearer the target) and [`Side::Trail`], so
//! that left- and right-handers share one set of rules. Angles are radians and lengths metres
//! inside; [`units`] turns them into degrees, centimetres and inches at the edge.

mod arrival;
pub mod body;
pub mod brief;
pub mod capture;
pub mod change;
pub mod choices;
pub mod clip;
pub mod club;
pub mod corrections;
pub mod follow;
pub mod geometry;
pub mod home;
mod language;
pub mod lesson;
pub mod measure;
pub mod measure_name;
pub mod picture;
pub mod placement;
pub mod plan;
pub mod player;
pub mod reference;
pub mod screening;
pub mod swing;
pub mod tracks;
pub mod units;
pub use units::Units;
pub mod work;

pub use arrival::ClipNotes;
pub use body::{
    BodyFrame, BodyPart, Joint, JointCentre, Landmark, LandmarkTrack, Landmarks, Spread,
};
pub use brief::{Brief, ClipBrief, Letter};
pub use capture::{CAPTURED_POINTS, CapturedBody};
pub use change::{Change, ChangeError};
pub use choices::{
    Choices, ChosenPicture, DoseChoice, PriorityChoice, Scrub, ScrubPoint, Teaching,
};
pub use clip::{ClipFacts, RateSource, Strike, SwingWindow};
pub use club::{ClubGlance, ClubRay, ClubTrack, FlightGlance, Spot};
pub use corrections::{ClipCorrections, CorrectionError, Corrections, PlacedJoint};
pub use follow::{Aim, Day, FilmedSwing, FoundIn, Given, History, Occasion, Place, Taken};
pub use geometry::{PixelPoint, WorldPoint};
pub use language::Language;
pub use lesson::{
    BallPath, Candidate, CauseGrade, ChainPart, ChainStep, Drill, DrillFigure, Finding,
    Prescription, Priority, Ranking, SetAside, ShownBy, Sideways,
};
pub use measure::{Interval, Measure, MeasureState, Unit};
pub use measure_name::{MeasureName, Part};
pub use picture::{Picture, rgb_from_ycbcr};
pub use placement::{Placement, Reading};
pub use plan::{
    Block, BlockKind, Feet, Layout, Practice, PracticePlace, PracticePlan, Reason, Season, Session,
    Thing, ThingKind,
};
pub use player::PlayerFacts;
pub use reference::{ReferenceChoice, Sex};
pub use screening::{AnswersError, BodyArea, Cleared, Pain, STRONGEST_PAIN, Screening};
pub use swing::{Hand, Moment, MomentName, Side, SwingAnalysis, View, ViewReport};
pub use tracks::{BodyTracks, ClubPlace, SwingTracks, ViewTracks};
pub use work::Cancel;
