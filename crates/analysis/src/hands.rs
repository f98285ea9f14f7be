//! The hands: the mid-point of the wrists, through the picture and over time.

use crate::path::Path;
use lessonwright_math::MonotoneCubic;
use lessonwright_model::{Joint, PixelPoint};

/// The hands' path.
#[derive(Clone, Debug)]
pub struct Hands {
    path: Path,
    /// First and last instant at which the hands are known, s.
    pub span_s: (f64, f64),
    /// Height of the body, px.
    pub span_px: f64,
}

impl Hands {
    /// From the wrists' paths, read at the frames. Where one wrist is hidden the other stands in,
    /// with the half-way offset bridged between the frames that show both.
    pub fn of(times_s: &[f64], wrists: (&Path, &Path), span_px: f64) -> Option<Hands> {
        let at: Vec<(Option<PixelPoint>, Option<PixelPoint>)> = times_s
            .iter()
            .map(|&t| (wrists.0.at(t), wrists.1.at(t)))
            .collect();
        let offset = half_offset(times_s, &at);
        let middle: Vec<Option<PixelPoint>> = at
            .iter()
            .enumerate()
            .map(|(i, pair)| {
                let (dx, dy) = offset
                    .as_ref()
                    .map_or((0.0, 0.0), |o| (o.0.at(times_s[i]), o.1.at(times_s[i])));
                match *pair {
                    (Some(a), Some(b)) => Some(a.midpoint(b)),
                    (Some(a), None) => Some(PixelPoint {
                        x: a.x + dx,
                        y: a.y + dy,
                    }),
                    (None, Some(b)) => Some(PixelPoint {
                        x: b.x - dx,
                        y: b.y - dy,
                    }),
                    (None, None) => None,
                }
            })
            .collect();
        let known: Vec<f64> = (0..middle.len())
            .filter(|&i| middle[i].is_some())
            .map(|i| times_s[i])
            .collect();
        Some(Hands {
            span_s: (*known.first()?, *known.last()?),
            path: Path::through(times_s, &middle, wrists.0.sigma_px.max(wrists.1.sigma_px)),
            span_px,
        })
    }

    /// Their path.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Where the hands are.
    pub fn at(&self, t: f64) -> Option<PixelPoint> {
        self.path.at(t)
    }

    /// Their speed, body heights a second.
    pub fn speed(&self, t: f64) -> Option<f64> {
        self.path.velocity(t).map(|v| v.speed() / self.span_px)
    }

    /// Their height in the picture, body heights, upward from the picture's top edge (so always
    /// negative; only differences mean anything).
    pub fn height(&self, t: f64) -> Option<f64> {
        self.path.at(t).map(|p| -p.y / self.span_px)
    }

    /// Median place over a stretch of time.
    pub fn place_over(&self, from: f64, to: f64) -> Option<PixelPoint> {
        // 16 samples: denser than the frames of a still stretch at any usual rate.
        self.path.median_over(from, to, 16)
    }
}

/// Half of the way from the first wrist to the second, over time, from frames that show both.
fn half_offset(
    times_s: &[f64],
    at: &[(Option<PixelPoint>, Option<PixelPoint>)],
) -> Option<(MonotoneCubic, MonotoneCubic)> {
    let both: Vec<(f64, f64, f64)> = times_s
        .iter()
        .zip(at)
        .filter_map(|(&t, pair)| {
            let (a, b) = (pair.0?, pair.1?);
            Some((t, 0.5 * (b.x - a.x), 0.5 * (b.y - a.y)))
        })
        .collect();
    let times: Vec<f64> = both.iter().map(|b| b.0).collect();
    let dx: Vec<f64> = both.iter().map(|b| b.1).collect();
    let dy: Vec<f64> = both.iter().map(|b| b.2).collect();
    Some((
        MonotoneCubic::new(&times, &dx).ok()?,
        MonotoneCubic::new(&times, &dy).ok()?,
    ))
}

/// The two wrists.
pub const WRISTS: (Joint, Joint) = (Joint::LeftWrist, Joint::RightWrist);
