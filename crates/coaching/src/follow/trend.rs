//! One number from session to session, ready to be drawn or read out.

use super::series::{Counted, Number, Series, is_after, sessions};
use super::set_up::SetUp;
use super::variance::level;
use lessonwright_math::SD_TO_95;
use lessonwright_model::{Day, Given, History, Interval, Occasion, Place, View};
use std::collections::BTreeMap;

/// A number over all sessions.
#[derive(Clone, Debug, PartialEq)]
pub struct Trend {
    /// Which number.
    pub place: Place,
    /// Oldest first; numbers of another view than most are left out.
    pub sessions: Vec<TrendSession>,
    /// Within it a session as large as the latest is not to be told from the level before.
    pub band: Option<Interval>,
    /// The number to reach now, if there is one.
    pub goal: Option<f64>,
    /// Days of lessons that prescribed for this number.
    pub lessons: Vec<Day>,
    /// Numbers of other views left out.
    pub other_view: usize,
}

/// One session, or the swings of one kind in it.
#[derive(Clone, Debug, PartialEq)]
pub struct TrendSession {
    /// Its day.
    pub day: Day,
    /// How its swings were made.
    pub counted: Counted,
    /// Mean of its swings.
    pub mean: f64,
    /// Half of the mean's 95 % interval, from the errors of the set-up.
    pub plus_minus: f64,
    /// Key, number and own ± of each swing.
    pub swings: Vec<(i64, f64, f64)>,
}

impl Trend {
    /// A player's numbers at a place. `None` where there are none.
    pub fn of(history: &History, place: Place, set_up: &SetUp) -> Option<Trend> {
        let current = history
            .given
            .iter()
            .rev()
            .find(|g| g.aim.is_some_and(|aim| aim.place == place));
        let all = numbers(history, place);
        let view = usual_view(&all)?;
        let (kept, other): (Vec<Number>, Vec<Number>) =
            all.into_iter().partition(|n| n.taken.view == view);
        let density = set_up.for_player(history.player, &[]);
        let variances = density.mean();
        let mut groups: BTreeMap<(Day, Counted), Vec<Number>> = BTreeMap::new();
        for number in &kept {
            let key = (number.day, number.counted);
            groups.entry(key).or_default().push(*number);
        }
        let drawn: Vec<TrendSession> = groups
            .into_iter()
            .map(|((day, counted), numbers)| TrendSession {
                day,
                counted,
                mean: numbers.iter().map(|n| n.taken.value).sum::<f64>() / numbers.len() as f64,
                plus_minus: SD_TO_95 * variances.of_session(numbers.len()).sqrt(),
                swings: numbers
                    .iter()
                    .map(|n| (n.swing, n.taken.value, n.taken.plus_minus))
                    .collect(),
            })
            .collect();
        let before = match current {
            Some(given) => Series::around(history, given, place).sessions_before(),
            None => sessions(&kept).into_iter().take(1).collect(),
        };
        let latest = drawn.last()?.swings.len();
        let band = level(&before, variances).map(|level| {
            let half = SD_TO_95 * (level.variance + variances.of_session(latest)).sqrt();
            Interval {
                low: level.mean - half,
                high: level.mean + half,
            }
        });
        Some(Trend {
            place,
            sessions: drawn,
            band,
            goal: current.and_then(|g| g.aim).map(|aim| aim.goal),
            lessons: lessons(history, place),
            other_view: other.len(),
        })
    }
}

fn lessons(history: &History, place: Place) -> Vec<Day> {
    let here = |g: &&Given| g.aim.is_some_and(|aim| aim.place == place);
    let mut days: Vec<Day> = history.given.iter().filter(here).map(|g| g.day).collect();
    days.dedup();
    days
}

fn numbers(history: &History, place: Place) -> Vec<Number> {
    let numbers = history.swings.iter().filter_map(|swing| {
        let on_lesson_day = |g: &&Given| g.day == swing.day && is_after(swing, g);
        let counted = match swing.occasion {
            Some(Occasion::Practice) => Counted::Practice,
            Some(Occasion::Retention) => Counted::Retention,
            Some(Occasion::Transfer) => Counted::Transfer,
            None if history.given.iter().any(|g| on_lesson_day(&g)) => Counted::Practice,
            None => Counted::Unmarked,
        };
        Some(Number {
            swing: swing.swing,
            day: swing.day,
            taken: swing.taken(place)?,
            counted,
        })
    });
    numbers.collect()
}

/// The view of most numbers; where two have as many, of the latest.
fn usual_view(numbers: &[Number]) -> Option<Option<View>> {
    let count = |view| numbers.iter().filter(|n| n.taken.view == view).count();
    let latest = |view| numbers.iter().rposition(|n| n.taken.view == view);
    let views = numbers.iter().map(|n| n.taken.view);
    views.max_by_key(|view| (count(*view), latest(*view)))
}
