//! What can be typed.

use crate::bring_in::BringInArguments;
use crate::by_hand::CorrectArguments;
use crate::capture::MotionArguments;
use crate::causes::CausesCommand;
use crate::desk::{DeskArguments, DeskOptions};
use crate::diary::DiaryCommand;
use crate::drills::DrillsCommand;
use crate::flight::FlightArguments;
use crate::follow::{
    KindName, MarkArguments, OverviewArguments, PrescribeArguments, ProgressArguments,
};
use crate::keep::{
    BackupArguments, EraseArguments, ImportArguments, RestoreArguments, StorageArguments,
};
use crate::letter::LetterArguments;
use crate::mail::MailArguments;
use crate::models::ModelsCommand;
use crate::plan::PlanArguments;
use crate::player::PlayerCommand;
use crate::seed::SeedArguments;
use crate::set::{TargetsCommand, UnitsArguments};
use crate::take_in::TakeInArguments;
use crate::watch::ClipFile;
use clap::{Args, Parser, Subcommand, ValueEnum};
use lessonwright_coaching::ball::ClubKind;
use lessonwright_model as model;
use lessonwright_model::Language;
use lessonwright_report::Units;
use std::path::PathBuf;

/// From a golf swing filmed by a phone to a lesson the player understands.
#[derive(Parser)]
#[command(name = "lessonwright", version, max_term_width = 100)]
pub struct Arguments {
    #[command(flatten)]
    pub places: Places,
    #[command(subcommand)]
    pub command: Command,
}

/// Where things lie on this machine.
#[derive(Args)]
pub struct Places {
    /// Folder of the studio: players, swings, lessons and copies of their clips
    /// [default: the user's data folder]
    #[arg(long, global = true, value_name = "FOLDER")]
    pub studio: Option<PathBuf>,
    /// Folder of the networks and their runtime, as the set-up command leaves it
    /// [default: the user's data folder]
    #[arg(long, global = true, value_name = "FOLDER")]
    pub networks: Option<PathBuf>,
    /// Threads for the networks [default: all cores]
    #[arg(long, global = true, value_name = "N")]
    pub threads: Option<usize>,
}

