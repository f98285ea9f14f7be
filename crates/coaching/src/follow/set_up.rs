//! How well each number repeats in this coach's set-up, from the swings of the whole roster.
//!
//! The error from swing to swing is pooled over all sessions; the error from session to session over a
//! player's sessions in which nobody was teaching that number. Both are pulled toward the measure's own ±
//! while there are few swings ([`Grid::about`]).

use super::reliability::{Form, Shift, TwoWay, mdc95};
use super::series::{Counted, Number, sessions};
use super::variance::{Density, Grid, Session, Variances, degrees};
use lessonwright_math::{SD_TO_95, median};
use lessonwright_model::{Day, History, Interval, Occasion, Place, View};
use std::collections::{BTreeMap, BTreeSet};

/// However many swings the roster has, they count as no more degrees of freedom than these for one
/// player, since players differ in how evenly they swing (a power prior: Ibrahim JG, Chen MH 2000, Stat
/// Sci 15:46–60). Ours, held by the simulations in `tests/coaching/follow_simulation.rs`.
pub const MOST_DF: f64 = 60.0;

/// With fewer players than these nothing is said of how players differ. Ours.
pub const PLAYERS_FOR_SPREAD: usize = 6;

/// A set-up's errors at one place.
#[derive(Clone, Debug)]
pub struct SetUp {
    /// Which number.
    pub place: Place,
    grid: Grid,
    tells: BTreeMap<i64, Tells>,
    /// The log likelihoods of all players together.
    all: Vec<f64>,
    /// Median variance of a single number, as its ± says.
    own: f64,
    /// Each player's level while nobody taught that number: the first stretch's sessions.
    levels: BTreeMap<i64, Vec<Session>>,
}

/// What one player's swings tell.
#[derive(Clone, Debug)]
struct Tells {
    likelihood: Vec<f64>,
    df: (usize, usize),
    swings: usize,
    sessions: usize,
}

/// What is printed of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Repeatability {
    /// Which number.
    pub place: Place,
    /// Players, sessions and swings that it rests on.
    pub counts: [usize; 3],
    /// Degrees of freedom for the error within and between sessions.
    pub df: (usize, usize),
    /// Error from swing to swing, SD.
    pub within: f64,
    /// Error from session to session, SD.
    pub between: f64,
    /// SEM of one swing in one session.
    pub sem: f64,
    /// MDC95 of one swing against one.
    pub mdc_one: f64,
    /// MDC95 of the mean of five swings against five, a session each: the session's error does not shrink.
    pub mdc_five: f64,
    /// SEM that the measure's own ± would give.
    pub own: f64,
    /// ICC of one swing from the variances: players' differences / (those + errors); none with too few players.
    pub icc: Option<f64>,
    /// Two sessions of each player side by side, by the classical two-way model; none with fewer than three.
    pub retest: Option<Retest>,
}

/// The classical test and retest: means of two stable sessions of each player.
#[derive(Clone, Debug, PartialEq)]
pub struct Retest {
    /// Mean squares.
    pub table: TwoWay,
    /// ICC(2,1).
    pub agreement: f64,
    /// Its 95 % interval.
    pub interval: Interval,
    /// First minus second session.
    pub shift: Shift,
}

/// How the roster's players differ in a number before it is taught.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Population {
    /// Mean of their levels.
    pub mean: f64,
    /// Variance of their true levels.
    pub variance: f64,
    /// Players.
    pub players: usize,
}

/// The sum of all players' log likelihoods at each point; empty where nobody tells anything.
fn together(tells: &BTreeMap<i64, Tells>) -> Vec<f64> {
    let mut sums: Vec<f64> = Vec::new();
    for told in tells.values() {
        sums.resize(told.likelihood.len(), 0.0);
        for (sum, one) in sums.iter_mut().zip(&told.likelihood) {
            *sum += one;
        }
    }
    sums
}

impl SetUp {
    /// The errors at a place. `None` where nobody has a number there.
    pub fn of(place: Place, roster: &[History]) -> Option<SetUp> {
        let all: Vec<f64> = roster
            .iter()
            .flat_map(|h| &h.swings)
            .filter_map(|s| s.taken(place))
            .map(|t| (t.plus_minus / SD_TO_95).powi(2))
            .collect();
        let own = median(&all)?.max(f64::MIN_POSITIVE.sqrt());
        let grid = Grid::about(own);
        let mut tells = BTreeMap::new();
        let mut levels = BTreeMap::new();
        for history in roster {
            let stretches = Stretches::of(history, place);
            if let Some(told) = stretches.tell(&grid) {
                tells.insert(history.player, told);
            }
            if let Some(level) = stretches.level() {
                levels.insert(history.player, level);
            }
        }
        Some(SetUp {
            place,
            all: together(&tells),
            grid,
            tells,
            own,
            levels,
        })
    }

