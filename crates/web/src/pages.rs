//! The pages as structs: what each shows, in the order in which it is read.

mod ball;
mod by_hand;
mod drills;
mod messages;
mod player;
mod practice;
mod record;
mod roster;
mod search;
mod settings;
mod swing;
mod today;

pub(crate) use by_hand::key as view_key;
pub(crate) use swing::form_name as moment_key;

pub use ball::BallPage;
pub use drills::{DrillPage, DrillsPage};
pub use messages::{Failed, Missing, NotCorrected, Refused};
pub use player::PlayerPage;
pub use practice::{NotApproved, NotPlanned, PracticePage};
pub use roster::Roster;
pub use search::{SearchPage, SearchPart};
pub use settings::{NotSaved, SettingsPage};
pub use swing::SwingPage;
pub use today::TodayPage;

use crate::AppState;
use crate::wording::date_at;
use askama::Template;
use askama::filters::HtmlSafe;
use jiff::Timestamp;
use lessonwright_language::{Text, filters, when};
use lessonwright_model::{Measure, SwingAnalysis};
use lessonwright_report::{Amount, Spread, Units, Verdict};
use lessonwright_store::{LessonState, LessonSummary, Standing};

/// How far a swing's lesson has come. Displays as HTML: a small drawing and its words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Template)]
#[template(path = "progress.html")]
enum Progress {
    /// Not analysed.
    Filmed,
    /// Analysed, no lesson yet.
    NoLesson,
    /// Looked at; it needs no lesson.
    SetAside,
    /// The professional has not read it.
    Drafted,
    /// Ready to be sent.
    Approved,
    /// With the player.
    Sent,
}

/// What a swing's analysis comes to, in a line.
#[derive(Clone, Debug, PartialEq, Template)]
#[template(path = "upshot.html")]
enum Upshot {
    NotAnalysed,
    Nothing,
    One(Text),
}

/// A measure's number in a table.
#[derive(Template)]
#[template(path = "cell.html")]
pub(crate) struct Cell {
    verdict: Verdict,
    number: Option<(Amount, Option<Spread>)>,
}

impl HtmlSafe for Progress {}
impl HtmlSafe for Upshot {}
impl HtmlSafe for Cell {}

impl Progress {
    fn of(analysis: Option<&SwingAnalysis>, lessons: &[LessonSummary]) -> Progress {
        Progress::from(
            analysis.is_some(),
            lessons.first().map(LessonSummary::state),
        )
    }

    fn of_standing(standing: &Standing) -> Progress {
        match standing.lesson {
            None if standing.set_aside => Progress::SetAside,
            lesson => Progress::from(standing.analysed, lesson.map(|(_, state)| state)),
        }
    }

    fn from(analysed: bool, lesson: Option<LessonState>) -> Progress {
        match (analysed, lesson) {
            (false, None) => Progress::Filmed,
            (true, None) => Progress::NoLesson,
            (_, Some(LessonState::Drafted)) => Progress::Drafted,
            (_, Some(LessonState::Approved)) => Progress::Approved,
            (_, Some(LessonState::Sent)) => Progress::Sent,
        }
    }
}

impl Upshot {
    fn of(analysis: Option<&SwingAnalysis>) -> Upshot {
        match analysis.map(|analysis| &analysis.priority) {
            None => Upshot::NotAnalysed,
            Some(None) => Upshot::Nothing,
            Some(Some(priority)) => Upshot::One(Text::plain(&priority.title)),
        }
    }
}

impl Upshot {
    fn of_standing(standing: &Standing, state: &AppState) -> Upshot {
        match (standing.analysed, &standing.title) {
            (false, _) => Upshot::NotAnalysed,
            (true, None) => Upshot::Nothing,
            (true, Some(title)) => Upshot::One(state.prescribing.retold(title)),
        }
    }
}

impl Cell {
    pub(crate) fn of(measure: &Measure, state: &AppState) -> Cell {
        Cell {
            verdict: Verdict::of(measure, (state.reference)(measure).as_ref()),
            number: number(measure, state.units),
        }
    }
}

pub(crate) fn number(measure: &Measure, units: Units) -> Option<(Amount, Option<Spread>)> {
    let value = measure.value?;
    let spread = measure
        .interval()
        .map(|i| Spread::new(measure.name, value, i.low, i.high, units));
    Some((Amount::new(measure.name, value, units), spread))
}

/// "25 November 2026".
pub(crate) fn day(at: Timestamp, state: &AppState) -> Text {
    when::date(date_at(at, state))
}

/// "25 November 2026, 17:40".
pub(crate) fn minute(at: Timestamp, state: &AppState) -> Text {
    when::minute(at.to_zoned(state.time_zone.clone()).datetime())
}