#[derive(Subcommand)]
pub enum Command {
    /// Measure one swing from one clip or two (face-on and down the line), and say what to work on
    Analyse {
        #[command(flatten)]
        swing: SwingArguments,
        /// What is corrected by hand (JSON, as `corrections` in `analyse --json`)
        #[arg(long, value_name = "FILE")]
        corrections: Option<PathBuf>,
        /// Print one JSON object instead of text (its schema: `lessonwright schema`)
        #[arg(long)]
        json: bool,
    },
    /// Analyse a swing, keep it in the studio and make the player's lesson page
    Lesson(Box<LessonArguments>),
    /// Choose and say what a kept swing's lesson teaches and shows, and draft it again
    Desk(DeskArguments),
    /// Correct a kept swing by hand, and compute everything after again
    Correct(CorrectArguments),
    /// Make a film of two kept swings of one player side by side, in step by their moments
    BeforeAfter(BeforeAfterArguments),
    /// Write everything that is kept of one player, or of the whole studio: a page to begin with, files that other
    /// programs read, and what `import` reads back
    Export(ExportArguments),
    /// Bring in what `export` wrote, here or in another studio; nothing that is here is changed
    Import(ImportArguments),
    /// Take in what players sent with the page "film and send", and analyse it
    TakeIn(TakeInArguments),
    /// Write the whole studio into one file, also while it is open, and read the file again
    Backup(BackupArguments),
    /// Put a studio back as a backup has it
    Restore(RestoreArguments),
    /// Say what lies on the disk, by player and by kind, and clear what can be made again
    Storage(StorageArguments),
    /// Erase a player and everything of them, for good
    Erase(EraseArguments),
    /// Say what a ball tells of face and path: from what was seen of it, or from the shots that a
    /// device wrote down
    Flight(FlightArguments),
    /// Say whether a player's drill is working: real, not yet or away, and what to do next
    Progress(ProgressArguments),
    /// Write a player's progress letter: what changed, then and now, what comes next
    Letter(LetterArguments),
    /// Say who is due, whose change is not happening, what players have in common, what drills moved
    Overview(OverviewArguments),
    /// Say how well this set-up repeats each number: errors within and between sessions, and the
    /// smallest change that can be told
    Repeatability,
    /// Say how swings were made: during practice, a day later without the cue, in another task
    Mark(MarkArguments),
    /// Put a prescription on record that no lesson made, or change one
    Prescribe(PrescribeArguments),
    /// Bring clips into the studio's tray, say what is in it, put swings on the queue
    BringIn(BringInArguments),
    /// Bring in a motion capture (BVH, C3D) of a swing, analyse it and make the player's lesson
    BringInMotion(Box<MotionArguments>),
    /// Say which e-mails wait and what went wrong; send one to try the settings
    Mail(MailArguments),
    /// Open the studio as a local page
    Open(OpenArguments),
    /// Who comes when: list, add, move, cancel
    Diary {
        #[command(subcommand)]
        what: DiaryCommand,
    },
    /// Mark approved lessons as sent
    Sent {
        /// The lessons' numbers
        #[arg(required = true, value_name = "LESSON")]
        lessons: Vec<i64>,
    },
    /// Search players, lessons, swings, notes and drills
    Find {
        /// Words, or their beginnings
        #[arg(required = true)]
        words: Vec<String>,
    },
    /// Fill an empty studio with invented players, to measure how fast its pages are
    #[command(hide = true)]
    Seed(SeedArguments),
    /// Ask before anything is prescribed, note how a player practises and what the player is held against
    Player {
        #[command(subcommand)]
        what: PlayerCommand,
    },
    /// Plan a player's practice until the next lesson: text, a card to print, a calendar file
    Plan(PlanArguments),
    /// Mark model swings and note clubs of swings
    Models {
        #[command(subcommand)]
        what: ModelsCommand,
    },
    /// Look at the drill book, write it out, bring own drills in
    Drills {
        #[command(subcommand)]
        what: DrillsCommand,
    },
    /// Look at the cause network, print it, check an own one
    Causes {
        #[command(subcommand)]
        what: CausesCommand,
    },
    /// Look at what measures are held against, and put bands of your own in their place
    Targets {
        #[command(subcommand)]
        what: TargetsCommand,
    },
    /// The unit of length that comes first: the studio's, or one player's
    Units(UnitsArguments),
    /// Print what is known of a clip before anybody looks at its pictures, and the swings in it
    Clip {
        /// The clips
        #[arg(required = true)]
        clips: Vec<PathBuf>,
        /// Frames a second of the real motion, if the clip is in slow motion and does not say so
        #[arg(long, value_name = "HZ")]
        capture_rate_hz: Option<f64>,
    },
    /// Print the golfer's landmarks in one clip as JSON, frame by frame
    Landmarks {
        #[command(flatten)]
        swing: SwingArguments,
    },
    /// Print the JSON Schema of `analyse --json`
    Schema,
}

/// One swing and what is known of it.
#[derive(Args)]
pub struct SwingArguments {
    /// One clip of the swing, or two: face-on and down the line
    #[arg(required = true, num_args = 1..=2, value_name = "CLIP")]
    pub clips: Vec<PathBuf>,
    /// Where the camera stands, once per clip in their order [default: recognised]
    #[arg(long, value_enum, num_args = 1..=2, action = clap::ArgAction::Append)]
    pub view: Vec<ViewName>,
    /// Frames a second of the real motion of slow-motion clips, once per clip in their order or
    /// once for all [default: as the file says]
    #[arg(long, value_name = "HZ", num_args = 1..=2, action = clap::ArgAction::Append)]
    pub capture_rate_hz: Vec<f64>,
    /// Which swing of a long clip, from 1 [default: the last]
    #[arg(long, value_name = "N")]
    pub swing_number: Option<usize>,
    /// Distance from the camera to the player, for the sound's travel and the scale
    /// [default: allowed for in the ±]
    #[arg(long, value_name = "M")]
    pub camera_distance_m: Option<f64>,
    /// What you see and no camera measures, once per fact (`lessonwright causes list`): grip_weak
    #[arg(long, value_name = "FACT", action = clap::ArgAction::Append)]
    pub seen: Vec<String>,
    #[command(flatten)]
    pub player: PlayerArguments,
}

/// The player.
#[derive(Args)]
pub struct PlayerArguments {
    /// The player's name
    #[arg(long, default_value = "")]
    pub player: String,
    /// The hand the player plays [default: recognised]
    #[arg(long, value_enum)]
    pub hand: Option<HandName>,
    /// Standing height; without it nothing can be said in centimetres
    #[arg(long, value_name = "CM")]
    pub stature_cm: Option<f64>,
    /// Age in years; lowers the dose for juniors and seniors
    #[arg(long, value_name = "YEARS")]
    pub age: Option<u32>,
    /// The usual ball flight: slice, hook, pull, push, fat, thin …
    #[arg(long)]
    pub flight: Option<String>,
    /// Pain, injury or surgery the player told; "none" if asked and there is none
    #[arg(long)]
    pub health: Option<String>,
    /// What the body does not do well, once per limit (`lessonwright causes list`): balance
    #[arg(long, value_name = "LIMIT", action = clap::ArgAction::Append)]
    pub limit: Vec<String>,
    /// What the player wants most, once per goal: direction, strike, distance
    #[arg(long, value_name = "GOAL", action = clap::ArgAction::Append)]
    pub goal: Vec<String>,
}

