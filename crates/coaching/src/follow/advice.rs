//! What to do next: film, keep, progress or change. A rule with its reasons, for the professional to
//! overrule. The table is in `docs/follow-up.md`.

use super::change::{Change, Verdict};
use super::progress::Result;
use super::series::Counted;

/// What to do next.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Step {
    /// Nothing can be judged yet.
    Film,
    /// Go on with the drill.
    Keep,
    /// The number is reached: the next rung of the drill, or the next thing.
    Progress,
    /// Another cue or another drill.
    Change,
}

impl Step {
    /// In plain words.
    pub fn plain(self) -> &'static str {
        match self {
            Step::Film => "film first",
            Step::Keep => "keep the drill",
            Step::Progress => "go one step further",
            Step::Change => "change the cue or the drill",
        }
    }
}

/// What to do next, and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    /// What.
    pub step: Step,
    /// Each step of the rule that led to it, as a sentence.
    pub because: Vec<String>,
}

/// Before so many days nothing is given up: drills expect their change in one to two weeks (common
/// practice, no source).
pub const TRIAL_DAYS: i32 = 14;

/// Before so many sessions after a prescription nothing is given up. Ours.
pub const FEW_SESSIONS: usize = 2;

/// Below this probability that half of the way is done, the drill is taken not to work. Ours.
const HARDLY: f64 = 0.1;

/// The advice for what was found; `headline` is what the verdict rests on.
pub fn advise(results: &[Result], headline: Option<Counted>, days: i32) -> Advice {
    let of = |counted| results.iter().find(|r| r.counted == counted);
    let Some(result) = headline.and_then(of) else {
        return Advice {
            step: Step::Film,
            because: vec!["No swing after the prescription has this number yet.".into()],
        };
    };
    let Some(change) = &result.change else {
        return Advice {
            step: Step::Film,
            because: vec![
                "No swing before the prescription has this number: film a level first.".into(),
            ],
        };
    };
    let mut because = vec![said(change, result.counted)];
    let step = match (change.verdict, result.counted) {
        (Verdict::Real, counted) => reached(change, counted, of(Counted::Transfer), &mut because),
        (Verdict::Away, Counted::Practice) => {
            because.push(
                "It is seen during practice only; a new feel often looks worse at first. Film without the cue a \
                 day later."
                    .into(),
            );
            Step::Keep
        }
        (Verdict::Away, _) => {
            because.push("It goes the wrong way without the cue.".into());
            Step::Change
        }
        (Verdict::NotYet, counted) => not_yet(change, counted, days, &mut because),
    };
    Advice { step, because }
}

fn said(change: &Change, counted: Counted) -> String {
    let way = match change.verdict {
        Verdict::Real => "The change is beyond error and toward the number",
        Verdict::NotYet => "The change is within error",
        Verdict::Away => "The change is beyond error and away from the number",
    };
    format!(
        "{way} ({}; {} in {}; {} likely to be toward it).",
        counted.plain(),
        count(change.to[1], "swing"),
        count(change.to[0], "session"),
        percent(change.p_toward),
    )
}

fn reached(
    change: &Change,
    counted: Counted,
    transfer: Option<&Result>,
    because: &mut Vec<String>,
) -> Step {
    if !change.reached {
        because.push("The number is not reached yet: what works goes on.".into());
        return Step::Keep;
    }
    if counted == Counted::Practice {
        because.push(
            "The number is reached with the cue; whether it is learned shows a day later without it.".into(),
        );
        return Step::Keep;
    }
    let learned = match counted {
        Counted::Unmarked => {
            "The number is reached (nobody marked whether with or without the cue)."
        }
        _ => "The number is reached without the cue.",
    };
    because.push(learned.into());
    let moved = transfer.and_then(|t| t.change.as_ref());
    because.push(match moved.map(|change| change.verdict) {
        Some(Verdict::Real) => "It shows in another task as well: time for the next thing.".into(),
        Some(_) => "It does not show in another task yet: take the drill there.".into(),
        None => {
            "Next: the drill's next rung, then with a ball, another club, on the course.".into()
        }
    });
    Step::Progress
}

fn not_yet(change: &Change, counted: Counted, days: i32, because: &mut Vec<String>) -> Step {
    if days < TRIAL_DAYS || change.to[0] < FEW_SESSIONS {
        because.push(format!(
            "It is early: {} and {} since; a drill gets {TRIAL_DAYS} days and {FEW_SESSIONS} sessions.",
            count(days.max(0) as usize, "day"),
            count(change.to[0], "session"),
        ));
        return Step::Keep;
    }
    let half = percent(change.p_half);
    if change.p_half >= HARDLY {
        because.push(format!(
            "Half of the way may be done ({half} likely): more swings would tell."
        ));
        return Step::Keep;
    }
    because.push(match counted {
        Counted::Practice => format!(
            "Not even during practice is half of the way likely ({half}): try the other cue first."
        ),
        _ => format!(
            "It had its time, and half of the way is unlikely ({half}): the other cue first, then \
             another drill."
        ),
    });
    Step::Change
}

/// A probability in whole percent, never certain.
pub fn percent(p: f64) -> String {
    let p = (100.0 * p).round();
    if p < 1.0 {
        "less than 1 %".into()
    } else if p > 99.0 {
        "more than 99 %".into()
    } else {
        format!("{p:.0} %")
    }
}

fn count(n: usize, what: &str) -> String {
    match n {
        1 => format!("1 {what}"),
        _ => format!("{n} {what}s"),
    }
}

#[cfg(test)]
mod tests {
    use super::percent;

    #[test]
    fn a_probability_is_never_certain() {
        assert_eq!(percent(0.001), "less than 1 %");
        assert_eq!(percent(0.999), "more than 99 %");
        assert_eq!(percent(0.42), "42 %");
    }
}
