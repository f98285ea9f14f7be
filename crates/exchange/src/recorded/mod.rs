//! Motion that any other system recorded, as points by name over time; and the golfer in it.
//!
//! [`Recorded::read`] reads the file, [`golfer`] finds the player's joint centres among its points, puts them into golf axes and
//! cuts out the swing. What can't be told is refused with a sentence that says what is missing.

mod asked;
mod bvh;
mod c3d;
mod golfer;
mod names;
mod stretch;

pub use asked::{Asked, Axis, Target};
pub use golfer::{USUAL_POINT_SD_M, golfer};

use glam::DVec3;

/// Points over time, in the units and axes of the file.
#[derive(Clone, Debug, PartialEq)]
pub struct Recorded {
    /// Instants a second.
    pub rate_hz: f64,
    /// Name of each point, as the file has it.
    pub names: Vec<String>,
    /// For each instant each point; `None` where it is not known.
    pub instants: Vec<Vec<Option<DVec3>>>,
    /// Metres in the file's unit, where the file names one.
    pub unit_m: Option<f64>,
}

/// Why a recording can't become a swing. Sentences for the professional.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum RecordedError {
    /// Neither format.
    #[error(
        "this is neither a BVH file (it begins with HIERARCHY) nor a C3D file: export the capture as one of them"
    )]
    NeitherFormat,
    /// The file breaks its format.
    #[error("the {format} file can't be read: {why}")]
    Broken {
        /// "BVH" or "C3D".
        format: &'static str,
        /// What was found.
        why: String,
    },
    /// Too little of it.
    #[error(
        "only {instants} instants were recorded: a swing takes over a second, so record from before the takeaway to the finish"
    )]
    TooShort {
        /// How many.
        instants: usize,
    },
    /// Points of the body that no name stands for.
    #[error(
        "the capture has no points for {missing}. It has: {known}. Export joint centres, or markers on both sides of each joint (docs/open-data.md lists the names)"
    )]
    NoPoints {
        /// Missing parts of the body, and the names that would do.
        missing: String,
        /// Names in the file.
        known: String,
    },
    /// A point is lost in the swing.
    #[error(
        "the {point} is lost for longer than 0.1 s in the swing, at {time_s:.2} s: fill the gap in the capture system and export again"
    )]
    Lost {
        /// Which.
        point: &'static str,
        /// When, s from the file's first instant.
        time_s: f64,
    },
    /// The body is not upright along the axis.
    #[error(
        "the head is not above the feet along {axis}: say which axis points up, or leave it to be worked out"
    )]
    NotUpright {
        /// "+y".
        axis: String,
    },
    /// No unit gives a body of a person's size.
    #[error(
        "in no usual unit is this body as large as the player: in centimetres its legs are those of a player of {stature_cm:.0} cm. Say the unit"
    )]
    NoUnit {
        /// What it would be in centimetres.
        stature_cm: f64,
    },
    /// The stated unit gives a giant or a dwarf.
    #[error(
        "in the stated unit the player would be {stature_m:.2} m tall: say another unit, or leave it to be worked out"
    )]
    WrongUnit {
        /// What it would be.
        stature_m: f64,
    },
    /// Nobody swings.
    #[error("no swing is in the capture: {0}")]
    NoSwing(&'static str),
    /// Stated target and stance contradict each other.
    #[error(
        "the stated target and the player do not fit: {0}. Check target, hand, and whether left and right are exchanged"
    )]
    Contradiction(&'static str),
}

impl Recorded {
    /// Reads a BVH or C3D file, told apart by its first bytes.
    ///
    /// # Errors
    /// If it is neither, or breaks its format.
    pub fn read(bytes: &[u8]) -> Result<Recorded, RecordedError> {
        if bytes.get(1) == Some(&c3d::KEY) {
            return c3d::read(bytes);
        }
        let text = String::from_utf8_lossy(bytes);
        match text.trim_start_matches('\u{feff}').trim_start() {
            text if text.to_ascii_uppercase().starts_with("HIERARCHY") => bvh::read(text),
            _ => Err(RecordedError::NeitherFormat),
        }
    }
}