    /// The density of the two errors for a player's comparison, from everybody else and from the stretches
    /// compared. Each stretch has a level of its own.
    pub fn for_player(&self, player: i64, stretches: &[&[Session]]) -> Density<'_> {
        let mine = self.tells.get(&player);
        let df: usize = self.tells.values().map(|t| t.df.0 + t.df.1).sum();
        let df = df - mine.map_or(0, |t| t.df.0 + t.df.1);
        let weight = (MOST_DF / df.max(1) as f64).min(1.0);
        let mut others = self.all.clone();
        for (sum, one) in others
            .iter_mut()
            .zip(mine.iter().flat_map(|t| &t.likelihood))
        {
            *sum -= one;
        }
        let own: Vec<Vec<f64>> = stretches.iter().map(|s| self.grid.likelihood(s)).collect();
        let told: Vec<(f64, &[f64])> = std::iter::once((weight, others.as_slice()))
            .chain(own.iter().map(|l| (1.0, l.as_slice())))
            .collect();
        self.grid.density(&told)
    }

    /// The errors as far as the whole roster tells.
    pub fn variances(&self) -> Variances {
        self.grid.density(&[(1.0, &self.all)]).mean()
    }

    /// How players differ before anybody teaches this number; `without` is left out, so that a player is not
    /// held against himself.
    pub fn population(&self, without: Option<i64>) -> Option<Population> {
        let variances = self.variances();
        let levels: Vec<super::variance::Level> = self
            .levels
            .iter()
            .filter(|(player, _)| Some(**player) != without)
            .filter_map(|(_, sessions)| super::variance::level(sessions, variances))
            .collect();
        if levels.len() < PLAYERS_FOR_SPREAD {
            return None;
        }
        let n = levels.len() as f64;
        let mean = levels.iter().map(|l| l.mean).sum::<f64>() / n;
        let all = levels.iter().map(|l| (l.mean - mean).powi(2)).sum::<f64>() / (n - 1.0);
        let error = levels.iter().map(|l| l.variance).sum::<f64>() / n;
        Some(Population {
            mean,
            variance: (all - error).max(0.0),
            players: levels.len(),
        })
    }

    /// What is printed.
    pub fn repeatability(&self) -> Repeatability {
        let variances = self.variances();
        let sum = |of: fn(&Tells) -> usize| self.tells.values().map(of).sum();
        let sem = |swings| variances.of_session(swings).sqrt();
        let icc = self
            .population(None)
            .map(|p| p.variance / (p.variance + variances.within + variances.between));
        Repeatability {
            place: self.place,
            counts: [self.tells.len(), sum(|t| t.sessions), sum(|t| t.swings)],
            df: (sum(|t| t.df.0), sum(|t| t.df.1)),
            within: variances.within.sqrt(),
            between: variances.between.sqrt(),
            sem: sem(1),
            mdc_one: mdc95(sem(1)),
            mdc_five: mdc95(sem(5)),
            own: self.own.sqrt(),
            icc,
            retest: self.retest(),
        }
    }

    fn retest(&self) -> Option<Retest> {
        let pairs: Vec<(f64, f64)> = self
            .levels
            .values()
            .filter(|sessions| sessions.len() >= 2)
            .map(|sessions| (sessions[0].mean(), sessions[1].mean()))
            .collect();
        if pairs.len() < 3 {
            return None;
        }
        let rows: Vec<Vec<f64>> = pairs.iter().map(|(a, b)| vec![*a, *b]).collect();
        let table = TwoWay::of(&rows)?;
        Some(Retest {
            table,
            agreement: table.icc(Form::Agreement),
            interval: table.icc_interval(Form::Agreement),
            shift: Shift::of(&pairs)?,
        })
    }
}

/// A player's sessions at a place, in stretches that each have a level of their own.
struct Stretches {
    /// While nobody taught that number: one level for each view.
    untaught: Vec<Vec<Session>>,
    /// Later: each session for itself.
    single: Vec<Session>,
}

impl Stretches {
    fn of(history: &History, place: Place) -> Stretches {
        let taught = history
            .given
            .iter()
            .filter(|g| g.aim.is_some_and(|aim| aim.place == place))
            .map(|g| g.day)
            .min();
        let mut by_view: BTreeMap<Option<View>, Vec<Number>> = BTreeMap::new();
        let mut late: BTreeMap<(Option<View>, Option<Occasion>), Vec<Number>> = BTreeMap::new();
        for swing in &history.swings {
            let Some(taken) = swing.taken(place) else {
                continue;
            };
            let number = Number {
                swing: swing.swing,
                day: swing.day,
                taken,
                counted: Counted::Unmarked,
            };
            let untaught = taught.is_none_or(|day: Day| swing.day <= day);
            let marked = matches!(
                swing.occasion,
                Some(Occasion::Practice | Occasion::Transfer)
            );
            if untaught && !marked {
                by_view.entry(taken.view).or_default().push(number);
            } else {
                late.entry((taken.view, swing.occasion))
                    .or_default()
                    .push(number);
            }
        }
        Stretches {
            untaught: by_view.values().map(sessions).collect(),
            single: late.values().flat_map(sessions).collect(),
        }
    }

    fn tell(&self, grid: &Grid) -> Option<Tells> {
        let alone = self.single.iter().map(std::slice::from_ref);
        let stretches: Vec<&[Session]> = self
            .untaught
            .iter()
            .map(Vec::as_slice)
            .chain(alone)
            .collect();
        if stretches.is_empty() {
            return None;
        }
        let mut told = Tells {
            likelihood: grid.likelihood(&[]),
            df: (0, 0),
            swings: 0,
            sessions: 0,
        };
        let mut days = BTreeSet::new();
        for stretch in stretches {
            let (within, between) = degrees(stretch);
            told.df = (told.df.0 + within, told.df.1 + between);
            told.swings += stretch.iter().map(|s| s.values.len()).sum::<usize>();
            days.extend(stretch.iter().map(|s| s.day));
            for (sum, one) in told.likelihood.iter_mut().zip(grid.likelihood(stretch)) {
                *sum += one;
            }
        }
        told.sessions = days.len();
        Some(told)
    }

    /// The untaught sessions in the view with most of them.
    fn level(&self) -> Option<Vec<Session>> {
        let longest = self.untaught.iter().max_by_key(|sessions| sessions.len());
        longest.cloned()
    }
}
