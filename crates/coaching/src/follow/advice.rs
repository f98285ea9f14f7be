//! What to do next: film, keep, progress or change. A rule with its reasons, for the professional to
//! overrule. The table is in `docs/follow-up.md`.

use super::change::{Change, Verdict};
use super::progress::Result;
use super::series::Counted;
use lessonwright_language::{Text, t};

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

    /// The same in every language.
    pub fn text(self) -> Text {
        t(match self {
            Step::Film => "follow-step-film",
            Step::Keep => "follow-step-keep",
            Step::Progress => "follow-step-progress",
            Step::Change => "follow-step-change",
        })
    }
}

/// What to do next, and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    /// What.
    pub step: Step,
    /// Each step of the rule that led to it, as a sentence.
    pub because: Vec<Text>,
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
            because: vec![t("follow-no-swing-after")],
        };
    };
    let Some(change) = &result.change else {
        return Advice {
            step: Step::Film,
            because: vec![t("follow-no-swing-before")],
        };
    };
    let mut because = vec![said(change, result.counted)];
    let step = match (change.verdict, result.counted) {
        (Verdict::Real, counted) => reached(change, counted, of(Counted::Transfer), &mut because),
        (Verdict::Away, Counted::Practice) => {
            because.push(t("follow-away-in-practice"));
            Step::Keep
        }
        (Verdict::Away, _) => {
            because.push(t("follow-wrong-way"));
            Step::Change
        }
        (Verdict::NotYet, counted) => not_yet(change, counted, days, &mut because),
    };
    Advice { step, because }
}

fn said(change: &Change, counted: Counted) -> Text {
    t(match change.verdict {
        Verdict::Real => "follow-said-real",
        Verdict::NotYet => "follow-said-not-yet",
        Verdict::Away => "follow-said-away",
    })
    .with("kind", counted.text())
    .with("swings", count(change.to[1], "follow-swings"))
    .with("sessions", count(change.to[0], "follow-sessions"))
    .with("likely", percent_text(change.p_toward))
}

fn reached(
    change: &Change,
    counted: Counted,
    transfer: Option<&Result>,
    because: &mut Vec<Text>,
) -> Step {
    if !change.reached {
        because.push(t("follow-not-reached"));
        return Step::Keep;
    }
    if counted == Counted::Practice {
        because.push(t("follow-reached-with-cue"));
        return Step::Keep;
    }
    let learned = match counted {
        Counted::Unmarked => "follow-reached-unmarked",
        _ => "follow-reached-without-cue",
    };
    because.push(t(learned));
    let moved = transfer.and_then(|t| t.change.as_ref());
    because.push(t(match moved.map(|change| change.verdict) {
        Some(Verdict::Real) => "follow-shows-elsewhere",
        Some(_) => "follow-not-elsewhere",
        None => "follow-next-rung",
    }));
    Step::Progress
}

fn not_yet(change: &Change, counted: Counted, days: i32, because: &mut Vec<Text>) -> Step {
    if days < TRIAL_DAYS || change.to[0] < FEW_SESSIONS {
        because.push(
            t("follow-early")
                .with("since", count(days.max(0) as usize, "follow-days-since"))
                .with("sessions", count(change.to[0], "follow-sessions"))
                .with("trial", TRIAL_DAYS)
                .with("few", FEW_SESSIONS),
        );
        return Step::Keep;
    }
    let half = |id| t(id).with("half", percent_text(change.p_half));
    if change.p_half >= HARDLY {
        because.push(half("follow-half-maybe"));
        return Step::Keep;
    }
    because.push(half(match counted {
        Counted::Practice => "follow-half-not-in-practice",
        _ => "follow-half-unlikely",
    }));
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

/// The same in every language.
pub fn percent_text(p: f64) -> Text {
    let p = (100.0 * p).round();
    if p < 1.0 {
        t("follow-percent-less")
    } else if p > 99.0 {
        t("follow-percent-more")
    } else {
        t("follow-percent").with("percent", p as i64)
    }
}

fn count(n: usize, what: &'static str) -> Text {
    t(what).with("count", n)
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_language::Say;

    #[test]
    fn a_probability_is_never_certain() {
        for (p, said) in [
            (0.001, "less than 1 %"),
            (0.999, "more than 99 %"),
            (0.42, "42 %"),
        ] {
            assert_eq!(percent(p), said);
            assert_eq!(Say::default().text(&percent_text(p)), said);
        }
    }

    #[test]
    fn english_steps_and_kinds_are_the_plain_ones() {
        let say = Say::default();
        for step in [Step::Film, Step::Keep, Step::Progress, Step::Change] {
            assert_eq!(say.text(&step.text()), step.plain());
        }
        for counted in [
            Counted::Practice,
            Counted::Unmarked,
            Counted::Retention,
            Counted::Transfer,
        ] {
            assert_eq!(say.text(&counted.text()), counted.plain());
        }
    }
}
