//! The hands: the mid-point of the wrists, through the picture and over time.

use crate::path::Path;
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
    /// From the wrists' paths, read at the frames.
    pub fn of(times_s: &[f64], wrists: (&Path, &Path), span_px: f64) -> Option<Hands> {
        let middle: Vec<Option<PixelPoint>> = times_s
            .iter()
            .map(|&t| Some(wrists.0.at(t)?.midpoint(wrists.1.at(t)?)))
            .collect();
        let known = || times_s.iter().zip(&middle).filter(|(_, m)| m.is_some());
        Some(Hands {
            span_s: (*known().next()?.0, *known().next_back()?.0),
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

/// The two wrists.
pub const WRISTS: (Joint, Joint) = (Joint::LeftWrist, Joint::RightWrist);
