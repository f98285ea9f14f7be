//! What is stated of a capture, as it is typed or chosen.

use glam::DVec3;
use lessonwright_model::Hand;

/// What was stated of a capture; everything left out is worked out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Asked {
    /// The file's name.
    pub file: String,
    /// The player's hand.
    pub hand: Option<Hand>,
    /// The player's stature, m.
    pub stature_m: Option<f64>,
    /// Up.
    pub up: Option<Axis>,
    /// Toward the target.
    pub target: Target,
    /// Metres in the file's unit.
    pub unit_m: Option<f64>,
    /// Standard deviation of a point along each axis, m.
    pub point_sd_m: Option<f64>,
}

/// A direction along the file's axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axis(pub DVec3);

/// Where the target is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Target {
    /// Along the feet; along the file's own x where it is one of our exports.
    #[default]
    WorkedOut,
    /// Along the line of the ankles at address.
    Stance,
    /// Along an axis of the file.
    Along(Axis),
}

impl Asked {
    /// From words as they are typed or chosen; empty ones are worked out. `within_mm` is how far a point may lie off 95 of
    /// 100 times.
    ///
    /// # Errors
    /// Says which word is none that is known.
    pub fn stated([up, target, unit]: [&str; 3], within_mm: &str) -> Result<Asked, String> {
        let axis = |text: &str| (!text.is_empty()).then(|| text.parse()).transpose();
        let unit_m = match unit {
            "" => None,
            "mm" => Some(0.001),
            "cm" => Some(0.01),
            "in" => Some(0.0254),
            "ft" => Some(0.3048),
            "m" => Some(1.0),
            other => return Err(format!("\"{other}\" is no unit: one of mm, cm, m, in, ft")),
        };
        let within: Option<f64> = match within_mm.trim() {
            "" => None,
            text => {
                let number = text.replace(',', ".").parse().ok();
                let usable = number.filter(|mm| (0.1..=200.0).contains(mm));
                Some(usable.ok_or(format!("\"{text}\" mm: a number from 0.1 to 200"))?)
            }
        };
        Ok(Asked {
            up: axis(up)?,
            target: match target {
                "" => Target::WorkedOut,
                "stance" => Target::Stance,
                other => Target::Along(other.parse()?),
            },
            unit_m,
            point_sd_m: within.map(|mm| mm / 1960.0),
            ..Asked::default()
        })
    }
}

impl std::str::FromStr for Axis {
    type Err = String;

    /// "+x", "-z", "y".
    fn from_str(text: &str) -> Result<Axis, String> {
        let (sign, name) = match text.trim().split_at_checked(1) {
            Some(("-", name)) => (-1.0, name),
            Some(("+", name)) => (1.0, name),
            _ => (1.0, text.trim()),
        };
        let axis = match name {
            "x" | "X" => DVec3::X,
            "y" | "Y" => DVec3::Y,
            "z" | "Z" => DVec3::Z,
            _ => {
                return Err(format!(
                    "\"{text}\" is no axis: one of +x, -x, +y, -y, +z, -z"
                ));
            }
        };
        Ok(Axis(sign * axis))
    }
}

impl std::fmt::Display for Axis {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let place = self.0.abs().max_position();
        let sign = if self.0[place] < 0.0 { '-' } else { '+' };
        write!(f, "{sign}{}", ['x', 'y', 'z'][place])
    }
}
