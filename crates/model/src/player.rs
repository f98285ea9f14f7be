//! What the professional knows of the player and the analysis needs.

use crate::language::Language;
use crate::reference::Sex;
use crate::screening::Screening;
use crate::swing::Hand;
use serde::{Deserialize, Serialize};

/// Facts of a player, each optional: what is missing widens the ± or withholds a measure.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct PlayerFacts {
    /// Full name or whatever the professional calls the player.
    pub name: String,
    /// Which hand the player plays.
    pub hand: Option<Hand>,
    /// Standing height without shoes, m.
    pub stature_m: Option<f64>,
    /// Age, years.
    pub age_years: Option<u32>,
    /// What model swings and published figures are grouped by.
    #[serde(default)]
    pub sex: Option<Sex>,
    /// The usual ball flight, in the trade's words ("slice"), as told by player or professional.
    pub usual_flight: Option<String>,
    /// Pain, injury or surgery told by the player; `Some("")` means asked and nothing told.
    pub health_note: Option<String>,
    /// What the body does not do well, as keys of the cause table ("trail_shoulder_out").
    #[serde(default)]
    pub limits: Vec<String>,
    /// What the player wants most, as keys of the cause table ("direction").
    #[serde(default)]
    pub goals: Vec<String>,
    /// The language of what the player gets; none where it is the studio's.
    #[serde(default)]
    pub language: Option<Language>,
    /// The answers before any prescription, of the last time they were asked for.
    #[serde(default)]
    pub screening: Option<Screening>,
}
