//! How a number changes over a swing.

use crate::noise::SplitMix64;

/// A movement of least jerk.
#[derive(Clone, Copy)]
pub(super) struct Stroke {
    pub(super) start_s: f64,
    pub(super) length_s: f64,
    pub(super) size: f64,
}

/// Where something rests at first, and how it is moved.
pub(super) struct Course {
    pub(super) rest: f64,
    pub(super) strokes: Vec<Stroke>,
}

impl Course {
    pub(super) fn new(rest: f64, strokes: impl Into<Vec<Stroke>>) -> Course {
        let strokes = strokes.into();
        Course { rest, strokes }
    }

    pub(super) fn at(&self, t: f64) -> f64 {
        let moved = self.strokes.iter().map(|s| {
            let u = ((t - s.start_s) / s.length_s).clamp(0.0, 1.0);
            s.size * u.powi(3) * (10.0 - 15.0 * u + 6.0 * u * u)
        });
        self.rest + moved.sum::<f64>()
    }
}

/// A draw between two numbers, of each.
pub(super) fn stroke(
    r: &mut SplitMix64,
    start_s: [f64; 2],
    length_s: [f64; 2],
    size: [f64; 2],
) -> Stroke {
    let mut drawn = |[low, high]: [f64; 2]| r.between(low, high);
    Stroke {
        start_s: drawn(start_s),
        length_s: drawn(length_s),
        size: drawn(size),
    }
}

/// How an angle runs out after the strike: with the speed it has, to rest at `end`.
pub(super) struct RunOut {
    from: f64,
    way: f64,
    pub(super) length_s: f64,
}

impl RunOut {
    /// Speed at the start over the mean speed; from this on up the angle would turn round on its way.
    const BRISK: f64 = 2.5;

    pub(super) fn new(from: f64, speed: f64, end: f64) -> Option<RunOut> {
        let way = end - from;
        let length_s = Self::BRISK * way / speed;
        (0.2..1.3).contains(&length_s).then_some(RunOut {
            from,
            way,
            length_s,
        })
    }

    /// `after_s`: since the strike.
    pub(super) fn at(&self, after_s: f64) -> f64 {
        let (u, v) = ((after_s / self.length_s).min(1.0), Self::BRISK);
        let share = v * u
            + (10.0 - 6.0 * v) * u.powi(3)
            + (8.0 * v - 15.0) * u.powi(4)
            + (6.0 - 3.0 * v) * u.powi(5);
        self.from + self.way * share
    }
}
