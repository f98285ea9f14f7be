//! Angles on the circle, radians.

use std::f64::consts::{PI, TAU};

/// The same angle in `(-π, π]`.
pub fn wrap(angle_rad: f64) -> f64 {
    let wrapped = angle_rad.rem_euclid(TAU);
    if wrapped > PI { wrapped - TAU } else { wrapped }
}

/// How far to turn from `from_rad` to `to_rad` the short way, in `(-π, π]`.
pub fn difference(to_rad: f64, from_rad: f64) -> f64 {
    wrap(to_rad - from_rad)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn wrapping_keeps_the_direction_and_stays_in_range(angle in -50.0..50.0f64) {
            let w = wrap(angle);
            prop_assert!(w > -PI - 1e-12 && w <= PI + 1e-12);
            // Tolerance: 50 rad carries a rounding error of about 1e-14.
            prop_assert!((w.sin() - angle.sin()).abs() < 1e-12);
            prop_assert!((w.cos() - angle.cos()).abs() < 1e-12);
        }

        #[test]
        fn a_small_turn_across_the_cut_stays_small(at in -10.0..10.0f64, turn in -3.0..3.0f64) {
            prop_assert!((difference(at + turn, at) - turn).abs() < 1e-12);
        }
    }
}
