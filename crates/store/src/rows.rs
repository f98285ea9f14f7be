//! The rows as types.

use jiff::Timestamp;
use lessonwright_model::{
    ClipFacts, PlayerFacts, Practice, ReferenceChoice, SwingAnalysis, Units, View,
};
use std::fmt;
use std::path::PathBuf;

macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub i64);

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(f)
            }
        }
    };
}

pub(crate) use id;

id!(
    /// Key of a player.
    PlayerId
);
id!(
    /// Key of a swing.
    SwingId
);
id!(
    /// Key of a clip.
    ClipId
);
id!(
    /// Key of an analysis.
    AnalysisId
);
id!(
    /// Key of a lesson.
    LessonId
);

/// A player on the roster.
#[derive(Clone, Debug, PartialEq)]
pub struct Player {
    /// Key.
    pub id: PlayerId,
    /// What the professional knows.
    pub facts: PlayerFacts,
    /// A guardian's consent to filming, if one is on record.
    pub guardian_consent: Option<GuardianConsent>,
    /// Where, when and how long the player practises, if it was said.
    pub practice: Option<Practice>,
    /// What the player's measures are held against.
    pub reference: ReferenceChoice,
    /// The unit of length that comes first for the player; as the studio has it where none.
    pub units: Option<Units>,
    /// When the player was added.
    pub added_at: Timestamp,
}

/// A guardian agreed that a minor is filmed.
#[derive(Clone, Debug, PartialEq)]
pub struct GuardianConsent {
    /// The guardian's name.
    pub guardian: String,
    /// When they agreed.
    pub given_at: Timestamp,
}

/// One motion with one club.
#[derive(Clone, Debug, PartialEq)]
pub struct Swing {
    /// Key.
    pub id: SwingId,
    /// Whose.
    pub player: PlayerId,
    /// With what kind of club, if it was said: a key of the coaching's kinds ("mid_iron").
    pub club: Option<String>,
    /// Since when the professional holds others against it; none if it is no model.
    pub model_since: Option<Timestamp>,
    /// When the professional looked at it and it needs no lesson.
    pub set_aside_at: Option<Timestamp>,
    /// When it was filmed, if the file says so.
    pub filmed_at: Option<Timestamp>,
    /// When it was added.
    pub added_at: Timestamp,
}

/// A swing that others are held against.
#[derive(Clone, Debug, PartialEq)]
pub struct ModelSwing {
    /// The swing.
    pub swing: Swing,
    /// Whose.
    pub player: Player,
    /// Its latest analysis.
    pub analysis: SwingAnalysis,
}

/// A clip to be kept.
#[derive(Clone, Debug)]
pub struct NewClip {
    /// Where the camera stood.
    pub view: View,
    /// The file as it came; it is copied and stays where it is.
    pub file: PathBuf,
    /// What is known of it.
    pub facts: ClipFacts,
}

/// A clip that is kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Clip {
    /// Key.
    pub id: ClipId,
    /// The swing it shows.
    pub swing: SwingId,
    /// Where the camera stood.
    pub view: View,
    /// The copy's full path.
    pub path: PathBuf,
    /// What is known of it.
    pub facts: ClipFacts,
    /// SHA-256 of the file, 64 hexadecimal digits.
    pub sha256: String,
}

/// An analysis as it was computed.
#[derive(Clone, Debug, PartialEq)]
pub struct StoredAnalysis {
    /// Key.
    pub id: AnalysisId,
    /// Of which swing.
    pub swing: SwingId,
    /// The numbers, with the version of the program that computed them.
    pub analysis: SwingAnalysis,
    /// When.
    pub computed_at: Timestamp,
}

/// How far a lesson has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LessonState {
    /// Made by the program, not yet read by the professional.
    Drafted,
    /// Approved by the professional.
    Approved,
    /// Sent to the player.
    Sent,
}

/// A lesson without its page.
#[derive(Clone, Debug, PartialEq)]
pub struct LessonSummary {
    /// Key.
    pub id: LessonId,
    /// The analysis it was made from.
    pub analysis: AnalysisId,
    /// The swing that was analysed.
    pub swing: SwingId,
    /// Whose.
    pub player: PlayerId,
    /// When it was made.
    pub drafted_at: Timestamp,
    /// When the professional approved it.
    pub approved_at: Option<Timestamp>,
    /// When it went out.
    pub sent_at: Option<Timestamp>,
}

/// A lesson with its page.
#[derive(Clone, Debug, PartialEq)]
pub struct Lesson {
    /// All but the page.
    pub summary: LessonSummary,
    /// The page as the player gets it (HTML, UTF-8).
    pub page: Vec<u8>,
}

impl LessonSummary {
    /// Whether it says what an analysis found and what was chosen for it, last at `changed_at`.
    pub fn has_all(&self, analysis: AnalysisId, changed_at: Option<Timestamp>) -> bool {
        self.analysis == analysis
            && changed_at.is_none_or(|changed_at| changed_at <= self.drafted_at)
    }

    /// How far it has come.
    pub fn state(&self) -> LessonState {
        match (self.approved_at, self.sent_at) {
            (_, Some(_)) => LessonState::Sent,
            (Some(_), None) => LessonState::Approved,
            (None, None) => LessonState::Drafted,
        }
    }
}
