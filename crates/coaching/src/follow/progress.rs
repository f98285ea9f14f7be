//! One prescription followed: what changed during practice, later, and in other tasks; what it comes to.

use super::advice::{Advice, advise};
use super::change::{Change, Verdict, change, could_tell};
use super::series::{Counted, Series};
use super::set_up::SetUp;
use crate::wording::amount;
use lessonwright_language::{Text, t};
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
    pub notes: Vec<Text>,
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

    fn limits(&self) -> Vec<Text> {
        let mut notes = Vec::new();
        let series = &self.series;
        for (count, id) in [
            (series.without, "follow-left-out-without"),
            (series.other_view, "follow-left-out-view"),
            (series.day_assumed, "follow-day-assumed"),
            (series.too_soon, "follow-too-soon"),
        ] {
            if count > 0 {
                notes.push(t(id).with("count", count));
            }
        }
        if let Some(change) = self.change() {
            notes.extend(self.of_change(change));
        }
        notes.extend(self.too_small_to_see());
        notes
    }

    /// Said before the first film as well as after it, unless the number is reached.
    fn too_small_to_see(&self) -> Option<Text> {
        let change = self.change();
        let before = change.map(|change| change.before).or(self.aim.start)?;
        let step = (self.aim.goal - before).abs();
        let least = self.could_tell.filter(|least| *least > step)?;
        let open = change.is_none_or(|change| !change.reached);
        let said = |value| amount(self.aim.place.measure, value);
        open.then(|| {
            t("follow-step-too-small")
                .with("step", said(step))
                .with("swings", SWINGS)
                .with("least", said(least))
        })
    }

    fn of_change(&self, change: &Change) -> Vec<Text> {
        let mut notes = Vec::new();
        match change.regression {
            None => notes.push(t("follow-regression-unknown")),
            Some(_) if change.interval_is_toward() && change.verdict == Verdict::NotYet => {
                notes.push(t("follow-regression-as-much"));
            }
            Some(_) => {}
        }
        if change.from[1] == 1 {
            notes.push(t("follow-one-swing-before"));
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
