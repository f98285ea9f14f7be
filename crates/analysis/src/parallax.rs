//! What lies nearer to the camera looks larger and farther from the picture's middle.

/// How much larger than at `distance_m` something looks that is `nearer_m` nearer: `D / (D − d)`.
pub fn magnification(distance_m: f64, nearer_m: f64) -> f64 {
    distance_m / (distance_m - nearer_m)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn magnification_is_that_of_the_reference_values() {
        // Reference values T10 (derived there), relative tolerance 1e-6 as printed.
        for (distance_m, nearer_m, expected) in [
            (4.0, 0.30, 1.081_081),
            (4.0, 0.10, 1.025_641),
            (6.0, 0.30, 1.052_632),
            (3.0, 0.50, 1.2),
        ] {
            assert!((magnification(distance_m, nearer_m) / expected - 1.0).abs() < 1e-6);
        }
    }
}
