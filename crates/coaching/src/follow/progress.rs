//! One prescription followed: what changed during practice, later, and in other tasks; what it comes to.

use super::advice::{Advice, advise};
use super::change::{Change, Verdict, change, could_tell};
use super::series::{Counted, Series};
use super::set_up::SetUp;
use crate::wording::amount;
use lessonwright_language::Say;
use lessonwright_model::{Aim, Day, Given, History};

/// A prescription with what became of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Progress {
    /// What was prescribed.
    pub given: Given,
    /// What is to change.
    pub aim: Aim,
    /// The swings compared.
    pub series: Series,
    /// One for each kind of swing that there is after it, in the order of [`Counted`].
    pub results: Vec<Result>,
    /// The kind that the verdict rests on: retention if there is any, else not marked, else practice,
    /// else transfer.
    pub headline: Option<Counted>,
    /// What to do next.
    pub advice: Advice,
    /// The smallest change that one more session of five swings could tell from none; none without swings
    /// before.
    pub could_tell: Option<f64>,
    /// What limits it, a sentence each.
    pub notes: Vec<String>,
}

/// One kind of swings after the prescription.
#[derive(Clone, Debug, PartialEq)]
pub struct Result {
    /// As what they count.
    pub counted: Counted,
    /// None where there is nothing before to hold them against.
    pub change: Option<Change>,
}

/// How many swings a session of five has.
const SWINGS: usize = 5;

/// Which kind of swings a verdict rests on, first to last.
const HEADLINES: [Counted; 4] = [
    Counted::Retention,
    Counted::Unmarked,
    Counted::Practice,
    Counted::Transfer,
];

impl Progress {
    /// What became of a prescription with an aim. `None` where nothing is to be measured.
    pub fn of(
        history: &History,
        given: &Given,
        set_up: Option<&SetUp>,
        today: Day,
    ) -> Option<Progress> {
        let aim = given.aim?;
        let series = Series::around(history, given, aim.place);
        let before = series.sessions_before();
        let result = |counted: Counted| {
            let after = series.after_as(counted);
            (!after.is_empty()).then(|| Result {
                counted,
                change: set_up.and_then(|s| change(s, history.player, &before, &after, &aim)),
            })
        };
        let results: Vec<Result> = Counted::ALL.into_iter().filter_map(result).collect();
        let there = |counted: &Counted| results.iter().any(|r| r.counted == *counted);
        let headline = HEADLINES.into_iter().find(there);
        let days = given.ended.unwrap_or(today).since(given.day);
        let could = set_up
            .filter(|_| !before.is_empty())
            .and_then(|s| could_tell(s, history.player, &before, 1, SWINGS));
        let mut progress = Progress {
            advice: advise(&results, headline, days),
            given: given.clone(),
            aim,
            series,
            results,
            headline,
            could_tell: could,
            notes: Vec::new(),
        };
        progress.notes = progress.limits();
        Some(progress)
    }

    /// The change that the verdict rests on.
    pub fn change(&self) -> Option<&Change> {
        let is = |r: &&Result| Some(r.counted) == self.headline;
        self.results.iter().find(is)?.change.as_ref()
    }

    /// The verdict, if there is anything to judge.
    pub fn verdict(&self) -> Option<Verdict> {
        self.change().map(|change| change.verdict)
    }

    fn limits(&self) -> Vec<String> {
        let mut notes = Vec::new();
        let series = &self.series;
        let mut say = |n: usize, one: &str, many: &str| {
            if n == 1 {
                notes.push(format!("1 swing {one}"));
            } else if n > 1 {
                notes.push(format!("{n} swings {many}"));
            }
        };
        say(
            series.without,
            "has no such number and is left out.",
            "have no such number and are left out.",
        );
        say(
            series.other_view,
            "was measured in another view and is left out: views have errors of their own.",
            "were measured in another view and are left out: views have errors of their own.",
        );
        say(
            series.day_assumed,
            "does not say when it was filmed; it counts by the day it was added.",
            "do not say when they were filmed; they count by the day they were added.",
        );
        say(
            series.too_soon,
            "marked as retention came less than 24 hours after practice; it counts as practice.",
            "marked as retention came less than 24 hours after practice; they count as practice.",
        );
        if let Some(change) = self.change() {
            notes.extend(self.of_change(change));
        }
        notes.extend(self.too_small_to_see());
        notes
    }

    /// Said before the first film as well as after it, unless the number is reached.
    fn too_small_to_see(&self) -> Option<String> {
        let change = self.change();
        let before = change.map(|change| change.before).or(self.aim.start)?;
        let step = (self.aim.goal - before).abs();
        let least = self.could_tell.filter(|least| *least > step)?;
        let open = change.is_none_or(|change| !change.reached);
        let said = |value| Say::default().text(&amount(self.aim.place.measure, value));
        open.then(|| {
            format!(
                "The step asked for, {}, is smaller than what one more session of {SWINGS} swings could tell from \
                 none, {}: film on several days.",
                said(step),
                said(least)
            )
        })
    }

    fn of_change(&self, change: &Change) -> Vec<String> {
        let mut notes = Vec::new();
        match change.regression {
            None => notes.push(
                "Too few players to tell what chance alone brings back after a number was picked because it was far \
                 out (regression to the mean)."
                    .into(),
            ),
            Some(_) if change.interval_is_toward() && change.verdict == Verdict::NotYet => notes.push(
                "The change is beyond error, but chance alone could bring back as much after a number was \
                 picked because it was far out (regression to the mean)."
                    .into(),
            ),
            Some(_) => {}
        }
        if change.from[1] == 1 {
            notes.push("The level before rests on one swing.".into());
        }
        notes
    }
}

impl Change {
    /// Whether the whole interval lies on the goal's side of nought.
    fn interval_is_toward(&self) -> bool {
        match self.toward > 0.0 {
            true => self.interval.low > 0.0,
            false => self.interval.high < 0.0,
        }
    }
}
