//! What a professional corrected by hand, put in the place of what was found.
//!
//! Joints ([`joints`]) move the cleaned track before anything is read from it; moments ([`moments`])
//! replace those found, and bound the search for the others. Stature and capture rate are the
//! caller's to pass on: they are facts of player and clip, whoever states them.

pub mod joints;
pub mod moments;

use crate::calibration::Bias;
use lessonwright_math::Left;

/// Spread of the place where a person puts a joint centre in a picture, body heights (nose to
/// mid-ankle): half a centimetre, a limb's width being seen on both sides. Common practice, no source;
/// to be measured when there are professionals who place the same joint twice.
pub const PLACED_SD: f64 = 0.004;

/// What is left of the landmark network's error in a measure when some of the joints it rests on were
/// placed by hand. `exact` is the error the measure keeps with exact points, `left` what is left at each
/// joint and moment it rests on; their errors count alike.
pub fn bias_left(bias: Bias, exact: Bias, left: &[Left]) -> Bias {
    if left.iter().all(|l| *l == Left::ALL) {
        return bias;
    }
    let mean = |of: fn(&Left) -> f64| left.iter().map(of).sum::<f64>() / left.len() as f64;
    let network = (bias.sd.powi(2) - exact.sd.powi(2)).max(0.0);
    let kept = bias.sd.min(exact.sd).powi(2);
    Bias {
        mean: bias.mean * mean(|l| l.mean),
        sd: (kept + network * mean(|l| l.variance)).sqrt(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_measure_of_joints_all_placed_keeps_the_error_of_exact_points() {
        let (bias, exact) = (Bias { mean: 1.5, sd: 2.5 }, Bias { mean: 0.0, sd: 0.7 });
        let placed = Left {
            mean: 0.0,
            variance: 0.0,
        };
        let all = bias_left(bias, exact, &[placed; 4]);
        assert!(all.mean == 0.0 && (all.sd - 0.7).abs() < 1e-12);
        let half = bias_left(bias, exact, &[placed, Left::ALL]);
        // 2.5² = 0.7² + 2.4²
        assert!((half.mean - 0.75).abs() < 1e-12);
        assert!((half.sd - (0.49f64 + 0.5 * 5.76).sqrt()).abs() < 1e-12);
        assert_eq!(bias_left(bias, exact, &[Left::ALL; 3]), bias);
    }
}
