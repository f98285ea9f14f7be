//! One point's way through the picture: smooth between frames, absent where it was not seen.

use crate::by_hand::joints::Known;
use lessonwright_math::{CubicSpline, Left};
use lessonwright_model::PixelPoint;

/// Pieces of a planar curve over real time, px.
#[derive(Clone, Debug, Default)]
pub struct Path {
    pieces: Vec<Piece>,
    /// Noise of one coordinate after cleaning, px.
    pub sigma_px: f64,
    /// Where the point was placed by hand.
    placed: Known,
}

#[derive(Clone, Debug)]
struct Piece {
    x: CubicSpline,
    y: CubicSpline,
}

/// Velocity in the picture, px/s: x to the right, y down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PixelVelocity {
    /// To the right, px/s.
    pub x: f64,
    /// Down, px/s.
    pub y: f64,
}

impl PixelVelocity {
    /// Speed, px/s.
    pub fn speed(self) -> f64 {
        self.x.hypot(self.y)
    }
}

impl Path {
    /// Joins neighbouring samples; a `None` breaks the path. Stretches of a single sample are
    /// left out: nothing can be said of the motion there.
    pub fn through(times_s: &[f64], points: &[Option<PixelPoint>], sigma_px: f64) -> Path {
        let mut pieces = Vec::new();
        let mut start = 0;
        while start < points.len() {
            let length = points[start..].iter().take_while(|p| p.is_some()).count();
            if length >= 2 {
                let seen: Vec<PixelPoint> = points[start..start + length]
                    .iter()
                    .flatten()
                    .copied()
                    .collect();
                let times = &times_s[start..start + length];
                let xs: Vec<f64> = seen.iter().map(|p| p.x).collect();
                let ys: Vec<f64> = seen.iter().map(|p| p.y).collect();
                if let (Ok(x), Ok(y)) = (CubicSpline::new(times, &xs), CubicSpline::new(times, &ys))
                {
                    pieces.push(Piece { x, y });
                }
            }
            start += length.max(1);
        }
        Path {
            pieces,
            sigma_px,
            placed: Known::default(),
        }
    }

    /// The same with some of its points placed by hand.
    pub fn placed(self, placed: Known) -> Path {
        Path { placed, ..self }
    }

    /// What is left at `t` of the landmark network's slow error.
    pub fn error_left(&self, t: f64) -> Left {
        self.placed.left(t)
    }

    fn piece(&self, t: f64) -> Option<&Piece> {
        self.pieces.iter().find(|p| {
            let (from, to) = p.x.span();
            // A nanosecond of grace for rounding at the ends.
            t >= from - 1e-9 && t <= to + 1e-9
        })
    }

    /// Where the point is at `t`; `None` where it was not seen.
    pub fn at(&self, t: f64) -> Option<PixelPoint> {
        self.piece(t).map(|p| PixelPoint {
            x: p.x.at(t),
            y: p.y.at(t),
        })
    }

    /// How it moves at `t`.
    pub fn velocity(&self, t: f64) -> Option<PixelVelocity> {
        self.piece(t).map(|p| PixelVelocity {
            x: p.x.slope(t),
            y: p.y.slope(t),
        })
    }

    /// Median position over `[from, to]`, sampled `count` times; `None` if never seen there.
    pub fn median_over(&self, from: f64, to: f64, count: usize) -> Option<PixelPoint> {
        let last = (count - 1).max(1) as f64;
        let seen: Vec<PixelPoint> = (0..count)
            .filter_map(|i| self.at(from + (to - from) * i as f64 / last))
            .collect();
        let xs: Vec<f64> = seen.iter().map(|p| p.x).collect();
        let ys: Vec<f64> = seen.iter().map(|p| p.y).collect();
        Some(PixelPoint {
            x: lessonwright_math::median(&xs)?,
            y: lessonwright_math::median(&ys)?,
        })
    }
}
