//! By how much a number changed from before a prescription to after it, with an interval that is honest
//! for few swings.
//!
//! A mixed model: before and after are fixed levels, sessions are random, swings scatter in them. Given the two
//! variances the change is the difference of two weighted levels; it is averaged over the density of the
//! variances ([`super::variance`]), which gives the tails that a t distribution would have.

use super::set_up::{Population, SetUp};
use super::variance::{Density, Session, level};
use lessonwright_math::distribution::normal_cdf;
use lessonwright_model::{Aim, Interval};

/// A change with what can be said of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Level before.
    pub before: f64,
    /// Level after.
    pub after: f64,
    /// After minus before, in the measure's unit.
    pub change: f64,
    /// Its 95 % interval.
    pub interval: Interval,
    /// Half of the interval: the smallest change that these swings could tell from none (MDC95).
    pub mdc: f64,
    /// Plus or minus one: which sign of the change is toward the goal.
    pub toward: f64,
    /// Of the change, how much chance alone would bring after a number was picked because it was far
    /// out (regression to the mean); with the change's sign. None where too few players tell.
    pub regression: Option<f64>,
    /// Probability that the true change is toward the goal.
    pub p_toward: f64,
    /// Probability that it is at least half of the way.
    pub p_half: f64,
    /// True where the level after is at the goal, past it, or short of it by a tenth of the way.
    pub reached: bool,
    /// Sessions and swings before.
    pub from: [usize; 2],
    /// Sessions and swings after.
    pub to: [usize; 2],
    /// Whether it is real.
    pub verdict: Verdict,
}

/// What may be said of a change.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// Toward the goal, beyond error and beyond what chance brings back.
    Real,
    /// Within error.
    NotYet,
    /// Away from the goal, beyond error.
    Away,
}

impl Verdict {
    /// In plain words.
    pub fn plain(self) -> &'static str {
        match self {
            Verdict::Real => "real",
            Verdict::NotYet => "not yet",
            Verdict::Away => "away",
        }
    }
}

/// So near to the goal, as a share of the way, it counts as reached: no set-up tells the rest. Ours.
const NEARLY: f64 = 0.1;

/// The change from `before` to `after`. `None` without sessions on both sides.
pub fn change(
    set_up: &SetUp,
    player: i64,
    before: &[Session],
    after: &[Session],
    aim: &Aim,
) -> Option<Change> {
    let density = set_up.for_player(player, &[before, after]);
    let mixture = Mixture::of(&density, before, after)?;
    let start = aim.start.unwrap_or(mixture.before);
    let toward = if aim.goal < start { -1.0 } else { 1.0 };
    let interval = Interval {
        low: mixture.quantile(0.025),
        high: mixture.quantile(0.975),
    };
    let population = set_up.population(Some(player));
    let regression =
        population.map(|all| regression(&all, mixture.before, mixture.before_variance));
    let half = 0.5 * (aim.goal - mixture.before);
    let p_beyond = |change: f64| match toward > 0.0 {
        true => 1.0 - mixture.below(change),
        false => mixture.below(change),
    };
    Some(Change {
        before: mixture.before,
        after: mixture.after,
        change: mixture.change,
        interval,
        mdc: 0.5 * (interval.high - interval.low),
        toward,
        regression,
        p_toward: p_beyond(0.0),
        p_half: p_beyond(half),
        reached: toward * (mixture.after - aim.goal) >= -NEARLY * (aim.goal - mixture.before).abs(),
        from: counts(before),
        to: counts(after),
        verdict: verdict(interval, toward, regression.unwrap_or(0.0)),
    })
}

/// The level after so many sessions of so many swings could be told from the level before by this
/// much: half of the interval that is to be expected.
pub fn could_tell(
    set_up: &SetUp,
    player: i64,
    before: &[Session],
    sessions: usize,
    swings: usize,
) -> Option<f64> {
    let density = set_up.for_player(player, &[before]);
    let mut variance = 0.0;
    for (share, given) in density.points() {
        let after = given.of_session(swings) / sessions as f64;
        variance += share * (level(before, given)?.variance + after);
    }
    Some(lessonwright_math::SD_TO_95 * variance.sqrt())
}

fn counts(sessions: &[Session]) -> [usize; 2] {
    [
        sessions.len(),
        sessions.iter().map(|s| s.values.len()).sum(),
    ]
}

/// Real: the whole interval, less what chance brings back toward the goal, lies on the goal's side.
fn verdict(interval: Interval, toward: f64, regression: f64) -> Verdict {
    let (near, far) = match toward > 0.0 {
        true => (interval.low, interval.high),
        false => (-interval.high, -interval.low),
    };
    // Chance that works against the goal takes nothing off.
    let by_chance = (toward * regression).max(0.0);
    if near > by_chance {
        Verdict::Real
    } else if far < 0.0 {
        Verdict::Away
    } else {
        Verdict::NotYet
    }
}

/// Reliability is taken as no lower than this: below, the spread of a small roster tells too little.
const LEAST_RELIABILITY: f64 = 0.5;

/// Regression to the mean: a level picked since it was far from the others' is expected to be found
/// (1 − r) of the way back, r = players' variance / (players' variance + the level's error). Barnett AG,
/// van der Pols JC, Dobson AJ (2005) Int J Epidemiol 34:215–220.
pub(super) fn regression(all: &Population, before: f64, error: f64) -> f64 {
    let reliability = (all.variance / (all.variance + error)).max(LEAST_RELIABILITY);
    (1.0 - reliability) * (all.mean - before)
}

/// The change as a mixture of normal distributions, one for each point of the variances' grid.
struct Mixture {
    /// Share, mean, SD.
    parts: Vec<(f64, f64, f64)>,
    before: f64,
    before_variance: f64,
    after: f64,
    change: f64,
}

impl Mixture {
    fn of(density: &Density<'_>, before: &[Session], after: &[Session]) -> Option<Mixture> {
        let mut mixture = Mixture {
            parts: Vec::new(),
            before: 0.0,
            before_variance: 0.0,
            after: 0.0,
            change: 0.0,
        };
        let mut whole = 0.0;
        for (share, given) in density.points() {
            let (first, second) = (level(before, given)?, level(after, given)?);
            let change = second.mean - first.mean;
            let sd = (first.variance + second.variance).sqrt();
            mixture.parts.push((share, change, sd));
            mixture.before += share * first.mean;
            mixture.before_variance += share * first.variance;
            mixture.after += share * second.mean;
            whole += share;
        }
        for part in &mut mixture.parts {
            part.0 /= whole;
        }
        mixture.before /= whole;
        mixture.before_variance /= whole;
        mixture.after /= whole;
        mixture.change = mixture.after - mixture.before;
        Some(mixture)
    }

    /// Probability that the change is below this.
    fn below(&self, change: f64) -> f64 {
        let part = |(share, mean, sd): &(f64, f64, f64)| share * normal_cdf((change - mean) / sd);
        self.parts.iter().map(part).sum()
    }

    /// By halving, to a millionth of the widest part's SD.
    fn quantile(&self, p: f64) -> f64 {
        let widest = self.parts.iter().map(|p| p.2).fold(0.0, f64::max);
        let (mut low, mut high) = (self.change - 40.0 * widest, self.change + 40.0 * widest);
        while high - low > 1e-6 * widest {
            let middle = 0.5 * (low + high);
            if self.below(middle) < p {
                low = middle;
            } else {
                high = middle;
            }
        }
        0.5 * (low + high)
    }
}
