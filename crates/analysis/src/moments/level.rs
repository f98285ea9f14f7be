//! Lead arm level: the lead wrist as high in the picture as the lead shoulder.

use super::search_times;
use crate::path::Path;
use lessonwright_math::zero::bisect;

/// First rise of the wrist through the shoulder's height between address and top.
pub fn back(wrist: &Path, shoulder: &Path, address_s: f64, top_s: f64) -> Option<f64> {
    crossings(wrist, shoulder, address_s, top_s)
        .into_iter()
        .find(|c| c.1)
        .map(|c| c.0)
}

/// Last fall of the wrist through the shoulder's height between top and impact.
pub fn down(wrist: &Path, shoulder: &Path, top_s: f64, impact_s: f64) -> Option<f64> {
    crossings(wrist, shoulder, top_s, impact_s)
        .into_iter()
        .rfind(|c| !c.1)
        .map(|c| c.0)
}

/// Times at which the wrist passes the shoulder's height, and whether it rises.
fn crossings(wrist: &Path, shoulder: &Path, from: f64, to: f64) -> Vec<(f64, bool)> {
    // Picture rows grow downward: the shoulder's row less the wrist's is how far the wrist is above.
    let above = |t: f64| Some(shoulder.at(t)?.y - wrist.at(t)?.y);
    let times: Vec<f64> = search_times(from, to).chain([to]).collect();
    times
        .windows(2)
        .filter_map(|w| {
            let (a, b) = (above(w[0])?, above(w[1])?);
            if (a > 0.0) == (b > 0.0) {
                return None;
            }
            let t = bisect(|t| above(t).unwrap_or(f64::NAN), w[0], w[1])?;
            Some((t, b > a))
        })
        .collect()
}
