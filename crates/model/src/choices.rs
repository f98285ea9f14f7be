//! What the professional chooses for a swing's lesson in place of what is proposed, and adds to it in their own words.
//! It belongs to the swing, so it outlives every draft of its lesson.

use crate::swing::{MomentName, View};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// All that was chosen for a lesson; as proposed where nothing was.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Choices {
    /// What is taught, and how much of it.
    pub teaching: Teaching,
    /// The pictures of the page; the usual ones where none was said.
    pub pictures: Option<Vec<ChosenPicture>>,
    /// A few lines to the player; those of the swing's brief where none was said, nothing where it is empty.
    pub note: Option<String>,
}

/// What is taught.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct Teaching {
    /// The one thing.
    pub priority: PriorityChoice,
    /// Key of the drill, of those that fit; the first of them where none was said or it does not fit.
    pub drill: Option<String>,
    /// How much of it.
    pub dose: DoseChoice,
}

/// Which one thing is worked on.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum PriorityChoice {
    /// The first of the ranking.
    #[default]
    AsProposed,
    /// Another one of the ranking.
    Other {
        /// Key of the body fact in the cause table.
        fact: String,
        /// The professional's reason; may be empty.
        why: String,
    },
    /// Nothing is changed for now.
    Nothing {
        /// The professional's reason; may be empty.
        why: String,
    },
}

/// How much practice is given.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum DoseChoice {
    /// As much as the screening allows.
    #[default]
    AsProposed,
    /// About half. Never more than the screening allows.
    Half,
}

/// A picture of the lesson's page.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ChosenPicture {
    /// From where it is seen.
    pub view: View,
    /// What it shows.
    pub moment: MomentName,
    /// Under it, in the professional's words; may be empty.
    pub caption: String,
}

/// Which frame of a clip was looked at while the professional spoke.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Scrub {
    /// Of which clip.
    pub view: View,
    /// In order of time; each holds until the next.
    pub points: Vec<ScrubPoint>,
}

/// From one instant of the recording on, one frame.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct ScrubPoint {
    /// Since the recording began, s.
    pub at_s: f64,
    /// The frame of the clip, from 0.
    pub frame: usize,
}

impl Teaching {
    /// True where nothing was chosen.
    pub fn is_as_proposed(&self) -> bool {
        *self == Teaching::default()
    }
}

impl PriorityChoice {
    /// The professional's reason, where there is one.
    pub fn why(&self) -> &str {
        match self {
            PriorityChoice::AsProposed => "",
            PriorityChoice::Other { why, .. } | PriorityChoice::Nothing { why } => why,
        }
    }
}

impl Choices {
    /// The professional's words under a picture; empty where there are none.
    pub fn caption(&self, view: View, moment: MomentName) -> &str {
        let mut pictures = self.pictures.iter().flatten();
        let found = pictures.find(|picture| (picture.view, picture.moment) == (view, moment));
        found.map_or("", |picture| picture.caption.trim())
    }
}

impl Scrub {
    /// The same with nothing in it that can't be: points in order of time, of numbers that are.
    pub fn tidied(mut self) -> Scrub {
        self.points
            .retain(|point| point.at_s.is_finite() && point.at_s >= 0.0);
        self.points.sort_by(|a, b| a.at_s.total_cmp(&b.at_s));
        self
    }
}
