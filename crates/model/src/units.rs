//! Conversions at the edge. Exact by definition (1 inch = 25.4 mm, international inch of 1959).

/// The unit of length a player thinks in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Units {
    /// Centimetres first, inches in brackets.
    #[default]
    Centimetres,
    /// Inches first, centimetres in brackets.
    Inches,
}

impl Units {
    /// Both.
    pub const ALL: [Units; 2] = [Units::Centimetres, Units::Inches];

    /// Its key in the store and in commands.
    pub fn key(self) -> &'static str {
        match self {
            Units::Centimetres => "cm",
            Units::Inches => "in",
        }
    }

    /// The unit of this key.
    pub fn of_key(key: &str) -> Option<Units> {
        Units::ALL.into_iter().find(|units| units.key() == key)
    }

    /// The one that comes second.
    pub fn other(self) -> Units {
        match self {
            Units::Centimetres => Units::Inches,
            Units::Inches => Units::Centimetres,
        }
    }

    /// In words.
    pub fn plain(self) -> &'static str {
        match self {
            Units::Centimetres => "centimetres first, inches in brackets",
            Units::Inches => "inches first, centimetres in brackets",
        }
    }
}

/// Centimetres in an inch.
pub const CM_PER_INCH: f64 = 2.54;

/// Metres to centimetres.
pub fn cm(metres: f64) -> f64 {
    metres * 100.0
}

/// Centimetres to inches.
pub fn inches(centimetres: f64) -> f64 {
    centimetres / CM_PER_INCH
}

/// Feet and inches to metres.
pub fn metres_from_feet_inches(feet: f64, inches: f64) -> f64 {
    (feet * 12.0 + inches) * CM_PER_INCH / 100.0
}
