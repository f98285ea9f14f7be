//! What a player's measures are held against, as the professional chooses it for the player.

use serde::{Deserialize, Serialize};

/// The choice for one player.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ReferenceChoice {
    /// All bands of the studio's targets: own address, agreement among teachers, published, derived.
    #[default]
    Standard,
    /// Only the bands around the player's own address.
    OwnAddress,
    /// Only bands that rest on published figures.
    Published,
    /// An earlier or the best swing of the player: its key in the store.
    OwnSwing(i64),
    /// The professional's model swings of the player's like.
    Models,
}

/// The sex that published figures and model swings are grouped by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Sex {
    /// Female.
    Female,
    /// Male.
    Male,
}

impl Sex {
    /// Its name in a form, a command and the store.
    pub fn key(self) -> &'static str {
        match self {
            Sex::Female => "female",
            Sex::Male => "male",
        }
    }

    /// The sex of a key; none if there is no such.
    pub fn of_key(key: &str) -> Option<Sex> {
        [Sex::Female, Sex::Male]
            .into_iter()
            .find(|sex| sex.key() == key)
    }
}
