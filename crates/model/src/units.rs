//! Conversions at the edge. Exact by definition (1 inch = 25.4 mm, international inch of 1959).

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
