//! A practice plan: what is done on which day until the next lesson. Dates are the player's own calendar days.

use crate::swing::Hand;
use jiff::civil::{Date, Time};
use serde::{Deserialize, Serialize};

/// What the player can do: where, when and how long. Kept with the player.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Practice {
    /// The first day that can be used.
    pub from: Date,
    /// The day of the next lesson; practice ends the day before.
    pub next_lesson: Date,
    /// Days of the week as ISO 8601 numbers them: 1 is Monday, 7 Sunday.
    pub days: Vec<u8>,
    /// Minutes on such a day.
    pub minutes: u32,
    /// Where.
    pub place: PracticePlace,
    /// What the player's year is at.
    pub season: Season,
    /// When a session begins; none for any time of the day.
    pub at: Option<Time>,
}

/// Where is practised.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PracticePlace {
    /// Indoors, without a ball.
    Home,
    /// A mat before a net: balls, no flight.
    Mat,
    /// A range or practice ground: balls, clubs, targets.
    Range,
    /// A round, or some holes of it.
    Course,
}

/// What the player's year is at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Season {
    /// Rounds are played besides.
    Playing,
    /// No rounds.
    Between,
    /// The first weeks after two months or more without golf.
    Returning,
}

/// Days of practice with their blocks.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PracticePlan {
    /// The thing worked on.
    pub title: String,
    /// Key of the drill.
    pub drill: String,
    /// The drill's title.
    pub drill_title: String,
    /// What it was planned for.
    pub practice: Practice,
    /// The cue to begin with, outside the body.
    pub cue: String,
    /// The cue for those who do better with one inside the body.
    pub cue_inward: String,
    /// What to have at hand.
    pub station: Vec<String>,
    /// How it lies on the ground; none if nothing does.
    pub layout: Option<Layout>,
    /// The hand the player plays.
    pub hand: Hand,
    /// The drill's checkpoint.
    pub checkpoint: String,
    /// How to film the check, and the number to reach.
    pub check: String,
    /// In the order of the days.
    pub sessions: Vec<Session>,
    /// Why there is less than could be: age, pain, season. Empty for a full dose.
    pub lowered: Vec<String>,
    /// Cautions, the most personal first.
    pub cautions: Vec<String>,
    /// Why it is built like this, with source and doubt.
    pub why: Vec<Reason>,
    /// Edition of the practice rules.
    pub edition: String,
}

/// How a drill's station lies on the ground, seen from above. Places in cm from the ball's place: x toward the target,
/// z from the player to the ball, so that left- and right-handers share them.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Layout {
    /// How the player stands.
    pub feet: Feet,
    /// Whether a ball lies there.
    pub ball: bool,
    /// What lies there, in the order in which it is told of.
    #[serde(rename = "thing")]
    pub things: Vec<Thing>,
}

/// How the player stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Feet {
    /// In a stance.
    Apart,
    /// Side by side.
    Together,
}

/// One thing on the ground.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Thing {
    /// What it is.
    pub kind: ThingKind,
    /// Where: its middle, or its beginning.
    pub at: [f64; 2],
    /// The end of a stick, line or wall.
    pub to: Option<[f64; 2]>,
    /// Extent of a towel or box along x and z.
    pub size: Option<[f64; 2]>,
    /// In a few words.
    pub says: String,
}

/// What can lie on the ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ThingKind {
    /// An alignment stick or a club.
    Stick,
    /// A line drawn on the ground.
    Line,
    /// A wall.
    Wall,
    /// A towel.
    Towel,
    /// A box, a chair.
    Box,
    /// A soft pole that stands upright.
    Pole,
    /// A tee.
    Tee,
    /// A coin.
    Coin,
}

impl ThingKind {
    /// Whether it goes from one place to another.
    pub fn has_two_ends(self) -> bool {
        matches!(self, ThingKind::Stick | ThingKind::Line | ThingKind::Wall)
    }

    /// Whether it covers ground.
    pub fn has_size(self) -> bool {
        matches!(self, ThingKind::Towel | ThingKind::Box)
    }
}

/// One day.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Session {
    /// From 1.
    pub number: usize,
    /// When.
    pub date: Date,
    /// What is done, in order.
    pub blocks: Vec<Block>,
}

