//! Impact: from the sound of the strike where there is one that fits the hands, else from the
//! hands.

use super::{SEARCH_STEP_S, search_times};
use crate::hands::Hands;
use lessonwright_math::zero::bisect;
use lessonwright_model::{PixelPoint, View};

/// Speed of sound in dry air at 20 °C, m/s (ISO 9613-1; 331 at 0 °C, 349 at 30 °C: over 5 m the
/// difference is half a millisecond).
pub const SPEED_OF_SOUND_M_S: f64 = 343.0;
/// How far the sound may lie from the hands' impact, s. The hands alone are good to about 0.02 s.
const SOUND_FITS_S: f64 = 0.06;
/// Half-width of the stretch around the lowest hands in which they pass their address place, s.
const PASS_SEARCH_S: f64 = 0.12;

/// A strike as it reached the microphone, real seconds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heard {
    /// When it reached the microphone.
    pub time_s: f64,
    /// Standard deviation, s.
    pub sd_s: f64,
    /// How clear it is above the noise, dB.
    pub above_noise_db: f64,
}

/// Impact from the hands alone. Face-on it is where they pass their address place on the way to
/// the target, which they do within some centimetres; down the line, where their way along the
/// target line cannot be seen, where they are lowest.
pub fn from_hands(hands: &Hands, view: View, address: Option<PixelPoint>, low_s: f64) -> f64 {
    match (view, address) {
        (View::FaceOn, Some(place)) => pass(hands, place, low_s).unwrap_or(low_s),
        _ => low_s,
    }
}

/// When the hands pass the column of `place`, nearest to `low_s`.
fn pass(hands: &Hands, place: PixelPoint, low_s: f64) -> Option<f64> {
    let beyond = |t: f64| hands.at(t).map(|p| p.x - place.x);
    let times: Vec<f64> = search_times(low_s - PASS_SEARCH_S, low_s + PASS_SEARCH_S).collect();
    times
        .windows(2)
        .filter(|w| {
            let (a, b) = (beyond(w[0]), beyond(w[0] + SEARCH_STEP_S));
            a.zip(b).is_some_and(|(a, b)| (a > 0.0) != (b > 0.0))
        })
        .filter_map(|w| {
            bisect(
                |t| beyond(t).unwrap_or(f64::NAN),
                w[0],
                w[0] + SEARCH_STEP_S,
            )
        })
        .min_by(|a, b| (a - low_s).abs().total_cmp(&(b - low_s).abs()))
}

/// Of the strikes heard, the clearest whose impact (less the sound's `travel_s`) fits the hands'.
pub fn fitting_strike(heard: &[Heard], travel_s: f64, hands_s: f64) -> Option<Heard> {
    heard
        .iter()
        .filter(|h| (h.time_s - travel_s - hands_s).abs() <= SOUND_FITS_S)
        .max_by(|a, b| a.above_noise_db.total_cmp(&b.above_noise_db))
        .copied()
}
