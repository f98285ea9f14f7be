//! Lengths of the body as shares of the stature.
//!
//! Drillis R, Contini R (1966), TR 1166-03, New York University, as printed in Winter DA,
//! *Biomechanics and Motor Control of Human Movement*, fig. 4.1. The people behind the figures were
//! never properly described: they serve as a prior and to reject impossible lengths, no more.

/// Shoulder to elbow.
pub const UPPER_ARM: f64 = 0.186;
/// Elbow to wrist.
pub const FOREARM: f64 = 0.146;
/// Hip to knee.
pub const THIGH: f64 = 0.245;
/// Knee to ankle.
pub const SHANK: f64 = 0.246;
/// Nose to mid-ankle, up and down, of a golfer at address: not Drillis & Contini, but what fitted
/// the spike's rendered figures. Standing it would be about 0.89 (eye 0.936, ankle 0.039).
pub const NOSE_TO_ANKLE_AT_ADDRESS: f64 = 0.80;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_of_a_stature_of_1_75_m() {
        // Reference values T10, relative tolerance 1e-4.
        for (share, expected_m) in [
            (UPPER_ARM, 0.3255),
            (FOREARM, 0.2555),
            (THIGH, 0.42875),
            (SHANK, 0.4305),
        ] {
            let length_m = share * 1.75;
            assert!((length_m / expected_m - 1.0).abs() < 1e-4, "{length_m} m");
        }
    }
}
