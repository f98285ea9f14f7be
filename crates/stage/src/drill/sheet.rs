//! What a drill's figure does, as data.
//!
//! ```toml
//! [base]                      # what all figures share: parameters of a swing
//!
//! [NAME]                      # key of the drill
//! view = "face_on"            # or "down_the_line"
//! yaw_deg = 0                 # the camera walks around the player by so much
//! wide_m = 3.0                # what the picture shows, from edge to edge
//! club = true                 # whether a club is held
//! ball = false                # whether a golf ball lies there
//! stills = [0, 2, 3]          # the three steps that are shown as pictures
//! steps = [{ at = "address" }, { at = "top", takes_s = 1.0, holds_s = 0.5 }]
//! things = [{ on = "ground", shape = { bar = { from = [0, 0, 0], to = [0, 50, 0], thick = 3 } } }]
//! [NAME.swing]                # parameters of its swing that are not the base's
//! [NAME.other.WIDE]           # of a second swing; a step says `swing = "WIDE"`
//! ```

use super::hands::HandPlaces;
use super::play::Play;
use crate::camera::Camera;
use crate::motion::{KeyTimes, Movement};
use crate::params::{BadParams, SwingParams, View};
use crate::things::Thing;
use serde::Deserialize;
use std::collections::BTreeMap;

/// The sheets of all drills, by their keys.
#[derive(Clone, Debug)]
pub struct Sheets(BTreeMap<String, DrillSheet>);

/// How one drill is shown.
#[derive(Clone, Debug)]
pub struct DrillSheet {
    /// From where.
    pub view: View,
    /// The camera walks around the player by so much, degrees, as [`crate::params::CameraPlace::yaw_deg`].
    pub yaw_deg: f64,
    /// What the picture shows from edge to edge, m.
    pub wide_m: f64,
    /// Whether a golf ball lies there.
    pub ball: bool,
    /// The steps shown as pictures.
    pub stills: [usize; 3],
    /// What the figure does.
    pub steps: Vec<Step>,
    /// What is there.
    pub things: Vec<Thing>,
    /// The swings; the drill's own is the first.
    pub swings: Vec<SwingParams>,
}

/// Where the figure stops.
#[derive(Clone, Debug)]
pub struct Step {
    /// An instant of the swing.
    pub at: Instant,
    /// Number of the swing.
    pub swing: usize,
    /// Where the hands are.
    pub hands: HandPlaces,
    /// Whether there is a club.
    pub club: bool,
    /// How long it takes to get there, s.
    pub takes_s: f64,
    /// How long the figure stays, s.
    pub holds_s: f64,
    /// Not along the swing, but straight from the step before.
    pub straight: bool,
    /// The whole player stands farther toward the target, cm.
    pub moved_cm: f64,
    /// Where the ankles are, lead and trail, toward the target and toward the ball, cm, if not where the
    /// swing has them.
    pub feet_cm: Option<[[f64; 2]; 2]>,
}

/// An instant of a swing, by what happens then.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
#[expect(missing_docs, reason = "as the keys of the swing")]
pub enum Instant {
    Address,
    Takeaway,
    ShaftLevelBack,
    ArmLevelBack,
    Top,
    ArmLevelDown,
    ShaftLevelDown,
    Impact,
    ShaftLevelThrough,
    ArmLevelThrough,
    Finish,
}

impl Instant {
    /// When it is, s from the first movement.
    pub fn of(self, keys: &KeyTimes) -> f64 {
        match self {
            Instant::Address => 0.0,
            Instant::Takeaway => 0.6 * keys.shaft_level_back,
            Instant::ShaftLevelBack => keys.shaft_level_back,
            Instant::ArmLevelBack => keys.arm_level_back,
            Instant::Top => keys.top,
            Instant::ArmLevelDown => keys.arm_level_down,
            Instant::ShaftLevelDown => keys.shaft_level_down,
            Instant::Impact => keys.impact,
            Instant::ShaftLevelThrough => keys.shaft_level_through,
            Instant::ArmLevelThrough => keys.arm_level_through,
            Instant::Finish => keys.finish,
        }
    }
}

