//! The two errors of a set-up, from swing to swing within a session and from session to session, as a
//! density on a grid rather than as one guess each.
//!
//! Model: a swing's number is the player's level + the session's error (SD `between`) + the swing's
//! error (SD `within`). Levels are fixed effects, so the likelihood is the restricted one (REML; Harville
//! 1977, J Am Stat Assoc 72:320–338). Before any swing each variance has a scaled inverse χ² density
//! (Gelman et al., Bayesian Data Analysis, 3rd ed., §2.6, 3.2), which a few swings move a little and many
//! swings outweigh. What is asked of the variances is averaged over the density, so that not knowing
//! them well makes intervals wider. All in the measure's own unit.

use lessonwright_model::Day;

/// Swings of one session at one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Session {
    /// Its day.
    pub day: Day,
    /// One number a swing; never empty.
    pub values: Vec<f64>,
}

impl Session {
    /// The mean of its swings.
    pub fn mean(&self) -> f64 {
        self.values.iter().sum::<f64>() / self.values.len() as f64
    }

    fn squares(&self) -> f64 {
        let mean = self.mean();
        self.values.iter().map(|v| (v - mean).powi(2)).sum()
    }
}

/// The two variances.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Variances {
    /// From swing to swing within a session.
    pub within: f64,
    /// From session to session.
    pub between: f64,
}

impl Variances {
    /// Variance of the mean of a session of so many swings about the player's level.
    pub fn of_session(&self, swings: usize) -> f64 {
        self.between + self.within / swings as f64
    }
}

/// A level with its variance: sessions weighed by how certain each one's mean is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Level {
    /// The weighted mean.
    pub mean: f64,
    /// Its variance, given the two of the set-up.
    pub variance: f64,
}

/// What counts of a session, so that it is summed once and not at every point of a grid.
struct Summary {
    swings: usize,
    mean: f64,
    squares: f64,
}

fn summaries(sessions: &[Session]) -> Vec<Summary> {
    let summary = |s: &Session| Summary {
        swings: s.values.len(),
        mean: s.mean(),
        squares: s.squares(),
    };
    sessions.iter().map(summary).collect()
}

/// The level of sessions without a change between them. `None` without sessions.
pub fn level(sessions: &[Session], given: Variances) -> Option<Level> {
    level_of(&summaries(sessions), given)
}

fn level_of(sessions: &[Summary], given: Variances) -> Option<Level> {
    let weight = |s: &Summary| given.of_session(s.swings).recip();
    let total: f64 = sessions.iter().map(weight).sum();
    let sum: f64 = sessions.iter().map(|s| weight(s) * s.mean).sum();
    (total > 0.0).then(|| Level {
        mean: sum / total,
        variance: total.recip(),
    })
}

/// Restricted log likelihood of sessions that share a level, without its constant. Stretches that
/// each have a level of their own add up.
pub fn restricted(sessions: &[Session], given: Variances) -> f64 {
    restricted_of(&summaries(sessions), given)
}

fn restricted_of(sessions: &[Summary], given: Variances) -> f64 {
    let Some(level) = level_of(sessions, given) else {
        return 0.0;
    };
    let mut twice = -level.variance.ln();
    for session in sessions {
        let n = session.swings as f64;
        let variance = given.of_session(session.swings);
        twice += (n - 1.0) * given.within.ln()
            + session.squares / given.within
            + (n * variance).ln()
            + (session.mean - level.mean).powi(2) / variance;
    }
    -0.5 * twice
}

/// What stretches of sessions tell of the two variances, in degrees of freedom.
pub fn degrees(sessions: &[Session]) -> (usize, usize) {
    let swings: usize = sessions.iter().map(|s| s.values.len()).sum();
    (swings - sessions.len(), sessions.len().saturating_sub(1))
}

/// What is thought of each variance before any swing: worth as much as this many degrees of freedom
/// would tell. Ours; small, so that ten swings outweigh it.
pub const PRIOR_DF: f64 = 3.0;

/// What each of the two variances is thought to be before any swing, in variances of a single number as its ±
/// says: half of that for each, and half as much again, since a ± knows nothing of how unevenly people
/// swing. Ours, held by the simulations in `tests/coaching/follow_simulation.rs`.
const PRIOR_SHARE: f64 = 0.75;

/// Points a side of the grid, evenly spaced on the logarithm: 11 % from one SD to the next.
const POINTS: usize = 48;

/// From this share of the middle to its inverse: SDs from 1/12 to 12 times.
const REACH: f64 = 12.0;

/// The points of the grid and what was thought before.
#[derive(Clone, Debug, PartialEq)]
pub struct Grid {
    points: Vec<Variances>,
    prior: Vec<f64>,
}

impl Grid {
    /// A grid about a measure whose single number has error variance `own`, as its ± says.
    ///
    /// # Panics
    /// Unless `own` is above 0.
    pub fn about(own: f64) -> Grid {
        assert!(
            own > 0.0 && own.is_finite(),
            "a measure's own variance is {own}"
        );
        let middle = PRIOR_SHARE * own;
        let at = |i: usize| {
            let share = 2.0 * i as f64 / (POINTS - 1) as f64 - 1.0;
            middle * REACH.powf(2.0 * share)
        };
        // Scaled inverse χ² on the logarithm of the SD.
        let log = |variance: f64| -0.5 * PRIOR_DF * (variance.ln() + middle / variance);
        let points: Vec<Variances> = (0..POINTS * POINTS)
            .map(|i| Variances {
                within: at(i / POINTS),
                between: at(i % POINTS),
            })
            .collect();
        let prior = points.iter().map(|v| log(v.within) + log(v.between));
        Grid {
            prior: prior.collect(),
            points,
        }
    }

    /// The log likelihood of one stretch at every point.
    pub fn likelihood(&self, sessions: &[Session]) -> Vec<f64> {
        let sessions = summaries(sessions);
        let at = |v: &Variances| restricted_of(&sessions, *v);
        self.points.iter().map(at).collect()
    }

    /// The density after what other log likelihoods, each with its weight, tell.
    pub fn density(&self, told: &[(f64, &[f64])]) -> Density<'_> {
        let mut log = self.prior.clone();
        for (weight, likelihood) in told {
            for (sum, one) in log.iter_mut().zip(*likelihood) {
                *sum += weight * one;
            }
        }
        let highest = log.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let mut shares: Vec<f64> = log.iter().map(|l| (l - highest).exp()).collect();
        let total: f64 = shares.iter().sum();
        for share in &mut shares {
            *share /= total;
        }
        Density { grid: self, shares }
    }
}

/// How likely each point of the grid is.
#[derive(Clone, Debug, PartialEq)]
pub struct Density<'a> {
    grid: &'a Grid,
    shares: Vec<f64>,
}

impl Density<'_> {
    /// Points that matter, with their share: those below a millionth of the whole each are left out.
    pub fn points(&self) -> impl Iterator<Item = (f64, Variances)> {
        let all = self.shares.iter().zip(&self.grid.points);
        all.filter(|(share, _)| **share > 1e-6)
            .map(|(s, v)| (*s, *v))
    }

    /// Their mean.
    pub fn mean(&self) -> Variances {
        let sum = |of: fn(&Variances) -> f64| -> f64 {
            let all = self.shares.iter().zip(&self.grid.points);
            all.map(|(share, v)| share * of(v)).sum()
        };
        Variances {
            within: sum(|v| v.within),
            between: sum(|v| v.between),
        }
    }
}