/// One stretch of a session.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Block {
    /// Of what kind.
    pub kind: BlockKind,
    /// What to do, in a sentence or two.
    pub says: String,
    /// Rounds.
    pub rounds: u32,
    /// Swings or movements in a round, those with a ball among them.
    pub swings: u32,
    /// Balls in a round.
    pub balls: u32,
    /// Rest between rounds, s.
    pub rest_s: u32,
    /// How long it takes, rests included, s.
    pub time_s: u32,
    /// When to look at the result, and at what; empty where that goes without saying.
    pub look: String,
}

/// Of what kind a stretch of a session is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BlockKind {
    /// Warming up.
    WarmUp,
    /// The self-check by phone.
    Check,
    /// The drill, the same again and again.
    Drill,
    /// Another club or target every time.
    Mixed,
    /// As on the course: one ball, nothing looked at before the end.
    AsPlayed,
}

/// A reason with where it comes from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Reason {
    /// What is done and why.
    pub says: String,
    /// Whose finding, and what is doubtful about it.
    pub source: String,
}

impl PracticePlace {
    /// All, from the smallest.
    pub const ALL: [PracticePlace; 4] = [
        PracticePlace::Home,
        PracticePlace::Mat,
        PracticePlace::Range,
        PracticePlace::Course,
    ];

    /// Its name in a form and a command.
    pub fn key(self) -> &'static str {
        match self {
            PracticePlace::Home => "home",
            PracticePlace::Mat => "mat",
            PracticePlace::Range => "range",
            PracticePlace::Course => "course",
        }
    }

    /// In plain words.
    pub fn plain(self) -> &'static str {
        match self {
            PracticePlace::Home => "at home, without a ball",
            PracticePlace::Mat => "on a mat, into a net",
            PracticePlace::Range => "on the range",
            PracticePlace::Course => "on the course",
        }
    }

    /// The place of a key; none if there is no such.
    pub fn of_key(key: &str) -> Option<PracticePlace> {
        PracticePlace::ALL
            .into_iter()
            .find(|place| place.key() == key)
    }
}

impl Season {
    /// All.
    pub const ALL: [Season; 3] = [Season::Playing, Season::Between, Season::Returning];

    /// Its name in a form and a command.
    pub fn key(self) -> &'static str {
        match self {
            Season::Playing => "playing",
            Season::Between => "between",
            Season::Returning => "returning",
        }
    }

    /// In plain words.
    pub fn plain(self) -> &'static str {
        match self {
            Season::Playing => "rounds are played as well",
            Season::Between => "no rounds at present",
            Season::Returning => "back after two months or more without golf",
        }
    }

    /// The season of a key; none if there is no such.
    pub fn of_key(key: &str) -> Option<Season> {
        Season::ALL.into_iter().find(|season| season.key() == key)
    }
}

impl BlockKind {
    /// As a heading.
    pub fn title(self) -> &'static str {
        match self {
            BlockKind::WarmUp => "Warm up",
            BlockKind::Check => "Self-check by phone",
            BlockKind::Drill => "The drill",
            BlockKind::Mixed => "Mixed",
            BlockKind::AsPlayed => "As on the course",
        }
    }
}

impl Block {
    /// Swings or movements in all rounds.
    pub fn all_swings(&self) -> u32 {
        self.rounds * self.swings
    }

    /// Balls in all rounds.
    pub fn all_balls(&self) -> u32 {
        self.rounds * self.balls
    }
}

impl Session {
    /// Swings or movements of the day.
    pub fn swings(&self) -> u32 {
        self.blocks.iter().map(Block::all_swings).sum()
    }

    /// Balls of the day.
    pub fn balls(&self) -> u32 {
        self.blocks.iter().map(Block::all_balls).sum()
    }

    /// How long it takes, whole minutes, rounded up.
    pub fn minutes(&self) -> u32 {
        let seconds: u32 = self.blocks.iter().map(|block| block.time_s).sum();
        seconds.div_ceil(60)
    }

    /// Whether the phone is set up in it.
    pub fn is_check(&self) -> bool {
        self.blocks
            .iter()
            .any(|block| block.kind == BlockKind::Check)
    }
}

impl PracticePlan {
    /// Swings or movements in all.
    pub fn swings(&self) -> u32 {
        self.sessions.iter().map(Session::swings).sum()
    }

    /// Balls in all.
    pub fn balls(&self) -> u32 {
        self.sessions.iter().map(Session::balls).sum()
    }
}