/// What is wrong with a file of sheets.
#[derive(Debug, thiserror::Error)]
pub enum SheetError {
    /// The file is no TOML of this form.
    #[error("{0}")]
    Syntax(#[from] toml::de::Error),
    /// A drill's swing is impossible.
    #[error("{drill}: {problem}")]
    Swing {
        /// Key of the drill.
        drill: String,
        /// What is wrong.
        problem: BadParams,
    },
    /// A drill cannot be shown so.
    #[error("{drill}: {problem}")]
    Content {
        /// Key of the drill.
        drill: String,
        /// What is wrong and what to do.
        problem: String,
    },
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    #[serde(default = "face_on")]
    view: View,
    #[serde(default)]
    yaw_deg: f64,
    #[serde(default = "three")]
    wide_m: f64,
    #[serde(default = "yes")]
    club: bool,
    #[serde(default)]
    ball: bool,
    #[serde(default)]
    hands: HandPlaces,
    stills: [usize; 3],
    steps: Vec<WrittenStep>,
    #[serde(default)]
    things: Vec<Thing>,
    #[serde(default)]
    swing: toml::Table,
    #[serde(default)]
    other: BTreeMap<String, toml::Table>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenStep {
    at: Instant,
    swing: Option<String>,
    hands: Option<HandPlaces>,
    club: Option<bool>,
    #[serde(default = "a_while")]
    takes_s: f64,
    #[serde(default)]
    holds_s: f64,
    #[serde(default)]
    straight: bool,
    #[serde(default)]
    moved_cm: f64,
    feet_cm: Option<[[f64; 2]; 2]>,
}

fn face_on() -> View {
    View::FaceOn
}
fn three() -> f64 {
    3.0
}
fn yes() -> bool {
    true
}
fn a_while() -> f64 {
    0.7
}

impl Sheets {
    /// Reads a file of sheets.
    ///
    /// # Errors
    /// When the text is no such file, a swing is impossible, or a step or a still names what is not there.
    pub fn parse(text: &str) -> Result<Sheets, SheetError> {
        let mut tables: BTreeMap<String, toml::Table> = toml::from_str(text)?;
        let base = tables.remove("base").unwrap_or_default();
        let sheets = tables.into_iter().map(|(drill, table)| {
            let sheet = DrillSheet::of(&drill, table.try_into()?, &base)?;
            Ok((drill, sheet))
        });
        Ok(Sheets(sheets.collect::<Result<_, SheetError>>()?))
    }

    /// Keys and sheets, in the order of the alphabet.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &DrillSheet)> {
        self.0.iter().map(|(key, sheet)| (key.as_str(), sheet))
    }
}

impl DrillSheet {
    fn of(drill: &str, written: Written, base: &toml::Table) -> Result<DrillSheet, SheetError> {
        let wrong = |problem: String| SheetError::Content {
            drill: drill.to_owned(),
            problem,
        };
        let own = over(base.clone(), written.swing);
        let mut swings = vec![own.clone()];
        let mut names = Vec::new();
        for (name, table) in written.other {
            names.push(name);
            swings.push(over(own.clone(), table));
        }
        let swings = swings
            .into_iter()
            .map(|table| {
                // The figure's time begins with its first step.
                let before_s = 0.0;
                Ok(SwingParams {
                    before_s,
                    ..table.try_into()?
                })
            })
            .collect::<Result<Vec<_>, SheetError>>()?;
        for swing in &swings {
            swing.check().map_err(|problem| SheetError::Swing {
                drill: drill.to_owned(),
                problem,
            })?;
        }
        let steps = written.steps.into_iter().map(|step| {
            let swing = match step.swing {
                None => 0,
                Some(name) => {
                    names.iter().position(|n| *n == name).ok_or_else(|| {
                        wrong(format!(
                            "there is no swing \"{name}\": correct it or add it"
                        ))
                    })? + 1
                }
            };
            Ok(Step {
                at: step.at,
                swing,
                hands: step.hands.unwrap_or(written.hands),
                club: step.club.unwrap_or(written.club),
                takes_s: step.takes_s,
                holds_s: step.holds_s,
                straight: step.straight,
                moved_cm: step.moved_cm,
                feet_cm: step.feet_cm,
            })
        });
        let steps = steps.collect::<Result<Vec<_>, SheetError>>()?;
        if let Some(still) = written.stills.iter().find(|&&still| still >= steps.len()) {
            return Err(wrong(format!("there is no step {still} for a picture")));
        }
        Ok(DrillSheet {
            view: written.view,
            yaw_deg: written.yaw_deg,
            wide_m: written.wide_m,
            ball: written.ball,
            stills: written.stills,
            steps,
            things: written.things,
            swings,
        })
    }

    /// The drill's own swing.
    pub fn swing(&self) -> &SwingParams {
        &self.swings[0]
    }

    /// A camera far enough away to draw nothing out of shape.
    pub(super) fn camera(&self, play: &Play, size_px: [usize; 2]) -> Camera {
        const FAR_M: f64 = 7.0;
        let mut place = self.swing().place(self.view).clone();
        place.distance_m = FAR_M;
        place.yaw_deg = self.yaw_deg;
        place.fov_deg = 2.0 * (0.5 * self.wide_m / FAR_M).atan().to_degrees();
        Camera::new(&place, self.view, self.swing().hand, play.ball().z, size_px)
    }
}

/// A table with another one's values over its own.
fn over(mut under: toml::Table, top: toml::Table) -> toml::Table {
    for (key, value) in top {
        let value = match (under.remove(&key), value) {
            (Some(toml::Value::Table(below)), toml::Value::Table(above)) => {
                toml::Value::Table(over(below, above))
            }
            (_, value) => value,
        };
        under.insert(key, value);
    }
    under
}