/// A lesson.
#[derive(Args)]
pub struct LessonArguments {
    #[command(flatten)]
    pub swing: SwingArguments,
    /// The academy's name on the page
    #[arg(long, default_value = "")]
    pub academy: String,
    /// The professional's name on the page
    #[arg(long, default_value = "")]
    pub coach: String,
    /// A few lines from the professional
    #[arg(long)]
    pub note: Option<String>,
    #[command(flatten)]
    pub desk: DeskOptions,
    /// The unit of length that comes first for this player, now and later [default: as it is set]
    #[arg(long, value_enum)]
    pub units: Option<UnitName>,
    /// Also write the page to this file
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Also write the lesson on paper (PDF, two pages) to this file
    #[arg(long, value_name = "FILE")]
    pub pdf: Option<PathBuf>,
    /// Also write the film, the swing slowed down with the lines (MP4), to this file
    #[arg(long, value_name = "FILE")]
    pub film: Option<PathBuf>,
    /// Your voice over the film, as any phone records it (up to 3 minutes)
    #[arg(long, value_name = "FILE")]
    pub voice: Option<PathBuf>,
    /// The guardian whose consent to filming is given (needed for players under 18)
    #[arg(long, value_name = "NAME")]
    pub guardian: Option<String>,
    /// The day the swing was filmed, for the follow-up [default: the day it is added]
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub filmed: Option<jiff::civil::Date>,
    /// How the swing was made, for the follow-up (`lessonwright mark --help`)
    #[arg(long, value_enum, value_name = "KIND")]
    pub made_as: Option<KindName>,
    /// The kind of club of the swing, for model swings and own ones to be held against
    #[arg(long, value_enum)]
    pub club: Option<ClubName>,
    /// The lesson's date [default: today]
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub date: Option<jiff::civil::Date>,
}

/// Two swings of one player.
#[derive(Args)]
pub struct BeforeAfterArguments {
    /// The earlier swing, by its number in the studio
    #[arg(value_name = "BEFORE")]
    pub before: i64,
    /// The later swing
    #[arg(value_name = "AFTER")]
    pub after: i64,
    /// The view that is shown [default: face-on, if both have it]
    #[arg(long, value_enum)]
    pub view: Option<ViewName>,
    /// Your voice over the film
    #[arg(long, value_name = "FILE")]
    pub voice: Option<PathBuf>,
    /// Where to write the film (MP4)
    #[arg(long, value_name = "FILE")]
    pub out: PathBuf,
}

/// What is written out, and where to.
#[derive(Args)]
pub struct ExportArguments {
    /// The player's name [default: all players]
    #[arg(long)]
    pub player: Option<String>,
    /// An empty folder, or one to be made
    #[arg(long, value_name = "FOLDER")]
    pub out: PathBuf,
    /// Only tables of players, swings, moments and measures (CSV and Parquet): no films, pages or notes
    #[arg(long)]
    pub tables: bool,
    /// Pseudonyms in place of players' numbers, no names, no days, ages and statures rounded
    #[arg(long, requires = "tables")]
    pub pseudonyms: bool,
}

/// The studio's page.
#[derive(Args)]
pub struct OpenArguments {
    /// Port on this machine
    #[arg(long, default_value_t = lessonwright_web::DEFAULT_ADDRESS.port())]
    pub port: u16,
    /// Show it in the browser
    #[arg(long)]
    pub browser: bool,
    /// Let phones on the local network bring clips in, by a square code on the page; nothing else of the
    /// studio can be reached from outside of this machine
    #[arg(long)]
    pub phones: bool,
    /// Port for phones
    #[arg(long, value_name = "PORT", default_value_t = lessonwright_web::DEFAULT_ADDRESS.port() + 1)]
    pub phones_port: u16,
    /// Let players with a personal link in, at this address of the machine; behind it stands what speaks TLS. Nothing else of
    /// the studio can be reached there
    #[arg(long, value_name = "ADDRESS:PORT", requires = "address")]
    pub players: Option<std::net::SocketAddr>,
    /// Where players find that door: `https://players.example/`
    #[arg(long, value_name = "URL", env = "LESSONWRIGHT_ADDRESS")]
    pub address: Option<String>,
    /// Copy clips out of this folder into the tray as they appear
    #[arg(long, value_name = "FOLDER")]
    pub watch: Option<PathBuf>,
    /// The academy's name
    #[arg(long, default_value = "")]
    pub academy: String,
    /// The professional's name
    #[arg(long, default_value = "")]
    pub coach: String,
    /// The unit of length that comes first in the studio, now and later [default: as it is set]
    #[arg(long, value_enum)]
    pub units: Option<UnitName>,
    /// The language of its pages; remembered, and chosen on the page Studio as well
    #[arg(long, value_enum)]
    pub language: Option<LanguageName>,
}

