//! How published benchmarks of swing events judge a moment, so that ours can be read beside them.

/// Frames by which an event may be off: a thirtieth of the frames from address to impact, at
/// least one (McNally et al. 2019, arXiv 1903.06528; its evaluation code rounds halves to even).
pub fn event_tolerance_frames(address_to_impact_frames: f64) -> f64 {
    (address_to_impact_frames / 30.0).round_ties_even().max(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tolerances_are_those_of_the_published_evaluation() {
        // Reference values T9.
        for (frames, tolerance) in [
            (10.0, 1.0),
            (30.0, 1.0),
            (44.0, 1.0),
            (45.0, 2.0),
            (46.0, 2.0),
            (60.0, 2.0),
            (75.0, 2.0),
            (240.0, 8.0),
        ] {
            assert_eq!(event_tolerance_frames(frames), tolerance, "{frames} frames");
        }
    }
}
