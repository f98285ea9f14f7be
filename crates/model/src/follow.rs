//! What later swings are held against: a player's swings day by day, how each was made, and what was
//! prescribed. Definitions and rules: `docs/follow-up.md`.

use crate::measure::Measure;
use crate::measure_name::MeasureName;
use crate::swing::{MomentName, View};
use serde::{Deserialize, Serialize};

/// A civil day in the studio's time zone, counted from 1 January 1970.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day(pub i32);

impl Day {
    /// Days from `earlier` to this day.
    pub fn since(self, earlier: Day) -> i32 {
        self.0 - earlier.0
    }
}

/// How a swing was made, as the professional marks it. The three are kept apart in the study of
/// motor learning; a swing that nobody marked is none of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Occasion {
    /// During practice: with the drill, the cue or feedback.
    Practice,
    /// At least 24 hours after practice, without cue or feedback.
    Retention,
    /// In another task than practised: on the course, with a ball, with another club.
    Transfer,
}

impl Occasion {
    /// All, in the order in which they come.
    pub const ALL: [Occasion; 3] = [Occasion::Practice, Occasion::Retention, Occasion::Transfer];

    /// One word, as it is written in the database and typed.
    pub fn key(self) -> &'static str {
        match self {
            Occasion::Practice => "practice",
            Occasion::Retention => "retention",
            Occasion::Transfer => "transfer",
        }
    }

    /// The occasion of this word.
    pub fn of_key(key: &str) -> Option<Occasion> {
        Occasion::ALL.into_iter().find(|one| one.key() == key)
    }
}

/// Which measure, when, and against which moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// What is measured.
    pub measure: MeasureName,
    /// When.
    pub moment: MomentName,
    /// The moment it is held against; none for a measure that needs none.
    pub against: Option<MomentName>,
}

impl Place {
    /// Where a measure was taken.
    pub fn of(measure: &Measure) -> Place {
        Place {
            measure: measure.name,
            moment: measure.moment,
            against: measure.against,
        }
    }

    /// In plain words: "pelvis shift, from top to impact".
    pub fn plain(&self) -> String {
        let name = self.measure.plain();
        match self.against {
            _ if self.measure.is_timing() => name.to_owned(),
            Some(against) => format!(
                "{name}, from {} to {}",
                against.plain(),
                self.moment.plain()
            ),
            None => format!("{name}, {}", self.moment.plain()),
        }
    }
}

/// A swing that was filmed and measured.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FilmedSwing {
    /// Its key in the studio.
    pub swing: i64,
    /// The session it belongs to: the day it was filmed, unless the professional said another.
    pub day: Day,
    /// When it was filmed, s since 1970 UTC; none where only the day is known.
    pub at_s: Option<i64>,
    /// True where nobody knows when it was filmed: `day` is then the day it was added.
    pub day_assumed: bool,
    /// How it was made, if marked.
    pub occasion: Option<Occasion>,
    /// Its measures, also those without a number.
    pub measures: Vec<Measure>,
    /// Keys of its findings.
    pub findings: Vec<FoundIn>,
    /// Key and title of what it came to, if anything.
    pub priority: Option<(String, String)>,
}

/// A finding of a swing, as far as a roster compares them.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct FoundIn {
    /// Key in the cause table.
    pub key: String,
    /// Where it was measured.
    pub place: Place,
    /// True where the number is above its range, false where it is below.
    pub above: bool,
}

/// What was prescribed to a player.
#[derive(Clone, Debug, PartialEq)]
pub struct Given {
    /// Its key in the studio.
    pub id: i64,
    /// The swing it was prescribed on; none for one put on record by hand.
    pub swing: Option<i64>,
    /// The drill's key and title.
    pub drill: String,
    /// The drill's title.
    pub title: String,
    /// What is to change; none where no camera shows it.
    pub aim: Option<Aim>,
    /// The day it was given.
    pub day: Day,
    /// When, s since 1970 UTC; none where only the day is known.
    pub at_s: Option<i64>,
    /// Days from there to the next lesson, as the professional set them.
    pub next_in_days: Option<u32>,
    /// The day it was ended, if it was.
    pub ended: Option<Day>,
}

/// The number to reach.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aim {
    /// Which number.
    pub place: Place,
    /// The number, in the measure's unit.
    pub goal: f64,
    /// The number when it was prescribed; none where it was put on record by hand without one.
    pub start: Option<f64>,
}

/// All that is on record of one player for the follow-up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct History {
    /// Key of the player.
    pub player: i64,
    /// The player's name.
    pub name: String,
    /// Oldest first.
    pub swings: Vec<FilmedSwing>,
    /// Those in force, oldest first.
    pub given: Vec<Given>,
    /// Prescriptions of lessons that are drafted and not approved; they count for nothing yet.
    pub drafts: usize,
}

/// One swing's number at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Taken {
    /// The view it was taken in; none for both.
    pub view: Option<View>,
    /// In the measure's unit.
    pub value: f64,
    /// Half of its 95 % interval, in the measure's unit.
    pub plus_minus: f64,
}

impl FilmedSwing {
    /// The number at a place, if there is one with an interval.
    pub fn taken(&self, place: Place) -> Option<Taken> {
        let found = self.measures.iter().find(|m| Place::of(m) == place)?;
        let (value, interval) = (found.value?, found.interval()?);
        let plus_minus = 0.5 * (interval.high - interval.low);
        (value.is_finite() && plus_minus.is_finite()).then_some(Taken {
            view: found.view,
            value,
            plus_minus,
        })
    }
}