#[derive(Clone, Copy, ValueEnum)]
pub enum ViewName {
    FaceOn,
    DownTheLine,
}

#[derive(Clone, Copy, ValueEnum)]
pub enum HandName {
    Right,
    Left,
}

#[derive(Clone, Copy, ValueEnum)]
pub enum ClubName {
    Driver,
    FairwayWood,
    Hybrid,
    LongIron,
    MidIron,
    ShortIron,
    Wedge,
}

/// By its tag.
#[derive(Clone, Copy, ValueEnum)]
pub enum LanguageName {
    /// English
    En,
    /// German
    De,
}

impl From<LanguageName> for Language {
    fn from(name: LanguageName) -> Language {
        match name {
            LanguageName::En => Language::English,
            LanguageName::De => Language::German,
        }
    }
}

#[derive(Clone, Copy, ValueEnum)]
pub enum UnitName {
    Cm,
    In,
}

impl From<ViewName> for model::View {
    fn from(name: ViewName) -> Self {
        match name {
            ViewName::FaceOn => model::View::FaceOn,
            ViewName::DownTheLine => model::View::DownTheLine,
        }
    }
}

impl From<HandName> for model::Hand {
    fn from(name: HandName) -> Self {
        match name {
            HandName::Right => model::Hand::Right,
            HandName::Left => model::Hand::Left,
        }
    }
}

impl ClubName {
    /// The key under which the store keeps it.
    pub fn key(self) -> &'static str {
        match self {
            ClubName::Driver => ClubKind::Driver,
            ClubName::FairwayWood => ClubKind::FairwayWood,
            ClubName::Hybrid => ClubKind::Hybrid,
            ClubName::LongIron => ClubKind::LongIron,
            ClubName::MidIron => ClubKind::MidIron,
            ClubName::ShortIron => ClubKind::ShortIron,
            ClubName::Wedge => ClubKind::Wedge,
        }
        .key()
    }
}

impl From<UnitName> for Units {
    fn from(name: UnitName) -> Self {
        match name {
            UnitName::Cm => Units::Centimetres,
            UnitName::In => Units::Inches,
        }
    }
}

impl SwingArguments {
    /// The clips' files.
    pub fn files(&self) -> Vec<ClipFile> {
        let file = |path: &PathBuf| ClipFile {
            path: path.clone(),
            name: None,
            sha256: None,
        };
        self.clips.iter().map(file).collect()
    }

    /// What was said of the swing.
    pub fn brief(&self) -> model::Brief {
        let clips = (0..self.clips.len()).map(|number| model::ClipBrief {
            view: self.view.get(number).copied().map(Into::into),
            capture_rate_hz: nth_or_only(&self.capture_rate_hz, number),
        });
        model::Brief {
            clips: clips.collect(),
            swing_number: self.swing_number,
            camera_distance_m: self.camera_distance_m,
            letter: model::Letter::default(),
            capture: None,
        }
    }
}

fn nth_or_only<T: Copy>(stated: &[T], number: usize) -> Option<T> {
    if stated.len() == 1 {
        stated.first().copied()
    } else {
        stated.get(number).copied()
    }
}

impl PlayerArguments {
    /// The player's facts in the model's units.
    pub fn facts(&self) -> model::PlayerFacts {
        let health = self.health.as_deref().map(str::trim);
        model::PlayerFacts {
            name: self.player.clone(),
            hand: self.hand.map(Into::into),
            stature_m: self.stature_cm.map(|cm| cm / 100.0),
            age_years: self.age,
            sex: None,
            language: None,
            usual_flight: self.flight.clone(),
            health_note: health.map(|h| {
                if h == "none" {
                    String::new()
                } else {
                    h.to_owned()
                }
            }),
            limits: self.limit.clone(),
            goals: self.goal.clone(),
            screening: None,
        }
    }
}
