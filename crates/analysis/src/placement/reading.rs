//! The geometry of a camera's place. Lengths are body heights (nose to mid-ankle in that picture),
//! picture axes are x toward the target (face-on) or the ball (down the line) and y down; angles are
//! radians inside, degrees in the result.

use lessonwright_math::SD_TO_95;
use lessonwright_model::{Placement, Reading};

/// How well a joint centre at rest is known, body heights (1 cm of 1.28 m): what is left after the joint centre
/// network on rendered swings (`docs/decisions/007-joint-centres.md`: 0.5–1.5 cm).
const POINT_SD: f64 = 0.008;
/// How far the line through a player's ankles lies off the target line, radians (4°; common practice, no
/// source: teachers ask for square and see a few degrees either way, twice that on purpose).
const OPEN_SD_RAD: f64 = 0.070;
/// How far a camera stands off its line face-on, radians (5°: placed by eye).
const FACE_ON_YAW_SD_RAD: f64 = 0.087;
/// Tangent of the angle at which a camera at waist height looks down on feet 4 m away.
const USUAL_LOOK_DOWN: f64 = 0.23;

/// A player at address.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtAddress {
    /// Ankle joint centres, lead then trail: x, y.
    pub ankles: [[f64; 2]; 2],
    /// Wrist joint centres.
    pub wrists: [[f64; 2]; 2],
}

/// A length in body heights and how well it is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// Its mean.
    pub mean: f64,
    /// Its relative standard deviation.
    pub rel_sd: f64,
}

/// What is known beside the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Known {
    /// Ankle to ankle.
    pub stance: Share,
    /// Camera to player.
    pub distance: Share,
}

impl AtAddress {
    /// Ankle to ankle across the picture.
    pub fn stance_across(&self) -> f64 {
        self.ankles_apart()[0].abs()
    }

    /// From the trail ankle to the lead one.
    fn ankles_apart(&self) -> [f64; 2] {
        let [lead, trail] = self.ankles;
        [lead[0] - trail[0], lead[1] - trail[1]]
    }

    /// From mid-ankle to the hands, across.
    fn hands_across(&self) -> f64 {
        let middle = |pair: [[f64; 2]; 2]| 0.5 * (pair[0][0] + pair[1][0]);
        middle(self.wrists) - middle(self.ankles)
    }
}

/// Down the line. Two points on one line of sight fall on one column of the picture, so the ankles' columns say
/// how far the line of sight to the feet lies off the line through them: `sin φ = Δx / stance`. The line
/// of sight to the hands, on whose line the phone is asked to stand, is turned against that by the hands'
/// distance across over the camera's: `off = φ − across / distance`.
///
/// The far foot stands higher in the picture: `tan ε = Δy / (stance cos φ)` is how steeply it is looked
/// down upon.
pub fn down_the_line(seen: &AtAddress, known: &Known) -> Placement {
    let [across, down] = seen.ankles_apart();
    let stance = known.stance.mean;
    let sine = (across / stance).clamp(-1.0, 1.0);
    let feet = sine.asin();
    let hands = seen.hands_across() / known.distance.mean;
    let noise = 2f64.sqrt() * POINT_SD / stance;
    let off_sd = root_of_squares(&[
        noise,
        OPEN_SD_RAD,
        known.stance.rel_sd * feet.tan(),
        known.distance.rel_sd * hands,
    ]);
    let steepness = -down / (stance * feet.cos());
    let steep_sd = noise.hypot(known.stance.rel_sd * steepness);
    Placement {
        off_line_deg: Some(degrees(feet - hands, off_sd)),
        looks_down_deg: Some(degrees(
            steepness.atan(),
            steep_sd / (1.0 + steepness * steepness),
        )),
        leans_deg: None,
    }
}

/// Face-on: the feet stand level and nearly square to the view, so the line through them leans as the picture does,
/// but for what a camera off its line or a stance not square adds: the nearer foot is the lower one.
pub fn face_on(seen: &AtAddress) -> Placement {
    let [across, down] = seen.ankles_apart();
    let noise = 2f64.sqrt() * POINT_SD / across.abs();
    let depth = USUAL_LOOK_DOWN * FACE_ON_YAW_SD_RAD.hypot(OPEN_SD_RAD);
    Placement {
        leans_deg: (across > 0.0).then(|| degrees((down / across).atan(), noise.hypot(depth))),
        ..Placement::default()
    }
}

fn root_of_squares(parts: &[f64]) -> f64 {
    parts.iter().map(|part| part * part).sum::<f64>().sqrt()
}

fn degrees(value_rad: f64, sd_rad: f64) -> Reading {
    Reading {
        value: value_rad.to_degrees(),
        plus_minus: SD_TO_95 * sd_rad.to_degrees(),
    }
}
